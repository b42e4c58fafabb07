"""The plants as they stand in a given year: where each is, what it is and how big it has grown."""

import math
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray, Line, Point
from gardenkit.planting.catalogue_columns import BULBS
from gardenkit.planting.growth import Size, crown_base, size
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species

Planted = tuple[Plant, Species]
Numbers = NDArray[np.int64]
TIERS = {"tree": "tree", "conifer": "tree", "shrub": "shrub", "wall fruit": "wall", "climber": "wall"}  # others: herb
CARPETS = ("ground cover", *BULBS)  # meant to run under and between their neighbours
ANNUAL, ONE_SEASON = ("annual", "tender bulb"), 1.0  # layers that frost ends, years they stand. Common practice.
ON_SUPPORT = 0.9  # m a plant on its support stands out from it. House value.
LOW_TREE = 3.0  # m: a conifer below this stands among shrubs. House value.


@attrs.frozen(kw_only=True)
class Standing:
    """One plant with its kind and its size in the year looked at."""

    plant: Plant
    species: Species
    size: Size

    @property
    def at(self) -> Point:
        """Where its stem is on the plan."""
        return self.plant.at

    @property
    def radius(self) -> float:
        """Half its width in metres."""
        return self.size.spread / 2

    @property
    def ground_spread(self) -> float:
        """Width in metres it takes on the plan: a plant on a support spreads along it and stands out no further."""
        return min(self.size.spread, ON_SUPPORT) if self.plant.support else self.size.spread

    @property
    def name(self) -> str:
        """The plant in the designer's words: number and kind."""
        return called(self.plant, self.species)

    @property
    def tier(self) -> str:
        """``tree``, ``shrub``, ``wall`` or ``herb``: kinds of one tier compete for the same room."""
        found = TIERS.get(self.species.layer, "herb")
        return "shrub" if found == "tree" and self.species.height < LOW_TREE else found

    @property
    def is_carpet(self) -> bool:
        """Whether it is meant to run under and between its neighbours."""
        return self.species.layer in CARPETS


def called(plant: Plant, species: Species) -> str:
    """Return the words by which advice calls a plant: its number and kind."""
    return f"plant {plant.number}, {species.botanical}"


def stands(plant: Plant, species: Species, year: float) -> bool:
    """Return whether a plant is in the ground ``year`` years after the first season: from its first to its last year.

    Annuals without a last year stand one season; with one they are sown again each year until then.
    """
    gone = plant.stays and species.layer in ANNUAL and year >= plant.year + ONE_SEASON
    return plant.is_there(year) and not gone


def standing(plants: Iterable[Planted], year: float, *, curve: str = "chapman-richards") -> tuple[Standing, ...]:
    """Return the plants in the ground ``year`` years after the first season at their size; later ones are left out.
    Remembered: many rules look at the same year.
    """
    return _standing(tuple(plants), year, curve)


@lru_cache(maxsize=8)
def _standing(plants: tuple[Planted, ...], year: float, curve: str) -> tuple[Standing, ...]:
    grown: dict[tuple[Species, float], Size] = {}  # of a kind and an age, worked out once for all its plants
    found = []
    for plant, species in plants:
        if stands(plant, species, year):
            key = (species, year - plant.year)
            if key not in grown:
                grown[key] = size(species, key[1], curve=curve)
            found.append(Standing(plant=plant, species=species, size=grown[key]))
    return tuple(found)


def mature(plants: Iterable[Planted]) -> tuple[Standing, ...]:
    """Return all plants at their full size."""
    listed = tuple(plants)
    full = {
        kind: Size(height=kind.height, spread=kind.spread, crown_base=crown_base(kind, kind.height))
        for kind in dict.fromkeys(species for _, species in listed)
    }
    return tuple(Standing(plant=plant, species=species, size=full[species]) for plant, species in listed)


def by_pair(
    plants: Sequence[Standing], i: Numbers, j: Numbers, ask: Callable[[Standing, Standing], float]
) -> FloatArray:
    """Return what ``ask`` answers for the plants i and j of each pair (k,), asked once of kinds and sizes alike."""
    alike: dict[tuple[Species, Size], int] = {}
    number = np.array([alike.setdefault((one.species, one.size), len(alike)) for one in plants], dtype=np.int64)
    _, first, same = np.unique(number[i] * len(alike) + number[j], return_index=True, return_inverse=True)
    answers = [ask(plants[a], plants[b]) for a, b in zip(i[first].tolist(), j[first].tolist(), strict=True)]
    return np.array(answers, dtype=float)[same]


def by_kind(plants: Sequence[Standing], ask: Callable[[Standing], float]) -> FloatArray:
    """Return what ``ask`` answers for each plant (n,), asked once of kinds and sizes alike."""
    answers: dict[tuple[Species, Size], float] = {}
    for one in plants:
        if (one.species, one.size) not in answers:
            answers[one.species, one.size] = ask(one)
    return np.array([answers[one.species, one.size] for one in plants], dtype=float)


def in_reach(plants: Sequence[Standing], way: Line, reach: float) -> tuple[Standing, ...]:
    """Return the plants that may stand within ``reach`` metres of a line: those in the box round it."""
    if not len(way):
        return ()
    return tuple(plants[k] for k in near_line(positions(plants), way, reach))


def near_line(at: FloatArray, way: Line, reach: float) -> list[int]:
    """Return which of the places (n, 2) lie in the box that is ``reach`` metres wider than a line on every side."""
    low, high = np.min(way, axis=0) - reach, np.max(way, axis=0) + reach
    return [int(k) for k in np.flatnonzero(((at >= low) & (at <= high)).all(axis=1))]


def standing_at(plants: Iterable[Standing], at: Point) -> Standing | None:
    """Return the plant whose crown holds a plan point (metres), None where there is none.

    Where crowns overlap it is the one whose stem is nearest for its size, so that a small plant under a tree is found.
    """
    near = [(math.dist(one.at, at) / (one.ground_spread / 2), one) for one in plants if one.ground_spread > 0]
    share, found = min(near, key=lambda pair: pair[0], default=(math.inf, None))
    return found if share <= 1 else None


def positions(plants: Iterable[Standing]) -> FloatArray:
    """Return the plan positions (n, 2) in metres."""
    return np.array([one.at for one in plants], dtype=float).reshape(-1, 2)
