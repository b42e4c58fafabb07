"""What a care calendar said when it was sent before: its events known again, numbered on, or cancelled."""

import datetime as dt
import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

OF = "x-wr-relcalid"  # the calendar's own mark stands in the file and in every event's mark
HOW = re.compile(r", | \(every |\. Take care")  # what follows a task and its plant in a line
Events = Mapping[str, Any]  # events as icalendar reads them, by their mark
KEPT = (
    "dtstart",
    "dtend",
    "rrule",
    "summary",
    "description",
    "categories",
    "status",
)  # what makes a change of an event


def newest(paths: Iterable[Path]) -> bytes:
    """Return the file among some that has been issued most often; empty when there is none that can be read."""
    files = [path.read_bytes() for path in paths if path.is_file()]
    return max(
        files, key=lambda content: sum(int(e.get("sequence", 0)) for e in read(content)[1].values()), default=b""
    )


def read(content: bytes) -> tuple[str, Events]:
    """Return a calendar's own mark and its events by theirs; nothing from a file that is not one of ours."""
    from icalendar import Calendar

    try:
        found = Calendar.from_ical(content) if content else None
    except ValueError:  # cut off, or changed by another program: a new calendar begins
        found = None
    if found is None or OF not in found:
        return "", {}
    return str(found[OF]), {str(event["uid"]): event for event in found.walk("VEVENT")}


def issued(event: Any, before: Any, now: dt.datetime) -> Any:
    """Return an event as it is to be sent: unchanged with the number it had, changed with the next one."""
    if before is None:
        return event
    if _said(event) == _said(before):
        return before
    return _numbered(event, before, now)


def cancelled(before: Any, now: dt.datetime) -> Any:
    """Return an event that is no longer to be done as it is to be sent: once with the next number."""
    if str(before.get("status", "")) == "CANCELLED":
        return before
    event = before.copy()
    del event["status"]
    event.add("status", "CANCELLED")
    return _numbered(event, before, now)


def known_again(fresh: Sequence[Any], sent: Events) -> dict[int, str]:
    """Return the mark that each of some events (by its place) was sent with before: of one kind of task, repeated
    alike, that which had most of its lines, else that of its month; so a task that moves to another month, or loses a
    plant, stays the event it was.
    """
    before: dict[tuple[object, ...], list[tuple[str, Any]]] = defaultdict(list)
    for uid, event in sent.items():
        before[_kind(event)].append((uid, event))
    pairs = [
        (score, place, uid)
        for place, event in enumerate(fresh)
        for uid, earlier in before[_kind(event)]
        if (score := _alike(event, earlier)) > (0, 0, -12)
    ]
    found: dict[int, str] = {}
    taken: set[str] = set()
    for _, place, uid in sorted(pairs, key=lambda pair: (tuple(-n for n in pair[0]), pair[1], pair[2])):
        if place not in found and uid not in taken:
            found[place] = uid
            taken.add(uid)
    return found


def _kind(event: Any) -> tuple[object, ...]:
    rule = event["rrule"].to_ical().split(b";")
    return str(event["summary"]).partition(":")[0], *(part for part in rule if part.startswith((b"FREQ", b"INTERVAL")))


def _alike(event: Any, earlier: Any) -> tuple[int, int, int]:
    """Return how many lines two events share, whether they fall in one month, and how far apart, as a score; nothing
    in common scores (0, 0, -12).
    """
    one, other = event["dtstart"].dt.month, earlier["dtstart"].dt.month
    shared = len(set(_lines(event)) & set(_lines(earlier)))
    apart = min((one - other) % 12, (other - one) % 12)
    return (shared, int(one == other), -apart if shared or one == other else -12)


def _lines(event: Any) -> list[str]:
    """Return what an event is for, line by line: without how it is done, and without the last line, which says when."""
    return [HOW.split(line)[0] for line in str(event["description"]).split("\n")[:-1]]


def _numbered(event: Any, before: Any, now: dt.datetime) -> Any:
    for name in ("sequence", "dtstamp"):
        event.pop(name, None)
    event.add("sequence", int(before.get("sequence", 0)) + 1)
    event.add("dtstamp", now.astimezone(dt.UTC).replace(microsecond=0))
    return event


def _said(event: Any) -> tuple[bytes, ...]:
    """Return what an event says, as it stands in the file."""
    lines = event.to_ical().replace(b"\r\n ", b"").split(b"\r\n")
    names = tuple(name.upper().encode() for name in KEPT)
    return tuple(line for line in lines if line.startswith(names))
