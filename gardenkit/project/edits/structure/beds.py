"""Beds named, drawn, split, joined and reset, and the lines that divide them."""

from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point, Region
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_outline
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.edits.structure.shared import (
    refuse_if_wanted,
    replaced,
    shifted,
    spot,
    with_bones,
    with_every_structure,
)
from gardenkit.project.layout import layout
from gardenkit.project.references import turns_renamed
from gardenkit.project.wanted import wants_renamed
from gardenkit.structure.bed_edits import corners_of, cut_in_two, dividing_cut, joined
from gardenkit.structure.beds import BedShape
from gardenkit.structure.kinds import purpose_of
from gardenkit.structure.structure import Bed, Structure, Thing
from gardenkit.structure.things import beds_inside

TOGETHER = 0.15  # m: a corner dragged this near to its neighbour is taken out. House value.


def every_bed(project: Project) -> tuple[Bed, ...]:
    """Return the record of every bed that there is; a numbered leftover as it would be put on record."""
    return tuple(_record(project, bed.name) for bed in layout(project).beds)


def change_bed(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with the soil, edging or corners of a bed said; a numbered leftover becomes one of its own.

    Empty corners are what the paths leave; of the bed within a thing's walls only the purpose can be said. Raises
    GardenError for corners that cross or lie off the plot.
    """
    purpose_of(changes.get("purpose", ""))
    walls = _walls_round(project, name)
    if walls is not None and set(changes) == {"purpose"}:
        within = attrs.evolve(walls, purpose=changes["purpose"])
        return with_bones(project, things=put(project.structure.things, name, within))
    if changes.get("outline"):
        corners = check_outline(project.site, changes["outline"], f'bed "{name}"', units=project.units)
        changes["outline"] = corners
    return _with_bed(project, name, attrs.evolve(_record(project, name), **changes))


def rename_bed(project: Project, name: str, *, to: str) -> Project:
    """Return the project with a bed named; in the alternatives a bed of that name follows."""
    if " ".join(to.split()) == name:
        return project
    _not_within_walls(project, name)
    called = new_name(to, [b.name for b in layout(project).beds], "bed")
    known = any(b.name == name for b in project.structure.beds)
    if not known:
        return wants_renamed(_with_bed(project, name, attrs.evolve(_record(project, name), name=called)), name, called)

    def change(structure: Structure) -> Structure:
        names = [b.name for b in structure.beds]
        if name not in names or called in names:
            return structure
        beds = tuple(attrs.evolve(b, name=called) if b.name == name else b for b in structure.beds)
        return turns_renamed(attrs.evolve(structure, beds=beds), name, called)

    return wants_renamed(with_every_structure(project, change), name, called)


def clear_bed_name(project: Project, name: str) -> Project:
    """Return the project with a bed a numbered leftover again, its drawn corners gone too."""
    _not_within_walls(project, name)
    if all(b.name != name for b in project.structure.beds):
        by_name(layout(project).beds, name, "bed")
        raise GardenError(f'"{name}" is only a number already; there is no name to clear')
    refuse_if_wanted(project, name, ("bed",))
    return with_bones(project, beds=without(project.structure.beds, name))


def draw_bed(
    project: Project, outline: Outline, *, name: str = "", soil: str = "", edging: str = "", purpose: str = ""
) -> Project:
    """Return the project with a new bed of these corners; the last of its beds is the new one.

    Raises GardenError when it lies off the plot or covers no open ground.
    """
    worked = layout(project)
    names = [b.name for b in worked.beds]
    called = new_name(name, names, "bed") if name else free_name("New bed", names)
    corners = check_outline(project.site, outline, f'bed "{called}"', units=project.units)
    region = plane.intersection(plane.region(corners), worked.ground)
    if plane.area(region) < project.structure.least_bed:
        raise GardenError(f'bed "{called}" lies outside the open ground; give corners inside the boundary')
    bed = Bed(name=called, at=spot(plane.centre(region)), outline=corners, soil=soil, edging=edging, purpose=purpose)
    purpose_of(purpose)
    return with_bones(project, beds=(*project.structure.beds, bed))


def draw_bed_corners(project: Project, name: str) -> Project:
    """Return the project with a bed that has corners of its own, to be dragged."""
    corners = corners_of(_shape(project, name).region, others=_others(project, name))
    return _with_bed(project, name, attrs.evolve(_record(project, name), outline=corners))


def reset_bed(project: Project, name: str) -> Project:
    """Return the project with a bed reset to the path's edge: what the paths leave again."""
    return _with_bed(project, name, attrs.evolve(_record(project, name), outline=()))


def move_bed_corner(project: Project, name: str, index: int, *, to: Point) -> Project:
    """Return the project with a corner of a drawn bed put elsewhere; onto its neighbour, it is taken out."""
    old = _record(project, name).outline
    outline = replaced(old, index, to, f'bed "{name}"')
    near = [old[index - 1], old[(index + 1) % len(old)]]
    if len(old) > 3 and any((to[0] - p[0]) ** 2 + (to[1] - p[1]) ** 2 < TOGETHER**2 for p in near):
        outline = (*old[:index], *old[index + 1 :])
    return change_bed(project, name, outline=outline)


def move_bed(project: Project, name: str, *, to: Point) -> Project:
    """Return the project with a drawn bed put elsewhere whole, the middle of its corners at a place.

    Raises GardenError for a bed without corners of its own: it is what the paths leave.
    """
    corners = _record(project, name).outline
    if not corners:
        raise GardenError(f'bed "{name}" is what the paths leave; draw its corners first, then it can be moved')
    x, y = plane.centre(plane.region(corners))
    return change_bed(project, name, outline=shifted(corners, (to[0] - x, to[1] - y)))


def add_bed_corner(project: Project, name: str, after: int, *, at: Point) -> Project:
    """Return the project with another corner of a drawn bed, after corner number ``after``."""
    old = _record(project, name).outline
    return change_bed(project, name, outline=(*old[: after + 1], spot(at), *old[after + 1 :]))


def split_bed(project: Project, name: str, line: Line) -> Project:
    """Return the project with a bed split along a line; one half keeps its name, the other gets a number after it."""
    shape, record = _shape(project, name), _record(project, name)
    cut = dividing_cut(shape.region, line, others=_others(project, name))
    halves = cut_in_two(shape.region, cut)
    own = 0 if plane.contains(halves[0], record.at) else 1
    inner = [spot(plane.inscribed_circle(half)[0]) for half in halves]
    called = free_name(f"{name} 2", [b.name for b in layout(project).beds])
    second = Bed(name=called, at=inner[1 - own], soil=record.soil, edging=record.edging, purpose=record.purpose)
    first = attrs.evolve(record, at=record.at if plane.contains(halves[own], record.at) else inner[own])
    cuts = project.structure.cuts
    if record.outline:
        mine, its = (corners_of(halves[k], others=_others(project, name, halves[1 - k])) for k in (own, 1 - own))
        first, second = attrs.evolve(first, at=record.at, outline=mine), attrs.evolve(second, outline=its)
    else:
        cuts = (*cuts, cut)
    return with_bones(project, beds=(*_beds_with(project, name, first), second), cuts=cuts)


def join_beds(project: Project, name: str, other: str) -> Project:
    """Return the project with two beds that touch made one, under the first one's name."""
    _not_within_walls(project, other)
    second = by_name(layout(project).beds, other, "bed to join with")
    kept = [b.region for b in layout(project).beds if b.name not in (name, other)]
    outline = joined(_shape(project, name), second, others=kept)
    record = attrs.evolve(_record(project, name), outline=outline)
    whole = with_bones(project, beds=without(_beds_with(project, name, record), other))
    return wants_renamed(whole, other, name)


def move_cut(project: Project, number: int, point: int, *, to: Point) -> Project:
    """Return the project with one end of a dividing line put elsewhere."""
    _check_cut(project, number)
    line = replaced(project.structure.cuts[number], point, to, "the dividing line")
    return with_bones(project, cuts=tuple(line if i == number else c for i, c in enumerate(project.structure.cuts)))


def remove_cut(project: Project, number: int) -> Project:
    """Return the project without one dividing line; the beds on its two sides are one again."""
    _check_cut(project, number)
    return with_bones(project, cuts=tuple(c for i, c in enumerate(project.structure.cuts) if i != number))


# ---- helpers


def _check_cut(project: Project, number: int) -> None:
    if not 0 <= number < len(project.structure.cuts):
        raise GardenError(f"there is no dividing line number {number + 1}; there are {len(project.structure.cuts)}")


def _shape(project: Project, name: str) -> BedShape:
    return by_name(layout(project).beds, name, "bed")


def _others(project: Project, name: str, *more: Region) -> list[Region]:
    """Return the ground of the other beds."""
    return [b.region for b in layout(project).beds if b.name != name] + list(more)


def _record(project: Project, name: str) -> Bed:
    """Return the record of a bed; a numbered leftover gets one."""
    known = next((b for b in project.structure.beds if b.name == name), None)
    if known is not None:
        return known
    shape = _shape(project, name)
    return Bed(name=name, at=spot(shape.at), purpose=shape.purpose)


def _walls_round(project: Project, name: str) -> Thing | None:
    """Return the placed thing within whose walls a bed lies, None for any other bed."""
    inside = {one.name for one in beds_inside(project.structure.things)}
    return next((one for one in project.structure.things if one.name == name and name in inside), None)


def _not_within_walls(project: Project, name: str) -> None:
    """Raise GardenError for a bed that is the inside of a placed thing: it follows the thing."""
    if _walls_round(project, name) is not None:
        raise GardenError(f'bed "{name}" lies within the walls of "{name}"; change, move or rename that thing instead')


def _beds_with(project: Project, name: str, bed: Bed) -> tuple[Bed, ...]:
    _not_within_walls(project, name)
    beds = project.structure.beds
    return put(beds, name, bed) if any(b.name == name for b in beds) else (*beds, bed)


def _with_bed(project: Project, name: str, bed: Bed) -> Project:
    return with_bones(project, beds=_beds_with(project, name, bed))
