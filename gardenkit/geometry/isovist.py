"""What can be seen from one spot over level ground: a sweep of the eye all the way round, ended by walls and trunks.

The directions of all wall ends, crossings and trunk edges are sorted; between two neighbouring directions one and the
same wall is nearest, so one look at the middle of each such wedge is enough and the outline is exact. Angles are
radians anticlockwise from the plan's x axis.
"""

import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import FloatArray, Outline, Point

IntArray = NDArray[np.int64]
SAME = 1e-9  # rad; directions nearer than this are one (0.1 micrometre at 100 m). Numerical choice.
ARC_STEP = math.radians(3.0)  # corners of a drawn arc; measures do not use it. House value.
TRUNK_CORNERS = 17  # corners of the drawn edge of one trunk. House value.
REACH = -1  # the number of "nothing but the end of sight"
TAU = 2.0 * math.pi


@attrs.frozen(eq=False, kw_only=True)
class Isovist:
    """The ground seen from ``eye``, in wedges from angle ``start`` to ``end``, (k,).

    ``near`` and ``far`` are the lengths of view at the start and end of each wedge in metres, (k,). ``stop`` is the
    number of the segment, then of the circle, that ends the view in each wedge; REACH (-1) where only the end of sight
    does.
    """

    eye: Point
    start: FloatArray
    end: FloatArray
    near: FloatArray  # length of view at the start of each wedge, m
    far: FloatArray  # and at its end
    stop: IntArray
    segments: FloatArray  # (n, 4)
    circles: FloatArray  # (m, 3)
    reach: float
    radial: FloatArray  # walls seen edge-on, (j, 3): angle, nearer and further end

    def outline(self) -> Outline:
        """Return the seen ground as an outline, anticlockwise; arcs drawn with corners on the true curve."""
        points: list[Point] = []
        for k in range(len(self.start)):
            angles, lengths = self._edge(k)
            for angle, length in zip(angles, lengths, strict=True):
                at = (self.eye[0] + float(length * math.cos(angle)), self.eye[1] + float(length * math.sin(angle)))
                if not points or math.dist(points[-1], at) > SAME:
                    points.append(at)
        if len(points) > 1 and math.dist(points[0], points[-1]) <= SAME:
            points.pop()
        return tuple(points)

    def _edge(self, k: int) -> tuple[FloatArray, FloatArray]:
        """Return angles and lengths of view at the corners a wedge's outer edge is drawn with."""
        first, last = self.start[k], self.end[k]
        if self.stop[k] == REACH:
            angles = np.linspace(first, last, max(2, math.ceil((last - first) / ARC_STEP) + 1))
        elif self.stop[k] >= len(self.segments):  # closer together where a round trunk is seen at its sides
            angles = (first + last) / 2 - (last - first) / 2 * np.cos(np.linspace(0.0, math.pi, TRUNK_CORNERS))
        else:
            return np.array([first, last]), np.array([self.near[k], self.far[k]])
        return angles, _lengths(angles, np.full(len(angles), self.stop[k]), self)

    def view(self, degrees: float) -> float:
        """Return the length of view in metres in one direction, degrees clockwise from the plan's y axis."""
        return float(self.views(np.array([degrees]))[0])

    def views(self, degrees: FloatArray) -> FloatArray:
        """Return the lengths of view in metres in many directions, degrees clockwise from the plan's y axis, (k,)."""
        angles, wedge = self._wedges(degrees)
        return _lengths(angles, self.stop[wedge], self)

    def stops(self, degrees: FloatArray) -> IntArray:
        """Return what ends the view in each direction (see ``stop``), (k,)."""
        return np.asarray(self.stop[self._wedges(degrees)[1]])

    def _wedges(self, degrees: FloatArray) -> tuple[FloatArray, IntArray]:
        angles = self.start[0] + (np.radians(90.0 - np.asarray(degrees, dtype=float)) - self.start[0]) % TAU
        return angles, np.clip(np.searchsorted(self.start, angles, side="right") - 1, 0, len(self.start) - 1)


def edges_of(outline: Sequence[Sequence[float]], *, closed: bool = True) -> FloatArray:
    """Return the edges of an outline (or of an open line) as segments, (n, 4): x and y of both ends."""
    points = np.asarray([tuple(p) for p in outline], dtype=float).reshape(-1, 2)
    after = np.roll(points, -1, axis=0)
    return np.column_stack((points, after)) if closed else np.column_stack((points, after))[:-1]


def sweep(
    eye: Sequence[float], segments: FloatArray, *, circles: FloatArray | None = None, reach: float = math.inf
) -> Isovist:
    """Return the isovist from ``eye`` among opaque ``segments`` (n, 4) and ``circles`` (m, 3: x, y, radius), metres.

    ``reach`` ends sight at that distance. Segments may touch and cross. A segment through the eye and a circle around
    it are looked through: move the eye off the wall first. Raises GardenError when sight runs on for ever.
    """
    lines = np.asarray(segments, dtype=float).reshape(-1, 4)
    rounds = np.zeros((0, 3)) if circles is None else np.asarray(circles, dtype=float).reshape(-1, 3)
    here = np.array([eye[0], eye[1]], dtype=float)
    walls = _from_eye(here, lines, rounds, reach)
    angles, first, last = _directions(walls)
    stop = _nearest(walls, angles, first, last)
    if not math.isfinite(reach) and (stop == REACH).any():
        raise GardenError("sight from here runs on without end; give the boundary, or how far one can see")
    keep = np.flatnonzero(stop != np.roll(stop, 1)) if (stop != stop[0]).any() else np.array([0])
    start, stop = angles[keep], stop[keep]
    end = np.append(start[1:], start[0] + TAU)
    near, far = _lengths_at(start, stop, walls), _lengths_at(end, stop, walls)
    return Isovist(
        eye=(float(here[0]), float(here[1])),
        start=start,
        end=end,
        near=near,
        far=far,
        stop=stop,
        segments=lines,
        circles=rounds,
        reach=float(reach),
        radial=_edge_on(walls.a, walls.b),
    )


# ---- the sweep


@attrs.frozen(eq=False)
class _Walls:
    """Everything that ends a view, with the eye as origin: segments a to b, circles, and the end of sight."""

    a: FloatArray
    b: FloatArray
    discs: FloatArray
    reach: float


def _from_eye(eye: FloatArray, segments: FloatArray, circles: FloatArray, reach: float) -> _Walls:
    discs = circles - np.array([eye[0], eye[1], 0.0])
    return _Walls(segments[:, :2] - eye, segments[:, 2:] - eye, discs, float(reach))


def _directions(walls: _Walls) -> tuple[FloatArray, IntArray, IntArray]:
    """Return all directions where the nearest wall may change, and for each wall the first and last it covers."""
    a, b, discs = walls.a, walls.b, walls.discs
    turn = cross(a, b)
    far_off = np.hypot(discs[:, 0], discs[:, 1])
    around = far_off <= discs[:, 2] * (1.0 + SAME)  # the eye stands in it
    half = np.arcsin(np.where(around, 0.0, discs[:, 2] / np.where(around, 1.0, far_off)))
    middle = np.arctan2(discs[:, 1], discs[:, 0])
    theta_a, theta_b = np.arctan2(a[:, 1], a[:, 0]), np.arctan2(b[:, 1], b[:, 0])
    first = np.concatenate((np.where(turn > 0, theta_a, theta_b), middle - half))
    last = np.concatenate((np.where(turn > 0, theta_b, theta_a), middle + half))
    events = np.concatenate((first, last, _crossings(walls), [0.0])) % TAU
    order = np.argsort(events, kind="stable")
    ordered = events[order]
    group = np.concatenate(([0], np.cumsum(np.diff(ordered) > SAME)))
    angles = ordered[np.concatenate(([True], np.diff(ordered) > SAME))]
    if len(angles) > 1 and angles[-1] > angles[0] + TAU - SAME:
        group[group == group[-1]] = 0
        angles = angles[:-1]
    number = np.empty(len(events), dtype=np.int64)
    number[order] = group
    count = len(first)
    first_at, last_at = number[:count], number[count : 2 * count]
    through = np.concatenate((_through_eye(a, b), around))  # looked through: covers nothing
    return angles, first_at, np.where(through, first_at, last_at)


def _nearest(walls: _Walls, angles: FloatArray, first: IntArray, last: IntArray) -> IntArray:
    """Return for each wedge the number of the nearest wall at its middle, REACH where none is within reach."""
    m = len(angles)
    span = (last - first) % m
    wall = np.repeat(np.arange(len(first)), span)
    step = np.arange(len(wall)) - np.repeat(np.cumsum(span) - span, span)
    wedge = (first[wall] + step) % m
    middle = (angles + np.append(angles[1:], angles[0] + TAU)) / 2.0
    length = _lengths_at(middle[wedge], wall, walls)
    least = np.full(m, walls.reach)
    np.minimum.at(least, wedge, length)
    stop = np.full(m, REACH, dtype=np.int64)
    wins = (length <= least[wedge]) & (length < walls.reach)
    stop[wedge[wins]] = wall[wins]
    return stop


def _lengths(angles: FloatArray, stop: IntArray, seen: Isovist) -> FloatArray:
    return _lengths_at(angles, stop, _from_eye(np.array(seen.eye), seen.segments, seen.circles, seen.reach))


def _lengths_at(angles: FloatArray, wall: IntArray, walls: _Walls) -> FloatArray:
    """Return the distance along each direction to the wall of that number, (k,)."""
    a, b = walls.a, walls.b
    cos, sin = np.cos(angles), np.sin(angles)
    result = np.full(len(angles), walls.reach)
    flat = (wall >= 0) & (wall < len(a))
    w = wall[flat]
    along = b[w] - a[w]
    result[flat] = cross(a[w], along) / (cos[flat] * along[:, 1] - sin[flat] * along[:, 0])
    bowed = wall >= len(a)
    x, y, radius = walls.discs[wall[bowed] - len(a)].T
    ahead, aside = x * cos[bowed] + y * sin[bowed], x * sin[bowed] - y * cos[bowed]
    result[bowed] = ahead - np.sqrt(np.maximum(radius**2 - aside**2, 0.0))
    return result


def cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """Return the cross product of each pair of rows, (k,): twice the area of the triangle with the origin."""
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _through_eye(a: FloatArray, b: FloatArray) -> NDArray[np.bool_]:
    """Return which segments pass through the eye (the origin)."""
    long = np.hypot(*(b - a).T)
    return np.asarray((np.abs(cross(a, b)) <= SAME * long * np.maximum(long, 1.0)) & ((a * b).sum(axis=1) <= SAME))


def _edge_on(a: FloatArray, b: FloatArray) -> FloatArray:
    """Return the walls seen edge-on as angle, nearer and further distance, (j, 3)."""
    to_a, to_b = np.hypot(*a.T), np.hypot(*b.T)
    long = np.hypot(*(b - a).T)
    flat = (np.abs(cross(a, b)) <= SAME * to_a * to_b) & ((a * b).sum(axis=1) > 0) & (long > 0)
    rows = np.column_stack((np.arctan2(a[:, 1], a[:, 0]) % TAU, np.minimum(to_a, to_b), np.maximum(to_a, to_b)))
    return np.asarray(rows[flat])


# ---- places where walls cross


def _crossings(walls: _Walls) -> FloatArray:
    """Return the directions of all points where walls, circles and the end of sight cross one another."""
    rings = walls.discs
    if math.isfinite(walls.reach):
        rings = np.vstack((rings, [[0.0, 0.0, walls.reach]]))
    found = (_lines_cross(walls.a, walls.b), _line_meets_ring(walls.a, walls.b, rings), _rings_cross(rings))
    points = np.vstack(found)
    return np.asarray(np.arctan2(points[:, 1], points[:, 0]))


def _lines_cross(a: FloatArray, b: FloatArray) -> FloatArray:
    low, high = np.minimum(a, b), np.maximum(a, b)
    near = (low[:, None, 0] <= high[None, :, 0]) & (low[None, :, 0] <= high[:, None, 0])
    near &= (low[:, None, 1] <= high[None, :, 1]) & (low[None, :, 1] <= high[:, None, 1])
    i, j = np.nonzero(np.triu(near, k=1))
    along, other, between = b[i] - a[i], b[j] - a[j], a[j] - a[i]
    turn = cross(along, other)
    slant = np.abs(turn) > 1e-12 * np.hypot(*along.T) * np.hypot(*other.T)
    safe = np.where(slant, turn, 1.0)
    t, u = cross(between, other) / safe, cross(between, along) / safe
    meets = slant & (t > 0) & (t < 1) & (u > 0) & (u < 1)
    return np.asarray(a[i[meets]] + t[meets, None] * along[meets])


def _line_meets_ring(a: FloatArray, b: FloatArray, rings: FloatArray) -> FloatArray:
    i, j = (g.ravel() for g in np.meshgrid(np.arange(len(a)), np.arange(len(rings)), indexing="ij"))
    along, back = b[i] - a[i], a[i] - rings[j, :2]
    square = np.maximum((along**2).sum(axis=1), 1e-300)
    middle = -(back * along).sum(axis=1) / square
    root = middle**2 - ((back**2).sum(axis=1) - rings[j, 2] ** 2) / square
    half = np.sqrt(np.maximum(root, 0.0))
    found = []
    for t in (middle - half, middle + half):
        meets = (root > 0) & (t >= 0) & (t <= 1)
        found.append(a[i[meets]] + t[meets, None] * along[meets])
    return np.vstack(found)


def _rings_cross(rings: FloatArray) -> FloatArray:
    i, j = np.triu_indices(len(rings), k=1)
    between = rings[j, :2] - rings[i, :2]
    apart = np.hypot(*between.T)
    r, s = rings[i, 2], rings[j, 2]
    meets = (apart > 0) & (apart < r + s) & (apart > np.abs(r - s))
    between, apart, r, s, i = between[meets], apart[meets], r[meets], s[meets], i[meets]
    ahead = (apart**2 + r**2 - s**2) / (2.0 * apart)
    aside = np.sqrt(np.maximum(r**2 - ahead**2, 0.0))
    unit = between / apart[:, None]
    foot = rings[i, :2] + ahead[:, None] * unit
    left = np.column_stack((-unit[:, 1], unit[:, 0])) * aside[:, None]
    return np.vstack((foot + left, foot - left))
