"""Where a plant may stand: on the plot, out of the house and beside the paths."""

from functools import lru_cache

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground
from gardenkit.project.layout import Layout, layout

Bounds = tuple[float, float, float, float]  # the box about a shape, metres


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
    """Return the path that feet need a place of, None for none."""
    underfoot = _underfoot(layout(project)) if project.site.boundary else ()
    x, y = at
    return next(
        (
            name
            for name, region, (left, low, right, high) in underfoot
            if left <= x <= right and low <= y <= high and plane.contains(region, at)
        ),
        None,
    )


# ---- helpers


@lru_cache(maxsize=8)
def _underfoot(worked: Layout) -> tuple[tuple[str, Region, Bounds], ...]:
    """Return the ground that feet need, by path, with the box about each: its stones where it has some, else all of
    it.
    """
    found: list[tuple[str, Region]] = []
    for name, region in worked.surfaces.items():
        stones = worked.layings[name].stones
        found += [(name, plane.region(stone.outline)) for stone in stones] or [(name, region)]
    return tuple((name, region, plane.bounds(region)) for name, region in found)
