"""Seats added, moved, turned, named and removed."""

from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground, check_reach
from gardenkit.project.edits.records import by_name, new_name, put, without
from gardenkit.project.edits.structure.shared import path_ends, refuse_if_an_end, renamed_everywhere, with_bones
from gardenkit.project.layout import layout
from gardenkit.structure.structure import Seat


def add_seat(project: Project, name: str, *, at: Point | None = None, facing: float = 0.0, **more: Any) -> Project:
    """Return the project with a seat; without a place it stands on the roomiest open ground. ``facing`` is degrees
    clockwise from the plan's y axis, ``more`` are fields of Seat.
    """
    called = new_name(name, path_ends(project), "seat")
    where = _roomiest(project) if at is None else at
    place = check_on_ground(project.site, where, f'seat "{called}"', units=project.units)
    seat = _sound(project, Seat(name=called, at=place, facing=facing % 360, **more))
    return with_bones(project, seats=(*project.structure.seats, seat))


def remove_seat(project: Project, name: str) -> Project:
    """Return the project without a seat; refused while a path goes to it."""
    by_name(project.structure.seats, name, "seat")
    refuse_if_an_end(project, name)
    return with_bones(project, seats=without(project.structure.seats, name))


def rename_seat(project: Project, name: str, *, to: str) -> Project:
    """Return the project with a seat renamed; path ends follow, here and in the alternatives."""
    by_name(project.structure.seats, name, "seat")
    if " ".join(to.split()) == name:
        return project
    return renamed_everywhere(project, "seats", name, new_name(to, path_ends(project), "seat"))


def move_seat(project: Project, name: str, *, to: Point) -> Project:
    """Return the project with a seat put elsewhere; refused off the plot and inside a building."""
    place = check_on_ground(project.site, to, f'seat "{name}"', units=project.units)
    return change_seat(project, name, at=place)


def turn_seat(project: Project, name: str, *, facing: float) -> Project:
    """Return the project with a seat looking another way, degrees clockwise from the plan's y axis."""
    return change_seat(project, name, facing=facing % 360)


def change_seat(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with fields of a seat changed: its width, depth, the height of the eye ..."""
    old = by_name(project.structure.seats, name, "seat")
    seat = _sound(project, attrs.evolve(old, **changes), old)
    return with_bones(project, seats=put(project.structure.seats, name, seat))


# ---- helpers


def _roomiest(project: Project) -> Point:
    ground = layout(project).ground
    if ground.is_empty:
        raise GardenError("there is no boundary yet, so no ground to put a seat on; draw it in 03_site_measurement")
    beds = layout(project).beds
    return max(beds, key=lambda b: b.depth).at if beds else plane.inscribed_circle(ground, tolerance=0.1)[0]


def _sound(project: Project, seat: Seat, old: Seat | None = None) -> Seat:
    if min(seat.width, seat.depth, seat.eye) <= 0:
        raise GardenError(f'seat "{seat.name}" needs a width, a depth and an eye height above 0')
    before = old.outline if old is not None else ()
    check_reach(project.site, seat.outline, f'seat "{seat.name}"', before=before, units=project.units)
    return seat
