"""Leaves, flowers, fruit and light month by month."""

from itertools import pairwise

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.catalogue_columns import BY_NAME, fits
from gardenkit.planting.light import MONTH_DAYS, light_months
from gardenkit.planting.own_plants import cells_of
from gardenkit.planting.planting import Plant
from gardenkit.planting.season import (
    appearance,
    bloom_days,
    flower_halves,
    flower_months,
    foliage_colour,
    shifted_months,
)
from gardenkit.planting.species import species_from_row
from gardenkit.planting.standing import standing
from gardenkit.site.shade import existing_tree_solids
from gardenkit.site.site import ExistingTree

CATALOGUE = load_catalogue()
MONTHS = range(1, 13)


def test_without_a_shift_every_plant_flowers_in_the_catalogues_months() -> None:
    for plant in CATALOGUE:
        assert flower_months(plant) == plant.bloom_months
        assert tuple(m for m in MONTHS if appearance(plant, m).in_flower) == tuple(sorted(plant.bloom_months))


def test_evergreens_are_green_and_equally_shady_all_year() -> None:
    for plant in (p for p in CATALOGUE if p.is_evergreen):
        assert [appearance(plant, m).in_leaf for m in MONTHS] == [1.0] * 12, plant.botanical
        assert None not in [appearance(plant, m).foliage for m in MONTHS], plant.botanical
        assert light_months(plant) == (plant.light_in_leaf,) * 12


def test_deciduous_trees_are_bare_in_january_and_leafy_in_july() -> None:
    for plant in (p for p in CATALOGUE.layer("tree") if p.leaf == "deciduous"):
        winter, summer = appearance(plant, 1), appearance(plant, 7)
        assert (winter.in_leaf, winter.foliage, winter.light) == (0, None, plant.light_bare), plant.botanical
        assert (summer.in_leaf, summer.light) == (1, plant.light_in_leaf), plant.botanical
        assert summer.foliage is not None
        assert winter.height_factor == 1


def test_a_planted_tree_lets_through_the_same_light_as_one_on_record() -> None:
    plant = CATALOGUE["Acer campestre"]
    recorded = ExistingTree(
        name="maple",
        at=(0, 0),
        height=8,
        spread=6,
        light_in_leaf=plant.light_in_leaf,
        light_bare=plant.light_bare,
        leaf_on=plant.leaf_on,
        leaf_off=plant.leaf_off,
    )
    assert light_months(plant) == pytest.approx(existing_tree_solids(recorded)[-1].light)


def test_perennials_that_die_back_without_seed_heads_are_gone_in_january() -> None:
    gone = [
        p
        for p in CATALOGUE.layer("perennial")
        if p.leaf == "herbaceous" and not p.winter_interest and not p.foliage_winter
    ]
    assert gone
    for plant in gone:
        look = appearance(plant, 1)
        assert (look.foliage, look.height_factor) == (None, 0), plant.botanical


def test_cut_stems_do_not_stand_again_while_a_late_spring_keeps_the_leaves_back() -> None:
    # a coneflower stands dry into February, is cut in March, and in a spring 17 days later has no leaves in April
    plant = CATALOGUE["Echinacea purpurea"]
    shown = [foliage_colour(plant, month, 17.0) is not None for month in (1, 2, 3, 4, 5, 12)]
    assert shown == [True, True, False, False, True, True]


def test_autumn_colour_shows_before_leaf_fall() -> None:
    plant = CATALOGUE["Acer campestre"]
    assert appearance(plant, 10).foliage == plant.foliage_autumn
    assert appearance(plant, 7).foliage == plant.foliage_summer
    assert plant.leaf_on == 4
    assert appearance(plant, 4).foliage == plant.foliage_spring


@given(st.integers(1, 12), st.integers(1, 12), st.floats(-60, 60))
def test_a_shifted_spell_is_never_empty_and_runs_without_gaps(first: int, last: int, days: float) -> None:
    months = shifted_months(first, last, days)
    assert months
    assert len(set(months)) == len(months)
    assert all(b == a % 12 + 1 for a, b in pairwise(months))


def test_month_thirteen_is_refused() -> None:
    with pytest.raises(GardenError, match="from 1 to 12"):
        appearance(CATALOGUE.plants[0], 13)


def test_leaves_have_their_summer_colour_in_june() -> None:
    # new leaves keep their spring colour three to four weeks (house value): none that opened by the end of April may
    # be drawn in spring colour in June, as redbuds in maroon and oaks in pink once were
    early = [p for p in CATALOGUE if p.leaf == "deciduous" and p.leaf_on is not None and p.leaf_on <= 5]
    assert len(early) > 100
    for plant in early:
        assert appearance(plant, 6).foliage == (plant.foliage_summer or plant.foliage_spring), plant.botanical


def test_moving_bloom_to_another_zone_keeps_its_duration() -> None:
    for plant in CATALOGUE:
        for days in (-60.0, -25.0, -10.0, 10.0, 25.0, 60.0):
            assert len(flower_halves(plant, days)) == len(plant.bloom_halves), plant.botanical


def test_a_kind_known_by_half_months_moves_by_half_months_and_others_by_months() -> None:
    half = CATALOGUE["Salvia nemorosa"]  # late May to early July
    whole = attrs.evolve(half, bloom_start_half="", bloom_end_half="")
    assert half.bloom_halves == (10, 11, 12, 13)
    assert flower_months(half) == (5, 6, 7)
    assert flower_halves(half, 16.0) == (11, 12, 13, 14)  # June takes half of the 16 days
    assert flower_months(whole, 16.0) == (5, 6, 7)
    first, last = bloom_days(half)
    assert (first, last) == pytest.approx((4.75 * MONTH_DAYS, 6.25 * MONTH_DAYS))


def test_a_half_month_is_written_in_the_cell_of_the_month_and_read_back() -> None:
    row = {**cells_of(CATALOGUE["Salvia nemorosa"]), "bloom_start": "late 5", "bloom_end": "early 7"}
    read = species_from_row(row)
    assert (read.bloom_start, read.bloom_end, read.bloom_halves) == (5, 7, (10, 11, 12, 13))
    assert cells_of(read)["bloom_start"] == "late 5"
    assert species_from_row(cells_of(read)) == read
    for cell, right in (("late 5", True), ("5", True), ("early 5", True), ("late 13", False), ("mid 5", False)):
        assert fits(BY_NAME["bloom_start"], cell) is right, cell


def test_an_annual_stands_one_season_and_a_perennial_stays() -> None:
    annual = CATALOGUE.layer("annual")[0]
    perennial = CATALOGUE.layer("perennial")[0]
    pair = [(Plant(number=1, species=annual.botanical, at=(0, 0), year=2), annual)]
    pair.append((Plant(number=2, species=perennial.botanical, at=(1, 0), year=2), perennial))
    assert [[one.plant.number for one in standing(pair, year)] for year in (1, 2, 3, 15)] == [[], [1, 2], [2], [2]]
