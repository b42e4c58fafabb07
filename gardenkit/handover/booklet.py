"""The client copy: one HTML file with plan, plants, costs and the year's work, that opens anywhere with no network."""

from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from gardenkit.brief.wants import FACTS, Judged
from gardenkit.drawing import charts, style
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.live_copy import FULL_MONTH, FULL_YEAR, LAST_YEAR, LiveCopy, live_copy, open_hours
from gardenkit.drawing.overlays import sun_marks
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.handover.contents import CONFIRM, NOTICES, SAFETY, Contents, bloom_rows, contents, keys_of
from gardenkit.planting.bloom import kinds_by_month
from gardenkit.project import Project
from gardenkit.project.sunlight import SunMap
from gardenkit.schedules import care, irrigation, quantities
from gardenkit.site.water import gallons
from gardenkit.structure.support_parts import Part
from gardenkit.units import FOOT, INCH, System, feet_inches, show_area, show_length

SCREEN_PX = 760.0
PRINT_SCALE = 96.0  # 1/8" = 1'-0" fits most home gardens on one page
SUN_MONTHS = (3, 6, 9, 12)  # shown as still pictures for print
BED_ITEMS = ("mulch", "compost")
WORDS_OF_VERDICT = {
    "met": "met",
    "not met": "not met",
    "not yet known": "not yet known",
    "to be judged by eye": "by eye",
}


def write(project: Project, folder: Path, target: Path, *, sun: SunMap | None = None, with_sun: bool = True) -> int:
    """Write the client copy of a garden to ``target`` and return its size in bytes.

    ``folder`` holds the garden's pictures, own plants and own prices. Raises GardenError for a plant that is not known.
    """
    content = render(project, folder, sun=sun, with_sun=with_sun).encode("utf-8")
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(content)
    return len(content)


def render(project: Project, folder: Path, *, sun: SunMap | None = None, with_sun: bool = True) -> str:
    """Return the client copy of a garden as one HTML page that asks the network for nothing."""
    return page(contents(project, folder, sun=sun, with_sun=with_sun))


def page(told: Contents) -> str:
    """Return the page of contents that are already worked out."""
    from jinja2 import Environment, FunctionLoader, StrictUndefined, select_autoescape

    environment = Environment(
        loader=FunctionLoader(_template), autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    return environment.get_template("client_copy.html").render(**_shown(told))


# ---- what the template is given


def _shown(told: Contents) -> dict[str, Any]:
    project = told.project
    units, live, plan = project.units, _live(told), _plan_scene(told, PRINT_SCALE)
    return {
        "project": project, "told": told, "live": live, "style": style, "months": MONTHS, "short_months": style.MONTHS,
        "css": _template("client_copy.css"), "script": _template("client_copy.js"),
        "plan": svg(plan), "plan_words": plan.description,
        "bloom_chart": _bloom_chart(told), "bloom_months": _bloom_months(told),
        "sun_pictures": _sun_pictures(told), "sun_key": _sun_key(), "sun_rows": told.sun_by_bed,
        "wants": [_want(item, units) for item in told.wants], "plants": told.plants, "areas": _areas(told),
        "bed_lines": _bed_lines(told), "bed_rules": _bed_rules(told),
        "lines": [
            (line, line.shown(units), _other(line.amount, line.unit, units))
            for line in told.lines if line.item not in BED_ITEMS
        ],
        "parts": quantities.support_parts(project), "part_count": _part_count, "orders": told.orders,
        "units": units, "costs": told.costs, "money": _money(told), "water": _water(told),
        "tree_water": _tree_water(told), "care_months": _care_months(told),
        "phases": told.phases, "findings": told.findings, "cautions": _cautions(told),
        "caution_sources": _caution_sources(told), "sources": told.sources,
        "confirm": CONFIRM, "safety": SAFETY, "not_listed": NOTICES[0], "no_listing": NOTICES[1],
        "rough": lambda metres: rough_length(metres, units), "gloves": care.GLOVES, "high": care.HIGH,
        "length": lambda metres: show_length(metres, units), "area": lambda square: show_area(square, units),
        "full_year": FULL_YEAR, "full_month": MONTHS[FULL_MONTH - 1], "last_year": LAST_YEAR,
        "contents": _headings(told, live),
    }  # fmt: skip


def _headings(told: Contents, live: LiveCopy | None) -> list[tuple[str, str]]:
    """Return (anchor, words) of the sections that this garden has."""
    planted = bool(told.plants)
    rows: list[tuple[bool, str, str]] = [
        (bool(told.project.brief.wants or told.pictures), "wishes", "What you asked for"),
        (live is not None, "live", "The garden through the year"),
        (told.sun is not None, "sun", "Sun on the ground"),
        (True, "plan", "The plan on paper"),
        (bool(told.bloom), "bloom", "What flowers when"),
        (planted, "plants", "Plant schedule"),
        (bool(told.cautions), "cautions", "Plants to be careful with"),
        (bool(told.lines), "materials", "Materials"),
        (bool(told.costs.lines), "cost", "Cost"),
        (bool(told.water), "water", "Water"),
        (bool(told.care), "care", "The year's work"),
        (True, "order", "Order of work"),
        (bool(told.findings), "findings", "What we found"),
        (True, "sources", "Sources and limits"),
    ]
    return [(anchor, words) for there, anchor, words in rows if there]


def _plan_scene(told: Contents, scale: float, *, plants: bool = True, to_scale: bool = False) -> Scene:
    return garden_scene(
        told.project, told.worked, told.catalogue, year=FULL_YEAR, month=FULL_MONTH, plants=plants, scale=scale,
        to_scale=to_scale, textures=plants, title=told.project.name if plants else "Sun on the ground",
    )  # fmt: skip


def _live(told: Contents) -> LiveCopy | None:
    if not told.project.site.boundary:
        return None
    scale = screen_scale(told.project.site, width_px=SCREEN_PX)
    bare = _plan_scene(told, scale, plants=False) if told.sun is not None else None
    return live_copy(told.project, told.catalogue, _plan_scene(told, scale), sun=told.sun, bare=bare)


def _bloom_chart(told: Contents) -> str:
    return (
        svg(charts.bloom_calendar(bloom_rows(told.bloom, keys_of(told.project, told.catalogue)))) if told.bloom else ""
    )


def _bloom_months(told: Contents) -> list[tuple[str, tuple[str, ...]]]:
    by_month = kinds_by_month(told.bloom)
    return [(name, by_month[number]) for number, name in enumerate(MONTHS, start=1)]


def _sun_pictures(told: Contents) -> list[tuple[str, str]]:
    if told.sun is None:
        return []
    hours, grid = open_hours(told.sun, told.project), told.sun.grid
    found = []
    for month in SUN_MONTHS:
        marks = sun_marks(np.asarray(hours[month - 1]), x0=grid.left, y0=grid.bottom, cell=grid.cell)
        mean = float(np.nanmean(hours[month - 1]))
        scene = garden_scene(
            told.project, told.worked, plants=False, extra=marks, scale=192.0, textures=False, names=False,
            title=MONTHS[month - 1],
        )  # fmt: skip
        words = f"Sun map for {MONTHS[month - 1]}: {mean:.1f} hours of direct sun a day on average; beds in the table."
        found.append((MONTHS[month - 1], svg(_described(scene, words))))
    return found


def _described(scene: Scene, words: str) -> Scene:
    import attrs

    return attrs.evolve(scene, description=words)


def _sun_key() -> list[tuple[str, str]]:
    """Return (colour, words) of each step of the sun map, sunniest first."""
    steps = style.SUN_STEPS
    words = [
        f"under {steps[0]:g} h",
        *(f"{a:g} to {b:g} h" for a, b in pairwise(steps)),
        f"{steps[-1]:g} h and more",
    ]
    return list(zip(style.SUN_COLOURS, words, strict=True))[::-1]


def rough_length(metres: float, units: System) -> str:
    """Return a plant's size as loosely as plants grow: whole inches below 3 ft then half feet, or whole 5 cm.

    >>> rough_length(0.45, "imperial"), rough_length(6.2, "imperial"), rough_length(0.47, "metric")
    ('1\' 6"', '20½ ft', '0.45 m')
    """
    if units == "metric":
        return f"{max(round(metres * 20) / 20, 0.05):.2f} m"
    if metres < 3 * FOOT:
        return feet_inches(max(metres, INCH), to=1)
    halves = round(metres / FOOT * 2)
    return f"{halves // 2}{'½' if halves % 2 else ''} ft"


def _measure(value: float, unit: str, units: System) -> str:
    if unit == "m":
        return show_length(value, units)
    if unit == "m2":
        return show_area(value, units)
    return f"{value:.3g} {unit}".strip()


def _want(item: Judged, units: System) -> dict[str, str]:
    measured = ""
    if item.want.check is not None:
        fact = FACTS[item.want.check.fact]
        wanted = f"{item.want.check.compare} {_measure(item.want.check.amount, fact.unit, units)}"
        value = "not yet known" if item.value is None else _measure(item.value, fact.unit, units)
        measured = f"{fact.words}: {value}, wanted {wanted}"
    return {
        "text": item.want.text,
        "weight": item.want.weight,
        "verdict": WORDS_OF_VERDICT[item.verdict],
        "measured": measured,
    }


def _areas(told: Contents) -> list[tuple[str, str, str, str]]:
    units = told.project.units
    rows = quantities.areas(told.worked)
    return [(kind, name, show_area(square, units), show_length(edge, units)) for kind, name, square, edge in rows]


def _other(amount: float, unit: quantities.Unit, units: str) -> str:
    """Return an amount in the other system of units."""
    return quantities.shown(amount, unit, "metric" if units == "imperial" else "imperial")


def _bed_lines(told: Contents) -> list[tuple[str, str, list[tuple[str, str]]]]:
    """Return (bed, ground, [(amount, in other units) of mulch and of compost])."""
    units = told.project.units
    found: dict[str, dict[str, quantities.Line]] = {}
    for line in told.lines:
        if line.item in BED_ITEMS:
            found.setdefault(line.where, {})[line.item] = line
    return [
        (
            bed,
            show_area(max(line.area for line in items.values()), units),
            [
                (items[i].shown(units), _other(items[i].amount, "m3", units)) if i in items else ("", "")
                for i in BED_ITEMS
            ],
        )
        for bed, items in found.items()
    ]


def _bed_rules(told: Contents) -> list[str]:
    listed = (f"{line.item}: {line.rule} ({line.source})" for line in told.lines if line.item in BED_ITEMS)
    return list(dict.fromkeys(listed))


def _cautions(told: Contents) -> list[dict[str, Any]]:
    """Return what to beware of in each listed plant, in columns."""
    grades = {finding.where: finding.seriousness for finding in told.cautions}
    return [
        {
            "name": kind.botanical, "common": kind.common, "grade": grades[kind.botanical],
            "toxic": f"{kind.toxicity}: {', '.join(kind.toxic_to)}" if kind.toxic_to else "none listed",
            "invasive": "; ".join(entry.sentence() for entry in kind.invasive) or "not in the lists consulted",
            "remarks": "; ".join(kind.cautions),
        }
        for kind in told.kinds
        if kind.botanical in grades
    ]  # fmt: skip


def _caution_sources(told: Contents) -> list[str]:
    return list(dict.fromkeys(finding.source for finding in told.cautions if finding.source))


def _care_months(told: Contents) -> list[tuple[str, tuple[tuple[str, tuple[care.Task, ...]], ...]]]:
    months = care.by_month(told.care)
    return [(name, care.grouped(tasks)) for name, tasks in zip(MONTHS, months, strict=True)]


def _part_count(part: Part) -> str:
    return f"{part.count:g} {part.unit}" if part.unit not in ("", "pieces") else f"{part.count:g}"


def _money(told: Contents) -> Any:
    currency = told.project.brief.currency
    return lambda amount: f"{currency}{amount:,.2f}" if amount < 100 else f"{currency}{amount:,.0f}"


def _water(told: Contents) -> list[dict[str, Any]]:
    imperial = told.project.units == "imperial"
    rows = []
    for bed in told.water:
        weeks = [bed.dry_week(month) for month in range(1, 13)]
        mean = sum(bed.litres)
        rows.append(
            {
                "bed": bed, "months": [f"{gallons(week) if imperial else week:,.0f}" for week in weeks],
                "mean": f"{gallons(mean) if imperial else mean:,.0f}",
                "minutes": f"{bed.minutes_a_week[bed.peak_month - 1] / irrigation.WATERINGS:.0f}",
                "peak": MONTHS[bed.peak_month - 1],
                "length": quantities.whole_length(bed.drip.length, told.project.units),
                "every": show_length(bed.drip.emitter_spacing, told.project.units, small=True),
                "rows": show_length(bed.drip.row_spacing, told.project.units, small=True),
            }
        )  # fmt: skip
    return rows


def _tree_water(told: Contents) -> str:
    woody = any(kind.layer in ("tree", "conifer") for kind in told.kinds)
    if not woody:
        return ""
    caliper = 2 * INCH  # a usual nursery tree. House value.
    each, weeks = irrigation.tree_litres(caliper), irrigation.first_weeks_litres(caliper)
    return (
        f"A new tree of 2 in (5 cm) caliper: {gallons(each):.0f} US gal ({each:.0f} L) every day for two weeks, then "
        f"every other day for two months, then weekly: about {gallons(weeks):.0f} US gal in the first ten weeks. "
        f"An inch of rain in a week does instead. {irrigation.COOPERATIVE}."
    )


def _template(name: str) -> str:
    return files("gardenkit.handover").joinpath(name).read_text(encoding="utf-8")
