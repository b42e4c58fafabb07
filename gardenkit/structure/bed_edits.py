"""Beds changed by hand: their outline as corners to drag, a line across one to split it, two that touch made one."""

import math
from collections.abc import Iterable

from gardenkit.findings import GardenError
from gardenkit.geometry import medial, plane
from gardenkit.geometry.plane import Line, Outline, Region
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.beds import BedShape

CORNERS = 16  # most corners a drawn bed begins with; more cannot be dragged apart. House value.
TOUCH = Figure(0.05, "m", f"beds this near to each other count as touching; {HOUSE}")
RUN_ON = 2.0  # m a dividing line runs on over a path at most. House value.
TOGETHER = 0.4  # m: corners nearer to each other are one. House value.
BEYOND = 0.3  # m the ends of a new dividing line stand outside the bed, to be taken hold of. House value.
LOOSE = 0.3  # m a drawn bed reaches into the path or wall beside it. House value.
TOLERANCES = (0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4)  # m, tried in turn until the corners are few enough


def corners_of(region: Region, *, others: Iterable[Region] = (), most: int = CORNERS) -> Outline:
    """Return corners for the largest piece of a region, at most ``most`` where that can be had, to the millimetre.

    Against the ``others`` (its neighbour beds) the outline keeps to the edge; elsewhere it is drawn loosely into the
    path, wall or lawn, which are taken off a bed anyway, so that few corners leave no slivers. Raises GardenError for a
    region without ground.
    """
    parts = plane.pieces(region)
    if not parts:
        raise GardenError("the bed has no ground left, so it has no corners; move what covers it")
    loose = plane.difference(plane.grown(parts[0], LOOSE), plane.union(others))
    whole = next((p for p in plane.pieces(loose) if plane.area(plane.intersection(p, parts[0])) > 0), parts[0])
    return _few(whole, most)


def fewer_corners(outline: Outline, *, most: int = CORNERS) -> Outline:
    """Return an outline with at most ``most`` corners where that can be had."""
    return _few(plane.region(outline), most)


def _few(whole: Region, most: int) -> Outline:
    found = plane.corners(plane.pieces(whole)[0])
    for tolerance in TOLERANCES:
        if len(found) <= most:
            break
        simple = plane.pieces(plane.simplified(plane.pieces(whole)[0], tolerance))
        found = plane.corners(simple[0]) if simple else found
    return plane.outline(((round(x, 3), round(y, 3)) for x, y in _thinned(found)), where="the bed")


def _thinned(corners: Outline) -> Outline:
    """Return an outline without corners that crowd another, as long as that hardly changes its ground."""
    kept = list(corners)
    whole = plane.area(plane.region(corners))
    i = 0
    while i < len(kept) and len(kept) > 4:
        left = [*kept[:i], *kept[i + 1 :]]
        close = min(math.dist(kept[i], kept[i - 1]), math.dist(kept[i], kept[(i + 1) % len(kept)])) < TOGETHER
        shape = plane.region(left)
        if close and shape.is_valid and abs(plane.area(shape) - whole) < 0.006 * whole:
            kept = left
        else:
            i += 1
    return tuple(kept)


def crossing_line(bed: BedShape) -> Line:
    """Return a straight line across a bed's shorter way through its widest place, its ends a little outside it."""
    x, y = bed.at
    reach = math.dist(plane.bounds(bed.region)[:2], plane.bounds(bed.region)[2:])
    best: tuple[float, Line] | None = None
    for degrees in range(0, 180, 15):
        ends = (plane.towards((x, y), degrees, reach), plane.towards((x, y), degrees + 180, reach))
        within = plane.corners_of_line(plane.common_line(bed.region, ends))
        if within and (best is None or math.dist(*within) < best[0]):
            best = (math.dist(*within), within)
    if best is None:
        raise GardenError(f'bed "{bed.name}" has no ground to split')
    a, b = best[1]
    way = plane.heading(a, b)
    start, end = plane.towards(a, way + 180, BEYOND), plane.towards(b, way, BEYOND)
    return ((round(start[0], 3), round(start[1], 3)), (round(end[0], 3), round(end[1], 3)))


def dividing_cut(region: Region, line: Line, *, others: Iterable[Region] = ()) -> Line:
    """Return the line that splits a region, running on over path or lawn but not into the ``others``, its neighbours.

    So it still parts the two beds when a slider moves the path beside them. Raises GardenError for a line beside it.
    """
    within = plane.corners_of_line(plane.common_line(region, line))
    if len(within) < 2 or math.dist(*within) < TOUCH:
        raise GardenError("the line does not lie across the bed; drag its two ends to either side of it")
    way = plane.heading(*within)
    long = (plane.towards(within[0], way + 180, RUN_ON), plane.towards(within[1], way, RUN_ON))
    free = plane.difference(plane.grown(plane.line(long), 0.01, round_ends=False), plane.union(others))
    middle = ((within[0][0] + within[1][0]) / 2, (within[0][1] + within[1][1]) / 2)
    strip = next((p for p in plane.pieces(free) if plane.contains(p, middle)), None)
    run = plane.corners_of_line(plane.common_line(strip, long)) if strip is not None else within
    return tuple((round(x, 4), round(y, 4)) for x, y in run)


def cut_in_two(region: Region, line: Line) -> tuple[Region, Region]:
    """Return the two parts of a region beside a line, larger first. Raises GardenError when it stays whole."""
    parts = [p for piece in plane.pieces(region) for p in medial.cut_along(piece, line)]
    whole = plane.pieces(region)
    made = plane.pieces(plane.union(parts), least=0.0) if len(parts) == len(whole) else tuple(parts)
    if len(parts) <= len(whole):
        raise GardenError("the line does not cross the bed from edge to edge; drag its two ends outside the bed")
    ordered = sorted(made, key=plane.area, reverse=True)
    return ordered[0], plane.union(ordered[1:])


def joined(a: BedShape, b: BedShape, *, others: Iterable[Region] = ()) -> Outline:
    """Return the outline of two beds that touch made one. Raises GardenError when something lies between them."""
    if plane.distance(a.region, b.region) > TOUCH:
        raise GardenError(
            f'"{a.name}" and "{b.name}" do not touch: something lies between them; only neighbours can be joined'
        )
    both = plane.grown(plane.grown(plane.union([a.region, b.region]), TOUCH), -TOUCH)
    parts = plane.pieces(both)
    if len(parts) != 1 and plane.area(parts[0]) < 0.98 * plane.area(both):
        raise GardenError(f'"{a.name}" and "{b.name}" only meet at a corner; they cannot be one bed')
    return corners_of(parts[0], others=others, most=2 * CORNERS)
