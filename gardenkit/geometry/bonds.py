"""Bonds of paving: whole units in the pattern of a bond over a region, and what its edges cut of them."""

import math
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Literal

import attrs
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.affinity import rotate

from gardenkit.geometry.plane import FloatArray, Outline, Point, Region

Lay = Literal["running", "stack", "herringbone", "basket weave", "fans"]
Shapes = NDArray[np.object_]
Laid = Callable[[float, float, float, Point], Shapes]  # units by length, width, joint, over a size
FAN = 12  # units in the chord of an arc of a fan. House value.
FAN_HALF = math.radians(45.0)  # either way of its middle: a quarter of a circle. Common practice, no source.
TRIMMED = 0.15  # share of a unit under which a piece where two arcs meet is joint. House value.
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


@attrs.frozen(kw_only=True)
class Frame:
    """Where a bond over a region begins: its courses run along the plan's x turned by ``turn`` degrees anticlockwise
    ``about`` a place; turned back, its first corner lies at ``low`` and it is ``size`` wide and high.
    """

    turn: float
    about: Point
    low: Point
    size: Point


def frame_of(region: Region, heading: float) -> Frame:
    """Return where a bond begins whose courses run along ``heading`` (degrees clockwise from the plan's y axis)."""
    about = (region.centroid.x, region.centroid.y)
    low_x, low_y, high_x, high_y = rotate(region, heading - 90.0, origin=about).bounds
    return Frame(turn=90.0 - heading, about=about, low=(low_x, low_y), size=(high_x - low_x, high_y - low_y))


@lru_cache(maxsize=64)
def bonded(region: Region, lay: Lay, long: float, wide: float, joint: float, heading: float) -> Bonded:
    """Return the units ``long`` by ``wide`` metres with their ``joint`` that cover a region, courses along ``heading``
    (degrees clockwise from the plan's y axis), cut at its edges.
    """
    if region.is_empty:
        return Bonded(whole=(), cut=(), area=0.0)
    frame = frame_of(region, heading)
    flat = rotate(region, -frame.turn, origin=frame.about)
    units = translated(LAYS[lay](long, wide, joint, frame.size), *frame.low)
    shapely.prepare(flat)
    met = units[shapely.intersects(flat, units)]
    inside = shapely.contains(flat, met)
    cut = shapely.intersection(met[~inside], flat)
    parts = shapely.get_parts(cut)
    kept = parts[shapely.area(parts) > SLIVER * long * wide]
    area = float(shapely.area(met[inside]).sum() + shapely.area(kept).sum())
    whole, pieces = (_outlines(shapes, frame.turn, frame.about) for shapes in (met[inside], kept))
    return Bonded(whole=whole, cut=pieces, area=area)


def translated(units: Shapes, x: float, y: float) -> Shapes:
    """Return units moved."""
    return np.asarray(shapely.transform(units, lambda points: points + np.array((x, y))))


def _boxes(cells: Callable[[float, float, Point], FloatArray]) -> Laid:
    """Return how units are laid that are boxes in ``cells`` (n, 4), half a joint within each on every side."""

    def laid(long: float, wide: float, joint: float, size: Point) -> Shapes:
        at, half = cells(long + joint, wide + joint, size), joint / 2
        return np.asarray(shapely.box(at[:, 0] + half, at[:, 1] + half, at[:, 2] - half, at[:, 3] - half))

    return laid


def _rows(shift: float) -> Callable[[float, float, Point], FloatArray]:
    def cells(long: float, wide: float, size: Point) -> FloatArray:
        i, j = _grid(size[0] / long + 1, size[1] / wide)
        x, y = (i + shift * (j % 2)) * long, j * wide
        return np.column_stack((x, y, x + long, y + wide))

    return cells


def _herringbone(_: float, wide: float, size: Point) -> FloatArray:
    """Return pairs of one lying and one standing unit, moved on by (1, 1) and (2, -2) of their width."""
    i, j = _grid(size[0] / wide, size[1] / wide)
    lying, standing = (i - j) % 4 == 0, (i - j) % 4 == 3
    x, y = i * wide, j * wide
    across = np.column_stack((x, y, x + 2 * wide, y + wide))
    up = np.column_stack((x, y, x + wide, y + 2 * wide))
    return np.vstack((across[lying], up[standing]))


def _basket(_: float, wide: float, size: Point) -> FloatArray:
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


def _fans(long: float, wide: float, joint: float, size: Point) -> Shapes:
    """Return rows in arcs side by side, each row the one before moved on: parted square to the arc, broken by half a
    unit from row to row, trimmed where two arcs meet.
    """
    chord, row = FAN * (long + joint), wide + joint
    radius, angle = arc_of(long + joint)
    pieces = round(2 * FAN_HALF / angle)
    columns, rows = math.ceil(size[0] / chord), math.ceil((size[1] + radius) / row) + 1
    units = [
        _in_an_arc(radius, row, joint, (k + shift) * angle - FAN_HALF, angle)
        for shift in (0.0, 0.5)
        for k in range(-1, pieces + 1)
    ]
    half = chord / 2 - joint / 2
    column = shapely.intersection(np.array(units), shapely.box(-half, -radius, half, 2 * radius))
    odd = np.arange(len(units)) >= len(units) // 2
    kept = shapely.area(column) > TRIMMED * long * wide
    column, odd = column[kept], odd[kept]
    found = [
        translated(column[odd == bool(j % 2)], (i + 0.5) * chord, j * row - radius)
        for i in range(columns + 1)
        for j in range(-1, rows)
    ]
    return np.concatenate(found)


def arc_of(long: float) -> tuple[float, float]:
    """Return the radius of a fan's arcs in metres, and the angle in radians of a unit ``long`` m with its joint."""
    radius = FAN * long / 2 / math.sin(FAN_HALF)
    return radius, 2 * FAN_HALF / round(2 * radius * FAN_HALF / long)


def _in_an_arc(radius: float, row: float, joint: float, start: float, turn: float) -> shapely.Polygon:
    """Return one unit of the row between an arc about zero and the same arc a ``row`` further on, from the angle
    ``start`` (radians from upward) over ``turn``.
    """
    middle, half = start + turn / 2, joint / 2
    aside = turn / 2 - half / radius
    deep = row * math.cos(middle) - half
    corners = [
        (off * math.sin(middle + by), off * math.cos(middle + by))
        for off, by in (
            (radius + half, -aside),
            (radius + half, aside),
            (radius + deep, aside),
            (radius + deep, -aside),
        )
    ]
    return shapely.Polygon(corners)


def _grid(columns: float, rows: float) -> tuple[FloatArray, FloatArray]:
    i, j = np.meshgrid(np.arange(-2, math.ceil(columns) + 2), np.arange(-2, math.ceil(rows) + 2))
    return i.ravel().astype(float), j.ravel().astype(float)


def _outlines(shapes: Shapes, turn: float, about: Point) -> tuple[Outline, ...]:
    if not len(shapes):
        return ()
    rings = shapely.get_exterior_ring(shapes)
    points, index = shapely.get_coordinates(rings, return_index=True)
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    off = points - about
    back = np.column_stack((about[0] + c * off[:, 0] - s * off[:, 1], about[1] + s * off[:, 0] + c * off[:, 1]))
    ends = np.flatnonzero(np.diff(index)) + 1
    return tuple(tuple(map(tuple, ring[:-1])) for ring in (part.tolist() for part in np.split(back, ends)))


LAYS: Mapping[Lay, Laid] = {
    "running": _boxes(_rows(0.5)),
    "stack": _boxes(_rows(0.0)),
    "herringbone": _boxes(_herringbone),
    "basket weave": _boxes(_basket),
    "fans": _fans,
}
