"""Where a click on the plan is meant to be: at a corner near by, on an edge, square to what was drawn, on a grid."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Literal

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point

REACH = 0.3  # m from a click to a corner or an edge that it is put onto. House value.
SQUARE = 8.0  # degrees a side may be off a right angle and is still made square. House value.
To = Literal["", "corner", "edge", "right angle", "grid"]


@attrs.frozen(kw_only=True)
class Snap:
    """What a click is put onto: each can be switched off. ``reach`` and ``step`` of the grid are metres."""

    corners: bool = True
    edges: bool = True
    square: bool = True
    grid: bool = False
    step: float = 0.5
    reach: float = REACH


@attrs.frozen(kw_only=True)
class Targets:
    """What is there to be put onto: single corners, and the lines of edges (closed ones come back to their start)."""

    corners: tuple[Point, ...] = ()
    edges: tuple[Line, ...] = ()


@attrs.frozen(kw_only=True)
class Snapped:
    """Where a click was put, to the millimetre, and onto what; the empty word for where it was."""

    at: Point
    to: To = ""


def targets_of(outlines: Iterable[Outline], lines: Iterable[Line] = (), spots: Iterable[Point] = ()) -> Targets:
    """Return what can be drawn onto: the corners and sides of outlines, the points and stretches of lines, spots."""
    closed = [(*outline, outline[0]) for outline in outlines if outline]
    edges = (*closed, *(tuple(line) for line in lines if len(line) > 1))
    corners = tuple(dict.fromkeys([p for edge in edges for p in edge] + list(spots)))
    return Targets(corners=corners, edges=edges)


def snapped(at: Point, targets: Targets, *, before: Sequence[Point] = (), by: Snap) -> Snapped:
    """Return where a click at a plan point (metres) is put: the nearest corner within reach, else square to the side
    before it, else the nearest edge, else the grid. ``before`` are the points clicked until now.

    A side is square when it is parallel to the plan's axes or to an edge at its start, or square to either or to the
    side before it. Where a square side meets an edge within reach, or the level of the first click, it ends there.
    """
    corner = _nearest([*targets.corners, *before[:-1]], at, by.reach) if by.corners else None
    if corner is not None:
        return Snapped(at=_spot(corner), to="corner")
    edges = targets.edges if by.edges else ()
    squared = _squared(at, before, targets.edges) if by.square and before else None
    if squared is not None:
        return Snapped(at=_spot(_ended(squared, before, edges, by)), to="right angle")
    edge = _on_edge(at, edges, by.reach)
    if edge is not None:
        return Snapped(at=_spot(edge), to="edge")
    if by.grid:
        return Snapped(at=_spot((_round(at[0], by.step), _round(at[1], by.step))), to="grid")
    return Snapped(at=_spot(at))


# ---- helpers


def _nearest(points: Iterable[Point], at: Point, reach: float) -> Point | None:
    near = [(math.dist(p, at), p) for p in points]
    return min((each for each in near if each[0] <= reach), default=(0.0, None))[1]


def _on_edge(at: Point, edges: Iterable[Line], reach: float) -> Point | None:
    return _nearest((plane.nearest_on(plane.line(edge), at) for edge in edges), at, reach)


def _squared(at: Point, before: Sequence[Point], edges: Iterable[Line]) -> Point | None:
    """Return the click put square to what went before, None where it is far from square."""
    start = before[-1]
    far = math.dist(start, at)
    if far < 1e-9:
        return None
    heading = plane.heading(start, at)
    ways = {turn % 90 for turn in _directions(before, edges)}
    off, way = min((abs((heading - way + 45) % 90 - 45), way) for way in ways)
    if off > SQUARE:
        return None
    quarter = round((heading - way) / 90)
    return plane.towards(start, way + 90 * quarter, far * math.cos(math.radians(off)))


def _directions(before: Sequence[Point], edges: Iterable[Line]) -> list[float]:
    """Return the directions in degrees that a next side may follow or stand square to."""
    if len(before) > 1:
        return [plane.heading(before[-2], before[-1])]
    found = [0.0]
    for edge in edges:
        for a, b in pairwise(edge):
            if math.dist(a, b) > 1e-9 and plane.distance(plane.line((a, b)), plane.point(before[-1])) < 1e-3:
                found.append(plane.heading(a, b))
    return found


def _ended(at: Point, before: Sequence[Point], edges: Sequence[Line], by: Snap) -> Point:
    """Return the end of a square side: on an edge it nearly meets, level with the first click, or a round length."""
    start = before[-1]
    way, far = plane.heading(start, at), math.dist(start, at)
    ahead = plane.line((start, plane.towards(start, way, far + by.reach)))
    met = [crossing for edge in edges for crossing in plane.crossings(ahead, plane.line(edge))]
    end = _nearest(met, at, by.reach)
    if end is not None and math.dist(end, start) > 1e-3:
        return end
    if len(before) > 1:
        level = plane.nearest_on(plane.line((start, plane.towards(start, way, far + by.reach))), before[0])
        if math.dist(level, at) <= by.reach and math.dist(level, start) > 1e-3:
            return level
    return plane.towards(start, way, max(_round(far, by.step), by.step)) if by.grid else at


def _round(value: float, step: float) -> float:
    return round(value / step) * step if step > 0 else value


def _spot(at: Point) -> Point:
    return (round(at[0], 3), round(at[1], 3))
