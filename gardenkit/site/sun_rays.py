"""Light at single spots: follows the ray from each spot to the sun and asks every body how much it lets through."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, Solid

AT_ONCE = 200_000  # rays followed together, to bound memory. House value.
FLAT = 1e-9  # m: a body thinner than this is a sheet


def light_at(points: FloatArray, solids: Sequence[Solid], towards: FloatArray, *, month: int) -> FloatArray:
    """Return the share of direct light that reaches points (n, 3) from the directions ``towards`` (m, 3), (n, m), 0 to
    1.

    ``towards`` are unit vectors to the sun on the plan; ``month`` 1 to 12 chooses what each body lets through.
    """
    light = np.ones((len(points), len(towards)))
    for solid in solids:
        through = solid.light[month - 1]
        if through < 1.0:
            light[hidden(points, solid, towards)] *= through
    return light


def hidden(points: FloatArray, solid: Solid, towards: FloatArray) -> NDArray[np.bool_]:
    """Return whether the ray from each point (n, 3) to each direction (m, 3) meets the body, (n, m)."""
    meets = np.zeros((len(points), len(towards)), dtype=bool)
    chunk = max(1, AT_ONCE // max(1, len(towards)))
    for start in range(0, len(points), chunk):
        some = points[start : start + chunk, None, :]
        if isinstance(solid, Ellipsoid):
            found = _meets_round(some, solid, towards)
        elif isinstance(solid, Hull):
            found = _meets_hull(some, solid, towards)
        else:
            found = _meets_shaft(some, solid, towards)
        meets[start : start + chunk] = found
    return meets


def _roots(a: FloatArray, b: FloatArray, c: FloatArray) -> tuple[FloatArray, FloatArray, NDArray[np.bool_]]:
    """Return where a t^2 + 2 b t + c is 0 (a not 0) and whether it is anywhere."""
    inside = b * b - a * c
    real = inside >= 0
    root = np.sqrt(np.where(real, inside, 0.0))
    low, high = (-b - root) / a, (-b + root) / a
    return np.minimum(low, high), np.maximum(low, high), real


def _meets_round(points: FloatArray, solid: Ellipsoid, towards: FloatArray) -> NDArray[np.bool_]:
    size = np.array([solid.radius, solid.radius, solid.half_height])
    away = (points - np.asarray(solid.centre)) / size
    way = (towards / size)[None]
    _, leave, real = _roots((way * way).sum(-1), (away * way).sum(-1), (away * away).sum(-1) - 1.0)
    return np.asarray(real & (leave >= 0))


def _meets_shaft(points: FloatArray, solid: Column | Cone, towards: FloatArray) -> NDArray[np.bool_]:
    narrowing = solid.radius / (solid.top - solid.base) if isinstance(solid, Cone) else 0.0
    off = points[..., :2] - np.asarray(solid.at)
    up = points[..., 2] - solid.base
    radius, less = solid.radius - narrowing * up, narrowing * towards[None, :, 2]
    a = (towards[None, :, :2] ** 2).sum(-1) - less**2
    a = np.where(np.abs(a) < 1e-12, 1e-12, a)
    b = (off * towards[None, :, :2]).sum(-1) + radius * less
    enter, leave, real = _roots(a, b, (off**2).sum(-1) - radius**2)
    begin, end = (solid.base - points[..., 2]) / towards[:, 2], (solid.top - points[..., 2]) / towards[:, 2]
    begin = np.maximum(begin, 0.0)
    between = np.maximum(enter, begin) <= np.minimum(leave, end)
    steep = (begin <= np.minimum(enter, end)) | (np.maximum(leave, begin) <= end)  # ray steeper than the cone's side
    return np.asarray((begin <= end) & np.where(a > 0, real & between, ~real | steep))


def _meets_hull(points: FloatArray, solid: Hull, towards: FloatArray) -> NDArray[np.bool_]:
    normals, offsets = faces(solid)
    begin = np.zeros(np.broadcast_shapes(points.shape[:-1], (1, len(towards))))
    end = np.full_like(begin, np.inf)
    for normal, offset in zip(normals, offsets, strict=True):
        speed, gap = (towards @ normal)[None], offset - points @ normal
        along = np.abs(speed) < 1e-12
        at = gap / np.where(along, 1.0, speed)
        begin = np.where(~along & (speed < 0), np.maximum(begin, at), begin)
        end = np.where(~along & (speed > 0), np.minimum(end, at), end)
        end = np.where(along & (gap < 0), -1.0, end)
    return np.asarray(begin <= end)


def faces(solid: Hull) -> tuple[FloatArray, FloatArray]:
    """Return outward normals (n, 3) and offsets (n,) of a hull's faces: inside where ``normal @ p <= offset``; a sheet
    has two sides.
    """
    spots = solid.vertices
    _, stretch, ways = np.linalg.svd(spots - spots.mean(axis=0))
    if stretch[2] < FLAT:
        planes = np.array(_sheet(spots, ways[2]))
    else:
        from scipy.spatial import ConvexHull

        planes = ConvexHull(spots).equations * (1.0, 1.0, 1.0, -1.0)
    planes = np.unique(np.round(planes, 9), axis=0)
    return planes[:, :3], planes[:, 3]


def _sheet(spots: FloatArray, normal: FloatArray) -> list[tuple[float, ...]]:
    """Return both sides of a flat convex sheet and a plane through each of its edges."""
    found = [(*normal, float(normal @ spots[0])), (*-normal, float(-normal @ spots[0]))]
    for a in spots:
        for b in spots:
            side = np.cross(b - a, normal)
            size = float(np.linalg.norm(side))
            if size > 1e-12 and ((spots - a) @ side).max() < FLAT * size:
                found.append((*(side / size), float(side @ a / size)))
    return found
