"""The pipes of the watering: where they begin, the way they go round what stands, and the trench they lie in."""

import math
from collections.abc import Sequence
from itertools import pairwise

from gardenkit.geometry import plane, ways
from gardenkit.geometry.plane import Line, Piece, Point, Region
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.schedules.irrigation import BedWater
from gardenkit.site.free_walls import free_corner
from gardenkit.site.notes import supplied_at
from gardenkit.site.site import root_circles
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import ground_kind
from gardenkit.units import INCH

OFF_WALL = Figure(12 * INCH, "m", f"from a pipe to a wall it runs along; {HOUSE}")
DEEP = Figure(8 * INCH, "m", f"a trench for a pipe that is emptied before frost, below the spade; {HOUSE}")
WIDE = Figure(4 * INCH, "m", f"a trench dug by hand for a pipe or two; {HOUSE}")

ALONG = 0.05  # m off a wall where there is no more room. House value.
TRIES = 4  # times that a pipe's end is moved nearer. House value.


def supply_point(project: Project, worked: Layout, waters: Sequence[BedWater]) -> Point | None:
    """Return where tap and valve box are: the tap written on the plan; where none is, a corner of the house clear of
    doors and windows, with the shortest ways to the beds. None without a house or a bed.
    """
    written = supplied_at(project.site.notes, "tap")
    if written is not None:
        return written
    middles = {bed.name: plane.centre(bed.region) for bed in worked.beds}
    return free_corner(project.site, [middles[water.bed] for water in waters])


def supply(project: Project, worked: Layout, waters: Sequence[BedWater]) -> tuple[Line, ...]:
    """Return the run of pipe from the supply point to the near edge of each bed: the shortest way on the plot round
    buildings, obstacles, open water and the roots of trees to keep. Where there is no such way, through the roots,
    then close along the walls; where there is none at all, straight. Empty without a tap or a house.
    """
    start = supply_point(project, worked, waters)
    if start is None:
        return ()
    roots = plane.union(plane.circle(tree.at, radius) for tree, radius in root_circles(project.site))
    dry, tight = (_dry(project, worked, off) for off in (float(OFF_WALL), ALONG))
    within = plane.union(plane.grown(plane.region(b.outline), -ALONG) for b in project.site.buildings)
    pieces = [piece for ground in (plane.difference(dry, roots), dry, tight) for piece in plane.pieces(ground)]
    ways_in = [(piece, plane.kept_to(piece, start)) for piece in pieces]
    doors = [(piece, out) for piece, out in ways_in if not _crosses(within, start, out)]
    grounds = {bed.name: bed.region for bed in worked.beds}
    return tuple(_run(start, grounds[water.bed], doors) for water in waters)


def length(run: Sequence[Point]) -> float:
    """Return how long a pipe is, metres.

    >>> length(((0.0, 0.0), (3.0, 0.0), (3.0, 4.0)))
    7.0
    """
    return sum(math.dist(a, b) for a, b in pairwise(run))


def trench_volume(pipes: Sequence[Line]) -> float:
    """Return the soil that is dug for some pipes and filled in again, m3; pipes side by side lie in one trench."""
    each = [plane.grown(plane.line(run), WIDE / 2) for run in pipes if length(run) > 0]
    return plane.area(plane.union(each)) * DEEP


def _dry(project: Project, worked: Layout, off: float) -> Region:
    """Return the ground that a pipe may be laid in, so far off walls."""
    site = project.site
    walls = [plane.grown(plane.region(b.outline), off) for b in site.buildings]
    solid = [plane.grown(plane.region(o.outline), o.clearance) for o in site.obstacles]
    wet = [worked.ground_areas[p.name] for p in project.structure.ground_areas if ground_kind(p.kind).water]
    return plane.difference(plane.region(site.boundary), plane.union([*walls, *solid, *wet]))


def _run(start: Point, bed: Region, doors: Sequence[tuple[Piece, Point]]) -> Line:
    """Return the first way there is, over pieces of ground in turn, each with where the pipe comes into it."""
    for piece, out in doors:
        reached = plane.intersection(piece, bed)
        way = [] if reached.is_empty else ways.shortest(piece, out, plane.nearest_on(reached, out))
        for _ in range(TRIES if way else 0):  # the bed may be nearer from where the pipe last turns
            nearer = ways.shortest(piece, out, plane.nearest_on(reached, way[-2])) if len(way) > 1 else []
            if not nearer or length(nearer) > length(way) - 1e-6:
                break
            way = nearer
        if way:
            run = (start, *way)
            return tuple(at for k, at in enumerate(run) if k == 0 or math.dist(at, run[k - 1]) > 1e-6)
    return start, plane.nearest_on(bed, start)


def _crosses(solid: Region, a: Point, b: Point) -> bool:
    return a != b and bool(plane.lines_within(plane.line((a, b)), solid))
