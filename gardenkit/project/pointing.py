"""What of a garden is meant by a point on its plan: where a designer clicks."""

import math

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.planting.planting import Planting
from gardenkit.project import Project
from gardenkit.project.edits.site import Thing as OnSite
from gardenkit.project.edits.site import shape_of, things
from gardenkit.project.layout import layout
from gardenkit.project.plant_choice import bed_called
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site
from gardenkit.structure.structure import Patch, Seat, Structure, Support, Thing
from gardenkit.structure.things import ground_of_thing

REACH = 0.4  # m a click may lie off a line, a door or a stem. House value.
# What is small and lies on what is large is meant first: a door in a fence, a tree before the shed under it.
ORDER = (Opening, ExistingTree, Fence, Obstacle, Building)


def thing_at(site: Site, at: Point, *, reach: float = REACH) -> OnSite | None:
    """Return what stands at a plan point (metres), or within ``reach`` of it; None where there is nothing."""
    point = plane.point(at)
    near = [(ORDER.index(type(one)), plane.distance(shape_of(one), point), one) for one in things(site)]
    found = [each for each in near if each[1] <= (0.0 if each[0] >= ORDER.index(Obstacle) else reach)]
    return min(found, key=lambda each: each[:2], default=(0, 0.0, None))[2]


def area_at(structure: Structure, at: Point) -> Patch | None:
    """Return the paved or lawn area at a plan point (metres), the one laid last where two overlap; None beside all."""
    return next((one for one in reversed(structure.patches) if plane.contains(plane.region(one.outline), at)), None)


def support_at(structure: Structure, at: Point, *, reach: float = REACH) -> Support | None:
    """Return the support whose line is nearest to a plan point (metres), within ``reach`` of what it takes across."""
    point = plane.point(at)
    near = [(plane.distance(plane.line(one.line), point), one) for one in structure.supports]
    return min(
        (each for each in near if each[0] <= reach + each[1].depth), key=lambda each: each[0], default=(0, None)
    )[1]


def placed_at(structure: Structure, at: Point, *, reach: float = REACH) -> Seat | Thing | None:
    """Return the seat or placed thing nearest to a plan point (metres), within ``reach`` of it: the smallest there."""
    point = plane.point(at)
    near: list[tuple[float, Seat | Thing]] = [(plane.distance(ground_of_thing(t), point), t) for t in structure.things]
    near += [(max(0.0, math.dist(s.at, at) - s.width / 2), s) for s in structure.seats]
    found = [each for each in near if each[0] <= reach]
    return min(found, key=lambda each: (each[0], each[1].width * each[1].depth), default=(0.0, None))[1]


def plants_in_box(planting: Planting, one: Point, other: Point, *, year: int) -> frozenset[int]:
    """Return the numbers of the plants whose stems are in the upright box between two corners, planted by a year."""
    low_x, high_x = sorted((one[0], other[0]))
    low_y, high_y = sorted((one[1], other[1]))
    there = (p for p in planting.plants if p.year <= year)
    return frozenset(p.number for p in there if low_x <= p.at[0] <= high_x and low_y <= p.at[1] <= high_y)


def plants_in_bed(project: Project, name: str) -> frozenset[int]:
    """Return the numbers of the plants whose stems are in a bed. Raises GardenError for one that is not there."""
    ground = bed_called(layout(project), name).region
    return frozenset(p.number for p in project.planting.plants if plane.contains(ground, p.at))
