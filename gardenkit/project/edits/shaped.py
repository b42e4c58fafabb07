"""Whatever is chosen on the plan turned about its middle, and what is rectangular sized by a corner."""

import math
from collections.abc import Callable
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point
from gardenkit.project import Project
from gardenkit.project.edits import structure
from gardenkit.project.edits.moved import Sort, place_of
from gardenkit.project.edits.records import by_name
from gardenkit.project.edits.structure.shared import spot
from gardenkit.structure.structure import Seat, Thing
from gardenkit.units import show_length

LEAST_SIDE = 0.1  # m: a side of a rectangle is no shorter. House value.
SQUARE = 0.5  # degrees a corner may be off a right angle
CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))  # of a seat or thing: right and ahead of its middle
OUTLINES: dict[str, Callable[[Project, str, Outline], Project]] = {
    "area": lambda project, name, outline: structure.change_area(project, name, outline=outline),
    "bed": lambda project, name, outline: structure.change_bed(project, name, outline=outline),
    "level": lambda project, name, outline: structure.change_level(project, name, outline=outline),
}


@attrs.frozen(kw_only=True)
class Rectangle:
    """A rectangle on the plan: its corners in order, and the turn (degrees clockwise from plan up) of its sides."""

    corners: Outline
    turn: float

    @property
    def size(self) -> tuple[float, float]:
        """How far it reaches across its turn, and along it, in metres."""
        flat = plane.turned(self.corners, -self.turn)
        xs, ys = [x for x, _ in flat], [y for _, y in flat]
        return max(xs) - min(xs), max(ys) - min(ys)


def line_of(project: Project, sort: Sort, name: str) -> Line:
    """Return the line or the corners by which a thing lies on the plan; none of a plant, a note or a spot level."""
    bones = project.structure
    match sort:
        case "seat":
            return by_name(bones.seats, name, "seat").outline
        case "thing":
            thing = by_name(bones.things, name, "placed thing")
            return plane.moved(plane.turned(thing.line, thing.facing), thing.at) if thing.line else _box(thing)
        case "support":
            return by_name(bones.supports, name, "support").line
        case "area":
            return by_name(bones.ground_areas, name, "paved or lawn area").outline
        case "bed":
            return next((b.outline for b in bones.beds if b.name == name), ())
        case "level":
            return by_name(bones.levels, name, "level").outline
    return ()


def turn_of(project: Project, sort: Sort, name: str) -> float | None:
    """Return which way a thing is turned, in degrees clockwise from plan up: where a seat's or thing's front looks,
    where a support's line or the first side of an outline runs. None of what has no direction.
    """
    if sort in ("seat", "thing"):
        return _record(project, sort, name).facing
    line = line_of(project, sort, name)
    if len(line) < 2:
        return None
    return round(plane.heading(line[0], line[-1] if sort == "support" else line[1]), 1) % 360


def turn_to(project: Project, sort: Sort, name: str, degrees: float) -> Project:
    """Return the project with a thing turned about its middle. Raises GardenError where it would not fit."""
    now = turn_of(project, sort, name)
    if now is None:
        raise GardenError(f'"{name}" has no side to turn by; draw its corners first')
    if sort == "seat":
        return structure.turn_seat(project, name, facing=degrees)
    if sort == "thing":
        return structure.turn_thing(project, name, facing=degrees)
    line = plane.turned(line_of(project, sort, name), degrees - now, place_of(project, sort, name))
    put = tuple(spot(p) for p in line)
    if sort == "support":
        return structure.change_support(project, name, line=put)
    return OUTLINES[sort](project, name, put)


def rectangle_of(project: Project, sort: Sort, name: str) -> Rectangle | None:
    """Return a thing's rectangle; None of what is not one."""
    corners = line_of(project, sort, name)
    if sort in ("seat", "thing"):
        record = _record(project, sort, name)
        return None if getattr(record, "line", ()) else Rectangle(corners=corners, turn=record.facing)
    if sort not in OUTLINES or len(corners) != len(CORNERS):
        return None
    ways = [plane.heading(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)]
    off = [(after - before) % 180 - 90 for before, after in zip(ways, (*ways[1:], ways[0]), strict=True)]
    return Rectangle(corners=corners, turn=ways[0]) if max(map(abs, off)) <= SQUARE else None


def size_by_corner(project: Project, sort: Sort, name: str, corner: int, to: Point) -> Project:
    """Return the project with one corner of a rectangle at a place, while the opposite one stays and its sides keep
    their directions. Raises GardenError for what is no rectangle, or would be too narrow.
    """
    found = rectangle_of(project, sort, name)
    if found is None or not 0 <= corner < len(CORNERS):
        raise GardenError(f'"{name}" has no corner {corner + 1} to be sized by: it is no rectangle')
    flat = list(plane.turned(found.corners, -found.turn))
    (x, y), (still_x, still_y) = plane.turned((to,), -found.turn)[0], flat[corner - 2]
    if min(abs(x - still_x), abs(y - still_y)) < LEAST_SIDE:
        least = show_length(LEAST_SIDE, project.units)
        raise GardenError(f'"{name}" would be under {least} from side to side; drag its corner further out')
    was_x, was_y = flat[corner]
    put = [
        (x if math.isclose(a, was_x, abs_tol=0.02) else still_x, y if math.isclose(b, was_y, abs_tol=0.02) else still_y)
        for a, b in flat
    ]
    return _with_corners(project, sort, name, Rectangle(corners=plane.turned(put, found.turn), turn=found.turn))


def size_to(project: Project, sort: Sort, name: str, across: float, along: float) -> Project:
    """Return the project with a rectangle of another size (metres across its turn, and along it) about its middle."""
    found = rectangle_of(project, sort, name)
    if found is None:
        raise GardenError(f'"{name}" is no rectangle, so it has no size across and along; give its corners instead')
    if min(across, along) < LEAST_SIDE:
        raise GardenError(f'"{name}" needs {show_length(LEAST_SIDE, project.units)} or more from side to side')
    x, y = plane.centre(plane.region(found.corners))
    (was_across, was_along), flat = found.size, plane.turned(found.corners, -found.turn, (x, y))
    put = [(x + (a - x) * across / was_across, y + (b - y) * along / was_along) for a, b in flat]
    corners = plane.turned(put, found.turn, (x, y))
    return _with_corners(project, sort, name, Rectangle(corners=corners, turn=found.turn))


# ---- helpers


def _record(project: Project, sort: Sort, name: str) -> Seat | Thing:
    bones = project.structure
    return by_name(bones.seats, name, "seat") if sort == "seat" else by_name(bones.things, name, "placed thing")


def _box(record: Thing) -> Outline:
    half = (record.width / 2, record.depth / 2)
    own = [(right * half[0], ahead * half[1]) for right, ahead in CORNERS]
    return plane.moved(plane.turned(own, record.facing), record.at)


def _with_corners(project: Project, sort: Sort, name: str, new: Rectangle) -> Project:
    if sort in OUTLINES:
        return OUTLINES[sort](project, name, tuple(spot(p) for p in new.corners))
    (across, along), at = new.size, spot(plane.centre(plane.region(new.corners)))
    changes: dict[str, Any] = {"width": round(across, 3), "depth": round(along, 3)}
    if sort == "seat":
        return structure.change_seat(structure.move_seat(project, name, to=at), name, **changes)
    return structure.change_thing(project, name, at=at, **changes)
