"""Where a thing may be put: on the plot and out of the house; every edit that places something asks here."""

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Point
from gardenkit.site.site import Site
from gardenkit.units import System, show_length

ON_EDGE = 0.02  # m: a point this near to the boundary counts as on the plot (rounding). House value.
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
    if site.boundary:
        plot = plane.region(site.boundary)
        far = max(plane.distance(plot, plane.point(p)) for p in outline)
        if far > LOOSE:
            raise GardenError(
                f"a corner of {what} would lie {show_length(far, units)} outside the boundary; keep it on the plot"
            )
    return outline
