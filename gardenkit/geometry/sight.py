"""How much of a view gets through walls and leaves: straight lines of sight through simple bodies, month by month."""

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray, Outline
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, Solid

# share of a line at each end that nothing hides: what one looks at or from does not hide itself. Numerical choice.
ENDS = 1e-6
Ring = tuple[float, float, float]  # x, y, radius
FLAT = 1e-9  # share of its size below which a body has no thickness. Numerical choice.


def hits(eyes: FloatArray, targets: FloatArray, solids: Sequence[Solid]) -> NDArray[np.bool_]:
    """Return for each line from ``eyes`` (n, 3) to ``targets`` (n, 3) and each body whether it passes through, (n, m).

    Touching a body's side does not count; a sheet without thickness counts when the line crosses it.
    """
    start = np.asarray(eyes, dtype=float).reshape(-1, 3)
    along = np.asarray(targets, dtype=float).reshape(-1, 3) - start
    found = np.zeros((len(start), len(solids)), dtype=bool)
    low, high = np.minimum(start, start + along)[:, :2], np.maximum(start, start + along)[:, :2]
    low, high = low.min(axis=0, initial=np.inf), high.max(axis=0, initial=-np.inf)
    boxes = _boxes(tuple(solids))
    for k in np.flatnonzero(((boxes[:, 0] <= high) & (boxes[:, 1] >= low)).all(axis=1)).tolist():
        enter, leave, flat = _stretch(start, along, solids[k])
        enough = leave >= enter if flat else leave - enter > FLAT
        found[:, k] = enough & (enter < 1.0 - ENDS) & (leave > ENDS)
    return found


def light_through(hit: NDArray[np.bool_], solids: Sequence[Solid]) -> FloatArray:
    """Return the share of each line of sight that gets through in each month, (n, 12), from the answer of ``hits``."""
    light = np.ones((len(hit), 12))
    for k, solid in enumerate(solids):
        light[hit[:, k]] *= np.asarray(solid.light)
    return light


def section(solid: Solid, height: float) -> tuple[Outline, tuple[Ring, ...]]:
    """Return a body's level cut at a height: a convex outline (two points for a sheet), or a circle (x, y, radius).

    Both are empty where the body does not stand at that height; its top does not count, its foot does.
    """
    if isinstance(solid, Hull):
        return _hull_section(solid, height), ()
    if isinstance(solid, Ellipsoid):
        off = (height - solid.centre[2]) / solid.half_height
        radius = solid.radius * math.sqrt(max(0.0, 1.0 - off * off))
        return (), ((solid.centre[0], solid.centre[1], radius),) if radius > 0.0 else ()
    if not solid.base <= height < solid.top:
        return (), ()
    share = 1.0 if isinstance(solid, Column) else (solid.top - height) / (solid.top - solid.base)
    return (), ((solid.at[0], solid.at[1], solid.radius * share),)


def faces(hull: Hull) -> tuple[FloatArray, bool]:
    """Return the hull as half-spaces, rows (nx, ny, nz, c) with n . p <= c inside, and whether it is a flat sheet."""
    points = np.asarray(hull.vertices, dtype=float)
    middle = points.mean(axis=0)
    _, sizes, axes = np.linalg.svd(points - middle, full_matrices=False)
    if len(sizes) < 3 or sizes[2] <= FLAT * sizes[0]:
        return _sheet(points, middle, axes), True
    from scipy.spatial import ConvexHull

    planes = np.unique(np.round(ConvexHull(points).equations, 12), axis=0)
    return np.column_stack((planes[:, :3], -planes[:, 3])), False


# ---- helpers


@lru_cache(maxsize=4)
def _boxes(solids: tuple[Solid, ...]) -> FloatArray:
    """Return the least and the greatest x and y of each body on the plan, (n, 2, 2): most are elsewhere than a line."""
    found = np.empty((len(solids), 2, 2))
    for k, solid in enumerate(solids):
        if isinstance(solid, Hull):
            found[k] = solid.vertices[:, :2].min(axis=0), solid.vertices[:, :2].max(axis=0)
        else:
            at = np.array(solid.centre[:2] if isinstance(solid, Ellipsoid) else solid.at)
            found[k] = at - solid.radius, at + solid.radius
    return found


def _stretch(start: FloatArray, along: FloatArray, solid: Solid) -> tuple[FloatArray, FloatArray, bool]:
    """Return where each line enters and leaves a body, as shares of its length, and whether the body is flat."""
    if isinstance(solid, Hull):
        planes, flat = faces(solid)
        return (*_clipped(start @ planes[:, :3].T - planes[:, 3], along @ planes[:, :3].T), flat)
    if isinstance(solid, Ellipsoid):
        scale = np.array([solid.radius, solid.radius, solid.half_height])
        return (*_roots((start - solid.centre) / scale, along / scale, np.ones(3), 1.0), False)
    foot = start - np.array([solid.at[0], solid.at[1], solid.base])
    tall = solid.top - solid.base
    slab = _clipped(np.column_stack((-foot[:, 2], foot[:, 2] - tall)), np.column_stack((-along[:, 2], along[:, 2])))
    if isinstance(solid, Cone):  # x2 + y2 <= (r/h)2 (top - z)2 below the tip
        foot = foot - np.array([0.0, 0.0, tall])
        side = _cone_roots(foot, along, solid.radius / tall, slab)
    else:
        side = _roots(foot, along, np.array([1.0, 1.0, 0.0]), solid.radius**2)
    return np.maximum(slab[0], side[0]), np.minimum(slab[1], side[1]), False


def _clipped(over: FloatArray, rise: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the stretch where over + t rise <= 0 for every column."""
    level = np.abs(rise) < 1e-300
    t = -over / np.where(level, 1.0, rise)
    outside = (level & (over > 0)).any(axis=1)
    enter = np.where(~level & (rise < 0), t, -np.inf).max(axis=1)
    leave = np.where(~level & (rise > 0), t, np.inf).min(axis=1)
    return np.where(outside, np.inf, enter), np.where(outside, -np.inf, leave)


def _roots(p: FloatArray, d: FloatArray, weights: FloatArray, right: float) -> tuple[FloatArray, FloatArray]:
    """Return the stretch where sum(weights (p + t d)2) <= right, weights not below 0."""
    a, b, c = (d * d) @ weights, (p * d) @ weights, (p * p) @ weights - right
    root = b * b - a * c
    moving = a > 1e-300
    safe = np.where(moving, a, 1.0)
    half = np.sqrt(np.maximum(root, 0.0)) / safe
    inside = ~moving & (c <= 0)
    enter = np.where(moving & (root > 0), -b / safe - half, np.where(inside, -np.inf, np.inf))
    leave = np.where(moving & (root > 0), -b / safe + half, np.where(inside, np.inf, -np.inf))
    return enter, leave


def _cone_roots(
    p: FloatArray, d: FloatArray, slope: float, slab: tuple[FloatArray, FloatArray]
) -> tuple[FloatArray, FloatArray]:
    """Return the stretch inside a cone with its tip at the origin, pointing up, within the slab between base and tip.

    Within the slab the cone is convex, so the stretch runs between the crossings that lie in the slab, or the slab's
    own ends where inside.
    """
    weights = np.array([1.0, 1.0, -(slope**2)])
    a, b, c = (d * d) @ weights, (p * d) @ weights, (p * p) @ weights
    root = b * b - a * c
    with np.errstate(divide="ignore", invalid="ignore"):
        half = np.sqrt(np.maximum(root, 0.0))
        crossings = np.column_stack(((-b - half) / a, (-b + half) / a, -c / (2.0 * b), *slab))
        at = p[:, None, :] + crossings[:, :, None] * d[:, None, :]
        gap = (at**2) @ weights
        size = (at**2) @ np.abs(weights)
    slack = 1e-9 * np.maximum(size, 1e-12)
    within = np.isfinite(gap) & (gap <= slack) & (at[:, :, 2] <= 1e-12)
    within &= (crossings >= slab[0][:, None] - 1e-12) & (crossings <= slab[1][:, None] + 1e-12)
    within[:, :3] &= (root >= 0)[:, None]
    enter = np.where(within, crossings, np.inf).min(axis=1)
    leave = np.where(within, crossings, -np.inf).max(axis=1)
    return enter, leave


def _sheet(points: FloatArray, middle: FloatArray, axes: FloatArray) -> FloatArray:
    """Return the half-spaces of a flat convex sheet: both sides of its plane and one across each edge."""
    flat = (points - middle) @ axes[:2].T
    ring = flat[_ring(flat)]
    edges = np.roll(ring, -1, axis=0) - ring
    outward = np.column_stack((edges[:, 1], -edges[:, 0]))
    normals = np.vstack((outward @ axes[:2], axes[2], -axes[2]))
    reach = np.concatenate(((outward * ring).sum(axis=1), [0.0, 0.0]))
    return np.column_stack((normals, reach + normals @ middle))


def _ring(flat: FloatArray) -> NDArray[np.int64]:
    """Return the numbers of the corners of the convex outline around points (n, 2), anticlockwise (Andrew's chain)."""
    order = np.lexsort((flat[:, 1], flat[:, 0]))
    halves: list[list[int]] = []
    for run in (order, order[::-1]):
        chain: list[int] = []
        for i in (int(k) for k in run):
            while len(chain) > 1 and _turn(flat[chain[-2]], flat[chain[-1]], flat[i]) <= 1e-15:
                chain.pop()
            chain.append(i)
        halves.append(chain[:-1])
    return np.array(halves[0] + halves[1], dtype=np.int64)


def _turn(a: FloatArray, b: FloatArray, c: FloatArray) -> float:
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def _hull_section(hull: Hull, height: float) -> Outline:
    pairs = hull.edge_pairs
    low, high = hull.vertices[pairs[:, 0]], hull.vertices[pairs[:, 1]]
    swap = low[:, 2] > high[:, 2]
    low, high = np.where(swap[:, None], high, low), np.where(swap[:, None], low, high)
    cut = (low[:, 2] <= height) & (high[:, 2] > height)
    if not cut.any():
        return ()
    share = (height - low[cut, 2]) / (high[cut, 2] - low[cut, 2])
    points = low[cut, :2] + share[:, None] * (high[cut, :2] - low[cut, :2])
    ring = points[_ring(points)]
    return tuple((float(x), float(y)) for x, y in ring)
