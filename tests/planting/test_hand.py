"""What the designer does by hand is done exactly, numbers are never given twice, and locked plants stay."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.hand import (
    accept,
    add,
    cleared,
    fill_bed,
    lock,
    move,
    multiply,
    next_number,
    plant_of,
    remove,
    swap,
)
from gardenkit.planting.planting import Plant, Planting
from gardenkit.units import FOOT, INCH

CATALOGUE = load_catalogue()
SAGE, CATMINT = "Salvia nemorosa", "Nepeta × faassenii"
THREE = add(Planting(), SAGE, [(0, 0), (1, 0), (2, 0)])


def test_plants_are_numbered_from_one() -> None:
    assert [p.number for p in THREE.plants] == [1, 2, 3]


def test_a_removed_number_is_never_given_again() -> None:
    assert next_number(remove(THREE, 3)) == 4
    assert [p.number for p in add(remove(THREE, [2, 3]), SAGE, [(5, 5)]).plants] == [1, 4]


def test_a_moved_plant_stands_where_it_was_put_and_nothing_else_moved() -> None:
    assert [p.at for p in move(THREE, 2, (7.5, 8.25)).plants] == [(0, 0), (7.5, 8.25), (2, 0)]


def test_a_swap_keeps_number_and_place() -> None:
    after = swap(THREE, [1, 3], CATMINT)
    assert [(p.number, p.species, p.at) for p in after.plants] == [
        (1, CATMINT, (0, 0)),
        (2, SAGE, (1, 0)),
        (3, CATMINT, (2, 0)),
    ]


@pytest.mark.parametrize(
    "change", [lambda p: move(p, 2, (0, 0)), lambda p: remove(p, 2), lambda p: swap(p, 2, CATMINT)]
)
def test_a_locked_plant_is_changed_only_when_unlocked(change) -> None:
    locked = lock(THREE, 2)
    with pytest.raises(GardenError, match="plant 2, Salvia nemorosa, is locked"):
        change(locked)
    assert change(lock(locked, 2, locked=False)) != locked


def test_clearing_keeps_only_what_is_locked() -> None:
    assert [p.number for p in cleared(lock(THREE, 2)).plants] == [2]
    assert next_number(cleared(THREE)) == 4


def test_copies_stand_round_the_plant_one_spacing_away() -> None:
    after = multiply(add(Planting(), SAGE, [(3, 3)]), 1, 6, spacing=0.45)
    assert [round(math.dist(p.at, (3, 3)), 9) for p in after.plants[1:]] == [0.45] * 6


def test_copies_stay_inside_the_bed_or_say_how_many_fit() -> None:
    bed = plane.region([(0, 0), (1.2, 0), (1.2, 0.5), (0, 0.5)])  # one row of three at 0.4 m, half that to the edges
    one = add(Planting(), SAGE, [(0.6, 0.25)])
    assert len(multiply(one, 1, 2, spacing=0.4, bed=bed).plants) == 3
    with pytest.raises(GardenError, match="only 2 of 9 more Salvia nemorosa fit"):
        multiply(one, 1, 9, spacing=0.4, bed=bed)


@given(copies=st.integers(1, 30), spacing=st.floats(0.1, 2.0))
def test_copies_are_never_nearer_than_the_spacing(copies: int, spacing: float) -> None:
    after = multiply(THREE, 2, copies, spacing=spacing)
    new = after.plants[3:]
    assert len(new) == copies
    for i, a in enumerate(new):
        assert all(math.dist(a.at, b.at) >= spacing - 1e-6 for b in (*THREE.plants, *new[:i]))


def test_a_bed_is_filled_as_the_spacing_table_counts() -> None:
    bed = plane.region([(0, 0), (20 * FOOT, 0), (20 * FOOT, 6 * FOOT), (0, 6 * FOOT)])
    filled = fill_bed(bed, CATALOGUE[SAGE], 18 * INCH, "square", first_number=7)
    assert len(filled) == 52  # 20 x 6 ft at 18 in, square, half a spacing inside the edge: planting.md a5
    assert len(fill_bed(bed, CATALOGUE[SAGE], 18 * INCH)) == 50  # staggered, same table
    assert [p.number for p in filled[:2]] == [7, 8]


def test_a_spacing_of_nothing_is_refused_naming_the_bed() -> None:
    with pytest.raises(GardenError, match='spacing is 0 m for Salvia nemorosa in bed "south"'):
        fill_bed(plane.region([(0, 0), (1, 0), (1, 1)]), CATALOGUE[SAGE], 0.0, bed="south")


def test_accepting_a_proposal_adds_and_never_changes() -> None:
    proposal = (*THREE.plants, Plant(number=4, species=CATMINT, at=(9, 9)))
    assert accept(THREE, proposal).plants == proposal
    with pytest.raises(GardenError, match="plant number 2 was given before"):
        accept(THREE, [Plant(number=2, species=CATMINT, at=(9, 9))])
    with pytest.raises(GardenError, match="plant number 3 was given before"):
        accept(remove(THREE, 3), [Plant(number=3, species=CATMINT, at=(9, 9))])


@pytest.mark.parametrize(("number", "why"), [(3, "it was removed"), (9, "no such number was given")])
def test_a_plant_that_is_not_there_says_why(number: int, why: str) -> None:
    with pytest.raises(GardenError, match=why):
        plant_of(remove(THREE, 3), number)


def test_a_place_that_is_no_place_is_refused() -> None:
    with pytest.raises(GardenError, match="which is no place"):
        move(THREE, 1, (math.nan, 0.0))
