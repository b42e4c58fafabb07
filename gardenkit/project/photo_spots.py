"""Places of the site that can be told on a photo: corners of walls, of openings and fences, at their foot and top."""

from gardenkit.project import Project
from gardenkit.project.solids import ground_height

Spot = tuple[float, float, float]


def spots(project: Project) -> dict[str, Spot]:
    """Return every corner by its name in words: x, y on the plan, height above the plan's zero, metres."""
    site, ground = project.site, ground_height(project.site)
    found: dict[str, Spot] = {}
    for building in site.buildings:
        for number, at in enumerate(building.outline, start=1):
            found[f"{building.name}, corner {number}, foot"] = (*at, ground(at))
            found[f"{building.name}, corner {number}, eaves"] = (*at, building.eaves)
    for opening in site.openings:
        for end, at in (("first", opening.start), ("second", opening.end)):
            for height, level in (("foot", opening.sill), ("head", opening.head)):
                found[f"{opening.name}, {end} side, {height}"] = (*at, level)
    for fence in site.fences:
        for number, at in enumerate(fence.line, start=1):
            found[f"{fence.name}, post {number}, foot"] = (*at, ground(at))
            found[f"{fence.name}, post {number}, top"] = (*at, ground(at) + fence.height)
    return found
