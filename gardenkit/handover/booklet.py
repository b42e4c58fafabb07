"""The client copy: one HTML file with plan, plants, costs and the year's work, that opens anywhere with no network."""

from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from gardenkit.brief import wants
from gardenkit.drawing import charts, style
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.live_copy import FULL_YEAR, LAST_YEAR, LiveCopy, live_copy, open_hours
from gardenkit.drawing.overlays import sun_marks
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.drawing.view import places_to_look_from, season_strip, view_scene
from gardenkit.garden import Garden
from gardenkit.handover import wording
from gardenkit.handover.contents import CONFIRM, NOTICES, SAFETY, Contents, bloom_rows, contents
from gardenkit.planting.bloom import kinds_by_month
from gardenkit.progress import Tell, part, quiet
from gardenkit.project.season import early_summer
from gardenkit.schedules import care, quantities
from gardenkit.storage.files import replace_safely
from gardenkit.units import rough_length, show_area, show_length

SCREEN_PX = 760.0
PRINT_SCALE = 96.0  # 1/8" = 1'-0" fits most home gardens on one page
SUN_MONTHS = (3, 6, 9, 12)  # shown as still pictures for print

WORKED_OUT = 0.4  # share of the time that goes by before anything is drawn. House value.
YOUNG_YEAR = 1  # the garden as the client first sees it


def write(garden: Garden, target: Path, *, with_sun: bool = True, tell: Tell = quiet) -> int:
    """Write the client copy of a garden to ``target`` and return its size in bytes.

    Raises GardenError for a plant that is not known, and what ``tell`` raises to stop the work: then nothing is
    written.
    """
    content = render(garden, with_sun=with_sun, tell=tell).encode("utf-8")
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, content)
    return len(content)


def render(garden: Garden, *, with_sun: bool = True, tell: Tell = quiet) -> str:
    """Return the client copy of a garden as one HTML page that asks the network for nothing."""
    told = contents(garden, with_sun=with_sun, tell=part(tell, 0.0, WORKED_OUT))
    return page(told, tell=part(tell, WORKED_OUT, 1.0))


def page(told: Contents, *, tell: Tell = quiet) -> str:
    """Return the page of contents that are already worked out."""
    from jinja2 import Environment, FunctionLoader, StrictUndefined, select_autoescape

    environment = Environment(
        loader=FunctionLoader(_template),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("client_copy.html").render(**_shown(told, tell))


# ---- what the template is given


def _shown(told: Contents, tell: Tell) -> dict[str, Any]:
    project = told.project
    tell(0.0, "drawing the live plan ...")
    live = _live(told)
    tell(0.2, "drawing the plan on paper ...")
    plan = _plan_scene(told, PRINT_SCALE)
    views = _views(told, part(tell, 0.25, 0.95))
    tell(0.95, "putting the page together ...")
    drawn = {
        "project": project,
        "told": told,
        "live": live,
        "style": style,
        "months": MONTHS,
        "short_months": style.MONTHS,
        "css": _template("client_copy.css"),
        "script": _template("client_copy.js"),
        "plan": svg(plan),
        "plan_words": plan.description,
        "views": views,
        "bloom_chart": _bloom_chart(told),
        "bloom_months": _bloom_months(told),
        "sun_pictures": _sun_pictures(told),
        "sun_key": _sun_key(),
        "sun_rows": told.sun_by_bed,
        "contents": _headings(told, live),
    }
    return drawn | _figures(told) | _words(told)


def _figures(told: Contents) -> dict[str, Any]:
    """Return what is counted, priced and timed."""
    project, units = told.project, told.project.units
    return {
        "wants": [wording.want(item, units) for item in told.garden.wants],
        "wants_told": wants.told(told.garden.wants),
        "plants": told.garden.schedule,
        "areas": wording.areas(told),
        "bed_lines": wording.bed_lines(told),
        "bed_rules": wording.bed_rules(told),
        "lines": [(line, line.shown(units)) for line in told.garden.quantities if line.item not in wording.BED_ITEMS],
        "parts": quantities.support_parts(project),
        "part_count": lambda part: wording.part_count(part, units),
        "orders": told.garden.orders,
        "costs": told.garden.costs,
        "money": wording.money(told),
        "water": wording.water(told),
        "tree_water": wording.tree_water(told),
        "care_months": wording.care_months(told),
        "phases": told.garden.phases,
        "findings": told.garden.advice,
        "cautions": wording.cautions(told),
        "caution_sources": wording.caution_sources(told),
        "sources": told.sources,
    }


def _words(told: Contents) -> dict[str, Any]:
    """Return the standing sentences, and how the template says figures in the garden's units."""
    units = told.project.units
    return {
        "units": units,
        "confirm": told.garden.say(CONFIRM),
        "safety": SAFETY,
        "not_listed": NOTICES[0],
        "no_listing": NOTICES[1],
        "own": told.garden.say,
        "rough": lambda metres: rough_length(metres, units),
        "gloves": care.GLOVES,
        "high": care.HIGH,
        "length": lambda metres: show_length(metres, units),
        "area": lambda square: show_area(square, units),
        "full_year": FULL_YEAR,
        "full_month": _month(told),
        "last_year": LAST_YEAR,
    }


def _headings(told: Contents, live: LiveCopy | None) -> list[tuple[str, str]]:
    """Return (anchor, words) of the sections that this garden has."""
    planted = bool(told.garden.schedule)
    rows: list[tuple[bool, str, str]] = [
        (bool(told.project.brief.wants or told.pictures), "wishes", "What you asked for"),
        (live is not None, "live", "The garden through the year"),
        (told.sun is not None, "sun", "Sun on the ground"),
        (True, "plan", "The plan on paper"),
        (bool(told.garden.schedule and told.project.site.boundary), "views", "What you will see"),
        (bool(told.garden.bloom), "bloom", "What flowers when"),
        (planted, "plants", "Plant schedule"),
        (bool(told.garden.cautions), "cautions", "Plants to be careful with"),
        (bool(told.garden.quantities), "materials", "Materials"),
        (bool(told.garden.costs.lines), "cost", "Cost"),
        (bool(told.garden.water), "water", "Water"),
        (bool(told.garden.care), "care", "The year's work"),
        (True, "order", "Order of work"),
        (bool(told.garden.advice), "findings", "What we found"),
        (True, "sources", "Sources and limits"),
    ]
    return [(anchor, words) for there, anchor, words in rows if there]


def _plan_scene(told: Contents, scale: float, *, plants: bool = True, to_scale: bool = False) -> Scene:
    return garden_scene(
        told.project,
        told.garden.layout,
        told.garden.catalogue,
        year=FULL_YEAR,
        month=early_summer(told.project.site),
        plants=plants,
        scale=scale,
        to_scale=to_scale,
        textures=plants,
        title=told.project.name if plants else "Sun on the ground",
    )


def _month(told: Contents) -> str:
    """Return the word of the month that the garden is shown in on paper."""
    return MONTHS[early_summer(told.project.site) - 1]


def _views(told: Contents, tell: Tell) -> list[tuple[str, str]]:
    """Return (words, picture) of what is seen: the way in by season, then a seat young and old."""
    if not told.garden.schedule or not told.project.site.boundary:
        return []
    places = places_to_look_from(told.project, told.garden.layout)
    if not places:
        return []
    first, garden = places[0], (told.project, told.garden.layout, told.garden.catalogue)
    strip = season_strip(
        *garden,
        eye=first.eye,
        towards=first.towards,
        eye_height=first.height,
        year=FULL_YEAR,
        title=f"From the {first.name}, year {FULL_YEAR}",
        tell=part(tell, 0.0, 0.6),
    )
    pictures = [(f"From the {first.name} through the year, {FULL_YEAR} years after planting", svg(strip))]
    seats = {seat.name for seat in told.project.structure.seats}
    later = next((place for place in places[1:] if place.name in seats), places[-1])
    for year, share in ((YOUNG_YEAR, 0.6), (LAST_YEAR, 0.8)):
        tell(share, f"drawing the view from the {later.name} in year {year} ...")
        scene = view_scene(
            *garden,
            eye=later.eye,
            towards=later.towards,
            eye_height=later.height,
            year=year,
            month=early_summer(told.project.site),
            title=f"From the {later.name}, {_month(told)}, year {year}",
        )
        pictures.append((f"From the {later.name} in {_month(told)}, year {year}", svg(scene)))
    return pictures


def _live(told: Contents) -> LiveCopy | None:
    if not told.project.site.boundary:
        return None
    scale = screen_scale(told.project.site, width_px=SCREEN_PX)
    bare = _plan_scene(told, scale, plants=False) if told.sun is not None else None
    return live_copy(told.project, told.garden.catalogue, _plan_scene(told, scale), sun=told.sun, bare=bare)


def _bloom_chart(told: Contents) -> str:
    return svg(charts.bloom_calendar(bloom_rows(told.garden.bloom, told.garden.keys))) if told.garden.bloom else ""


def _bloom_months(told: Contents) -> list[tuple[str, tuple[str, ...]]]:
    by_month = kinds_by_month(told.garden.bloom)
    return [(name, by_month[number]) for number, name in enumerate(MONTHS, start=1)]


def _sun_pictures(told: Contents) -> list[tuple[str, str]]:
    if told.sun is None:
        return []
    hours, grid = open_hours(told.sun, told.project), told.sun.grid
    if not np.isfinite(hours).any():  # the house covers the whole plot
        return []
    found = []
    for month in SUN_MONTHS:
        marks = sun_marks(np.asarray(hours[month - 1]), x0=grid.left, y0=grid.bottom, cell=grid.cell)
        mean = float(np.nanmean(hours[month - 1]))
        scene = garden_scene(
            told.project,
            told.garden.layout,
            plants=False,
            extra=marks,
            scale=192.0,
            textures=False,
            names=False,
            title=MONTHS[month - 1],
        )
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


def _template(name: str) -> str:
    return files("gardenkit.handover").joinpath(name).read_text(encoding="utf-8")
