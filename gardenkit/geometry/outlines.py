"""Many small outlines at once, such as stones: built from corners, measured against each other and against the ground
they lie on.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPoint, MultiPolygon, Polygon, box

from gardenkit.geometry.curve import Curve
from gardenkit.geometry.plane import NOWHERE, FloatArray, Outline, Region, Shape

Shapes = NDArray[np.object_]
Pairs = NDArray[np.intp]


def from_corners(corners: FloatArray) -> Shapes:
    """Return n shapes for corners (n, m, 2)."""
    return np.atleast_1d(np.asarray(shapely.polygons(corners), dtype=object))


def from_outlines(outlines: Sequence[Outline]) -> Shapes:
    """Return one shape for each outline."""
    if not outlines:
        return np.empty(0, dtype=object)
    owner = np.repeat(np.arange(len(outlines)), [len(outline) for outline in outlines])
    rings = shapely.linearrings(np.concatenate([np.asarray(o, dtype=float) for o in outlines]), indices=owner)
    return np.atleast_1d(np.asarray(shapely.polygons(rings), dtype=object))


def to_outlines(shapes: Shapes) -> tuple[Outline, ...]:
    """Return the corners of each shape, not closed."""
    return tuple(tuple((float(x), float(y)) for x, y in shapely.get_coordinates(s)[:-1]) for s in shapes)


def areas(shapes: Shapes) -> FloatArray:
    """Return the area (n,) of each shape in square metres."""
    return np.asarray(shapely.area(shapes), dtype=float)


def centroids(shapes: Shapes) -> FloatArray:
    """Return the centre of mass (n, 2) of each shape."""
    return np.asarray(shapely.get_coordinates(shapely.centroid(shapes)))


def gaps(a: Shapes, b: Shapes) -> FloatArray:
    """Return the least distance (n,) between each shape of ``a`` and its partner in ``b``, 0 when they touch."""
    return np.asarray(shapely.distance(a, b), dtype=float)


def close_pairs(shapes: Shapes, within: float) -> tuple[Pairs, FloatArray]:
    """Return every pair (n, 2) of shapes within ``within`` metres, lower number first, and their distances (n,)."""
    if len(shapes) < 2:
        return np.empty((0, 2), dtype=np.intp), np.empty(0)
    low_x, low_y, high_x, high_y = shapely.bounds(shapes).T
    frames = shapely.box(low_x - within, low_y - within, high_x + within, high_y + within)
    one, other = shapely.STRtree(shapes).query(frames)
    first, second = one[one < other], other[one < other]
    clear = gaps(shapes[first], shapes[second])
    near = clear <= within
    return np.column_stack((first[near], second[near])), clear[near]


def overlap(a: Shape, b: Shape) -> float:
    """Return the area in square metres that two shapes share."""
    return float(shapely.intersection(a, b).area)


def inside(shapes: Shapes, ground: Shape) -> NDArray[np.bool_]:
    """Return for each shape whether it lies wholly in ``ground`` (its edge counts as in)."""
    shapely.prepare(ground)
    return np.asarray(shapely.covers(ground, shapes))


def largest_part(shape: Shape) -> Polygon:
    """Return the largest polygon of a shape, empty when it has none."""
    parts = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and not p.is_empty]
    return max(parts, key=lambda p: float(p.area), default=NOWHERE)


def cut_to(shape: Shape, ground: Shape) -> Polygon:
    """Return the largest part of a shape that lies in ``ground``, a hair inside its edge so that it surely does."""
    part = largest_part(shapely.intersection(shape, ground))
    return part if part.is_empty or ground.covers(part) else largest_part(part.buffer(-1e-7, join_style="mitre"))


def cells(seeds: FloatArray, low: tuple[float, float], high: tuple[float, float]) -> Shapes:
    """Return for each seed (n, 2) the ground of a rectangle that is nearer to it than to the others (Voronoi cells)."""
    frame = box(*low, *high)
    found = shapely.voronoi_polygons(MultiPoint(seeds), extend_to=frame, ordered=True)
    return np.asarray(shapely.intersection(shapely.get_parts(found), frame), dtype=object)


def along_curve(shapes: Shapes, curve: Curve, *, step: float = 0.25) -> Shapes:
    """Return shapes drawn in (along, offset) laid onto a curve; long edges bend with it, ``step`` metres a piece."""
    fine = shapely.segmentize(shapes, step)
    flat = shapely.get_coordinates(fine)
    return np.asarray(shapely.set_coordinates(fine, curve.beside(flat[:, 0], flat[:, 1])), dtype=object)


def shrunk(shapes: Shapes, by: float) -> Shapes:
    """Return each shape smaller by ``by`` metres all round, corners kept sharp; the largest part if it falls apart."""
    small = np.asarray(shapely.buffer(shapes, -by, join_style="mitre"), dtype=object)
    broken = shapely.get_type_id(small) != 3
    small[broken] = [largest_part(s) for s in small[broken]]
    return small


def rounded(shapes: Shapes, *, share: float = 0.2, times: int = 2) -> Shapes:
    """Return shapes with their corners cut back ``share`` of each edge, ``times`` over: each lies inside the old one if
    convex.
    """
    kept = ~shapely.is_empty(shapes)
    rings = shapely.get_exterior_ring(shapes[kept])
    points, owner = shapely.get_coordinates(rings, return_index=True)
    last = np.concatenate((np.flatnonzero(np.diff(owner)), [len(owner) - 1])) if len(owner) else np.empty(0, dtype=int)
    keep = np.ones(len(points), dtype=bool)
    keep[last] = False
    points, owner = points[keep], owner[keep]
    for _ in range(times):
        follows = np.arange(1, len(points) + 1)
        ends = np.flatnonzero(np.diff(np.concatenate((owner, [-1]))))
        follows[ends] = np.concatenate(([0], ends[:-1] + 1))
        step = points[follows] - points
        points = np.stack((points + share * step, points + (1 - share) * step), axis=1).reshape(-1, 2)
        owner = np.repeat(owner, 2)
    out = np.asarray(shapes, dtype=object).copy()
    if len(points):
        out[kept] = shapely.polygons(shapely.linearrings(points, indices=owner))
    return out


def together(shapes: Shapes) -> Region:
    """Return everything the shapes cover."""
    found = shapely.disjoint_subset_union_all(shapes)
    return found if isinstance(found, (Polygon, MultiPolygon)) else NOWHERE


def sizes(shapes: Shapes) -> FloatArray:
    """Return the extent (n, 2) of each shape along x and along y."""
    frame = shapely.bounds(shapes)
    return np.asarray(frame[:, 2:] - frame[:, :2])
