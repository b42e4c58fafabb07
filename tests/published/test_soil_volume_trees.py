"""Soil a tree needs: Cornell's rule and town lists, as the Minnesota Stormwater Manual and others print them."""

import pytest

from gardenkit.planting.soil_volume import SOIL_RULES, soil_needed, tree_size
from gardenkit.units import CUBIC_FOOT, FOOT

BY_SIZE = {  # cubic feet for a small, medium, large tree
    "usual": (300, 600, 1000),  # a manufacturer's compilation, 2020
    "Emeryville CA": (600, 900, 1200),  # Minnesota Stormwater Manual
    "Bellevue WA": (500, 1000, 1500),  # second-hand
    "Aspen CO, newer": (240, 600, 1200),  # second-hand
    "Aspen CO, older": (250, 1000, 2250),  # second-hand
    "Athens-Clarke GA": (200, 450, 800),  # second-hand
    "Kitchener ON": (600, 989, 1589),  # Minnesota Stormwater Manual, a tree by itself
    "Kitchener ON, shared": (389, 653, 1059),  # the same, sharing a bed
    "Denver CO": (750, 750, 750),  # second-hand
    "Austin TX": (1000, 1000, 1000),  # second-hand
    "Alexandria VA": (450, 450, 450),  # second-hand
    "Washington DC": (600, 1000, 1500),  # from memory
}
HEIGHTS = (20 * FOOT, 35 * FOOT, 60 * FOOT)


@pytest.mark.parametrize(("feet", "cubic_feet"), [(10, 157.1), (25, 981.7), (40, 2513.3)])
def test_cornell_2_cubic_feet_a_square_foot_of_crown(feet: float, cubic_feet: float) -> None:
    """Cornell Univ., Lindsey & Bassuk."""
    assert soil_needed(height=9, spread=feet * FOOT, rule="Cornell") / CUBIC_FOOT == pytest.approx(cubic_feet, abs=0.05)


def test_the_metric_form_is_cornells_rule_rounded() -> None:
    assert SOIL_RULES["metric"].by_crown == 0.61
    assert SOIL_RULES["Cornell"].by_crown == pytest.approx(0.61, abs=0.0005)
    assert SOIL_RULES["Buckinghamshire"].by_crown == 0.6
    assert (SOIL_RULES["practice, least"].by_crown, SOIL_RULES["practice, most"].by_crown) == (0.5, 1.0)


@pytest.mark.parametrize("rule", BY_SIZE)
def test_town_rules_by_tree_size(rule: str) -> None:
    found = [soil_needed(height=height, spread=6, rule=rule) / CUBIC_FOOT for height in HEIGHTS]
    assert found == pytest.approx(BY_SIZE[rule], rel=1e-9)


def test_toronto_asks_30_cubic_metres_or_20_when_shared() -> None:
    """Minnesota Stormwater Manual."""
    assert soil_needed(height=9, spread=6, rule="Toronto ON") == 30
    assert soil_needed(height=9, spread=6, rule="Toronto ON, shared") == 20


def test_small_to_25_ft_medium_to_40_ft() -> None:
    assert [tree_size(feet * FOOT) for feet in (25, 26, 40, 41)] == ["small", "medium", "medium", "large"]
