"""Paths added, renamed, changed, pinned and removed, and their stones laid, moved and turned."""

from collections.abc import Callable, Sequence
from typing import Any, Literal

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground
from gardenkit.project.edits.records import by_name, new_name, put, without
from gardenkit.project.edits.structure.cut_stones import move_cut_stone, turn_cut_stone
from gardenkit.project.edits.structure.shared import (
    path_ends,
    place_names,
    refuse_if_an_end,
    renamed_everywhere,
    replaced,
    spot,
    with_bones,
)
from gardenkit.project.layout import layout
from gardenkit.project.styled import built_of, usual_curvature, usual_surface
from gardenkit.structure.cut_stones import cut_index
from gardenkit.structure.kinds import surface_kind
from gardenkit.structure.stone_sizes import USUAL_PAIRS, USUAL_SPREAD
from gardenkit.structure.structure import HeldPoint, HeldStone, PalletStone, Path, PathLine, StoneChoice
from gardenkit.units import show_length

PIN_AT = (0.2, 0.4, 0.6, 0.8)  # shares along a path where it is pinned. House value.
THICK = (0.01, 0.3)  # m: stone for a path, half an inch to a foot. House value.
NARROWEST = 0.15  # m: less is not a path. House value.


def places(project: Project) -> tuple[str, ...]:
    """Return the names a path may go between: gates and doors, seats, paved or lawn areas."""
    return place_names(project)


def add_path(project: Project, name: str, *, start: str, end: str, **more: Any) -> Project:
    """Return the project with a path between two places, or from a place to another path; ``more``: fields of Path.

    Where nobody says, it bends and is made as the style has it, in fair curves, with stones of natural sizes.
    """
    called = new_name(name, path_ends(project), "path")
    if not start or not end or start == end:
        raise GardenError("a path needs two different places; choose where it starts and where it ends")
    style = project.brief.style
    usual: dict[str, Any] = {"curvature": usual_curvature(style), "line": "fair curves", "sway": 1}
    usual["stones"] = StoneChoice(spread=float(USUAL_SPREAD), pairs=float(USUAL_PAIRS))
    usual |= {"surface": surface} if (surface := usual_surface(style, built_of(project.structure))) else {}
    path = _sound(project, Path(name=called, start=start, end=end, **(usual | more)))
    return with_bones(project, paths=(*project.structure.paths, path))


def remove_path(project: Project, name: str) -> Project:
    """Return the project without a path; refused while another path joins it."""
    by_name(project.structure.paths, name, "path")
    refuse_if_an_end(project, name)
    return with_bones(project, paths=without(project.structure.paths, name))


def rename_path(project: Project, name: str, *, to: str) -> Project:
    """Return the project with a path renamed; paths that join it follow."""
    by_name(project.structure.paths, name, "path")
    if " ".join(to.split()) == name:
        return project
    return renamed_everywhere(project, "paths", name, new_name(to, path_ends(project), "path"))


def change_path(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with fields of a path changed (width, curvature, surface, use ...)."""
    return _changed(project, name, lambda path: attrs.evolve(path, **changes))


def lay_stones(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with the stones of a path laid by other figures; a least gap above the greatest takes the
    greatest along, and the other way round.
    """

    def change(path: Path) -> Path:
        stones = attrs.evolve(path.stones, **changes)
        if stones.gap_low > stones.gap_high:
            both = stones.gap_low if "gap_low" in changes else stones.gap_high
            stones = attrs.evolve(stones, gap_low=both, gap_high=both)
        return attrs.evolve(path, stones=stones)

    return _changed(project, name, change)


def shuffle_stones(project: Project, name: str) -> Project:
    """Return the project with the stones of a path shuffled, laid by the same rules."""
    return _changed(
        project, name, lambda path: attrs.evolve(path, stones=attrs.evolve(path.stones, seed=path.stones.seed + 1))
    )


def set_pallet(project: Project, name: str, stones: Sequence[tuple[int, float, float]]) -> Project:
    """Return the project with a path laid from measured stones, each (how many, metres over, metres along the path);
    none: by the usual rules again.
    """
    pallet = tuple(PalletStone(count=count, across=over, along=along) for count, over, along in stones)
    return lay_stones(project, name, pallet=pallet)


def use_route(
    project: Project,
    name: str,
    *,
    curvature: float,
    sway: int,
    first_side: Literal["left", "right"],
    line: PathLine | None = None,
) -> Project:
    """Return the project with a path run as one of the route options does, which swing round nothing named; without a
    ``line`` it keeps its own.
    """
    kept = line or by_name(project.structure.paths, name, "path").line
    return change_path(project, name, curvature=curvature, sway=sway, first_side=first_side, line=kept, round=())


# ---- pinned points and stones


def pin_path(project: Project, name: str) -> Project:
    """Return the project with a path pinned as it runs now, so that no slider moves it."""
    route = layout(project).routes.get(by_name(project.structure.paths, name, "path").name)
    if route is None:
        raise GardenError(f'path "{name}" does not run anywhere, so there is nothing to pin')
    points = (route.curve.at(share * route.length)[0] for share in PIN_AT)
    held = tuple(HeldPoint(at=spot((float(x), float(y)))) for x, y in points)
    return change_path(project, name, held=held)


def pin_stones(project: Project, name: str) -> Project:
    """Return the project with every stepping stone of a path pinned where it lies."""
    path = by_name(project.structure.paths, name, "path")
    laid = layout(project).layings.get(name)
    if laid is None or not laid.stones or surface_kind(path.surface).stone != "single":
        raise GardenError(f'path "{name}" has no stepping stones to pin; choose that surface first')
    own = {h.number: h for h in path.held_stones}
    rest = laid.stones[: len(laid.stones) - len(path.cut_stones)]
    held = tuple(own.get(s.number, HeldStone(number=s.number, at=spot(s.at))) for s in rest)
    return change_path(project, name, held_stones=held)


def unpin(project: Project, name: str) -> Project:
    """Return the project with a path and its stones running by the sliders again."""
    return change_path(project, name, held=(), held_stones=())


def unpin_point(project: Project, name: str, index: int) -> Project:
    """Return the project with one pinned point of a path unpinned."""
    return _changed(
        project, name, lambda path: attrs.evolve(path, held=tuple(p for i, p in enumerate(path.held) if i != index))
    )


def unpin_stone(project: Project, name: str, number: int) -> Project:
    """Return the project with one pinned stone of a path unpinned."""

    def change(path: Path) -> Path:
        return attrs.evolve(path, held_stones=tuple(h for h in path.held_stones if h.number != number))

    return _changed(project, name, change)


def move_point(project: Project, name: str, index: int, *, to: Point) -> Project:
    """Return the project with a pinned point of a path put elsewhere."""
    path = by_name(project.structure.paths, name, "path")
    line = replaced(tuple(p.at for p in path.held), index, to, f'path "{name}"')
    return change_path(project, name, held=tuple(HeldPoint(at=at) for at in line))


def add_point(project: Project, name: str, *, at: Point) -> Project:
    """Return the project with a path pinned at another point, between the pinned points that it lies between."""
    path, route = by_name(project.structure.paths, name, "path"), layout(project).routes.get(name)
    if route is None:
        raise GardenError(f'path "{name}" does not run anywhere, so no point of it can be pinned')
    curve = route.curve

    def along(point: Point) -> float:
        return float(curve.along[int(((curve.points - point) ** 2).sum(axis=1).argmin())])

    order = sum(along(held.at) < along(at) for held in path.held)
    held = (*path.held[:order], HeldPoint(at=spot(at)), *path.held[order:])
    return change_path(project, name, held=held)


def move_stone(project: Project, name: str, number: int, *, to: Point) -> Project:
    """Return the project with a stone (0 first along the path) put by hand and pinned there. Raises GardenError for a
    place off the plot or in a building.
    """
    to = check_on_ground(project.site, to, f"stone {number + 1} of {name}", units=project.units)
    cut = _cut(project, name, number)
    if cut is not None:
        return move_cut_stone(project, cut, to=to)
    turn = next((h.turn for h in by_name(project.structure.paths, name, "path").held_stones if h.number == number), 0.0)
    return _with_stone(project, name, HeldStone(number=number, at=spot(to), turn=turn))


def turn_stone(project: Project, name: str, number: int, *, degrees: float) -> Project:
    """Return the project with a stone turned clockwise by hand and pinned there."""
    laid = layout(project).layings.get(name)
    stone = next((s for s in laid.stones if s.number == number), None) if laid is not None else None
    if stone is None:
        raise GardenError(f'path "{name}" has no stone {number + 1}')
    cut = _cut(project, name, number)
    if cut is not None:
        return turn_cut_stone(project, cut, degrees=degrees)
    return _with_stone(project, name, HeldStone(number=number, at=spot(stone.at), turn=degrees))


# ---- helpers


def _cut(project: Project, name: str, number: int) -> str | None:
    """Return the name of the stone of its own outline that has a number in a path; None for any other stone."""
    path, laid = by_name(project.structure.paths, name, "path"), layout(project).layings.get(name)
    index = None if laid is None else cut_index(laid, path, number)
    return None if index is None else path.cut_stones[index].name


def _with_stone(project: Project, name: str, stone: HeldStone) -> Project:
    def change(path: Path) -> Path:
        kept = tuple(h for h in path.held_stones if h.number != stone.number)
        return attrs.evolve(path, held_stones=(*kept, stone))

    return _changed(project, name, change)


def _changed(project: Project, name: str, change: Callable[[Path], Path]) -> Project:
    old = by_name(project.structure.paths, name, "path")
    return with_bones(project, paths=put(project.structure.paths, name, _sound(project, change(old))))


def _sound(project: Project, path: Path) -> Path:
    """Return a path whose figures can be. Raises GardenError for the first that cannot."""
    units, stones = project.units, path.stones
    surface_kind(path.surface)
    if path.width < NARROWEST:
        raise GardenError(f'path "{path.name}" would be {show_length(path.width, units)} wide; give it some width')
    if path.clear_of_walls < 0:
        raise GardenError(f'path "{path.name}" cannot keep less than nothing off walls; give 0 or more')
    if not THICK[0] <= stones.thickness <= THICK[1]:
        thick = show_length(stones.thickness, units, small=True)
        raise GardenError(f"stone {thick} thick is not for a path; give half an inch to a foot")
    if min(stones.gap_low, stones.pace, stones.across) < 0 or stones == attrs.evolve(StoneChoice(), across=0.0):
        raise GardenError(f'stones of path "{path.name}" need sizes and gaps of 0 or more')
    return path
