"""Reference water, rain, landscape factors and run times: what is chosen, what is refused, what always holds."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.site.climate import Climate
from gardenkit.site.evapotranspiration import MID_MONTH, daylight_hours, extraterrestrial, hargreaves
from gardenkit.site.water import (
    FACTORS,
    RAIN_METHODS,
    effective_rain,
    hydrozone_factor,
    plant_factor,
    reference_water,
    water_need,
)

SHARED = Path(__file__).resolve().parents[3] / "shared" / "data"
TMIN = (-8.0, -7.0, -3.0, 3.0, 9.0, 14.0, 17.0, 16.0, 12.0, 6.0, 1.0, -5.0)
TMAX = (0.0, 2.0, 8.0, 15.0, 21.0, 26.0, 29.0, 27.0, 23.0, 16.0, 9.0, 2.0)
WARM = Climate(tmin=TMIN, tmax=TMAX)


# -- choosing the method -----------------------------------------------------------------------------------------------


def test_temperatures_alone_give_hargreaves_and_say_why() -> None:
    found = reference_water(WARM, latitude=42)
    assert found.method == "Hargreaves"
    assert found.why == "temperatures only: no humidity or sunshine"
    july = hargreaves(17.0, 29.0, extraterrestrial(42, 196))
    assert found.mm_a_day[6] == pytest.approx(july)
    assert found.mm_a_month[6] == pytest.approx(31 * july)


def test_humidity_and_sunshine_give_penman_monteith() -> None:
    full = Climate(tmin=TMIN, tmax=TMAX, humidity=(70.0,) * 12, sunshine=(6.0,) * 12, wind=(2.0,) * 12)
    found = reference_water(full, latitude=42, elevation=250)
    assert found.method == "FAO-56 Penman-Monteith"
    no_wind = Climate(tmin=TMIN, tmax=TMAX, humidity=(70.0,) * 12, sunshine=(6.0,) * 12)
    assumed = reference_water(no_wind, latitude=42, elevation=250)
    assert "wind taken as 2 m/s" in assumed.why
    assert assumed.mm_a_day == found.mm_a_day


def test_no_temperatures_is_refused() -> None:
    with pytest.raises(GardenError, match="no monthly tmin and tmax"):
        reference_water(Climate(), latitude=42)


def test_far_north_is_marked_rough() -> None:
    assert [f.topic for f in reference_water(WARM, latitude=60).findings] == ["water"]
    assert reference_water(WARM, latitude=-42).findings == ()


@given(st.floats(-66, 66), st.integers(0, 11))
def test_the_southern_year_has_the_northern_day_lengths_turned_round(latitude: float, month: int) -> None:
    day = MID_MONTH[month]
    assert daylight_hours(latitude, day) + daylight_hours(-latitude, day) == pytest.approx(24.0, abs=1e-9)


@given(st.floats(0, 50), st.floats(0, 20), st.floats(0, 45))
def test_hargreaves_grows_with_the_daily_range_and_is_never_below_nothing(low: float, span: float, ra: float) -> None:
    mean = low + span / 2
    assert 0.0 <= hargreaves(low, low + span, ra) <= hargreaves(low - 1, low + span + 1, ra, mean=mean) + 1e-12


def test_lowest_above_highest_is_refused() -> None:
    with pytest.raises(GardenError, match="above the highest"):
        hargreaves(20, 10, 30)


# -- rain --------------------------------------------------------------------------------------------------------------


@given(st.sampled_from(sorted(RAIN_METHODS)), st.floats(0, 1000), st.floats(0, 1000))
def test_effective_rain_is_at_most_the_rain_and_grows_with_it(method: str, a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert 0 <= effective_rain(low, method=method) <= effective_rain(high, method=method) + 1e-9
    assert effective_rain(high, method=method) <= high


def test_the_two_pieces_of_the_scs_form_meet_at_250_mm() -> None:
    assert effective_rain(250) == pytest.approx(150)
    assert effective_rain(250.0001) == pytest.approx(150, abs=1e-3)


def test_unknown_rain_method_and_negative_rain_are_refused() -> None:
    with pytest.raises(GardenError, match='nearest known is "half"'):
        effective_rain(10, method="halve")
    with pytest.raises(GardenError, match="-1 mm"):
        effective_rain(-1)


# -- factors -----------------------------------------------------------------------------------------------------------


def test_factors_of_different_families_are_not_mixed() -> None:
    with pytest.raises(GardenError, match='WUCOLS has no factor for "desert"'):
        hydrozone_factor(["low", "desert"], family="WUCOLS")
    with pytest.raises(GardenError, match='nearest known is "WUCOLS"'):
        plant_factor("low", family="wucol")
    with pytest.raises(GardenError, match="has no plants"):
        hydrozone_factor([], family="WUCOLS")


def test_every_factor_names_its_source() -> None:
    assert all(figure.source for family in FACTORS.values() for figure in family.values())


@given(st.lists(st.sampled_from(sorted(FACTORS["WUCOLS"])), min_size=1), st.sampled_from(sorted(FACTORS["WUCOLS"])))
def test_one_more_plant_never_makes_a_hydrozone_thriftier(words: list[str], more: str) -> None:
    assert hydrozone_factor([*words, more], family="WUCOLS") >= hydrozone_factor(words, family="WUCOLS")


# -- need --------------------------------------------------------------------------------------------------------------


def test_a_bed_needs_its_share_of_eto_less_the_rain() -> None:
    """10 m2, 5 mm a day, factor 0.5, 31 days: 775 litres; 50 mm rain gives 46 mm (50 x 115 / 125)."""
    dry = water_need((5.0,) * 12, area=10, factor=0.5, efficiency=1.0)
    assert dry[0] == pytest.approx(775)
    assert dry[3] == pytest.approx(750)
    wet = water_need((5.0,) * 12, area=10, factor=0.5, rain_mm=(50.0,) * 12, efficiency=1.0)
    assert wet[0] == pytest.approx(775 - 460)
    assert water_need((5.0,) * 12, area=10, factor=0.5)[0] == pytest.approx(775 / 0.85)


def test_a_wet_month_needs_nothing() -> None:
    assert water_need((1.0,) * 12, area=10, factor=0.5, rain_mm=(200.0,) * 12) == (0.0,) * 12


@given(st.floats(0, 500), st.floats(0, 1.3), st.floats(0, 300))
def test_need_is_proportional_to_area_and_rain_never_adds_to_it(area: float, factor: float, rain: float) -> None:
    eto = tuple(range(12))
    one = water_need(eto, area=1, factor=factor, rain_mm=(rain,) * 12)
    many = water_need(eto, area=area, factor=factor, rain_mm=(rain,) * 12)
    assert many == pytest.approx([area * litres for litres in one])
    assert all(a <= b for a, b in zip(many, water_need(eto, area=area, factor=factor), strict=True))


@pytest.mark.parametrize("bad", [{"area": -1.0}, {"factor": -0.1}, {"efficiency": 0.0}, {"efficiency": 1.1}])
def test_what_cannot_be_is_refused(bad: dict[str, float]) -> None:
    with pytest.raises(GardenError, match="give 0 or more"):
        water_need((5.0,) * 12, **({"area": 10.0, "factor": 0.5} | bad))
    with pytest.raises(GardenError, match="11 months of ETo"):
        water_need((5.0,) * 11, area=10, factor=0.5)


if SHARED.is_dir():
    LATITUDE = {  # degrees north of the six NOAA stations
        "AnnArbor": 42.3,
        "ElPaso": 31.8,
        "LosAngeles": 34.0,
        "Murfreesboro": 35.9,
        "NYC": 40.8,
        "Seattle": 47.4,
    }

    def station(city: str) -> Climate:
        with (SHARED / "noaa_monthly_means_1991_2020_6stations.csv").open(encoding="utf-8", newline="") as file:
            rows = sorted(
                (row for row in csv.DictReader(file) if row["city"] == city), key=lambda row: int(row["month"])
            )
        tmin, tmax, rain = ([float(row[column]) for row in rows] for column in ("tmin_C", "tmax_C", "prcp_mm"))
        return Climate(tmin=tmin, tmax=tmax, rain=rain)

    @pytest.mark.parametrize("city", LATITUDE)
    def test_hargreaves_over_noaa_monthly_means_peaks_in_summer(city: str) -> None:
        """NOAA means 1991-2020: highest in June to August, and at least twice the least month."""
        eto = reference_water(station(city), latitude=LATITUDE[city]).mm_a_day
        assert eto.index(max(eto)) in (5, 6, 7)
        assert max(eto) > 2 * min(eto)

    def test_el_paso_needs_most_and_landsburg_only_in_its_dry_summer() -> None:
        """NOAA means 1991-2020, factor 0.5; the 'Seattle' rows are Landsburg: much rain, little of it in July."""
        need = {}
        for city, latitude in LATITUDE.items():
            climate = station(city)
            eto = reference_water(climate, latitude=latitude).mm_a_day
            need[city] = water_need(eto, area=1, factor=0.5, rain_mm=climate.rain)
        assert max(need, key=lambda city: sum(need[city])) == "ElPaso"
        assert [month for month, litres in enumerate(need["Seattle"], start=1) if litres > 0] == [7, 8]
