"""Every change of the planting: plants added, moved, swapped, multiplied, locked, removed; palette, favourites, prices.

Plants keep their numbers for good. What would stand in the house, off the plot or on a path is refused in one sentence,
and so is a change of what is locked.
"""

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.geometry.rows import on_a_line, spread_evenly
from gardenkit.planting import hand
from gardenkit.planting.planting import Plant, Planting, Price
from gardenkit.planting.spacing import spacing_for
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground, is_on_ground
from gardenkit.project.layout import Layout, layout
from gardenkit.project.plant_choice import bed_called
from gardenkit.units import show_length

# ---- plants


def add_plants(
    project: Project, species: Species, at: Sequence[Point], *, year: int = 0, support: str = "", by_hand: bool = True
) -> Project:
    """Plant one more of a kind at each place, in ``year`` after the first season, on a support when it is named."""
    if support:
        _support(project, support)
    places = [_free(project, place, species.botanical, on_support=bool(support)) for place in at]
    return _planting(
        project,
        lambda p: hand.add(p, species.botanical, places, year=year, support=support, by_hand=by_hand),
    )


def add_to_bed(project: Project, bed: str, species: Species) -> Project:
    """Plant one of a kind in the widest place of a bed."""
    return add_plants(project, species, [bed_called(layout(project), bed).at])


def fill_bed(
    project: Project,
    bed: str,
    species: Species,
    *,
    spacing: float | None = None,
    pattern: str = "staggered",
    by_hand: bool = True,
) -> Project:
    """Fill a bed with one kind, ``spacing`` metres apart (None: the catalogue's), in a pattern of ``spacing.place_in``.

    Raises GardenError for a spacing that is none, and when not one fits.
    """
    region = bed_called(layout(project), bed).region
    places = [plant.at for plant in hand.fill_bed(region, species, spacing, pattern, bed=bed)]
    if not places:
        apart = show_length(spacing_for(species, spacing), project.units)
        raise GardenError(
            f'not one {species.botanical} fits in bed "{bed}" {apart} apart; '
            "draw a larger bed, or give a smaller spacing"
        )
    return add_plants(project, species, places, by_hand=by_hand)


def move_plant(project: Project, number: int, *, to: Point) -> Project:
    """Move one plant. Raises GardenError for a locked plant and a place in the house, off the plot or on a path."""
    plant = hand.plant_of(project.planting, number)
    place = _free(project, to, f"plant {number} ({plant.species})", on_support=bool(plant.support))
    return _planting(project, lambda p: hand.move(p, number, place))


def move_plants(project: Project, numbers: Iterable[int], *, by: Point) -> Project:
    """Move several plants together by (right, up) in metres; refused where one of them is locked or could not stand."""
    several = _chosen(project, numbers)
    return _put(project, {p.number: (p.at[0] + by[0], p.at[1] + by[1]) for p in several})


def align_plants(project: Project, numbers: Iterable[int]) -> Project:
    """Put several plants onto the straight line between the two of them that are furthest apart."""
    several = _chosen(project, numbers, least=3)
    return _put(project, dict(zip((p.number for p in several), on_a_line([p.at for p in several]), strict=True)))


def spread_plants(project: Project, numbers: Iterable[int]) -> Project:
    """Put several plants at even distances along the line between the two of them that are furthest apart."""
    several = _chosen(project, numbers, least=3)
    return _put(project, dict(zip((p.number for p in several), spread_evenly([p.at for p in several]), strict=True)))


def duplicate_plants(project: Project, numbers: Iterable[int], *, by: Point) -> Project:
    """Plant one more of each of several plants, (right, up) in metres off it, in the same year; the newest numbers are
    the copies, in the order of the plants.
    """
    for plant in _chosen(project, numbers):
        at = _free(
            project, (plant.at[0] + by[0], plant.at[1] + by[1]), f"a copy of plant {plant.number}", on_support=False
        )
        name, year = plant.species, plant.year
        project = _planting(project, lambda p, n=name, y=year, a=at: hand.add(p, n, [a], year=y, by_hand=True))  # type: ignore[misc]
    return project


def swap_plants(project: Project, numbers: Iterable[int] | int, species: Species | str) -> Project:
    """Put another kind, or one by its botanical name, in the place of each plant; numbers and supports stay."""
    name = species if isinstance(species, str) else species.botanical
    return _planting(project, lambda p: hand.swap(p, numbers, name))


def swap_kind(project: Project, old: str, species: Species) -> Project:
    """Put another kind in the place of every plant of a kind. Raises GardenError when none is there, or all are locked.

    Locked plants keep their kind.
    """
    of_kind = [p for p in project.planting.plants if p.species == old]
    if not of_kind:
        raise GardenError(f"there is no {old} in the garden to swap{nearest(old, _kinds(project))}")
    free = [p.number for p in of_kind if not p.locked]
    if not free:
        numbers = ", ".join(str(p.number) for p in of_kind)
        raise GardenError(f"every {old} is locked (plants {numbers}); unlock them first to swap them")
    return swap_plants(project, free, species)


def remove_plants(project: Project, numbers: Iterable[int] | int) -> Project:
    """Take plants out; their numbers are not given again. Locked ones raise GardenError."""
    return _planting(project, lambda p: hand.remove(p, numbers))


def lock_plants(project: Project, numbers: Iterable[int] | int, *, locked: bool = True) -> Project:
    """Lock plants where they stand, or unlock them."""
    return _planting(project, lambda p: hand.lock(p, numbers, locked=locked))


def multiply_plant(project: Project, number: int, copies: int, *, spacing: float, bed: Region | None = None) -> Project:
    """Plant ``copies`` more of one plant round it, ``spacing`` metres apart, inside its bed when that is given.

    No copy is put in a building, off the plot or on a path; GardenError says how many fit when fewer do.
    """
    trodden = _trodden(project)

    def may_stand(at: Point) -> bool:
        return is_on_ground(project.site, at) and not any(plane.contains(region, at) for _, region in trodden)

    return _planting(project, lambda p: hand.multiply(p, number, copies, spacing=spacing, bed=bed, may_stand=may_stand))


def accept_plants(project: Project, proposed: Iterable[Plant]) -> Project:
    """Take proposed plants over; what stands there already is never changed."""
    return _planting(project, lambda p: hand.accept(p, proposed))


def use_arrangement(project: Project, plants: Sequence[Plant], *, last_number: int = 0) -> Project:
    """Let an arrangement be the planting: all its plants, what was kept among them. Numbers above ``last_number`` stay
    free.
    """
    numbers = (last_number, project.planting.last_number, *(p.number for p in plants))
    return _planting(project, lambda p: attrs.evolve(p, plants=tuple(plants), last_number=max(numbers)))


def clear_plants(project: Project) -> Project:
    """Take out every plant that is neither locked nor put by hand."""
    return _planting(project, hand.cleared)


# ---- palette and prices


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


def set_first_year(project: Project, year: int) -> Project:
    """Set the calendar year of the first planting season."""
    return _planting(project, lambda p: attrs.evolve(p, first_year=year))


# ---- helpers


def _chosen(project: Project, numbers: Iterable[int], *, least: int = 1) -> list[Plant]:
    """Return the plants of several numbers. Raises GardenError for fewer than are needed, or a number not given."""
    several = [hand.plant_of(project.planting, number) for number in dict.fromkeys(numbers)]
    if len(several) < least:
        raise GardenError(f"{len(several)} plants are chosen, and it takes {least}; choose more of them")
    return several


def _put(project: Project, places: dict[int, Point]) -> Project:
    for number, at in places.items():
        project = move_plant(project, number, to=at)
    return project


def _planting(project: Project, change: Callable[[Planting], Planting]) -> Project:
    return attrs.evolve(project, planting=change(project.planting))


def _free(project: Project, at: Point, what: str, *, on_support: bool) -> Point:
    """Return a place where a plant may stand. Raises GardenError in a building, off the plot or on a path.

    What grows on an arch may stand beside its posts in the path.
    """
    place = check_on_ground(project.site, at, what, units=project.units)
    if on_support:
        return place
    for name, region in _trodden(project):
        if plane.contains(region, place):
            raise GardenError(f'{what} would stand on path "{name}"; put it beside the path')
    return place


def _trodden(project: Project) -> tuple[tuple[str, Region], ...]:
    """Return the ground that feet need, by path: its stones where it has some, else all of it."""
    if not project.site.boundary:
        return ()
    return _underfoot(layout(project))


@lru_cache(maxsize=8)
def _underfoot(worked: Layout) -> tuple[tuple[str, Region], ...]:
    found: list[tuple[str, Region]] = []
    for name, region in worked.surfaces.items():
        stones = worked.layings[name].stones
        found += [(name, plane.region(stone.outline)) for stone in stones] or [(name, region)]
    return tuple(found)


def _kinds(project: Project) -> list[str]:
    return sorted({p.species for p in project.planting.plants})


def _support(project: Project, name: str) -> None:
    known = [s.name for s in project.structure.supports]
    if name not in known:
        raise GardenError(f'there is no support "{name}"{nearest(name, known)}; put it up first')
