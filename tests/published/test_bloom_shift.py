"""When things flower elsewhere: Hopkins's law (1918, as quoted in the A. Leopold papers) in the bloom calendar."""

import pytest

from gardenkit.planting.bloom import REFERENCE_PLACE, Shift, site_shift
from gardenkit.planting.season import MONTH_DAYS, SHIFT_OF_MONTH, shifted_months
from gardenkit.site.climate import Climate
from gardenkit.units import FOOT


@pytest.mark.parametrize(
    ("north", "east", "feet", "days"),
    [(1, 0, 0, 4), (0, 5, 0, 4), (0, 0, 400, 4), (0, 0, 100, 1), (1.5, -5, 600, 8), (0, -5, 0, -4)],
)
def test_a_site_north_east_or_up_of_the_reference_flowers_later(
    north: float, east: float, feet: float, days: float
) -> None:
    """+1 deg north 4 days, +5 deg east 4 days, +400 ft 4 days; east is LATER in North America."""
    lat, lon, high = REFERENCE_PLACE
    found: Shift = site_shift(
        Climate(), latitude=lat + north, longitude=lon + east, elevation=high + feet * FOOT, way="hopkins"
    )
    assert found.days == pytest.approx(days, abs=1e-9)


def test_spring_bloom_moves_later_and_autumn_bloom_earlier_by_the_same_days() -> None:
    """The sign reverses in autumn (earlier northward, upward)."""
    assert SHIFT_OF_MONTH[3] == -SHIFT_OF_MONTH[9] == 1
    assert shifted_months(4, 4, MONTH_DAYS) == (5,)
    assert shifted_months(10, 10, MONTH_DAYS) == (9,)


def test_eight_days_move_no_month_of_the_calendar_by_more_than_its_edges() -> None:
    assert shifted_months(4, 5, 8) == (4, 5)
