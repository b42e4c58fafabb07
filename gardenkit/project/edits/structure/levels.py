"""Levels set, changed, moved, named and taken out; a path built to heights of its own, or laid on the ground again."""

from collections.abc import Sequence
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground, check_outline
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.edits.structure.shared import path_ends, shifted, spot, with_bones
from gardenkit.project.layout import layout
from gardenkit.project.ranges import RANGES
from gardenkit.structure.structure import Finished, Level, Path
from gardenkit.units import show_length


def add_level(
    project: Project,
    *,
    at: Point | None = None,
    height: float | None = None,
    name: str = "",
    outline: Outline = (),
    of: str = "",
    **more: Any,
) -> Project:
    """Return the project with a level: of an outline, of the paved or lawn area ``of``, else a spot ``at`` a place.

    Without a height it is that of the ground as found there. ``more``: its fall, falls_to, edge, bank. The last of its
    levels is the new one.
    """
    called = _new(project, name, of or ("level" if outline else "spot"))
    where = _middle(project, outline, of) if at is None else at
    ground = layout(project).lie
    level = height if height is not None else round(ground.height(where), 3) if ground is not None else 0.0
    made = Level(name=called, at=spot(where), height=level, outline=outline, of=of, **more)
    return with_bones(project, levels=(*project.structure.levels, _sound(project, made)))


def change_level(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with fields of a level changed."""
    new = _sound(project, attrs.evolve(_level(project, name), **changes))
    return with_bones(project, levels=put(project.structure.levels, name, new))


def move_level(project: Project, name: str, *, to: Point) -> Project:
    """Return the project with a level put elsewhere, its outline with it; one of an area has its height said there."""
    level = _level(project, name)
    by = (to[0] - level.at[0], to[1] - level.at[1])
    return change_level(project, name, at=spot(to), outline=shifted(level.outline, by))


def rename_level(project: Project, name: str, *, to: str) -> Project:
    """Return the project with a level renamed."""
    level = _level(project, name)
    if " ".join(to.split()) == name:
        return project
    called = new_name(to, [one.name for one in project.structure.levels], "level")
    return with_bones(project, levels=put(project.structure.levels, name, attrs.evolve(level, name=called)))


def remove_level(project: Project, name: str) -> Project:
    """Return the project without a level: the ground there stays as found."""
    _level(project, name)
    return with_bones(project, levels=without(project.structure.levels, name))


def grade_path(project: Project, name: str, *, heights: Sequence[tuple[float, float]]) -> Project:
    """Return the project with a path built to heights: (share of its length, metres over the plan's zero), in order;
    none: it lies on the ground again. Raises GardenError for one height, or shares out of order.
    """
    path = by_name(project.structure.paths, name, "path")
    made = tuple(Finished(share=float(share), height=float(height)) for share, height in heights)
    if len(made) == 1:
        raise GardenError(f'path "{name}" has one height; give two or more along it, or none')
    return with_bones(project, paths=put(project.structure.paths, name, attrs.evolve(path, heights=made)))


def take_way(project: Project, way: Path) -> Project:
    """Return the project with a way that was found without steps as a path, with its heights, under a free name."""
    called = free_name(way.name, path_ends(project))
    return with_bones(project, paths=(*project.structure.paths, attrs.evolve(way, name=called)))


# ---- helpers


def _level(project: Project, name: str) -> Level:
    return by_name(project.structure.levels, name, "level")


def _new(project: Project, typed: str, usual: str) -> str:
    known = [one.name for one in project.structure.levels]
    return new_name(typed, known, "level") if typed else free_name(usual, known)


def _middle(project: Project, outline: Outline, of: str) -> Point:
    if of:
        outline = by_name(project.structure.ground_areas, of, "paved or lawn area").outline
    if outline:
        return plane.centre(plane.region(outline))
    if project.site.boundary:
        return plane.centre(plane.region(project.site.boundary))
    raise GardenError("a spot level needs its place; give one, or draw the boundary first")


def _sound(project: Project, level: Level) -> Level:
    for field, words in (("height", "height"), ("bank", "bank of 1:n with n"), ("fall", "fall")):
        low, high, unit = RANGES[Level][field]
        if not low <= getattr(level, field) <= high:
            span = f"{show_length(low, project.units)} to {show_length(high, project.units)}"
            span = span if unit == "m" else f"{low:g} to {high:g} {unit}".strip()
            raise GardenError(f'level "{level.name}" needs a {words} from {span}')
    if level.of:
        by_name(project.structure.ground_areas, level.of, "paved or lawn area")
        level = attrs.evolve(level, outline=())
    what = f'level "{level.name}"'
    if level.outline:
        level = attrs.evolve(level, outline=check_outline(project.site, level.outline, what, units=project.units))
    return attrs.evolve(level, at=check_on_ground(project.site, level.at, what, units=project.units))
