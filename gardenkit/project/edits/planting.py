"""Every change of the planting: plants added, moved, grouped, swapped, multiplied, locked and removed.

Plants keep their numbers for good. What would stand in the house, off the plot or on a path is refused in one sentence,
and so is a change of what is locked.
"""

import math
from collections.abc import Callable, Iterable, Sequence

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point, Region
from gardenkit.geometry.rows import on_a_line, spread_evenly
from gardenkit.planting import hand
from gardenkit.planting.divisions import divided_in
from gardenkit.planting.planting import Plant, Planting
from gardenkit.planting.spacing import spacing_for
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.edits.crops import add_crop, change_crop, remove_crop, rotate_crops
from gardenkit.project.edits.ground import is_on_ground
from gardenkit.project.edits.palette import (
    add_to_palette,
    judge_light_by,
    keep_kind,
    release_kind,
    remove_from_palette,
    set_first_year,
    set_palette,
    set_price,
)
from gardenkit.project.edits.records import free_name
from gardenkit.project.edits.rooting import free_place, trodden_at
from gardenkit.project.layout import layout
from gardenkit.project.plant_choice import bed_called
from gardenkit.units import show_length

__all__ = [
    "add_crop",
    "add_to_palette",
    "change_crop",
    "judge_light_by",
    "keep_kind",
    "release_kind",
    "remove_crop",
    "remove_from_palette",
    "rotate_crops",
    "set_first_year",
    "set_palette",
    "set_price",
]  # of files of their own
LEAST_AXIS = 0.01  # m between two places that make a line, and from a plant to its mirrored one. House value.

# ---- plants


def add_plants(
    project: Project, species: Species, at: Sequence[Point], *, year: int = 0, support: str = "", by_hand: bool = True
) -> Project:
    """Plant one more of a kind at each place, in ``year`` after the first season, on a support when it is named."""
    if support:
        _support(project, support)
    places = [free_place(project, place, species.botanical, on_support=bool(support)) for place in at]
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
    place = free_place(project, to, f"plant {number} ({plant.species})", on_support=bool(plant.support))
    return _planting(project, lambda p: hand.move(p, number, place))


def move_plants(project: Project, numbers: Iterable[int], *, by: Point) -> Project:
    """Move several plants together by (right, up) in metres; refused where one of them is locked or could not stand."""
    several = _chosen(project, numbers)
    return _put(project, {p.number: (p.at[0] + by[0], p.at[1] + by[1]) for p in several})


def move_group(project: Project, number: int, *, to: Point) -> Project:
    """Move one plant to a place, and all of its group by as much. Raises GardenError as moving each of them does."""
    plant = hand.plant_of(project.planting, number)
    together = [p.number for p in project.planting.plants if p.group == plant.group] if plant.group else [number]
    return move_plants(project, together, by=(to[0] - plant.at[0], to[1] - plant.at[1]))


def group_plants(project: Project, numbers: Iterable[int]) -> Project:
    """Make several plants one group, to be chosen and moved together; they leave the groups they were in."""
    chosen = {p.number for p in _chosen(project, numbers, least=2)}
    name = free_name("group", [p.group for p in project.planting.plants if p.group])
    return _planting(project, lambda p: _grouped(p, chosen, name))


def ungroup_plants(project: Project, numbers: Iterable[int]) -> Project:
    """Take the groups apart that some plants are of. Raises GardenError where none of them is in one."""
    groups = {p.group for p in _chosen(project, numbers)} - {""}
    if not groups:
        raise GardenError("none of the plants chosen is in a group; choose one that is")
    members = {p.number for p in project.planting.plants if p.group in groups}
    return _planting(project, lambda p: _grouped(p, members, ""))


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
        at = free_place(
            project, (plant.at[0] + by[0], plant.at[1] + by[1]), f"a copy of plant {plant.number}", on_support=False
        )
        name, year = plant.species, plant.year
        project = _planting(project, lambda p, n=name, y=year, a=at: hand.add(p, n, [a], year=y, by_hand=True))  # type: ignore[misc]
    return project


def mirror_plants(project: Project, numbers: Iterable[int], *, axis: tuple[Point, Point]) -> Project:
    """Plant one more of each of several plants, mirrored over the line through two places (metres); the newest numbers
    are the mirrored ones. What stands on the line itself has none.

    Raises GardenError for two places that are one, and where one of them could not stand.
    """
    (x, y), (to_x, to_y) = axis
    long = math.hypot(to_x - x, to_y - y)
    if long < LEAST_AXIS:
        raise GardenError("the two places of a line to mirror over are the same; give two that lie apart")
    along = ((to_x - x) / long, (to_y - y) / long)
    for plant in _chosen(project, numbers):
        off = along[0] * (plant.at[1] - y) - along[1] * (plant.at[0] - x)
        if abs(off) >= LEAST_AXIS:
            by = (2 * off * along[1], -2 * off * along[0])
            project = duplicate_plants(project, [plant.number], by=by)
    return project


def copy_plants_to_bed(project: Project, numbers: Iterable[int], bed: str) -> Project:
    """Plant one more of each of several plants in a bed, as they stand to one another, about the middle of the bed.

    Raises GardenError where one of them would stand outside the bed.
    """
    shape, several = bed_called(layout(project), bed), _chosen(project, numbers)
    xs, ys = [p.at[0] for p in several], [p.at[1] for p in several]
    by = (shape.at[0] - (min(xs) + max(xs)) / 2, shape.at[1] - (min(ys) + max(ys)) / 2)
    for plant in several:
        if not plane.contains(shape.region, (plant.at[0] + by[0], plant.at[1] + by[1])):
            raise GardenError(
                f'a copy of plant {plant.number} ({plant.species}) would stand outside bed "{bed}"; '
                "choose fewer plants, or a larger bed"
            )
    return duplicate_plants(project, [p.number for p in several], by=by)


def fill_drift(project: Project, outline: Line, species: Species, *, spacing: float | None = None) -> Project:
    """Fill a drift drawn by its outline (metres) with one kind, ``spacing`` metres apart (None: the catalogue's).

    Only the part of it that lies in beds is planted. Raises GardenError where none of it does, or nothing fits.
    """
    beds = plane.union([bed.region for bed in layout(project).beds])
    region = plane.intersection(plane.region(outline), beds)
    if region.is_empty:
        raise GardenError("the drift lies in no bed; draw it where there is a bed to plant")
    places = [plant.at for plant in hand.fill_bed(region, species, spacing, "staggered")]
    if not places:
        apart = show_length(spacing_for(species, spacing), project.units)
        raise GardenError(f"not one {species.botanical} fits in the drift {apart} apart; draw it larger")
    return add_plants(project, species, places)


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


def set_plant_years(project: Project, numbers: Iterable[int] | int, *, year: int, until: int | None) -> Project:
    """Set when plants come in and the last year in which they stand (None: they stay), both after the first season.

    Raises GardenError for a locked plant and a last year before the first.
    """
    return _planting(project, lambda p: hand.set_years(p, numbers, year=year, until=until))


def multiply_plant(project: Project, number: int, copies: int, *, spacing: float, bed: Region | None = None) -> Project:
    """Plant ``copies`` more of one plant round it, ``spacing`` metres apart, inside its bed when that is given.

    No copy is put in a building, off the plot or on a path; GardenError says how many fit when fewer do.
    """

    def may_stand(at: Point) -> bool:
        return is_on_ground(project.site, at) and trodden_at(project, at) is None

    return _planting(project, lambda p: hand.multiply(p, number, copies, spacing=spacing, bed=bed, may_stand=may_stand))


def plant_divisions(project: Project, species: Species, at: Sequence[Point], *, year: int) -> Project:
    """Plant parts of the plants of a kind that are divided in a ``year`` after the first season, one at each place
    (metres); they are not bought. Raises GardenError where dividing gives fewer then, and where one could not stand.
    """
    of_kind = [plant for plant in project.planting.plants if plant.species == species.botanical]
    free = divided_in(species, of_kind, year).free
    if len(at) > free:
        raise GardenError(
            f"{len(at)} parts of {species.botanical} are to be planted in year {year}, and dividing leaves {free} free "
            "then; plant fewer, or in a year in which more is divided"
        )
    grown = add_plants(project, species, at, year=year)
    new = range(project.planting.last_number + 1, grown.planting.last_number + 1)
    return _planting(grown, lambda p: hand.as_divisions(p, new, year=year))


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


# ---- helpers


def _chosen(project: Project, numbers: Iterable[int], *, least: int = 1) -> list[Plant]:
    """Return the plants of several numbers. Raises GardenError for fewer than are needed, or a number not given."""
    several = [hand.plant_of(project.planting, number) for number in dict.fromkeys(numbers)]
    if len(several) < least:
        raise GardenError(f"{len(several)} plants are chosen, and it takes {least}; choose more of them")
    return several


def _grouped(planting: Planting, numbers: Iterable[int], name: str) -> Planting:
    chosen = set(numbers)
    plants = (attrs.evolve(p, group=name) if p.number in chosen else p for p in planting.plants)
    return attrs.evolve(planting, plants=tuple(plants))


def _put(project: Project, places: dict[int, Point]) -> Project:
    for number, at in places.items():
        project = move_plant(project, number, to=at)
    return project


def _planting(project: Project, change: Callable[[Planting], Planting]) -> Project:
    return attrs.evolve(project, planting=change(project.planting))


def _kinds(project: Project) -> list[str]:
    return sorted({p.species for p in project.planting.plants})


def _support(project: Project, name: str) -> None:
    known = [s.name for s in project.structure.supports]
    if name not in known:
        raise GardenError(f'there is no support "{name}"{nearest(name, known)}; put it up first')
