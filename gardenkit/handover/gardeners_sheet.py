"""The gardener's sheet: the care of the garden on one page a month, to print, hang up and tick off."""

import io
import textwrap
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path

import attrs

from gardenkit.drawing import style
from gardenkit.findings import GardenError
from gardenkit.garden import Garden, upkeep
from gardenkit.handover.paper import LETTERS, Issue, papers_of, saved, ways
from gardenkit.handover.pdf import FACES, MM, Pen, embedded_letters
from gardenkit.schedules import care
from gardenkit.schedules.care import MONTHS, Task
from gardenkit.units import counted

TITLE = "The gardener's sheet"
EDGE, FOOT, HEAD = (
    14.0,
    16.0,
    19.0,
)  # mm: white edge, room for the cautions at the foot, and for the month. House values.
SIZES = (3.4, 3.2, 3.0, 2.8, LETTERS)  # mm of letters, the largest taken that keeps a month on its page. House values.
LEADING, NARROW = 1.36, 0.52  # distance of two lines, and mean width of a letter, as shares of its size
MOST_NAMED = 3  # beds of a kind named one by one; of more the plan tells. House value.
QUARTER = 15.0  # minutes that a time is rounded to: the minutes a task are house values
SOON = 2  # the season that the hours are told for between the first and a garden grown in
CAUTIONS = (
    "Keys are those of the planting plan. Hours are about, for one gardener who knows the plants; of a task that is "
    "not done each year they are the mean of its years. Wear gloves, and eye protection where you cut; work off the "
    "ground, power tools and sprays as their makers say and local rules allow. Not listed as toxic never means safe."
)


@attrs.frozen(kw_only=True)
class Row:
    """One line of work in a month: what, about how long, and beneath it where, on which plants, how, what to beware."""

    what: str
    time: str
    lines: tuple[str, ...]


def write(garden: Garden, target: Path, *, issue: Issue | None = None) -> int:
    """Write the gardener's sheet as a PDF, a page a month; returns its size in bytes."""
    return saved(pages(garden, issue or Issue.of(garden.project)), target)


def pages(garden: Garden, issue: Issue) -> bytes:
    """Return the gardener's sheet as a PDF. Raises GardenError for a garden that asks for no work yet."""
    from reportlab.pdfgen.canvas import Canvas

    if not garden.care:
        raise GardenError("there is no care to tell of yet; plant or build something first")
    _, size = ways(papers_of(garden.project)[0])
    out = io.BytesIO()
    embedded_letters()
    canvas = Canvas(out, invariant=True, lang="en", initialFontName=FACES[False, False])
    canvas.setTitle(f"{garden.project.name}: {TITLE}")
    canvas.setPageSize((size.wide * MM, size.high * MM))
    for month in range(1, 13):
        rows = rows_of(garden, month)
        letters = next((s for s in SIZES if _height(rows, s, size.wide) <= size.high - 2 * EDGE - HEAD - FOOT), LETTERS)
        for number, part in enumerate(_parts(rows, letters, size.wide, size.high - 2 * EDGE - HEAD - FOOT)):
            pen = Pen(canvas)
            top = _head(pen, garden, month, size.wide, size.high - EDGE, continued=number > 0)
            _rows(pen, part, letters, size.wide, top)
            _foot(pen, garden, issue, size.wide)
            canvas.showPage()
    canvas.save()
    return out.getvalue()


def rows_of(garden: Garden, month: int) -> tuple[Row, ...]:
    """Return the work of one month (1 to 12): like tasks together, what is only looked for last."""
    listed = care.by_month(garden.care)[month - 1]
    looked = [task for task in listed if task.task.startswith("look for ")]
    rows = [
        Row(what=_first_large(what), time=_time(garden, group, month), lines=tuple(_told(garden, group)))
        for what, group in care.grouped(task for task in listed if task not in looked)
    ]
    if looked:
        seen = [f"{what.removeprefix('look for ')} on {_plants(garden, group)}" for what, group in care.grouped(looked)]
        rows.append(
            Row(
                what="Look for",
                time=_time(garden, looked, month),
                lines=(_first_large(garden.say("; ".join(seen))) + ".",),
            )
        )
    return tuple(rows)


# ---- what is said


def _told(garden: Garden, group: Sequence[Task]) -> Iterator[str]:
    """Yield a line for each way in which a task is done: the plants and beds, how, in which years, what to beware."""
    alike: dict[tuple[str, str, str], list[Task]] = {}
    for task in group:
        alike.setdefault((task.how, task.caution, _years(garden, task)), []).append(task)
    for (how, caution, years), tasks in alike.items():
        said = [_plants(garden, tasks), how, years, f"Take care: {caution}" if caution else ""]
        yield garden.say(". ".join(_first_large(one) for one in said if one) + ".")


def _plants(garden: Garden, tasks: Sequence[Task]) -> str:
    """Return what tasks are for: kinds with their key, how many there are and where, else the task's own words."""
    lines = {line.species.botanical: line for line in garden.schedule}
    said = []
    for task in tasks:
        line = lines.get(task.botanical)
        if line is None:
            said.append(", ".join(task.names))
            continue
        beds = ", ".join(line.beds) if len(line.beds) <= MOST_NAMED else counted(len(line.beds), "bed")
        where = f" in {beds}" if line.beds else ""
        key = f"{line.key} " if line.key else ""
        said.append(f"{key}{line.species.botanical} ({line.count}{where})")
    return "; ".join(said)


def _years(garden: Garden, task: Task) -> str:
    """Return in which years a task is done, empty for one of every year from the planting on."""
    first = garden.project.planting.first_year
    often = f"every {task.every_years} years" if task.every_years > 1 else ""
    begins = f"from {first + task.begins}" if task.begins > 1 else ""
    ends = f"until {first + task.last}" if task.last is not None else ""
    return " ".join(word for word in (often, begins, ends) if word)


def _time(garden: Garden, tasks: Sequence[Task], month: int) -> str:
    counts = {species.botanical: n for species, n in garden.kinds.items()}
    return shown_time(upkeep.hours_of(garden, tasks, counts)[month - 1])


def shown_time(hours: float) -> str:
    """Return a time as a gardener says it: quarters of an hour, hours from two on in halves.

    >>> shown_time(0.1), shown_time(0.8), shown_time(3.3)
    ('15 min', '45 min', '3.5 h')
    """
    minutes = max(1, round(60 * hours / QUARTER)) * QUARTER
    return f"{minutes:.0f} min" if minutes < 120 else f"{round(2 * hours) / 2:g} h"


def _first_large(words: str) -> str:
    return words[:1].upper() + words[1:]


# ---- on paper


def _wrapped(words: str, letters: float, wide: float) -> list[str]:
    return textwrap.wrap(words, max(20, int((wide - 2 * EDGE - 6) / (letters * NARROW)))) or [""]


def _height(rows: Sequence[Row], letters: float, wide: float) -> float:
    return sum(_high(row, letters, wide) for row in rows)


def _high(row: Row, letters: float, wide: float) -> float:
    return letters * (LEADING * (1 + sum(len(_wrapped(line, letters, wide)) for line in row.lines)) + 0.7)


def _parts(rows: Sequence[Row], letters: float, wide: float, room: float) -> list[list[Row]]:
    """Return rows in pages of so much room, mm; one page for a month without work too."""
    found: list[list[Row]] = [[]]
    for row in rows:
        if found[-1] and _height([*found[-1], row], letters, wide) > room:
            found.append([])
        found[-1].append(row)
    return found


def _head(pen: Pen, garden: Garden, month: int, wide: float, top: float, *, continued: bool) -> float:
    """Write the month, the garden and the hours; returns the y below, mm."""
    title = f"{MONTHS[month - 1]}{', continued' if continued else ''}"
    pen.text((EDGE, top - 6), title, size_mm=7.0, bold=True)
    pen.text((wide - EDGE, top - 4), garden.project.name, size_mm=3.4, anchor="end", width=wide / 2)
    pen.text((wide - EDGE, top - 8.5), TITLE, size_mm=LETTERS, colour=style.SOFT_INK, anchor="end")
    pen.text((EDGE, top - 12), _hours(garden, month), size_mm=3.0, width=wide - 2 * EDGE)
    pen.rule((EDGE, top - 14.5), (wide - EDGE, top - 14.5), width_mm=0.4)
    return top - HEAD


def _hours(garden: Garden, month: int) -> str:
    """Return the hours of a month in the first seasons and once all has grown in, and the frost that falls in it."""
    first, climate = garden.project.planting.first_year, garden.project.site.climate
    now, soon, later = (garden.care_in(season)[month - 1] for season in (0, SOON, care.GROWN_IN))
    said = f"About {shown_time(now)} in {first}, {shown_time(soon)} in {first + SOON}, {shown_time(later)} grown in"
    frosts = (("mean last frost of spring", climate.last_frost), ("mean first frost of autumn", climate.first_frost))
    named = [f"{words} {int(day[3:])} {MONTHS[month - 1]}" for words, day in frosts if day and int(day[:2]) == month]
    return "; ".join([said, *named])


def _rows(pen: Pen, rows: Sequence[Row], letters: float, wide: float, y: float) -> None:
    if not rows:
        pen.text((EDGE, y - 4), "Nothing that cannot wait.", size_mm=3.4)
    for row in rows:
        y -= letters
        box = letters * 0.9
        corners = [(EDGE, y), (EDGE + box, y), (EDGE + box, y + box), (EDGE, y + box), (EDGE, y)]
        for a, b in pairwise(corners):
            pen.rule(a, b, width_mm=0.25)
        pen.text((EDGE + 6, y), row.what, size_mm=letters, bold=True, width=wide - 2 * EDGE - 32)
        pen.text((wide - EDGE, y), row.time, size_mm=letters, anchor="end")
        for line in row.lines:
            for words in _wrapped(line, letters, wide):
                y -= letters * LEADING
                pen.text((EDGE + 6, y), words, size_mm=letters, width=wide - 2 * EDGE - 6)
        y -= letters * (LEADING - 1 + 0.7)


def _foot(pen: Pen, garden: Garden, issue: Issue, wide: float) -> None:
    pen.rule((EDGE, EDGE + FOOT - 3), (wide - EDGE, EDGE + FOOT - 3), width_mm=0.2)
    dated = f"{issue.date.isoformat()}, revision {issue.revision}."
    lines = textwrap.wrap(f"{CAUTIONS} {dated}", int((wide - 2 * EDGE) / (LETTERS * NARROW)))
    for number, line in enumerate(lines):
        pen.text(
            (EDGE, EDGE + FOOT - 6.5 - 3.4 * number),
            garden.say(line),
            size_mm=LETTERS,
            colour=style.SOFT_INK,
            width=wide - 2 * EDGE,
        )
