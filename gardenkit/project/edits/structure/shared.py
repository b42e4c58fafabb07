"""What the edits of the bones share: putting changed bones into the project, and names that paths go to."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Line, Point
from gardenkit.project import Alternative, Project
from gardenkit.project.edits.records import Named, renamed
from gardenkit.project.layout import layout
from gardenkit.project.property_areas import made_of
from gardenkit.project.references import turns_renamed
from gardenkit.project.wanted import wants_about, wants_renamed
from gardenkit.structure.structure import Structure


def with_bones(project: Project, **changes: Any) -> Project:
    """Return the project with parts of its structure changed. Raises GardenError when a path has no way any more."""
    new = attrs.evolve(project, structure=attrs.evolve(project.structure, **changes))
    problems = layout(new).problems
    if len(problems) > len(layout(project).problems):
        raise GardenError(problems[-1])
    return new


def taken_names(structure: Structure) -> tuple[str, ...]:
    """Return every name in the bones that a path may go to, so that no two places share one."""
    groups: tuple[Iterable[Named], ...] = (structure.paths, structure.seats, structure.ground_areas, structure.things)
    return tuple(item.name for group in groups for item in group)


def place_names(project: Project) -> tuple[str, ...]:
    """Return the names a path may go between: gates and doors, seats, paved or lawn areas, things."""
    bones = project.structure
    groups: tuple[Iterable[Named], ...] = (
        project.site.doors_and_gates(),
        bones.seats,
        bones.ground_areas,
        bones.things,
    )
    return tuple(item.name for group in groups for item in group)


def path_ends(project: Project) -> list[str]:
    """Return every name that a path may go to or join, so that no two are called alike."""
    return [*place_names(project), *(p.name for p in project.structure.paths)]


def ends_renamed(structure: Structure, old: str, new: str) -> Structure:
    """Return the bones with every path end, what a path swings round, and area of a level, that is called ``old``
    called ``new``.
    """
    change = renamed(old, new)
    levels = tuple(attrs.evolve(level, of=change(level.of)) for level in structure.levels)
    paths = tuple(attrs.evolve(p, start=change(p.start), end=change(p.end)) for p in structure.paths)
    return turns_renamed(attrs.evolve(structure, paths=paths, levels=levels), old, new)


def renamed_everywhere(project: Project, what: str, old: str, new: str) -> Project:
    """Return the project with the thing of kind ``what`` (a field of the structure) renamed, with the path ends and
    the wants that name it, here and in the alternatives that hold a thing of that name and none of the new one.
    """

    def change(structure: Structure) -> Structure:
        items = getattr(structure, what)
        if all(item.name != old for item in items) or new in taken_names(structure):
            return structure
        swap = renamed(old, new)
        named = tuple(attrs.evolve(item, name=swap(item.name)) for item in items)
        changes: dict[str, Any] = {what: named}
        return ends_renamed(attrs.evolve(structure, **changes), old, new)

    return wants_renamed(with_every_structure(project, change), old, new)


def with_every_structure(project: Project, change: Callable[[Structure], Structure]) -> Project:
    """Return the project with the same change made to its bones and to those of every alternative."""
    kept = tuple(Alternative(name=a.name, structure=change(a.structure)) for a in project.alternatives)
    return attrs.evolve(project, structure=change(project.structure), alternatives=kept)


def refuse_if_an_end(project: Project, name: str) -> None:
    """Raise GardenError when a path starts or ends at a place that is to go."""
    for path in project.structure.paths:
        if name in (path.start, path.end):
            does = "joins" if any(p.name == name for p in project.structure.paths) else "goes to"
            raise GardenError(f'path "{path.name}" {does} "{name}"; delete that path, or let it go elsewhere, first')
    refuse_if_wanted(project, name, ("seat", "area", "thing", "path"))


def refuse_if_wanted(project: Project, name: str, kinds: Sequence[str]) -> None:
    """Raise GardenError when a want is about a thing of some kinds that is to go, or an area is made up of it."""
    for area in made_of(project, name) if {"area", "path", "bed"} & set(kinds) else ():
        raise GardenError(f'the area of the property "{area}" is made up of "{name}"; take it off that area first')
    for text in wants_about(project, name, kinds):
        raise GardenError(f'the want "{text}" is about "{name}"; change that want, or take it off the list, first')


def spot(at: Point) -> Point:
    """Return a point to the millimetre."""
    return (round(float(at[0]), 3), round(float(at[1]), 3))


def shifted(line: Line, by: Point) -> Line:
    """Return a line or outline moved, to the millimetre."""
    return tuple(spot((x + by[0], y + by[1])) for x, y in line)


def replaced(line: Line, index: int, at: Point, what: str) -> Line:
    """Return a line or outline with one point put elsewhere. Raises GardenError for a number that is not there."""
    if not 0 <= index < len(line):
        raise GardenError(f"{what} has no point number {index + 1}; it has {len(line)}")
    return tuple(spot(at) if i == index else p for i, p in enumerate(line))
