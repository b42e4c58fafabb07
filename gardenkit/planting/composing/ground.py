"""The ground of the beds as the eye has it, in small squares: how far from the walked edge, how far from the back."""

import math
from collections.abc import Sequence
from functools import cached_property
from typing import Any

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.composing.given import BedGround, SunLookup, Surroundings
from gardenkit.planting.setbacks import Glass, Service
from gardenkit.sources import HOUSE, Figure

Mask = NDArray[np.bool_]
Whole = NDArray[np.int64]
SQUARE = Figure(0.1, "m", f"{HOUSE}: finer than anything is set out")
MOST_SQUARES = 40_000  # over all beds; larger gardens take larger squares. Memory and speed. House value.
SMOOTH = 0.6  # m: the slope of the ground from front to back is looked at over this. House value.
HALF_FENCE = 0.03  # m. House value.
LOOKED_AT = 200  # squares of a bed at which the slope is worked out; the others take the nearest. Numerical choice.
LEAST_SQUARES = 6  # from which a slope is worked out. Numerical choice.
EAST = np.array([1.0, 0.0])
BY_THE_EYE = 0.15  # what a metre from gate, seat, window counts against one from the walk. House value.
EYE_REACH = 8.0  # m that it reaches. House value.
LEAST_DEPTH = 0.3  # m: the last strip before the back of a bed that has none. House value.


@attrs.frozen(eq=False, kw_only=True)
class Nearness:
    """Metres from every square (n,) to a building, to the line of the property, to each window and service; ``clear``
    where nothing is kept free.
    """

    walls: FloatArray
    boundary: FloatArray
    windows: tuple[tuple[Glass, FloatArray], ...]
    services: tuple[tuple[Service, FloatArray], ...]
    clear: Mask


@attrs.frozen(eq=False, kw_only=True)
class Ground:
    """The n squares of ``step`` metres that lie in beds: middles (n, 2), number of the bed, and for each square

    ``edge`` metres to the bed's edge, ``front`` to ground one walks on, ``back`` to the wall or fence behind, ``depth``
    0 front to 1 back, ``seen`` what stands before what (``front``, and a little by how far the nearest gate, seat or
    window is), ``along`` the unit vector along its front, ``hours`` of sun a day (None: not known), and ``later`` those
    under what stands when it has grown (None: as now); ``dry`` where trees drink, or the soil holds no water.
    """

    step: float
    points: FloatArray
    bed: Whole
    edge: FloatArray
    front: FloatArray
    back: FloatArray
    depth: FloatArray
    seen: FloatArray
    along: FloatArray
    hours: FloatArray | None
    near: Nearness
    later: FloatArray | None = None
    dry: Mask

    def __len__(self) -> int:
        return len(self.points)

    @property
    def square(self) -> float:
        """Area of one square, m2."""
        return self.step * self.step

    @property
    def across(self) -> FloatArray:
        """Metres (n,) that the bed of each square is across at its widest."""
        widest = np.zeros(int(self.bed.max()) + 1)
        np.maximum.at(widest, self.bed, 2 * self.edge)
        return np.asarray(widest[self.bed])

    @property
    def local_width(self) -> FloatArray:
        """Metres (n,) from the walk to the back at each square."""
        return np.asarray(self.front / np.maximum(self.depth, 1e-6))

    @cached_property
    def index(self) -> Any:
        """The squares in a tree that finds those near a place."""
        return tree_of(self.points)

    def near_to(self, at: Sequence[float] | FloatArray, radius: float) -> list[int]:
        """Return the squares within ``radius`` metres of a place."""
        return list(self.index.query_ball_point(at, radius)) if radius > 0 else []

    def within(self, at: Sequence[float] | FloatArray, radius: float) -> Mask:
        """Return (n,) which squares lie within ``radius`` metres of a place, or of any of several (m, 2)."""
        found = np.zeros(len(self), dtype=bool)
        for place in np.asarray(at, dtype=float).reshape(-1, 2):
            found[self.near_to(place, radius)] = True
        return found


def ground_of(beds: Sequence[BedGround], surroundings: Surroundings) -> Ground:
    """Return the squares of all beds. Raises GardenError when there is no bed with ground."""
    area = sum(plane.area(bed.region) for bed in beds)
    if area <= 0:
        raise GardenError("there is no bed with ground to plant; lay out the beds first")
    step = max(float(SQUARE), math.sqrt(area / MOST_SQUARES))
    parts = [_squares(bed, step) for bed in beds]
    points = np.vstack(parts)
    if not len(points):
        raise GardenError(f"the beds are narrower than {step:.2f} m everywhere; nothing can be planted in them")
    bed = np.repeat(np.arange(len(beds)), [len(part) for part in parts])
    edge = np.concatenate([_edge(part, b) for part, b in zip(parts, beds, strict=True)])
    front = _away(points, surroundings.walked, edge)
    fences = [plane.grown(plane.line(b), HALF_FENCE) for b in surroundings.backs]
    behind = plane.union([*(wall for _, wall in surroundings.around.walls), *fences])
    back = _away(points, behind, np.full(len(points), np.inf))
    return Ground(
        step=step,
        points=points,
        bed=bed,
        edge=edge,
        front=front,
        back=back,
        depth=_depth(bed, front, back),
        seen=front + BY_THE_EYE * _from_the_eye(points, surroundings.viewpoints),
        along=_along(points, bed, front),
        hours=_hours(points, surroundings.sun),
        near=_nearness(points, surroundings),
        dry=plane.inside(surroundings.dry, points) if not surroundings.dry.is_empty else np.zeros(len(points), bool),
    )


def lit(ground: Ground, sun: SunLookup | None) -> Ground:
    """Return the same ground in another sun (None: not known)."""
    return attrs.evolve(ground, hours=_hours(ground.points, sun))


def tree_of(points: FloatArray) -> Any:
    """Return places (n, 2) as a tree that finds neighbours quickly."""
    from scipy.spatial import cKDTree

    return cKDTree(points)


def blue_noise(points: FloatArray, apart: float, rng: np.random.Generator) -> list[int]:
    """Return places (row numbers) thrown at random, none nearer to another than ``apart``, until no more fit."""
    open_, found = np.ones(len(points), dtype=bool), list[int]()
    for i in rng.permutation(len(points)):
        if open_[i]:
            found.append(int(i))
            off = points - points[i]
            open_ &= off[:, 0] ** 2 + off[:, 1] ** 2 >= apart * apart
    return found


# ---- helpers


def _squares(bed: BedGround, step: float) -> FloatArray:
    if bed.region.is_empty:
        return np.empty((0, 2))
    left, bottom, right, top = plane.bounds(bed.region)
    across = np.arange(math.floor(left / step), math.ceil(right / step)) + 0.5  # one sheet for all beds
    up = np.arange(math.floor(bottom / step), math.ceil(top / step)) + 0.5
    x, y = np.meshgrid(across * step, up * step)
    found = np.column_stack((x.ravel(), y.ravel()))
    return found[plane.inside(bed.region, found)]


def _edge(points: FloatArray, bed: BedGround) -> FloatArray:
    if not len(points):
        return np.empty(0)
    return plane.point_distances(points, plane.difference(plane.grown(bed.region, 1.0), bed.region))


def _away(points: FloatArray, shape: plane.Shape, otherwise: FloatArray) -> FloatArray:
    return otherwise if shape.is_empty else plane.point_distances(points, shape)


def to_the_eye(points: FloatArray, viewpoints: Sequence[Point]) -> FloatArray:
    """Return metres from each of the points (n, 2) to the nearest place one looks from, infinite without any."""
    if not viewpoints:
        return np.full(len(points), np.inf)
    return np.asarray(tree_of(np.array(viewpoints)).query(points)[0])


def _from_the_eye(points: FloatArray, viewpoints: Sequence[Point]) -> FloatArray:
    far = to_the_eye(points, viewpoints)
    return np.where(np.isinf(far), 0.0, np.minimum(far, EYE_REACH))


def _depth(bed: Whole, front: FloatArray, back: FloatArray) -> FloatArray:
    """Return 0 at the walked edge to 1 at the back; where nothing closes a bed, its deepest place is the back."""
    found = np.zeros(len(bed))
    for number in np.unique(bed):
        here = bed == number
        rest = np.minimum(back[here], front[here].max() - front[here] + LEAST_DEPTH)
        found[here] = front[here] / (front[here] + np.maximum(rest, 1e-6))
    return found


def _along(points: FloatArray, bed: Whole, front: FloatArray) -> FloatArray:
    """Return the direction along the front at each square: across the way in which one goes away from the walk."""
    found = np.tile(EAST, (len(points), 1))
    for number in np.unique(bed):
        here = np.flatnonzero(bed == number)
        mine, far = points[here], front[here]
        tree = tree_of(mine)
        some = np.arange(0, len(here), max(1, len(here) // LOOKED_AT))
        turned = _across_slope(mine, far, tree.query_ball_point(mine[some], SMOOTH))
        found[here] = turned[tree_of(mine[some]).query(mine)[1]]
    return found


def _across_slope(points: FloatArray, front: FloatArray, groups: Sequence[Sequence[int]]) -> FloatArray:
    """Return for each group of squares the unit vector across the steepest rise of ``front`` over it, by least squares,
    (groups, 2); east where it lies level.
    """
    many = np.array([len(group) for group in groups])
    row, begins = np.concatenate(groups), np.cumsum(many) - many

    def over(values: FloatArray) -> FloatArray:
        return np.add.reduceat(values, begins)

    x, y = (points[row, k] - np.repeat(over(points[row, k]) / many, many) for k in (0, 1))
    xx, yy, xy, xf, yf = (over(one) for one in (x * x, y * y, x * y, x * front[row], y * front[row]))
    det = xx * yy - xy * xy
    known = (many >= LEAST_SQUARES) & (det > 1e-9 * np.maximum(xx, yy) ** 2)
    det = np.where(known, det, 1.0)
    slope = np.column_stack(((yy * xf - xy * yf) / det, (xx * yf - xy * xf) / det))
    long = np.hypot(*slope.T)
    steep = known & (long > 1e-3)
    return np.where(
        steep[:, None], np.column_stack((-slope[:, 1], slope[:, 0])) / np.where(steep, long, 1)[:, None], EAST
    )


def _nearness(points: FloatArray, surroundings: Surroundings) -> Nearness:
    around, clear = surroundings.around, np.ones(len(points), dtype=bool)
    for _, region, away in around.keep_clear:
        clear &= plane.point_distances(points, region) >= away
    services = [(s, plane.line(s.line) if len(s.line) > 1 else plane.point(s.line[0])) for s in around.services]
    walls = plane.union(wall for _, wall in around.walls)
    return Nearness(
        walls=_away(points, walls, np.full(len(points), np.inf)),
        boundary=plane.point_distances(points, plane.line(surroundings.boundary))
        if surroundings.boundary
        else np.full(len(points), np.inf),
        windows=tuple((glass, plane.point_distances(points, plane.line(glass.line))) for glass in around.windows),
        services=tuple((service, plane.point_distances(points, shape)) for service, shape in services),
        clear=clear,
    )


def _hours(points: FloatArray, sun: SunLookup | None) -> FloatArray | None:
    if sun is None:
        return None
    hours = np.asarray(sun(points), dtype=float)
    if hours.shape not in ((len(points),), (len(points), 1), (len(points), 4)) or not np.isfinite(hours).all():
        raise GardenError(
            f"the sun hours came as a table of {hours.shape} for {len(points)} places; give one number a place, or four"
        )
    by_season = hours.reshape(len(points), -1)
    return np.asarray(by_season[:, :2].mean(axis=1))
