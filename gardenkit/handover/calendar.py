"""The year's work as a calendar file: each task on the first day of its month, year after year, for a phone.

It can be sent again: an event keeps its mark through edits and renamings, its number of issue rises when it changes,
and what is no longer to be done is sent as cancelled (RFC 5545, 3.8.1.11 STATUS, 3.8.7.4 SEQUENCE; RFC 5546, 2.1.4).
"""

import datetime as dt
import hashlib
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from gardenkit.handover.contents import Contents
from gardenkit.handover.sent_before import OF, Events, cancelled, issued, known_again, newest, read
from gardenkit.project import Project
from gardenkit.schedules.care import MONTHS, Task, by_month, grouped
from gardenkit.storage.files import replace_safely

MAKER = "-//gardenkit//care calendar//EN"
AT = "@gardenkit.invalid"
Say = Callable[[str], str]
SHORT = 2  # kinds named in the title of an event. House value.
BEFORE = ("documents/care.ics", "schedules/care.ics")  # where a garden's folder holds what was sent before
CATEGORY: Mapping[str, str] = {  # by the first word of a task
    **dict.fromkeys(("prune", "shear", "cut", "deadhead", "clip", "thin"), "Pruning"),
    **dict.fromkeys(("water",), "Watering"),
    **dict.fromkeys(("mow",), "Lawn"),
    **dict.fromkeys(("sow", "plant", "harvest", "divide", "lift"), "Planting"),
    **dict.fromkeys(("check", "look", "tighten"), "Looking over"),
}
OTHER = "Garden care"


def write(told: Contents, target: Path) -> int:
    """Write the care calendar of a garden as an .ics file; returns its size in bytes.

    What was written before, at this place or another of the garden's folder, is gone on from.
    """
    before = [target, *(told.garden.folder / name for name in BEFORE)]
    content = ics(told.project, told.garden.care, say=told.garden.say, earlier=newest(before))
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, content)
    return len(content)


def ics(
    project: Project,
    tasks: tuple[Task, ...],
    *,
    say: Say = str,
    earlier: bytes = b"",
    now: dt.datetime | None = None,
) -> bytes:
    """Return the care calendar, told through ``say``: one whole-day event a month and kind of task, repeated every
    year, every n years, or every week of its month, from the season in which it is due to the last one.

    The same garden gives the same file. Changed and cancelled events of an ``earlier`` file carry the moment ``now``.
    """
    from icalendar import Calendar, vText

    mark, sent = read(earlier)
    mark = mark or _mark(project.name, project.site.place, project.site.boundary)
    made = Calendar()
    made.add("prodid", MAKER)
    made.add("version", "2.0")
    made.add("x-wr-calname", vText(f"{project.name}: care"))  # else its commas are not escaped
    made.add(OF, vText(mark))
    moment = now or dt.datetime.now(dt.UTC)
    fresh = _marked(list(_events(project, tasks, mark, say)), sent)
    for uid, event in fresh.items():
        made.add_component(issued(event, sent.get(uid), moment))
    for uid in sorted(sent.keys() - fresh.keys()):
        made.add_component(cancelled(sent[uid], moment))
    return bytes(made.to_ical())


def _marked(events: list[Any], sent: Events) -> dict[str, Any]:
    """Return events by their marks: the one each was sent with before, else a new one."""
    known, found = known_again(events, sent), dict[str, Any]()
    for place, event in enumerate(events):
        uid = known.get(place, str(event["uid"]))
        while place not in known and (uid in sent or uid in found):
            uid = f"{_mark(uid)}{AT}"
        event["uid"] = type(event["uid"])(uid)
        found[uid] = event
    return found


def _events(project: Project, tasks: tuple[Task, ...], mark: str, say: Say) -> Iterable[Any]:
    for month, listed in enumerate(by_month(tasks), start=1):
        for what, group in grouped(listed):
            spells = sorted(
                {_spell(task, month) for task in group}, key=lambda spell: tuple(-1 if n is None else n for n in spell)
            )
            turns: dict[int, int] = {}
            for spell in spells:
                turn = turns[spell[0]] = turns.get(spell[0], 0) + 1
                uid = f"{_mark(mark, month, what, spell[0], turn)}{AT}"
                yield _event(project, month, [task for task in group if _spell(task, month) == spell], uid, say)


def _spell(task: Task, month: int) -> tuple[int, int, int | None]:
    return task.every_years, task.begins_in(month), task.last


def _event(project: Project, month: int, tasks: list[Task], uid: str, say: Say) -> Any:
    from icalendar import Event

    one, first_year = tasks[0], project.planting.first_year
    start = dt.date(first_year + one.begins_in(month), month, 1)
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", dt.datetime(first_year, 1, 1, tzinfo=dt.UTC))
    event.add("sequence", 0)
    event.add("dtstart", start)
    event.add("dtend", start + dt.timedelta(days=1))
    again: dict[str, Any] = {"freq": "weekly", "bymonth": month} if one.weekly else {"freq": "yearly"}
    if not one.weekly:
        again["interval"] = one.every_years
    if one.last is not None:
        again["until"] = dt.date(first_year + one.last, 12, 31)
    event.add("rrule", again)
    event.add("summary", _title(tasks))
    when = "Each week" if one.weekly else "Any day"
    event.add("description", "\n".join([*(say(_line(task)) for task in tasks), f"{when} of {MONTHS[month - 1]}."]))
    event.add("categories", ["Lawn" if "lawn" in one.task else CATEGORY.get(one.task.split()[0], OTHER)])
    event.add("transp", "TRANSPARENT")
    event.add("status", "CONFIRMED")
    return event


def _title(tasks: list[Task]) -> str:
    what = tasks[0].task
    names = [name for task in tasks for name in task.names]
    more = f" and {len(names) - SHORT} more" if len(names) > SHORT else ""
    return f"{what[:1].upper()}{what[1:]}: {', '.join(names[:SHORT])}{more}"


def _line(task: Task) -> str:
    return task.words + (f". Take care: {task.caution}" if task.caution else "")


def _mark(*parts: object) -> str:
    return hashlib.sha256(repr(parts).encode()).hexdigest()[:20]
