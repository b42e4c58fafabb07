"""The watering of a whole garden: lawns, new plants in their first weeks, a year with little rain, what butts give."""

import math
from collections.abc import Mapping, Sequence

import attrs

from gardenkit.geometry import plane
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.schedules.irrigation import BedWater, Watered, reference
from gardenkit.schedules.irrigation_zones import Zone
from gardenkit.schedules.rainwater import stores
from gardenkit.site.climate import Months
from gardenkit.site.water import ReferenceWater, mean_year, plant_factor, water_need
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import ground_kind, thing_kind
from gardenkit.structure.kinds.things_set_down import A_POT
from gardenkit.structure.structure import Thing
from gardenkit.units import US_GALLON

TURF = plant_factor("cool turf", family="ASABE S623.1")
SPRAYED = Figure(0.7, "share of the water that reaches roots", f"hose or sprinkler; {HOUSE}")
LITTLE_RAIN = Figure(0.5, "of a mean year's rain, in a dry year", HOUSE)
NEW_PLANTS = "a nursery's watering instructions (pintersgardensandpumpkins.com): 3 times a week, then 2, then 1"
FIRST_WEEKS = ((2, 3), (2, 2), (2, 1))  # weeks, times a week: NEW_PLANTS
FIRST = {  # litres each time
    "tree": Figure(5 * US_GALLON, "L", NEW_PLANTS),
    "conifer": Figure(5 * US_GALLON, "L", NEW_PLANTS),
    "shrub": Figure(2 * US_GALLON, "L", NEW_PLANTS),
    "climber": Figure(2 * US_GALLON, "L", f"as a shrub, {HOUSE}"),
    "wall fruit": Figure(2 * US_GALLON, "L", f"as a shrub, {HOUSE}"),
    "ground cover": Figure(US_GALLON / 4, "L", f"a plug or quart pot, {HOUSE}"),
    "bulb": Figure(0.0, "L", f"planted dry in autumn, {HOUSE}"),
}
PERENNIAL = Figure(1 * US_GALLON, "L", NEW_PLANTS)


@attrs.frozen(kw_only=True)
class PotWater:
    """A pot or planter: the litres of mix it holds, and of water it wants each time."""

    name: str
    holds: float
    each_time: float


@attrs.frozen(kw_only=True)
class LawnWater(Watered):
    """A lawn as a hydrozone of its own, watered by hose or sprinkler."""

    name: str
    area: float


@attrs.frozen(kw_only=True)
class Watering:
    """What a garden is watered with: its lawns, litres that each bed's new plants want at a time, and litres in a year
    of mean rain and of little, with what of the latter its butts and cisterns give.
    """

    lawns: tuple[LawnWater, ...]
    first: Mapping[str, float]
    mean: float
    little: float
    from_roofs: float

    def first_minutes(self, zone: Zone) -> float:
        """Return how long a zone runs at a time in the first weeks, each of its parts as long."""
        return math.fsum(self.first.get(bed, 0.0) for bed in zone.beds) / zone.litres_an_hour * 60.0


def pots(things: Sequence[Thing]) -> tuple[PotWater, ...]:
    """Return what each pot and planter wants at a time; no dripline waters them."""
    found = []
    for one in things:
        kind = thing_kind(one.kind)
        if kind.potted and kind.litres is not None:
            holds = kind.litres(one)
            found.append(PotWater(name=one.name, holds=holds, each_time=A_POT * holds))
    return tuple(found)


def watering(project: Project, worked: Layout, catalogue: Catalogue, waters: Sequence[BedWater]) -> Watering | None:
    """Return how a garden is watered; None while nothing is watered or the climate has no monthly temperatures."""
    climate, place = project.site.climate, project.site.place
    eto = reference(climate, latitude=place.latitude, elevation=place.elevation) if waters else None
    if eto is None:
        return None
    grass = _lawns(project, worked, eto)
    little = None if climate.rain is None else tuple(LITTLE_RAIN * mm for mm in climate.rain)
    beds = [
        attrs.evolve(bed, litres=water_need(eto.mm_a_day, area=bed.area, factor=bed.factor, rain_mm=little))
        for bed in waters
    ]
    asked = mean_year([*(bed.litres for bed in beds), *(_turf(eto, lawn.area, little) for lawn in grass)])
    dry_site = attrs.evolve(project.site, climate=attrs.evolve(climate, rain=little))
    kept = stores(attrs.evolve(project, site=dry_site), beds)
    return Watering(
        lawns=grass,
        first=_first(project, worked, catalogue),
        mean=mean_year([*(bed.litres for bed in waters), *(lawn.litres for lawn in grass)]),
        little=asked,
        from_roofs=math.fsum(year.given for year in kept.values()),
    )


def _lawns(project: Project, worked: Layout, eto: ReferenceWater) -> tuple[LawnWater, ...]:
    found = []
    for ground_area in project.structure.ground_areas:
        if (
            ground_kind(ground_area.kind).item == "lawn"
            and (area := plane.area(worked.ground_areas[ground_area.name])) > 0
        ):
            litres, dry = _turf(eto, area, project.site.climate.rain), _turf(eto, area, None)
            found.append(LawnWater(name=ground_area.name, area=area, litres=litres, dry=dry))
    return tuple(found)


def _turf(eto: ReferenceWater, area: float, rain: Months | None) -> Months:
    return water_need(eto.mm_a_day, area=area, factor=float(TURF), rain_mm=rain, efficiency=float(SPRAYED))


def _first(project: Project, worked: Layout, catalogue: Catalogue) -> dict[str, float]:
    standing = worked.plants_by_bed(project.planting.plants)
    return {
        bed: math.fsum(float(FIRST.get(catalogue[plant.species].layer, PERENNIAL)) for plant in here)
        for bed, here in standing.items()
    }
