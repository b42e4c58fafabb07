"""Whatever is chosen on the plan put elsewhere by its place: plants, seats, things, supports, areas, beds."""

from collections.abc import Callable
from typing import Literal

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.planting import hand
from gardenkit.project import Project
from gardenkit.project.edits import planting, structure
from gardenkit.project.edits.records import by_name
from gardenkit.project.layout import layout
from gardenkit.structure.laying import Stone

Sort = Literal["plant", "seat", "thing", "support", "area", "bed", "level", "note", "stone"]
MOVES: dict[Sort, Callable[[Project, str, Point], Project]] = {
    "plant": lambda project, name, to: planting.move_plant(project, int(name), to=to),
    "seat": lambda project, name, to: structure.move_seat(project, name, to=to),
    "thing": lambda project, name, to: structure.move_thing(project, name, to=to),
    "support": lambda project, name, to: structure.move_support(project, name, to=to),
    "area": lambda project, name, to: structure.move_area(project, name, to=to),
    "bed": lambda project, name, to: structure.move_bed(project, name, to=to),
    "level": lambda project, name, to: structure.move_level(project, name, to=to),
    "stone": lambda project, name, to: structure.move_stone(project, *stone_named(name), to=to),
    "note": lambda project, name, to: structure.move_note(project, name, to=to),
}


def put_at(project: Project, sort: Sort, name: str, to: Point) -> Project:
    """Return the project with one thing put with its middle at a place; ``name`` of a plant is its number.

    Raises GardenError, in the words of the thing's own edit, where it cannot stand.
    """
    return MOVES[sort](project, name, to)


def stone_named(name: str) -> tuple[str, int]:
    """Return the path and the number (0 first) of a stone named ``PATH:7``."""
    path, _, number = name.rpartition(":")
    return path, int(number)


def stone_of(project: Project, path: str, number: int) -> Stone:
    """Return one stone of a path as it lies. Raises GardenError for one that is not there."""
    laid = layout(project).layings.get(path)
    stone = next((s for s in laid.stones if s.number == number), None) if laid is not None else None
    if stone is None:
        raise GardenError(f'path "{path}" has no stone {number + 1} now; click another')
    return stone


def place_of(project: Project, sort: Sort, name: str) -> Point:
    """Return the place by which a thing is put: its middle. Raises GardenError for one that is not there."""
    bones = project.structure
    match sort:
        case "plant":
            return hand.plant_of(project.planting, int(name)).at
        case "seat":
            return by_name(bones.seats, name, "seat").at
        case "thing":
            return by_name(bones.things, name, "placed thing").at
        case "level":
            return by_name(bones.levels, name, "level").at
        case "note":
            return by_name(project.site.notes, name, "note on the plan").middle
        case "stone":
            return stone_of(project, *stone_named(name)).at
        case "support":
            (ax, ay), *_, (bx, by) = by_name(bones.supports, name, "support").line
            return ((ax + bx) / 2, (ay + by) / 2)
        case "area":
            return plane.centre(plane.region(by_name(bones.ground_areas, name, "paved or lawn area").outline))
    own = next((b.outline for b in bones.beds if b.name == name), ())
    return plane.centre(plane.region(own) if own else by_name(layout(project).beds, name, "bed").region)
