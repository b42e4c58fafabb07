"""Wide places and narrow places of a piece of ground: the circles that fit in it and the line along its middle."""

import itertools
import math

import attrs
import numpy as np
import shapely
from shapely.geometry import LineString, MultiPoint, Polygon
from shapely.ops import split

from gardenkit.geometry.plane import FloatArray, Line, Point, Region, Shape, difference

SPUR = 1.2  # times the way from a fork into a square corner: a longer branch is a real arm. House value.
PRUNINGS = 3  # times spurs are cut back, since cutting one can bare another; house value
TOLERANCE = 0.05  # m, how exactly circles are placed; house value, finer than a tree is planted


@attrs.frozen(kw_only=True)
class Circle:
    """A space for a tree crown that fits in a piece of ground: centre and radius in metres."""

    at: Point
    radius: float


@attrs.frozen(eq=False, kw_only=True)
class Spine:
    """The middle line of a piece of ground: ``lines`` of points, ``widths`` (n,) at ``points`` (n, 2), ``length`` in
    metres.

    The width at a point is twice the distance from it to the edge. Side spurs into corners are cut off.
    """

    lines: tuple[Line, ...]
    points: FloatArray
    widths: FloatArray
    length: float

    def narrower_than(self, width: float) -> tuple[Point, ...]:
        """Return the spine's points where the ground is narrower than ``width`` metres."""
        return tuple((float(x), float(y)) for x, y in self.points[self.widths < width])


def circles(shape: Region, *, most: int = 3, least: float = 0.3, tolerance: float = TOLERANCE) -> tuple[Circle, ...]:
    """Return up to ``most`` of the largest circles that fit side by side in a region, largest first, radius ``least``
    or more.

    Each next circle is the largest that fits beside those before it. Radii are to ``tolerance`` metres, never too
    large.
    """
    found: list[Circle] = []
    left = shape
    while len(found) < most and not left.is_empty:
        with np.errstate(all="ignore"):  # slivers upset the search's square roots, not its answer
            spoke = shapely.maximum_inscribed_circle(left, tolerance=tolerance)
        (x, y), _ = spoke.coords
        radius = float(spoke.length)
        if radius < least and found:
            break
        found.append(Circle(at=(float(x), float(y)), radius=radius))
        if len(found) < most:
            left = difference(left, shapely.Point(x, y).buffer(radius, quad_segs=6))
    return tuple(found)


def depth_from(shape: Shape, standing: Shape, extra: FloatArray, *, step: float = 0.5) -> tuple[Point, float]:
    """Return the point of ``shape`` furthest from ``standing`` and its distance, in metres.

    Looks at the outer edge every ``step`` metres and at the ``extra`` points (n, 2) inside, such as circle centres;
    infinite when there is nowhere to stand.
    """
    outer = shapely.get_exterior_ring(shapely.get_parts(shape))
    at = np.vstack((extra, shapely.get_coordinates(shapely.segmentize(outer, step))))
    if standing.is_empty:
        return (float(at[0, 0]), float(at[0, 1])), math.inf
    shapely.prepare(standing)
    at = at[~shapely.intersects_xy(standing, at[:, 0], at[:, 1])]
    if not len(at):
        return (float(outer[0].coords[0][0]), float(outer[0].coords[0][1])), 0.0
    with np.errstate(all="ignore"):
        far = np.asarray(shapely.distance(shapely.points(at), standing))
    worst = int(far.argmax())
    return (float(at[worst, 0]), float(at[worst, 1])), float(far[worst])


def rim(shape: Shape, *, within: float = 1e-6) -> Shape:
    """Return the shape a hair larger, so that edges drawn along it count as lying in it."""
    return shape.buffer(within, quad_segs=1)


def shared_edge(shape: Shape, other: Shape) -> float:
    """Return how many metres of the region's edge run along ``other``, a shape with its ``rim``.

    The region must have been cut by that shape, so that each straight piece of its edge runs along it wholly or
    not at all.
    """
    if other.is_empty:
        return 0.0
    starts, ends = _pairs(shapely.get_parts(shape.boundary))
    middle = (starts + ends) / 2
    shapely.prepare(other)
    along = shapely.intersects_xy(other, middle[:, 0], middle[:, 1])
    return float(np.hypot(*(ends - starts)[along].T).sum())


def cut_along(shape: Shape, by: Line, *, past: float = 0.05) -> tuple[Polygon, ...]:
    """Return the parts of a polygon cut along a line, slivers included; uncut when the line does not cross it.

    The line is lengthened by ``past`` metres at both ends, so that one drawn from edge to edge by hand reaches.
    """
    points = np.asarray(by, dtype=float)
    points[[0, -1]] += past * np.vstack((_unit(points[0] - points[1]), _unit(points[-1] - points[-2])))
    cut = LineString(points)
    if not shapely.intersects(shape, cut):
        return tuple(p for p in shapely.get_parts(shape) if isinstance(p, Polygon))
    parts = split(shape, cut)
    return tuple(p for p in parts.geoms if isinstance(p, Polygon) and not p.is_empty)


def spine(shape: Polygon, *, step: float = 0.1) -> Spine:
    """Return the middle line of a polygon, holes allowed: Voronoi edges of points every ``step`` metres round it,
    without spurs.

    A spur is a branch that ends within 1.2 times its own start's distance to the edge: it only runs into a corner.
    """
    edge = shapely.segmentize(shape.boundary, step)
    web = shapely.voronoi_polygons(MultiPoint(shapely.get_coordinates(edge)), only_edges=True)
    parts = shapely.get_parts(web)
    shapely.prepare(shape)
    starts, ends = _pairs(parts[shapely.covers(shape, parts)])
    if not len(starts):
        return Spine(lines=(), points=np.empty((0, 2)), widths=np.empty(0), length=0.0)
    both = np.asarray(np.round(np.vstack((starts, ends)), 9), dtype=np.float64)
    nodes, places = np.unique(both, axis=0, return_inverse=True)
    index = places.reshape(2, -1).T
    far = np.asarray(shapely.distance(shapely.points(nodes), shape.boundary), dtype=float)
    kept = _without_spurs(nodes, index[index[:, 0] != index[:, 1]], far)
    used = np.unique(kept)
    length = float(np.linalg.norm(nodes[kept[:, 0]] - nodes[kept[:, 1]], axis=1).sum()) if len(kept) else 0.0
    return Spine(lines=_joined(nodes, kept), points=nodes[used], widths=2 * far[used], length=length)


def _unit(v: FloatArray) -> FloatArray:
    return np.asarray(v / max(float(np.hypot(*v)), 1e-12))


def _pairs(lines: np.ndarray) -> tuple[FloatArray, FloatArray]:
    points, owner = shapely.get_coordinates(lines, return_index=True)
    same = owner[1:] == owner[:-1]
    return points[:-1][same], points[1:][same]


def _without_spurs(nodes: FloatArray, edges: np.ndarray, far: FloatArray) -> np.ndarray:
    """Return the edges (m, 2) left when branches from an end to the first fork are removed if they are mere corner
    spurs.
    """
    beside: dict[int, set[int]] = {}
    for a, b in edges.tolist():
        beside.setdefault(a, set()).add(b)
        beside.setdefault(b, set()).add(a)
    for _ in range(PRUNINGS):
        cut = [pair for end in beside if len(beside[end]) == 1 for pair in _spur(end, beside, nodes, far)]
        for a, b in cut:
            beside[a].discard(b)
            beside[b].discard(a)
    kept = [(a, b) for a, near in beside.items() for b in near if a < b]
    return np.asarray(kept, dtype=int).reshape(-1, 2)


def _spur(end: int, beside: dict[int, set[int]], nodes: FloatArray, far: FloatArray) -> list[tuple[int, int]]:
    """Return the edges from a loose end to the first fork when that branch only runs into a corner, else none."""
    branch = [end]
    while len(beside[branch[-1]]) <= 2:
        onward = [n for n in beside[branch[-1]] if n not in branch[-2:]]
        if not onward:
            return []
        branch.append(onward[0])
    root = branch[-1]
    if math.dist(nodes[end], nodes[root]) > SPUR * math.sqrt(2) * far[root]:
        return []
    return list(itertools.pairwise(branch))


def _joined(nodes: FloatArray, edges: np.ndarray) -> tuple[Line, ...]:
    if not len(edges):
        return ()
    merged = shapely.line_merge(shapely.multilinestrings([LineString(nodes[[a, b]]) for a, b in edges.tolist()]))
    return tuple(
        tuple((float(x), float(y)) for x, y in shapely.get_coordinates(part)) for part in shapely.get_parts(merged)
    )
