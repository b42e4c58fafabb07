"""Zones, frost dates, growing season and heat come out of daily weather as a gardener would count them."""

import csv
import datetime as dt
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.site.climate import Climate, climate_findings, climate_of
from gardenkit.site.frost import (
    FROST_THRESHOLDS,
    FrostYear,
    frost_years,
    growing_season_days,
    mean_frost_date,
)
from gardenkit.site.hardiness import (
    HALF_ZONES,
    hardiness_zone,
    heat_days,
    heat_zone,
    zone_limits_c,
    zone_of_minimum,
    zone_of_years,
)
from gardenkit.site.phenology import hopkins_between, hopkins_shift_days
from gardenkit.site.weather import DailyWeather, read_weather

SHARED = Path(__file__).resolve().parents[3] / "shared" / "data"


def weather_of(first: str, last: str, cold: dict[str, float], *, warm: float = 8.0, hot: float = 20.0) -> DailyWeather:
    dates = np.arange(np.datetime64(first), np.datetime64(last) + 1)
    tmin = np.full(len(dates), warm)
    for day, reading in cold.items():
        tmin[dates == np.datetime64(day)] = reading
    return DailyWeather(dates=dates, tmin=tmin, tmax=np.full(len(dates), hot), rain=np.zeros(len(dates)))


# -- zones -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "zone"), [("6b", "6b"), (" 6B ", "6b"), ("zone 10a", "10a"), ("6", "6"), ("USDA zone 13b", "13b")]
)
def test_zones_are_read_as_people_write_them(text: str, zone: str) -> None:
    assert hardiness_zone(text) == zone


@pytest.mark.parametrize("text", ["14a", "0b", "6c", "b6", "", "6.5"])
def test_what_is_no_zone_is_refused(text: str) -> None:
    with pytest.raises(GardenError, match="1a to 13b"):
        hardiness_zone(text)


def test_a_whole_zone_spans_both_halves() -> None:
    assert zone_limits_c("6") == (zone_limits_c("6a")[0], zone_limits_c("6b")[1])


@given(st.floats(-51.1, 21.1), st.floats(-51.1, 21.1))
def test_a_warmer_winter_is_never_a_colder_zone(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert HALF_ZONES.index(zone_of_minimum(low)) <= HALF_ZONES.index(zone_of_minimum(high))


@given(st.floats(-51.0, 21.0))
def test_a_zone_holds_its_minimum(minimum: float) -> None:
    low, high = zone_limits_c(zone_of_minimum(minimum))
    assert low - 1e-9 <= minimum <= high + 1e-9


def test_a_zone_of_years_says_period_convention_and_how_many_it_used() -> None:
    minima = {1990: -30.0, 1991: -20.0, 1992: -22.0, 1993: float("nan"), 2021: -30.0}
    found = zone_of_years(minima, first=1991, last=2020, year="winter")
    assert (found.zone, found.years_used, found.mean_minimum_c) == ("6a", 2, -21.0)
    assert "winters" in found.source
    assert "1991-2020" in found.source
    assert any("2 years only" in f.what for f in found.findings())


def test_a_zone_near_its_edge_says_so() -> None:
    assert any("near thing" in f.what for f in zone_of_years({2000: -17.7}, first=2000, last=2000).findings())


def test_a_period_without_readings_is_refused() -> None:
    with pytest.raises(GardenError, match="no yearly minimum from 1991 to 2020"):
        zone_of_years({1980: -20.0}, first=1991, last=2020)


# -- frost -------------------------------------------------------------------------------------------------------------


def test_last_of_spring_first_of_autumn_and_the_days_between() -> None:
    weather = weather_of("2013-01-01", "2013-12-31", {"2013-02-01": -5, "2013-04-10": 0.0, "2013-10-20": -1})
    (year,) = frost_years(weather)
    assert (year.last_spring, year.first_autumn) == (dt.date(2013, 4, 10), dt.date(2013, 10, 20))
    assert (year.first_autumn - year.last_spring).days - 1 == 192
    assert (year.lowest_c, year.missing_days) == (-5, 0)
    (hard,) = frost_years(weather, threshold=FROST_THRESHOLDS["hard freeze, -2.2 °C"])
    assert (hard.last_spring, hard.first_autumn) == (dt.date(2013, 2, 1), None)


def test_southern_spring_is_july_to_december() -> None:
    weather = weather_of("2012-07-01", "2013-06-30", {"2012-09-15": -1, "2013-05-02": -1})
    (year,) = frost_years(weather, southern=True)
    assert (year.year, year.last_spring, year.first_autumn) == (2012, dt.date(2012, 9, 15), dt.date(2013, 5, 2))
    assert mean_frost_date([year], "spring", southern=True) == "09-15"
    assert growing_season_days("09-15", "05-02") == 229


def frost_year(year: int, spring: str | None, autumn: str | None) -> FrostYear:
    dates = [None if day is None else dt.date.fromisoformat(f"{year}-{day}") for day in (spring, autumn)]
    return FrostYear(year=year, last_spring=dates[0], first_autumn=dates[1], lowest_c=-5, missing_days=0)


SPRINGS, AUTUMNS = ("04-01", "04-05", "04-09", "04-13", "04-17"), ("10-01", "10-05", "10-09", "10-13", "10-17")
FIVE_YEARS = [frost_year(2001 + n, s, a) for n, (s, a) in enumerate(zip(SPRINGS, AUTUMNS, strict=True))]


# -- heat, degree days, shifts -----------------------------------------------------------------------------------------


def test_thirty_degrees_exactly_is_no_heat_day() -> None:
    weather = weather_of("2013-06-01", "2013-06-03", {}, hot=30.0)
    assert heat_days(weather) == {2013: 0}
    assert heat_days(weather_of("2013-06-01", "2013-06-03", {}, hot=30.1)) == {2013: 3}


@given(st.floats(0, 366), st.floats(0, 366))
def test_more_heat_days_never_lower_the_heat_zone(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert 1 <= heat_zone(low) <= heat_zone(high) <= 12


@given(st.floats(-20, 20), st.floats(-90, 90), st.floats(-3000, 3000))
def test_there_and_back_shifts_dates_by_nothing(north: float, east: float, up: float) -> None:
    there = hopkins_shift_days(degrees_north=north, degrees_east=east, metres_up=up)
    back = hopkins_shift_days(degrees_north=-north, degrees_east=-east, metres_up=-up)
    assert there + back == pytest.approx(0, abs=1e-9)


def test_southern_places_count_latitude_towards_their_own_pole() -> None:
    assert hopkins_between((-34, 150, 0), (-36, 150, 0)) == pytest.approx(8)
    assert hopkins_between((34, 179, 0), (34, -179, 0)) == pytest.approx(1.6)
    with pytest.raises(GardenError, match="equator"):
        hopkins_between((10, 0, 0), (-10, 0, 0))


# -- the record --------------------------------------------------------------------------------------------------------


def test_the_record_checks_what_it_is_given() -> None:
    climate = Climate(zone="Zone 6B", last_frost="04-15", tmin=range(12))
    assert (climate.zone, climate.last_frost, climate.tmin) == ("6b", "04-15", tuple(map(float, range(12))))
    with pytest.raises(GardenError, match='"15/4" cannot be read'):
        Climate(last_frost="15/4")
    with pytest.raises(GardenError, match="11 were given"):
        Climate(rain=(1.0,) * 11)


def test_what_is_missing_is_asked_for() -> None:
    said = " ".join(f.what for f in climate_findings(Climate()))
    assert "hardiness zone is not given" in said
    assert "frost date is missing" in said
    known = Climate(zone="6b", zone_source="USDA 2023 map", last_frost="04-15", first_frost="10-20")
    assert [f.what[:8] for f in climate_findings(known)] == ["188 days"]


def test_the_climate_of_a_daily_record() -> None:
    cold = {"2012-04-10": -1.0, "2013-04-20": -1.0, "2012-10-10": -1.0, "2013-10-20": -1.0}
    climate = climate_of(weather_of("2012-01-01", "2013-12-31", cold, hot=31.0))
    assert (climate.last_frost, climate.first_frost) == ("04-15", "10-15")
    assert climate.heat_days == pytest.approx(365.5)
    assert climate.tmax == (31.0,) * 12
    assert climate.zone is None


if SHARED.is_dir():

    def test_frost_dates_of_two_cities_match_the_reference_rows() -> None:
        """All 16 rows, worked out from NOAA daily weather by others."""
        with (SHARED / "frost_dates_seattle_newyork_2012_2015.csv").open(encoding="utf-8", newline="") as file:
            expected = list(csv.DictReader(file))
        found = []
        for row in expected:
            weather = read_weather(SHARED / "daily_weather_seattle_newyork_2012_2015.csv", place=row["location"])
            years = {y.year: y for y in frost_years(weather, threshold=float(row["threshold_C"]))}
            year = years[int(row["year"])]
            dates = {
                "last_spring": year.last_spring,
                "first_fall": year.first_autumn,
            }
            found.append(
                {k: "" if v is None else str(v) for k, v in dates.items()} | {"annual_min_C": f"{year.lowest_c:g}"}
            )
        wanted = [{k: row[k] for k in ("last_spring", "first_fall")} for row in expected]
        coldest = [{"annual_min_C": f"{float(row['annual_min_C']):g}"} for row in expected]
        assert len(found) == 16
        assert found == [dates | low for dates, low in zip(wanted, coldest, strict=True)]
