"""Next year's list from the journal: what to replace and order, what to divide, what to keep an eye on."""

from collections.abc import Iterable, Mapping
from itertools import groupby

import attrs

from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.divisions import divided, divided_every
from gardenkit.planting.journal import JournalEntry, NextYear
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.lived import Seen, seen
from gardenkit.units import counted, listed

LAGGING = 0.75  # of the size that is worked out: a plant below it is watched. House value.
MANY = 0.5  # of a kind that died: from here on another kind is worth thinking of. House value.
MOST_BEDS = 2  # that a line names. House value.
ORDER = ("replace", "divide", "order", "watch")


@attrs.frozen(kw_only=True)
class ToDo:
    """One line of next year's list: what to do, with how many of which kind, where and why; ``numbers`` are plants."""

    do: NextYear
    botanical: str
    count: int
    where: str
    why: str
    numbers: tuple[int, ...] = ()


def coming_year(project: Project) -> int | None:
    """Return the year after the last entry of the journal, None while it is empty."""
    return max((entry.date.year + 1 for entry in project.journal.entries), default=None)


def next_year(project: Project, layout: Layout, plain: Catalogue) -> tuple[ToDo, ...]:
    """Return the list for the year after the last entry, in the order of the work; empty while the journal is.

    ``plain`` is the catalogue without the journal's corrections.
    """
    year = coming_year(project)
    if year is None:
        return ()
    lost = _to_replace(project)
    found = [
        *_replacing(project, layout, lost),
        *_ordering(lost),
        *_dividing(project, layout, plain, year),
        *_said(project, layout, lost),
        *_watching(project, layout, seen(project, plain), year - 1),
    ]
    return tuple(sorted(found, key=lambda one: ORDER.index(one.do)))


# ---- helpers


def _to_replace(project: Project) -> tuple[JournalEntry, ...]:
    again = {e.number for e in project.journal.entries if e.happened == "replaced"}
    return tuple(e for e in project.journal.entries if e.happened == "died" and e.was and e.number not in again)


def _replacing(project: Project, layout: Layout, lost: Iterable[JournalEntry]) -> list[ToDo]:
    entries = sorted(lost, key=lambda e: (e.species, _where(layout, e)))
    left = _counts(project.planting.plants)
    dead = _counts(e.was for e in entries if e.was)
    found = []
    for (kind, where), group in groupby(entries, key=lambda e: (e.species, _where(layout, e))):
        here = list(group)
        notes = "; ".join(dict.fromkeys(e.note for e in here if e.note))
        many = dead[kind] >= MANY * (dead[kind] + left.get(kind, 0)) and dead[kind] > 1
        other = (
            f"; {dead[kind]} of {dead[kind] + left.get(kind, 0)} died, so another kind may do better" if many else ""
        )
        found.append(
            ToDo(
                do="replace",
                botanical=kind,
                count=len(here),
                where=where,
                why=f"died {_days(here)}{f': {notes}' if notes else ''}{other}",
                numbers=tuple(e.number for e in here if e.number is not None),
            )
        )
    return found


def _ordering(lost: Iterable[JournalEntry]) -> list[ToDo]:
    counts = _counts(e.was for e in lost if e.was)
    return [
        ToDo(do="order", botanical=kind, count=n, where="", why=f"for {counted(n, 'empty place')}")
        for kind, n in sorted(counts.items())
    ]


def _dividing(project: Project, layout: Layout, plain: Catalogue, year: int) -> list[ToDo]:
    last = {
        number: entry.date.year
        for entry in sorted(project.journal.entries, key=lambda e: e.date)
        if entry.happened == "divided"
        for number in (entry.number, *entry.into)
    }
    due: dict[str, list[Plant]] = {}
    for plant in project.planting.plants:
        every = _divided_every(plain, plant.species)
        since = last.get(plant.number, project.planting.first_year + plant.year)
        if every is not None and plant.stays and year - since >= every:
            due.setdefault(plant.species, []).append(plant)
    return [
        ToDo(
            do="divide",
            botanical=kind,
            count=len(plants),
            where=_beds(layout, plants),
            why=f"every {_divided_every(plain, kind)} years; not divided since "
            f"{min(last.get(p.number, project.planting.first_year + p.year) for p in plants)}; "
            f"{_gives(plain, kind, len(plants))}",
            numbers=tuple(p.number for p in plants),
        )
        for kind, plants in sorted(due.items())
    ]


def _divided_every(plain: Catalogue, kind: str) -> int | None:
    return divided_every(plain[kind]) if kind in plain else None


def _gives(plain: Catalogue, kind: str, plants: int) -> str:
    given = divided(plain[kind], plants)
    return f"gives up to {counted(given.spare, 'plant')} more, enough for {given.covers:.1f} m\u00b2 of gaps"


def _said(project: Project, layout: Layout, lost: Iterable[JournalEntry]) -> list[ToDo]:
    """Return what an entry itself says is to be done; a loss that asks for another plant is among the lost already."""
    counted_already = {(entry.id, do) for entry in lost for do in ("replace", "order")}
    return [
        ToDo(
            do=entry.next_year,
            botanical=entry.species,
            count=1,
            where=_where(layout, entry),
            why=entry.note or f"{entry.happened}, {entry.date}",
            numbers=() if entry.number is None else (entry.number,),
        )
        for entry in project.journal.entries
        if entry.next_year and (entry.id, entry.next_year) not in counted_already
    ]


def _watching(project: Project, layout: Layout, figures: Iterable[Seen], year: int) -> list[ToDo]:
    there = {plant.number for plant in project.planting.plants}
    why = {
        e.id: (e, f"came by itself {e.date}: keep it or weed it out before it sows itself again")
        for e in project.journal.entries
        if e.happened == "came by itself" and e.number in there and e.date.year == year
    }
    why |= {
        one.entry.id: (one.entry, f"{one.seen / one.worked_out:.0%} of the {one.what} worked out for its age")
        for one in figures
        if one.what in ("height", "spread") and one.entry.date.year == year and one.seen < LAGGING * one.worked_out
    }
    return [
        ToDo(do="watch", botanical=e.species, count=1, where=_where(layout, e), why=words, numbers=(e.number,))
        for e, words in why.values()
        if e.number is not None and not e.next_year
    ]


def _where(layout: Layout, entry: JournalEntry) -> str:
    bed = None if entry.at is None else layout.bed_at(entry.at)
    return "" if bed is None else bed.name


def _beds(layout: Layout, plants: Iterable[Plant]) -> str:
    beds = layout.beds_at([plant.at for plant in plants])
    return listed(sorted({bed.name for bed in beds if bed is not None}), most=MOST_BEDS)


def _days(entries: Iterable[JournalEntry]) -> str:
    return ", ".join(dict.fromkeys(entry.date.isoformat() for entry in entries))


def _counts(plants: Iterable[Plant]) -> Mapping[str, int]:
    found: dict[str, int] = {}
    for plant in plants:
        found[plant.species] = found.get(plant.species, 0) + 1
    return found
