"""Every plant of the catalogue grows from nursery size to full size, and never shrinks or passes it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.growth import CURVES, is_herb, nursery_size, size
from gardenkit.planting.tree_equations import town_tree

PLANTS = load_catalogue().plants
WOODY = tuple(p for p in PLANTS if not is_herb(p))
AGES = st.floats(0, 200)


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(PLANTS), AGES, AGES, st.sampled_from(sorted(CURVES)))
def test_plants_never_shrink_and_never_pass_maturity(plant, first, second, curve) -> None:  # type: ignore[no-untyped-def]
    young, old = (size(plant, years, curve=curve) for years in sorted((first, second)))
    assert young.height <= old.height + 1e-9 <= plant.height + 2e-9
    assert young.spread <= old.spread + 1e-9 <= plant.spread + 2e-9
    assert 0 <= young.crown_base <= young.height


def test_woody_plants_start_at_nursery_size_on_every_curve() -> None:
    for curve in CURVES:
        for plant in WOODY:
            found = size(plant, 0, curve=curve)
            assert (found.height, found.spread) == pytest.approx(nursery_size(plant), rel=1e-9), plant.botanical


def test_woody_plants_pass_their_ten_year_size() -> None:
    """A curve only nears full size, so ten-year sizes above 98 % of it are met at 98 %."""
    for curve in ("chapman-richards", "logistic"):
        for plant in WOODY:
            found = size(plant, 10, curve=curve)
            assert found.height == pytest.approx(min(plant.height_10, 0.98 * plant.height), rel=1e-9), plant.botanical
            assert found.spread == pytest.approx(min(plant.spread_10, 0.98 * plant.spread), rel=1e-9), plant.botanical


def test_every_plant_is_within_a_tenth_of_full_size_in_the_end() -> None:
    late = {p.botanical: size(p, 4 * p.years_to_mature).height / p.height for p in PLANTS}
    assert {name: share for name, share in late.items() if share < 0.9} == {}


def test_perennials_sleep_creep_and_leap() -> None:
    """House percentages within 30-40, 60-70 and 100 % in years 1, 2 and 3."""
    plant = next(p for p in PLANTS if p.layer == "perennial" and p.years_to_mature == 3)
    shares = [size(plant, years).spread / plant.spread for years in (1, 2, 3, 10)]
    assert 0.3 <= shares[0] <= 0.4
    assert 0.6 <= shares[1] <= 0.7
    assert shares[2:] == [1, 1]


def test_annuals_are_full_size_every_summer() -> None:
    for plant in (p for p in PLANTS if p.layer == "annual"):
        assert [size(plant, years).height for years in (0, 1, 7)] == [plant.height] * 3


@pytest.mark.parametrize("name", ["Quercus agrifolia, NoCalC", "Platanus × acerifolia, NoEast"])
def test_the_curve_follows_measured_town_trees_within_a_tenth(name: str) -> None:
    """McPherson, van Doorn & Peper 2016: a curve set by sizes at 5, 15 and 40 years meets those between and after."""
    from gardenkit.planting.growth import _richards_fit

    start, ten, full = (town_tree(name, years)[1] for years in (5, 15, 40))
    fitted = _richards_fit(full / 0.9, start, ten, 35.0)
    for years in (10, 20, 30, 40):
        assert fitted(years - 5) == pytest.approx(town_tree(name, years)[1], rel=0.10)


def test_messages_name_the_nearest_curve_and_refuse_negative_years() -> None:
    with pytest.raises(GardenError, match='nearest known is "logistic"'):
        size(PLANTS[0], 1, curve="logistics")
    with pytest.raises(GardenError, match="give 0 or more"):
        size(PLANTS[0], -1)
