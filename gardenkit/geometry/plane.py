"""Shapes on the plan: outlines, areas, distances and what is left when one shape is taken from another.

Points are ``(x, y)`` in metres, x to the right of the plan and y up it. A region is a shapely polygon or a set of them;
the rest of gardenkit handles regions only through the functions here.
"""

import math
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import GeometryCollection, LineString, MultiPolygon, Polygon
from shapely.geometry import Point as _Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import split as _split

from gardenkit.findings import GardenError

Point = tuple[float, float]
Outline = tuple[Point, ...]
Line = tuple[Point, ...]
Piece = Polygon
Region = Polygon | MultiPolygon
Shape = BaseGeometry
FloatArray = NDArray[np.float64]
NOWHERE = Polygon()
FAR = 1e3  # m: beyond any garden
SAME_CORNER = 1e-3  # m: corners of a cut nearer than this are one
MANY_PAIRS = 500_000  # of a place and a corner: from here on a tree of the sides is faster. Tried.
SHORTEST = 0.001  # m: a shorter line is a slip of the hand. House value.
SLIVER = 1e-4  # m2: smaller leftovers of a subtraction are rounding, not ground. House value.


def outline(points: Iterable[Sequence[float]], *, where: str) -> Outline:
    """Return a checked outline: at least three corners, finite, not crossing itself, anticlockwise, not closed twice.

    Raises GardenError naming ``where`` and the place of the crossing.
    """
    corners = [(float(p[0]), float(p[1])) for p in points]
    if len(corners) > 1 and math.dist(corners[0], corners[-1]) < 1e-9:
        corners.pop()
    corners = [p for i, p in enumerate(corners) if i == 0 or math.dist(p, corners[i - 1]) > 1e-9]
    if not all(math.isfinite(v) for p in corners for v in p):
        raise GardenError(f"the outline of {where} holds a value that is not a number; type each corner as two lengths")
    if len(corners) < 3:
        raise GardenError(f"the outline of {where} has {len(corners)} corners; give at least three different ones")
    polygon = Polygon(corners)
    if not polygon.is_valid:
        reason = shapely.is_valid_reason(polygon)
        spot = reason[reason.find("[") + 1 : reason.find("]")].split() if "[" in reason else []
        near = f" near ({float(spot[0]):.2f}, {float(spot[1]):.2f}) m" if len(spot) == 2 else ""
        raise GardenError(
            f"the outline of {where} crosses or touches itself{near}; give its corners in order around the edge"
        )
    if polygon.area < SLIVER:
        raise GardenError(f"the outline of {where} encloses no ground; check its corners")
    return tuple(corners) if polygon.exterior.is_ccw else tuple(reversed(corners))


def region(points: Iterable[Sequence[float]], holes: Iterable[Iterable[Sequence[float]]] = ()) -> Polygon:
    """Return the region inside an outline, less the holes."""
    return Polygon([tuple(p) for p in points], [[tuple(p) for p in hole] for hole in holes])


def ringed(points: Sequence[Sequence[float]]) -> Region:
    """Return the ground that a line drawn by hand goes round, its ends joined; one that crosses itself goes round each
    of its parts.
    """
    return _area_part(shapely.make_valid(Polygon(points))) if len(points) > 3 else NOWHERE


def check_line(points: Sequence[Sequence[float]], *, where: str) -> None:
    """Raise GardenError naming ``where`` when points make no line: fewer than two, or all within a millimetre."""
    if not any(math.dist(point, points[0]) > SHORTEST for point in points[1:]):
        raise GardenError(f"the line of {where} has no length; give two different ends")


def line(points: Iterable[Sequence[float]]) -> LineString:
    """Return an open line through the points."""
    return LineString([tuple(p) for p in points])


def point(at: Sequence[float]) -> _Point:
    """Return one point as a shape for distance questions."""
    return _Point(at[0], at[1])


def area(shape: Shape) -> float:
    """Return square metres."""
    return float(shape.area)


def perimeter(shape: Shape) -> float:
    """Return the length of all edges in metres, holes included."""
    return float(shape.length)


def contains(shape: Shape, at: Sequence[float]) -> bool:
    """Return whether the point lies in the shape or on its edge."""
    return bool(shapely.intersects_xy(shape, at[0], at[1]))


def inside(shape: Shape, points: FloatArray) -> NDArray[np.bool_]:
    """Return for each row of ``points`` (n, 2) whether it lies strictly inside."""
    shapely.prepare(shape)
    return np.asarray(shapely.contains_xy(shape, points[:, 0], points[:, 1]))


def distance(a: Shape, b: Shape) -> float:
    """Return the least distance between two shapes in metres, 0 when they touch."""
    return float(a.distance(b))


def meet(a: Shape, b: Shape) -> bool:
    """Return whether two shapes share a point, edges included."""
    return bool(a.intersects(b))


def point_distances(points: FloatArray, other: Shape) -> FloatArray:
    """Return the distance of each row of ``points`` (n, 2) to ``other`` in metres, 0 inside a region."""
    shapely.prepare(other)
    places = np.asarray(shapely.points(points))
    if len(points) * shapely.get_num_coordinates(other) < MANY_PAIRS or not isinstance(other, Polygon | MultiPolygon):
        return np.asarray(shapely.distance(places, other), dtype=float)
    found = np.zeros(len(points))
    out = ~shapely.intersects(other, places)
    (row, _), far = shapely.STRtree(_sides(other)).query_nearest(places[out], all_matches=False, return_distance=True)
    found[np.flatnonzero(out)[row]] = far
    return found


def _sides(region: Region) -> NDArray[np.object_]:
    """Return each straight piece of a region's edges."""
    at, edge = shapely.get_coordinates(shapely.get_parts(shapely.boundary(region)), return_index=True)
    on = edge[1:] == edge[:-1]
    return np.asarray(shapely.linestrings(np.stack((at[:-1][on], at[1:][on]), axis=1)))


def grown(shape: Shape, by: float, *, round_ends: bool = True) -> Region:
    """Return the shape widened by ``by`` metres on every side (negative: shrunk)."""
    cap: str = "round" if round_ends else "flat"
    return _area_part(shape.buffer(by, cap_style=cap, join_style="round", quad_segs=12))  # type: ignore[arg-type]


def union(shapes: Iterable[Shape]) -> Region:
    """Return everything covered by any of the shapes."""
    return _area_part(shapely.disjoint_subset_union_all([s for s in shapes if not s.is_empty]))


def difference(shape: Shape, taken: Shape) -> Region:
    """Return the shape without ``taken``."""
    return _area_part(shapely.difference(shape, taken))


def intersection(a: Shape, b: Shape) -> Region:
    """Return the ground common to both shapes."""
    return _area_part(shapely.intersection(a, b))


def pieces(shape: Shape, *, least: float = SLIVER) -> tuple[Polygon, ...]:
    """Return the separate polygons of a region, largest first, without slivers below ``least`` square metres."""
    found = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and p.area >= least]
    return tuple(sorted(found, key=lambda p: -p.area))


def divided(shape: Polygon, by: Iterable[Sequence[float]]) -> tuple[Polygon, ...]:
    """Return the parts of a polygon cut along a line; the polygon itself when the line does not cross it."""
    parts = _split(shape, LineString([tuple(p) for p in by]))
    return pieces(parts)


def corners(shape: Shape) -> Outline:
    """Return the outer corners of a polygon, anticlockwise, not closed."""
    if not isinstance(shape, Polygon) or shape.is_empty:
        return ()
    ring = shapely.get_coordinates(shape.exterior if shape.exterior.is_ccw else shape.exterior.reverse())
    return tuple((float(x), float(y)) for x, y in ring[:-1])


def rings(shape: Shape) -> list[list[Point]]:
    """Return every ring (outer then holes, of every part) as lists of points, not closed: what a drawing needs."""
    found: list[list[Point]] = []
    for part in shapely.get_parts(shape):
        if isinstance(part, Polygon) and not part.is_empty:
            for ring in (part.exterior, *part.interiors):
                found.append([(float(x), float(y)) for x, y in ring.coords[:-1]])
    return found


def centre(shape: Shape) -> Point:
    """Return a point that is inside the shape, near its middle: good for a label."""
    if shape.is_empty:
        return (0.0, 0.0)
    spot = shape.centroid
    if not shape.covers(spot):
        spot = shape.representative_point()
    return (float(spot.x), float(spot.y))


def bounds(shape: Shape) -> tuple[float, float, float, float]:
    """Return (least x, least y, greatest x, greatest y) in metres."""
    low_x, low_y, high_x, high_y = shape.bounds
    return float(low_x), float(low_y), float(high_x), float(high_y)


def part_in_box(shape: Shape, low: Point, high: Point) -> Shape:
    """Return the part of a shape in an upright box: quicker than an intersection, for looking near by only."""
    try:
        return shapely.clip_by_rect(shape, *low, *high)
    except shapely.errors.GEOSException:  # a corner of the box on an edge of the shape may leave it a ring too short
        return shape.intersection(shapely.box(*low, *high))


def region_in_box(shape: Shape, low: Point, high: Point) -> Region:
    """Return the ground of a shape in an upright box."""
    return _area_part(part_in_box(shape, low, high))


def without_slivers(shape: Shape, thin: float) -> Region:
    """Return the shape without what is thinner than ``thin`` metres, as a spike that two edges leave; corners stay."""
    half = thin / 2
    return _area_part(shape.buffer(-half, join_style="mitre").buffer(half, join_style="mitre"))


def simplified(shape: Shape, tolerance: float) -> Region:
    """Return the shape with fewer corners, none further than ``tolerance`` metres from the old edge."""
    return _area_part(shape.simplify(tolerance, preserve_topology=True))


def inscribed_circle(shape: Region, *, tolerance: float = 0.01) -> tuple[Point, float]:
    """Return centre and radius of the largest circle inside a region, to ``tolerance`` metres."""
    if shape.is_empty:
        return (0.0, 0.0), 0.0
    spoke = shapely.maximum_inscribed_circle(shape, tolerance=tolerance)
    (x, y), _ = spoke.coords
    return (float(x), float(y)), float(spoke.length)


def least_rectangle(shape: Region) -> Outline:
    """Return the corners of the smallest rectangle, turned any way, that holds a region."""
    return corners(shapely.minimum_rotated_rectangle(shape))


def long_way(shape: Region) -> float:
    """Return the heading along the longer side of a region's least rectangle, 0 to 180 degrees clockwise from y."""
    a, b, c, *_ = least_rectangle(shape)
    far, near = (a, b), (b, c)
    longer = far if math.dist(*far) >= math.dist(*near) else near
    return round(heading(*longer), 6) % 180


def nearest_on(shape: Shape, at: Sequence[float]) -> Point:
    """Return the point of ``shape`` (its edge, for a region) that is nearest to ``at``."""
    edge = shape.boundary if isinstance(shape, (Polygon, MultiPolygon)) else shape
    spot = edge.interpolate(edge.project(_Point(at[0], at[1])))
    return (float(spot.x), float(spot.y))


def nearest_places(way: LineString, points: FloatArray) -> FloatArray:
    """Return for each row of ``points`` (n, 2) the nearest point of a line, (n, 2)."""
    along = shapely.line_locate_point(way, shapely.points(points))
    return np.asarray(shapely.get_coordinates(shapely.line_interpolate_point(way, along)))


def along(way: LineString, metres: Iterable[float]) -> Line:
    """Return the points so many metres along a line.

    >>> along(line([(0, 0), (3, 0), (3, 4)]), [1.0, 5.0])
    ((1.0, 0.0), (3.0, 2.0))
    """
    spots = shapely.get_coordinates(shapely.line_interpolate_point(way, np.array([*metres])))
    return tuple((float(x), float(y)) for x, y in spots)


def kept_to(shape: Region, at: Point) -> Point:
    """Return a point, or the nearest place of the region's edge for one that lies outside; anywhere where it is empty.

    >>> kept_to(region([(0, 0), (4, 0), (4, 4), (0, 4)]), (6.0, 1.0))
    (4.0, 1.0)
    """
    return at if shape.is_empty or contains(shape, at) else nearest_on(shape, at)


def turned(points: Iterable[Sequence[float]], degrees: float, about: Point = (0.0, 0.0)) -> Outline:
    """Return points turned clockwise by ``degrees`` about a point."""
    angle = math.radians(-degrees)
    c, s = math.cos(angle), math.sin(angle)
    ax, ay = about
    return tuple((ax + c * (p[0] - ax) - s * (p[1] - ay), ay + s * (p[0] - ax) + c * (p[1] - ay)) for p in points)


def moved(points: Iterable[Sequence[float]], by: Point) -> Outline:
    """Return points shifted by ``by``."""
    return tuple((p[0] + by[0], p[1] + by[1]) for p in points)


def heading(a: Sequence[float], b: Sequence[float]) -> float:
    """Return the direction from a to b in degrees clockwise from the plan's y axis, 0 to 360."""
    return math.degrees(math.atan2(b[0] - a[0], b[1] - a[1])) % 360


def towards(at: Sequence[float], degrees: float, far: float) -> Point:
    """Return the point ``far`` metres from ``at`` in the direction ``degrees`` clockwise from the plan's y axis."""
    angle = math.radians(degrees)
    return (at[0] + far * math.sin(angle), at[1] + far * math.cos(angle))


def circles(points: FloatArray, radii: FloatArray, *, sides: int = 48) -> list[Polygon]:
    """Return round regions about each of the points (n, 2), as ``circle`` makes one; ``radii`` in metres (n,)."""
    angles = np.linspace(0, 2 * math.pi, sides, endpoint=False)
    round_one = np.column_stack((np.cos(angles), np.sin(angles)))
    rings = points[:, None, :] + radii[:, None, None] * round_one[None, :, :]
    return list(shapely.polygons(rings)) if len(points) else []


def circle(at: Sequence[float], radius: float, *, sides: int = 48) -> Polygon:
    """Return a round region as a polygon with ``sides`` corners on the true circle."""
    angles = np.linspace(0, 2 * math.pi, sides, endpoint=False)
    return Polygon(np.column_stack((at[0] + radius * np.cos(angles), at[1] + radius * np.sin(angles))))


def _area_part(shape: Shape) -> Region:
    if isinstance(shape, (Polygon, MultiPolygon)):
        return shape
    if isinstance(shape, GeometryCollection):
        found = pieces(shape)
        return MultiPolygon(found) if len(found) != 1 else found[0]
    return NOWHERE


def convex_parts(points: Iterable[Sequence[float]]) -> tuple[Outline, ...]:
    """Return a simple outline cut along its own sides into convex parts, as broad as can be: one roof over each."""
    whole = outline(points, where="a building")
    best: tuple[float, tuple[Outline, ...]] | None = None
    for i, corner in enumerate(whole):
        before, after = whole[i - 1], whole[(i + 1) % len(whole)]
        turn = (corner[0] - before[0]) * (after[1] - before[1]) - (corner[1] - before[1]) * (after[0] - before[0])
        if turn >= -1e-9 * math.dist(before, corner):
            continue
        for other in (before, after):
            long = math.dist(corner, other)
            x, y = (corner[0] - other[0]) / long, (corner[1] - other[1]) / long
            near, far = (corner[0] - 1e-6 * x, corner[1] - 1e-6 * y), (corner[0] + FAR * x, corner[1] + FAR * y)
            found = divided(region(whole), (near, far))
            if len(found) < 2:
                continue
            width = min(inscribed_circle(part)[1] for part in found)
            if best is None or width > best[0]:
                best = width, tuple(_tidy(corners(part)) for part in found)
    if best is None:
        return (whole,)
    return tuple(piece for part in best[1] for piece in convex_parts(part))


def _tidy(points: Outline) -> Outline:
    return tuple(p for i, p in enumerate(points) if math.dist(p, points[i - 1]) > SAME_CORNER)


def hull_outline(points: FloatArray) -> Outline:
    """Return the smallest convex outline around points (n, 2), anticlockwise; empty when they enclose no ground."""
    hull = shapely.convex_hull(shapely.linestrings(points)) if len(points) > 1 else None  # a line is made at once
    return corners(hull) if isinstance(hull, Polygon) else ()


def corners_of_line(shape: Shape) -> Line:
    """Return the two ends of the longest straight piece of a cut line; empty when nothing is left of it."""
    parts = [p for p in shapely.get_parts(shape) if isinstance(p, LineString) and not p.is_empty]
    if not parts:
        return ()
    longest = max(parts, key=lambda p: p.length)
    return tuple((float(x), float(y)) for x, y in (longest.coords[0], longest.coords[-1]))


def lines_within(shape: Shape, region: Region) -> tuple[Line, ...]:
    """Return the pieces of a line that lie in a region."""
    parts = shapely.get_parts(shapely.line_merge(shapely.intersection(shape, region)))
    kept = (shapely.get_coordinates(part) for part in parts if isinstance(part, LineString))
    return tuple(tuple((float(x), float(y)) for x, y in points) for points in kept)


def common_line(shape: Shape, points: Iterable[Sequence[float]]) -> Shape:
    """Return the part of a line that lies in a region; empty when none does."""
    return shapely.intersection(shape, LineString([tuple(p) for p in points]))


def crossings(a: Shape, b: Shape) -> list[Point]:
    """Return the single points that two lines have in common; stretches that run together are none."""
    common = shapely.get_parts(shapely.intersection(a, b))
    return [(float(p.x), float(p.y)) for p in common if isinstance(p, _Point)]
