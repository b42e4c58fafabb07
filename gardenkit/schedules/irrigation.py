"""Watering: what each bed needs by month, how the dripline lies and how long it runs, how new trees get through."""

import math
from collections.abc import Collection, Mapping, Sequence
from typing import Literal

import attrs

from gardenkit.findings import Finding, GardenError
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.site.climate import Climate, Months
from gardenkit.site.place import Place
from gardenkit.site.soil import Soil, soil_texture
from gardenkit.site.texture import soil_group
from gardenkit.site.water import (
    DAYS,
    ReferenceWater,
    dripline_mm_an_hour,
    hydrozone_factor,
    reference_water,
    run_minutes,
    water_need,
)
from gardenkit.sources import HOUSE, MEMORY, Figure
from gardenkit.units import INCH, US_GALLON, System, as_built

SoilKind = Literal["sandy", "loam", "clay"]
KOURIK = "R. Kourik, drip irrigation: emitters 12 in apart in sand, up to 24 in in clay"
FLOWS = "irrigation supplier: clay 0.5-1 gph, sand 2-4 gph"
ROWS = f"rows 12-18 in apart in sand, 18-24 in clay; {MEMORY}"
EMITTER_SPACING: dict[SoilKind, Figure] = {
    "sandy": Figure(12 * INCH, "m", KOURIK),
    "loam": Figure(18 * INCH, "m", f"between sand and clay, {HOUSE}; {KOURIK}"),
    "clay": Figure(24 * INCH, "m", KOURIK),
}
ROW_SPACING: dict[SoilKind, Figure] = {
    "sandy": Figure(12 * INCH, "m", ROWS),
    "loam": Figure(18 * INCH, "m", ROWS),
    "clay": Figure(24 * INCH, "m", ROWS),
}
EMITTER_FLOW: dict[SoilKind, Figure] = {  # litres an hour
    "sandy": Figure(2.0 * US_GALLON, "L/h", FLOWS),
    "loam": Figure(0.6 * US_GALLON, "L/h", f"a common in-line emitter, {HOUSE}; {FLOWS}"),
    "clay": Figure(0.5 * US_GALLON, "L/h", FLOWS),
}
SMALL_FLOW: dict[SoilKind, Figure] = {  # where the usual ones ask more of a bed than its tap gives
    "sandy": Figure(
        0.9 * US_GALLON, "L/h", "0.9 gph in dripline, rows and emitters 12 in: irrigation maker's catalogue"
    )
}
DRAINED_BELOW = 0.0  # deg C: in months whose mean daily low is lower the pipes are drained against frost. House value.
TAP = Figure(900.0, "L/h", f"three quarters of what a house tap of 20 L a minute gives; time a bucket; {HOUSE}")
WETTED = "irrigation manufacturer's design manual, figure 5-4: spacing to wetted depth 1:1 coarse, 2:1 medium, 4:1 fine"
SPACING_TO_DEPTH: dict[SoilKind, Figure] = {
    "sandy": Figure(1.0, "x wetted depth", WETTED),
    "loam": Figure(2.0, "x wetted depth", WETTED),
    "clay": Figure(4.0, "x wetted depth", WETTED),
}
COOPERATIVE = "Cooperative Extension, trees-energy-conservation.extension.org"
TREE_WATER = Figure(1.5 * US_GALLON / INCH, "L per m of caliper", f"{COOPERATIVE}: 1.5 gal an inch of caliper")
WATERINGS = Figure(2.0, "a week", HOUSE)
FAMILY = "WUCOLS"
# How thirsty a kind is: the driest ground it takes says what it can do with. House reading of the catalogue's words.
THIRST = {"dry": "low", "medium": "moderate", "moist": "high", "wet": "high"}
_DRIEST = tuple(THIRST)


@attrs.frozen(kw_only=True)
class Stage:
    """One stage of watering a new tree: how often, for how long, how many times."""

    words: str
    days: int
    times: int


# Daily for two weeks, every other day for two months (the sum takes eight weeks), then weekly: COOPERATIVE
STAGES = (
    Stage(words="every day", days=14, times=14),
    Stage(words="every other day", days=56, times=28),
)


@attrs.frozen(kw_only=True)
class Dripline:
    """How dripline lies in one bed: spacings and length in metres, flow of one emitter and of all L/h, rate mm/h."""

    soil: SoilKind
    row_spacing: float
    emitter_spacing: float
    emitter_flow: float
    length: float
    emitters: int
    litres_an_hour: float
    rate: float


@attrs.frozen(kw_only=True)
class Watered:
    """What is watered by itself: ``litres`` a month after mean rain, ``dry`` litres a month without rain."""

    litres: Months
    dry: Months

    @property
    def mean_year(self) -> float:
        """Litres in a year of mean rain."""
        return sum(self.litres)

    @property
    def peak_month(self) -> int:
        """Month, 1 to 12, of the greatest need when no rain falls."""
        return max(range(12), key=lambda m: self.dry[m]) + 1

    def dry_week(self, month: int) -> float:
        """Return litres a week without rain in a month, 1 to 12."""
        return self.dry[month - 1] / DAYS[month - 1] * 7


@attrs.frozen(kw_only=True)
class BedWater(Watered):
    """One bed as a watering zone: its thirstiest plant sets the factor. The drip runs ``minutes_a_week`` when it is
    dry.
    """

    bed: str
    area: float
    factor: float
    thirst: str
    thirstiest: str
    minutes_a_week: Months
    drip: Dripline
    mixed: bool = False


def thirst(species: Species) -> str:
    """Return low, moderate or high: what the plant needs, from the driest ground the catalogue says it takes."""
    taken = [THIRST[word] for word in _DRIEST if word in species.moisture]
    return taken[0] if taken else "moderate"


def soil_kind(soil: Soil) -> SoilKind:
    """Return sandy, loam or clay; loam while the texture is not known."""
    kind = soil_texture(soil)
    return soil_group(kind) if kind else "loam"


def emitter_flow(areas: Sequence[float], soil: SoilKind, units: System = "imperial") -> Figure:
    """Return what one emitter of a garden gives: what is usual in its soil, or less where a bed of these areas would
    ask more of a tap than it gives and would be cut up among many valves.
    """
    usual = EMITTER_FLOW[soil]
    asks = max((dripline(area, soil, units=units).litres_an_hour for area in areas), default=0.0)
    return SMALL_FLOW.get(soil, usual) if asks > TAP else usual


def dripline(area: float, soil: SoilKind, flow: Figure | None = None, units: System = "imperial") -> Dripline:
    """Return the dripline for ``area`` m2 of bed: rows as far apart as the soil carries water sideways; emitters as
    usual in it, or of another ``flow``.
    """
    if area <= 0:
        raise GardenError(f"a bed of {area:g} m2 takes no dripline; give an area above 0")
    row, every = (as_built(far, units) for far in (ROW_SPACING[soil], EMITTER_SPACING[soil]))
    each = float(flow or EMITTER_FLOW[soil])
    length = area / row
    emitters = max(1, math.ceil(round(length / every, 6)))
    return Dripline(
        soil=soil,
        row_spacing=row,
        emitter_spacing=every,
        emitter_flow=each,
        length=length,
        emitters=emitters,
        litres_an_hour=emitters * each,
        rate=dripline_mm_an_hour(each, row_spacing=row, emitter_spacing=every),
    )


def emitter_spacing(wetted_depth: float, soil: SoilKind) -> float:
    """Return metres between emitters so that the soil is wet through to ``wetted_depth`` metres without dry gaps."""
    if wetted_depth <= 0:
        raise GardenError(f"a wetted depth of {wetted_depth:g} m wets nothing; give half the root depth, above 0")
    return wetted_depth * SPACING_TO_DEPTH[soil]


def reference(climate: Climate, *, latitude: float, elevation: float) -> ReferenceWater | None:
    """Return monthly reference water use, None while the climate has no monthly temperatures."""
    if climate.tmin is None or climate.tmax is None:
        return None
    return reference_water(climate, latitude=latitude, elevation=elevation)


def drained_months(climate: Climate) -> tuple[int, ...]:
    """Return the months, 1 to 12, in which the pipes are drained against frost; none while the climate is not known."""
    return tuple(month for month, low in enumerate(climate.tmin or (), start=1) if low < DRAINED_BELOW)


def bed_water(project: Project, worked: Layout, catalogue: Catalogue) -> tuple[BedWater, ...]:
    """Return every bed that plants or crops stand on as a watering zone; nothing while the climate has no monthly
    temperatures.
    """
    standing = worked.plants_by_bed(project.planting.plants)
    kinds = {name: {catalogue[plant.species] for plant in some} for name, some in standing.items()}
    for crop in project.planting.crops:
        if crop.species in catalogue:
            kinds.setdefault(crop.bed, set()).add(catalogue[crop.species])
    return _waters(project, worked, kinds)


def _waters(project: Project, worked: Layout, kinds: Mapping[str, set[Species]]) -> tuple[BedWater, ...]:
    """Return the beds with some kinds on them as watering zones."""
    place, climate = project.site.place, project.site.climate
    if place == Place():
        return ()
    eto = reference(climate, latitude=place.latitude, elevation=place.elevation)
    if eto is None:
        return ()
    soil, found = soil_kind(project.site.soil), []
    planted = [bed for bed in worked.beds if kinds.get(bed.name) and bed.area > 0]
    flow, cold = emitter_flow([bed.area for bed in planted], soil, project.units), drained_months(climate)
    for bed in planted:
        of_bed = sorted(kinds[bed.name], key=lambda s: s.botanical)
        one = zone(
            bed.name, bed.area, of_bed, eto, climate.rain, soil=soil, flow=flow, units=project.units, drained=cold
        )
        found.append(one)
    return tuple(found)


def zone(
    name: str,
    area: float,
    kinds: Sequence[Species],
    eto: ReferenceWater,
    rain: Months | None,
    *,
    soil: SoilKind,
    flow: Figure | None = None,
    units: System = "imperial",
    drained: Collection[int] = (),
) -> BedWater:
    """Return one bed's water: the factor of its thirstiest kind, need after rain and without, drip minutes a week: none
    in months (1 to 12) in which the pipes are ``drained``.
    """
    words = [thirst(s) for s in kinds]
    factor = hydrozone_factor(words, family=FAMILY)
    thirstiest = next(s for s, w in zip(kinds, words, strict=True) if hydrozone_factor([w], family=FAMILY) == factor)
    litres = water_need(eto.mm_a_day, area=area, factor=factor, rain_mm=rain)
    dry = water_need(eto.mm_a_day, area=area, factor=factor, rain_method="none")
    drip = dripline(area, soil, flow, units)
    minutes = tuple(
        0.0 if month in drained else run_minutes(need / area / days * 7, rate_mm_an_hour=drip.rate)
        for month, (need, days) in enumerate(zip(dry, DAYS, strict=True), start=1)
    )
    return BedWater(
        bed=name,
        area=area,
        factor=float(factor),
        thirst=thirst(thirstiest),
        thirstiest=thirstiest.botanical,
        litres=litres,
        dry=dry,
        minutes_a_week=minutes,
        drip=drip,
        mixed=len(set(words)) > 1,
    )


def water_findings(waters: Sequence[BedWater], eto: ReferenceWater | None) -> tuple[Finding, ...]:
    """Return a note on beds where thirsty and dry plants share one line, and how the figures were found."""
    found = []
    mixed = [f"{water.bed} (for {water.thirstiest}, {water.thirst})" for water in waters if water.mixed]
    if mixed:
        what = f"plants of unlike thirst share a bed, so it is watered for the thirstiest: {', '.join(mixed)}"
        found.append(Finding(where="water", what=what, source="Utah State Univ., psc_facpub 771", topic="water"))
    if eto is None:
        what = "the climate has no monthly temperatures, so no water need is worked out; type twelve of each"
        found.append(Finding(where="water", what=what, seriousness="caution", topic="water"))
    else:
        what = f"mean months, {eto.method} ({eto.why}); dry spells need more than the mean"
        found.append(Finding(where="water", what=what, source="FAO Irrigation and Drainage Paper 56", topic="water"))
        found += eto.findings
    return tuple(found)


# ---- new trees


def tree_litres(caliper: float) -> float:
    """Return litres a watering for a new tree of ``caliper`` metres (trunk at planting)."""
    if caliper <= 0:
        raise GardenError(f"a caliper of {caliper:g} m is no trunk; give its diameter at planting, above 0")
    return caliper * TREE_WATER


def first_weeks_litres(caliper: float) -> float:
    """Return litres for the first ten weeks of a new tree: daily two weeks, then every other day."""
    return tree_litres(caliper) * sum(stage.times for stage in STAGES)
