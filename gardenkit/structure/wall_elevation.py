"""One wall of a building seen square on from outside: windows, doors, supports and plants as rectangles on it, in
metres.
"""

import math
from collections.abc import Sequence
from typing import Literal

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building
from gardenkit.structure.structure import Support

MarkKind = Literal["door", "window", "gate", "support", "plant"]
NEAR = 1.5  # m: what stands within this distance outside the wall belongs to its elevation. House value.
SUPPORT_COUNTS = 3  # doors or windows a support is worth a look at. House value.
BEHIND = 0.3  # m: an opening or support this far inside the wall's line still lies on it. House value.


@attrs.frozen(kw_only=True)
class Mark:
    """A rectangle on the elevation: ``left`` and ``right`` along the wall, ``bottom`` and ``top`` above the zero
    level; ``out`` from it.
    """

    kind: MarkKind
    name: str
    left: float
    right: float
    bottom: float
    top: float
    out: float = 0.0


@attrs.frozen(kw_only=True)
class WallElevation:
    """A wall from its left to its right end as seen from outside: length, floor and eaves, and its marks, furthest out
    last.
    """

    building: str
    length: float
    floor: float
    eaves: float
    marks: tuple[Mark, ...]


@attrs.frozen(kw_only=True)
class StandingPlant:
    """A plant at a chosen year as the elevation needs it: where, how high and how wide, and from which height its
    leaves start.
    """

    name: str
    at: Point
    height: float
    spread: float
    base: float = 0.0


def wall_elevation(
    building: Building,
    wall: int,
    *,
    openings: Sequence[Opening] = (),
    supports: Sequence[Support] = (),
    plants: Sequence[StandingPlant] = (),
    near: float = NEAR,
) -> WallElevation:
    """Return the elevation of wall number ``wall`` (0: from the outline's first corner to its second), outline
    anticlockwise.

    Takes what stands within ``near`` metres outside the wall, cut to its length. Raises GardenError for a wall that is
    not there.
    """
    if not 0 <= wall < len(building.outline):
        raise GardenError(f"{building.name} has walls 0 to {len(building.outline) - 1}; there is no wall {wall}")
    start, end = building.outline[wall], building.outline[(wall + 1) % len(building.outline)]
    length = math.dist(start, end)
    spots: list[tuple[MarkKind, str, Sequence[Point], float, float, float]] = [
        *((o.kind, o.name, (o.start, o.end), 0.0, o.sill, o.head) for o in openings),
        *(("support", s.name, s.line, 0.0, 0.0, s.height) for s in supports),
        *(("plant", p.name, (p.at,), p.spread / 2, p.base, p.height) for p in plants),
    ]
    marks: list[Mark] = []
    for kind, name, points, half, bottom, top in spots:
        along, out = zip(*(_placed(p, start, end, length) for p in points), strict=True)
        left, right = max(0.0, min(along) - half), min(length, max(along) + half)
        furthest = near if kind in {"support", "plant"} else BEHIND
        if right - left > 1e-6 and min(out) >= -BEHIND and max(out) <= furthest:
            marks.append(Mark(kind=kind, name=name, left=left, right=right, bottom=bottom, top=top, out=max(out)))
    ordered = tuple(sorted(marks, key=lambda mark: mark.out))
    return WallElevation(
        building=building.name, length=length, floor=building.floor, eaves=building.eaves, marks=ordered
    )


def wall_facing(building: Building, wall: int, y_bearing: float) -> float:
    """Return which way a wall looks, degrees clockwise from north; ``y_bearing`` is where the plan's y axis points."""
    start, end = building.outline[wall], building.outline[(wall + 1) % len(building.outline)]
    return (plane.heading(start, end) + 90 + y_bearing) % 360


def fullest_wall(
    buildings: Sequence[Building], *, openings: Sequence[Opening] = (), supports: Sequence[Support] = ()
) -> tuple[str, int] | None:
    """Return the building and number of the wall with most on it, a support counting as ``SUPPORT_COUNTS`` doors or
    windows; None when nothing is on any.
    """
    most: tuple[int, tuple[str, int] | None] = (0, None)
    for building in buildings:
        for wall in range(len(building.outline)):
            marks = wall_elevation(building, wall, openings=openings, supports=supports).marks
            count = sum(SUPPORT_COUNTS if mark.kind == "support" else 1 for mark in marks)
            most = max(most, (count, (building.name, wall)), key=lambda pair: pair[0])
    return most[1]


def _placed(at: Point, start: Point, end: Point, length: float) -> tuple[float, float]:
    """Return how far along the wall a point lies and how far outside it."""
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    dx, dy = at[0] - start[0], at[1] - start[1]
    return dx * ux + dy * uy, dx * uy - dy * ux
