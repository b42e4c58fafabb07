"""One garden with everything that is worked out from it: each figure once, for pages, documents and scripts alike.

>>> import tempfile
>>> Garden(Project(name="bare ground"), Path(tempfile.mkdtemp())).beds
()
"""

from collections.abc import Mapping, Sequence
from functools import cached_property, lru_cache
from pathlib import Path

from gardenkit import storage
from gardenkit.brief import wants
from gardenkit.brief.wants import Judged
from gardenkit.findings import Finding, GardenError, Subject
from gardenkit.garden import facts as measures
from gardenkit.garden import register
from gardenkit.garden.measured import Measured, measured
from gardenkit.geometry.solid import Solid
from gardenkit.planting.bloom import BloomRow, WinterRow
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.keys import plant_keys
from gardenkit.planting.species import Species
from gardenkit.planting.standing import Planted
from gardenkit.project import Project, advice, planting_figures
from gardenkit.project.layout import Layout, layout
from gardenkit.project.planting_figures import Figures
from gardenkit.project.rules import ground_of
from gardenkit.project.season import Standing, catalogue_of, spring_shift, standing
from gardenkit.project.solids import solids
from gardenkit.project.sunlight import SunMap, sun_map
from gardenkit.project.wall_sun import WallSun, wall_sun
from gardenkit.saying import said
from gardenkit.schedules import care, cost, irrigation, orders, phases, plants, quantities
from gardenkit.site.climate import Months
from gardenkit.site.country import in_usa
from gardenkit.site.levels import Surface
from gardenkit.site.place import Place
from gardenkit.site.sun import Progress
from gardenkit.site.sun_diary import DiaryReport, compare
from gardenkit.site.water import ReferenceWater, plant_factor, water_need
from gardenkit.structure import structure
from gardenkit.structure.beds import BedShape
from gardenkit.structure.build_up import TakeOff
from gardenkit.structure.kinds import care_of_what_is_built
from gardenkit.units import System


class Garden:
    """A project with its folder, and all that is worked out from the two: asked for when needed, worked out once.

    ``folder`` holds the garden's own plants, own prices and pictures. A garden never changes: an edit makes a new
    project, and so a new garden. What did not change between two gardens is remembered below, by layout, sun and
    season.
    """

    def __init__(self, project: Project, folder: Path) -> None:
        self.project = project
        self.folder = folder
        self._about: dict[tuple[str, ...], tuple[Finding, ...]] = {}

    @classmethod
    def open(cls, folder: Path) -> "Garden":
        """Return the garden saved in a folder. Raises StorageError when there is none, or it cannot be read."""
        return cls(storage.load(folder).project, folder)

    # ---- the ground and the structure

    @property
    def units(self) -> System:
        """The units that everything the designer or client sees is said in."""
        return self.project.units

    def say(self, text: str) -> str:
        """Return a text as the designer and the client read it: in the garden's units and the words of its place."""
        return said(text, self.units, in_usa(self.project.site))

    @cached_property
    def layout(self) -> Layout:
        """Paths, stones, beds and patches worked out on the ground."""
        return layout(self.project)

    @property
    def beds(self) -> tuple[BedShape, ...]:
        """The beds as they lie."""
        return self.layout.beds

    @property
    def ground(self) -> Surface | None:
        """The ground through the spot heights, None where none were taken."""
        return ground_of(self.project.site)

    @property
    def survey(self) -> Measured:
        """The tape survey worked out; remembered."""
        return measured(self.project.site.survey, self.project.site.y_bearing)

    # ---- the plants

    @cached_property
    def catalogue(self) -> Catalogue:
        """The plant catalogue with the garden's own plants laid over it; read again only when their table changed."""
        own = self.folder / storage.OWN_PLANTS_FILE
        stamp = (own.stat().st_mtime_ns, own.stat().st_size) if own.exists() else None
        return _catalogue(self.folder, stamp)

    @cached_property
    def planted(self) -> tuple[Planted, ...]:
        """Every plant with its kind. Raises GardenError for a plant the catalogue does not know."""
        return advice.planted(self.project, self.catalogue)

    @cached_property
    def kinds(self) -> Mapping[Species, int]:
        """How many plants there are of each kind, in the order they were planted."""
        return advice.kinds(self.planted)

    @cached_property
    def keys(self) -> Mapping[str, str]:
        """The plan key of every kind by its botanical name: the same on plan, schedule and client copy."""
        return plant_keys(species.botanical for _, species in self.planted)

    @cached_property
    def species_of(self) -> Mapping[str, str]:
        """The kind of every plant by its number as text, as advice names it."""
        return {str(plant.number): species.botanical for plant, species in self.planted}

    @cached_property
    def names(self) -> Mapping[str, Subject]:
        """What a place named in advice is: a path, bed, support, opening or kind of plant by the words used for it."""
        return register.names(self)

    def standing(self, *, year: int, month: int) -> tuple[Standing, ...]:
        """Return every plant planted by ``year`` (0: the planting season) as it stands in ``month`` (1 to 12)."""
        return standing(self.project, self.catalogue, year=year, month=month)

    # ---- season, sun and bodies

    @cached_property
    def spring_shift(self) -> float:
        """How many days later spring comes here than in reference zone 6."""
        return spring_shift(self.project.site)

    @cached_property
    def bloom(self) -> tuple[BloomRow, ...]:
        """The bloom calendar of this garden's kinds in this garden's months."""
        return advice.bloom_rows(self.project, self.catalogue)

    def solids(self, year: int | None = None) -> tuple[Solid, ...]:
        """Return the bodies that cast shade and hide views; with the design's plants of ``year`` when it is given."""
        return solids(self.project, self.catalogue, year=year)

    def sun(self, year: int | None = None, *, progress: Progress | None = None) -> SunMap:
        """Return the sun map as the garden stands, or with the design's plants of ``year``; remembered.

        Raises GardenError without a boundary or a place on earth.
        """
        return sun_map(self.project, self.catalogue, year=year, progress=progress)

    def wall_sun(self, year: int | None = None, *, progress: Progress | None = None) -> tuple[WallSun, ...]:
        """Return the sun on every wall of the buildings, as ``sun`` does for the ground; empty without any."""
        return wall_sun(self.project.site, self.solids(year), progress=progress)

    def sun_if_known(self, year: int | None = None) -> SunMap | None:
        """Return the sun map, None while the boundary or the place is missing."""
        try:
            return self.sun(year)
        except GardenError:
            return None

    @cached_property
    def diary(self) -> DiaryReport | None:
        """The sun diary set beside what is worked out for the garden as it is now; None without a place or an entry."""
        site = self.project.site
        if not site.diary or site.place == Place():
            return None
        return compare(site.diary, self.solids(), site.place, y_bearing=site.y_bearing)

    # ---- schedules

    @cached_property
    def schedule(self) -> tuple[plants.PlantLine, ...]:
        """The plant schedule, one line a kind, in layer order."""
        beds = {p.number: bed.name for p, _ in self.planted if (bed := self.layout.bed_at(p.at)) is not None}
        planting = self.project.planting
        return plants.plant_schedule(
            planting.plants, self.catalogue, self.keys, beds=beds, prices=planting.prices, system=self.units
        )

    @cached_property
    def cautions(self) -> tuple[Finding, ...]:
        """What to beware of in each kind that is listed as toxic or invasive; silence never means safe."""
        return plants.plant_cautions(self.schedule)

    @cached_property
    def quantities(self) -> tuple[quantities.Line, ...]:
        """The take-off: what the garden is built and dressed with."""
        return quantities.quantities(self.project, self.layout, self.catalogue)

    def take_off(self, path: structure.Path) -> TakeOff:
        """Return what one path that runs is built of, as it is counted in the quantities."""
        return quantities.path_take_off(path, self.layout)

    @cached_property
    def orders(self) -> tuple[orders.Order, ...]:
        """What to order, rounded as it is sold."""
        return orders.orders(self.quantities)

    @cached_property
    def costs(self) -> cost.Costs:
        """Plants and materials priced, with the garden's own prices before ours."""
        prices = cost.material_prices(self.folder / cost.OWN_FILE, system=self.units)
        currency = self.project.brief.currency
        return cost.costs(self.schedule, self.orders, prices=prices, currency=currency, system=self.units)

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

    @cached_property
    def water(self) -> tuple[irrigation.BedWater, ...]:
        """Every planted bed as a watering zone; empty while the climate has no monthly temperatures."""
        return irrigation.bed_water(self.project, self.layout, self.catalogue)

    @cached_property
    def care(self) -> tuple[care.Task, ...]:
        """The year's work in this garden's months."""
        south = self.project.site.place.latitude < 0
        built = care_of_what_is_built(self.project.structure, self.project.site.fences)
        return care.care_calendar(
            self.kinds, shift_days=self.spring_shift, south=south, whole_garden=bool(self.kinds), built=built
        )

    @cached_property
    def phases(self) -> tuple[phases.Phase, ...]:
        """The order of work."""
        return phases.garden_phases(self.project, self.layout, self.catalogue)

    # ---- what it comes to

    @cached_property
    def facts(self) -> Mapping[str, float]:
        """Every fact that the wants list can be checked by and that can be measured so far."""
        return measures.facts(self)

    @cached_property
    def wants(self) -> tuple[Judged, ...]:
        """Every want with its verdict."""
        return wants.judge(self.project.brief.wants, self.facts)

    def figures(self, *, year: int = 10) -> Figures | None:
        """Return the planting of a year in figures, None without plants."""
        return planting_figures.figures(self.project, self.catalogue, year=year)

    def sides(self, *, years: Sequence[int] = planting_figures.YEARS) -> tuple[planting_figures.Sides, ...]:
        """Return what stands left and right of every path in some years, in all four seasons."""
        return planting_figures.sides(self.project, self.catalogue, years=years)

    @cached_property
    def winter(self) -> tuple[WinterRow, ...]:
        """What each kind gives to look at in winter, in this garden's months."""
        return planting_figures.winter(self.project, self.catalogue)

    @cached_property
    def advice(self) -> tuple[Finding, ...]:
        """Everything the rules say about this garden, each finding once, the most serious first."""
        return register.advice(self)

    def advice_about(self, topics: Sequence[str]) -> tuple[Finding, ...]:
        """Return the part of the advice that is about some topics, all of it when none is named.

        Until all the advice is asked for, only the checks that can speak of the topics are made; remembered.
        """
        if not topics or "advice" in vars(self):
            return register.share(self.advice, topics)
        if tuple(topics) not in self._about:
            self._about[tuple(topics)] = register.advice(self, topics)
        return self._about[tuple(topics)]

    def __repr__(self) -> str:
        return f'Garden "{self.project.name}"'


@lru_cache(maxsize=4)
def _catalogue(folder: Path, stamp: object) -> Catalogue:
    del stamp
    return catalogue_of(folder)
