"""Places on the walls of the buildings that are clear of doors and windows: where boxes and taps are hung."""

import math
from collections.abc import Sequence

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.site.site import Site
from gardenkit.sources import HOUSE, Figure

CLEAR = Figure(0.5, "m", f"from a box or a tap on a wall to the next door or window; {HOUSE}")
BESIDE = 0.05  # m off a wall that an opening is still taken to be in it. House value.


def free_walls(site: Site) -> tuple[Line, ...]:
    """Return the pieces of the buildings' outer walls that keep ``CLEAR`` of every door and window in them."""
    house = plane.union(plane.region(one.outline) for one in site.buildings)
    near = plane.grown(house, BESIDE)
    spans = [plane.line((one.start, one.end)) for one in site.openings if one.start != one.end]
    taken = plane.union(plane.grown(span, float(CLEAR)) for span in spans if plane.meet(span, near))
    kept = plane.difference(plane.grown(house, 2 * BESIDE), taken)
    walls = [plane.line((*ring, ring[0])) for ring in plane.rings(house)]
    return tuple(piece for wall in walls for piece in plane.lines_within(wall, kept))


def nearest_free(site: Site, at: Point) -> Point | None:
    """Return the place on a wall clear of openings that is nearest to a point; None without such a wall."""
    places = [plane.nearest_on(plane.line(piece), at) for piece in free_walls(site)]
    return min(places, key=lambda place: math.dist(place, at), default=None)


def free_corner(site: Site, to: Sequence[Point]) -> Point | None:
    """Return the corner of a building, clear of openings and within the boundary, from which the ways to some points
    are shortest in all. Where none is clear, the nearest place on a free wall; None without one.
    """
    if not to:
        return None
    pieces = [plane.line(piece) for piece in free_walls(site)]
    house = plane.union(plane.region(one.outline) for one in site.buildings)
    ground = plane.region(site.boundary)
    corners = [
        corner
        for ring in plane.rings(house)
        for corner in ring
        if plane.distance(ground, plane.point(corner)) <= BESIDE
        and any(plane.distance(piece, plane.point(corner)) < 1e-6 for piece in pieces)
    ]
    middle = (math.fsum(x for x, _ in to) / len(to), math.fsum(y for _, y in to) / len(to))
    return min(
        corners, key=lambda corner: math.fsum(math.dist(corner, at) for at in to), default=nearest_free(site, middle)
    )
