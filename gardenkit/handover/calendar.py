"""The year's work as a calendar file: each task on the first day of its month, year after year, for a phone."""

import datetime as dt
import hashlib
from collections.abc import Callable
from pathlib import Path

from gardenkit.handover.contents import Contents
from gardenkit.project import Project
from gardenkit.schedules.care import MONTHS, WHOLE_GARDEN, Task, by_month, grouped
from gardenkit.storage.files import replace_safely

MAKER = "-//gardenkit//care calendar//EN"
Say = Callable[[str], str]
FROM_THE_START = frozenset(task.task for task in WHOLE_GARDEN)  # what a new planting needs in its first season


def write(told: Contents, target: Path) -> int:
    """Write the care calendar of a garden as an .ics file; returns its size in bytes."""
    content = ics(told.project, told.garden.care, say=told.garden.say)
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, content)
    return len(content)


def ics(project: Project, tasks: tuple[Task, ...], *, say: Say = str) -> bytes:
    """Return the care calendar, told through ``say``: one whole-day event a month and kind of task, repeated
    every year or every n years.

    The same garden gives the same file, so that reading it in again does not double anything.
    """
    from icalendar import Calendar, vText

    made = Calendar()
    made.add("prodid", MAKER)
    made.add("version", "2.0")
    made.add("x-wr-calname", vText(f"{project.name}: care"))  # else its commas are not escaped
    for month, listed in enumerate(by_month(tasks), start=1):
        for what, group in grouped(listed):
            for every in sorted({task.every_years for task in group}):
                made.add_component(
                    _event(project, month, what, [t for t in group if t.every_years == every], every, say)
                )
    return bytes(made.to_ical())


def _event(project: Project, month: int, what: str, tasks: list[Task], every: int, say: Say) -> "object":
    from icalendar import Event

    wait = 0 if what in FROM_THE_START else every
    start = dt.date(project.planting.first_year + wait, month, 1)
    event = Event()
    event.add("uid", f"{_mark(project.name, month, what, every)}@gardenkit.invalid")
    event.add("dtstamp", dt.datetime(project.planting.first_year, 1, 1, tzinfo=dt.UTC))
    event.add("dtstart", start)
    event.add("dtend", start + dt.timedelta(days=1))
    event.add("rrule", {"freq": "yearly", "interval": every})
    names = ", ".join(task.botanical for task in tasks)
    event.add("summary", f"{what[:1].upper()}{what[1:]}: {names}")
    event.add("description", "\n".join([*(say(_line(task)) for task in tasks), f"Any day of {MONTHS[month - 1]}."]))
    event.add("transp", "TRANSPARENT")
    return event


def _line(task: Task) -> str:
    return task.words + (f". Take care: {task.caution}" if task.caution else "")


def _mark(*parts: object) -> str:
    return hashlib.sha256(repr(parts).encode()).hexdigest()[:20]
