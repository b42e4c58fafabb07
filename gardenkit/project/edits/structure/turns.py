"""Paths made to swing round something, on another hand, and let go again."""

from typing import Any

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name, put
from gardenkit.project.edits.structure.shared import with_bones
from gardenkit.project.references import HANDS
from gardenkit.project.turn_places import turn_names
from gardenkit.structure.structure import Hand, Path, Turn


def turns_for(project: Project, name: str) -> tuple[str, ...]:
    """Return the names of what a path may swing round; none of its ends."""
    path = next((p for p in project.structure.paths if p.name == name), None)
    ends = (path.start, path.end) if path is not None else ()
    return tuple(one for one in turn_names(project.site, project.structure) if one not in ends)


def add_turn(project: Project, name: str, what: str, *, hand: Hand = "") -> Project:
    """Return the project with a path that swings round one thing more, which one has on the ``hand`` (empty: either,
    the nearer), after those that it swings round already.
    """
    path = by_name(project.structure.paths, name, "path")
    return _with(project, path, (*path.round, Turn(what=what, hand=hand)))


def change_turn(project: Project, name: str, index: int, **changes: Any) -> Project:
    """Return the project with a path that swings round something else, or has it on the other hand (0 the first)."""
    path = by_name(project.structure.paths, name, "path")
    old = _at(path, index)
    return _with(project, path, tuple(attrs.evolve(t, **changes) if t is old else t for t in path.round))


def remove_turn(project: Project, name: str, index: int) -> Project:
    """Return the project with a path that swings round one thing less (0 the first)."""
    path = by_name(project.structure.paths, name, "path")
    old = _at(path, index)
    kept = tuple(t for t in path.round if t is not old)
    return with_bones(project, paths=put(project.structure.paths, name, attrs.evolve(path, round=kept)))


# ---- helpers


def _at(path: Path, index: int) -> Turn:
    if not 0 <= index < len(path.round):
        has = f"it swings round {len(path.round)}" if path.round else "it swings round nothing"
        raise GardenError(f'path "{path.name}" has no turn {index + 1}; {has}')
    return path.round[index]


def _with(project: Project, path: Path, turns: tuple[Turn, ...]) -> Project:
    known = turn_names(project.site, project.structure)
    for number, turn in enumerate(turns):
        if turn.what not in known:
            raise GardenError(
                f'path "{path.name}" cannot swing round "{turn.what}": no tree, obstacle, placed thing, seat, area or '
                f"drawn bed is called so{nearest(turn.what, known)}"
            )
        if turn.what in (path.start, path.end):
            raise GardenError(f'path "{path.name}" goes to "{turn.what}"; let it swing round something on its way')
        if turn.hand not in HANDS:
            raise GardenError(f'"{turn.hand}" is no hand; choose left or right, or neither for the nearer')
        if turn.what in {before.what for before in turns[:number]}:
            raise GardenError(f'path "{path.name}" swings round "{turn.what}" already; change that instead')
    return with_bones(project, paths=put(project.structure.paths, path.name, attrs.evolve(path, round=turns)))
