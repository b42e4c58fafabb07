"""Rain off a roof against published sums: yields, a year's balance, rain gardens by two methods."""

import pytest

from gardenkit.findings import GardenError
from gardenkit.site.rainwater import rain_garden_area, rain_garden_by_soil, roof_litres, through_the_year
from gardenkit.units import FOOT, INCH, US_GALLON

SQUARE_FOOT = FOOT * FOOT


@pytest.mark.parametrize(
    ("square_feet", "inches", "efficiency", "gallons", "near"),
    [
        (1.0, 1.0, 1.0, 0.623, 0.001),  # 7.481 / 12, swiconics.net TankVolume
        (1000.0, 1.0, 0.85, 530.0, 1.0),  # noon.bio, rainwater harvesting residential
        (2500.0, 32.0, 0.85, 42_364.0, 40.0),  # the same
        (2500.0, 36.0, 0.90, 50_490.0, 30.0),  # rainbarrelsiowa.com
        (2500.0, 3.5, 0.85, 4_634.0, 5.0),  # Waco in March: brazos.org inputs
    ],
)
def test_a_roof_yields_the_published_gallons(
    square_feet: float, inches: float, efficiency: float, gallons: float, near: float
) -> None:
    litres = roof_litres(square_feet * SQUARE_FOOT, inches * 25.4, efficiency=efficiency)
    assert litres / US_GALLON == pytest.approx(gallons, abs=near)


def test_a_metric_roof_yields_the_published_year() -> None:
    """1,107 m2 x 60 cm less 20 % -> 531,360 L (scribd 182106146)."""
    assert roof_litres(1107.0, 600.0, efficiency=0.8) == pytest.approx(531_360.0)


def test_a_year_is_balanced_month_by_month() -> None:
    """S_end = min(cap, max(0, S_start + yield - demand)), overflow and shortage apart (agentcalc.com)."""
    year = through_the_year(200.0, [300.0, *[0.0] * 11], [0.0, 150.0, 150.0, *[0.0] * 9])
    assert year.dry == (3,)
    assert year.short[2] == pytest.approx(100.0)
    assert year.over[0] == pytest.approx(100.0)  # 0 held in January of the last year, 300 in, 200 kept
    assert year.met == pytest.approx(2 / 3)


def test_what_comes_in_is_used_held_or_runs_over() -> None:
    gained, asked = [50.0 * (k % 5) for k in range(12)], [30.0 * (k % 7) for k in range(12)]
    year = through_the_year(120.0, gained, asked)
    used = sum(asked) - sum(year.short)
    assert used + sum(year.over) == pytest.approx(sum(gained))  # a year that ends as it began keeps nothing back


def test_a_rain_garden_by_the_simple_method() -> None:
    """UConn: drainage area / 6 at 6 in deep: 1,917 sq ft -> 320 sq ft (319.5); at 4 in it is a quarter."""
    assert rain_garden_area(1917.0, 6 * INCH) == pytest.approx(319.5)
    assert rain_garden_area(1000.0, 4 * INCH) == pytest.approx(250.0)
    with pytest.raises(GardenError, match="above 0"):
        rain_garden_area(100.0, 0.0)


@pytest.mark.parametrize(
    ("roof", "inches", "soil", "wanted"),
    [
        (750.0, 6.5, "loam", 187.5),  # Illinois DNR: roof 50 x 15 ft, loam, 6-7 in: x .25, rounded up to 200 sq ft
        (200.0, 4.0, "sandy", 38.0),  # UConn/URI table, sandy: 200 sq ft, 4 in
        (1000.0, 6.0, "sandy", 150.0),  # the same: 1,000 sq ft, 6 in
        (600.0, 8.0, "sandy", 48.0),  # the same: 600 sq ft, 8 in
        (1000.0, 4.0, "clay", 430.0),  # Wisconsin manual's factor, second-hand
    ],
)
def test_a_rain_garden_by_the_factors_of_the_ground(roof: float, inches: float, soil: str, wanted: float) -> None:
    assert rain_garden_by_soil(roof, inches * INCH, soil) == pytest.approx(wanted)
