"""What wants are about: the things of the plan by their names, found, offered in lists, and renamed with the thing."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Protocol

import attrs

from gardenkit.brief.asking import Asked, roles
from gardenkit.brief.want_kinds import want_kind
from gardenkit.brief.want_kinds.row import EVERY_THING
from gardenkit.brief.wants import Want
from gardenkit.findings import GardenError, nearest
from gardenkit.project.property_areas import holds_renamed
from gardenkit.structure.structure import Structure

if TYPE_CHECKING:
    from gardenkit.project import Project


class Named(Protocol):
    """A thing with a name."""

    @property
    def name(self) -> str:
        """What the designer calls it."""
        ...


def things_named(project: "Project", structure: Structure | None = None) -> Mapping[str, tuple[str, ...]]:
    """Return the names of all that a want can be about, by the kind of thing, on the plan or in another structure."""
    site, bones = project.site, structure or project.structure
    found = {kind: tuple(o.name for o in site.openings if o.kind == kind) for kind in ("gate", "door", "window")}
    groups: dict[str, Sequence[Named]] = {
        "seat": bones.seats,
        "area": bones.ground_areas,
        "thing": bones.things,
        "path": bones.paths,
        "bed": bones.beds,
        "support": bones.supports,
        "fence": site.fences,
        "building": site.buildings,
        "tree": site.trees,
        "obstacle": site.obstacles,
    }
    return found | {kind: tuple(one.name for one in records) for kind, records in groups.items()}


def kind_of_thing(project: "Project", name: str, kinds: Sequence[str] = EVERY_THING) -> str:
    """Return which of some kinds of things bears a name on the plan, the first of them; empty when none does."""
    named = things_named(project)
    return next((kind for kind in kinds if name in named[kind]), "")


def offered(project: "Project", kinds: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Return the garden's own things of some kinds as (words, name), each name once, to be picked from."""
    named = things_named(project)
    found: dict[str, str] = {}
    for kind in kinds:
        for name in named[kind]:
            found.setdefault(name, kind)
    return tuple((f"{kind} {name}" if kind not in name else name, name) for name, kind in found.items())


def check_wants(project: "Project") -> None:
    """Raise GardenError for the first want about a thing that is nowhere, neither on the plan nor in an alternative."""
    structures = (project.structure, *(kept.structure for kept in project.alternatives))
    known = [things_named(project, bones) for bones in structures]
    for want in project.brief.wants:
        for _, name, kinds in roles(want.asks) if want.asks else ():
            names = [one for named in known for kind in kinds for one in named[kind]]
            if name not in names:
                raise GardenError(
                    f'the want "{want.text[:60]}" is about "{name}", which is no {" or ".join(kinds)} of this garden'
                    f"{nearest(name, names)}; choose another in the wants list, or take the want off it, first"
                )


def wants_about(project: "Project", name: str, kinds: Sequence[str] = EVERY_THING) -> tuple[str, ...]:
    """Return the words of every want that would lose its hold when the thing of that name, of some kinds, were gone."""
    return tuple(
        want.text
        for want in project.brief.wants
        if want.asks and any(one == name and set(taken) & set(kinds) for _, one, taken in roles(want.asks))
    )


def wants_renamed(project: "Project", old: str, new: str) -> "Project":
    """Return the project with every mention of what was called ``old`` and is now called ``new``: in wants, in what the
    areas of the property hold, and in the crops of a bed.
    """
    project = _crops_renamed(holds_renamed(project, old, new), old, new)
    wants = tuple(_renamed(project, want, old, new) for want in project.brief.wants)
    if wants == project.brief.wants:
        return project
    return attrs.evolve(project, brief=attrs.evolve(project.brief, wants=wants))


def _crops_renamed(project: "Project", old: str, new: str) -> "Project":
    bones, crops = project.structure, project.planting.crops
    kept = {bed.name for bed in bones.beds} | {thing.name for thing in bones.things}
    if old in kept or all(crop.bed != old for crop in crops):
        return project
    moved = tuple(attrs.evolve(crop, bed=new) if crop.bed == old else crop for crop in crops)
    return attrs.evolve(project, planting=attrs.evolve(project.planting, crops=moved))


def _renamed(project: "Project", want: Want, old: str, new: str) -> Want:
    if want.asks is None:
        return want
    lost: list[str] = [
        field
        for field, name, kinds in roles(want.asks)
        if name == old and not kind_of_thing(project, old, kinds) and kind_of_thing(project, new, kinds)
    ]
    changes: dict[str, Any] = dict.fromkeys(lost, new)
    return attrs.evolve(want, asks=attrs.evolve(want.asks, **changes)) if lost else want


def fitted(project: "Project", want: Want) -> Want:
    """Return a want of another garden for this one: what it is about is left open where nothing here is called so, and
    it is for the whole property where no area here is called as that which it was for.
    """
    if want.area not in {area.name for area in project.areas}:
        want = attrs.evolve(want, area="")
    if want.asks is None:
        return want
    lost = [field for field, name, kinds in roles(want.asks) if not kind_of_thing(project, name, kinds)]
    changes: dict[str, Any] = dict.fromkeys(lost, "")
    return attrs.evolve(want, asks=attrs.evolve(want.asks, **changes))


def musts_asking(project: "Project", kind: str) -> Iterable[Asked]:
    """Yield what the musts of a kind ask for, of those whose things are on the plan."""
    for want in project.brief.wants:
        one = want.asks
        if want.weight == "must" and one is not None and one.kind == kind and not tuple(missing_things(project, one)):
            yield one


def missing_things(project: "Project", asked: Asked) -> Iterable[str]:
    """Return what is still to be said or drawn before a want can be measured, in sentences."""
    row = want_kind(asked.kind)
    for name, kinds, needed in ((asked.thing, row.thing, row.needs_thing), (asked.other, row.other, True)):
        if not kinds or (not name and not needed):
            continue
        if not name:
            yield f"nothing on the plan is chosen for it yet: {row.draw}"
        elif not kind_of_thing(project, name, kinds):
            yield f'"{name}" is not on this plan; draw it again, or choose another thing'
