"""Gallons, run times, landscape factors and water allowances as irrigation manuals and ordinances print them."""

import pytest

from gardenkit.site.water import (
    DENSITY,
    FACTORS,
    GALLONS_PER_INCH_SQ_FT,
    MAWA_FACTORS,
    PEAK_ET_IN_A_DAY,
    WUCOLS_BANDS,
    allowance_gallons,
    demand_gallons,
    dripline_mm_an_hour,
    gallons,
    hydrozone_factor,
    landscape_coefficient,
    litres_a_day,
    longest_run_hours,
    plant_factor,
    run_minutes,
)
from gardenkit.units import FOOT, INCH, SQUARE_FOOT, US_GALLON


def test_an_inch_over_a_square_foot_is_0_6234_gallons() -> None:
    assert round(GALLONS_PER_INCH_SQ_FT, 4) == 0.6234
    assert gallons(25.4 * SQUARE_FOOT) == pytest.approx(GALLONS_PER_INCH_SQ_FT, rel=1e-12)


def test_fifteen_foot_tree_before_and_after_efficiency() -> None:
    """Irrigation dealer's lesson: 176.71 sq ft, factor 0.80, 0.25 in a day; 22.018 gal by 0.623, then / 0.85."""
    area = 176.71 * SQUARE_FOOT
    exact = gallons(litres_a_day(area, factor=0.80, et_mm_a_day=0.25 * 25.4))
    assert exact * 0.623 / GALLONS_PER_INCH_SQ_FT == pytest.approx(22.018, abs=0.0005)
    after = gallons(litres_a_day(area, factor=0.80, et_mm_a_day=0.25 * 25.4, efficiency=0.85))
    assert after * 0.623 / GALLONS_PER_INCH_SQ_FT == pytest.approx(25.90, abs=0.005)


def test_dense_planting_at_half_of_0_35_inches() -> None:
    """Irrigation manufacturer's design manual: 0.175 in a day."""
    assert litres_a_day(1, factor=0.5, et_mm_a_day=0.35 * 25.4) / 25.4 == pytest.approx(0.175, abs=1e-12)


def test_a_fifth_of_an_inch_at_0_58_inches_an_hour() -> None:
    """Same manual, run-time chapter: 0.34 h, 21 min (20.7)."""
    assert round(run_minutes(0.2 * 25.4, rate_mm_an_hour=0.58 * 25.4), 1) == 20.7


@pytest.mark.parametrize(("gph", "row", "emitter", "rate"), [(0.9, 12, 12, 1.444), (0.6, 18, 18, 0.428)])
def test_dripline_rate_inches_an_hour(gph: float, row: float, emitter: float, rate: float) -> None:
    """Irrigation manufacturer's catalogue: 231.1 x gph / (row x emitter spacing); 231 cu in to a gallon."""
    found = dripline_mm_an_hour(gph * US_GALLON, row_spacing=row * INCH, emitter_spacing=emitter * INCH)
    assert round(found / 25.4, 3) == rate


def test_longest_run_of_an_emitter() -> None:
    """Design manual, app. A (J. Hung, 1993): C .5, AW 1.7 in/ft, D 12 in, S 18 in, q 0.6 gph, e .9 -> 2.21 h."""
    hours = longest_run_hours(
        share=0.5,
        water_mm_per_m=1.7 * INCH / FOOT * 1000,
        depth=12 * INCH,
        spacing=18 * INCH,
        litres_an_hour=0.6 * US_GALLON,
        efficiency=0.9,
    )
    assert round(hours, 2) == 2.21


def test_wucols_bands() -> None:
    """WateReuse guide, watereuse.org/salinity-management: each factor lies in its own band."""
    assert WUCOLS_BANDS == {"very low": (0, 0.1), "low": (0.1, 0.3), "moderate": (0.4, 0.6), "high": (0.7, 0.9)}
    for word, (low, high) in WUCOLS_BANDS.items():
        assert low <= plant_factor(word, family="WUCOLS") <= high


def test_wucols_product_of_three_factors() -> None:
    assert landscape_coefficient(0.5, density=1.1, microclimate=1.2) == pytest.approx(0.66)


@pytest.mark.parametrize(
    ("kind", "row", "density"),
    [
        ("tree", (0.2, 0.5, 0.9), (0.5, 1.0, 1.3)),
        ("shrub", (0.2, 0.5, 0.7), (0.5, 1.0, 1.1)),
        ("ground cover", (0.2, 0.5, 0.7), (0.5, 1.0, 1.1)),
        ("mixed", (0.2, 0.5, 0.9), (0.6, 1.1, 1.3)),
    ],
)
def test_design_manual_tables_4_2_and_4_3(kind: str, row: tuple[float, ...], density: tuple[float, ...]) -> None:
    found = tuple(plant_factor(f"{kind}, {need}", family="design manual") for need in ("low", "average", "high"))
    assert (found, DENSITY[kind]) == (row, density)


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
    assert list(PEAK_ET_IN_A_DAY.values()) == [0.13, 0.17, 0.18, 0.22, 0.25, 0.33]


def test_mixed_hydrozone_takes_its_thirstiest_plants_factor() -> None:
    """Utah State Univ., psc_facpub 771."""
    assert hydrozone_factor(["low", "high", "moderate"], family="WUCOLS") == 0.8


def test_california_2009_allowance_and_demand_in_the_ordinances_own_units() -> None:
    """MAWA = ETo x 0.62 x [0.7 LA + 0.3 SLA]; demand = ETo x 0.62 x [PF x HA / IE + SLA]; LA includes SLA."""
    eto, area, special = 50.0, 2000.0, 500.0  # in, sq ft, sq ft
    found = allowance_gallons(
        eto * 25.4, area=area * SQUARE_FOOT, special=special * SQUARE_FOOT, rule="California 2009"
    )
    assert found == pytest.approx(50 * 0.62 * (0.7 * 2000 + 0.3 * 500), rel=1e-12)
    need = demand_gallons(eto * 25.4, zones=[(0.5, 1500 * SQUARE_FOOT, 0.71)], special=special * SQUARE_FOOT)
    assert need == pytest.approx(50 * 0.62 * (0.5 * 1500 / 0.71 + 500), rel=1e-12)


def test_later_allowance_factors() -> None:
    """2015 revision 0.55 residential, 0.45 other, from memory; San Diego County 0.42."""
    assert MAWA_FACTORS == {
        "California 2009": 0.7,
        "California 2015 residential": 0.55,
        "California 2015 other": 0.45,
        "San Diego County": 0.42,
    }
