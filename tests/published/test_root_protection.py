"""Root protection circles by published rules, and figures that were printed wrong."""

import pytest

from gardenkit.findings import GardenError
from gardenkit.site.tree_protection import root_protection_area, root_protection_radius
from gardenkit.units import FOOT, INCH


@pytest.mark.parametrize(
    ("stem_mm", "radius", "area"),
    [
        (75, 0.9, 3),
        (150, 1.8, 10),
        (200, 2.4, 18),
        (300, 3.6, 41),
        (400, 4.8, 72),
        (500, 6.0, 113),
        (600, 7.2, 163),
        (1250, 15.0, 707),
        (1500, 15.0, 707),
    ],
)
def test_bs_5837(stem_mm: float, radius: float, area: float) -> None:
    """BS 5837:2012, 12 x stem diameter, at most 707 m2 (rows worked from the rule)."""
    assert root_protection_radius(stem_mm / 1000) == pytest.approx(radius)
    assert round(root_protection_area(stem_mm / 1000)) == area


def test_a_veteran_oak_of_1_m_has_452_m2() -> None:
    """Scraped arboricultural text to BS 5837: radius 12 m, 452 m2."""
    assert root_protection_radius(1.0) == pytest.approx(12.0)
    assert round(root_protection_area(1.0)) == 452


@pytest.mark.parametrize(("inches", "feet"), [(10, 15), (12, 18), (20, 30), (2, 6)])
def test_one_and_a_half_feet_an_inch(inches: float, feet: float) -> None:
    """City of Edina MN and forestry.about.com: 10 in -> 15 ft, 12 -> 18, 20 -> 30, 6 ft at least."""
    assert root_protection_radius(inches * INCH, "18 x stem diameter") == pytest.approx(feet * FOOT)


def test_one_and_a_quarter_feet_an_inch_and_a_misprint() -> None:
    """NC State: 12 in -> 15 ft. ncufc.org prints 20 in -> 30 ft beside this rule, which gives 25."""
    assert root_protection_radius(12 * INCH, "15 x stem diameter") == pytest.approx(15 * FOOT)
    assert root_protection_radius(20 * INCH, "15 x stem diameter") == pytest.approx(25 * FOOT)


def test_a_rule_that_is_not_known_names_the_nearest() -> None:
    with pytest.raises(GardenError, match="BS 5837"):
        root_protection_radius(0.3, "BS 5387")
