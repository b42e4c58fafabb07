"""The way of a path looked for near its ends, so that a large garden costs no more a path than a small one."""

from functools import lru_cache

import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.project.remembered import Remembered
from gardenkit.structure import route as routes
from gardenkit.structure.route import Route
from gardenkit.structure.structure import Path
from gardenkit.structure.turns import Swung, route_round

Ends = tuple[tuple[Point, float | None], tuple[Point, float | None]]
LEAST_BOX, EDGE_OF_BOX = 8.0, 2.5  # m round a path's ends that are looked at, and kept off their edge. House values.
MOST_BOX = 0.6  # of the garden's box: above, all of it is looked at. House value.
OUTSIDE = 1.5  # times as long as straight is what leaves the box: 2 sqrt(0.5^2 + 0.6^2) = 1.56


def routed(path: Path, ends: Ends, ground: Region, blocks: Region, swung: tuple[Swung, ...] = ()) -> Route:
    """Return the route of a path, looked for in the box round its ends where that must be the one of the whole garden;
    it turns round what is ``swung``.

    So a large garden costs no more a path than a small one, and what changes elsewhere changes nothing here. A way
    that left the box would be longer than ``OUTSIDE`` times the way straight from end to end; what is longer, runs by
    the edge of the box, or is not found there, is looked for in all of the garden.
    """
    # ground and blocks are kept with the route, so nothing else can have their ids meanwhile
    key = (path, ends, id(ground), id(blocks), swung)
    found, *_ = _ROUTES.get(key, lambda: (_near_its_ends(path, ends, ground, blocks, swung), ground, blocks))
    return found


_ROUTES: Remembered[tuple[Route, Region, Region]] = Remembered(64)


def _near_its_ends(path: Path, ends: Ends, ground: Region, blocks: Region, swung: tuple[Swung, ...]) -> Route:
    gone_round = [corner for one in swung for corner in one.outline]
    spots = np.array([ends[0][0], ends[1][0], *(held.at for held in path.held), *gone_round])
    straight = float(np.hypot(*np.diff([ends[0][0], *(held.at for held in path.held), ends[1][0]], axis=0).T).sum())
    far = max(LEAST_BOX, 0.6 * straight)
    low, high = spots.min(axis=0) - far, spots.max(axis=0) + far
    left, bottom, right, top = plane.bounds(ground)
    seen = np.minimum(high, (right, top)) - np.maximum(low, (left, bottom))  # of the garden, across and up
    if np.prod(seen) > MOST_BOX * (right - left) * (top - bottom):
        return _routed(path, ends, ground, blocks, swung)
    box = (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))
    try:
        found = _routed(path, ends, plane.region_in_box(ground, *box), plane.region_in_box(blocks, *box), swung)
    except GardenError:  # said with the narrowest place of the whole garden
        return _routed(path, ends, ground, blocks, swung)
    edge = far - EDGE_OF_BOX
    inside = (found.curve.points >= spots.min(axis=0) - edge) & (found.curve.points <= spots.max(axis=0) + edge)
    if found.length > OUTSIDE * straight or not inside.all():
        return _routed(path, ends, ground, blocks, swung)
    return found


@lru_cache(maxsize=64)
def _routed(path: Path, ends: Ends, ground: Region, blocks: Region, swung: tuple[Swung, ...]) -> Route:
    """Return the route of a path without what does not bend it; remembered, so that stones are laid anew without it."""
    (start, start_way), (end, end_way) = ends
    if swung:
        return route_round(start, end, ground, blocks, path, swung, start_direction=start_way, end_direction=end_way)
    return routes.route(start, end, ground, blocks, path, start_direction=start_way, end_direction=end_way)
