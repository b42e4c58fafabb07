"""The lie of the land: spot heights joined into a surface, its contours, and the fall along a line or over a bed."""

import math
from collections.abc import Iterable
from functools import cached_property

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Line, Point, Region
from gardenkit.site.heights import SpotHeight

SAME_PLACE = 0.01  # m: two spot heights nearer than this are one place measured twice. House value.
SAME_HEIGHT = 0.02  # m: and may differ by this much before they contradict each other. House value.
MOST_CONTOURS = 500  # levels drawn at most; a finer interval is a typing slip. House value.
AT_ONCE = 4096  # places looked up in one go, which bounds the memory
SAMPLES = 400  # points sampled over a bed to find its slope. House value.

IntArray = NDArray[np.int64]


@attrs.frozen(kw_only=True, eq=False)
class Surface:
    """Ground through measured heights: triangles between the points, outside them the best plane's slope carried on.

    ``points`` (n, 2) and ``heights`` (n,) in metres, ``triangles`` (m, 3) indices (none when points stand in a line),
    ``hull`` the outer points in order, ``plane`` (dz/dx, dz/dy, height at x = y = 0) fitted to all points.
    """

    points: FloatArray
    heights: FloatArray
    triangles: IntArray
    hull: IntArray
    plane: tuple[float, float, float]

    def height(self, at: Point) -> float:
        """Return the ground height in metres at one plan point."""
        return float(self.at(np.array([at], dtype=float))[0])

    def at(self, places: FloatArray) -> FloatArray:
        """Return heights (k,) at places (k, 2): on the triangles inside, along the fitted slope outside."""
        return self._at(places)[0]

    def guessed(self, places: FloatArray) -> NDArray[np.bool_]:
        """Return for each place (k, 2) whether it lies outside the measured points, so its height is carried on."""
        return self._at(places)[1]

    def _at(self, places: FloatArray) -> tuple[FloatArray, NDArray[np.bool_]]:
        gx, gy, level = self.plane
        flat = gx * places[:, 0] + gy * places[:, 1] + level
        if not len(self.triangles):
            return flat, np.linalg.norm(places[:, None, :] - self.points[None, :, :], axis=2).min(axis=1) > SAME_PLACE
        result, outside = self._on_triangles(places)
        if outside.any():
            nearest, on_edge = self._nearest_edge(places[outside])
            step = places[outside] - nearest
            result[outside] = on_edge + step[:, 0] * gx + step[:, 1] * gy
            outside[outside] = np.linalg.norm(step, axis=1) > 1e-6
        return result, outside

    def _on_triangles(self, places: FloatArray) -> tuple[FloatArray, NDArray[np.bool_]]:
        """Return heights (k,) by the first triangle each place lies on, and which places lie on none."""
        sides, slopes = self._flats
        result, outside = np.full(len(places), np.nan), np.ones(len(places), dtype=bool)
        for first in range(0, len(places), AT_ONCE):
            x, y = places[first : first + AT_ONCE].T
            share = sides[:, :, 0, None] * x + sides[:, :, 1, None] * y + sides[:, :, 2, None]  # (m, 3, k)
            holds = share.min(axis=1) >= -1e-9
            pick = holds.argmax(axis=0)
            within = holds.any(axis=0)
            flat = slopes[pick]
            part = slice(first, first + len(x))
            result[part][within] = (flat[:, 0] * x + flat[:, 1] * y + flat[:, 2])[within]
            outside[part] = ~within
        return result, outside

    @cached_property
    def _flats(self) -> tuple[FloatArray, FloatArray]:
        """For each triangle how the shares of its corners (m, 3, 3) and its height (m, 3) go with (x, y, 1)."""
        corners = np.concatenate((self.points[self.triangles], np.ones((len(self.triangles), 3, 1))), axis=2)
        flat = np.abs(np.linalg.det(corners)) < 1e-14
        corners[flat] = np.eye(3)
        sides = np.linalg.inv(corners).transpose(0, 2, 1)
        sides[flat] = (0.0, 0.0, -1.0)  # a triangle without ground holds no place
        return np.asarray(sides), np.asarray(np.einsum("mcx,mc->mx", sides, self.heights[self.triangles]))

    def _nearest_edge(self, places: FloatArray) -> tuple[FloatArray, FloatArray]:
        a, b = self.points[self.hull], self.points[np.roll(self.hull, -1)]
        za, zb = self.heights[self.hull], self.heights[np.roll(self.hull, -1)]
        edge = b - a
        share = ((places[:, None, :] - a) * edge).sum(axis=2) / (edge**2).sum(axis=1)
        share = np.clip(share, 0.0, 1.0)
        spots = a + share[:, :, None] * edge
        pick = np.linalg.norm(places[:, None, :] - spots, axis=2).argmin(axis=1)
        rows = np.arange(len(places))
        heights = (za + share * (zb - za))[rows, pick]
        return np.asarray(spots[rows, pick]), np.asarray(heights)


@attrs.frozen(kw_only=True)
class Contour:
    """One line of equal ``height`` in metres; closed lines repeat their first point."""

    height: float
    line: Line


@attrs.frozen(kw_only=True)
class Slope:
    """The mean slope of a piece of ground: percent, degrees, and the way water runs, degrees clockwise from plan y.

    ``low`` and ``high`` are the lowest and highest sampled heights in metres; ``guessed`` is the share of the ground
    that lies outside the measured points, 0 to 1.
    """

    percent: float
    degrees: float
    downhill: float
    low: float
    high: float
    guessed: float


def surface(heights: Iterable[SpotHeight]) -> Surface:
    """Return the surface through spot heights: a Delaunay triangle net, or a plane when too few for triangles.

    One height gives level ground, two or points in a line give the least sloping plane through them.
    Raises GardenError without heights, or when one place has two different ones.

    >>> spots = [SpotHeight(at=(0.0, 0.0), height=0.0), SpotHeight(at=(10.0, 0.0), height=0.5)]
    >>> round(surface(spots).height((4.0, 3.0)), 9)
    0.2
    """
    spots = distinct(heights)
    if not spots:
        raise GardenError("there are no ground heights yet; measure at least three, such as drops from a level string")
    return through(np.array([s.at for s in spots], dtype=float), np.array([s.height for s in spots], dtype=float))


def through(points: FloatArray, measured: FloatArray) -> Surface:
    """Return the surface through points (n, 2), no two in one place, with their ``measured`` heights (n,)."""
    middle = points.mean(axis=0)
    (gx, gy), *_ = np.linalg.lstsq(points - middle, measured - measured.mean(), rcond=1e-9)
    level = float(measured.mean() - gx * middle[0] - gy * middle[1])
    triangles, hull = _triangles(points)
    return Surface(points=points, heights=measured, triangles=triangles, hull=hull, plane=(float(gx), float(gy), level))


def contours(ground: Surface, interval: float, *, base: float = 0.0) -> tuple[Contour, ...]:
    """Return contour lines every ``interval`` metres (counted from ``base``) inside the measured points, lowest first.

    Raises GardenError for an interval that is not above 0, or so fine that it gives more than 500 levels.
    """
    if not (math.isfinite(interval) and interval > 0):
        raise GardenError(f"the contour interval is {interval:g} m; give a height above 0, such as 0.10 m")
    if not len(ground.triangles):
        return ()
    low, high = float(ground.heights.min()), float(ground.heights.max())
    first, last = math.ceil((low - base) / interval - 1e-9), math.floor((high - base) / interval + 1e-9)
    if last - first >= MOST_CONTOURS:
        raise GardenError(
            f"contours every {interval:g} m give {last - first + 1} levels; give {(high - low) / 50:.2g} m or more"
        )
    found: list[Contour] = []
    for step in range(first, last + 1):
        level = base + step * interval
        found += [Contour(height=round(level, 9), line=line) for line in _level_lines(ground, level)]
    return tuple(found)


def slope_of(ground: Surface, bed: Region) -> Slope:
    """Return the mean slope of a region from a plane fitted to heights sampled evenly over it.

    Raises GardenError for a region without ground.
    """
    places = _sampled(bed)
    heights = ground.at(places)
    middle = places.mean(axis=0)
    (gx, gy), *_ = np.linalg.lstsq(places - middle, heights - heights.mean(), rcond=1e-9)
    rise = math.hypot(float(gx), float(gy))
    return Slope(
        percent=100 * rise,
        degrees=math.degrees(math.atan(rise)),
        downhill=math.degrees(math.atan2(-float(gx), -float(gy))) % 360 if rise > 1e-12 else 0.0,
        low=float(heights.min()),
        high=float(heights.max()),
        guessed=float(ground.guessed(places).mean()),
    )


def _sampled(bed: Region) -> FloatArray:
    size = plane.area(bed)
    if size <= 0:
        raise GardenError("a slope needs a bed with some ground; draw its outline first")
    low_x, low_y, high_x, high_y = plane.bounds(bed)
    step = math.sqrt(size / SAMPLES)
    xs, ys = np.arange(low_x + step / 2, high_x, step), np.arange(low_y + step / 2, high_y, step)
    grid = np.array(np.meshgrid(xs, ys)).reshape(2, -1).T
    kept = grid[plane.inside(bed, grid)] if len(grid) else grid
    corners = np.array([p for ring in plane.rings(bed) for p in ring], dtype=float)
    return np.asarray(kept if len(kept) >= 3 else corners, dtype=float)


def distinct(spots: Iterable[SpotHeight]) -> list[SpotHeight]:
    """Return the heights, one a place. Raises GardenError when one place has two different ones."""
    kept: list[SpotHeight] = []
    for spot in spots:
        if not all(math.isfinite(v) for v in (*spot.at, spot.height)):
            raise GardenError(f'the height "{spot.name}" holds a value that is not a number; measure it again')
        twin = next((k for k in kept if math.dist(k.at, spot.at) < SAME_PLACE), None)
        if twin is None:
            kept.append(spot)
        elif abs(twin.height - spot.height) > SAME_HEIGHT:
            raise GardenError(
                f"the place ({spot.at[0]:.2f}, {spot.at[1]:.2f}) m has two heights, {twin.height:g} m and "
                f"{spot.height:g} m; keep the right one"
            )
    return kept


def _triangles(points: FloatArray) -> tuple[IntArray, IntArray]:
    none = np.zeros((0, 3), dtype=np.int64), np.zeros(0, dtype=np.int64)
    if len(points) < 3:
        return none
    from scipy.spatial import ConvexHull, Delaunay, QhullError

    centred = points - points.mean(axis=0)
    if np.linalg.svd(centred, compute_uv=False)[-1] < SAME_PLACE:  # all in a line
        return none
    try:
        net, hull = Delaunay(centred), ConvexHull(centred)
    except QhullError:
        return none
    return np.asarray(net.simplices, dtype=np.int64), np.asarray(hull.vertices, dtype=np.int64)


def _level_lines(ground: Surface, level: float) -> list[Line]:
    """Return the lines where the triangles stand at a level; corners exactly on it count as just above."""
    above = ground.heights >= level
    if above.all() and bool((ground.heights == level).any()):
        above = ground.heights > level  # the lowest level touches from below
    ends: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for corners in ground.triangles:
        cut = [
            (min(i, j), max(i, j))
            for i, j in ((corners[0], corners[1]), (corners[1], corners[2]), (corners[2], corners[0]))
            if above[i] != above[j]
        ]
        if len(cut) == 2:
            ends.setdefault(cut[0], []).append(cut[1])
            ends.setdefault(cut[1], []).append(cut[0])

    def spot(edge: tuple[int, int]) -> Point:
        i, j = edge
        share = (level - ground.heights[i]) / (ground.heights[j] - ground.heights[i])
        x, y = ground.points[i] + share * (ground.points[j] - ground.points[i])
        return float(x), float(y)

    lines = []
    for start in sorted(ends, key=lambda e: len(ends[e])):  # open lines first, from their ends
        if start not in ends:
            continue
        way = _walk(start, ends)
        if len(way) > 1:
            line = [spot(edge) for edge in way]
            tidy = [p for i, p in enumerate(line) if i == 0 or math.dist(p, line[i - 1]) > 1e-9]
            if len(tidy) > 1:
                lines.append(tuple(tidy))
    return lines


def _walk(start: tuple[int, int], ends: dict[tuple[int, int], list[tuple[int, int]]]) -> list[tuple[int, int]]:
    way, here = [start], start
    closed = len(ends[start]) == 2
    while ends.get(here):
        following = ends[here].pop()
        ends[following].remove(here)
        if not ends[here]:
            del ends[here]
        way.append(following)
        here = following
        if closed and here == start:
            break
    for edge in (start, here):
        if edge in ends and not ends[edge]:
            del ends[edge]
    return way
