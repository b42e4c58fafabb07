"""The kinds accepted for the garden, its favourites, what each costs, and the year in which planting begins."""

from collections.abc import Callable, Iterable

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.planting.planting import Planting, Price
from gardenkit.project import Project


def set_palette(project: Project, names: Iterable[str]) -> Project:
    """Set the kinds accepted for the garden; favourites that are no longer in it are let go of."""
    palette = tuple(dict.fromkeys(names))
    kept = tuple(name for name in project.planting.favourites if name in palette)
    return _planting(project, lambda p: attrs.evolve(p, palette=palette, favourites=kept))


def add_to_palette(project: Project, name: str) -> Project:
    """Put one more kind into the palette. Raises GardenError when it is there already."""
    if name in project.planting.palette:
        raise GardenError(f"{name} is in the palette already")
    return _planting(project, lambda p: attrs.evolve(p, palette=(*p.palette, name)))


def remove_from_palette(project: Project, name: str) -> Project:
    """Take a kind out of the palette; plants of it that stand already stay."""
    if name not in project.planting.palette:
        raise GardenError(f"{name} is not in the palette{nearest(name, project.planting.palette)}")
    return set_palette(project, [n for n in project.planting.palette if n != name])


def keep_kind(project: Project, name: str) -> Project:
    """Make a kind a favourite, which every new palette keeps."""
    if name in project.planting.favourites:
        raise GardenError(f"{name} is a favourite already")
    return _planting(project, lambda p: attrs.evolve(p, favourites=(*p.favourites, name)))


def release_kind(project: Project, name: str) -> Project:
    """Let a favourite go."""
    if name not in project.planting.favourites:
        raise GardenError(f"{name} is no favourite{nearest(name, project.planting.favourites)}")
    return _planting(project, lambda p: attrs.evolve(p, favourites=tuple(n for n in p.favourites if n != name)))


def set_price(project: Project, name: str, each: float | None) -> Project:
    """Set what the nursery asks for one plant of a kind, or go back to our default (None)."""
    if each is not None and each < 0:
        raise GardenError(f"the price of {name} is {each:g}; give an amount of 0 or more")
    kept = tuple(p for p in project.planting.prices if p.species != name)
    prices = kept if each is None else (*kept, Price(species=name, each=each))
    return _planting(project, lambda p: attrs.evolve(p, prices=prices))


def judge_light_by(project: Project, by: str) -> Project:
    """Set what places are judged by for plants: one of ``planting.LIGHT_BY``."""
    return _planting(project, lambda p: attrs.evolve(p, light_by=by))


def set_first_year(project: Project, year: int) -> Project:
    """Set the calendar year of the first planting season."""
    return _planting(project, lambda p: attrs.evolve(p, first_year=year))


# ---- helpers


def _planting(project: Project, change: Callable[[Planting], Planting]) -> Project:
    return attrs.evolve(project, planting=change(project.planting))
