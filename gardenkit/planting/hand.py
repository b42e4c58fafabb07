"""The designer's own hand: plants added, moved, swapped, multiplied, locked, removed; a bed filled with one kind."""

import math
from collections.abc import Callable, Iterable, Sequence

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.planting.planting import Plant, Planting
from gardenkit.planting.spacing import place_in, row_pitch, spacing_for
from gardenkit.planting.species import Species

HAIR = 1e-6  # m: rounding, not nearness
MOST_COPIES = 500  # more at once is a slip of the finger. House value.


def next_number(planting: Planting) -> int:
    """Return the next plant number: above every one ever given, also to plants since removed."""
    return max(planting.last_number, *(p.number for p in planting.plants), 0) + 1


def add(
    planting: Planting,
    species: str,
    at: Sequence[Point],
    *,
    year: int = 0,
    support: str = "",
    by_hand: bool = False,
) -> Planting:
    """Return the planting with one more plant of a kind (botanical name) at each place, newly numbered."""
    first = next_number(planting)
    new = tuple(
        Plant(number=first + i, species=species, at=_place(place, species), year=year, support=support, by_hand=by_hand)
        for i, place in enumerate(at)
    )
    return _with(planting, (*planting.plants, *new))


def accept(planting: Planting, proposed: Iterable[Plant]) -> Planting:
    """Return the planting with proposed plants added; what stands there already is never changed.

    Proposed plants that are in the planting already, exactly alike, are left as they are; arrange with
    ``first_number=next_number(planting)``. Raises GardenError when one would change a plant or use a number again.
    """
    there = {p.number: p for p in planting.plants}
    new = []
    for plant in proposed:
        if there.get(plant.number) == plant:
            continue
        if plant.number in there or plant.number <= planting.last_number:
            raise GardenError(
                f"plant number {plant.number} was given before; arrange again, the planting has changed since"
            )
        there[plant.number] = plant
        new.append(plant)
    return _with(planting, (*planting.plants, *new))


def cleared(planting: Planting) -> Planting:
    """Return the planting with only what is locked or was put by hand, to arrange the rest anew."""
    return _with(planting, tuple(p for p in planting.plants if p.locked or p.by_hand))


def move(planting: Planting, number: int, to: Point) -> Planting:
    """Return the planting with one plant at another place. Raises GardenError for a locked or unknown plant."""
    plant = _free(planting, number, "moved")
    return _changed(planting, {number: attrs.evolve(plant, at=_place(to, plant.species), by_hand=True)})


def swap(planting: Planting, numbers: Iterable[int] | int, species: str) -> Planting:
    """Return the planting with another kind in the place of each plant; numbers stay, as they name the places.

    A support is kept; whether it holds the new kind is for the findings to say. Raises GardenError for a locked or
    unknown plant.
    """
    return _changed(
        planting,
        {
            n: attrs.evolve(_free(planting, n, "swapped"), species=species, by_hand=True, divided=False)
            for n in _several(numbers)
        },
    )


def remove(planting: Planting, numbers: Iterable[int] | int) -> Planting:
    """Return the planting without some plants; their numbers are not given again. Locked ones raise GardenError."""
    gone = {_free(planting, n, "removed").number for n in _several(numbers)}
    return _with(planting, tuple(p for p in planting.plants if p.number not in gone))


def lock(planting: Planting, numbers: Iterable[int] | int, *, locked: bool = True) -> Planting:
    """Return the planting with some plants locked, or unlocked with ``locked=False``."""
    return _changed(planting, {n: attrs.evolve(plant_of(planting, n), locked=locked) for n in _several(numbers)})


def set_years(planting: Planting, numbers: Iterable[int] | int, *, year: int, until: int | None) -> Planting:
    """Return the planting with the first and the last year of some plants set; ``until`` None: they stay. A division
    set in another year than its kind was divided in is one no more.

    Raises GardenError for a locked or unknown plant.
    """
    old = [_free(planting, n, "given other years") for n in _several(numbers)]
    return _changed(
        planting,
        {p.number: attrs.evolve(p, year=year, until=until, divided=p.divided and p.year == year) for p in old},
    )


def as_divisions(planting: Planting, numbers: Iterable[int], *, year: int, until: int | None = None) -> Planting:
    """Return the planting with some plants as parts of others, set in a year: they are not bought."""
    dated = set_years(planting, numbers, year=year, until=until)
    return _changed(dated, {n: attrs.evolve(plant_of(dated, n), divided=True) for n in numbers})


def multiply(
    planting: Planting,
    number: int,
    copies: int,
    *,
    spacing: float,
    bed: Region | None = None,
    may_stand: Callable[[Point], bool] | None = None,
) -> Planting:
    """Return the planting with ``copies`` more of one plant round it, staggered, ``spacing`` metres apart.

    The nearest places come first. The copies keep ``spacing`` from every plant of the kind and stay inside ``bed``,
    half a spacing from its edge, when it is given; places that ``may_stand`` refuses are passed over. Raises
    GardenError when fewer fit, saying how many do.
    """
    plant = plant_of(planting, number)
    if not 0 < copies <= MOST_COPIES:
        raise GardenError(f"plant {number} is to be multiplied by {copies}; give 1 to {MOST_COPIES} more plants")
    pitch = row_pitch(spacing, "staggered")
    inside = None if bed is None else plane.grown(bed, -(spacing / 2 - HAIR))
    alike = [p.at for p in planting.plants if p.species == plant.species]
    found: list[Point] = []
    rings = 2 + 2 * math.ceil(math.sqrt(copies + len(alike)))
    for at in _lattice(plant.at, spacing, pitch, rings):
        if len(found) == copies:
            break
        near = any(math.dist(at, other) < spacing - HAIR for other in (*alike, *found))
        if not near and (inside is None or plane.contains(inside, at)) and (may_stand is None or may_stand(at)):
            found.append(at)
    if len(found) < copies:
        raise GardenError(
            f"only {len(found)} of {copies} more {plant.species} fit {spacing:.2f} m apart beside plant {number}; "
            "ask for fewer, or a smaller spacing"
        )
    return add(planting, plant.species, found, year=plant.year, by_hand=True)


def fill_bed(
    region: Region,
    species: Species,
    spacing: float | None = None,
    pattern: str = "staggered",
    *,
    first_number: int = 1,
    year: int = 0,
    turn: float = 0.0,
    bed: str = "",
) -> tuple[Plant, ...]:
    """Return plants of one kind that fill a bed, half a spacing inside its edge, numbered from ``first_number``.

    ``spacing`` metres (None: the catalogue's); ``pattern`` and ``turn`` as in ``spacing.place_in``; empty when nothing
    fits. Raises GardenError for a spacing of 0.
    """
    apart = spacing_for(species, spacing, where=f'bed "{bed}"' if bed else "")
    return tuple(
        Plant(number=first_number + i, species=species.botanical, at=at, year=year)
        for i, at in enumerate(place_in(region, apart, pattern, turn=turn))
    )


def plant_of(planting: Planting, number: int) -> Plant:
    """Return the plant of a number; GardenError when there is none."""
    for plant in planting.plants:
        if plant.number == number:
            return plant
    gone = "it was removed" if 0 < number <= planting.last_number else "no such number was given"
    raise GardenError(f"there is no plant {number} ({gone}); pick a plant on the plan")


# ---- helpers


def _with(planting: Planting, plants: tuple[Plant, ...]) -> Planting:
    last = max(next_number(planting) - 1, *(p.number for p in plants), 0)
    return attrs.evolve(planting, plants=plants, last_number=last)


def _changed(planting: Planting, changed: dict[int, Plant]) -> Planting:
    return attrs.evolve(planting, plants=tuple(changed.get(p.number, p) for p in planting.plants))


def _free(planting: Planting, number: int, what: str) -> Plant:
    plant = plant_of(planting, number)
    if plant.locked:
        raise GardenError(f"plant {number}, {plant.species}, is locked and cannot be {what}; unlock it first")
    return plant


def _several(numbers: Iterable[int] | int) -> tuple[int, ...]:
    return (numbers,) if isinstance(numbers, int) else tuple(dict.fromkeys(numbers))


def _place(at: Point, species: str) -> Point:
    x, y = float(at[0]), float(at[1])
    if not (math.isfinite(x) and math.isfinite(y)):
        raise GardenError(f"{species} is put at ({x}, {y}), which is no place; give two lengths in metres")
    return (x, y)


def _lattice(about: Point, spacing: float, pitch: float, rings: int) -> list[Point]:
    """Return the places of a staggered lattice round a point, nearest first, going round from the right."""
    places = []
    for row in range(-rings, rings + 1):
        for step in range(-rings, rings + 1):
            dx, dy = (step + (row % 2) / 2) * spacing, row * pitch
            if row or step:
                places.append((round(math.hypot(dx, dy), 6), math.atan2(dy, dx) % (2 * math.pi), dx, dy))
    return [(about[0] + dx, about[1] + dy) for _, _, dx, dy in sorted(places)]
