"""Foot stones laid into a bed too deep to be worked from its edge."""

import math
from itertools import count

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name
from gardenkit.project.edits.structure.shared import spot, with_bones
from gardenkit.project.layout import layout
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.beds import REACH, BedShape
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.structure import Thing
from gardenkit.units import show_length

KIND = "foot stone"
PACE = Figure(0.6, "m", HOUSE)  # from one to the next, a short pace over plants
MOST = 24  # stones; a bed that needs more wants a path. House value.
SURE = 0.02  # m less than the reach is reckoned with, so that the bed as measured is within it. House value.
SPECK = 1e-3  # m2 out of reach that is none; numerical choice


def reach_bed(project: Project, name: str) -> Project:
    """Return the project with foot stones laid into a bed, a pace apart from where one can stand, until all of it is
    within reach. Raises GardenError where all of it is, where there is nowhere to come from, or a path is wanted.
    """
    worked, units = layout(project), project.units
    bed = by_name(worked.beds, name, "bed")
    if bed.reach <= REACH:
        raise GardenError(f'all of bed "{name}" is within {show_length(REACH, units)} of where one stands already')
    if math.isinf(bed.reach):
        raise GardenError(f'there is nowhere to stand beside bed "{name}"; lay a path to it first')
    feet = (worked.things[one.name] for one in project.structure.things if thing_kind(one.kind).stood_on)
    usual, known = thing_kind(KIND).usual, {thing.name for thing in project.structure.things}
    names = (called for k in count(1) if (called := f"{name} stone {k}") not in known)
    stones = tuple(
        Thing(name=called, kind=KIND, at=spot(at), width=usual.width, depth=usual.depth, height=usual.height)
        for at, called in zip(_places(bed, plane.union([worked.hardscape, *feet])), names, strict=False)
    )
    return with_bones(project, things=(*project.structure.things, *stones))


def _places(bed: BedShape, standing: Region) -> list[Point]:
    """Return the middles of stones, from where one can stand towards what is furthest off, until all is in reach."""
    found, half = list[Point](), thing_kind(KIND).usual.width / 2
    while True:
        left = plane.difference(bed.region, plane.grown(standing, REACH - SURE))
        if plane.area(left) < SPECK:
            return found
        corners = [corner for ring in plane.rings(left) for corner in ring]
        deepest = max(corners, key=lambda at: plane.distance(standing, plane.point(at)))
        start = plane.nearest_on(standing, deepest)
        far = math.dist(start, deepest)
        steps = max(1, math.ceil((far - REACH + SURE - half) / PACE))
        shares = [min(0.98, PACE * (k + 1) / far) for k in range(steps)]
        found += [
            (start[0] + share * (deepest[0] - start[0]), start[1] + share * (deepest[1] - start[1])) for share in shares
        ]
        if len(found) > MOST:
            raise GardenError(f'bed "{bed.name}" would take over {MOST} foot stones; let a path run through it')
        standing = plane.union([standing, *(plane.circle(at, half, sides=24) for at in found[-steps:])])
