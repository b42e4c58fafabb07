"""Sulphur and lime rates, each as its own publisher prints them: RHS, Kansas, Michigan State, Clemson, Penn State."""

import pytest

from gardenkit.site.amendments import (
    ACRE,
    GROUPS,
    Group,
    lime,
    sulphur,
)
from gardenkit.units import POUND, SQUARE_FOOT

HUNDRED, THOUSAND = 100 * SQUARE_FOOT, 1000 * SQUARE_FOOT


def pounds(kilograms: float) -> float:
    return kilograms / POUND


@pytest.mark.parametrize(("table", "sandy", "clay"), [("RHS sulphur", 135, 270), ("RHS ferrous sulphate", 1080, 2160)])
def test_rhs_grams_per_square_metre(table: str, sandy: float, clay: float) -> None:
    """rhs.org.uk/soil-composts-mulches/acidifying-soil: pH 7.0-7.5 to 6.0-6.5, top 15 cm."""
    rates = {}
    for group in GROUPS:
        found = sulphur(table=table, group=group, ph_now=7.5, ph_wanted=6.5, area=1)
        rates[group] = (found.low_g_per_m2, found.high_g_per_m2)
    assert rates == {"sandy": (sandy, sandy), "loam": (sandy, clay), "clay": (clay, clay)}


@pytest.mark.parametrize(("group", "pound"), [("sandy", 10), ("loam", 15), ("clay", 20)])
def test_sulphur_per_unit_per_1000_square_feet(group: Group, pound: float) -> None:
    """Common practice, no source."""
    found = sulphur(table="per unit", group=group, ph_now=7, ph_wanted=6, area=THOUSAND)
    assert (pounds(found.low_kg), pounds(found.high_kg)) == pytest.approx((pound, pound))


@pytest.mark.parametrize(("group", "low", "high"), [("sandy", 1.0, 1.5), ("loam", 1.5, 2.0), ("clay", 2.0, 2.5)])
def test_kansas_column_per_100_square_feet(group: Group, low: float, high: float) -> None:
    found = sulphur(table="Kansas column", group=group, ph_now=7.5, ph_wanted=6.5, area=HUNDRED)
    assert (pounds(found.low_kg), pounds(found.high_kg)) == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("ph", "row"),
    [
        (5.0, (175, 530, 800)),
        (5.5, (350, 1030, 1600)),
        (6.0, (530, 1540, 2300)),
        (6.5, (660, 2020, 3030)),
        (7.0, (840, 2560, 3830)),
    ],
)
def test_michigan_state_pounds_per_acre_to_reach_4_5(ph: float, row: tuple[float, ...]) -> None:
    for group, printed in zip(GROUPS, row, strict=True):
        found = sulphur(table="Michigan State", group=group, ph_now=ph, ph_wanted=4.5, area=ACRE)
        assert pounds(found.high_kg) == pytest.approx(printed)


@pytest.mark.parametrize(("group", "pound"), [("sandy", 35), ("loam", 50), ("clay", 70)])
def test_lime_per_unit_per_1000_square_feet(group: Group, pound: float) -> None:
    """Common practice, no source."""
    found = lime(table="per unit", group=group, ph_now=5.5, ph_wanted=6.5, area=THOUSAND)
    assert pounds(found.high_kg) == pytest.approx(pound)


@pytest.mark.parametrize(
    ("ph", "row"),
    [
        (4.0, (11.5, 16, 23)),
        (4.5, (9.5, 13.5, 19.5)),
        (5.0, (8, 10.5, 15)),
        (5.5, (6, 8, 10.5)),
        (6.0, (3, 4, 5.5)),
    ],
)
def test_lime_to_6_5_per_100_square_feet(ph: float, row: tuple[float, ...]) -> None:
    """Common practice, no source."""
    for group, printed in zip(GROUPS, row, strict=True):
        found = lime(table="to pH 6.5", group=group, ph_now=ph, ph_wanted=6.5, area=HUNDRED)
        assert pounds(found.high_kg) == pytest.approx(printed)
