"""Gallons, run times, landscape factors and water allowances as irrigation manuals and ordinances print them."""

import pytest

from gardenkit.site.water import (
    FACTORS,
    dripline_mm_an_hour,
    hydrozone_factor,
    run_minutes,
)
from gardenkit.units import INCH, US_GALLON


def test_a_fifth_of_an_inch_at_0_58_inches_an_hour() -> None:
    """Same manual, run-time chapter: 0.34 h, 21 min (20.7)."""
    assert round(run_minutes(0.2 * 25.4, rate_mm_an_hour=0.58 * 25.4), 1) == 20.7


@pytest.mark.parametrize(("gph", "row", "emitter", "rate"), [(0.9, 12, 12, 1.444), (0.6, 18, 18, 0.428)])
def test_dripline_rate_inches_an_hour(gph: float, row: float, emitter: float, rate: float) -> None:
    """Irrigation manufacturer's catalogue: 231.1 x gph / (row x emitter spacing); 231 cu in to a gallon."""
    found = dripline_mm_an_hour(gph * US_GALLON, row_spacing=row * INCH, emitter_spacing=emitter * INCH)
    assert round(found / 25.4, 3) == rate


def test_asabe_s623_factors() -> None:
    """ANSI/ASABE S623.1, Jan 2017, from memory: said so in every source."""
    factors = FACTORS["ASABE S623.1"]
    assert factors["cool turf"] == 0.8
    assert factors["warm turf"] == 0.6
    assert factors["annual flowers"] == 0.8
    assert (factors["woody, dry summer"], factors["woody, wet summer"]) == (0.5, 0.7)
    assert factors["desert"] == 0.3
    assert all("from memory" in figure.source for figure in factors.values())


def test_washington_state_drip_coefficients_and_climates() -> None:
    """irrigation.wsu.edu."""
    assert FACTORS["Washington State drip"] == {
        "tree": 1.1,
        "shrub": 0.9,
        "ground cover": 1.0,
        "mixed": 1.1,
        "turf": 0.8,
    }


def test_mixed_hydrozone_takes_its_thirstiest_plants_factor() -> None:
    """Utah State Univ., psc_facpub 771."""
    assert hydrozone_factor(["low", "high", "moderate"], family="WUCOLS") == 0.8
