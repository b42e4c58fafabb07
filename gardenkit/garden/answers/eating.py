"""Food: how many kinds to eat are planted, how much ground grows them, and how much of it has the sun they want."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import attrs
import numpy as np

from gardenkit.brief.asking import Answer, Asked, Verdict
from gardenkit.garden.answers.judging import MEND, not_known
from gardenkit.garden.answers.plants import ill_placed, most_in
from gardenkit.geometry import plane
from gardenkit.geometry.grid import grid_over
from gardenkit.geometry.plane import Point, Region
from gardenkit.planting.eaten import is_food
from gardenkit.planting.species import Species, meant_by
from gardenkit.project.advice import sun_hours
from gardenkit.units import counted, listed

if TYPE_CHECKING:
    from gardenkit.garden import Garden

MOSTLY = 0.5  # share of a bed's plants that are to eat, from which on all of it grows food. House value.
FOR_FOOD = ("vegetables", "fruit", "herbs")  # purposes of a bed
CELL = 0.3048  # m: the ground that grows food is looked at by the square foot


@attrs.frozen(kw_only=True)
class Eaten:
    """Something to eat that is planted, or sown as a crop (``number`` 0) on a bed: its kind and where it stands."""

    species: Species
    at: Point
    number: int = 0


def food(garden: "Garden", asked: Asked) -> Answer:
    """Return how many kinds to eat are planted or sown, and on how much ground; where hours of sun are asked for, only
    what has them is counted. Named kinds must all be there.
    """
    eaten = _eaten(garden)
    there = [species for _, species in garden.planted] + [one.species for one in eaten]
    missing = [word for word in asked.words if not any(meant_by(species, word) for species in there)]
    if missing:
        where, have = most_in(garden, _names(eaten)), float(len(_names(eaten)))
        return Answer(verdict="not met", figure=f"not planted: {listed(missing)}", where=where, value=have)
    if not asked.sun:
        return _judged(garden, asked, eaten, eaten)
    hours = sun_hours(garden.project, garden.catalogue)
    if hours is None:
        return not_known("the sun is not known yet; draw the boundary and type the place in 03_site_measurement")
    found = hours(asked.year, [one.at for one in eaten]).tolist() if eaten else []
    return _judged(garden, asked, eaten, [one for one, sun in zip(eaten, found, strict=True) if sun >= asked.sun])


# ---- helpers


def _eaten(garden: "Garden") -> tuple[Eaten, ...]:
    planted = (Eaten(species=s, at=p.at, number=p.number) for p, s in garden.planted if is_food(s))
    beds = {bed.name: bed.at for bed in garden.counted_layout.beds}
    crops = garden.counted.planting.crops
    sown = (Eaten(species=garden.catalogue[c.species], at=beds[c.bed]) for c in crops if c.bed in beds)
    return (*planted, *(one for one in sown if is_food(one.species)))


def _judged(garden: "Garden", asked: Asked, eaten: Sequence[Eaten], lit: Sequence[Eaten]) -> Answer:
    kinds, ground = _names(lit), _ground(garden, eaten)
    size, bed = _size(garden, asked, ground), max(ground, key=lambda name: plane.area(ground[name]), default="")
    kept = [len(kinds) >= asked.amount - 1e-9, *([size >= asked.size - 1e-9] if asked.size else [])]
    ill = ill_placed(garden, {str(one.number) for one in lit if one.number})
    verdict: Verdict = "not met" if not (eaten and any(kept)) else "met" if all(kept) and not ill else "partly met"
    shaded = [name for name in _names(eaten) if name not in kinds]
    whys = [f"but {ill}" if ill and all(kept) else listed(kinds)]
    whys += [f"in too little sun: {listed(shaded)}"] if shaded else []
    figure = f"{counted(len(kinds), 'kind')} to eat, wanted at least {asked.amount:.0f}"
    if asked.size or ground:
        figure += f"; {size:.1f} m2 of ground for them" + (f", wanted {asked.size:.1f} m2" if asked.size else "")
    if asked.sun:
        figure += f"; counted is what stands in at least {asked.sun:g} hours of sun a day in year {asked.year}"
    return Answer(
        verdict=verdict,
        figure=figure,
        why="; ".join(part for part in whys if part),
        where=bed,
        value=float(len(kinds)),
        help=MEND if all(kept) and ill else "",
    )


def _names(eaten: Sequence[Eaten]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.species.botanical for one in eaten))


def _ground(garden: "Garden", eaten: Sequence[Eaten]) -> dict[str, Region]:
    """Return the ground that grows food, by bed: all of a bed that is for it, sown with it or whose plants are mostly
    to eat; in others only what the plants to eat take up at their spacing.
    """
    numbers = {one.number: one.species for one in eaten if one.number}
    sown = {crop.bed for crop in garden.counted.planting.crops}
    here = garden.counted_layout.plants_by_bed([plant for plant, _ in garden.planted])
    found: dict[str, Region] = {}
    for bed in garden.counted_layout.beds:
        mine = [plant for plant in here[bed.name] if plant.number in numbers]
        circles = [plane.circle(plant.at, numbers[plant.number].spacing_m / 2, sides=24) for plant in mine]
        whole = bed.purpose in FOR_FOOD or bed.name in sown or (mine and len(mine) >= MOSTLY * len(here[bed.name]))
        if whole or mine:
            found[bed.name] = bed.region if whole else plane.intersection(plane.union(circles), bed.region)
    return found


def _size(garden: "Garden", asked: Asked, ground: dict[str, Region]) -> float:
    """Return the m2 of ground that grows food, only those with the sun that is asked for."""
    bare = sum(plane.area(region) for region in ground.values())
    return in_enough_sun(garden, asked, ground) if asked.sun and bare else bare


def in_enough_sun(garden: "Garden", asked: Asked, ground: Mapping[str, Region]) -> float:
    """Return the m2 of some ground with the hours of sun that are asked for; all of it while the sun is not known."""
    bare = sum(plane.area(region) for region in ground.values())
    points = [at for region in ground.values() for at in _spots(region)]
    hours = sun_hours(garden.project, garden.catalogue)
    if hours is None or not points:
        return bare
    return bare * float(np.mean([sun >= asked.sun for sun in hours(asked.year, points)]))


def _spots(region: Region) -> list[Point]:
    """Return a point for each square foot of some ground."""
    rings = plane.rings(region)
    if not rings:
        return []
    points = grid_over(tuple(at for ring in rings for at in ring), cell=CELL).points
    inside = points[plane.inside(region, points)]
    return [(float(x), float(y)) for x, y in inside]
