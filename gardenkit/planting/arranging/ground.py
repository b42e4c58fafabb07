"""The ground of the beds cut into small squares: how far each is from edge, path and wall, and what may stand there."""

import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Line, Point, Region
from gardenkit.planting.arranging.kinds import Kind, Settings
from gardenkit.planting.balance import REACH, beside
from gardenkit.planting.composing.given import BedGround, SunLookup, Surroundings
from gardenkit.planting.setbacks import (
    BEFORE_WINDOW,
    SERVICE_DISTANCES,
    TREE_PAVING,
    Around,
    Glass,
    path_distance,
    tallest_by_wires,
    tree_distance,
    wall_distance,
)
from gardenkit.sources import HOUSE, Figure

Mask = NDArray[np.bool_]
Whole = NDArray[np.int64]
FINEST = Figure(0.05, "m", f"{HOUSE}: no plant is set out truer than this")
MOST_CELLS = 60_000  # squares over all beds; larger gardens take larger squares. Memory and speed. House value.
PATH_SIDE = 0.6  # how much of front and back the path decides, the rest viewpoints. House value.
DRIFT_ANGLE = Figure(25.0, "degrees", f"{HOUSE}; that drifts lie at a slant to the edge is common practice")
CHUNK = 4096  # places looked at together: memory


@attrs.frozen(eq=False, kw_only=True)
class Cells:
    """The squares that lie in a bed, n of them: middles, bed number, metres to the bed's edge and to a path, ``depth``
    0 front to 1 back, the slant of a drift (unit vector), nearest way (-1: none in reach) and its side (1 left, -1
    right), sun hours (n, s).

    ``index`` (rows, columns) holds the number of the square at each place of the whole sheet, -1 outside beds.
    """

    left: float
    bottom: float
    size: float
    index: Whole
    points: FloatArray
    bed: Whole
    edge: FloatArray
    path: FloatArray
    depth: FloatArray
    axis: FloatArray
    way: Whole
    side: FloatArray
    sun: FloatArray | None

    def __len__(self) -> int:
        return len(self.points)

    def near(self, at: FloatArray, radius: float) -> Whole:
        """Return the squares whose middles lie less than ``radius`` from a place."""
        rows, columns = self.index.shape
        left, right = self._span(at[0] - self.left, radius, columns)
        low, high = self._span(at[1] - self.bottom, radius, rows)
        found = self.index[low:high, left:right].ravel()
        found = found[found >= 0]
        off = self.points[found] - at
        return np.asarray(found[off[:, 0] ** 2 + off[:, 1] ** 2 < radius * radius])

    def nearest(self, at: FloatArray) -> int:
        """Return the square nearest to a place."""
        off = self.points - at
        return int((off**2).sum(axis=1).argmin())

    def _span(self, middle: float, radius: float, most: int) -> tuple[int, int]:
        first = math.floor((middle - radius) / self.size)
        return max(0, first), min(most, math.ceil((middle + radius) / self.size) + 1)


@attrs.frozen(eq=False, kw_only=True)
class Nearness:
    """Metres from every square (n,) to each wall, window, clear space and service."""

    walls: tuple[FloatArray, ...] = ()
    windows: tuple[tuple[Glass, FloatArray], ...] = ()
    clear: tuple[tuple[float, FloatArray], ...] = ()
    services: tuple[tuple[str, FloatArray], ...] = ()


def cells_of(beds: Sequence[BedGround], surroundings: Surroundings, *, size: float | None = None) -> Cells:
    """Return the squares of all beds; ``size`` metres, without it 0.05 m or what keeps them below 60,000.

    Raises GardenError when there is no bed with ground.
    """
    area = sum(plane.area(bed.region) for bed in beds)
    if area <= 0:
        raise GardenError("there is no bed with ground to plant; lay out the beds first")
    step = size or max(float(FINEST), math.sqrt(area / MOST_CELLS))
    boxes = np.array([plane.bounds(bed.region) for bed in beds if not bed.region.is_empty])
    left, bottom = boxes[:, :2].min(axis=0)
    columns, rows = (int(n) for n in np.ceil((boxes[:, 2:].max(axis=0) - boxes[:, :2].min(axis=0)) / step) + 1)
    index = np.full((rows, columns), -1, dtype=np.int64)
    points: list[FloatArray] = []
    owner: list[Whole] = []
    edge: list[FloatArray] = []
    for number, bed in enumerate(beds):
        spots, places = _inside(bed.region, left, bottom, step)
        fresh = index[places[:, 1], places[:, 0]] < 0
        spots, places = spots[fresh], places[fresh]
        index[places[:, 1], places[:, 0]] = sum(len(p) for p in points) + np.arange(len(places))
        points.append(spots)
        owner.append(np.full(len(spots), number))
        edge.append(plane.point_distances(spots, plane.difference(plane.grown(bed.region, 1.0), bed.region)))
    at = np.vstack(points)
    if not len(at):
        raise GardenError(f"the beds are narrower than {step:.2f} m everywhere; nothing can be planted in them")
    bed_of, to_edge = np.concatenate(owner), np.concatenate(edge)
    paths = plane.union(region for _, region in surroundings.around.paths)
    to_path = np.full(len(at), np.inf) if paths.is_empty else plane.point_distances(at, paths)
    depth = _depth(at, bed_of, to_edge, to_path, surroundings.viewpoints)
    way, side = _sides(at, surroundings.ways)
    return Cells(
        left=float(left),
        bottom=float(bottom),
        size=step,
        index=index,
        points=at,
        bed=bed_of,
        edge=to_edge,
        path=to_path,
        depth=depth,
        axis=_slant(index, depth, step),
        way=way,
        side=side,
        sun=_sun(at, surroundings.sun),
    )


def nearness(cells: Cells, around: Around) -> Nearness:
    """Return how near every square lies to each thing that plants keep away from."""

    def to(shape: plane.Shape) -> FloatArray:
        return plane.point_distances(cells.points, shape)

    lines = [plane.line(s.line) if len(s.line) > 1 else plane.point(s.line[0]) for s in around.services]
    return Nearness(
        walls=tuple(to(wall) for _, wall in around.walls),
        windows=tuple((glass, to(plane.line(glass.line))) for glass in around.windows),
        clear=tuple((clear, to(region)) for _, region, clear in around.keep_clear),
        services=tuple((service.kind, to(line)) for service, line in zip(around.services, lines, strict=True)),
    )


def may_stand(kind: Kind, cells: Cells, near: Nearness, settings: Settings) -> Mask:
    """Return for each square whether a plant of the kind may stand there, by its own size alone.

    Half its width (herbs: half its spacing) from the bed's edge; a tree's crown may hang over the edge by
    ``settings.overhang`` of its radius; clear of walls, windows, paths and services as in ``setbacks``.
    """
    ok = cells.edge >= kind.edge_need(settings)
    if kind.species is None:
        return ok
    if kind.role == "bush":
        ok &= cells.path >= path_distance(kind.species)
    if kind.is_tree:
        ok &= cells.path >= (float(TREE_PAVING) if settings.tree_clear_of_paving else 0.0)
    if kind.role != "wall":
        for away in near.walls:
            ok &= away >= _wall_need(kind, settings)
        for glass, away in near.windows:
            if kind.height > glass.sill and kind.base < glass.head:
                ok &= away >= kind.spread / 2 + BEFORE_WINDOW
    for clear, away in near.clear:
        ok &= away >= clear
    return ok & _clear_of_services(kind, cells, near) if kind.is_tree else ok


def sun_of(kind: Kind, cells: Cells) -> FloatArray | None:
    """Return the hours of sun a day that matter to a kind: spring for bulbs, else spring and summer, if known."""
    if cells.sun is None:
        return None
    if cells.sun.shape[1] == 1:
        return cells.sun[:, 0]
    return cells.sun[:, 0] if kind.role == "bulb" else cells.sun[:, :2].mean(axis=1)


# ---- helpers


def _wall_need(kind: Kind, settings: Settings) -> float:
    if kind.species is None:
        return 0.0
    need = kind.spread / 2
    if kind.role == "bush":
        need = wall_distance(kind.species, rule=settings.wall_rule)
    if kind.is_tree:
        need = max(need, tree_distance(kind.height, kind.spread, rule=settings.tree_rule))
    return need


def _clear_of_services(kind: Kind, cells: Cells, near: Nearness) -> Mask:
    ok = np.ones(len(cells), dtype=bool)
    for sort, away in near.services:
        if sort == "overhead line":
            ok &= np.array([kind.height <= tallest_by_wires(float(d)) for d in away])
        else:
            ok &= away >= SERVICE_DISTANCES.get(sort, max(SERVICE_DISTANCES.values()))
    return ok


def _inside(region: Region, left: float, bottom: float, step: float) -> tuple[FloatArray, Whole]:
    """Return the middles of the squares inside a region and their (column, row)."""
    low_x, low_y, high_x, high_y = plane.bounds(region)
    columns = np.arange(int((low_x - left) / step), int((high_x - left) / step) + 1)
    rows = np.arange(int((low_y - bottom) / step), int((high_y - bottom) / step) + 1)
    places = np.column_stack([grid.ravel() for grid in np.meshgrid(columns, rows)])
    spots = np.array([left, bottom]) + (places + 0.5) * step
    kept = plane.inside(region, spots)
    return spots[kept], places[kept]


def _depth(at: FloatArray, bed: Whole, edge: FloatArray, path: FloatArray, viewpoints: Sequence[Point]) -> FloatArray:
    """Return 0 at the front of each bed to 1 at its back, as seen from the path and the viewpoints.

    A bed out of reach of any path or view is an island: its middle is the back.
    """
    found = np.zeros(len(at))
    for number in np.unique(bed):
        here = bed == number
        by_path = path[here] if path[here].min() <= REACH else edge[here]
        sides, shares = [_stretched(by_path)], [PATH_SIDE if viewpoints else 1.0]
        for eye in viewpoints:
            sides.append(_stretched(np.hypot(*(at[here] - np.asarray(eye)).T)))
            shares.append((1 - PATH_SIDE) / len(viewpoints))
        found[here] = sum(s * share for s, share in zip(sides, shares, strict=True))
    return found


def _stretched(values: FloatArray) -> FloatArray:
    low, high = float(values.min()), float(values.max())
    return np.asarray((values - low) / max(high - low, 0.5))  # a bed under 0.5 m deep has hardly a back


def _slant(index: Whole, depth: FloatArray, step: float) -> FloatArray:
    """Return the direction in which a drift lies at each square: along the front, turned by the drift angle."""
    sheet = np.full(index.shape, np.nan)
    sheet[index >= 0] = depth[index[index >= 0]]
    rise = np.stack([_slope(sheet, axis) for axis in (1, 0)], axis=-1)[index >= 0] / step
    order = index[index >= 0]
    up = np.empty_like(rise)
    up[order] = rise
    long = np.hypot(up[:, 0], up[:, 1])
    flat = long < 1e-9
    up[flat], long[flat] = (0.0, 1.0), 1.0
    along = np.column_stack((-up[:, 1], up[:, 0])) / long[:, None]
    c, s = math.cos(math.radians(DRIFT_ANGLE)), math.sin(math.radians(DRIFT_ANGLE))
    return np.column_stack((c * along[:, 0] - s * along[:, 1], s * along[:, 0] + c * along[:, 1]))


def _slope(sheet: FloatArray, axis: int) -> FloatArray:
    """Return the mean rise to the neighbours along one axis, taking only those inside a bed."""
    pad = [(1, 1) if a == axis else (0, 0) for a in (0, 1)]
    wide = np.pad(sheet, pad, constant_values=np.nan)
    steps = np.diff(wide, axis=axis)
    first = np.take(steps, range(steps.shape[axis] - 1), axis=axis)
    last = np.take(steps, range(1, steps.shape[axis]), axis=axis)
    return np.asarray(np.nan_to_num(first) + np.nan_to_num(last)) / 2


def _sides(at: FloatArray, ways: Sequence[Line]) -> tuple[Whole, FloatArray]:
    way, side = np.full(len(at), -1, dtype=np.int64), np.zeros(len(at))
    best = np.full(len(at), float(REACH))
    for number, line in enumerate(ways):
        if len(line) < 2:
            continue
        for start in range(0, len(at), CHUNK):
            part = slice(start, start + CHUNK)
            away, _, left = beside(at[part], line)
            nearer = away < best[part]
            way[part] = np.where(nearer, number, way[part])
            side[part] = np.where(nearer, np.where(left, 1.0, -1.0), side[part])
            best[part] = np.minimum(best[part], away)
    return way, side


def _sun(at: FloatArray, lookup: SunLookup | None) -> FloatArray | None:
    if lookup is None:
        return None
    hours = np.asarray(lookup(at), dtype=float)
    if hours.shape not in ((len(at),), (len(at), 1), (len(at), 4)) or not np.isfinite(hours).all():
        raise GardenError(
            f"the sun hours came as a table of {hours.shape} for {len(at)} places; give one number a place, or four"
        )
    return hours.reshape(len(at), -1)
