"""Where a plant may stand: on the plot, out of the house and beside the paths."""

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground
from gardenkit.project.layout import layout


def free_place(project: Project, at: Point, what: str, *, on_support: bool) -> Point:
    """Return a place where a plant may stand. Raises GardenError in a building, off the plot or on a path.

    What grows on an arch may stand beside its posts in the path.
    """
    place = check_on_ground(project.site, at, what, units=project.units)
    if on_support:
        return place
    name = trodden_at(project, place)
    if name is not None:
        raise GardenError(f'{what} would stand on path "{name}"; put it beside the path')
    return place


def trodden_at(project: Project, at: Point) -> str | None:
    """Return the path that feet need a place of, None for none or before the ground is drawn."""
    return layout(project).trodden_at(at) if project.site.boundary else None
