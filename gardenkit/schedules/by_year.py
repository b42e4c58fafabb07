"""The planting year by year: annuals to sow or plant again, and the plants that dividing gives for nothing."""

from collections import Counter
from collections.abc import Iterable

import attrs

from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.divisions import Divided, divided_in, room_of
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.planting.standing import ANNUAL, stands

LAST_YEAR = 6  # after the first season: later ones say the same again. House value.


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
    def placed(self) -> int:
        """How many of them stand on the plan."""
        return sum(one.for_nothing for one in self.divided)

    @property
    def covers(self) -> float:
        """The m2 that these are enough for."""
        return sum(one.covers for one in self.divided)


def planting_years(plants: Iterable[Plant], catalogue: Catalogue) -> tuple[PlantingYear, ...]:
    """Return the years, first to LAST_YEAR, in which something is sown, falls open or is to be divided."""
    known = [(plant, catalogue[plant.species]) for plant in plants]
    found = (_year(year, known) for year in range(LAST_YEAR + 1))
    return tuple(one for one in found if one.sown or one.open_again or one.divided)


# ---- helpers


def _year(year: int, known: Iterable[tuple[Plant, Species]]) -> PlantingYear:
    sown, gone, herbs, kinds = Counter[str](), Counter[str](), dict[str, list[Plant]](), dict[str, Species]()
    for plant, species in known:
        kinds[species.botanical] = species
        if species.layer in ANNUAL:
            now, before = stands(plant, species, year), year > 0 and stands(plant, species, year - 1)
            sown[species.botanical] += now
            gone[species.botanical] += before and not now
        else:
            herbs.setdefault(species.botanical, []).append(plant)
    given = (divided_in(kinds[name], some, year) for name, some in sorted(herbs.items()))
    return PlantingYear(
        year=year,
        sown=_counted(sown),
        open_again=_counted(gone),
        opens=sum(room_of(kinds[name], n) for name, n in gone.items()),
        divided=tuple(one for one in given if one.plants),
    )


def _counted(kinds: Counter[str]) -> tuple[tuple[str, int], ...]:
    return tuple(sorted((name, n) for name, n in kinds.items() if n))
