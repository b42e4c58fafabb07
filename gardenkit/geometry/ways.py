"""The shortest way round things: open ground for a middle line, the taut-string way through it, the room beside it."""

import heapq
import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from gardenkit.geometry.plane import NOWHERE, FloatArray, Point, Region, Shape

QUARTER = 6  # straight pieces per quarter of a rounded corner; the corner is drawn round the true arc, never inside it


def swollen(shape: Shape, by: float, *, quarter: int = QUARTER) -> Region:
    """Return everything nearer than ``by`` metres to the shape, corners drawn outside the true arc (never too near)."""
    if shape.is_empty or by <= 0:
        return _region(shape)
    return _region(shape.buffer(_beyond(by, quarter), quad_segs=quarter))


def shrunk(shape: Shape, by: float, *, quarter: int = QUARTER) -> Region:
    """Return the part of a region further than ``by`` metres from its edge (a little further round inner corners)."""
    if shape.is_empty or by <= 0:
        return _region(shape)
    return _region(shape.buffer(-_beyond(by, quarter), quad_segs=quarter))


def _beyond(by: float, quarter: int) -> float:
    """Return the radius whose chords lie ``by`` metres out: the library draws pieces up to 1.5 times as long."""
    return by / math.cos(1.5 * math.pi / (4 * quarter))


def one_piece(free: Region, a: Point, b: Point) -> Polygon:
    """Return the piece of ``free`` that holds both points (within a hair), or an empty polygon when none does."""
    at = shapely.points([a, b])
    for part in shapely.get_parts(free):
        if isinstance(part, Polygon) and float(shapely.distance(part, at).max()) < 1e-6:
            return part
    return NOWHERE


def shortest(free: Polygon, a: Point, b: Point) -> list[Point]:
    """Return the corners of the shortest way from a to b inside ``free``, both ends included; empty when there is none.

    Only the holes that stand in the way are looked at: the string is drawn round none, then round those it ran into,
    until it runs into no other.
    """
    rings = list(free.interiors)
    solid = np.asarray([Polygon(ring) for ring in rings], dtype=object)
    standing: NDArray[np.bool_] = np.zeros(len(rings), dtype=np.bool_)
    while True:
        way = _taut_string(
            Polygon(free.exterior, [ring for ring, stands in zip(rings, standing, strict=True) if stands]), a, b
        )
        if not way:
            return []
        inside = shapely.relate_pattern(solid, LineString(way), "T********")  # a string may touch a hole's edge
        hit = np.asarray(inside, dtype=np.bool_) & ~standing
        if not hit.any():
            return way
        standing = standing | hit


def _taut_string(free: Polygon, a: Point, b: Point) -> list[Point]:
    """Return the corners of the shortest way; a taut string turns only at inner corners and touches them without
    cutting in.

    A* over those corners, each stretch tested for open ground only when the search would use it.
    """
    hair = free.buffer(1e-7, quad_segs=1)
    shapely.prepare(hair)
    if hair.covers(LineString((a, b))):
        return [a, b]
    corners, before, after = inner_corners(free)
    nodes = np.vstack((np.asarray([a, b], dtype=float), corners))
    ends = np.zeros((2, 2))
    back, ahead = np.vstack((ends, before - corners)), np.vstack((ends, after - corners))
    remaining = np.hypot(*(nodes - nodes[1]).T)
    came = np.full(len(nodes), -1)
    done = np.zeros(len(nodes), dtype=bool)
    queue = [(float(remaining[0]), 0.0, 0, -1)]
    while queue and not done[1]:
        _, so_far, here, last = heapq.heappop(queue)
        if done[here] or (last >= 0 and not hair.covers(LineString(nodes[[last, here]]))):
            continue
        done[here], came[here] = True, last
        longer = so_far + np.hypot(*(nodes - nodes[here]).T)
        for node in np.flatnonzero(_touched(nodes, back, ahead, here) & ~done).tolist():
            heapq.heappush(queue, (float(longer[node] + remaining[node]), float(longer[node]), node, here))
    if not done[1]:
        return []
    way = [1]
    while way[-1] != 0:
        way.append(int(came[way[-1]]))
    return [(float(nodes[i, 0]), float(nodes[i, 1])) for i in reversed(way)]


def _touched(nodes: FloatArray, back: FloatArray, ahead: FloatArray, here: int) -> np.ndarray:
    """Return (n,) whether the line from node ``here`` to each node only touches both corners, cutting into neither."""
    line = nodes - nodes[here]
    sides = [line[:, 0] * v[:, 1] - line[:, 1] * v[:, 0] for v in (back, ahead)]
    own = [line[:, 0] * v[here, 1] - line[:, 1] * v[here, 0] for v in (back, ahead)]
    return np.asarray((sides[0] * sides[1] >= -1e-12) & (own[0] * own[1] >= -1e-12))


def inner_corners(free: Polygon) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the corners (n, 2) of a region at which a taut string can turn, and the corner before and after each."""
    found = [np.empty((0, 6))]
    whole = shapely.orient_polygons(free)
    for ring in (whole.exterior, *whole.interiors):
        p = shapely.get_coordinates(ring)[:-1]
        back, ahead = np.roll(p, 1, axis=0), np.roll(p, -1, axis=0)
        into, out = p - back, ahead - p
        found.append(np.hstack((p, back, ahead))[into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0] < 0])
    every = np.vstack(found)
    return every[:, :2], every[:, 2:4], every[:, 4:]


def room_beside(free: Shape, at: FloatArray, normals: FloatArray, reach: float) -> tuple[FloatArray, FloatArray]:
    """Return how far one may go right (low, negative) and left (high) of each point along its normal inside ``free``.

    ``at`` and ``normals`` are (n, 2). A point that lies just outside gets the nearest free stretch of its normal within
    ``reach`` metres, so that low and high may have the same sign; with none, both are 0.
    """
    a, b = _edges(free)
    forward = normals[:, ::-1] * (1.0, -1.0)
    ahead_a, ahead_b = forward @ a.T, forward @ b.T
    own = (forward * at).sum(axis=1, keepdims=True)
    gate, hit = np.nonzero((ahead_a < own) != (ahead_b < own))
    before, after = ahead_a[gate, hit] - own[gate, 0], ahead_b[gate, hit] - own[gate, 0]
    spot = a[hit] + (before / (before - after))[:, None] * (b[hit] - a[hit])
    t = ((spot - at[gate]) * normals[gate]).sum(axis=1)
    high, low = np.full(len(at), math.inf), np.full(len(at), -math.inf)
    np.minimum.at(high, gate[t > 0], t[t > 0])
    np.maximum.at(low, gate[t <= 0], t[t <= 0])
    outside = np.flatnonzero(~np.asarray(shapely.intersects_xy(free, at[:, 0], at[:, 1])))
    for i in outside:
        here = t[gate == i]
        if high[i] <= -low[i]:
            low[i], high[i] = high[i], here[here > high[i] + 1e-9].min(initial=reach)
        else:
            low[i], high[i] = here[here < low[i] - 1e-9].max(initial=-reach), low[i]
    stuck = outside[~((low[outside] < reach) & (high[outside] > -reach))]
    low[stuck] = high[stuck] = 0.0
    return np.maximum(low, -reach), np.minimum(high, reach)


def strip(points: FloatArray, width: float, *, within: float = 0.001) -> Region:
    """Return the ground within half of ``width`` of a line (n, 2), square at both ends, true to ``within`` m."""
    middle = LineString(points).simplify(within)
    return _region(middle.buffer(width / 2, cap_style="flat", join_style="round", quad_segs=8))


def far_from(points: FloatArray, blockers: Sequence[Shape]) -> FloatArray:
    """Return the distance (n,) of each point to the nearest of the shapes; infinite when there is none."""
    least = np.full(len(points), math.inf)
    at = shapely.points(points)
    for shape in blockers:
        if not shape.is_empty:
            least = np.minimum(least, shapely.distance(at, shape))
    return least


def edge_of(shape: Shape) -> BaseGeometry:
    """Return the edge of a region as lines, holes included."""
    return shape.boundary


def edge_direction(shape: Shape, at: Point) -> Point:
    """Return the unit vector along the stretch of a region's edge that is nearest to ``at``."""
    a, b = _edges(shape)
    run = b - a
    length = np.maximum(np.hypot(run[:, 0], run[:, 1]), 1e-12)
    unit = run / length[:, None]
    t = np.clip(((np.asarray(at) - a) * unit).sum(axis=1), 0, length)
    off = np.hypot(*(a + t[:, None] * unit - np.asarray(at)).T)
    best = int(np.lexsort((-length, np.round(off, 6)))[0])
    return float(unit[best, 0]), float(unit[best, 1])


def line_gap(points: FloatArray, others: Sequence[Shape]) -> float:
    """Return the least distance from a line of points (n, 2) to any of the shapes; infinite when there is none."""
    track = LineString(points) if len(points) > 1 else shapely.Point(points[0])
    return min((float(track.distance(s)) for s in others if not s.is_empty), default=math.inf)


def even(corners: FloatArray, step: float) -> FloatArray:
    """Return points about ``step`` metres apart along a line of corners, both ends exact."""
    along = lengths(corners)
    s = np.linspace(0.0, along[-1], max(1, math.ceil(along[-1] / step)) + 1)
    spread = np.column_stack([np.interp(s, along, corners[:, axis]) for axis in (0, 1)])
    spread[0], spread[-1] = corners[0], corners[-1]
    return spread


def lengths(points: FloatArray) -> FloatArray:
    """Return the length (n,) along a line of points up to each of them."""
    return np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))))


def _edges(shape: Shape) -> tuple[FloatArray, FloatArray]:
    starts, ends = [], []
    for part in shapely.get_parts(shape):
        for ring in (part.exterior, *part.interiors):
            p = shapely.get_coordinates(ring)
            starts.append(p[:-1])
            ends.append(p[1:])
    return np.vstack(starts), np.vstack(ends)


def _region(shape: Shape) -> Region:
    return shape if isinstance(shape, (Polygon, MultiPolygon)) else NOWHERE
