"""The planting year by year: annuals to sow or plant again, and the plants that dividing gives for nothing."""

from collections import Counter
from collections.abc import Iterable

import attrs

from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Plant
from gardenkit.planting.spacing import plants_a_square_metre
from gardenkit.planting.species import Species
from gardenkit.planting.standing import ANNUAL, stands
from gardenkit.sources import HOUSE, Figure

DIVIDE = "divide"  # the task of the plant tables, every so many years
PARTS = Figure(
    3.0,
    "good parts of a clump",
    f"{HOUSE}: each with three to five buds, as Nebraska Extension asks (North Platte Telegraph, 2021); no old middle",
)
PARTS_OF_SPREADERS = Figure(5.0, "good parts", f"{HOUSE}: of what runs or roots as it goes")
SPREADERS = frozenset({"rhizomes", "runners", "rooting stems", "offsets"})  # ways of spreading of the plant tables
LAST_YEAR = 6  # after the first season: later ones say the same again. House value.


@attrs.frozen(kw_only=True)
class Divided:
    """What dividing ``plants`` of a kind gives: ``spare`` plants besides those set back, enough for ``covers`` m2 at
    the kind's usual distance.
    """

    botanical: str
    plants: int
    spare: int
    covers: float


@attrs.frozen(kw_only=True)
class PlantingYear:
    """One ``year`` after the first season: how many of each annual kind are sown or planted (``sown``), how many stood
    only the year before (``open_again``) with the m2 they leave open, and what is to be divided.
    """

    year: int
    sown: tuple[tuple[str, int], ...]
    open_again: tuple[tuple[str, int], ...]
    opens: float
    divided: tuple[Divided, ...]

    @property
    def spare(self) -> int:
        """Plants that dividing gives besides those set back."""
        return sum(one.spare for one in self.divided)

    @property
    def covers(self) -> float:
        """The m2 that these are enough for."""
        return sum(one.covers for one in self.divided)


def divided_every(species: Species) -> int | None:
    """Return every how many years a kind is divided, None for one that is not."""
    return next((task.every_years for task in species.care if task.task == DIVIDE), None)


def divided(species: Species, plants: int) -> Divided:
    """Return what dividing so many plants of a kind gives."""
    parts = PARTS_OF_SPREADERS if SPREADERS.intersection(species.spreads_by) else PARTS
    spare = plants * (int(parts) - 1)
    return Divided(botanical=species.botanical, plants=plants, spare=spare, covers=room_of(species, spare))


def room_of(species: Species, plants: int) -> float:
    """Return the m2 that so many plants of a kind take at its usual distance."""
    return plants / plants_a_square_metre(species.spacing_m)


def planting_years(plants: Iterable[Plant], catalogue: Catalogue) -> tuple[PlantingYear, ...]:
    """Return the years, first to LAST_YEAR, in which something is sown, falls open or is to be divided."""
    known = [(plant, catalogue[plant.species]) for plant in plants]
    found = (_year(year, known) for year in range(LAST_YEAR + 1))
    return tuple(one for one in found if one.sown or one.open_again or one.divided)


# ---- helpers


def _year(year: int, known: Iterable[tuple[Plant, Species]]) -> PlantingYear:
    sown, gone, due, kinds = Counter[str](), Counter[str](), Counter[str](), dict[str, Species]()
    for plant, species in known:
        kinds[species.botanical] = species
        if species.layer in ANNUAL:
            now, before = stands(plant, species, year), year > 0 and stands(plant, species, year - 1)
            sown[species.botanical] += now
            gone[species.botanical] += before and not now
            continue
        every, age = divided_every(species), year - plant.year
        due[species.botanical] += bool(every and plant.stays and age > 0 and age % every == 0)
    return PlantingYear(
        year=year,
        sown=_counted(sown),
        open_again=_counted(gone),
        opens=sum(room_of(kinds[name], n) for name, n in gone.items()),
        divided=tuple(divided(kinds[name], n) for name, n in _counted(due)),
    )


def _counted(kinds: Counter[str]) -> tuple[tuple[str, int], ...]:
    return tuple(sorted((name, n) for name, n in kinds.items() if n))
