"""A garden's ground and what the sky does to it: layout, survey, sun, shade and water, each worked out once."""

from functools import cached_property, lru_cache
from pathlib import Path
from typing import Self

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.garden.living import Living, living
from gardenkit.garden.measured import Measured, measured
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.geometry.solid import Solid
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.composing.figures import CompositionFigures
from gardenkit.planting.journal import corrected
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.composed import as_planted
from gardenkit.project.earthworks import Earthworks, earthworks
from gardenkit.project.joints import joint_plants
from gardenkit.project.layout import Layout, layout
from gardenkit.project.rules import ground_of, path_slope
from gardenkit.project.season import catalogue_of, spring_shift
from gardenkit.project.solids import solids
from gardenkit.project.sunlight import GroundMap, LightMap, SunMap, judged_map, light_map, sun_map, takes_long
from gardenkit.project.wall_sun import WallSun, wall_sun
from gardenkit.saying import said
from gardenkit.schedules import irrigation
from gardenkit.site.climate import Months
from gardenkit.site.country import in_usa
from gardenkit.site.levels import Surface
from gardenkit.site.place import Place
from gardenkit.site.sun import Progress
from gardenkit.site.sun_diary import DiaryReport, compare
from gardenkit.site.water import ReferenceWater, plant_factor, water_need
from gardenkit.structure.beds import BedShape
from gardenkit.structure.kinds import fence_kind, thing_kind
from gardenkit.units import System


class OnTheGround:
    """The half of a ``Garden`` that its plants and prices rest on."""

    def __init__(self, project: Project, folder: Path) -> None:
        self.project = project
        self.folder = folder

    @classmethod
    def open(cls, folder: Path) -> Self:
        """Return the garden saved in a folder. Raises StorageError when there is none, or it cannot be read."""
        return cls(storage.load(folder).project, folder)

    @property
    def units(self) -> System:
        """The units that everything the designer or client sees is said in."""
        return self.project.units

    def say(self, text: str) -> str:
        """Return a text as the designer and the client read it: in the garden's units and the words of its place."""
        return said(text, self.units, in_usa(self.project.site))

    @cached_property
    def layout(self) -> Layout:
        """Paths, stones, beds and areas worked out on the ground."""
        return layout(self.project)

    @property
    def area(self) -> str:
        """The area of the property that is counted; empty: all of it."""
        return ""

    @property
    def area_ground(self) -> Region:
        """The ground of the area that is counted; nowhere where that is all of the garden."""
        return plane.NOWHERE

    def in_area(self, at: Point) -> bool:
        """Return whether a place is counted."""
        return not self.area or plane.contains(self.area_ground, at)

    @cached_property
    def counted(self) -> Project:
        """What schedules, figures and costs count: the whole garden, or what lies in its one area (``of_area``)."""
        return self.project

    @cached_property
    def counted_layout(self) -> Layout:
        """The part of the layout that is counted."""
        return self.layout

    @property
    def bed_area(self) -> float:
        """The ground of all beds together, in square metres."""
        return sum(bed.area for bed in self.beds)

    @property
    def lawn_area(self) -> float:
        """The ground of all lawns together, in square metres."""
        worked = self.counted_layout.ground_areas
        return sum(plane.area(worked[p.name]) for p in self.counted.structure.ground_areas if p.kind == "lawn")

    @property
    def grass_path_area(self) -> float:
        """The ground of all grass paths together, in square metres."""
        paths, worked = self.counted.structure.paths, self.counted_layout.surfaces
        return sum(plane.area(worked[p.name]) for p in paths if p.surface == "grass" and p.name in worked)

    @property
    def hedge_lengths(self) -> dict[str, float]:
        """How long each hedge is, in metres: those that are there and those to be planted, by their names."""
        standing = {
            f.name: plane.line(f.line).length for f in self.counted.site.fences if fence_kind(f).name == "hedge"
        }
        planted = {t.name: t.width for t in self.counted.structure.things if thing_kind(t.kind).grows is not None}
        return standing | planted

    @property
    def steepest_path(self) -> float | None:
        """How steep a path gets at most, in percent up or down; None without paths or without ground heights."""
        ground, routes = self.ground_to_be, self.layout.routes
        if ground is None:
            return None
        running = (p for p in self.project.structure.paths if p.name in routes)
        return max((abs(path_slope(p, routes[p.name], ground).steepest) for p in running), default=None)

    @property
    def beds(self) -> tuple[BedShape, ...]:
        """The beds as they lie."""
        return self.counted_layout.beds

    @cached_property
    def creeping(self) -> tuple[Plant, ...]:
        """The plants between the stones of the paths that are counted."""
        return joint_plants(self.counted, self.counted_layout, self.catalogue)

    @property
    def ground(self) -> Surface | None:
        """The ground as found through the spot heights, None where none were taken."""
        return ground_of(self.project.site)

    @property
    def ground_to_be(self) -> Surface | None:
        """The ground as it will be, with its levels and graded paths made; None where no heights were taken."""
        return self.layout.lie

    @cached_property
    def earth(self) -> Earthworks | None:
        """What is dug, filled and held up to make the levels; None where none are to be made or none was measured."""
        return earthworks(self.project, self.layout)

    @property
    def survey(self) -> Measured:
        """The tape survey worked out; remembered."""
        return measured(self.project.site.survey, self.project.site.y_bearing)

    @cached_property
    def catalogue(self) -> Catalogue:
        """The plant catalogue as it holds in this garden: with its own plants, and what its journal has corrected."""
        return corrected(self.plain_catalogue, self.project.journal.corrections)

    @property
    def plain_catalogue(self) -> Catalogue:
        """The plant catalogue with the garden's own plants laid over it; read again only when their table changed."""
        own = self.folder / storage.OWN_PLANTS_FILE
        stamp = (own.stat().st_mtime_ns, own.stat().st_size) if own.exists() else None
        return _catalogue(self.folder, stamp)

    @cached_property
    def spring_shift(self) -> float:
        """How many days later spring comes here than in reference zone 6."""
        return spring_shift(self.project.site)

    def solids(self, year: int | None = None) -> tuple[Solid, ...]:
        """Return the bodies that cast shade and hide views; with the design's plants of ``year`` when it is given."""
        return solids(self.project, self.catalogue, year=year)

    def sun(self, year: int | None = None, *, progress: Progress | None = None) -> SunMap:
        """Return the sun map as the garden stands, or with the design's plants of ``year``; remembered.

        Raises GardenError without a boundary or a place on earth.
        """
        return sun_map(self.project, self.catalogue, year=year, progress=progress)

    def sun_takes_long(self, year: int | None = None) -> bool:
        """Return whether working out ``sun`` takes more than a moment."""
        return takes_long(self.project, self.catalogue, year=year)

    def wall_sun(self, year: int | None = None, *, progress: Progress | None = None) -> tuple[WallSun, ...]:
        """Return the sun on every wall of the buildings, as ``sun`` does for the ground; empty without any."""
        return wall_sun(self.project.site, self.solids(year), progress=progress)

    @cached_property
    def composition(self) -> CompositionFigures | None:
        """The planting as it stands in the figures that proposals are compared by, None without plants or beds."""
        return as_planted(self.project, self.catalogue)

    def sun_if_known(self, year: int | None = None, *, progress: Progress | None = None) -> SunMap | None:
        """Return the sun map, None while the boundary or the place is missing."""
        try:
            return self.sun(year, progress=progress)
        except GardenError:
            return None

    def daily_light(self, year: int | None = None, *, progress: Progress | None = None) -> LightMap:
        """Return the map of daily light as ``sun`` returns that of its hours; it takes about twice as long."""
        return light_map(self.project, self.catalogue, year=year, progress=progress)

    def judged_light(self, year: int | None = None, *, progress: Progress | None = None) -> GroundMap | None:
        """Return the map by which places are judged for plants, by the hours of sun or by daily light as the designer
        chose; None while the boundary or the place is missing.
        """
        try:
            return judged_map(self.project, self.catalogue, year=year, progress=progress)
        except GardenError:
            return None

    @cached_property
    def diary(self) -> DiaryReport | None:
        """The sun diary set beside what is worked out for the garden as it is now; None without a place or an entry."""
        site = self.project.site
        if not site.diary or site.place == Place():
            return None
        return compare(site.diary, self.solids(), site.place, y_bearing=site.y_bearing)

    @cached_property
    def living(self) -> Living:
        """What the journal comes to: flowers and sizes seen beside those worked out, and next year's list."""
        return living(self.project, self.layout, self.plain_catalogue)

    @cached_property
    def reference_water(self) -> ReferenceWater | None:
        """Reference evapotranspiration by month, by the best method the data allow.

        None while the place or the monthly temperatures are missing.
        """
        site = self.project.site
        if site.place == Place():
            return None
        return irrigation.reference(site.climate, latitude=site.place.latitude, elevation=site.place.elevation)

    def bed_need(self, planting: str, *, family: str, rain_method: str) -> tuple[tuple[str, float, Months], ...]:
        """Return every bed's area (m2) and the litres it asks for in each month as if planted alike, and all together.

        ``planting`` is a word of a family of plant factors; empty while there is no reference. Raises GardenError.
        """
        if self.reference_water is None:
            return ()
        beds = [(bed.name, bed.area) for bed in self.beds]
        if len(beds) > 1:
            beds.append(("all beds", sum(area for _, area in beds)))
        factor, eto = float(plant_factor(planting, family=family)), self.reference_water.mm_a_day
        rain = self.project.site.climate.rain
        return tuple(
            (name, area, water_need(eto, area=area, factor=factor, rain_mm=rain, rain_method=rain_method))
            for name, area in beds
        )


@lru_cache(maxsize=4)
def _catalogue(folder: Path, stamp: object) -> Catalogue:
    del stamp
    return catalogue_of(folder)
