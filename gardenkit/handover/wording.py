"""How figures are worded for the client: rows of the copy's tables, in the garden's own units."""

from collections.abc import Callable
from typing import Any

from gardenkit.brief.wants import Judged, shown
from gardenkit.brief.wants import told as told_in_a_line
from gardenkit.drawing.garden import MONTHS
from gardenkit.findings import Finding
from gardenkit.garden import Garden
from gardenkit.garden.of_area import GardenOfArea
from gardenkit.geometry import plane
from gardenkit.handover.contents import Contents
from gardenkit.planting.season import halves_words
from gardenkit.planting.species import grades_text
from gardenkit.schedules import care, irrigation, orders, quantities, watering
from gardenkit.schedules.lines import Line
from gardenkit.schedules.span import Span
from gardenkit.site.water import gallons
from gardenkit.sources import COMMON, HOUSE, PLAIN
from gardenkit.structure.kinds.support_parts import Part
from gardenkit.structure.kinds.things_set_down import A_POT_SAID
from gardenkit.units import INCH, System, show_area, show_length

HEEDED = ("building", "permit", "safety")  # topics of advice that the client reads too
OWN = (HOUSE, COMMON, PLAIN, "from memory", "designer", "not found in")  # of a source that is no publication
BED_ITEMS = ("mulch", "compost")
WORDS_OF_VERDICT = {
    "met": "met",
    "partly met": "partly met",
    "not met": "not met",
    "not yet known": "not yet known",
    "to be judged by eye": "by eye",
}


def want(item: Judged, units: System) -> dict[str, str]:
    """Return one wish with its verdict and what was measured."""
    return {
        "text": item.want.text,
        "whom": item.want.whom,
        "area": item.want.area,
        "weight": item.want.weight,
        "verdict": WORDS_OF_VERDICT[item.verdict],
        "measured": item.measured(units).replace(" %", "\u00a0%"),
        "helps": item.helps,
        "where": item.where,
    }


def areas(told: Contents) -> list[tuple[str, str, str, str]]:
    """Return (kind, name, area, edge) of every bed, path and area."""
    units = told.project.units
    rows = quantities.areas(told.garden.counted_layout)
    return [(kind, name, show_area(square, units), show_length(edge, units)) for kind, name, square, edge in rows]


def property_areas(garden: Garden) -> list[dict[str, str]]:
    """Return the areas of the property in the order in which they are worked on, with how far each has come."""
    rows, project = [], garden.project
    for area in project.areas:
        part = GardenOfArea(garden.whole, area.name)
        asked = any(want.area == area.name for want in project.brief.wants)
        judged = [one for one in garden.whole.wants if one.want.area == area.name] if asked else []
        ground = plane.area(part.area_ground)
        rows.append(
            {
                "name": area.name,
                "stands": area.stands,
                "ground": show_area(ground, project.units) if ground else "not drawn yet",
                "plants": f"{len(part.planted)}",
                "cost": f"{part.costs.currency}{part.costs.total:,.0f}",
                "wants": told_in_a_line(judged) if judged else "none of its own",
            }
        )
    return rows


def bed_lines(told: Contents) -> list[tuple[str, str, list[str]]]:
    """Return (bed, ground, [amount of mulch, of compost])."""
    units = told.project.units
    found: dict[str, dict[str, Line]] = {}
    for line in told.garden.quantities:
        if line.item in BED_ITEMS:
            found.setdefault(line.where, {})[line.item] = line
    return [
        (
            bed,
            show_area(max(line.area for line in items.values()), units),
            [items[i].shown(units) if i in items else "" for i in BED_ITEMS],
        )
        for bed, items in found.items()
    ]


def bed_rules(told: Contents) -> list[str]:
    """Return how mulch and compost were reckoned, each rule once with its source."""
    listed = (f"{line.item}: {line.rule} ({line.source})" for line in told.garden.quantities if line.item in BED_ITEMS)
    return list(dict.fromkeys(listed))


def cautions(told: Contents) -> list[dict[str, Any]]:
    """Return what to beware of in each listed plant, in columns."""
    grades = {finding.where: finding.seriousness for finding in told.garden.cautions}
    return [
        {
            "name": kind.botanical,
            "common": kind.common,
            "grade": grades[kind.botanical],
            "toxic": grades_text(kind) or "none listed",
            "invasive": "; ".join(entry.sentence() for entry in kind.invasive) or "not in the lists consulted",
            "remarks": "; ".join(kind.cautions),
        }
        for kind in told.kinds
        if kind.botanical in grades
    ]


def caution_sources(told: Contents) -> list[str]:
    """Return what the cautions were looked up in, each once."""
    return list(dict.fromkeys(finding.source for finding in told.garden.cautions if finding.source))


def care_months(told: Contents) -> list[tuple[str, tuple[tuple[str, tuple[care.Task, ...]], ...]]]:
    """Return (month, like tasks together) for the whole year."""
    months = care.by_month(told.garden.care)
    return [(name, care.grouped(tasks)) for name, tasks in zip(MONTHS, months, strict=True)]


def flowers(told: Contents) -> dict[str, str]:
    """Return in which months each kind flowers, in words, by its botanical name."""
    found = {row.botanical: halves_words(row.halves, MONTHS) for row in told.garden.bloom}
    return {kind.botanical: found.get(kind.botanical, "") for kind in told.kinds}


def heeded(told: Contents) -> list[Finding]:
    """Return the cautions that whoever lives with the garden, or works in it, wants to know."""
    return [line for line in told.garden.said if line.seriousness == "caution" and line.topic in HEEDED]


def cost_groups(told: Contents) -> list[tuple[str, float]]:
    """Return (words, sum) of what the cost is made of; the sums add up to the whole."""
    costs = told.garden.costs
    rows = [
        ("Plants", costs.plants),
        ("Materials", costs.materials),
        (f"Reserve, {costs.pricing.contingency:g} %, for losses and cuts", costs.reserve),
    ]
    return [row for row in rows if row[1]]


def estimate(garden: Garden) -> list[tuple[str, Span]]:
    """Return (words, low to high) of all that is paid, one below the other: the last row is everything."""
    costs, pricing = garden.costs, garden.costs.pricing
    rate = "no rate yet" if costs.rate is None else f"{costs.currency}{costs.rate:,.2f} an hour"
    rows = [
        ("Plants and materials, with their reserve", costs.bought),
        (f"Labour, about {costs.hours.likely:,.0f} hours of one person, {rate}", costs.labour),
        (f"Reserve for labour, {pricing.contingency:g} %", costs.labour_reserve),
        (f"Delivery, {pricing.delivery:g} % of plants and materials", costs.delivery),
        (f"Tax, {pricing.tax:g} %", costs.tax),
    ]
    kept = [row for row in rows if row[1].high or row[0].startswith("Labour")]
    return [*kept, ("Everything named here", costs.everything)]


def budget(garden: Garden) -> str:
    """Return the client's budget and what it covers in words, empty without one."""
    brief = garden.project.brief
    if brief.budget is None:
        return ""
    return f"budget for {brief.budget_covers} {brief.currency}{brief.budget:,.0f}"


def round_span(garden: Garden) -> str:
    """Return what everything comes to as one range, to two figures: that is as well as it is known."""
    costs = garden.costs
    low, high = (f"{float(f'{amount:.2g}'):,.0f}" for amount in (costs.everything.low, costs.everything.high))
    return f"{costs.currency}{low} to {costs.currency}{high}"


def published(told: Contents) -> list[str]:
    """Return the publications behind the figures, each once; what is our own stands in a note."""
    parts = (piece.strip() for _, named in told.sources for source in named for piece in source.split(";"))
    bare = (piece.removeprefix("agrees with ").strip() for piece in parts)
    return sorted({piece for piece in bare if piece and not any(own in piece for own in OWN)}, key=str.casefold)


def spell(months: tuple[int, ...]) -> str:
    """Return months of flower as words: one span where they follow one another, over the new year too."""
    if not months:
        return ""
    first = next((m for m in months if (m + 10) % 12 + 1 not in months), months[0])
    last = next((m for m in months if m % 12 + 1 not in months), months[-1])
    return MONTHS[first - 1] if first == last else f"{MONTHS[first - 1]} to {MONTHS[last - 1]}"


def part_count(part: Part, units: System) -> str:
    """Return how many of a part, or how much of it."""
    if part.unit in ("m", "m2"):
        return shown(part.count, part.unit, units)
    return f"{part.count:g} {part.unit}" if part.unit not in ("", "pieces") else f"{part.count:g}"


def money(told: Contents) -> Callable[[float], str]:
    """Return how sums are written: whole amounts plain, cents below 100 only where there are any."""
    currency = told.garden.costs.currency

    def written(amount: float) -> str:
        whole = abs(amount - round(amount)) < 0.005 or amount >= 100
        return f"{currency}{amount:,.0f}" if whole else f"{currency}{amount:,.2f}"

    return written


def water(told: Contents) -> list[dict[str, Any]]:
    """Return one row a bed: water a week without rain by month, and how its dripline lies and runs."""
    imperial = told.project.units == "imperial"
    rows = []
    for bed in told.garden.water:
        weeks = [bed.dry_week(month) for month in range(1, 13)]
        mean = bed.mean_year
        rows.append(
            {
                "bed": bed,
                "months": [f"{gallons(week) if imperial else week:,.0f}" for week in weeks],
                "mean": f"{gallons(mean) if imperial else mean:,.0f}",
                "minutes": f"{bed.minutes_a_week[bed.peak_month - 1] / irrigation.WATERINGS:.0f}",
                "peak": MONTHS[bed.peak_month - 1],
                "length": orders.whole_length(bed.drip.length, told.project.units),
                "every": show_length(bed.drip.emitter_spacing, told.project.units, small=True),
                "rows": show_length(bed.drip.row_spacing, told.project.units, small=True),
            }
        )
    return rows


def liquid(litres: float, units: System) -> str:
    """Return litres, or US gallons, for people."""
    return f"{gallons(litres):,.0f} US gal" if units == "imperial" else f"{litres:,.0f} L"


def trickle(litres: float, units: System) -> str:
    """Return what one emitter gives, in litres or US gallons, to a tenth."""
    return f"{gallons(litres):.1f} US gal" if units == "imperial" else f"{litres:.1f} L"


def water_of_a_year(garden: Garden) -> list[tuple[str, str]]:
    """Return what and how much: pots and lawns, which no dripline waters, then what a mean and a dry year ask for."""
    of, units = garden.watering, garden.units
    potted = [
        (
            f"{pot.name}: by hand",
            f"{trickle(pot.each_time, units)} each time, {A_POT_SAID} of the {trickle(pot.holds, units)} it holds, "
            "daily in heat, until it runs out below",
        )
        for pot in watering.pots(garden.project.structure.things)
    ]
    if of is None:
        return potted
    rows = [
        (
            f"{lawn.name}: a zone of its own",
            f"{show_area(lawn.area, units)} of turf by hose or sprinkler, "
            f"{liquid(lawn.dry_week(lawn.peak_month), units)} a week without rain in {MONTHS[lawn.peak_month - 1]}",
        )
        for lawn in of.lawns
    ]
    butts = f"; butts give {liquid(of.from_roofs, units)} of the latter" if of.from_roofs >= 1 else ""
    mean, little = liquid(of.mean, units), liquid(of.little, units)
    said = f"{mean} in a year of mean rain, {little} in one of half the rain{butts}"
    return [*potted, *rows, ("all beds and lawns, grown in", said)]


def tree_water(told: Contents) -> str:
    """Return how to water a new tree, nothing for a garden without one."""
    woody = any(kind.is_tree for kind in told.kinds)
    if not woody:
        return ""
    caliper = 2 * INCH  # a usual nursery tree. House value.
    each, weeks = irrigation.tree_litres(caliper), irrigation.first_weeks_litres(caliper)
    imperial = told.project.units == "imperial"
    inch, rain = ("2 in", "An inch") if imperial else ("5 cm", "25 mm")

    def written(litres: float) -> str:
        return f"{gallons(litres):,.0f} US gal" if imperial else f"{litres:,.0f} L"

    return (
        f"A new tree of {inch} caliper: {written(each)} every day for two weeks, then "
        f"every other day for two months, then weekly: about {written(weeks)} in the first ten weeks. "
        f"{rain} of rain in a week does instead. {irrigation.COOPERATIVE}."
    )
