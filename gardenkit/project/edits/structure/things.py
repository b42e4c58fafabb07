"""Placed things put down, sized, turned, moved, named and taken out."""

from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.edits.structure.shared import path_ends, refuse_if_an_end, renamed_everywhere, with_bones
from gardenkit.project.layout import layout
from gardenkit.project.ranges import RANGES
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.structure import Thing
from gardenkit.units import show_length


def add_thing(
    project: Project, kind: str, *, at: Point | None = None, name: str = "", facing: float = 0.0, **sizes: float
) -> Project:
    """Return the project with a thing of a kind, at its usual size where none is given; without a place it stands on
    the roomiest ground. The last of its things is the new one.
    """
    known = _names(project)
    called = new_name(name, known, kind) if name else free_name(kind, known)
    usual = attrs.asdict(thing_kind(kind).usual)
    where = _roomiest(project) if at is None else at
    made = Thing(name=called, kind=kind, at=where, facing=facing % 360, **(usual | sizes))
    return with_bones(project, things=(*project.structure.things, _sound(project, made)))


def remove_thing(project: Project, name: str) -> Project:
    """Return the project without a thing; refused while a path goes to it."""
    _thing(project, name)
    refuse_if_an_end(project, name)
    return with_bones(project, things=without(project.structure.things, name))


def rename_thing(project: Project, name: str, *, to: str) -> Project:
    """Return the project with a thing renamed; path ends follow, here and in the alternatives."""
    _thing(project, name)
    if " ".join(to.split()) == name:
        return project
    return renamed_everywhere(project, "things", name, new_name(to, _names(project), "thing"))


def change_thing(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with fields of a thing changed; another kind has its own usual size, unless the thing had one
    of its own or is given one.
    """
    old = _thing(project, name)
    sizes = attrs.asdict(thing_kind(old.kind).usual)
    if changes.get("kind", old.kind) != old.kind and all(getattr(old, key) == value for key, value in sizes.items()):
        changes = attrs.asdict(thing_kind(changes["kind"]).usual) | changes
    new = _sound(project, attrs.evolve(old, **changes))
    return with_bones(project, things=put(project.structure.things, name, new))


def move_thing(project: Project, name: str, *, to: Point) -> Project:
    """Return the project with a thing put elsewhere; refused off the plot and inside a building."""
    return change_thing(project, name, at=to)


def turn_thing(project: Project, name: str, *, facing: float) -> Project:
    """Return the project with a thing whose front looks another way, degrees clockwise from the plan's y axis."""
    return change_thing(project, name, facing=facing % 360)


# ---- helpers


def _thing(project: Project, name: str) -> Thing:
    return by_name(project.structure.things, name, "placed thing")


def _names(project: Project) -> list[str]:
    """Return every name that a thing may not have: those of path ends, and of beds, as some hold one."""
    return [*path_ends(project), *(bed.name for bed in layout(project).beds)]


def _sound(project: Project, thing: Thing) -> Thing:
    thing_kind(thing.kind)
    for field in ("width", "depth", "height"):
        low, high, _ = RANGES[Thing][field]
        if not low <= getattr(thing, field) <= high:
            span = f"{show_length(low, project.units)} to {show_length(high, project.units)}"
            raise GardenError(f'{thing.kind} "{thing.name}" needs a {field} from {span}')
    place = check_on_ground(project.site, thing.at, f'{thing.kind} "{thing.name}"', units=project.units)
    return attrs.evolve(thing, at=place)


def _roomiest(project: Project) -> Point:
    beds = layout(project).beds
    if beds:
        return max(beds, key=lambda bed: bed.depth).at
    if project.site.boundary:
        return plane.centre(plane.region(project.site.boundary))
    raise GardenError("there is no boundary yet, so no ground to put a thing on; draw it on the site page")
