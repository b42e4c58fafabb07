"""Stones of an outline of their own put into a path, moved, turned and taken out again."""

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Point
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_outline
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.edits.structure.shared import shifted, spot, with_bones
from gardenkit.project.layout import layout
from gardenkit.structure.kinds import surface_kind
from gardenkit.structure.structure import CutStone, Path

LAID = ("single", "field")  # surfaces that are made of stones


def add_cut_stone(project: Project, outline: Outline, *, name: str = "") -> Project:
    """Return the project with a stone of this outline in the path of stones that it lies on; the last is the new one.

    Raises GardenError where it lies on no such path.
    """
    corners = check_outline(project.site, outline, "a stone of its own outline", units=project.units)
    shape, worked = plane.region(corners), layout(project)
    paths = [p for p in project.structure.paths if p.name in worked.routes and surface_kind(p.surface).stone in LAID]
    on = max(paths, key=lambda p: plane.area(plane.intersection(worked.routes[p.name].region, shape)), default=None)
    if on is None or plane.distance(worked.routes[on.name].region, shape) > 0:
        raise GardenError("a stone of its own outline lies on no path of stones; draw it over one")
    known = [stone.name for path in project.structure.paths for stone in path.cut_stones]
    called = new_name(name, known, "stone") if name else free_name("cut stone", known)
    return _with(project, on, (*on.cut_stones, CutStone(name=called, outline=corners)))


def remove_cut_stone(project: Project, name: str) -> Project:
    """Return the project without a stone of its own outline; the stones it stood for are laid again."""
    path, _ = _of(project, name)
    return _with(project, path, without(path.cut_stones, name))


def move_cut_stone(project: Project, name: str, *, to: Point) -> Project:
    """Return the project with the middle of a stone of its own outline put elsewhere."""
    path, stone = _of(project, name)
    x, y = plane.centre(plane.region(stone.outline))
    return _put(project, path, attrs.evolve(stone, outline=shifted(stone.outline, (to[0] - x, to[1] - y))))


def turn_cut_stone(project: Project, name: str, *, degrees: float) -> Project:
    """Return the project with a stone of its own outline turned clockwise about its middle."""
    path, stone = _of(project, name)
    middle = plane.centre(plane.region(stone.outline))
    turned = plane.turned(stone.outline, degrees, middle)
    return _put(project, path, attrs.evolve(stone, outline=tuple(spot(p) for p in turned)))


# ---- helpers


def _of(project: Project, name: str) -> tuple[Path, CutStone]:
    every = [(path, stone) for path in project.structure.paths for stone in path.cut_stones]
    stone = by_name([stone for _, stone in every], name, "stone of its own outline")
    return next(path for path, one in every if one is stone), stone


def _put(project: Project, path: Path, stone: CutStone) -> Project:
    check_outline(project.site, stone.outline, f'stone "{stone.name}"', units=project.units)
    return _with(project, path, put(path.cut_stones, stone.name, stone))


def _with(project: Project, path: Path, stones: tuple[CutStone, ...]) -> Project:
    new = attrs.evolve(path, cut_stones=stones)
    return with_bones(project, paths=put(project.structure.paths, path.name, new))
