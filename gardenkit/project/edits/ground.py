"""Where a thing may be put: on the plot and out of the house; every edit that places something asks here."""

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Point
from gardenkit.site.site import Site
from gardenkit.units import System, show_length

ON_EDGE = 0.02  # m: a point this near to the boundary counts as on the plot (rounding). House value.
REACH = 0.1  # m that a thing may reach past the boundary before it is refused: what stands against it. House value.
LOOSE = 0.6  # m a drawn bed or lawn may reach past the boundary or into the house before it is refused. House value.


def check_on_ground(site: Site, at: Point, what: str, *, units: System = "imperial") -> Point:
    """Return the place of a thing to the millimetre. Raises GardenError when it lies off the plot or in a building."""
    spot = (round(float(at[0]), 3), round(float(at[1]), 3))
    if site.boundary:
        off = plane.distance(plane.region(site.boundary), plane.point(spot))
        if off > ON_EDGE:
            raise GardenError(f"{what} would be {show_length(off, units)} outside the boundary; put it on the plot")
    for building in site.buildings:
        if plane.contains(plane.region(building.outline), spot):
            raise GardenError(f"{what} would stand inside {building.name}; put it in the open")
    return spot


def check_reach(site: Site, outline: Outline, what: str, *, before: Outline = (), units: System = "imperial") -> None:
    """Raise GardenError when ground that a thing covers reaches past the boundary, and further than it did before."""
    past = _past(site, outline)
    if past > REACH and past > _past(site, before) + ON_EDGE:
        over = show_length(past, units)
        raise GardenError(f"{what} would reach {over} past the boundary; put it {over} further in, or make it smaller")


def is_on_ground(site: Site, at: Point) -> bool:
    """Return whether a thing may be put at a place: on the plot and in no building."""
    try:
        check_on_ground(site, at, "it")
    except GardenError:
        return False
    return True


def check_outline(site: Site, corners: Outline, what: str, *, units: System = "imperial") -> Outline:
    """Return the outline of ground. Raises GardenError when it crosses itself or a corner lies well off the plot."""
    outline = plane.outline(corners, where=what)
    far = _past(site, outline)
    if far > LOOSE:
        raise GardenError(
            f"a corner of {what} would lie {show_length(far, units)} outside the boundary; keep it on the plot"
        )
    return outline


def _past(site: Site, outline: Outline) -> float:
    """Return how far the corners of an outline lie past the boundary at most, in metres."""
    if not site.boundary or not outline:
        return 0.0
    plot = plane.region(site.boundary)
    return max(plane.distance(plot, plane.point(p)) for p in outline)
