"""Supports put up, sized, moved, named and taken out, and how the garden's posts are set."""

from typing import Any

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground, check_reach
from gardenkit.project.edits.records import by_name, new_name, put, renamed, without
from gardenkit.project.edits.structure.shared import (
    refuse_if_wanted,
    replaced,
    shifted,
    spot,
    with_bones,
    with_every_structure,
)
from gardenkit.project.layout import layout
from gardenkit.project.wanted import wants_renamed
from gardenkit.site.walls_and_openings import follow
from gardenkit.structure.kinds import support_kind
from gardenkit.structure.posts import post_rule
from gardenkit.structure.structure import Structure, Support
from gardenkit.units import show_length

LOWEST, TALLEST = 0.2, 6.0  # m: outside these it is not a garden support. House value.
SHORTEST = 0.2  # m. House value.
DEEPEST_FROST = 3.0  # m: ground does not freeze deeper where gardens are made. House value.


def add_support(project: Project, name: str, kind: str, *, at: Point | None = None, line: Line = ()) -> Project:
    """Return the project with a support of a kind and its usual size, along ``line``, or its middle ``at`` a place;
    without either on the roomiest ground. The last of its supports is the new one.
    """
    called = new_name(name, [s.name for s in project.structure.supports], "support")
    usual = support_kind(kind).usual
    if not line:
        x, y = _roomiest(project) if at is None else at
        line = (spot((x - usual.length / 2, y)), spot((x + usual.length / 2, y)))
    made = Support(name=called, kind=kind, line=line, height=usual.height, depth=usual.depth, openness=usual.openness)
    return with_bones(project, supports=(*project.structure.supports, _sound(project, made)))


def remove_support(project: Project, name: str) -> Project:
    """Return the project without a support; refused while a plant grows on it."""
    by_name(project.structure.supports, name, "support")
    on = next((p for p in project.planting.plants if p.support == name), None)
    if on is not None:
        raise GardenError(f'plant {on.number} ({on.species}) grows on "{name}"; move it in 05_layering first')
    gate = next((o.name for o in project.site.openings if o.on == name), None)
    if gate is not None:
        raise GardenError(f'gate "{gate}" stands in "{name}"; remove the gate, or move it, first')
    refuse_if_wanted(project, name, ("support",))
    return with_bones(project, supports=without(project.structure.supports, name))


def rename_support(project: Project, name: str, *, to: str) -> Project:
    """Return the project with a support renamed; the plants on it follow, and the alternatives."""
    by_name(project.structure.supports, name, "support")
    if " ".join(to.split()) == name:
        return project
    called = new_name(to, [s.name for s in project.structure.supports], "support")
    swap = renamed(name, called)

    def change(structure: Structure) -> Structure:
        if any(s.name == called for s in structure.supports):
            return structure
        return attrs.evolve(structure, supports=tuple(attrs.evolve(s, name=swap(s.name)) for s in structure.supports))

    plants = tuple(attrs.evolve(p, support=swap(p.support)) for p in project.planting.plants)
    openings = tuple(attrs.evolve(o, on=swap(o.on)) for o in project.site.openings)
    changed = attrs.evolve(
        with_every_structure(project, change),
        planting=attrs.evolve(project.planting, plants=plants),
        site=attrs.evolve(project.site, openings=openings),
    )
    return wants_renamed(changed, name, called)


def change_support(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with fields of a support changed; another kind keeps the size."""
    old = by_name(project.structure.supports, name, "support")
    new = _sound(project, attrs.evolve(old, **changes), old)
    openings = tuple(follow(o, name, new) for o in project.site.openings)
    moved = attrs.evolve(project, site=attrs.evolve(project.site, openings=openings))
    return with_bones(moved, supports=put(project.structure.supports, name, new))


def move_support(project: Project, name: str, *, to: Point) -> Project:
    """Return the project with the middle of a support put elsewhere."""
    line = by_name(project.structure.supports, name, "support").line
    (ax, ay), (bx, by) = line[0], line[-1]
    return change_support(project, name, line=shifted(line, (to[0] - (ax + bx) / 2, to[1] - (ay + by) / 2)))


def move_support_end(project: Project, name: str, index: int, *, to: Point) -> Project:
    """Return the project with one point of a support's line put elsewhere."""
    line = by_name(project.structure.supports, name, "support").line
    return change_support(project, name, line=replaced(line, index, to, f'support "{name}"'))


def set_post_rule(project: Project, rule: str) -> Project:
    """Return the project with another rule for how deep posts go in."""
    post_rule(rule)
    return with_bones(project, post_rule=rule)


def set_frost_depth(project: Project, depth: float) -> Project:
    """Return the project with the local frost depth in metres; 0 for none, or not known."""
    if not 0.0 <= depth <= DEEPEST_FROST:
        said = show_length(depth, project.units)
        raise GardenError(f"a frost depth of {said} is deeper than ground freezes; ask the building office")
    return with_bones(project, frost_depth=depth)


# ---- helpers


def _sound(project: Project, support: Support, old: Support | None = None) -> Support:
    units, site = project.units, project.site
    support_kind(support.kind)
    if plane.line(support.line).length < SHORTEST:
        raise GardenError(
            f'support "{support.name}" would be under {show_length(SHORTEST, units)} long; drag its ends further apart'
        )
    if not LOWEST < support.height <= TALLEST or not 0 <= support.depth <= TALLEST:
        low, high = show_length(LOWEST, units), show_length(TALLEST, units)
        raise GardenError(f'support "{support.name}" needs a height from {low} to {high} and a depth up to {high}')
    if not 0 <= support.openness <= 1:
        raise GardenError(f'support "{support.name}" lets through a share of the light from 0 to 1')
    known = {"", *(b.name for b in site.buildings), *(f.name for f in site.fences)}
    if support.against not in known:
        raise GardenError(
            f'there is no wall or fence called "{support.against}" to fix "{support.name}" to'
            f"{nearest(support.against, known)}"
        )
    (ax, ay), (bx, by) = support.line[0], support.line[-1]
    if not support.against:
        what, before = f'support "{support.name}"', () if old is None else old.line
        check_on_ground(site, ((ax + bx) / 2, (ay + by) / 2), what, units=units)
        check_reach(site, support.line, what, before=before, units=units)
    return support


def _roomiest(project: Project) -> Point:
    worked = layout(project)
    if worked.beds:
        return max(worked.beds, key=lambda b: b.depth).at
    if project.site.boundary:
        return plane.centre(plane.region(project.site.boundary))
    raise GardenError("there is no boundary yet, so no ground to put a support on; draw it in 03_site_measurement")
