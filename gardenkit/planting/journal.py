"""The journal of a living garden: what died, moved, came by itself, flowered and grew, and what that corrects here."""

import datetime as dt
from functools import lru_cache
from typing import Literal, get_args

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.plane import Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.tuples import lists_as_tuples

Happened = Literal["died", "moved", "came by itself", "divided", "replaced", "flowered", "measured", "note"]
NextYear = Literal["", "replace", "divide", "order", "watch"]
HAPPENED: tuple[Happened, ...] = get_args(Happened)
NEXT_YEAR: tuple[NextYear, ...] = get_args(NextYear)
LONGEST_BLOOM = 366  # days from the first flower that was seen to the last
MOST_DAYS = 60.0  # a kind's flowers are moved no further, as the site's spring is not. House value.
LEAST_GROWTH, MOST_GROWTH = 0.3, 3.0  # factors of size that can be accepted. House values.


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class JournalEntry:
    """One thing that happened on a ``date``; ``id`` is never given again.

    It is about a plant by its ``number``, a kind (``species``, as it was called then), a place (``at``), or the whole
    garden. ``was`` is the plant as it stood before, ``to`` where it was moved, ``into`` the numbers of the plants that
    came of it. ``date`` and ``until`` are the first and the last day it was seen in flower. Metres.
    """

    id: int
    happened: Happened
    date: dt.date
    number: int | None = None
    species: str = ""
    at: Point | None = None
    to: Point | None = None
    was: Plant | None = None
    into: tuple[int, ...] = ()
    until: dt.date | None = None
    height: float | None = None
    spread: float | None = None
    photo: str = ""  # a file in the garden's folder of journal photos
    note: str = ""
    next_year: NextYear = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Correction:
    """What a kind does otherwise in this garden: it flowers ``days`` later, and its sizes are ``growth`` times ours."""

    species: str
    days: float = 0.0
    growth: float = 1.0


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Journal:
    """All entries, the corrections that were accepted, and the highest number ever given to an entry."""

    entries: tuple[JournalEntry, ...] = ()
    corrections: tuple[Correction, ...] = ()
    last_id: int = 0

    def correction(self, species: str) -> Correction:
        """Return what is corrected of a kind: nothing, where nothing was accepted."""
        return next((one for one in self.corrections if one.species == species), Correction(species=species))


def check_entry(entry: JournalEntry) -> None:
    """Raise GardenError for an entry whose fields do not belong together."""
    named = f"the journal entry of {entry.date}"
    if entry.until is not None and not 0 <= (entry.until - entry.date).days <= LONGEST_BLOOM:
        raise GardenError(
            f"{named} was seen in flower from {entry.date} to {entry.until}; "
            "give a last day that is not before the first, and within a year of it"
        )
    if entry.happened == "flowered" and not entry.species:
        raise GardenError(f"{named} does not say which kind flowered; choose a plant or a kind")
    if entry.happened == "measured" and entry.height is None and entry.spread is None:
        raise GardenError(f"{named} gives neither a height nor a spread; type one of them")
    if entry.happened == "moved" and entry.to is None:
        raise GardenError(f"{named} does not say where the plant was moved; give the place")


def check_journal(journal: Journal) -> None:
    """Raise GardenError for two entries of one number, one that was never given, or two corrections of one kind."""
    ids = [entry.id for entry in journal.entries]
    if len(set(ids)) < len(ids) or max(ids, default=0) > journal.last_id:
        raise GardenError("two entries of the journal bear one number, or one was never given; take the last one out")
    kinds = [one.species for one in journal.corrections]
    if twice := next((kind for kind in kinds if kinds.count(kind) > 1), ""):
        raise GardenError(f'the journal corrects "{twice}" twice; take one of the two back')


def happened_called(word: str) -> Happened:
    """Return what happened by its word; GardenError names the nearest known one."""
    for known in HAPPENED:
        if known == word:
            return known
    raise GardenError(f'a journal does not know "{word}"{nearest(word, HAPPENED)}; use one of {", ".join(HAPPENED)}')


def corrected_kind(species: Species, correction: Correction) -> Species:
    """Return a kind as it behaves in this garden: its flowers later by days, all its sizes by one factor."""
    if correction.growth == 1.0:
        return attrs.evolve(species, bloom_later=correction.days)
    sizes = {name: getattr(species, name) * correction.growth for name in _SIZES}
    return attrs.evolve(species, bloom_later=correction.days, **sizes)


@lru_cache(maxsize=8)
def corrected(catalogue: Catalogue, corrections: tuple[Correction, ...]) -> Catalogue:
    """Return the catalogue as this garden has proved it; a kind that it does not know is passed over. Remembered."""
    if not corrections:
        return catalogue
    of_kind = {one.species: one for one in corrections}
    plants = (corrected_kind(s, of_kind[s.botanical]) if s.botanical in of_kind else s for s in catalogue.plants)
    return Catalogue(plants=tuple(plants))


_SIZES = tuple(f"{what}{at}_{end}_m" for what in ("height", "spread") for at in ("", "_10") for end in ("min", "max"))
