"""Bonds of paving: whole rectangles in the pattern of a bond over a region, and what its edges cut of them."""

import math
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Literal

import attrs
import numpy as np
import shapely
from shapely.affinity import rotate

from gardenkit.geometry.plane import FloatArray, Outline, Region

Lay = Literal["running", "stack", "herringbone", "basket weave"]
SLIVER = 0.02  # share of a unit under which a piece at the edge is swept joint. House value.


@attrs.frozen(eq=False, kw_only=True)
class Bonded:
    """Units in a bond over a region: the outlines of the ``whole`` ones and of the pieces ``cut`` at its edges."""

    whole: tuple[Outline, ...]
    cut: tuple[Outline, ...]
    area: float

    @property
    def pieces(self) -> int:
        """How many units are taken, each cut piece from one of its own."""
        return len(self.whole) + len(self.cut)


@lru_cache(maxsize=64)
def bonded(region: Region, lay: Lay, long: float, wide: float, joint: float, heading: float) -> Bonded:
    """Return the units ``long`` by ``wide`` metres with their ``joint`` that cover a region, courses along ``heading``
    (degrees clockwise from the plan's y axis), cut at its edges.
    """
    if region.is_empty:
        return Bonded(whole=(), cut=(), area=0.0)
    turn, about = 90.0 - heading, region.centroid
    flat = rotate(region, -turn, origin=about)
    low_x, low_y, high_x, high_y = flat.bounds
    boxes = LAYS[lay](long + joint, wide + joint, (high_x - low_x, high_y - low_y))
    boxes += np.array([low_x, low_y, low_x, low_y])
    half = joint / 2
    units = shapely.box(boxes[:, 0] + half, boxes[:, 1] + half, boxes[:, 2] - half, boxes[:, 3] - half)
    shapely.prepare(flat)
    met = units[shapely.intersects(flat, units)]
    inside = shapely.contains(flat, met)
    cut = shapely.intersection(met[~inside], flat)
    parts = shapely.get_parts(cut)
    kept = parts[shapely.area(parts) > SLIVER * long * wide]
    area = float(shapely.area(met[inside]).sum() + shapely.area(kept).sum())
    return Bonded(whole=_outlines(met[inside], turn, about), cut=_outlines(kept, turn, about), area=area)


def _rows(shift: float) -> Callable[[float, float, tuple[float, float]], FloatArray]:
    def laid(long: float, wide: float, size: tuple[float, float]) -> FloatArray:
        i, j = _grid(size[0] / long + 1, size[1] / wide)
        x, y = (i + shift * (j % 2)) * long, j * wide
        return np.column_stack((x, y, x + long, y + wide))

    return laid


def _herringbone(_: float, wide: float, size: tuple[float, float]) -> FloatArray:
    """Return pairs of one lying and one standing unit, moved on by (1, 1) and (2, -2) of their width."""
    i, j = _grid(size[0] / wide, size[1] / wide)
    lying, standing = (i - j) % 4 == 0, (i - j) % 4 == 3
    x, y = i * wide, j * wide
    across = np.column_stack((x, y, x + 2 * wide, y + wide))
    up = np.column_stack((x, y, x + wide, y + 2 * wide))
    return np.vstack((across[lying], up[standing]))


def _basket(_: float, wide: float, size: tuple[float, float]) -> FloatArray:
    """Return squares of two lying units and of two standing ones by turns."""
    square = 2 * wide
    i, j = _grid(size[0] / square, size[1] / square)
    x, y, lying = i * square, j * square, (i + j) % 2 == 0
    a = (
        np.column_stack((x, y, x + square, y + wide))[lying],
        np.column_stack((x, y + wide, x + square, y + square))[lying],
    )
    b = (
        np.column_stack((x, y, x + wide, y + square))[~lying],
        np.column_stack((x + wide, y, x + square, y + square))[~lying],
    )
    return np.vstack((*a, *b))


def _grid(columns: float, rows: float) -> tuple[FloatArray, FloatArray]:
    i, j = np.meshgrid(np.arange(-2, math.ceil(columns) + 2), np.arange(-2, math.ceil(rows) + 2))
    return i.ravel().astype(float), j.ravel().astype(float)


def _outlines(shapes: np.ndarray, turn: float, about: shapely.Point) -> tuple[Outline, ...]:
    if not len(shapes):
        return ()
    rings = shapely.get_exterior_ring(shapes)
    points, index = shapely.get_coordinates(rings, return_index=True)
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    off = points - (about.x, about.y)
    back = np.column_stack((about.x + c * off[:, 0] - s * off[:, 1], about.y + s * off[:, 0] + c * off[:, 1]))
    ends = np.flatnonzero(np.diff(index)) + 1
    return tuple(tuple(map(tuple, ring[:-1])) for ring in (part.tolist() for part in np.split(back, ends)))


LAYS: Mapping[Lay, Callable[[float, float, tuple[float, float]], FloatArray]] = {
    "running": _rows(0.5),
    "stack": _rows(0.0),
    "herringbone": _herringbone,
    "basket weave": _basket,
}
