"""The client edition and the office edition: each one HTML file that opens anywhere with no network."""

from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from gardenkit.brief import wants
from gardenkit.brief.pictures import thumbnail_url
from gardenkit.drawing import style
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.live_copy import FULL_YEAR, LAST_YEAR
from gardenkit.drawing.painter import rarely_swept
from gardenkit.drawing.programme_chart import programme_chart
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.garden.settled import accepted_warnings
from gardenkit.handover import journal_rows, wording
from gardenkit.handover.contents import (
    CONFIRM,
    NOTICES,
    PICTURES_FOLDER,
    SAFETY,
    Contents,
    contents,
)
from gardenkit.handover.filmed import Shown, films
from gardenkit.handover.paper import Issue
from gardenkit.handover.pictured import Pictures, begun, live_of, month_shown, pictures, sun_key
from gardenkit.handover.printed import printed
from gardenkit.progress import Tell, part, quiet
from gardenkit.project.handing_over import Edition
from gardenkit.project.level_figures import level_rows
from gardenkit.schedules import care, quantities
from gardenkit.schedules.plant_order import order_columns
from gardenkit.storage.files import replace_safely
from gardenkit.units import counted, rough_length, show_area, show_length

FILMED = 0.3  # share of the time before the films are painted. House value.
WORKED_OUT = 0.4  # share of the time that goes by before anything is drawn. House value.
EDITIONS: dict[Edition, str] = {"client": "client edition", "office": "office edition"}
LOGO_SIDE = 360  # px: the longer side of the logo. House value.


def write(
    garden: Garden,
    target: Path,
    *,
    edition: Edition = "client",
    with_sun: bool = True,
    with_films: bool = False,
    tell: Tell = quiet,
) -> int:
    """Write an edition of a garden to ``target`` and return its size in bytes; films take a minute or more.

    Raises GardenError for a plant that is not known, or, for the client, while a warning is open; and what ``tell``
    raises to stop the work: then nothing is written.
    """
    content = render(garden, edition=edition, with_sun=with_sun, with_films=with_films, tell=tell).encode("utf-8")
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, content)
    return len(content)


def render(
    garden: Garden,
    *,
    edition: Edition = "client",
    with_sun: bool = True,
    with_films: bool = False,
    tell: Tell = quiet,
) -> str:
    """Return an edition of a garden as one HTML page that asks the network for nothing."""
    share = FILMED if with_films else 1.0
    with rarely_swept(), begun(garden) as painter:
        if edition == "client":
            check_settled(garden)
        sunny = with_sun and edition == "office"
        told = contents(garden, with_sun=sunny, tell=part(tell, 0.0, WORKED_OUT * share))
        pictures(told, part(tell, WORKED_OUT * share, share), painter=painter)
    shown = films(told, part(tell, share, 1.0)) if with_films else []
    return page(told, edition=edition, films=shown)


def check_settled(garden: Garden) -> None:
    """Raise GardenError while a warning about the garden is neither settled nor accepted."""
    if garden.open_warnings:
        first, how_many = garden.open_warnings[0], len(garden.open_warnings)
        rest = f", and {how_many - 1} more" if how_many > 1 else ""
        raise GardenError(waiting(how_many, f": {first.where}: {garden.say(first.what)}{rest}"))


def waiting(many: int, which: str) -> str:
    """Return what is said while so many warnings are open, with ``which`` they are."""
    return (
        f"the client edition waits for {counted(many, 'open warning')}{which}; mend what they say, or accept them with "
        "a reason"
    )


def page(
    told: Contents,
    *,
    edition: Edition = "client",
    issue: Issue | None = None,
    films: Sequence[Shown] = (),
    tell: Tell = quiet,
) -> str:
    """Return an edition of contents that are already worked out. Raises GardenError as ``render`` does."""
    if edition == "client":
        check_settled(told.garden)
    shown = _shown(told, edition, issue or Issue.of(told.project), pictures(told, tell))
    return str(templates().get_template("page.html").render(**shown, films=films))


@cache
def templates() -> Any:
    """Return what turns the templates into pages: they are compiled once, which takes a third of a second."""
    from jinja2 import Environment, FunctionLoader, StrictUndefined, select_autoescape

    return Environment(
        loader=FunctionLoader(template),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


# ---- what the template is given


def _shown(told: Contents, edition: Edition, issue: Issue, drawn: Pictures) -> dict[str, Any]:
    project = told.project
    cover = {
        "project": project,
        "told": told,
        "office": edition == "office",
        "edition": edition,
        "edition_words": EDITIONS[edition],
        "issue": issue,
        "logo": _logo(told.garden),
        "cover": drawn.cover,
        "live": live_of(told, drawn, sun=edition == "office"),
        "style": style,
        "months": MONTHS,
        "short_months": style.MONTHS,
        "css": template("page.css"),
        "script": template("page.js"),
        "printed": printed(told),
        "plan": drawn.plan,
        "plan_words": drawn.plan_words,
        "views": drawn.views,
        "levels": drawn.levels,
        "photos": drawn.photos,
        "level_rows": level_rows(told.garden.earth, project.units),
        "bloom_chart": drawn.bloom_chart,
        "bloom_months": drawn.bloom_months,
        "sun_pictures": drawn.sun_pictures,
        "sun_key": sun_key(),
        "sun_rows": told.sun_by_bed,
        "contents": _headings(told, edition, drawn),
    }
    return cover | _figures(told) | _for_the_client(told) | _words(told)


def _figures(told: Contents) -> dict[str, Any]:
    """Return what is counted, priced and timed."""
    units = told.project.units
    return {
        "wants": [wording.want(item, units) for item in told.wants],
        "wants_told": wants.told(told.wants),
        "property_areas": wording.property_areas(told.garden),
        "plants": told.garden.schedule,
        "nursery": [(line, order_columns(line, told.garden.catalogue)) for line in told.garden.schedule],
        "areas": wording.areas(told),
        "crops": told.garden.crops,
        "bed_lines": wording.bed_lines(told),
        "bed_rules": wording.bed_rules(told),
        "lines": [(line, line.shown(units)) for line in told.garden.quantities if line.item not in wording.BED_ITEMS],
        "parts": quantities.support_parts(told.garden.counted),
        "part_count": lambda part: wording.part_count(part, units),
        "orders": told.garden.orders,
        "costs": told.garden.costs,
        "estimate": wording.estimate(told.garden),
        "round_span": wording.round_span(told.garden),
        "budget": wording.budget(told.garden),
        "left_out": f"{told.garden.costs.left_out[:1].upper()}{told.garden.costs.left_out[1:]}",
        "money": wording.money(told),
        "water": wording.water(told),
        "tree_water": wording.tree_water(told),
        "water_year": wording.water_of_a_year(told.garden) if told.garden.water else [],
        "care_months": wording.care_months(told),
        "journal": journal_rows.happened(told.garden),
        "journal_seen": journal_rows.beside(told.garden),
        "journal_next": journal_rows.to_do(told.garden),
        "coming_year": told.garden.living.year,
        "phases": told.garden.phases,
        "programme": told.garden.programme,
        "programme_chart": svg(programme_chart(told.garden.programme)),
        "findings": told.garden.said,
        "cautions": wording.cautions(told),
        "caution_sources": wording.caution_sources(told),
        "sources": told.sources,
    }


def _for_the_client(told: Contents) -> dict[str, Any]:
    """Return what only the client edition says."""
    return {
        "settled_warnings": accepted_warnings(told.garden),
        "flowers": wording.flowers(told),
        "heeded": wording.heeded(told),
        "cost_groups": wording.cost_groups(told),
        "published": wording.published(told),
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
        "full_month": month_shown(told.garden),
        "last_year": LAST_YEAR,
    }


def _headings(told: Contents, edition: Edition, drawn: Pictures) -> list[tuple[str, str]]:
    """Return (anchor, words) of the sections that an edition of this garden has, in their order."""
    garden = told.garden
    planted, live = bool(garden.schedule), drawn.live is not None
    priced, bloom, views = bool(garden.costs.lines), bool(garden.bloom), bool(drawn.views or drawn.photos)
    rows: list[tuple[bool, str, str]] = [
        (bool(told.pictures), "tone", "What set the tone"),
        (bool(told.wants), "asked", "What you asked for"),
        (True, "drawn", "The plan"),
        (bool(drawn.levels), "levels", "How the ground will lie"),
        (views, "seen", "What you will see"),
        (live, "live", "The garden through the year"),
        (bloom, "bloom", "What flowers when"),
        (planted, "kinds", "The plants"),
        (bool(garden.crops), "crops", "Vegetables, year by year"),
        (True, "heed", "To be careful with"),
        (priced, "sums", "What it costs"),
        (bool(garden.care), "year", "The year's work"),
        (True, "order", "Order of work"),
        (bool(accepted_warnings(garden)), "settled", "Looked at, and left as it is"),
        (True, "agreed", "Agreed"),
        (True, "footnotes", "Where the figures come from"),
    ]
    office: list[tuple[bool, str, str]] = [
        (bool(told.wants or told.pictures), "wishes", "What was asked for"),
        (live, "live", "The garden through the year"),
        (told.sun is not None, "sun", "Sun on the ground"),
        (True, "plan", "The plan on paper"),
        (bool(drawn.levels), "levels", "How the ground will lie"),
        (views, "views", "What will be seen"),
        (bloom, "bloom", "What flowers when"),
        (planted, "plants", "Plant schedule"),
        (bool(garden.crops), "crops", "Vegetables, year by year"),
        (bool(garden.cautions), "cautions", "Plants to be careful with"),
        (bool(garden.quantities), "materials", "Materials"),
        (priced, "cost", "Cost"),
        (bool(garden.water), "water", "Water"),
        (bool(garden.care), "care", "The year's work"),
        (bool(garden.project.journal.entries), "journal", "The living garden: its journal"),
        (True, "order", "Order of work"),
        (bool(garden.said), "findings", "What we found"),
        (bool(accepted_warnings(garden)), "settled", "Accepted warnings"),
        (True, "sources", "Sources and limits"),
    ]
    return [(anchor, words) for there, anchor, words in (rows if edition == "client" else office) if there]


def _logo(garden: Garden) -> str:
    """Return the logo as a data address, nothing without one that can be read."""
    name = garden.project.handover.logo
    try:
        return thumbnail_url(garden.folder / PICTURES_FOLDER / Path(name).name, side=LOGO_SIDE) if name else ""
    except (GardenError, OSError):
        return ""


def template(name: str) -> str:
    """Return a file of the templates as text."""
    return files("gardenkit.handover").joinpath(name).read_text(encoding="utf-8")
