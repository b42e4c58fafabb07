"""What was seen in the garden beside what is worked out for it: first flowers and sizes, and what they correct."""

import datetime as dt
import math
from collections.abc import Callable
from statistics import fmean
from typing import Literal

import attrs

from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.growth import size
from gardenkit.planting.journal import (
    LEAST_GROWTH,
    MOST_DAYS,
    MOST_GROWTH,
    Correction,
    Journal,
    JournalEntry,
    corrected,
    corrected_kind,
)
from gardenkit.planting.planting import Plant
from gardenkit.planting.season import bloom_days
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.season import spring_shift

LEAST_OFF_DAYS = 15.0  # half a month: years differ by ten days, and the catalogue knows no finer. House value.
LEAST_OFF_SIZE = 0.1  # of a size: less is the difference between one plant and the next. House value.
HALVINGS = 40  # of the span of factors until one fits to a thousandth and far below
What = Literal["first flower", "last flower", "height", "spread"]


@attrs.frozen(kw_only=True)
class Seen:
    """One figure of an ``entry``: what was seen, and what is worked out by the catalogue alone and as corrected.

    Days of the garden's own year (0 is the 1st of January) for flowers, metres for sizes.
    """

    entry: JournalEntry
    species: Species
    what: What
    seen: float
    by_catalogue: float
    worked_out: float

    @property
    def off(self) -> float:
        """How many days later it flowered than the catalogue alone says, or how many times its size it is."""
        if self.what in ("height", "spread"):
            return self.seen / self.by_catalogue
        return (self.seen - self.by_catalogue + 182.5) % 365.0 - 182.5


@attrs.frozen(kw_only=True)
class Proposal:
    """A correction of a kind that what was seen speaks for; ``flowers`` and ``sizes`` say how often each was seen."""

    correction: Correction
    flowers: int
    sizes: int


def seen(project: Project, plain: Catalogue) -> tuple[Seen, ...]:
    """Return every figure of the journal that something is worked out for, in the order of the entries.

    ``plain`` is the catalogue without corrections. A kind that it does not know, or that has no flowers in it, and a
    size without the plant's number have nothing to stand beside.
    """
    known = corrected(plain, project.journal.corrections)
    found: list[Seen] = []
    for entry in project.journal.entries:
        if entry.species in plain:
            pair = plain[entry.species], known[entry.species]
            found += _flowers(project, entry, *pair) if entry.happened == "flowered" else _sizes(project, entry, *pair)
    return tuple(found)


def proposals(project: Project, plain: Catalogue) -> tuple[Proposal, ...]:
    """Return a correction for each kind that flowers at least half a month off, or is a tenth larger or smaller, on
    the mean of all that was seen; a kind that is corrected so already is left out.
    """
    kinds: dict[Species, list[Seen]] = {}
    for one in seen(project, plain):
        kinds.setdefault(plain[one.species.botanical], []).append(one)
    found = (_proposal(project, kind, lines) for kind, lines in kinds.items())
    accepted = set(project.journal.corrections)
    return tuple(one for one in found if one is not None and one.correction not in accepted)


def gone(journal: Journal) -> dict[int, Plant]:
    """Return the plants that died or were replaced, by their numbers, as they stood."""
    return {e.was.number: e.was for e in journal.entries if e.was is not None and e.happened in ("died", "replaced")}


def day_words(day: float) -> str:
    """Return a day of the year (0 is the 1st of January) as people say when they know no day: a third of a month.

    >>> day_words(165.0), day_words(151.0)
    ('mid June', 'early June')
    """
    on = dt.date(2001, 1, 1) + dt.timedelta(days=int(day) % 365)
    third = "early" if on.day <= 10 else "mid" if on.day <= 20 else "late"
    return f"{third} {on:%B}"


# ---- helpers


def _flowers(project: Project, entry: JournalEntry, plain: Species, known: Species) -> list[Seen]:
    shift, south = spring_shift(project.site), project.site.place.latitude < 0
    by_catalogue, worked_out = bloom_days(plain, shift), bloom_days(known, shift)
    if by_catalogue is None or worked_out is None:
        return []
    days: list[tuple[What, dt.date | None]] = [("first flower", entry.date), ("last flower", entry.until)]
    return [
        Seen(
            entry=entry,
            species=known,
            what=what,
            seen=float(day.timetuple().tm_yday - 1),
            by_catalogue=_here(by_catalogue[end], south=south),
            worked_out=_here(worked_out[end], south=south),
        )
        for end, (what, day) in enumerate(days)
        if day is not None
    ]


def _here(day: float, *, south: bool) -> float:
    """Return a day of the northern year as a day of the garden's own: half a year on in the south."""
    return (day + 182.5) % 365.0 if south else day


def _sizes(project: Project, entry: JournalEntry, plain: Species, known: Species) -> list[Seen]:
    age = _age(project, entry)
    if age is None:
        return []
    by_catalogue, worked_out = size(plain, age), size(known, age)
    pairs: list[tuple[What, float | None, float, float]] = [
        ("height", entry.height, by_catalogue.height, worked_out.height),
        ("spread", entry.spread, by_catalogue.spread, worked_out.spread),
    ]
    return [
        Seen(entry=entry, species=known, what=what, seen=given, by_catalogue=ours, worked_out=now)
        for what, given, ours, now in pairs
        if given is not None
    ]


def _age(project: Project, entry: JournalEntry) -> int | None:
    """Return how many years the plant of an entry had stood, None where that is not known."""
    of_number = {plant.number: plant for plant in project.planting.plants} | gone(project.journal)
    plant = None if entry.number is None else of_number.get(entry.number)
    if plant is None or plant.species != entry.species:
        return None
    age = entry.date.year - project.planting.first_year - plant.year
    return age if age >= 0 else None


def _proposal(project: Project, kind: Species, lines: list[Seen]) -> Proposal | None:
    flowers = [one.off for one in lines if one.what == "first flower"]
    sizes = [one for one in lines if one.what in ("height", "spread") and _age(project, one.entry)]
    days = _held(fmean(flowers), -MOST_DAYS, MOST_DAYS) if flowers else 0.0
    growth = fmean(_factor(project, kind, one) for one in sizes) if sizes else 1.0
    made = Correction(
        species=kind.botanical,
        days=float(round(days)) if abs(days) >= LEAST_OFF_DAYS else 0.0,
        growth=round(growth, 2) if abs(growth - 1.0) >= LEAST_OFF_SIZE else 1.0,
    )
    if made == Correction(species=kind.botanical):
        return None
    return Proposal(correction=made, flowers=len(flowers), sizes=len(sizes))


def _factor(project: Project, kind: Species, one: Seen) -> float:
    """Return by how much all sizes of a kind are to be multiplied so that what is worked out for an entry is what was
    seen.
    """
    age = _age(project, one.entry) or 0

    def worked_out(factor: float) -> float:
        grown = size(corrected_kind(kind, Correction(species=kind.botanical, growth=factor)), age)
        return grown.height if one.what == "height" else grown.spread

    return _where(worked_out, one.seen, LEAST_GROWTH, MOST_GROWTH)


def _where(rising: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    for _ in range(HALVINGS):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if rising(middle) < wanted else (low, middle)
    return high


def _held(value: float, low: float, high: float) -> float:
    return max(low, min(high, value))
