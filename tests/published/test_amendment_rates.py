"""Sulphur and lime rates, each as its own publisher prints them: RHS, Kansas, Michigan State, Clemson, Penn State."""

import pytest

from gardenkit.findings import GardenError
from gardenkit.site.amendments import (
    ACRE,
    GROUPS,
    LB_PER_ACRE,
    SULPHUR_CAP,
    SULPHUR_CAP_LOW,
    Group,
    lime,
    sulphur,
    turf_lime,
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


def test_clemson_cap_5_to_10_pounds_per_1000_square_feet_is_218_to_436_per_acre() -> None:
    """precisionag.sites.clemson.edu."""
    assert [round(cap / LB_PER_ACRE) for cap in (SULPHUR_CAP_LOW, SULPHUR_CAP)] == [218, 436]


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


@pytest.mark.parametrize(
    ("acidity", "row"),
    [
        (2.0, (50, 50, 50)),
        (5.2, (110, 90, 50)),
        (10.3, (230, 180, 140)),
        (15.5, (370, 300, 230)),
        (20.0, (460, 390, 320)),
        (25.7, (600, 530, 410)),
    ],
)
def test_penn_state_turf_lime_table_1(acidity: float, row: tuple[float, ...]) -> None:
    for goal, printed in zip((7.0, 6.5, 6.0), row, strict=True):
        assert pounds(turf_lime(acidity, goal=goal, area=THOUSAND).high_kg) == pytest.approx(printed)


def test_a_table_is_refused_outside_what_it_prints() -> None:
    for table, now, wanted in (("RHS sulphur", 6.9, 6.0), ("Michigan State", 7.2, 4.5), ("Michigan State", 7.0, 5.0)):
        with pytest.raises(GardenError, match="use another table"):
            sulphur(table=table, group="loam", ph_now=now, ph_wanted=wanted, area=1)
    with pytest.raises(GardenError, match="use another table"):
        lime(table="to pH 6.5", group="loam", ph_now=6.2, ph_wanted=6.5, area=1)
    with pytest.raises(GardenError, match="goals"):
        turf_lime(5.2, goal=6.8, area=1)
