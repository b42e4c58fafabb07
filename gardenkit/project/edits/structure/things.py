"""Placed things put down, sized, turned, moved, named and taken out."""

import math
from itertools import pairwise
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.bending import through
from gardenkit.geometry.plane import Line, Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground, check_reach
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.edits.structure.shared import path_ends, refuse_if_an_end, renamed_everywhere, spot, with_bones
from gardenkit.project.layout import layout
from gardenkit.project.ranges import RANGES
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.structure import Thing
from gardenkit.structure.things import outline_of, run_of
from gardenkit.units import show_length

SLACK = 0.01  # m a typed length may differ from that of the line
CURVED = 0.4  # m between the points of a rounded line. House value.


def add_thing(
    project: Project, kind: str, *, at: Point | None = None, name: str = "", facing: float = 0.0, **sizes: Any
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


def add_along(project: Project, kind: str, line: Line, *, name: str = "", **sizes: float) -> Project:
    """Return the project with a thing that runs along a line on the plan, such as a hedge. Raises GardenError for a
    kind that stands in one place.
    """
    if not thing_kind(kind).lined:
        raise GardenError(f"a {kind} stands in one place and runs along no line; click the place where it is to stand")
    plane.check_line(line, where=f"the {kind}")
    if len(line) == 2:
        at = ((line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2)
        facing = (plane.heading(*line) - 90.0) % 360
        return add_thing(project, kind, at=at, name=name, facing=facing, width=math.dist(*line), **sizes)
    at = spot(plane.centre(plane.line(line)))
    own = tuple(spot(p) for p in plane.moved(line, (-at[0], -at[1])))
    return add_thing(project, kind, at=at, name=name, line=own, width=_long(own), **sizes)


def round_corners(project: Project, name: str) -> Project:
    """Return the project with a hedge a fair curve through the corners of its line. Raises GardenError without one."""
    thing = _thing(project, name)
    if len(thing.line) < 3:
        raise GardenError(f'{thing.kind} "{name}" is straight; draw it along a line of three or more points first')
    return _along(project, project.structure.things.index(thing), through(thing.line, step=CURVED))


def _along(project: Project, number: int, line: Line) -> Project:
    """Return the project with a thing along a line in its own metres."""
    things = list(project.structure.things)
    kept = tuple(spot(p) for p in line)
    things[number] = _sound(project, attrs.evolve(things[number], line=kept, width=_long(kept)))
    return with_bones(project, things=tuple(things))


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
    new = _sound(project, attrs.evolve(old, **changes), old)
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


def _sound(project: Project, thing: Thing, old: Thing | None = None) -> Thing:
    """Return a thing as it may stand. Raises GardenError off the plot, and where it reaches further over the boundary
    than it did (a hedge may by half its depth: it is trimmed).
    """
    thing_kind(thing.kind)
    for field in ("width", "depth", "height"):
        low, high, _ = RANGES[Thing][field]
        if not low <= getattr(thing, field) <= high:
            span = f"{show_length(low, project.units)} to {show_length(high, project.units)}"
            raise GardenError(f'{thing.kind} "{thing.name}" needs a {field} from {span}')
    if thing.line and (not thing_kind(thing.kind).lined or abs(_long(thing.line) - thing.width) > SLACK):
        thing = attrs.evolve(thing, line=())  # another kind, or a length typed for it, makes it straight
    what = f'{thing.kind} "{thing.name}"'
    thing = attrs.evolve(thing, at=check_on_ground(project.site, thing.at, what, units=project.units))
    before = outline_of(old) if old is not None else ()
    ground = run_of(thing) if thing_kind(thing.kind).lined else outline_of(thing)
    check_reach(project.site, ground, what, before=before, units=project.units)
    return thing


def _long(line: Line) -> float:
    return math.fsum(math.dist(a, b) for a, b in pairwise(line))


def _roomiest(project: Project) -> Point:
    beds = layout(project).beds
    if beds:
        return max(beds, key=lambda bed: bed.depth).at
    if project.site.boundary:
        return plane.centre(plane.region(project.site.boundary))
    raise GardenError("there is no boundary yet, so no ground to put a thing on; draw it in 03_site_measurement")
