"""Hours of sun and daily light over one garden: mapped on the ground by month, now or when the planting has grown."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Literal

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.grid import Grid, grid_over
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.geometry.solid import Solid
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import HOURS
from gardenkit.planting.sun_need import HOURS_A_MOL, MOST_HOURS
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.project.remembered import Remembered
from gardenkit.project.solids import solids
from gardenkit.site import daily_light, sun
from gardenkit.site.daily_light import Radiation
from gardenkit.site.levels import Surface
from gardenkit.site.place import Place
from gardenkit.site.sky import SunTable, sun_table
from gardenkit.site.sun import Engine, Progress
from gardenkit.structure.new_ground import NewGround

DayPart = Literal["all day", "morning", "afternoon"]
Rough = bool | Literal["very"]
UNEVEN = 0.15  # m off the best plane from which ground counts as uneven. House value.
ROUGH_CELL = 0.6096  # m: two feet. House value.
FEW_DAYS, FEW_STEP = (8, 23), 15.0  # days of a month, minutes: of the sun that advice reads. House values.
YEAR = tuple(range(1, 13))
ONE_DAY, LONG_STEP = (15,), 20.0  # of the sun where only about which year is asked. House values.
LONG_WORK = 5_000_000  # cells of a map times bodies: about half a second. House value.
ROUGH_SPOTS = 48  # places of the sky that advice looks at. House value.
CELL = 0.3048  # m: one foot, fine enough to place a plant. House value.


@attrs.frozen(kw_only=True, eq=False)
class GroundMap:
    """What falls on the ground of a garden: ``monthly`` (12, rows, columns), January first, over ``grid``."""

    grid: Grid
    monthly: FloatArray

    def at(self, place: Point) -> FloatArray:
        """Return the twelve monthly figures at a plan point; points off the map take the nearest cell."""
        return self.over(np.asarray([place], dtype=float))[:, 0]

    def over(self, points: FloatArray) -> FloatArray:
        """Return monthly figures (12, n) at plan points (n, 2)."""
        rows, columns = self._cells(points)
        return np.asarray(self.monthly[:, rows, columns])

    def on_ground(self, values: FloatArray, ground: Region) -> FloatArray:
        """Return figures of every cell (rows, columns), NaN off the open ground."""
        held = plane.inside(ground, self.grid.points).reshape(values.shape)
        return np.where(held, values, np.nan)

    def _cells(self, points: FloatArray) -> tuple[NDArray[np.int_], NDArray[np.int_]]:
        columns = np.clip(((points[:, 0] - self.grid.left) / self.grid.cell).astype(int), 0, self.grid.columns - 1)
        rows = np.clip(((points[:, 1] - self.grid.bottom) / self.grid.cell).astype(int), 0, self.grid.rows - 1)
        return rows, columns


@attrs.frozen(kw_only=True, eq=False)
class SunMap(GroundMap):
    """Mean hours of direct sun a day; ``morning`` its part in the morning."""

    morning: FloatArray

    @property
    def hours(self) -> FloatArray:
        """The monthly figures by their name."""
        return self.monthly

    def mornings_at(self, place: Point) -> FloatArray:
        """Return the twelve monthly hours of the morning at a plan point."""
        rows, columns = self._cells(np.asarray([place], dtype=float))
        return np.asarray(self.morning[:, rows, columns][:, 0])

    def shown(self, month: int, part: DayPart, ground: Region) -> FloatArray:
        """Return a month's hours (1 to 12; rows, columns) of a part of the day, NaN off the open ground."""
        whole, morning = self.hours[month - 1], self.morning[month - 1]
        return self.on_ground({"all day": whole, "morning": morning, "afternoon": whole - morning}[part], ground)


@attrs.frozen(kw_only=True, eq=False)
class LightMap(GroundMap):
    """Daily light, mol/m2 on an average day; ``known`` is the radiation of the place that it rests on."""

    known: Radiation

    def shown(self, month: int, ground: Region) -> FloatArray:
        """Return a month's daily light (1 to 12; rows, columns), NaN off the open ground."""
        return self.on_ground(self.monthly[month - 1], ground)


def sun_map(
    project: Project,
    catalogue: Catalogue,
    *,
    year: int | None = None,
    rough: Rough = False,
    months: Sequence[int] = YEAR,
    engine: Engine = "auto",
    progress: Progress | None = None,
) -> SunMap:
    """Return the sun map of a garden as it stands, or with the design's plants in ``year``. Remembered while nothing
    changes.

    ``rough`` reads it every two feet on the best plane of the ground, and fewer ``months`` (1 to 12, the others being
    0 then) on two days each: for advice that is asked after every edit. "very" takes one day each, at half the cost:
    off the other by 0.3 h a day at most beside the plants of a large garden. Fewer months of a map that is not rough
    are those of the map of the year, which is taken when it is there.

    Raises GardenError when the site has no boundary or no place on earth yet.
    """
    _asked(project)
    bodies = solids(project, catalogue, year=year)

    def mapped() -> SunMap:
        grid, halves = _halves(project, bodies, _sky(project, months, rough), rough, engine, progress)
        return SunMap(grid=grid, monthly=halves.sum(axis=0), morning=halves[0])

    key = (*_ground_key(project, rough), bodies, rough)
    whole = None if rough else _MAPS.known((*key, YEAR))
    return whole or _MAPS.get((*key, months), mapped)


def light_map(
    project: Project,
    catalogue: Catalogue,
    *,
    year: int | None = None,
    rough: Rough = False,
    months: Sequence[int] = YEAR,
    engine: Engine = "auto",
    progress: Progress | None = None,
) -> LightMap:
    """Return the map of daily light, asked and remembered as ``sun_map`` is: straight from the sun and from the sky."""
    _asked(project)
    place, climate = project.site.place, project.site.climate
    bodies = solids(project, catalogue, year=year)

    def mapped() -> LightMap:
        known = daily_light.radiation(climate, latitude=place.latitude, elevation=place.elevation)
        spots = ROUGH_SPOTS if rough else daily_light.SKY_SPOTS
        table = daily_light.light_table(_sky(project, months, rough), known, latitude=place.latitude, spots=spots)
        grid, halves = _halves(project, bodies, table, rough, engine, progress)
        return LightMap(grid=grid, monthly=halves.sum(axis=0), known=known)

    weather = climate.sunshine, climate.tmin, climate.tmax
    return _LIGHTS.get((*_ground_key(project, rough), weather, bodies, rough, months), mapped)


def judged_map(
    project: Project,
    catalogue: Catalogue,
    *,
    year: int | None = None,
    rough: Rough = False,
    months: Sequence[int] = YEAR,
    progress: Progress | None = None,
) -> GroundMap:
    """Return the map by which places are judged for plants, in hours: of sun, or where daily light is to count, those
    that growers hold it to be worth (``planting.sun_need``).
    """
    if project.planting.light_by == HOURS:
        return sun_map(project, catalogue, year=year, rough=rough, months=months, progress=progress)
    found = light_map(project, catalogue, year=year, rough=rough, months=months, progress=progress)
    return GroundMap(grid=found.grid, monthly=np.minimum(MOST_HOURS, found.monthly * HOURS_A_MOL))


def takes_long(project: Project, catalogue: Catalogue, *, year: int | None = None) -> bool:
    """Return whether the sun map of a garden takes more than a moment: by its cells and the bodies that shade them."""
    if not project.site.boundary:
        return False
    grid = grid_over(project.site.boundary, cell=CELL)
    return grid.rows * grid.columns * len(solids(project, catalogue, year=year)) > LONG_WORK


def few_days(place: Place, months: Iterable[int]) -> SunTable:
    """Return the sun of some months as advice reads it: two days a month, every quarter of an hour.

    Off the mean of six months by every other day and two minutes: 0.03 h on average and at most 0.15 h a day over the
    examples, where a plant is given half an hour of slack (``planting.places``).
    """
    return sun_table(place, days=FEW_DAYS, step_minutes=FEW_STEP).of_months(months)


def lie(ground: Surface | None, grid: Grid, *, level: bool = False) -> tuple[float | FloatArray, tuple[float, float]]:
    """Return the ground for a sun map: height and slope of the plane through the spot heights, or each cell's own
    height (rows, columns) where the ground leaves that plane by more than 0.15 m; level without heights. ``level``
    keeps ground as found to the plane; levels that are to be made stay as they are made.
    """
    if ground is None:
        return 0.0, (0.0, 0.0)
    rise_x, rise_y, at_zero = ground.plane
    if level and not isinstance(ground, NewGround):
        return at_zero, (rise_x, rise_y)
    points = grid.points
    heights = ground.at(points)
    if np.abs(heights - (rise_x * points[:, 0] + rise_y * points[:, 1] + at_zero)).max() <= UNEVEN:
        return at_zero, (rise_x, rise_y)
    return heights.reshape(grid.rows, grid.columns), (0.0, 0.0)


# ---- helpers


def _asked(project: Project) -> None:
    if not project.site.boundary:
        raise GardenError("the sun map needs the boundary; draw or measure it first")
    if project.site.place == Place():
        raise GardenError("the sun map needs the place: type its latitude, longitude and time zone")


def _ground_key(project: Project, rough: Rough) -> tuple[object, ...]:
    site = project.site
    _, height, slope = _ground(project, rough)
    lies = height if isinstance(height, float) else height.tobytes()
    return site.boundary, site.place, site.y_bearing, lies, slope


def _ground(project: Project, rough: Rough) -> tuple[Grid, float | FloatArray, tuple[float, float]]:
    """Return the cells of a map, and the ground to be as it lies under them."""
    grid = grid_over(project.site.boundary, cell=ROUGH_CELL if rough else CELL)
    return grid, *_lie(layout(project).lie, grid, bool(rough))


@lru_cache(maxsize=8)
def _lie(ground: Surface | None, grid: Grid, level: bool) -> tuple[float | FloatArray, tuple[float, float]]:
    return lie(ground, grid, level=level)


def _sky(project: Project, months: Sequence[int], rough: Rough) -> SunTable:
    place = project.site.place
    if months == YEAR:
        return sun_table(place)
    if rough == "very":
        return sun_table(place, days=ONE_DAY, step_minutes=LONG_STEP).of_months(months)
    return few_days(place, months) if rough else sun_table(place).of_months(months)


def _halves(
    project: Project,
    bodies: tuple[Solid, ...],
    table: SunTable,
    rough: Rough,
    engine: Engine,
    progress: Progress | None,
) -> tuple[Grid, FloatArray]:
    site = project.site
    grid, height, slope = _ground(project, rough)
    found = sun.sun_halves(
        grid, bodies, table, y_bearing=site.y_bearing, height=height, slope=slope, engine=engine, progress=progress
    )
    return grid, found


_MAPS: Remembered[SunMap] = Remembered(12)
_LIGHTS: Remembered[LightMap] = Remembered(9)
