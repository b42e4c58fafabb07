"""USDA Plant Hardiness Zone Map half-zones, AHS heat zones and RHS ratings, as their societies print them."""

import csv
from pathlib import Path

import pytest

from gardenkit.findings import GardenError
from gardenkit.site.hardiness import (
    HALF_ZONES,
    MAP_PERIODS,
    heat_zone,
    zone_limits_c,
    zone_of_minimum,
    zone_of_years,
)

SHARED = Path(__file__).resolve().parents[3] / "shared" / "data"

ZONES = {  # degrees C as printed beside the Fahrenheit limits
    "1a": (-51.1, -48.3),
    "1b": (-48.3, -45.6),
    "2a": (-45.6, -42.8),
    "2b": (-42.8, -40.0),
    "3a": (-40.0, -37.2),
    "3b": (-37.2, -34.4),
    "4a": (-34.4, -31.7),
    "4b": (-31.7, -28.9),
    "5a": (-28.9, -26.1),
    "5b": (-26.1, -23.3),
    "6a": (-23.3, -20.6),
    "6b": (-20.6, -17.8),
    "7a": (-17.8, -15.0),
    "7b": (-15.0, -12.2),
    "8a": (-12.2, -9.4),
    "8b": (-9.4, -6.7),
    "9a": (-6.7, -3.9),
    "9b": (-3.9, -1.1),
    "10a": (-1.1, 1.7),
    "10b": (1.7, 4.4),
    "11a": (4.4, 7.2),
    "11b": (7.2, 10.0),
    "12a": (10.0, 12.8),
    "12b": (12.8, 15.6),
    "13a": (15.6, 18.3),
    "13b": (18.3, 21.1),
}


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize("zone", ZONES)
def test_limits_of_each_half_zone(zone: str) -> None:
    assert [round(limit, 1) for limit in zone_limits_c(zone)] == list(ZONES[zone])


def test_there_are_26_half_zones() -> None:
    assert tuple(ZONES) == HALF_ZONES


def test_the_lower_bound_belongs_to_the_zone() -> None:
    for step, zone in enumerate(HALF_ZONES):
        assert zone_of_minimum(celsius(-60 + 5 * step)) == zone
        assert zone_of_minimum(celsius(-60 + 5 * step + 4.999)) == zone


def test_32_f_is_0_c_and_zone_10a() -> None:
    assert zone_of_minimum(0.0) == "10a"


@pytest.mark.parametrize("fahrenheit", [-60.1, 70.1])
def test_outside_the_map_is_refused(fahrenheit: float) -> None:
    with pytest.raises(GardenError, match="outside the zone map"):
        zone_of_minimum(celsius(fahrenheit))


@pytest.mark.parametrize(
    ("days", "zone"),
    [
        *((0, 1), (0.9, 1), (1, 2), (7, 2), (7.1, 3), (14, 3), (15, 4), (30, 4), (31, 5), (45, 5), (46, 6), (60, 6)),
        *((61, 7), (90, 7), (91, 8), (120, 8), (121, 9), (150, 9), (151, 10), (180, 10), (181, 11), (210, 11)),
        *((211, 12), (366, 12)),
    ],
)
def test_ahs_heat_zones_by_days_above_30_c(days: float, zone: int) -> None:
    assert heat_zone(days) == zone


if SHARED.is_dir():
    OLD = {"AnnArbor": "6a", "ElPaso": "8a", "LosAngeles": "10b", "Murfreesboro": "7a", "NYC": "7b", "Seattle": "8a"}

    def noaa_minima(city: str, column: str) -> dict[int, float]:
        with (SHARED / "noaa_annual_extreme_min_6stations.csv").open(encoding="utf-8", newline="") as file:
            rows = [row for row in csv.DictReader(file) if row["city"] == city]
        return {int(row["year"]): float(row[column]) for row in rows if row[column]}

    @pytest.mark.parametrize("city", OLD)
    def test_six_noaa_stations_over_the_years_of_the_2012_map(city: str) -> None:
        """Mean yearly minimum 1976-2005, NOAA NCEI; 'Seattle' is Landsburg."""
        first, last, _source = MAP_PERIODS["USDA 2012 map"]
        minima = noaa_minima(city, "ext_min_calendar_year_C")
        assert zone_of_years(minima, first=first, last=last).zone == OLD[city]
        winters = noaa_minima(city, "ext_min_winter_starting_this_july_C")
        assert zone_of_years(winters, first=first, last=last, year="winter").zone == OLD[city]

    def test_three_of_six_noaa_stations_move_up_half_a_zone_on_the_2023_map() -> None:
        first, last, _source = MAP_PERIODS["USDA 2023 map"]
        moved = {}
        for city, old in OLD.items():
            new = zone_of_years(noaa_minima(city, "ext_min_calendar_year_C"), first=first, last=last).zone
            if new != old:
                moved[city] = HALF_ZONES.index(new) - HALF_ZONES.index(old)
        assert moved == {"ElPaso": 1, "Murfreesboro": 1, "Seattle": 1}
