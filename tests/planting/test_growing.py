"""Every plant of the catalogue grows from nursery size to full size, and never shrinks or passes it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.growth import CURVES, growth_class, is_herb, nursery_size, size, yearly_growth
from gardenkit.planting.planting import Plant
from gardenkit.planting.standing import standing

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
    for curve in CURVES:
        for plant in WOODY:
            found = size(plant, 10, curve=curve)
            most = 1.0 if curve == "linear" else 0.98
            expected = (min(plant.height_10, most * plant.height), min(plant.spread_10, most * plant.spread))
            assert (found.height, found.spread) == pytest.approx(expected, rel=1e-9), plant.botanical


def test_the_growth_word_of_every_tree_and_conifer_agrees_with_its_own_ten_year_size() -> None:
    """Missouri Dept. of Conservation: slow up to 12, medium 12 to 24, fast over 24 inches a year."""
    trees = [p for p in PLANTS if p.layer in ("tree", "conifer")]
    assert len(trees) > 100
    assert {p.botanical: p.growth for p in trees if growth_class(yearly_growth(p)) != p.growth} == {}


def test_trees_that_missouri_calls_slow_medium_or_fast_are_called_so_here() -> None:
    """Missouri Dept. of Conservation, mdc.mo.gov/trees-plants/tree-seedlings/tree-growth-information."""
    missouri = {
        "Betula nigra": "fast",
        "Cercis canadensis": "medium",
        "Cornus florida": "medium",
        "Liriodendron tulipifera": "medium",
        "Quercus rubra": "medium",
        "Taxodium distichum": "medium",
        "Nyssa sylvatica": "slow",
        "Asimina triloba": "slow",
        "Juniperus virginiana 'Taylor'": "slow",
    }
    known = {p.botanical: p.growth for p in PLANTS}
    assert {name: known[name] for name in missouri} == missouri


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


# Heights in metres by the equations of the Urban Tree Database, PSW-GTR-253, table TS6, at years after planting.
TOWN_TREES = {
    "Quercus agrifolia, NoCalC": {5: 4.70, 10: 6.55, 15: 8.09, 20: 9.35, 30: 11.10, 40: 12.00},
    "Platanus × acerifolia, NoEast": {5: 5.82, 10: 7.46, 15: 8.92, 20: 10.23, 30: 12.44, 40: 14.17},
}


@pytest.mark.parametrize("name", TOWN_TREES)
def test_the_curve_follows_measured_town_trees_within_a_tenth(name: str) -> None:
    """McPherson, van Doorn & Peper 2016: a curve set by sizes at 5, 15 and 40 years meets those between and after."""
    from gardenkit.planting.growth import _richards_fit

    start, ten, full = (TOWN_TREES[name][years] for years in (5, 15, 40))
    fitted = _richards_fit(full / 0.9, start, ten, 35.0)
    for years in (10, 20, 30, 40):
        assert fitted(years - 5) == pytest.approx(TOWN_TREES[name][years], rel=0.10)


def test_messages_name_the_nearest_curve_and_refuse_negative_years() -> None:
    with pytest.raises(GardenError, match='nearest known is "logistic"'):
        size(PLANTS[0], 1, curve="logistics")
    with pytest.raises(GardenError, match="give 0 or more"):
        size(PLANTS[0], -1)


@pytest.mark.parametrize(
    ("kind", "year", "until", "there"),
    [
        ("Salvia nemorosa", 0, None, [0, 1, 2, 3, 4, 5]),
        ("Salvia nemorosa", 1, 3, [1, 2, 3]),
        ("Salvia nemorosa", 2, 2, [2]),
        ("Nigella damascena", 0, None, [0]),  # an annual stands one season
        ("Nigella damascena", 1, 3, [1, 2, 3]),  # unless it is sown again
    ],
)
def test_a_plant_stands_from_its_first_to_its_last_year(kind, year, until, there) -> None:  # type: ignore[no-untyped-def]
    plant, catalogue = Plant(number=1, species=kind, at=(0.0, 0.0), year=year, until=until), load_catalogue()
    assert [y for y in range(6) if standing([(plant, catalogue[kind])], y)] == there
