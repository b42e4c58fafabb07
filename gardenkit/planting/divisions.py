"""Perennials divided in later years: how often, how many plants that gives for nothing, how many are on the plan."""

from collections.abc import Iterable

import attrs

from gardenkit.planting.planting import Plant
from gardenkit.planting.spacing import plants_a_square_metre
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, Figure

DIVIDE = "divide"  # the task of the plant tables, every so many years
PARTS = Figure(
    3.0,
    "good parts of a clump",
    f"{HOUSE}: each with three to five buds, as Nebraska Extension asks (North Platte Telegraph, 2021); no old middle",
)
PARTS_OF_SPREADERS = Figure(5.0, "good parts", f"{HOUSE}: of what runs or roots as it goes")
SPREADERS = frozenset({"rhizomes", "runners", "rooting stems", "offsets"})  # ways of spreading of the plant tables


@attrs.frozen(kw_only=True)
class Divided:
    """What dividing ``plants`` of a kind in one year gives: ``spare`` plants besides those set back, enough for
    ``covers`` m2 at the kind's usual distance; ``placed`` parts of the kind stand on the plan from that year on.
    """

    botanical: str
    plants: int
    spare: int
    covers: float
    placed: int = 0

    @property
    def free(self) -> int:
        """The spare plants that have no place on the plan yet."""
        return max(self.spare - self.placed, 0)

    @property
    def for_nothing(self) -> int:
        """The parts on the plan that dividing gives."""
        return min(self.spare, self.placed)

    @property
    def motherless(self) -> int:
        """The parts on the plan for which no plant is left to divide: these are bought."""
        return self.placed - self.for_nothing


def divided_every(species: Species) -> int | None:
    """Return every how many years a kind is divided, None for one that is not."""
    return next((task.every_years for task in species.care if task.task == DIVIDE), None)


def divided(species: Species, plants: int, placed: int = 0) -> Divided:
    """Return what dividing so many plants of a kind gives."""
    parts = PARTS_OF_SPREADERS if SPREADERS.intersection(species.spreads_by) else PARTS
    spare = plants * (int(parts) - 1)
    return Divided(
        botanical=species.botanical, plants=plants, spare=spare, covers=room_of(species, spare), placed=placed
    )


def divided_in(species: Species, plants: Iterable[Plant], year: int) -> Divided:
    """Return what dividing in a ``year`` after the first season gives, of the plants of a kind that are due then."""
    every, of_kind = divided_every(species), list(plants)
    due = [p for p in of_kind if every and p.stays and year > p.year and (year - p.year) % every == 0]
    placed = sum(p.divided and p.year == year for p in of_kind)
    return divided(species, len(due), placed)


def placed_in(species: Species, plants: Iterable[Plant]) -> tuple[tuple[int, Divided], ...]:
    """Return each year in which parts of a kind stand on the plan from then on, and what dividing gives that year."""
    of_kind = list(plants)
    years = sorted({p.year for p in of_kind if p.divided})
    return tuple((year, divided_in(species, of_kind, year)) for year in years)


def room_of(species: Species, plants: int) -> float:
    """Return the m2 that so many plants of a kind take at its usual distance."""
    return plants / plants_a_square_metre(species.spacing_m)
