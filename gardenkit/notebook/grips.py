"""Handles by which what is chosen on a plan is turned about its middle and sized by its corners."""

from typing import get_args

from gardenkit.drawing.columns import Handle
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.edits.moved import Sort, place_of
from gardenkit.project.edits.shaped import line_of, rectangle_of, size_by_corner, turn_of, turn_to

AHEAD = 0.6  # m from the edge of what is turned to the handle that turns it. House value.
KINDS = ("turn", "size")
SORTS: dict[str, Sort] = {sort: sort for sort in get_args(Sort)}


def grips(project: Project, sort: Sort, name: str, *, sized: bool = True) -> tuple[Handle, ...]:
    """Return the handle that turns a thing and, where it is a rectangle and is to be ``sized``, one at each corner."""
    turn, line = turn_of(project, sort, name), line_of(project, sort, name)
    if turn is None or len(line) < 2:
        return ()
    middle = place_of(project, sort, name)
    reach = max(plane.turned((p,), -turn, middle)[0][1] for p in line) - middle[1]
    at = plane.towards(middle, turn, max(0.0, reach) + AHEAD)
    found = [Handle(id=f"turn:{sort}:{name}", kind="turn", at=at, tip=f"turn {name}", about=middle, turn=turn)]
    box = rectangle_of(project, sort, name) if sized else None
    for number, corner in enumerate(box.corners if box else ()):
        still = box.corners[number - 2] if box else corner
        way = f"size:{number}:{sort}:{name}"
        found.append(Handle(id=way, kind="size", at=corner, tip=f"size {name}", about=still, turn=turn))
    return tuple(found)


def is_grip(handle: str) -> bool:
    """Return whether a handle's id is of one that turns or sizes."""
    return handle.partition(":")[0] in KINDS


def named(handle: str) -> str:
    """Return in words what dragging such a handle does."""
    kind, _, rest = handle.partition(":")
    return f"{kind} {rest.split(':', 1 if kind == 'turn' else 2)[-1]}"


def put_grip(project: Project, handle: str, at: Point) -> Project:
    """Return the project with a thing turned to, or its corner put, where such a handle was dragged to; turned by
    whole degrees.
    """
    kind, _, rest = handle.partition(":")
    if kind == "turn":
        sort, _, name = rest.partition(":")
        middle = place_of(project, SORTS[sort], name)
        return turn_to(project, SORTS[sort], name, round(plane.heading(middle, at)) % 360)
    number, sort, name = rest.split(":", 2)
    return size_by_corner(project, SORTS[sort], name, int(number), at)
