"""Compost, topsoil and mulch by the cubic yard, drainage and water held by soil, as printed."""

import pytest

from gardenkit.site.amendments import COMPOST_LEAST, COMPOST_NEW_BED, layer_volume
from gardenkit.site.soil import INCH_PER_FOOT, available_water_mm, drainage_class
from gardenkit.units import CUBIC_YARD, INCH, SQUARE_FOOT


def cubic_yards(square_feet: float, inches: float) -> float:
    return layer_volume(square_feet * SQUARE_FOOT, inches * INCH) / CUBIC_YARD


def test_a_square_foot_an_inch_deep_is_1_324_of_a_cubic_yard() -> None:
    assert cubic_yards(1, 1) == pytest.approx(1 / 324, rel=1e-12)
    assert round(cubic_yards(1, 1), 4) == 0.0031  # printed by a compost supplier


def test_an_inch_over_1000_square_feet() -> None:
    assert round(cubic_yards(1000, 1), 4) == 3.0864  # printed 3.1


def test_2000_square_feet_at_a_quarter_inch() -> None:
    """A compost supplier: 1.55 with its factor 0.0031 for 1/324 (and prints 1.6)."""
    assert cubic_yards(2000, 0.25) * 0.0031 * 324 == pytest.approx(1.55, rel=1e-12)


def test_100_square_feet_of_mulch_at_three_inches() -> None:
    assert round(cubic_yards(100, 3), 3) == 0.926


def test_greeley_least_compost_is_4_cubic_yards_per_1000_square_feet() -> None:
    """City of Greeley, greeleygov.com/Water."""
    assert layer_volume(1000 * SQUARE_FOOT, COMPOST_LEAST) / CUBIC_YARD == pytest.approx(4)


def test_oregon_state_new_beds_take_3_to_4_inches() -> None:
    """Oregon State Univ. Extension EM 9308."""
    assert [depth / INCH for depth in COMPOST_NEW_BED] == pytest.approx([3, 4])


@pytest.mark.parametrize(
    ("texture", "low", "high"),
    [
        ("sand", 0.5, 1.0),
        ("sandy loam", 1.0, 1.5),
        ("silt loam", 1.5, 2.1),
        ("clay loam", 1.5, 2.0),
        ("clay", 2.0, 2.5),
        ("sandy clay loam", 1.5, 2.1),
        ("loam", 1.5, 2.1),
    ],
)
def test_available_water_inches_per_foot(texture: str, low: float, high: float) -> None:
    """UC ANR, class.ucanr.edu/node/112737; sandy clay loam, loam and silt loam NRCS Wyoming."""
    found = [mm / INCH_PER_FOOT for mm in available_water_mm(texture, root_depth=1)]
    assert found == pytest.approx([low, high])


def test_one_percent_organic_matter_adds_one_and_a_half_percent_water() -> None:
    """NRCS sheet, 1998."""
    bare, fed = (available_water_mm("loam", root_depth=1, organic_percent=percent)[0] for percent in (0, 1))
    assert (fed - bare) / 1000 == pytest.approx(0.015)


@pytest.mark.parametrize(
    ("scheme", "inches_an_hour", "name"),
    [
        *(("Cornell", 0.99, "poor"), ("Cornell", 1, "well drained"), ("Cornell", 6, "well drained")),
        *(("Cornell", 6.01, "excessive"), ("common", 0.99, "poor"), ("common", 2, "good"), ("common", 3, "good")),
        *(("common", 4.01, "too fast"), ("infiltration", 0.19, "slow"), ("infiltration", 0.2, "moderate")),
        *(("infiltration", 3, "moderate"), ("infiltration", 3.01, "rapid")),
    ],
)
def test_drainage_schemes(scheme: str, inches_an_hour: float, name: str) -> None:
    """Cornell extension; two common schemes without a source."""
    assert drainage_class(inches_an_hour * 25.4, scheme=scheme) == name
