"""Where the leaves of climbers and trained plants are: up the posts and over an arch, or flat against their support."""

import math
from typing import TYPE_CHECKING

import numpy as np

from gardenkit.drawing.painted.forms import Cloud, unit
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray

if TYPE_CHECKING:
    from gardenkit.drawing.painted.plants import Set

THICK = 0.11  # m a climber stands off its support. House value.


def climber_cloud(one: "Set", stands: str) -> Cloud:
    """Return the leaves of a plant on its support, at their true places in the garden."""
    support = one.plant.support
    assert support is not None
    area = max(one.half * 2, 0.4) * one.tall
    count = int(np.clip(area * 640 * min(1.0, (one.scale / 90) ** 1.5), 300, 5000))
    rng = np.random.default_rng(one.seed)
    if stands == "overhead":
        at = _over(one, count, rng)
    elif stands == "round":
        at = _about(one, count, rng)
    else:
        at = _against(one, count, rng)
    off = at - at.mean(axis=0)
    facing = unit(rng.normal(size=at.shape) + (0.0, 0.0, 0.5) + 0.3 * unit(off))
    return Cloud(
        at=at,
        along=unit(np.cross(facing, rng.normal(size=at.shape)) - (0.0, 0.0, 0.5)),
        facing=facing,
        size=rng.uniform(0.7, 1.15, count),
        depth=rng.uniform(0.2, 1.0, count),
        shade=rng.uniform(0, 1, count),
    )


def _over(one: "Set", count: int, rng: np.random.Generator) -> FloatArray:
    """Return places up the nearer post and over the top as far as it has grown."""
    support = one.plant.support
    assert support is not None
    near, far = sorted((support.line[0], support.line[-1]), key=lambda p: math.dist(p, one.plant.drawn.at))
    long, up = math.dist(near, far), min(one.tall, support.height)
    over = min(max(one.tall - support.height, 0.0), 0.55 * long)
    along = rng.uniform(0, up + over, count)
    way = np.subtract(far, near) / max(long, 1e-9)
    aside = np.array([-way[1], way[0]])
    wide = THICK * (1 + 0.4 * np.sin(along * 5 + one.seed)) * rng.normal(size=count) * 0.7
    deep = rng.normal(size=count) * max(support.depth, 0.4) * 0.32
    across = np.where(along < up, 0.0, along - up) + np.where(along < up, wide, 0.0)
    x = near[0] + way[0] * across + aside[0] * deep
    y = near[1] + way[1] * across + aside[1] * deep
    z = np.minimum(along, up) + np.where(along < up, 0.0, np.abs(wide) * 1.2)
    return np.column_stack((x, y, one.foot[2] + z))


def _against(one: "Set", count: int, rng: np.random.Generator) -> FloatArray:
    support = one.plant.support
    assert support is not None
    foot = np.asarray(plane.nearest_on(plane.line(support.line), one.plant.drawn.at))
    a, b = min(
        zip(support.line, support.line[1:], strict=False),
        key=lambda pair: plane.distance(plane.line(pair), plane.point(tuple(foot))),
    )
    long = math.dist(a, b)
    way = np.subtract(b, a) / long
    middle = float((foot - a) @ way)
    tall = min(one.tall, support.height + 0.25)
    z = tall * np.sqrt(rng.uniform(0.0, 1.0, count))
    reach = one.half * (0.35 + 0.65 * z / tall)
    u = np.clip(middle + reach * rng.uniform(-1, 1, count), -0.15, long + 0.15)
    off = THICK * rng.normal(size=count) * 0.6
    return np.column_stack((a[0] + way[0] * u - way[1] * off, a[1] + way[1] * u + way[0] * off, one.foot[2] + z))


def _about(one: "Set", count: int, rng: np.random.Generator) -> FloatArray:
    support = one.plant.support
    assert support is not None
    a, b = support.line[0], support.line[-1]
    grown = min(1.0, one.tall / support.height)
    share = rng.uniform(0, grown, count)
    radius = math.dist(a, b) / 2 * (1 - share) + THICK * rng.uniform(0.2, 1.0, count)
    turn = rng.uniform(0, 2 * math.pi, count)
    x, y = (a[0] + b[0]) / 2 + radius * np.cos(turn), (a[1] + b[1]) / 2 + radius * np.sin(turn)
    return np.column_stack((x, y, one.foot[2] + share * support.height))
