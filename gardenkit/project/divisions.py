"""What dividing gives a garden in later years, and where the ground is bare for it."""

from collections.abc import Sequence

import attrs

from gardenkit.geometry.plane import Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.composing.gaps import places_in_gaps
from gardenkit.planting.composing.kinds import kind_of, may_stand
from gardenkit.planting.composing.woody import as_placed
from gardenkit.planting.divisions import Divided, divided_in, placed_in
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.plant_choice import planted_ground, surroundings
from gardenkit.project.sunlight import GroundMap

LAST = 10  # year up to which divisions are offered; later ones say the same again. House value.


@attrs.frozen(kw_only=True)
class Offer:
    """Plants of one kind that dividing leaves free in one ``year`` after the first season."""

    year: int
    given: Divided


def offers(project: Project, catalogue: Catalogue) -> tuple[Offer, ...]:
    """Return what dividing leaves free, year by year, the most first within a year."""
    kinds = _of_each_kind(project, catalogue)
    found = [
        Offer(year=year, given=given)
        for year in range(1, LAST + 1)
        for kind, plants in kinds.items()
        if (given := divided_in(kind, plants, year)).free
    ]
    return tuple(sorted(found, key=lambda one: (one.year, -one.given.free, one.given.botanical)))


def motherless(project: Project, catalogue: Catalogue) -> tuple[Offer, ...]:
    """Return the divisions on the plan for which no plant is left to divide in their year: these are bought."""
    kinds = _of_each_kind(project, catalogue)
    placed = ((year, given) for kind, plants in kinds.items() for year, given in placed_in(kind, plants))
    return tuple(Offer(year=year, given=given) for year, given in placed if given.motherless)


def bare_places(
    project: Project, catalogue: Catalogue, species: Species, *, year: int, most: int, sun: GroundMap | None = None
) -> Sequence[Point]:
    """Return at most so many places for a kind in the beds to look at where the ground is bare in a year, and it has
    room, and its sun where that is known. Raises GardenError for no bed.
    """
    kind, ground = kind_of(species), planted_ground(project, sun=sun)
    room = may_stand(kind, ground, surroundings(project, sun=sun))
    there = [as_placed(plant, catalogue) for plant in project.planting.plants]
    return places_in_gaps(kind, ground, room, there, year=year, most=most)


def _of_each_kind(project: Project, catalogue: Catalogue) -> dict[Species, list[Plant]]:
    kinds: dict[Species, list[Plant]] = {}
    for plant in project.planting.plants:
        kinds.setdefault(catalogue[plant.species], []).append(plant)
    return kinds
