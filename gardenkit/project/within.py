"""What of a garden lies in one area of the property: its ground, and the part of the plan that is counted with it."""

from collections.abc import Callable, Mapping
from typing import TypeVar

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.property_areas import PropertyArea
from gardenkit.structure.structure import Structure

Value = TypeVar("Value")
LEAST = 0.05  # m2 of a bed in an area; less is the edge of a neighbour. House value.


def ground_of(worked: Layout, area: PropertyArea) -> Region:
    """Return the ground of an area of the property; nowhere while nothing bounds it yet."""
    beds = {bed.name: bed.region for bed in worked.beds}
    named = [
        group[name] for name in area.holds for group in (beds, worked.surfaces, worked.ground_areas) if name in group
    ]
    drawn = [plane.region(area.outline)] if area.outline else []
    return plane.union([*drawn, *named]) if drawn or named else plane.NOWHERE


def refused_grounds(project: Project, worked: Layout) -> tuple[tuple[Region, tuple[str, ...]], ...]:
    """Return the ground of each area whose musts rule plants out for it alone, and what they rule out."""
    names = project.brief.areas_refusing
    here = [area for area in project.areas if area.name in names]
    return tuple((ground_of(worked, area), project.brief.ruled_out_in(area.name)) for area in here)


def refusing(project: Project, worked: Layout) -> Callable[[Point], tuple[str, ...]]:
    """Return what tells all that no plant may carry at a place: what is refused everywhere, and by the musts of the
    area it lies in.
    """
    everywhere, parts = project.brief.refused, refused_grounds(project, worked)

    def refused(at: Point) -> tuple[str, ...]:
        here = (word for ground, words in parts if plane.contains(ground, at) for word in words)
        return tuple(dict.fromkeys((*everywhere, *here)))

    return refused


def within(project: Project, worked: Layout, area: PropertyArea) -> tuple[Project, Layout]:
    """Return the part of a garden that is counted with an area: plants by their stems, beds clipped to its ground, a
    path, paved area or other thing that reaches over several areas with the one that holds most of it.
    """
    grounds = {one.name: ground_of(worked, one) for one in project.areas}
    ground = grounds[area.name]
    beds = [attrs.evolve(bed, region=plane.intersection(bed.region, ground)) for bed in worked.beds]
    clipped = tuple(attrs.evolve(bed, area=plane.area(bed.region)) for bed in beds if plane.area(bed.region) > LEAST)
    paths = {name for name, region in worked.surfaces.items() if _most_of(region, area.name, grounds)}
    ground_areas = {name for name, region in worked.ground_areas.items() if _most_of(region, area.name, grounds)}
    structure = _structure_within(project.structure, ground, paths, ground_areas, {bed.name for bed in clipped})
    plants = tuple(plant for plant in project.planting.plants if plane.contains(ground, plant.at))
    part = attrs.evolve(project, structure=structure, planting=attrs.evolve(project.planting, plants=plants))
    kept = attrs.evolve(
        worked,
        routes=_only(worked.routes, paths),
        layings=_only(worked.layings, paths),
        surfaces=_only(worked.surfaces, paths),
        flights=_only(worked.flights, paths),
        ground_areas=_only(worked.ground_areas, ground_areas),
        things=_only(worked.things, {thing.name for thing in structure.things}),
        beds=clipped,
    )
    return part, kept


# ---- helpers


def _structure_within(
    bones: Structure, ground: Region, paths: set[str], ground_areas: set[str], beds: set[str]
) -> Structure:
    return attrs.evolve(
        bones,
        paths=tuple(path for path in bones.paths if path.name in paths),
        ground_areas=tuple(ground_area for ground_area in bones.ground_areas if ground_area.name in ground_areas),
        beds=tuple(bed for bed in bones.beds if bed.name in beds),
        seats=tuple(seat for seat in bones.seats if plane.contains(ground, seat.at)),
        supports=tuple(one for one in bones.supports if plane.contains(ground, _middle(one.line))),
        things=tuple(thing for thing in bones.things if plane.contains(ground, thing.at)),
        cables=tuple(cable for cable in bones.cables if plane.contains(ground, _middle(cable.line))),
        levels=tuple(
            one for one in bones.levels if plane.contains(ground, one.at) and (not one.of or one.of in ground_areas)
        ),
    )


def _middle(line: tuple[Point, ...]) -> Point:
    (ax, ay), (bx, by) = line[0], line[-1]
    return (ax + bx) / 2, (ay + by) / 2


def _most_of(region: Region, name: str, grounds: Mapping[str, Region]) -> bool:
    """Return whether no other area holds more of some ground than the one of that name does."""
    held = {one: plane.area(plane.intersection(region, ground)) for one, ground in grounds.items()}
    return held[name] > 0 and max(held, key=lambda one: held[one]) == name


def _only(found: Mapping[str, Value], names: set[str]) -> dict[str, Value]:
    return {name: value for name, value in found.items() if name in names}
