"""Where a path meets another or a paved or lawn area: its ground ends at their edge, and its stones end with it."""

import math
from collections.abc import Sequence
from functools import lru_cache

import attrs
import numpy as np

from gardenkit.geometry import plane, ways
from gardenkit.geometry.curve import Curve
from gardenkit.geometry.plane import Outline, Point, Region
from gardenkit.structure.route import Route
from gardenkit.structure.structure import Flight

CORNER = 0.05  # m between the side of a path and the corner of an area. House value.
WITHIN = 1e-3  # m: a place of the way this near its ground is on it; numerical choice


@attrs.frozen(eq=False, kw_only=True)
class Met:
    """A path as far as it is its own: its ``route`` from mouth to mouth, which begins ``start`` metres along the whole
    of it, ``length`` metres long.
    """

    route: Route
    start: float
    length: float

    def flights(self, flights: Sequence[Flight]) -> tuple[Flight, ...]:
        """Return flights of steps in shares of this part of the path."""
        if self.route.length == self.length:
            return tuple(flights)

        def share(of_all: float) -> float:
            return min(1.0, max(0.0, (of_all * self.length - self.start) / self.route.length))

        return tuple(attrs.evolve(f, start=share(f.start), end=share(f.end)) for f in flights)


@lru_cache(maxsize=64)
def met(route: Route, joined: tuple[Route, ...], areas: tuple[Outline, ...], ground: Region) -> Met:
    """Return a path less the paths it is ``joined`` to and the ``areas`` it ends at, carried on to their very edge."""
    if not joined and not areas:
        return Met(route=route, start=0.0, length=route.length)
    others = [other.region for other in joined]
    own = route.region
    if areas:
        ends = (_carried_on(route, 0, -1.0), _carried_on(route, -1, 1.0))
        own = plane.union([own, *(plane.intersection(end, ground) for end in ends)])
        others += [plane.region(outline) for outline in areas]
    left = plane.pieces(plane.difference(own, plane.union(others)))
    if not left:  # it lies in them all along
        return Met(route=route, start=0.0, length=route.length)
    return _between_mouths(route, left[0])


def near_edge(outline: Outline, seen_from: Point, width: float) -> Point:
    """Return where a path ends at an area: at the nearest place of its edge, clear of a corner where a side is as long
    as the path is ``width`` metres wide.
    """
    nearest = plane.nearest_on(plane.region(outline), seen_from)
    half, found = width / 2 + CORNER, list[Point]()
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        long = math.dist(a, b)
        if long < 2 * half or plane.distance(plane.line((a, b)), plane.point(nearest)) > WITHIN:
            continue
        x, y = (b[0] - a[0]) / long, (b[1] - a[1]) / long
        s = min(max((seen_from[0] - a[0]) * x + (seen_from[1] - a[1]) * y, half), long - half)
        found.append((a[0] + s * x, a[1] + s * y))
    return min(found, key=lambda at: math.dist(at, seen_from), default=nearest)


def open_edges(region: Region, others: Sequence[Region]) -> tuple[plane.Line, ...]:
    """Return the edges of a path's ground that lie along no other path: none across a mouth."""
    outside = plane.difference(plane.grown(region, 1.0), plane.grown(plane.union(others), WITHIN))
    rims = (plane.line([*ring, ring[0]]) for ring in plane.rings(region))
    return tuple(piece for rim in rims for piece in plane.lines_within(rim, outside))


def _carried_on(route: Route, end: int, way: float) -> Region:
    """Return the ground half a width on from an end of a path: what a slanting edge leaves between it and the area."""
    at, along = route.curve.points[end], way * route.width / 2 * route.curve.tangents[end]
    return ways.strip(np.vstack((at, at + along)), route.width)


def _between_mouths(route: Route, ground: Region) -> Met:
    curve = route.curve
    on = np.flatnonzero(plane.inside(plane.grown(ground, WITHIN), curve.points))
    if len(on) < 3:
        return Met(route=route, start=0.0, length=route.length)
    i, j = int(on[0]), int(on[-1]) + 1
    piece = Curve(curve.points[i:j], curve.along[i:j] - curve.along[i], curve.tangents[i:j])
    return Met(route=attrs.evolve(route, curve=piece, region=ground), start=float(curve.along[i]), length=curve.length)
