"""Hedges: leaves all over a clipped body along their line."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing.painted import shapes
from gardenkit.drawing.painted.forms import cross, unit
from gardenkit.drawing.painted.splats import Splats, colours_of, splats
from gardenkit.drawing.plan_things import MATERIALS
from gardenkit.drawing.view_built import FACES, pairs
from gardenkit.drawing.view_ground import Stage
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.site.site import Fence
from gardenkit.structure.kinds import fence_kind, thing_kind
from gardenkit.structure.kinds.things_hedges import BATTER, leaves_of
from gardenkit.structure.structure import Thing
from gardenkit.structure.things import run_of

THICK = 0.6  # m a hedge found there is thick. House value.
PROUD = 0.12  # m that leaves stand before the body of a planted one. House value.
LEAF = 0.03  # m, half a leaf. House value.
FINEST = 2.2  # pixels that half a leaf takes at least. House value.
MOST = 26000  # leaves of a stretch. House value.


def hedge_splats(
    scene: Stage, fences: Sequence[Fence], things: Sequence[Thing] = (), *, focal: float, detail: float = 1.0
) -> list[Splats]:
    """Return the leaves of every hedge before the eye: those found there, and those planted as ``things``."""
    runs = [
        (fence.line, (fence.height, THICK, 1.0), FACES["leaves"])
        for fence in fences
        if fence_kind(fence).view == "leaves"
    ]
    runs += [
        (run_of(one), (one.height, one.depth + PROUD, float(BATTER)), MATERIALS[leaves_of(one)].view)
        for one in things
        if thing_kind(one.kind).lined
    ]
    found = []
    for line, sizes, colour in runs:
        for number, (a, b) in enumerate(pairs(line)):
            ahead = scene.camera.before(scene.laid([a, b]))[:, 2]
            if ahead.max() > 0.5 and math.dist(a, b) > 0:
                found.append(_stretch(scene, (a, b), sizes, colour, focal * min(1.0, detail), number))
    return found


def _stretch(
    scene: Stage, ends: tuple[Point, Point], sizes: tuple[float, float, float], colour: str, focal: float, seed: int
) -> Splats:
    """Return the leaves of a straight stretch, by its height, its thickness below and the share of it above."""
    (a, b), (height, thick, batter) = ends, sizes
    long = math.dist(a, b)
    way = np.subtract(b, a) / long
    aside = np.array([way[1], -way[0]])
    nearest = max(
        1.5, min(math.dist(np.clip(scene.camera.at, np.minimum(a, b), np.maximum(a, b)), scene.camera.at), 40.0)
    )
    size = max(LEAF, FINEST * nearest / focal)
    faces = long * (2 * height + thick)
    count = int(np.clip(3.0 * faces / (1.2 * size * size), 200, MOST))
    rng = np.random.default_rng(seed + 40)
    along, side = rng.uniform(0, long, count), rng.uniform(0, 2 * height + thick, count)
    low, top = side < height, side > height + thick
    z = np.where(low, side, np.where(top, 2 * height + thick - side, height))
    off = np.where(low, -thick / 2, np.where(top, thick / 2, side - height - thick / 2))
    off, z = (
        off + rng.normal(scale=0.03, size=count),
        np.clip(z + rng.normal(scale=0.02, size=count), 0.01, height - 0.5 * size),
    )
    off = off * (1 - (1 - batter) * z / height)
    flat = np.asarray(a) + along[:, None] * way + off[:, None] * aside
    at = scene.laid(flat) + np.column_stack((np.zeros((count, 2)), z))
    out = _outward(low, top, aside)
    facing = unit(out + 0.45 * rng.normal(size=(count, 3)))
    span = unit(cross(facing, rng.normal(size=(count, 3)))) * size
    across = cross(facing, span) * 0.6
    shade = rng.uniform(0, 1, count)
    depth = np.clip(0.55 + 0.45 * z / height, 0, 1)
    paint = colours_of(colour, shade, varied=0.2)
    return splats(at, span, across, facing, paint, shapes.OVATE, sun=0.9 * depth, sky=0.4 + 0.6 * depth * shade)


def _outward(low: NDArray[np.bool_], top: NDArray[np.bool_], aside: FloatArray) -> FloatArray:
    """Return which way each face of a hedge looks: its two sides, or up."""
    level = np.where(low, -1.0, np.where(top, 1.0, 0.0))
    return np.column_stack((level * aside[0], level * aside[1], np.where(level == 0, 1.0, 0.15)))
