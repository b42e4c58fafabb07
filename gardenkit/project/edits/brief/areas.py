"""Every change of the areas of the property: drawn or made up, given a state, a turn, a name, let go."""

from typing import Any

import attrs

from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.edits.brief.shared import with_brief
from gardenkit.project.edits.ground import check_outline
from gardenkit.project.edits.records import by_name, new_name, put, without
from gardenkit.project.edits.structure.shared import replaced
from gardenkit.project.property_areas import PropertyArea, check_areas


def add_property_area(project: Project, name: str, **fields: Any) -> Project:
    """Put an area of the property last in the order of work. ``fields``: outline, holds, state, built."""
    called = new_name(name, [area.name for area in project.areas], "area of the property")
    return _with_area(project, PropertyArea(name=called), **fields)


def change_property_area(project: Project, name: str, **fields: Any) -> Project:
    """Change the outline, holds, state or built of an area of the property. Raises GardenError."""
    return _with_area(project, by_name(project.areas, name, "area of the property"), **fields)


def rename_property_area(project: Project, name: str, *, to: str) -> Project:
    """Give an area of the property another name; the wants for it follow."""
    old = by_name(project.areas, name, "area of the property")
    if " ".join(to.split()) == name:
        return project
    called = new_name(to, [area.name for area in project.areas], "area of the property")
    wants = tuple(attrs.evolve(w, area=called) if w.area == name else w for w in project.brief.wants)
    return _with_area(with_brief(project, wants=wants), old, name=called)


def move_property_area_corner(project: Project, name: str, index: int, *, to: Point) -> Project:
    """Put one corner of the outline of an area of the property elsewhere. Raises GardenError."""
    area = by_name(project.areas, name, "area of the property")
    return _with_area(project, area, outline=replaced(area.outline, index, to, f'area "{name}"'))


def move_property_area(project: Project, name: str, *, to: int) -> Project:
    """Give an area of the property another turn in the order of work (0 first)."""
    moved = by_name(project.areas, name, "area of the property")
    rest = list(without(project.areas, name))
    at = min(max(to, 0), len(rest))
    return attrs.evolve(project, areas=(*rest[:at], moved, *rest[at:]))


def remove_property_area(project: Project, name: str) -> Project:
    """Let an area of the property go: what lies in it stays, and its wants are for the whole property."""
    by_name(project.areas, name, "area of the property")
    wants = tuple(attrs.evolve(w, area="") if w.area == name else w for w in project.brief.wants)
    return attrs.evolve(with_brief(project, wants=wants), areas=without(project.areas, name))


# ---- helpers


def _with_area(project: Project, old: PropertyArea, **fields: Any) -> Project:
    """Return the project with an area changed, or put last when it is not there yet."""
    new = attrs.evolve(old, **fields)
    if new.outline:
        corners = check_outline(project.site, new.outline, f'area "{new.name}"', units=project.units)
        new = attrs.evolve(new, outline=corners)
    there = any(area.name == old.name for area in project.areas)
    areas = put(project.areas, old.name, new) if there else (*project.areas, new)
    changed = attrs.evolve(project, areas=areas)
    check_areas(changed)
    return changed
