"""How figures are worded for the client: rows of the copy's tables, in the garden's own units."""

from collections.abc import Callable
from typing import Any

from gardenkit.brief.wants import Judged, shown
from gardenkit.drawing.garden import MONTHS
from gardenkit.handover.contents import Contents
from gardenkit.planting.species import grades_text
from gardenkit.schedules import care, irrigation, orders, quantities
from gardenkit.schedules.lines import Line
from gardenkit.site.water import gallons
from gardenkit.structure.kinds.support_parts import Part
from gardenkit.units import INCH, System, show_area, show_length

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
        "weight": item.want.weight,
        "verdict": WORDS_OF_VERDICT[item.verdict],
        "measured": item.measured(units).replace(" %", "\u00a0%"),
        "helps": item.helps,
    }


def areas(told: Contents) -> list[tuple[str, str, str, str]]:
    """Return (kind, name, area, edge) of every bed, path and patch."""
    units = told.project.units
    rows = quantities.areas(told.garden.layout)
    return [(kind, name, show_area(square, units), show_length(edge, units)) for kind, name, square, edge in rows]


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


def part_count(part: Part, units: System) -> str:
    """Return how many of a part, or how much of it."""
    if part.unit in ("m", "m2"):
        return shown(part.count, part.unit, units)
    return f"{part.count:g} {part.unit}" if part.unit not in ("", "pieces") else f"{part.count:g}"


def money(told: Contents) -> Callable[[float], str]:
    """Return how sums are written: whole amounts plain, cents below 100 only where there are any."""
    currency = told.project.brief.currency

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


def tree_water(told: Contents) -> str:
    """Return how to water a new tree, nothing for a garden without one."""
    woody = any(kind.layer in ("tree", "conifer") for kind in told.kinds)
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
