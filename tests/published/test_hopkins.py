"""A. D. Hopkins, bioclimatic law, 1918, as quoted in the A. Leopold papers, Univ. of Wisconsin library."""

import pytest

from gardenkit.site.phenology import hopkins_between, hopkins_shift_days
from gardenkit.units import FOOT

CASES = [  # degrees north, degrees east, feet up, days later in spring
    (1, 0, 0, 4),
    (0, 5, 0, 4),
    (0, 0, 400, 4),
    (0, 0, 100, 1),
    (1, -5, 200, 2),
    (1.5, -5, 600, 8),
]


@pytest.mark.parametrize(("north", "east", "feet", "days"), CASES)
def test_spring_comes_later_north_east_and_up_and_autumn_as_much_earlier(
    north: float, east: float, feet: float, days: float
) -> None:
    spring = hopkins_shift_days(degrees_north=north, degrees_east=east, metres_up=feet * FOOT)
    autumn = hopkins_shift_days(degrees_north=north, degrees_east=east, metres_up=feet * FOOT, season="autumn")
    assert (spring, autumn) == (pytest.approx(days, abs=1e-9), pytest.approx(-days, abs=1e-9))


def test_longitude_minus_90_to_minus_85_is_five_degrees_east_so_later() -> None:
    assert hopkins_between((40, -90, 0), (40, -85, 0)) == pytest.approx(4, abs=1e-9)
    assert hopkins_between((40, -85, 0), (40, -90, 0)) == pytest.approx(-4, abs=1e-9)
