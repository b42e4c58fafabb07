"""Where the middle line of a path may run: far enough from walls and obstacles, nearer only at its gate, door or held
points.
"""

import math

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry import plane, ways
from gardenkit.geometry.plane import Point, Region
from gardenkit.structure.structure import Path

ON_EDGE = 0.15  # m: a start this near the edge of the ground is an opening in it. House value.
FINE = 32  # straight pieces per quarter circle where room is short: true to 0.3 %. House value.
Leads = tuple[Point | None, Point | None]


@attrs.frozen(eq=False, kw_only=True)
class Ground:
    """Ground made ready for one path: ``free`` is where its middle line may run, ``open`` and ``blocks`` the ground and
    obstacles as given; ``barred`` is ground that it may not cross and need not keep off.
    """

    open: Region
    blocks: Region
    free: Region
    need: float
    barred: Region = plane.NOWHERE


def check_ends(start: Point, end: Point, ground: Region, blocks: Region, path: Path) -> None:
    """Raise GardenError for a path without width or length, or one that starts, ends or is held off the open ground."""
    if path.width <= 0:
        raise GardenError(f'path "{path.name}" is {path.width:g} m wide; give a width above 0')
    if not 0 <= path.curvature <= 1 or path.sway < 0:
        raise GardenError(
            f'path "{path.name}" has curvature {path.curvature:g} and sway {path.sway}; '
            "give a curvature of 0 to 1, a sway from 0 up"
        )
    if math.dist(start, end) < 0.3:
        raise GardenError(f'path "{path.name}" starts and ends at the same place; choose two places apart')
    places = [("the start", start), ("the end", end)]
    places += [(f"held point {i + 1}", held.at) for i, held in enumerate(path.held)]
    for what, at in places:
        spot = plane.point(at)
        where = f'{what} of path "{path.name}" at ({at[0]:.2f}, {at[1]:.2f}) m'
        if plane.distance(ground, spot) > ON_EDGE:
            raise GardenError(f"{where} is outside the open ground; move it inside the boundary and off the buildings")
        if plane.contains(blocks, at):
            raise GardenError(f"{where} is on an obstacle; move one of them")


def into(at: Point, ground: Region, direction: float | None) -> Point | None:
    """Return the unit vector into the ground, square to its edge; None for a place away from the edge."""
    if direction is not None:
        return plane.towards((0.0, 0.0), direction, 1.0)
    edge = ways.edge_of(ground)
    if plane.distance(edge, plane.point(at)) > ON_EDGE:
        return None
    foot = plane.nearest_on(ground, at)
    rays = np.radians(np.arange(0.0, 360.0, 7.5))
    ring = np.asarray(foot) + 0.05 * np.column_stack((np.sin(rays), np.cos(rays)))
    open_rays = plane.inside(ground, ring)
    mean = (ring[open_rays] - foot).sum(axis=0) if open_rays.any() else np.zeros(2)
    norm = float(np.hypot(*mean))
    if norm < 1e-9:
        return None
    a = ways.edge_direction(ground, foot)
    square = (-a[1], a[0]) if -a[1] * mean[0] + a[0] * mean[1] > 0 else (a[1], -a[0])
    if (square[0] * mean[0] + square[1] * mean[1]) / norm < 0.9:  # a corner of the ground: leave along its bisector
        return (float(mean[0]) / norm, float(mean[1]) / norm)
    return square


def ready(
    ends: tuple[Point, Point],
    leads: Leads,
    ground: Region,
    blocks: Region,
    path: Path,
    *,
    quarter: int = ways.QUARTER,
    barred: Region = plane.NOWHERE,
) -> Ground:
    """Return the ground made ready for a path between two places, each left in its lead's direction (None: any).

    ``quarter`` is how many straight pieces a rounded corner has: more are slower and leave more room in a narrow place.
    """
    need = path.width / 2 + path.clear_of_walls
    free = plane.difference(ways.shrunk(ground, need, quarter=quarter), ways.swollen(blocks, need, quarter=quarter))
    aprons = [_apron(at, lead, ground, blocks, path) for at, lead in zip(ends, leads, strict=True)]
    aprons += [_apron(held.at, None, ground, blocks, path) for held in path.held]
    free = plane.difference(plane.union([free, *aprons]), barred)
    return Ground(open=ground, blocks=blocks, free=free, need=need, barred=barred)


def _apron(at: Point, lead: Point | None, ground: Region, blocks: Region, path: Path) -> Region:
    """Return the ground round a gate, door or held point where the middle line may run nearer than usual to things."""
    need, half = path.width / 2 + path.clear_of_walls, path.width / 2
    if lead is not None:  # a wedge of 45 degrees each way: there the wall is as far as the opening, times 0.7
        far, across = 1.05 * need + _gap(ways.edge_of(ground), at), (-lead[1], lead[0])
        tips = [(at[0] + far * (lead[0] + s * across[0]), at[1] + far * (lead[1] + s * across[1])) for s in (1, -1)]
        reached = ground if plane.contains(ground, at) else plane.grown(ground, ON_EDGE)
        wedge = plane.intersection(plane.region([at, *tips]), reached)
        return plane.difference(wedge, ways.swollen(blocks, min(half, 0.999 * _gap(blocks, at))))
    wall, thing = _gap(ways.edge_of(ground), at), _gap(blocks, at)
    if min(wall, thing) >= 1.02 * need:
        return plane.NOWHERE
    round_it = plane.circle(at, 2.2 * need)
    inner = plane.intersection(round_it, ways.shrunk(ground, 0.98 * min(need, wall)))
    return plane.difference(inner, ways.swollen(blocks, 0.98 * min(need, thing)))


def _gap(shape: plane.Shape, at: Point) -> float:
    return math.inf if shape.is_empty else plane.distance(shape, plane.point(at))


def too_narrow(a: Point, b: Point, made: Ground, path: Path) -> str:
    """Return the sentence that says where the ground is too narrow: the widest line that still gets through, by
    halving.
    """
    low, high, way = 0.0, made.need, list[Point]()
    for _ in range(12):
        middle = (low + high) / 2
        open_ground = ways.shrunk(made.open, middle, quarter=FINE)
        free = plane.difference(open_ground, ways.swollen(made.blocks, middle, quarter=FINE))
        rounds = [plane.intersection(plane.circle(p, 1.05 * made.need), made.open) for p in (a, b)]
        near_ends = [plane.difference(c, made.blocks) for c in rounds]
        piece = ways.one_piece(plane.difference(plane.union([free, *near_ends]), made.barred), a, b)
        if piece.is_empty:
            high = middle
        else:
            low, way = middle, ways.shortest(piece, a, b)
    if not way:
        return (
            f'the path "{path.name}" cannot fit: there is no way through from ({a[0]:.2f}, {a[1]:.2f}) '
            f"to ({b[0]:.2f}, {b[1]:.2f}) m; open a gap or move an end"
        )
    dense = ways.even(np.asarray(way), 0.05)
    far = ways.far_from(dense, [ways.edge_of(made.open), made.blocks])
    middle_part = (np.linalg.norm(dense - a, axis=1) > made.need) & (np.linalg.norm(dense - b, axis=1) > made.need)
    far = np.where(middle_part if middle_part.any() else True, far, math.inf)
    x, y = dense[int(far.argmin())]
    return (
        f'the path "{path.name}" cannot fit: the narrowest place is {2 * low:.2f} m at ({x:.2f}, {y:.2f}) m, '
        f"it needs {2 * made.need:.2f} m ({path.width:.2f} m wide and {path.clear_of_walls:.2f} m clear each side); "
        f"make it narrower or move what stands there"
    )
