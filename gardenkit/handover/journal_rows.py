"""The journal in the office edition: what happened, what was seen beside what is worked out, and next year's list."""

from gardenkit.garden import Garden
from gardenkit.planting.journal import JournalEntry
from gardenkit.project.lived import day_words
from gardenkit.units import System, show_length

Rows = list[tuple[str, ...]]


def happened(garden: Garden) -> Rows:
    """Return date, what happened, to what, what was seen of it with its note, and what it asks for, newest first."""
    entries = sorted(garden.project.journal.entries, key=lambda one: (one.date, one.id), reverse=True)
    return [
        (str(one.date), one.happened, _about(one), "; ".join(_seen(one, garden.units)), one.next_year)
        for one in entries
    ]


def beside(garden: Garden) -> Rows:
    """Return kind, what of it, as worked out here, and as it was seen."""
    rows: Rows = []
    for one in garden.living.seen:
        if one.what in ("height", "spread"):
            worked, seen = (show_length(size, garden.units) for size in (one.worked_out, one.seen))
            rows.append((one.species.botanical, one.what, worked, f"{seen} in {one.entry.date.year}"))
        else:
            day = one.entry.date if one.what == "first flower" else one.entry.until
            rows.append((one.species.botanical, one.what, f"about {day_words(one.worked_out)}", str(day)))
    return rows


def to_do(garden: Garden) -> Rows:
    """Return what to do in the year after the last entry: what, with how many of which kind, where and why."""
    return [
        (one.do, one.botanical, str(one.count) if one.count else "", one.where, garden.say(one.why))
        for one in garden.living.to_do
    ]


# ---- helpers


def _about(entry: JournalEntry) -> str:
    number = f"plant {entry.number}" if entry.number is not None else ""
    return ", ".join(part for part in (entry.species, number) if part) or "the garden"


def _seen(entry: JournalEntry, units: System) -> list[str]:
    found = [
        f"until {entry.until}" if entry.until else "",
        f"{show_length(entry.height, units)} high" if entry.height is not None else "",
        f"{show_length(entry.spread, units)} wide" if entry.spread is not None else "",
        f"plants {', '.join(map(str, entry.into))}" if entry.into else "",
        entry.note,
    ]
    return [part for part in found if part]
