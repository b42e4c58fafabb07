"""What butts, cisterns, rain gardens and soakaways of a garden do with its rain: how full, how often dry, how large."""

import calendar
import math
from collections.abc import Iterable, Mapping, Sequence

import attrs

from gardenkit.findings import Finding
from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.schedules.irrigation import BedWater, soil_kind
from gardenkit.site import rainwater, soakaway
from gardenkit.site.rainwater import Stored
from gardenkit.sources import HOUSE
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.things_drains import SOAKAWAY_DEEP
from gardenkit.structure.structure import Thing
from gardenkit.structure.things import beds_inside
from gardenkit.units import INCH, listed, show_area, show_length, show_volume

MONTHS = tuple(calendar.month_name)[1:]
TOPIC = "water"
TOO_SMALL = "soakaway too small"


def roof_of(project: Project, thing: Thing) -> tuple[float, str]:
    """Return the m2 of roof whose rain a thing takes, and in words where that is from; 0 without a building.

    While it was not said it is a quarter of the nearest building, as of a house with four downpipes.
    """
    if thing.roof:
        return thing.roof, "as recorded"
    near = min(
        project.site.buildings,
        key=lambda house: plane.distance(plane.region(house.outline), plane.point(thing.at)),
        default=None,
    )
    if near is None:
        return 0.0, "no building on record"
    share = plane.area(plane.region(near.outline)) / rainwater.TYPICAL_DOWNPIPES
    return share, f"a quarter of {near.name}, until it is said"


def stored(project: Project, thing: Thing, water: Sequence[BedWater]) -> Stored | None:
    """Return how a butt or cistern gets through a year of mean rain; None while the monthly rain is not known.

    It is asked for what raised beds want after mean rain, or all beds where there are none.
    """
    rain, litres = project.site.climate.rain, thing_kind(thing.kind).litres
    if rain is None or litres is None:
        return None
    area, _ = roof_of(project, thing)
    asked = [math.fsum(bed.litres[month] for bed in _wanting(project, water)) for month in range(12)]
    return rainwater.through_the_year(litres(thing), [rainwater.roof_litres(area, mm) for mm in rain], asked)


def stores(project: Project, water: Sequence[BedWater]) -> dict[str, Stored]:
    """Return every butt and cistern by name with its year, each asked for what those before it leave."""
    found: dict[str, Stored] = {}
    left = _wanting(project, water)
    for thing in project.structure.things:
        year = stored(project, thing, left) if thing_kind(thing.kind).takes_rain else None
        if year is not None and roof_of(project, thing)[0]:
            found[thing.name] = year
            share = [short / asked if asked > 0 else 0.0 for short, asked in zip(year.short, year.asked, strict=True)]
            left = [
                attrs.evolve(bed, litres=tuple(a * b for a, b in zip(bed.litres, share, strict=True))) for bed in left
            ]
    return found


def share_given(found: Mapping[str, Stored]) -> float:
    """Return which share of what the first of the stores is asked for they give together: 0 without one, 1 where
    nothing is asked.
    """
    years = list(found.values())
    if not years:
        return 0.0
    asked = math.fsum(years[0].asked)
    return math.fsum(year.given for year in years) / asked if asked > 0 else 1.0


def rain_findings(project: Project, water: Sequence[BedWater]) -> tuple[Finding, ...]:
    """Return what is to be said about every butt, cistern, rain garden and soakaway."""
    found: list[Finding] = []
    years = stores(project, water)
    for thing in project.structure.things:
        kind = thing_kind(thing.kind)
        if kind.takes_rain and kind.litres is not None:
            before = list(years)[: list(years).index(thing.name)] if thing.name in years else []
            found += _store(project, thing, years.get(thing.name) if water else None, before)
        elif kind.takes_rain:
            found += _rain_garden(project, thing) if kind.inside else _soakaway(project, thing)
    return tuple(found)


def enlarged(project: Project, thing: Thing) -> tuple[float, float]:
    """Return width and depth of a soakaway that holds its storm, in whole tenths of a metre; as it is without roof."""
    area, _ = roof_of(project, thing)
    if not area:
        return thing.width, thing.depth
    k = soakaway.stretched(_pit(thing), area, _ground_takes(project), hour=_hour(project))
    return math.ceil(10 * k * thing.width - 1e-6) / 10, math.ceil(10 * k * thing.depth - 1e-6) / 10


# ---- helpers


def _wanting(project: Project, water: Sequence[BedWater]) -> list[BedWater]:
    """Return the beds that butts are for: the raised ones, or all where there are none."""
    raised = {bed.name for bed in beds_inside(project.structure.things)}
    return [bed for bed in water if bed.bed in raised] or list(water)


def _store(project: Project, thing: Thing, year: Stored | None, before: Sequence[str]) -> Iterable[Finding]:
    area, words = roof_of(project, thing)
    if not area:
        yield _finding(thing, "stands under no roof on record; draw the building whose rain it takes", HOUSE)
        return
    roof = f"{show_area(area)} of roof ({words})"
    if project.site.climate.rain is None:
        yield _finding(thing, f"takes the rain of {roof}; give the monthly rain to see when it runs dry", HOUSE)
    elif year is None:
        yield _finding(thing, f"takes the rain of {roof}; nothing is planted yet that it would water", HOUSE)
    elif year.dry:
        when = ", ".join(MONTHS[month - 1] for month in year.dry)
        of = f"what {listed(before)} leave its beds wanting" if before else "what its beds want"
        what = f"with the rain of {roof} it gives {year.met:.0%} of {of} in a year and runs dry in {when}"
        yield _finding(thing, what, rainwater.EFFICIENCY.source)
    else:
        yield _finding(thing, f"with the rain of {roof} it never runs dry in a mean year", rainwater.EFFICIENCY.source)


def _rain_garden(project: Project, thing: Thing) -> Iterable[Finding]:
    area, words = roof_of(project, thing)
    depth = thing.height
    if not rainwater.LEAST_DEPTH - 1e-9 <= depth <= rainwater.MOST_DEPTH + 1e-9:
        low, high = show_length(rainwater.LEAST_DEPTH, small=True), show_length(rainwater.MOST_DEPTH, small=True)
        what = f"lets water stand {show_length(depth, small=True)} deep; usual is {low} to {high}"
        yield _finding(thing, what, rainwater.LEAST_DEPTH.source, caution=True)
    if not area:
        yield _finding(thing, "takes the rain of no roof on record; draw the building, or say the roof", HOUSE)
        return
    floor = next(plane.area(plane.region(bed.outline)) for bed in beds_inside((thing,)))
    simple = rainwater.rain_garden_area(area, depth)
    kind = soil_kind(project.site.soil)
    by_soil = rainwater.rain_garden_by_soil(area, depth, kind)
    small = floor < simple - 0.005
    what = (
        f"its floor is {show_area(floor)}; the first {show_length(1 * INCH, small=True)} of rain from "
        f"{show_area(area)} of roof ({words}) wants {show_area(simple)}, the size factor for {kind} "
        f"ground {show_area(by_soil)}"
    )
    yield _finding(thing, what, f"{rainwater.FIRST_INCH.source}; {rainwater.WISCONSIN}", caution=small)
    if floor > rainwater.SPLIT_FROM:
        yield _finding(thing, "is so large that two smaller ones fill more evenly", rainwater.SPLIT_FROM.source)


def _soakaway(project: Project, thing: Thing) -> Iterable[Finding]:
    area, words = roof_of(project, thing)
    if not area:
        yield _finding(thing, "takes the rain of no roof on record; draw the building, or say the roof", HOUSE)
        return
    pit, rate = _pit(thing), _ground_takes(project)
    roof, deep = f"{show_area(area)} of roof ({words})", show_length(pit.deep)
    if rate is None:
        wanted = soakaway.quick_volume(area)
        small = pit.length * pit.width * pit.deep < wanted - 0.005
        what = (
            f"is a pit of {show_volume(pit.length * pit.width * pit.deep)}; {roof} wants {show_volume(wanted)} on "
            "ground that soaks well. Test how fast a filled hole drains, and the storm of ten years is worked out"
        )
        yield _finding(thing, what, soakaway.QUICK.source, caution=True, rule=TOO_SMALL if small else "")
        return
    if rate < soakaway.LEAST_RATE:
        what = (
            "lies in ground that takes too little water for a soakaway; lead the rain to a rain garden, tank or drain"
        )
        yield _finding(thing, what, soakaway.LEAST_RATE.source, caution=True)
        return
    most = soakaway.balance(pit, area, rate, hour=_hour(project))
    small = pit.holds < most.wanted - 0.005
    lasts = f"{most.minutes // 60} h" if most.minutes >= 60 else f"{most.minutes} minutes"
    what = (
        f"holds {show_volume(pit.holds)} in its voids, {deep} deep; the storm of ten years that asks most of it lasts "
        f"{lasts}: {roof} brings {show_volume(most.brings)}, {show_volume(most.soaks)} soak away meanwhile, and "
        f"{show_volume(most.wanted)} are to be held"
    )
    yield _finding(thing, what, soakaway.BALANCE, caution=small, rule=TOO_SMALL if small else "")
    if most.hours > soakaway.HALF_EMPTY:
        what = f"is half empty only {most.hours:.0f} h after its storm, not within a day; make it longer and narrower"
        yield _finding(thing, what, soakaway.HALF_EMPTY.source, caution=True)
    if project.site.climate.storm is None:
        hour = show_length(soakaway.USUAL_HOUR / 1000, small=True)
        what = (
            f"is sized for {hour} of rain in an hour, once in ten years; type what your weather service says for here"
        )
        yield _finding(thing, what, soakaway.USUAL_HOUR.source, caution=True)


def _pit(thing: Thing) -> soakaway.Pit:
    return soakaway.Pit(length=thing.width, width=thing.depth, deep=float(SOAKAWAY_DEEP))


def _ground_takes(project: Project) -> float | None:
    drop = project.site.soil.drainage_mm_per_hour
    return None if drop is None else soakaway.soaking(drop)


def _hour(project: Project) -> float:
    return float(project.site.climate.storm or soakaway.USUAL_HOUR)


def _finding(thing: Thing, what: str, source: str, *, caution: bool = False, rule: str = "") -> Finding:
    return Finding(
        where=f'{thing.kind} "{thing.name}"',
        what=what,
        source=source,
        seriousness="caution" if caution else "note",
        at=thing.at,
        topic=TOPIC,
        subject=("thing", thing.name),
        rule=rule,
    )
