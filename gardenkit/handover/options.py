"""Options side by side: one page for the client with the plan, the view and the figures of every structure kept."""

from collections.abc import Callable
from pathlib import Path

import attrs

from gardenkit.brief.wants import Judged
from gardenkit.drawing import style
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.painted_view import Moment, painted_scene, prospect
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.svg import svg
from gardenkit.drawing.view import Lookout
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.garden.alternatives import Compared, compared, options, out_of_bed
from gardenkit.handover import booklet, wording
from gardenkit.handover.contents import SAFETY, Contents, contents
from gardenkit.handover.paper import Issue, papers_of
from gardenkit.handover.pictured import best_place, framed
from gardenkit.progress import Tell, quiet
from gardenkit.project.season import early_summer
from gardenkit.schedules.irrigation import BedWater
from gardenkit.site.water import gallons
from gardenkit.storage.files import replace_safely
from gardenkit.units import counted, show_area, show_length, show_weight

FILE = "options.html"
YEAR = 5  # after planting, in which plans and views are shown. House value.
WIDTH_PX = 520
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@attrs.frozen(eq=False, kw_only=True)
class Option:
    """One structure as the page tells it: its letter and name, its pictures, and what it comes to."""

    letter: str
    name: str
    told: Contents
    side: Compared
    to_move: int
    plan: str
    view: str


@attrs.frozen(kw_only=True)
class Row:
    """One figure of every option, in words; ``differs`` where it is not the same in all."""

    words: str
    cells: tuple[str, ...]

    @property
    def differs(self) -> bool:
        """Whether the options differ in it."""
        return len(set(self.cells)) > 1


def write(garden: Garden, target: Path, *, tell: Tell = quiet) -> int:
    """Write the page of options to ``target`` and return its size in bytes.

    Raises GardenError without a structure kept beside the one that stands, and what ``tell`` raises to stop the work.
    """
    content = render(garden, tell=tell).encode("utf-8")
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, content)
    return len(content)


def render(garden: Garden, *, tell: Tell = quiet) -> str:
    """Return the page of options as HTML that asks the network for nothing. Raises GardenError as ``write`` does."""
    found = _options(garden, tell)
    shown = {
        "title": garden.project.name,
        "project": garden.project,
        "issue": Issue.of(garden.project),
        "options": found,
        "rows": rows(found),
        "want_rows": want_rows(found),
        "style": style,
        "css": booklet.template("page.css") + booklet.template("options.css"),
        "year": YEAR,
        "month": MONTHS[early_summer(garden.project.site) - 1],
        "paper": papers_of(garden.project)[0],
        "safety": SAFETY,
        "across": 2 if len(found) in (2, 4) else 3,  # on paper
    }
    return str(booklet.templates().get_template("options.html").render(**shown))


def rows(found: tuple[Option, ...]) -> tuple[Row, ...]:
    """Return every figure of the options: those of the garden itself, as its schedules have them."""
    return tuple(Row(words=words, cells=tuple(cell(one) for one in found)) for words, cell in _ROWS)


def want_rows(found: tuple[Option, ...]) -> tuple[Row, ...]:
    """Return every want with its verdict in each option."""
    judged = [one.told.garden.wants for one in found]
    return tuple(
        Row(words=same[0].want.text, cells=tuple(_verdict(item) for item in same)) for same in zip(*judged, strict=True)
    )


# ---- the options


def _options(garden: Garden, tell: Tell) -> tuple[Option, ...]:
    if not garden.project.alternatives:
        raise GardenError("nothing is kept beside the structure as it stands; keep it under a name first")
    if not garden.project.site.boundary:
        raise GardenError("there is no boundary yet, so no plan of an option; draw the boundary first")
    pairs = options(garden)
    if len(pairs) > len(LETTERS):
        raise GardenError(f"{len(pairs)} options are too many to compare; delete some, {len(LETTERS)} are the most")
    at: Lookout | None = None
    found = []
    for number, (name, option) in enumerate(pairs):
        tell(number / len(pairs), f"drawing option {LETTERS[number]}: {name} ...")
        told = contents(option, with_sun=False)
        if number == 0:
            best = best_place(option)
            at = None if best is None else framed(option, best)
        found.append(_option(garden, told, LETTERS[number], name, at))
    return tuple(found)


def _option(garden: Garden, told: Contents, letter: str, name: str, at: Lookout | None) -> Option:
    option, month = told.garden, early_summer(garden.project.site)
    parts = (option.project, option.layout, option.catalogue)
    title = f"Option {letter}: {name}"
    scale = screen_scale(option.project.site, width_px=WIDTH_PX)
    plan = garden_scene(*parts, year=YEAR, month=month, scale=scale, textures=False, title=title)
    view = ""
    if at is not None:
        words = f"Option {letter}: from the {at.name}, {MONTHS[month - 1]}, year {YEAR}"
        view = svg(painted_scene(prospect(option), at=at, when=Moment(year=YEAR, month=month), title=words))
    return Option(
        letter=letter,
        name=name,
        told=told,
        side=compared(option),
        to_move=out_of_bed(garden, option),
        plan=svg(plan),
        view=view,
    )


# ---- the figures in words


def _water(one: Option, litres: Callable[[BedWater], float]) -> str:
    garden = one.told.garden
    if not garden.water:
        return "not known yet"
    total = sum(litres(bed) for bed in garden.water)
    return f"{gallons(total):,.0f} US gal" if garden.units == "imperial" else f"{total:,.0f} L"


def _cost(one: Option) -> str:
    costs = one.told.garden.costs
    return wording.money(one.told)(costs.total) if costs.lines else "nothing priced yet"


def _everything(one: Option) -> str:
    costs = one.told.garden.costs
    if not costs.lines:
        return "nothing priced yet"
    if costs.rate is None:
        return f"about {costs.hours.likely:,.0f} hours of work, not priced"
    return wording.round_span(one.told.garden)


def _care(one: Option) -> str:
    return f"{one.told.garden.care_hours:,.0f} hours"


def _sun(one: Option) -> str:
    garden = one.told.garden
    month = early_summer(garden.project.site)
    sun = garden.sun_if_known()
    if sun is None or not garden.beds:
        return "not known yet"
    held = [(bed.area, float(sun.at(bed.at)[month - 1])) for bed in garden.beds]
    mean = sum(area * hours for area, hours in held) / sum(area for area, _ in held)
    return f"{mean:.1f} hours a day"


def _bloom(one: Option) -> str:
    months = {month for row in one.told.garden.bloom for month in row.months}
    return f"{wording.spell(tuple(sorted(months)))} ({counted(len(months), 'month')})" if months else "nothing"


def _plants(one: Option) -> str:
    schedule = one.told.garden.schedule  # with what creeps between the stones of one option and not of another
    return f"{counted(sum(line.bought for line in schedule), 'plant')} of {counted(len(schedule), 'kind')}"


def _open(one: Option) -> str:
    return counted(len(one.told.garden.open_warnings), "warning") if one.told.garden.open_warnings else "none"


def _wants(one: Option) -> str:
    return f"{one.side.wants_met} of {one.side.wants}" if one.side.wants else "none asked for"


def _verdict(item: Judged) -> str:
    return wording.WORDS_OF_VERDICT[item.verdict]


def _length(one: Option, metres: float) -> str:
    return show_length(metres, one.told.project.units)


def _area(one: Option, square: float) -> str:
    return show_area(square, one.told.project.units)


_ROWS: tuple[tuple[str, Callable[[Option], str]], ...] = (
    ("Wants met", _wants),
    ("Plants and materials", _cost),
    ("Everything, built and planted by others", _everything),
    ("Water in a year of mean rain", lambda one: _water(one, lambda bed: bed.mean_year)),
    ("Water in a dry week of high summer", lambda one: _water(one, lambda bed: bed.dry_week(bed.peak_month))),
    ("Care in a year, grown in", _care),
    ("Sun on the beds in early summer", _sun),
    ("In flower", _bloom),
    ("Plants to buy", _plants),
    ("Plants that would have to be moved", lambda one: str(one.to_move)),
    ("Beds", lambda one: f"{one.side.beds}, {_area(one, one.side.bed_area)}"),
    ("Lawn", lambda one: _area(one, one.side.lawn_area)),
    ("Paths and paving", lambda one: f"{_length(one, one.side.path_length)}, {_area(one, one.side.hard_area)}"),
    (
        "Stones",
        lambda one: f"{one.side.stones}, {show_weight(one.side.stone_weight, one.told.project.units)}",
    ),
    ("Still to settle", _open),
)
