"""Edits of the journal of a living garden: what happened is written down, and the plan follows in the same step."""

import datetime as dt
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.plane import Point
from gardenkit.planting import hand
from gardenkit.planting.journal import Correction, Journal, JournalEntry, happened_called
from gardenkit.planting.planting import Plant, Planting
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground
from gardenkit.project.edits.planting import multiply_plant
from gardenkit.project.edits.rooting import free_place
from gardenkit.project.layout import layout
from gardenkit.project.plant_choice import bed_called
from gardenkit.project.ranges import FIRST_YEAR, LAST_YEAR

MOST_PARTS = 20  # that one plant is divided into. House value.
ONLY_WORDS = ("flowered", "measured", "note")  # what changes nothing on the plan
CHANGED = ("date", "until", "height", "spread", "photo", "note", "next_year")  # of an entry, once it is written
Numbers = Iterable[int] | int


def write_down(
    project: Project,
    happened: str,
    *,
    date: dt.date,
    number: int | None = None,
    species: Species | str = "",
    at: Point | None = None,
    bed: str = "",
    **words: Any,
) -> Project:
    """Write down what was seen and leaves the plan as it is: it ``flowered``, was ``measured``, or a ``note``.

    It is about a plant by its number, a kind, a place or a bed (its middle), or the whole garden. ``words``: ``until``,
    ``height``, ``spread`` (metres), ``photo``, ``note``, ``next_year``. Raises GardenError for what changes the plan.
    """
    what = happened_called(happened)
    if what not in ONLY_WORDS:
        raise GardenError(f'"{happened}" changes the plan; use the edit of that name, or write a note')
    _day(date)
    if number is not None:
        plant = _known(project, number)
        _planted_by(project, plant, date)
        words |= {"number": number, "species": plant.species, "at": plant.at}
    else:
        place = _place(project, at, bed)
        words |= {"species": _name(species), "at": place}
    return _written(project, happened=what, date=date, **words)


def died(project: Project, numbers: Numbers, *, date: dt.date, **words: Any) -> Project:
    """Write down that plants died, and take them out of the plan, locked or not; an entry each."""
    for number in _several(numbers):
        plant = _there(project, number, date)
        project = _planting(project, lambda p, n=number: hand.remove(hand.lock(p, n, locked=False), n))  # type: ignore[misc]
        project = _written(project, happened="died", date=date, **_about(plant), **words)
    return project


def moved(project: Project, number: int, *, to: Point, date: dt.date, **words: Any) -> Project:
    """Write down that a plant was moved, and move it on the plan, locked or not. Raises GardenError for a place where
    no plant may stand.
    """
    plant = _there(project, number, date)
    place = free_place(project, to, f"plant {number} ({plant.species})", on_support=bool(plant.support))

    def put(planting: Planting) -> Planting:
        return hand.lock(
            hand.move(hand.lock(planting, number, locked=False), number, place), number, locked=plant.locked
        )

    return _written(_planting(project, put), happened="moved", date=date, to=place, **_about(plant), **words)


def came(
    project: Project, species: Species | str, *, date: dt.date, at: Point | None = None, bed: str = "", **words: Any
) -> Project:
    """Write down that a plant came by itself and is kept, and add it to the plan in the year of the date: at a place,
    or in the widest place of a bed.
    """
    name, place = _name(species), _place(project, at, bed)
    _day(date)
    if not name or place is None:
        raise GardenError("say which kind came by itself, and in which bed or at which place")
    free = free_place(project, place, name, on_support=False)
    year = _season(project, date)
    grown = _planting(project, lambda p: hand.add(p, name, [free], year=year, by_hand=True))
    new = (grown.planting.last_number,)
    return _written(
        grown, happened="came by itself", date=date, number=new[0], species=name, at=free, into=new, **words
    )


def divided(project: Project, number: int, *, into: int, apart: float, date: dt.date, **words: Any) -> Project:
    """Write down that a plant was divided ``into`` so many parts; all but one are planted round it, ``apart`` metres
    from each other, in its bed. Raises GardenError where they do not fit.
    """
    if type(into) is not int or not 2 <= into <= MOST_PARTS:
        raise GardenError(f"a plant is divided into {into}; give 2 to {MOST_PARTS} parts")
    plant = _there(project, number, date)
    bed = layout(project).bed_at(plant.at)
    grown = multiply_plant(project, number, into - 1, spacing=apart, bed=bed.region if bed else None)
    new = tuple(p.number for p in grown.planting.plants if p.number > project.planting.last_number)
    dated = _planting(grown, lambda p: hand.as_divisions(p, new, year=_season(project, date), until=plant.until))
    return _written(dated, happened="divided", date=date, into=new, **_about(plant), **words)


def replaced(project: Project, number: int, *, by: Species | str, date: dt.date, **words: Any) -> Project:
    """Write down that a plant was replaced, and plant the other kind in its place in the year of the date, under a
    number of its own. A plant that died before may be replaced too.
    """
    if number in _replaced(project.journal):
        raise GardenError(f"plant {number} was replaced before; choose the plant that stands there now")
    name, plant = _name(by), _known(project, number)
    _day(date)
    _planted_by(project, plant, date)
    place = free_place(project, plant.at, name, on_support=bool(plant.support))
    year, there = _season(project, date), any(p.number == number for p in project.planting.plants)

    def swapped(planting: Planting) -> Planting:
        left = hand.remove(hand.lock(planting, number, locked=False), number) if there else planting
        added = hand.add(left, name, [place], year=year, support=plant.support, by_hand=True)
        grouped = attrs.evolve(added.plants[-1], group=plant.group)
        return attrs.evolve(added, plants=(*added.plants[:-1], grouped))

    grown = _planting(project, swapped)
    new = (grown.planting.last_number,)
    return _written(grown, happened="replaced", date=date, into=new, **_about(plant), **words)


def change_entry(project: Project, entry: int, **changes: Any) -> Project:
    """Change the dates, sizes, photo or words of an entry by its ``id``; what it did to the plan stays as it is."""
    old = entry_of(project.journal, entry)
    for word in changes:
        if word not in CHANGED:
            raise GardenError(f'"{word}" of a journal entry cannot be changed{nearest(word, CHANGED)}; write a new one')
    new = attrs.evolve(old, **changes)
    _day(new.date)
    return _journal(project, lambda j: tuple(new if one is old else one for one in j.entries))


def remove_entry(project: Project, entry: int) -> Project:
    """Take an entry out of the journal by its ``id``; the plan stays as it is (undo takes both back)."""
    old = entry_of(project.journal, entry)
    return _journal(project, lambda j: tuple(one for one in j.entries if one is not old))


def correct(project: Project, species: Species | str, *, days: float = 0.0, growth: float = 1.0) -> Project:
    """Accept that a kind flowers ``days`` later and grows ``growth`` times as large in this garden; all that is worked
    out follows.
    """
    name = _name(species)
    if not name:
        raise GardenError("say which kind is to be corrected")
    others = tuple(one for one in project.journal.corrections if one.species != name)
    new = () if days == 0.0 and growth == 1.0 else (Correction(species=name, days=days, growth=growth),)
    return attrs.evolve(project, journal=attrs.evolve(project.journal, corrections=(*others, *new)))


def take_back(project: Project, species: Species | str) -> Project:
    """Take a kind's correction back: the catalogue's figures hold again. Raises GardenError where there is none."""
    name, known = _name(species), [one.species for one in project.journal.corrections]
    if name not in known:
        raise GardenError(f'nothing of "{name}" is corrected{nearest(name, known)}; choose a kind that is')
    return correct(project, name)


def entry_of(journal: Journal, number: int) -> JournalEntry:
    """Return the entry of an ``id``. Raises GardenError when there is none."""
    for entry in journal.entries:
        if entry.id == number:
            return entry
    raise GardenError(f"the journal has no entry {number}; choose one of its list")


# ---- helpers


def _written(project: Project, **fields: Any) -> Project:
    number = project.journal.last_id + 1
    known = {field.name for field in attrs.fields(JournalEntry)}
    for word in fields:
        if word not in known:
            raise GardenError(f'a journal entry has no "{word}"{nearest(word, known)}; leave it out')
    entry = JournalEntry(id=number, **fields)
    made = _journal(project, lambda j: (*j.entries, entry))
    return attrs.evolve(made, journal=attrs.evolve(made.journal, last_id=number))


def _journal(project: Project, change: Callable[[Journal], Sequence[JournalEntry]]) -> Project:
    return attrs.evolve(project, journal=attrs.evolve(project.journal, entries=tuple(change(project.journal))))


def _planting(project: Project, change: Callable[[Planting], Planting]) -> Project:
    return attrs.evolve(project, planting=change(project.planting))


def _about(plant: Plant) -> dict[str, Any]:
    return {"number": plant.number, "species": plant.species, "at": plant.at, "was": plant}


def _name(species: Species | str) -> str:
    return species if isinstance(species, str) else species.botanical


def _several(numbers: Numbers) -> tuple[int, ...]:
    found = (numbers,) if isinstance(numbers, int) else tuple(dict.fromkeys(numbers))
    if not found:
        raise GardenError("no plant is chosen; give the number of at least one")
    return found


def _day(date: dt.date) -> None:
    if not isinstance(date, dt.date) or not FIRST_YEAR <= date.year <= LAST_YEAR:
        raise GardenError(f"{date} is no day of a garden; give a date like 2027-06-14")


def _season(project: Project, date: dt.date) -> int:
    """Return the year of the planting that a day lies in, the first one for what came before it."""
    return max(0, date.year - project.planting.first_year)


def _there(project: Project, number: int, date: dt.date) -> Plant:
    """Return a plant of the plan that stands on a day. Raises GardenError for one that is gone or not yet planted."""
    _day(date)
    plant = hand.plant_of(project.planting, number)
    _planted_by(project, plant, date)
    return plant


def _known(project: Project, number: int) -> Plant:
    """Return a plant of the plan, or one that died; GardenError for any other number."""
    gone = (e.was for e in reversed(project.journal.entries) if e.happened == "died" and e.number == number and e.was)
    standing = (p for p in project.planting.plants if p.number == number)
    return next(standing, None) or next(gone, None) or hand.plant_of(project.planting, number)


def _replaced(journal: Journal) -> set[int]:
    return {e.number for e in journal.entries if e.happened == "replaced" and e.number is not None}


def _planted_by(project: Project, plant: Plant, date: dt.date) -> None:
    year = project.planting.first_year + plant.year
    if date.year < year:
        raise GardenError(
            f"plant {plant.number} ({plant.species}) comes in {year} by the plan, and the entry is dated {date}; mend "
            f"the date, or the first year of planting in 06_quantities_and_care"
        )


def _place(project: Project, at: Point | None, bed: str) -> Point | None:
    if bed:
        return bed_called(layout(project), bed).at
    return None if at is None else check_on_ground(project.site, at, "the place of the entry", units=project.units)
