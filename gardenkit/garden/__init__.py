"""One garden with everything that is worked out from it: each figure once, for pages, documents and scripts alike.

>>> import tempfile
>>> from pathlib import Path
>>> from gardenkit.project import Project
>>> Garden(Project(name="bare ground"), Path(tempfile.mkdtemp())).beds
()
"""

from collections.abc import Mapping, Sequence
from functools import cached_property

from gardenkit.brief import wants
from gardenkit.brief.asking import Answer, Asked
from gardenkit.brief.wants import Judged
from gardenkit.findings import Finding, Subject
from gardenkit.garden import facts as measures
from gardenkit.garden import register, upkeep
from gardenkit.garden.answers import answers
from gardenkit.garden.kept_setting import Kept
from gardenkit.garden.kept_style import style_kept
from gardenkit.garden.on_the_ground import OnTheGround
from gardenkit.garden.settled import open_warnings
from gardenkit.planting.bloom import BloomRow, WinterRow
from gardenkit.planting.keys import plant_keys
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.planting.standing import Planted, called
from gardenkit.planting.suitability import Spot
from gardenkit.planting.thinning import to_take_out
from gardenkit.project import advice, planting_figures
from gardenkit.project.joints import joint_plants
from gardenkit.project.planting_figures import Figures
from gardenkit.project.season import Standing, standing
from gardenkit.schedules import (
    care,
    cost,
    crops,
    irrigation,
    irrigation_zones,
    labour,
    orders,
    phases,
    plants,
    quantities,
    watering,
)
from gardenkit.schedules.lines import Line
from gardenkit.schedules.programme import Stretch
from gardenkit.schedules.programme import programme as in_time
from gardenkit.schedules.setting_out import SettingOut
from gardenkit.schedules.setting_out import setting_out as set_out
from gardenkit.schedules.work_steps import SERVED
from gardenkit.structure import structure
from gardenkit.structure.build_up import TakeOff


class Garden(OnTheGround):
    """A project with its folder, and all that is worked out from the two: asked for when needed, worked out once.

    ``folder`` holds the garden's own plants, prices and pictures. A garden never changes: an edit makes a new project,
    and so a new garden; what did not change is remembered below. What the ground alone tells is in ``OnTheGround``.
    """

    @property
    def whole(self) -> "Garden":
        """The garden of which all is counted."""
        return self

    # ---- the plants

    @cached_property
    def planted(self) -> tuple[Planted, ...]:
        """Every plant with its kind. Raises GardenError for a plant the catalogue does not know."""
        return advice.planted(self.counted, self.catalogue)

    @cached_property
    def kinds(self) -> Mapping[Species, int]:
        """How many plants there are of each kind, in the order they were planted."""
        return advice.kinds(self.planted)

    @cached_property
    def plant_spots(self) -> Mapping[str, Spot]:
        """What decides about the place of every plant, by its number as text: sun now, winter, what is refused."""
        return {str(plant.number): spot for (plant, _), spot in advice.plant_spots(self.project, self.catalogue)}

    @cached_property
    def keys(self) -> Mapping[str, str]:
        """The plan key of every kind by its botanical name: the same on plan, schedule and client copy."""
        creeping = joint_plants(self.project, self.layout, self.catalogue)
        planted = advice.planted(self.project, self.catalogue)
        return plant_keys([*(species.botanical for _, species in planted), *(plant.species for plant in creeping)])

    @cached_property
    def species_of(self) -> Mapping[str, str]:
        """The kind of every plant by its number as text, as advice names it."""
        return {str(plant.number): species.botanical for plant, species in self.planted}

    @cached_property
    def plant_called(self) -> Mapping[str, Plant]:
        """Every plant by its number as text, as advice names it."""
        return {str(plant.number): plant for plant in self.project.planting.plants}

    @cached_property
    def number_of(self) -> Mapping[str, int]:
        """The number of every plant by the words that advice calls it by."""
        return {called(plant, species): plant.number for plant, species in self.planted}

    @cached_property
    def to_thin(self) -> frozenset[int]:
        """The numbers of the plants to take out so that none crowds another."""
        return to_take_out(self.planted)

    @cached_property
    def names(self) -> Mapping[str, Subject]:
        """What a place named in advice is: a path, bed, support, opening or kind of plant by the words used for it."""
        return register.names(self)

    def standing(self, *, year: int, month: int) -> tuple[Standing, ...]:
        """Return every plant planted by ``year`` (0: the planting season) as it stands in ``month`` (1 to 12)."""
        return standing(self.project, self.catalogue, year=year, month=month)

    @cached_property
    def bloom(self) -> tuple[BloomRow, ...]:
        """The bloom calendar of this garden's kinds in this garden's months."""
        return advice.bloom_rows(self.counted, self.catalogue)

    # ---- schedules

    @cached_property
    def schedule(self) -> tuple[plants.PlantLine, ...]:
        """The plant schedule, one line a kind, in layer order."""
        holding = self.layout.plants_by_bed(plant for plant, _ in self.planted)
        beds = {plant.number: name for name, here in holding.items() for plant in here}
        planting = self.counted.planting
        return plants.plant_schedule(
            (*planting.plants, *self.creeping),
            self.catalogue,
            self.keys,
            beds=beds,
            prices=planting.prices,
            system=self.units,
        )

    @cached_property
    def cautions(self) -> tuple[Finding, ...]:
        """What to beware of in each kind that is listed as toxic or invasive; silence never means safe."""
        return plants.plant_cautions(self.schedule)

    @cached_property
    def setting_out(self) -> SettingOut:
        """Every place of the structure with its offsets and ties, to be found on the ground with two tapes."""
        return set_out(self.project, self.layout, self.catalogue)

    @cached_property
    def quantities(self) -> tuple[Line, ...]:
        """The take-off: what the garden is built and dressed with."""
        built = quantities.quantities(self.counted, self.counted_layout, self.catalogue)
        return (*built, *irrigation_zones.water_lines(self.counted, self.counted_layout, self.water))

    def take_off(self, path: structure.Path) -> TakeOff:
        """Return what one path that runs is built of, as it is counted in the quantities."""
        return quantities.path_take_off(path, self.layout, units=self.units)

    @cached_property
    def orders(self) -> tuple[orders.Order, ...]:
        """What to order, rounded as it is sold."""
        return orders.orders(self.quantities)

    @cached_property
    def costs(self) -> cost.Costs:
        """Plants, materials and labour priced, with the garden's own prices before ours."""
        brief = self.project.brief
        return cost.costs(
            self.schedule,
            self.orders,
            work=labour.labour(self.quantities, self.schedule, paths=self.counted_layout.surfaces, system=self.units),
            prices=cost.material_prices(self.folder / cost.OWN_FILE, system=self.units, currency=brief.currency),
            currency=brief.currency,
            pricing=brief.pricing,
            system=self.units,
            own=bool(self.project.planting.prices),
        )

    @cached_property
    def water(self) -> tuple[irrigation.BedWater, ...]:
        """Every bed with plants or crops as a watering zone; empty while the climate has no monthly temperatures."""
        return irrigation.bed_water(self.counted, self.counted_layout, self.catalogue)

    @cached_property
    def watering(self) -> watering.Watering | None:
        """Lawns, first weeks, a year of little rain and what butts give; None where nothing can be watered."""
        return watering.watering(self.counted, self.counted_layout, self.catalogue, self.water)

    @cached_property
    def care(self) -> tuple[care.Task, ...]:
        """The year's work in this garden's months."""
        return upkeep.tasks(self)

    @cached_property
    def crops(self) -> tuple[crops.CropLine, ...]:
        """Every crop of every planned year: its bed, its rows, when it is put in and ready."""
        return crops.crop_table(self.counted, self.counted_layout, self.catalogue)

    @cached_property
    def care_hours(self) -> float:
        """About how many hours a year the garden asks for once it has grown in. House values."""
        return sum(self.care_by_month)

    @cached_property
    def care_by_month(self) -> tuple[float, ...]:
        """About how many hours the garden asks for in each month once it has grown in, January first. House values."""
        return self.care_in(care.GROWN_IN)

    def care_in(self, season: int) -> tuple[float, ...]:
        """Return about how many hours each month of one season asks for, 0 the first; new plants are watered too."""
        return upkeep.hours(self, season)

    @cached_property
    def phases(self) -> tuple[phases.Phase, ...]:
        """The order of work."""
        served = any(one.step == SERVED for one in self.costs.work)
        return phases.garden_phases(self.counted, self.counted_layout, self.catalogue, served=served)

    @cached_property
    def programme(self) -> tuple[Stretch, ...]:
        """The steps of the work in time, over as many years as the budget of a year asks for."""
        paths, year = self.counted_layout.surfaces, self.counted.planting.first_year
        climate = self.project.site.climate
        return in_time(self.phases, self.costs, self.quantities, paths=paths, first_year=year, climate=climate)

    # ---- what it comes to

    @cached_property
    def facts(self) -> Mapping[str, float]:
        """Every fact that the wants list can be checked by and that can be measured so far."""
        return measures.facts(self)

    @cached_property
    def wants(self) -> tuple[Judged, ...]:
        """Every want with its verdict; one for an area of the property is judged by what lies there."""
        listed, areas = self.project.brief.wants, {want.area for want in self.project.brief.wants} - {""}
        whole = wants.judge(listed, self.facts, measures.doubts(self), self.answers, measures.places(self))
        if self.area or not areas:
            return whole
        parts = {name: self.of_area(name).wants for name in areas}
        return tuple(parts[one.want.area][n] if one.want.area else one for n, one in enumerate(whole))

    @cached_property
    def answers(self) -> Mapping[Asked, Answer]:
        """How the garden answers all that its wants ask for about things of the plan."""
        return answers(self)

    @cached_property
    def style_kept(self) -> tuple[Kept, ...]:
        """How far the plan keeps to its style, setting by setting, with what is answerable."""
        return style_kept(self)

    def of_area(self, name: str) -> "Garden":
        """Return the garden as it is counted in one area of the property. Raises GardenError for one not known."""
        from gardenkit.garden.of_area import GardenOfArea  # it is a Garden itself

        return GardenOfArea(self, name)

    def figures(self, *, year: int = 10) -> Figures | None:
        """Return the planting of a year in figures, None without plants."""
        return planting_figures.figures(self.counted, self.catalogue, year=year)

    @cached_property
    def winter(self) -> tuple[WinterRow, ...]:
        """What each kind gives to look at in winter, in this garden's months."""
        return planting_figures.winter(self.counted, self.catalogue)

    @cached_property
    def said(self) -> tuple[Finding, ...]:
        """Everything the rules say about this garden, each finding once, the most serious first."""
        return register.said(self)

    @cached_property
    def advice(self) -> tuple[Finding, ...]:
        """Everything the rules say about this garden with what would mend it, each remedy tried on the garden first."""
        return register.advice(self, self.said)

    @cached_property
    def _about(self) -> dict[tuple[str, ...], tuple[Finding, ...]]:
        return {}

    def said_about(self, topics: Sequence[str]) -> tuple[Finding, ...]:
        """Return what the rules say about some topics (none: all), by the checks alone that can speak of them."""
        known = not topics or "said" in vars(self)
        return register.share(self.said, topics) if known else register.said(self, topics)

    def advice_about(self, topics: Sequence[str]) -> tuple[Finding, ...]:
        """Return what the rules say about some topics (none: all) with what would mend it; remembered."""
        if not topics or "advice" in vars(self):
            return register.share(self.advice, topics)
        if tuple(topics) not in self._about:
            self._about[tuple(topics)] = register.advice(self, self.said_about(topics))
        return self._about[tuple(topics)]

    @cached_property
    def open_warnings(self) -> tuple[Finding, ...]:
        """What holds the client edition back: what stops the work, and warnings that nobody has accepted."""
        return open_warnings(self)

    def __repr__(self) -> str:
        return f'Garden "{self.project.name}"'
