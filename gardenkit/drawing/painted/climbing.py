"""Where the leaves of climbers and trained plants are: up the posts and over an arch, or flat against their support."""

import math
from typing import TYPE_CHECKING

import numpy as np

from gardenkit.drawing.painted.forms import Cloud, cross, unit
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray

if TYPE_CHECKING:
    from gardenkit.drawing.painted.plants import Set

TWIG_LONG = 0.06  # m, half a twig of leaves. House value.
THICK = 0.11  # m a climber stands off its support. House value.
STRAY = 1.7  # of the usual distance from its stems: no leaf hangs in the air beyond. House value.
STRANDS, LEVELS = 7, 16  # stems that wind up a support, and how often each is bent on its way. House values.


def climber_cloud(one: "Set", stands: str) -> Cloud:
    """Return the leaves of a plant on its support, at their true places in the garden."""
    support = one.plant.support
    assert support is not None
    area = max(one.half * 2, 0.4) * one.tall
    size = max(TWIG_LONG, 2.4 / one.scale)
    count = int(np.clip(3.2 * area / size**2, 300, 9000))
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
        along=unit(cross(facing, rng.normal(size=at.shape)) - (0.0, 0.0, 0.5)),
        facing=facing,
        size=rng.uniform(0.7, 1.15, count),
        depth=rng.uniform(0.2, 1.0, count),
        shade=rng.uniform(0, 1, count),
    )


def stems_of(cloud: Cloud, foot: FloatArray, seed: int) -> tuple[FloatArray, FloatArray]:
    """Return the stems of a climber, as pieces from a to b (n, 3) through where its leaves are, then their twigs."""
    rng = np.random.default_rng(seed)
    grown = np.abs(cloud.at - foot).sum(axis=1)
    by_level = np.array_split(np.argsort(grown), LEVELS)
    here = foot + np.column_stack((rng.normal(scale=0.05, size=(STRANDS, 2)), np.zeros(STRANDS)))
    starts, ends = [], []
    for level in by_level:
        met = cloud.at[rng.choice(level, (STRANDS, 5))]
        nearest = np.argmin(np.linalg.norm(met - here[:, None], axis=2), axis=1)
        on = met[np.arange(STRANDS), nearest]
        starts.append(here)
        ends.append(on)
        here = on
    main = np.concatenate(ends)
    from_stem = np.repeat(main, 3, axis=0)
    twigs = unit(rng.normal((0.0, 0.0, 0.8), 1.0, from_stem.shape)) * rng.uniform(0.04, 0.16, (len(from_stem), 1))
    return np.concatenate([*starts, from_stem]), np.concatenate([*ends, from_stem + twigs])


def _near(rng: np.random.Generator, count: int) -> FloatArray:
    """Return how far off each of its leaves grows, most of them close by, none far off."""
    return np.asarray(np.clip(rng.normal(size=count), -STRAY, STRAY))


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
    wide = THICK * (1 + 0.4 * np.sin(along * 5 + one.seed)) * _near(rng, count) * 0.7
    deep = _near(rng, count) * max(support.depth, 0.4) * 0.32
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
    off = THICK * _near(rng, count) * 0.6
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
