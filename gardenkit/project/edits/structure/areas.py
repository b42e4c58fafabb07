"""Paved or lawn areas, gravel and ponds: put down, moved, given other corners, named and removed."""

from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_outline
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.edits.structure.shared import (
    path_ends,
    refuse_if_an_end,
    renamed_everywhere,
    replaced,
    shifted,
    spot,
    with_bones,
)
from gardenkit.project.layout import layout
from gardenkit.project.references import renamed_on_site
from gardenkit.structure.bed_edits import fewer_corners
from gardenkit.structure.kinds import ground_kind
from gardenkit.structure.structure import GroundArea

MOST_CORNERS = 14  # an area with more is moved whole, until its outline is made simpler. House value.


def add_area(project: Project, kind: str, *, outline: Outline = (), name: str = "", **more: Any) -> Project:
    """Return the project with a paved or lawn area; without an outline a square in the roomiest place. ``more``: the
    depth and lift of a pond.

    The last of its areas is the new one.
    """
    known = path_ends(project)
    called = new_name(name, known, kind) if name else free_name(kind, known)
    ground_kind(kind)
    corners = outline or _roomiest(project, kind)
    corners = check_outline(project.site, corners, f'{kind} "{called}"', units=project.units)
    ground_area = GroundArea(name=called, kind=kind, outline=corners, **more)
    return with_bones(project, ground_areas=(*project.structure.ground_areas, ground_area))


def remove_area(project: Project, name: str) -> Project:
    """Return the project without an area; refused while a path goes to it."""
    _area(project, name)
    refuse_if_an_end(project, name)
    levels = [level.name for level in project.structure.levels if level.of == name]
    if levels:
        raise GardenError(f'level "{levels[0]}" is of "{name}"; remove that level, or give it an outline, first')
    gates = [o.name for o in project.site.openings if o.on == name]
    if gates:
        raise GardenError(f'"{gates[0]}" is in the edge of "{name}"; remove it, or put it elsewhere, first')
    return with_bones(project, ground_areas=without(project.structure.ground_areas, name))


def rename_area(project: Project, name: str, *, to: str) -> Project:
    """Return the project with an area renamed; path ends and the gates in its edge follow."""
    if " ".join(to.split()) == _area(project, name).name:
        return project
    called = new_name(to, path_ends(project), "paved or lawn area")
    return renamed_on_site(renamed_everywhere(project, "ground_areas", name, called), name, called)


def change_area(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with fields of an area changed, such as its kind or its outline."""
    return _put(project, attrs.evolve(_area(project, name), **changes), name)


def move_area(project: Project, name: str, *, to: Point) -> Project:
    """Return the project with the middle of an area put elsewhere."""
    area = _area(project, name)
    x, y = plane.centre(plane.region(area.outline))
    return _put(project, attrs.evolve(area, outline=shifted(area.outline, (to[0] - x, to[1] - y))), name)


def move_area_corner(project: Project, name: str, index: int, *, to: Point) -> Project:
    """Return the project with one corner of an area put elsewhere."""
    area = _area(project, name)
    corners = replaced(area.outline, index, to, f'{area.kind} "{name}"')
    return _put(project, attrs.evolve(area, outline=corners), name)


def simplify_area(project: Project, name: str) -> Project:
    """Return the project with an area of so few corners that each can be dragged."""
    area = _area(project, name)
    return _put(project, attrs.evolve(area, outline=fewer_corners(area.outline, most=MOST_CORNERS)), name)


# ---- helpers


def _area(project: Project, name: str) -> GroundArea:
    return by_name(project.structure.ground_areas, name, "paved or lawn area")


def _put(project: Project, area: GroundArea, name: str) -> Project:
    ground_kind(area.kind)
    check_outline(project.site, area.outline, f'{area.kind} "{area.name}"', units=project.units)
    return with_bones(project, ground_areas=put(project.structure.ground_areas, name, area))


def _roomiest(project: Project, kind: str) -> Outline:
    """Return a square in the largest space for a tree crown of any bed."""
    spots = sorted((c for b in layout(project).beds for c in b.pockets), key=lambda c: -c.radius)
    if not spots:
        raise GardenError(f"there is no free ground for a {kind}; make room first")
    (x, y), half = spots[0].at, spots[0].radius / 2**0.5
    return tuple(spot((x + dx * half, y + dy * half)) for dx, dy in ((-1, -1), (1, -1), (1, 1), (-1, 1)))
