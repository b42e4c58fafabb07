"""What lies near what, asked of many shapes at once: at a cost that grows with them, and not with their pairs."""

from collections.abc import Callable, Sequence
from functools import partial

import numpy as np
import shapely
from numpy.typing import NDArray

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point, Shape

Pairs = NDArray[np.int64]


def near_distances(points: FloatArray, other: Shape, reach: float) -> FloatArray:
    """Return the distance of each row of ``points`` (n, 2) to ``other`` in metres, infinite for those out of the box
    that is ``reach`` metres wider than it on every side: they are further than that, and are not measured.
    """
    found = np.full(len(points), np.inf)
    left, low, right, high = plane.bounds(other)
    x, y = points.T
    near = (x >= left - reach) & (x <= right + reach) & (y >= low - reach) & (y <= high + reach)
    found[near] = plane.point_distances(points[near], other)
    return found


def near_pairs(places: FloatArray, reach: float) -> Pairs:
    """Return the numbers i < j of each two of the places (n, 2) that are at most ``reach`` metres apart, (k, 2)."""
    points = np.atleast_1d(np.asarray(shapely.points(places), dtype=object))
    i, j = shapely.STRtree(points).query(points, predicate="dwithin", distance=reach)
    pairs = np.column_stack((i, j))[i < j]
    return np.asarray(pairs[np.lexsort((pairs[:, 1], pairs[:, 0]))], dtype=np.int64)


def which_meet(shapes: Sequence[Shape], others: Sequence[Shape]) -> tuple[tuple[int, ...], ...]:
    """Return for each of ``shapes`` the numbers of the ``others`` that it shares a point with, edges included."""
    found: tuple[list[int], ...] = tuple([] for _ in shapes)
    if shapes and others:
        for one, other in shapely.STRtree(others).query(shapes, predicate="intersects").T.tolist():
            found[one].append(other)
    return tuple(tuple(sorted(met)) for met in found)


def finder(shapes: Sequence[Shape]) -> Callable[[Sequence[Point]], list[int | None]]:
    """Return what tells of each of some points the first of the shapes that holds it, its edge included: its number,
    None where none does.
    """
    return partial(_first, shapely.STRtree(shapes))


def _first(tree: shapely.STRtree, points: Sequence[Point]) -> list[int | None]:
    found: list[int | None] = [None] * len(points)
    if found and len(tree):
        spots = shapely.points(np.asarray(points, dtype=float))
        for one, shape in sorted(tree.query(spots, predicate="intersects").T.tolist(), reverse=True):
            found[one] = shape
    return found
