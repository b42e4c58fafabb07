"""The sides of a house as seen from outside: where each stands and faces, what is on it already, and a window or door
that was marked on a photo of it.
"""

import math
from itertools import pairwise

import attrs

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.site.openings import Opening, OpeningKind
from gardenkit.site.site import ON_EDGE, Building, Site
from gardenkit.site.tracing import Rectifier, opening_from_photo
from gardenkit.units import System, compass_word, show_length

SHAKE = 0.05  # m a mark may reach beyond the wall and still be pulled onto its edge. House value.
TOUCHING = 0.01  # m two openings may overlap before they count as one over the other. House value.
LEAST_SIDE = 0.3  # m: shorter pieces of wall are not offered. House value.
MARK = (0.3, 0.35, 0.6, 0.75)  # shares of the wall: where the mark is at first
LEAST_WALL = 0.1  # m a wall must be high to be drawn. House value.
Rectangle = tuple[float, float, float, float]  # along and up of the lower left, then of the upper right, in metres


@attrs.frozen(kw_only=True)
class Side:
    """One wall of a building as seen from outside, its lower left corner first.

    ``start`` and ``end`` are plan points, ``top`` the height of the roof's highest point above the plan's zero,
    ``faces`` degrees clockwise from north.
    """

    building: str
    number: int
    start: Point
    end: Point
    eaves: float
    top: float
    faces: float

    @property
    def length(self) -> float:
        """Length along the wall in metres."""
        return math.dist(self.start, self.end)

    def words(self, units: System) -> str:
        """Return the wall in words: building, where it faces, how long."""
        facing = compass_word(self.faces)
        return f"{self.building}, wall {self.number + 1}: faces {facing}, {show_length(self.length, units)}"


def sides(site: Site) -> tuple[Side, ...]:
    """Return the walls of all buildings, going round each one."""
    return tuple(side for building in site.buildings for side in _sides_of(building, site.y_bearing))


def side_of(site: Site, building: str, number: int) -> Side:
    """Return one wall; raises GardenError when it is not there (any more)."""
    for side in sides(site):
        if (side.building, side.number) == (building, number):
            return side
    raise GardenError(f'the wall chosen on "{building}" is not there any more; choose another wall')


def held_by(site: Site, side: Side, *, foot: float) -> tuple[tuple[str, Rectangle], ...]:
    """Return (name, rectangle) of the openings that are on a wall already, in its own metres above ``foot``."""
    wall = plane.line([side.start, side.end])
    found = []
    for opening in site.openings:
        if max(plane.distance(wall, plane.point(at)) for at in (opening.start, opening.end)) <= ON_EDGE:
            low, high = sorted((along(side, opening.start), along(side, opening.end)))
            found.append((opening.name, (low, opening.sill - foot, high, opening.head - foot)))
    return tuple(found)


def along(side: Side, at: Point) -> float:
    """Return how far along a wall a plan point lies, in metres from its lower left corner."""
    dx, dy = side.end[0] - side.start[0], side.end[1] - side.start[1]
    return ((at[0] - side.start[0]) * dx + (at[1] - side.start[1]) * dy) / side.length


def marked_opening(
    site: Site,
    side: Side,
    square: Rectifier,
    mark: Rectangle,
    *,
    name: str,
    kind: OpeningKind,
    foot: float,
    units: System,
) -> Opening:
    """Return the window or door marked on a wall's straightened photo.

    Raises GardenError for a name in use, a mark without size, outside the wall, or over another opening.
    """
    if not name:
        raise GardenError(f"the {kind} has no name yet; type one, such as north {kind}")
    if name in _names(site):
        raise GardenError(f'something on the ground is called "{name}" already; give the {kind} a name of its own')
    low_x, low_y, high_x, high_y = _within(side, mark, f'{kind} "{name}"', foot, units)
    for other, (x1, y1, x2, y2) in held_by(site, side, foot=foot):
        if min(high_x, x2) - max(low_x, x1) > TOUCHING and min(high_y, y2) - max(low_y, y1) > TOUCHING:
            raise GardenError(
                f'the mark lies over "{other}", which is on this wall already; move the mark, or first remove '
                f'"{other}" in the ground as found'
            )
    corner, opposite = square.to_pixel((low_x, low_y)), square.to_pixel((high_x, high_y))
    wall = (side.start, side.end)
    return opening_from_photo(square, corner, opposite, name=name, kind=kind, wall=wall, base=foot, on=side.building)


def first_mark(side: Side, foot: float) -> Rectangle:
    """Return a mark in the middle of a wall, for the designer to drag."""
    wide, high = side.length, side.eaves - foot
    return (MARK[0] * wide, MARK[1] * high, MARK[2] * wide, MARK[3] * high)


def check_foot(side: Side, foot: float) -> None:
    """Raise GardenError when the foot of a wall lies at its top."""
    if side.top - foot < LEAST_WALL:
        raise GardenError("the foot of the wall lies at or above its top; check the height of its foot")


def pixel_on_wall(mark: Rectangle, square: Rectifier) -> float:
    """Return how many metres of the wall the coarser side of one pixel shows in the middle of the mark."""
    middle = ((mark[0] + mark[2]) / 2, (mark[1] + mark[3]) / 2)
    x, y = square.to_pixel(middle)
    return max(math.dist(middle, square.to_wall(near)) for near in ((x + 1, y), (x, y + 1)))


def mark_advice(mark: Rectangle, points: tuple[Point, ...]) -> tuple[Finding, ...]:
    """Return what to be careful about with a mark and the four measured points on its wall."""
    x1, y1, x2, y2 = mark
    known = plane.grown(plane.region(points), 0.02)
    inside = all(plane.contains(known, at) for at in ((x1, y1), (x2, y1), (x2, y2), (x1, y2)))
    flat = Finding(
        where="wall photo",
        what="measure one width of the opening by tape before anything is ordered or built from it",
        why="only what lies flat in the wall is true: set-back frames shift, and a wide lens bends lines near its edge",
        source="common practice, no source",
        topic="site",
    )
    far = Finding(
        where="wall photo",
        what="the mark lies partly outside A B C D, where a small error in them grows; measure points farther apart",
        seriousness="caution",
        topic="site",
    )
    return (flat,) if inside else (far, flat)


# ---- helpers


def _sides_of(building: Building, y_bearing: float) -> list[Side]:
    outline = plane.outline(building.outline, where=f'building "{building.name}"')  # anticlockwise: left to right
    return [
        Side(
            building=building.name,
            number=number,
            start=a,
            end=b,
            eaves=building.eaves,
            top=_top(building, a, b),
            faces=(plane.heading(a, b) + 90 + y_bearing) % 360,
        )
        for number, (a, b) in enumerate(pairwise((*outline, outline[0])))
        if math.dist(a, b) >= LEAST_SIDE
    ]


def _names(site: Site) -> list[str]:
    groups = (site.buildings, site.openings, site.fences, site.trees, site.obstacles)
    return [thing.name for group in groups for thing in group]


def _top(building: Building, a: Point, b: Point) -> float:
    """Return the height of a wall's highest point: the ridge for a gable end and for any wall under a sloping shed
    roof, else the eaves.
    """
    if building.roof not in ("gable", "shed"):
        return building.eaves
    ring = (*building.outline, building.outline[0])
    ridge = building.ridge or max(pairwise(ring), key=lambda ends: math.dist(*ends))
    off = math.radians(plane.heading(a, b) - plane.heading(ridge[0], ridge[-1]))
    eaves_side = building.roof == "gable" and abs(math.cos(off)) > math.sqrt(0.5)
    return building.eaves if eaves_side else max(building.eaves, building.ridge_height)


def _within(side: Side, mark: Rectangle, what: str, foot: float, units: System) -> Rectangle:
    """Return a mark pulled onto the wall where it is a hand's shake outside; raises GardenError when it is more."""
    x1, y1, x2, y2 = mark
    edges = (
        (-min(x1, x2), "the left end"),
        (max(x1, x2) - side.length, "the right end"),
        (-min(y1, y2), "the foot"),
        (max(y1, y2) - (side.top - foot), "the top"),
    )
    for beyond, edge in edges:
        if beyond > SHAKE:
            raise GardenError(
                f"the mark for {what} reaches {show_length(beyond, units)} beyond {edge} of the wall; check the four "
                "points, or move the mark onto the wall"
            )
    (x1, x2), (y1, y2) = sorted((x1, x2)), sorted((y1, y2))
    return max(x1, 0.0), max(y1, 0.0), min(x2, side.length), min(y2, side.top - foot)
