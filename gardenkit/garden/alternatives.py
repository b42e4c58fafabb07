"""One structure in figures, so that two for the same garden can be held against each other."""

from collections.abc import Mapping

import attrs

from gardenkit.findings import ORDER
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.project.edits.structure.alternatives import NOW, use_alternative


@attrs.frozen(eq=False, kw_only=True)
class Compared:
    """What a structure comes to: lengths in metres, areas in square metres, weight in kg, ``path_seen`` a share,
    ``steepest`` percent (both None when not known); ``findings`` counts them by seriousness.
    """

    path_length: float
    stones: int
    stone_weight: float
    hard_area: float
    lawn_area: float
    beds: int
    bed_area: float
    edging: float
    largest_crown: float
    path_seen: float | None
    steepest: float | None
    wants_met: int
    wants: int
    findings: Mapping[str, int]
    problems: tuple[str, ...]


def compared(garden: Garden) -> Compared:
    """Return a garden's structure in figures."""
    worked, known = garden.layout, garden.facts
    circles = [c.radius for bed in worked.beds for c in bed.pockets]
    share = known.get("path_straight_view")
    return Compared(
        path_length=sum(r.length for r in worked.routes.values()),
        stones=sum(len(laid.stones) for laid in worked.layings.values()),
        stone_weight=sum(laid.weight for laid in worked.layings.values()),
        hard_area=plane.area(worked.hardscape) - garden.lawn_area,
        lawn_area=garden.lawn_area,
        beds=len(worked.beds),
        bed_area=garden.bed_area,
        edging=sum(b.edging for b in worked.beds),
        largest_crown=2 * max(circles, default=0.0),
        path_seen=None if share is None else share / 100,
        steepest=garden.steepest_path,
        wants_met=sum(j.verdict == "met" for j in garden.wants),
        wants=len(garden.wants),
        findings={word: sum(f.seriousness == word for f in worked.findings) for word in ORDER},
        problems=worked.problems,
    )


def options(garden: Garden) -> tuple[tuple[str, Garden], ...]:
    """Return the garden as it stands, and with each structure that is kept beside it, by its name.

    The planting is the same in all of them, as is all that was said of the brief and the site.
    """
    return ((NOW, garden), *((kept.name, with_structure(garden, kept.name)) for kept in garden.project.alternatives))


def with_structure(garden: Garden, name: str) -> Garden:
    """Return the garden with the structure of a name. Raises GardenError for one that is not kept."""
    return garden if name == NOW else Garden(use_alternative(garden.project, name), garden.folder)


def out_of_bed(garden: Garden, option: Garden) -> int:
    """Return how many plants would have to be moved: those in a bed of the garden as it is that stand in none of an
    option's, and those on a support that the option does not have.
    """
    supports = {support.name for support in option.project.structure.supports}
    climbing = [plant for plant in garden.project.planting.plants if plant.support]
    plants = [plant for plant in garden.project.planting.plants if not plant.support]
    places = [plant.at for plant in plants]
    pairs = zip(garden.layout.beds_at(places), option.layout.beds_at(places), strict=True)
    left = sum(plant.support not in supports for plant in climbing)
    return left + sum(here is not None and there is None for here, there in pairs)
