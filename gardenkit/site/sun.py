"""Hours of direct sun: how long the sun reaches each spot of the ground or of a wall on an average day of each month.

Direct sun lasts from the almanac's sunrise to its sunset and needs a clear sky: cloud is not counted. Every body in the
way multiplies the light by the share it lets through in that month, so two half-open trees in line leave a quarter.
"""

import functools
import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor, as_completed, wait
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry.grid import CELL, Grid
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.geometry.solid import Solid
from gardenkit.site import sun_numpy, sun_rays
from gardenkit.site.sky import SunTable
from gardenkit.site.sun_frame import Bodies, Frame, IntArray, bodies_over, ground_frame, wall_frame

Engine = Literal["auto", "compiled", "plain"]
Progress = Callable[[float], None]
Lost = Callable[[FloatArray, FloatArray, FloatArray, Bodies, int, int], FloatArray]
WORTH_WAITING = (
    2e10  # bodies x cells x steps of a map that is better waited for than begun in plain NumPy. House value.
)
PATIENCE = 1.0  # s the first map waits for the kernel: enough to read it from disk, not to compile it. House value.
LAYER = 1 / 3  # of a cell's side between the levels that uneven ground is worked out on; between them hours are
# interpolated. Three times as much changes the monthly means of a hillside by 0.04 h at most. House value.
MOST_LAYERS = 60  # beyond 20 cells' sides of fall the levels stand further apart. House value.


@attrs.frozen(kw_only=True)
class Wall:
    """An upright face from ``start`` to ``end`` on the plan, seen from the right of that way, between two heights in
    metres.

    The walls of an outline drawn anticlockwise face outwards. ``cell`` is the distance between its points.
    """

    name: str
    start: Point
    end: Point
    base: float = 0.0
    top: float = 2.7
    cell: float = CELL

    @property
    def grid(self) -> Grid:
        """Cells of the face: columns along it from the start, rows up from the base."""
        length = float(np.hypot(self.end[0] - self.start[0], self.end[1] - self.start[1]))
        if length < 1e-6 or self.top <= self.base:
            raise GardenError(f'wall "{self.name}" has no face; give it two different ends and a top above its base')
        columns, rows = (max(1, round(size / self.cell)) for size in (length, self.top - self.base))
        return Grid(left=0.0, bottom=self.base, columns=columns, rows=rows, cell=self.cell)


def sun_hours(
    where: Grid | FloatArray,
    solids: Sequence[Solid],
    table: SunTable,
    *,
    y_bearing: float = 0.0,
    height: float | FloatArray = 0.0,
    slope: tuple[float, float] = (0.0, 0.0),
    engine: Engine = "auto",
    progress: Progress | None = None,
) -> FloatArray:
    """Return mean hours of direct sun a day in each month: (12, rows, columns) over a grid, (12, n) at points (n, 2) or
    (n, 3).

    ``y_bearing`` is where the plan's y axis points, degrees from north. The ground is z = height + slope . (x, y) in
    metres; over a grid ``height`` may also be (rows, columns), one for each cell. A third column of points is their
    height. ``engine`` "auto" uses the compiled kernel once it has loaded and plain NumPy until then (they agree within
    0.001 h). ``progress`` is told the share done.
    """
    return np.asarray(
        sun_halves(
            where, solids, table, y_bearing=y_bearing, height=height, slope=slope, engine=engine, progress=progress
        ).sum(axis=0)
    )


def sun_halves(
    where: Grid | FloatArray,
    solids: Sequence[Solid],
    table: SunTable,
    *,
    y_bearing: float = 0.0,
    height: float | FloatArray = 0.0,
    slope: tuple[float, float] = (0.0, 0.0),
    engine: Engine = "auto",
    progress: Progress | None = None,
) -> FloatArray:
    """Return the same split at solar noon: morning hours first, then afternoon, (2, 12, ...)."""
    if not isinstance(where, Grid):
        return _at_points(where, solids, table, y_bearing, height, slope)
    if isinstance(height, np.ndarray):
        return _over_uneven_ground(where, solids, table, y_bearing, height, engine, progress)
    frame = ground_frame(where, height=float(height), slope=slope)
    return _over_frame(frame, solids, table, y_bearing, engine, progress)


def wall_sun_hours(
    walls: Sequence[Wall],
    solids: Sequence[Solid],
    table: SunTable,
    *,
    y_bearing: float = 0.0,
    engine: Engine = "auto",
    progress: Progress | None = None,
) -> tuple[FloatArray, ...]:
    """Return mean hours of direct sun a day on each wall's points, one array (12, rows, columns) a wall; see
    ``sun_hours``.

    Bodies behind a wall's face, such as the house it belongs to, cast nothing on it; the sun counts while it is in
    front.
    """
    found = []
    for i, wall in enumerate(walls):
        frame = wall_frame(wall.start, wall.end, wall.grid)
        share = None if progress is None else functools.partial(_part_done, progress, i, len(walls))
        found.append(_over_frame(frame, solids, table, y_bearing, engine, share).sum(axis=0))
    return tuple(found)


def compiled_ready() -> bool:
    """Return whether the compiled kernel has loaded; asking starts it loading in the background."""
    loading = _loading()
    return loading.done() and loading.exception() is None


def _at_points(
    points: FloatArray,
    solids: Sequence[Solid],
    table: SunTable,
    y_bearing: float,
    height: float | FloatArray,
    slope: tuple[float, float],
) -> FloatArray:
    spots = np.asarray(points, dtype=float)
    if spots.ndim != 2 or spots.shape[1] not in (2, 3):
        raise GardenError(
            f"points of shape {spots.shape} are not a list of (x, y) or (x, y, height); give one row a point"
        )
    if spots.shape[1] == 2:
        spots = np.column_stack((spots, height + spots @ np.asarray(slope)))
    towards = table.towards_sun(y_bearing)
    facing = towards @ np.array([-slope[0], -slope[1], 1.0]) > 0
    found = np.zeros((2, 12, len(spots)))
    for half, month, steps in _batches(table):
        lit = steps[facing[steps]]
        light = sun_rays.light_at(spots, solids, towards[lit], month=month)
        found[half, month - 1] = light @ table.hours[lit]
    return found


def _over_uneven_ground(
    grid: Grid,
    solids: Sequence[Solid],
    table: SunTable,
    y_bearing: float,
    heights: FloatArray,
    engine: Engine,
    progress: Progress | None,
) -> FloatArray:
    """Work out level maps through the heights of the ground and interpolate between the two nearest at each cell; each
    only over the cells that it is one of the two of.
    """
    if heights.shape != (grid.rows, grid.columns) or not np.isfinite(heights).all():
        raise GardenError(
            f"heights of shape {heights.shape} do not fit; give ({grid.rows}, {grid.columns}) numbers in metres"
        )
    low, high = float(heights.min()), float(heights.max())
    layers = min(MOST_LAYERS, int(np.ceil((high - low) / (LAYER * grid.cell) - 1e-9))) + 1
    levels = np.linspace(low, high, layers)
    at = np.zeros_like(heights) if layers == 1 else (heights - low) / (high - low) * (layers - 1)
    found = np.zeros((2, 12, grid.rows, grid.columns))
    for i, level in enumerate(levels):
        share = None if progress is None else functools.partial(_part_done, progress, i, layers)
        weight = np.maximum(0.0, 1.0 - np.abs(at - i))
        here = np.flatnonzero(weight.any(axis=1)), np.flatnonzero(weight.any(axis=0))
        if not len(here[0]):
            continue
        part = tuple(slice(int(some[0]), int(some[-1]) + 1) for some in here)
        frame = ground_frame(grid.part(*part), height=float(level))
        found[:, :, *part] += weight[part] * _over_frame(frame, solids, table, y_bearing, engine, share)
    return found


def _over_frame(
    frame: Frame,
    solids: Sequence[Solid],
    table: SunTable,
    y_bearing: float,
    engine: Engine,
    progress: Progress | None,
) -> FloatArray:
    if frame.rows > frame.columns:  # few long rows cost less than many short ones
        return _over_frame(frame.turned(), solids, table, y_bearing, engine, progress).transpose(0, 1, 3, 2)
    bodies = bodies_over(frame, solids)
    runs, front = frame.runs(table.towards_sun(y_bearing))
    work = len(bodies.light) * len(table) * float(frame.rows * frame.columns)
    found = np.zeros((2, 12, frame.rows, frame.columns))

    def one(half: int, month: int, steps: IntArray) -> None:
        mine = steps[front[steps]]
        hours, here = table.hours[mine], found[half, month - 1]
        if not (len(mine) and len(bodies.light)):
            here[:] = hours.sum()
            return
        lost = _engine(engine, work)  # asked each time: a map begun in plain NumPy goes on compiled once it can
        through = np.ascontiguousarray(bodies.light[:, month - 1])
        np.subtract(hours.sum(), lost(runs[mine], hours, through, bodies, frame.rows, frame.columns), out=here)
        np.maximum(here, 0.0, out=here)  # while it is still in the nearest memory

    batches = sorted(_batches(table), key=lambda batch: -len(batch[2]))
    with ThreadPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
        done = [pool.submit(one, *batch) for batch in batches]
        try:
            for i, finished in enumerate(as_completed(done)):
                finished.result()
                if progress is not None:
                    progress((i + 1) / len(done))
        except BaseException:  # whoever is told may stop the work
            pool.shutdown(cancel_futures=True)
            raise
    return found


def _batches(table: SunTable) -> Iterator[tuple[int, int, IntArray]]:
    """Yield (half of the day, month, numbers of its steps) for every half month that has sun."""
    for month in range(1, 13):
        for half in (0, 1):
            steps = np.flatnonzero((table.month == month) & (table.afternoon == bool(half))).astype(np.int64)
            if len(steps):
                yield half, month, steps


def _part_done(progress: Progress, part: int, parts: int, share: float) -> None:
    progress((part + share) / parts)


def _engine(engine: Engine, work: float) -> Lost:
    if engine == "plain":
        return sun_numpy.hours_lost
    if engine == "compiled":
        return _loading().result()
    _first_wait()
    if not compiled_ready() and (_loading().done() or work < WORTH_WAITING):
        return sun_numpy.hours_lost  # still loading and a small map, or this machine cannot compile
    return sun_numpy.hours_lost if _loading().exception() is not None else _loading().result()


@functools.cache
def _loading() -> Future[Lost]:
    """Start loading the compiled kernel in the background, once."""
    pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="sun-kernel")
    loading = pool.submit(_load)
    pool.shutdown(wait=False)
    return loading


@functools.cache
def _first_wait() -> None:
    wait([_loading()], timeout=PATIENCE)


def _load() -> Lost:
    from gardenkit.site import sun_kernel

    def lost(
        runs: FloatArray, hours: FloatArray, through: FloatArray, bodies: Bodies, rows: int, columns: int
    ) -> FloatArray:
        return sun_kernel.hours_lost(
            runs,
            hours,
            through,
            bodies.rounds,
            bodies.rounds_cut,
            bodies.shafts,
            bodies.shafts_cut,
            bodies.disc,
            bodies.corners,
            bodies.first_corner,
            bodies.edges,
            bodies.first_edge,
            bodies.cuts,
            rows,
            columns,
        )  # type: ignore[return-value]

    empty = Grid(left=0.0, bottom=0.0, columns=1, rows=1, cell=1.0)
    lost(np.zeros((1, 2)), np.ones(1), np.zeros(0), bodies_over(ground_frame(empty), ()), 1, 1)
    return lost
