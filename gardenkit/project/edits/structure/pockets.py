"""A planting pocket as wide as the crown of a named tree will be, which a path may swing round."""

import math

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.edits.records import free_name
from gardenkit.project.edits.structure.beds import draw_bed
from gardenkit.project.edits.structure.turns import add_turn
from gardenkit.project.layout import layout
from gardenkit.units import show_length

LEAST = 0.6  # m: a narrower crown needs no pocket of its own. House value.
SIDES = 24  # corners of a pocket: few enough to be dragged. House value.


def pocket_round(project: Project, kind: Species, *, at: Point, path: str = "") -> Project:
    """Return the project with a round bed as wide as a kind spreads when grown, about a place, or about the plant of
    that kind that stands there; a ``path`` named swings round it. The last of its beds is the new one.

    Raises GardenError for a crown that reaches over the boundary or into a building, and where the path has no room.
    """
    radius = kind.spread / 2
    wide = show_length(kind.spread, project.units)
    if 2 * radius < LEAST:
        raise GardenError(f"{kind.botanical} spreads only {wide}; a pocket is for a tree or a large shrub")
    middle = _stem(project, kind, at)
    name = free_name(f"pocket for {kind.common or kind.botanical}", [bed.name for bed in layout(project).beds])
    crown = plane.circle(middle, radius, sides=SIDES)
    for building in project.site.buildings:
        if plane.meet(crown, plane.region(building.outline)):
            raise GardenError(
                f"{kind.botanical} grows {wide} wide, so its crown would reach {building.name}; click further off"
            )
    made = draw_bed(project, plane.corners(crown), name=name)
    return add_turn(made, path, name) if path else made


def _stem(project: Project, kind: Species, at: Point) -> Point:
    """Return the stem of the nearest plant of a kind whose crown holds a place, else the place."""
    near = [
        p.at for p in project.planting.plants if p.species == kind.botanical and math.dist(p.at, at) < kind.spread / 2
    ]
    return min(near, key=lambda stem: math.dist(stem, at), default=at)
