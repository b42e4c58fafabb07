"""The sides of a house one can photograph: their names, what is on them already, and a square-on drawing of each."""

import math
from itertools import pairwise

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.plan import PIXEL_MM
from gardenkit.drawing.scene import Bounds, Label, Mark, Scene, Stroke, on_ground
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.site.openings import Opening, OpeningKind
from gardenkit.site.site import ON_EDGE, Building, Site
from gardenkit.site.tracing import Rectifier, opening_from_photo
from gardenkit.units import FOOT, System, compass_word, show_length

WIDTH_PX, HIGH_PX = 460, 540  # of the drawing on the page
SHAKE = 0.05  # m a mark may reach beyond the wall and still be pulled onto its edge. House value.
TOUCHING = 0.01  # m two openings may overlap before they count as one over the other. House value.
LEAST_SIDE = 0.3  # m: shorter pieces of wall are not offered. House value.
BESIDE = 0.2  # m of the photo shown beyond the wall's edges. House value.
GRID_MM = (10.0, 7.0)  # mm of the drawing left of the photo and below it for the grid's figures. House value.
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


def shown(side: Side, *, foot: float) -> Bounds:
    """Return the piece of a wall's photo that is shown, in the wall's own metres."""
    return (-BESIDE, -BESIDE, side.length + BESIDE, side.top - foot + BESIDE)


def wall_scene(
    site: Site,
    side: Side,
    *,
    foot: float,
    units: System,
    mark: Rectangle | None = None,
) -> Scene:
    """Return a wall seen square on: a grid in feet or metres, what is on it already, and the ``mark``."""
    low_x, low_y, high_x, high_y = shown(side, foot=foot)
    across = (high_x - low_x) * 1000 / (WIDTH_PX * PIXEL_MM - GRID_MM[0])
    scale = max(across, (high_y - low_y) * 1000 / (HIGH_PX * PIXEL_MM - GRID_MM[1]))
    bounds = (low_x - on_ground(GRID_MM[0], scale), low_y - on_ground(GRID_MM[1], scale), high_x, high_y)
    marks: list[Mark] = [*_grid(side, foot, units, scale), _box((0.0, 0.0, side.length, side.eaves - foot), style.INK)]
    for name, rectangle in held_by(site, side, foot=foot):
        marks.append(_box(rectangle, style.FOUND, dash=style.HIDDEN_DASH))
        marks.append(_name(name, rectangle))
    if mark is not None:
        marks += [_box(mark, style.ALERT, width=style.BUILT), *_numbers(mark, scale)]
    title = f"{side.words(units)}, seen square on from outside"
    return Scene(marks=tuple(marks), bounds=bounds, title=title, description=title, scale=scale)


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


def _grid(side: Side, foot: float, units: System, scale: float) -> list[Mark]:
    step, named, word = (FOOT, 5, "ft") if units == "imperial" else (0.5, 2, "m")
    wide, high, out = side.length, side.top - foot, BESIDE + on_ground(1.0, scale)
    marks: list[Mark] = []
    for upright, whole in ((True, wide), (False, high)):
        for number in range(math.floor(whole / step + 1e-9) + 1):
            s, strong = number * step, number % named == 0
            ends: tuple[Point, Point] = ((s, 0.0), (s, high)) if upright else ((0.0, s), (wide, s))
            width = style.PLANT if strong else style.RIB
            marks.append(Stroke(points=ends, colour=style.FOUND, width_mm=width, alpha=0.8 if strong else 0.35))
            if strong:
                at = (s, -out - on_ground(2.0, scale)) if upright else (-out, s)
                text = f"{number if units == 'imperial' else number // 2} {word}"
                marks.append(
                    Label(at=at, text=text, size_mm=2.6, colour=style.SOFT_INK, anchor="middle" if upright else "end")
                )
    return marks


def _box(at: Rectangle, colour: str, *, width: float = style.EDGE, dash: tuple[float, ...] = ()) -> Stroke:
    x1, y1, x2, y2 = at
    ring = ((x1, y1), (x2, y1), (x2, y2), (x1, y2), (x1, y1))
    return Stroke(points=ring, colour=colour, width_mm=width, dash=dash, layer="overlay")


def _numbers(mark: Rectangle, scale: float) -> list[Label]:
    off = on_ground(3.5, scale)
    at = {"1": (mark[0] - off, mark[1] - off), "2": (mark[2] + off, mark[3] + off)}
    return [
        Label(at=spot, text=number, size_mm=4.0, bold=True, colour=style.ALERT, halo=style.PAPER)
        for number, spot in at.items()
    ]


def _name(text: str, at: Rectangle) -> Label:
    middle = ((at[0] + at[2]) / 2, (at[1] + at[3]) / 2)
    return Label(at=middle, text=text, colour=style.FOUND, halo=style.PAPER, size_mm=style.NOTE_LETTERS)
