"""What names what in a garden: every mention of a thing by its name, checked together and renamed together."""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, get_args

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.planting.crops import crop_kind
from gardenkit.planting.planting import LIGHT_BY
from gardenkit.project import wanted
from gardenkit.project.property_areas import check_areas
from gardenkit.site.site_photos import SitePhoto
from gardenkit.structure.kinds import bond_kind
from gardenkit.structure.posts import post_rule
from gardenkit.structure.structure import Hand, Path, PathLine, Structure
from gardenkit.structure.things import beds_inside

if TYPE_CHECKING:
    from gardenkit.project import Project

PATH_LINES: tuple[PathLine, ...] = get_args(PathLine)
HANDS: tuple[Hand, ...] = get_args(Hand)


def check(project: "Project", *, opening: bool = False) -> None:
    """Raise GardenError for the first name that two things share, or that nothing bears.

    A garden that is only ``opening`` may hold a path that leads nowhere, as an earlier gardenkit could save it: advice
    says so, and the next change must mend it.
    """
    _no_two_alike(_named(project), "")
    _openings(project)
    _against(project, project.structure)
    _levels(project.structure)
    for kept in project.alternatives:
        _no_two_alike(_named_in(kept.structure), f' of "{kept.name}"')
        _against(project, kept.structure)
        _levels(kept.structure)
    _named_rules(project)
    _outlined(project)
    _plants(project)
    if not opening:
        _places_apart(project)
        _ends(project, project.structure, "")
        for kept in project.alternatives:
            _ends(project, kept.structure, f' of "{kept.name}"')
        wanted.check_wants(project)
        check_areas(project)


def renamed_on_site(project: "Project", old: str, new: str) -> "Project":
    """Return the project with every mention of a building, fence or opening under its new name.

    That is: what its doors and gates are in, what supports are fixed to, where paths begin and end and what they swing
    round, and the wants, here and in every alternative.
    """

    def name(of: str) -> str:
        return new if of == old else of

    def structure(bones: Structure) -> Structure:
        supports = tuple(attrs.evolve(s, against=name(s.against)) for s in bones.supports)
        paths = tuple(attrs.evolve(p, start=name(p.start), end=name(p.end)) for p in bones.paths)
        return turns_renamed(attrs.evolve(bones, supports=supports, paths=paths), old, new)

    def photo(of: SitePhoto) -> SitePhoto:
        return attrs.evolve(of, in_front=tuple(attrs.evolve(one, of=name(one.of)) for one in of.in_front))

    openings = tuple(attrs.evolve(o, on=name(o.on)) for o in project.site.openings)
    photos = tuple(photo(one) for one in project.site.photos)
    kept = tuple(attrs.evolve(a, structure=structure(a.structure)) for a in project.alternatives)
    site = attrs.evolve(project.site, openings=openings, photos=photos)
    named = attrs.evolve(project, site=site, structure=structure(project.structure), alternatives=kept)
    return wanted.wants_renamed(named, old, new)


def turns_renamed(structure: Structure, old: str, new: str) -> Structure:
    """Return the bones with every path that swings round what was called ``old`` swinging round it as ``new``."""

    def renamed(path: Path) -> Path:
        turns = tuple(attrs.evolve(t, what=new) if t.what == old else t for t in path.round)
        return path if turns == path.round else attrs.evolve(path, round=turns)

    return attrs.evolve(structure, paths=tuple(renamed(p) for p in structure.paths))


def mentions_of_site(project: "Project", name: str) -> tuple[str, ...]:
    """Return in words what would lose its hold when a building, fence or opening of that name were gone."""
    found = [f'"{o.name}" is in it' for o in project.site.openings if o.on == name]
    found += [f'it is outlined on photo "{p.name}"' for p in project.site.photos if name in {o.of for o in p.in_front}]
    kept = [(f' of the alternative "{a.name}"', a.structure) for a in project.alternatives]
    for whose, bones in (("", project.structure), *kept):
        own = {thing.name for group in (bones.paths, bones.seats, bones.ground_areas, bones.things) for thing in group}
        ends = [] if name in own else [p for p in bones.paths if name in (p.start, p.end)]
        found += [f'path "{p.name}"{whose} goes to it' for p in ends]
        found += [f'path "{p.name}"{whose} swings round it' for p in bones.paths if name in {t.what for t in p.round}]
        found += [f'support "{s.name}"{whose} is fixed to it' for s in bones.supports if s.against == name]
    found += [f'the want "{text}" is about it' for text in wanted.wants_about(project, name)]
    return tuple(found)


# ---- helpers


def _named(project: "Project") -> Iterator[tuple[str, Iterable[str]]]:
    site = project.site
    things = (site.buildings, site.openings, site.fences, site.trees, site.obstacles)
    yield "notes on the plan", [note.name for note in site.notes]
    yield "photos of the site", [photo.name for photo in site.photos]
    for photo in site.photos:
        yield f'marks on photo "{photo.name}"', [mark.name for mark in photo.marks]
    yield "things on the ground", [thing.name for group in things for thing in group]
    yield "alternatives", [a.name for a in project.alternatives]
    yield from _named_in(project.structure)


def _named_in(structure: Structure) -> Iterator[tuple[str, Iterable[str]]]:
    yield "paths", [p.name for p in structure.paths]
    yield "beds", [b.name for b in (*structure.beds, *beds_inside(structure.things))]
    yield "paved or lawn areas", [p.name for p in structure.ground_areas]
    yield "seats", [s.name for s in structure.seats]
    yield "supports", [s.name for s in structure.supports]
    yield "placed things", [t.name for t in structure.things]
    yield "levels", [level.name for level in structure.levels]
    yield "cables", [cable.name for cable in structure.cables]


def _no_two_alike(named: Iterable[tuple[str, Iterable[str]]], where: str) -> None:
    for what, names in named:
        twice = [name for name, count in Counter(names).items() if count > 1]
        if twice:
            raise GardenError(f'two {what}{where} are called "{twice[0]}"; give one of them another name')


def _places_apart(project: "Project") -> None:
    """Raise GardenError for a gate or door that is called as a seat, an area or a path: paths go to them by name."""
    doors = {o.name for o in project.site.doors_and_gates()}
    for bones in (project.structure, *(kept.structure for kept in project.alternatives)):
        groups = (("a seat", bones.seats), ("a paved or lawn area", bones.ground_areas), ("a path", bones.paths))
        for what, items in (*groups, ("a placed thing", bones.things)):
            shared = next((item.name for item in items if item.name in doors), None)
            if shared is not None:
                raise GardenError(
                    f'an opening and {what} are both called "{shared}", so that a path to it could go to either; '
                    "give one of them another name"
                )


def _openings(project: "Project") -> None:
    site = project.site
    bones = project.structure
    groups = (site.buildings, site.fences, bones.ground_areas, bones.supports)  # a gate may stand in the edge of a deck
    known = [thing.name for group in groups for thing in group]
    for opening in project.site.openings:
        if opening.on and opening.on not in known:
            raise GardenError(
                f'{opening.kind} "{opening.name}" is in "{opening.on}", which is not on record'
                f"{nearest(opening.on, known)}; say which wall or fence it is in"
            )


def _against(project: "Project", structure: Structure) -> None:
    known = [*(b.name for b in project.site.buildings), *(f.name for f in project.site.fences)]
    for support in structure.supports:
        if support.against and support.against not in known:
            raise GardenError(
                f'support "{support.name}" is fixed to "{support.against}", which is not on record'
                f"{nearest(support.against, known)}; choose another wall or fence"
            )


def _levels(structure: Structure) -> None:
    known = [ground_area.name for ground_area in structure.ground_areas]
    for level in structure.levels:
        if level.of and level.of not in known:
            raise GardenError(
                f'level "{level.name}" is of "{level.of}", which is no paved or lawn area{nearest(level.of, known)}; '
                "choose another, or give it an outline of its own"
            )


def _ends(project: "Project", structure: Structure, whose: str) -> None:
    """Raise GardenError for a path that begins or ends at no door, gate, seat, area, placed thing or other path."""
    groups = (
        project.site.doors_and_gates(),
        structure.seats,
        structure.ground_areas,
        structure.things,
        structure.paths,
    )
    places = [thing.name for group in groups for thing in group]
    for path in structure.paths:
        known = [name for name in places if name != path.name]
        for does, name in (("starts at", path.start), ("ends at", path.end)):
            if name not in known:
                raise GardenError(
                    f'path "{path.name}"{whose} {does} "{name}", which is no door, gate, seat, area or other path of '
                    f"this garden{nearest(name, known)}; let it go elsewhere, or put that on record first"
                )


def _named_rules(project: "Project") -> None:
    """Refuse the name of a rule that is in no table: a file from elsewhere may bear any."""
    for bones in (project.structure, *(kept.structure for kept in project.alternatives)):
        post_rule(bones.post_rule)
        for bond in {
            *(path.bond for path in bones.paths),
            *(ground_area.bond for ground_area in bones.ground_areas),
        } - {""}:
            bond_kind(bond)
        for path in bones.paths:
            if path.line not in PATH_LINES:
                raise GardenError(
                    f'path "{path.name}" cannot run in "{path.line}"{nearest(path.line, PATH_LINES)}; '
                    f"lines are {', '.join(PATH_LINES)}"
                )
            wrong = next((turn for turn in path.round if turn.hand not in HANDS), None)
            if wrong is not None:
                raise GardenError(
                    f'path "{path.name}" cannot have "{wrong.what}" on its "{wrong.hand}" hand; hands are left and '
                    "right, or neither for the nearer"
                )


def _outlined(project: "Project") -> None:
    trees = {tree.name for tree in project.site.trees}
    for photo in project.site.photos:
        for one in photo.in_front:
            if len(one.ring) < 3:
                raise GardenError(f'an outline on photo "{photo.name}" has under three corners; outline it again')
            if one.of and one.of not in trees:
                raise GardenError(
                    f'photo "{photo.name}" has an outline of "{one.of}", which is no tree on record'
                    f"{nearest(one.of, trees)}; outline it again"
                )


def _plants(project: "Project") -> None:
    by = project.planting.light_by
    if by not in LIGHT_BY:
        raise GardenError(f'places cannot be judged by "{by}"{nearest(by, LIGHT_BY)}; use {" or ".join(LIGHT_BY)}')
    supports = {s.name for s in project.structure.supports}
    numbers = Counter(p.number for p in project.planting.plants)
    twice = [number for number, count in numbers.items() if count > 1]
    if twice:
        raise GardenError(f"two plants have the number {twice[0]}; give one of them another")
    for crop in project.planting.crops:
        crop_kind(crop.species)
    for plant in project.planting.plants:
        if plant.support and plant.support not in supports:
            raise GardenError(
                f'plant {plant.number} ({plant.species}) grows on "{plant.support}", which is no support'
                f"{nearest(plant.support, supports)}; choose another, or none"
            )
        if plant.until is not None and plant.until < plant.year:
            raise GardenError(
                f"plant {plant.number} ({plant.species}) is planted in year {plant.year} and taken out after year "
                f"{plant.until}; give a last year of {plant.year} or later, or none"
            )
