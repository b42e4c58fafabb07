"""Bags of concrete mix in a cubic yard, from the maker's yield by the pound."""

import pytest

from gardenkit.structure.posts import BAG_YIELD, bag_of
from gardenkit.units import CUBIC_FOOT, CUBIC_YARD


@pytest.mark.parametrize(("pounds", "cubic_feet"), [(40, 0.30), (50, 0.375), (60, 0.45), (80, 0.60)])
def test_a_bag_makes_0_15_cubic_feet_for_each_20_pounds(pounds: int, cubic_feet: float) -> None:
    """Concrete mix maker, second-hand."""
    assert BAG_YIELD[pounds] / CUBIC_FOOT == pytest.approx(cubic_feet, rel=1e-12)
    assert pounds / 20 * 0.15 == pytest.approx(cubic_feet, rel=1e-12)


@pytest.mark.parametrize(("pounds", "count"), [(40, 90), (50, 72), (60, 60), (80, 45)])
def test_bags_in_a_cubic_yard(pounds: int, count: int) -> None:
    assert bag_of("imperial", pounds).fill(CUBIC_YARD) == count


def test_pier_bags_before_rounding() -> None:
    """Construction reference prints 2.15 cu ft: 7.2 bags of 40 lb, 3.6 of 80 lb."""
    assert round(2.15 * CUBIC_FOOT / BAG_YIELD[40], 1) == 7.2
    assert round(2.15 * CUBIC_FOOT / BAG_YIELD[80], 1) == 3.6
