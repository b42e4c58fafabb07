"""Published sun positions, sunrises and noon shadows, exactly as printed."""

import datetime as dt
import math

import numpy as np
import pytest

from gardenkit.geometry.solid import panel
from gardenkit.site import shade, sky
from gardenkit.site.place import Place
from gardenkit.units import FOOT

# Reda & Andreas, Solar Position Algorithm, NREL/TP-560-34302, rev. January 2008, worked example, tables A4 and A5
EXAMPLE = Place(latitude=39.742476, longitude=-105.1786, elevation=1830.14, timezone="Etc/GMT+7")
MOMENT = dt.datetime.fromisoformat("2003-10-17T12:30:30")
PRESSURE, TEMPERATURE = 82000.0, 11.0  # 820 mbar, 11 C


def test_nrel_example_gives_the_printed_zenith_and_azimuth() -> None:
    sun = sky.sun_position(EXAMPLE, MOMENT, pressure=PRESSURE, temperature=TEMPERATURE)
    assert 90 - sun.elevation == pytest.approx(50.11162, abs=3e-4)
    assert sun.azimuth == pytest.approx(194.340241, abs=3e-4)
    assert sun.azimuth - 180 == pytest.approx(14.340241, abs=3e-4)  # astronomers' azimuth, from south


def test_nrel_example_gives_the_printed_elevations_and_refraction() -> None:
    sun = sky.sun_position(EXAMPLE, MOMENT, pressure=PRESSURE, temperature=TEMPERATURE)
    assert sun.true_elevation == pytest.approx(39.872046, abs=1e-4)
    assert sun.elevation == pytest.approx(39.888378, abs=1e-4)
    assert sun.elevation - sun.true_elevation == pytest.approx(0.016332, abs=1e-4)


def test_nrel_example_gives_the_printed_equation_of_time() -> None:
    moment = np.array([sky.local_time(EXAMPLE, MOMENT).timestamp()])
    equation = sky.positions(moment, 39.742476, -105.1786, 1830.14)[3]
    assert equation[0] == pytest.approx(14.64, abs=0.01)


def test_nrel_example_fence_shades_a_band_6_955_ft_deep() -> None:
    """An E-W fence 6 ft high: 6.955 ft, the shadow 1.778 ft further east than the fence; geometry from the same
    example.
    """
    fence = panel("fence", (0, 0), (10 * FOOT, 0), 0, 6 * FOOT)
    (cast,) = shade.shadows_at((fence,), EXAMPLE, MOMENT)
    corners = np.array(cast.outline) / FOOT
    assert corners[:, 1].max() == pytest.approx(6.955, abs=0.001)
    assert corners[:, 0].max() - 10 == pytest.approx(1.778, abs=0.001)
    assert math.hypot(corners[:, 1].max(), corners[:, 0].max() - 10) == pytest.approx(7.179, abs=0.001)


# US Naval Observatory, 39 N 105 W, UTC-7, to the minute
@pytest.mark.parametrize(
    ("date", "rise", "sets"),
    [
        (dt.date(2015, 1, 2), "07:19", "16:49"),
        (dt.date(2015, 4, 2), "05:43", "18:24"),
        (dt.date(2015, 8, 2), "05:01", "19:10"),
        (dt.date(2015, 12, 2), "07:01", "16:38"),
    ],
)
def test_naval_observatory_sunrise_and_sunset_within_a_minute(date: dt.date, rise: str, sets: str) -> None:
    day = sky.sun_day(Place(latitude=39.0, longitude=-105.0, timezone="Etc/GMT+7"), date)
    for found, printed in ((day.rise, rise), (day.set, sets)):
        assert found is not None
        expected = dt.datetime.combine(date, dt.time.fromisoformat(printed), tzinfo=found.tzinfo)
        assert abs((found - expected).total_seconds()) <= 60


# NREL/TP-560-34302, sunrise and sunset table, longitude 0, UTC; 2 s for an algorithm of this class
@pytest.mark.parametrize(
    ("latitude", "date", "rise", "sets"),
    [
        (35.0, dt.date(1994, 1, 2), "07:08:12", "16:59:55"),
        (-35.0, dt.date(1996, 7, 5), "07:08:15", "17:01:04"),
    ],
)
def test_nrel_sunrise_and_sunset_within_two_seconds(latitude: float, date: dt.date, rise: str, sets: str) -> None:
    day = sky.sun_day(Place(latitude=latitude, longitude=0.0, timezone="UTC"), date)
    for found, printed in ((day.rise, rise), (day.set, sets)):
        assert found is not None
        expected = dt.datetime.combine(date, dt.time.fromisoformat(printed), tzinfo=found.tzinfo)
        assert abs((found - expected).total_seconds()) <= 2


# altitude = 90 - |latitude - declination|, declination 23.44 or 0; shadow of a 6 ft fence in feet (plain geometry)
NOON = [
    (25, (88.44, 0.16), (65.00, 2.80), (41.56, 6.77)),
    (30, (83.44, 0.69), (60.00, 3.46), (36.56, 8.09)),
    (35, (78.44, 1.23), (55.00, 4.20), (31.56, 9.77)),
    (40, (73.44, 1.78), (50.00, 5.03), (26.56, 12.00)),
    (45, (68.44, 2.37), (45.00, 6.00), (21.56, 15.19)),
    (50, (63.44, 3.00), (40.00, 7.15), (16.56, 20.18)),
    (52, (61.44, 3.27), (38.00, 7.68), (14.56, 23.10)),
]
TURNS = {  # solstices and an equinox of 2024, UTC hours; a noon that falls on them has the tabled declination
    "June": (dt.date(2024, 6, 20), 20 + 51 / 60),
    "equinox": (dt.date(2024, 3, 20), 3 + 6 / 60),
    "December": (dt.date(2024, 12, 21), 9 + 21 / 60),
}


@pytest.mark.parametrize(("latitude", "june", "equinox", "december"), NOON)
def test_noon_altitudes_and_shadows_of_a_6_ft_fence(
    latitude: float, june: tuple[float, float], equinox: tuple[float, float], december: tuple[float, float]
) -> None:
    for (date, hour), (altitude, shadow_ft) in zip(TURNS.values(), (june, equinox, december), strict=True):
        place = Place(latitude=latitude, longitude=15 * (12 - hour), timezone="UTC")
        found = sky.sun_position(place, sky.sun_day(place, date).noon)
        assert found.true_elevation == pytest.approx(altitude, abs=0.01)
        assert 6 / math.tan(math.radians(found.true_elevation)) == pytest.approx(shadow_ft, abs=0.012)


def test_noon_shadow_points_north_in_the_north_and_south_in_the_south() -> None:
    for latitude, direction in ((45.0, 180.0), (-45.0, 0.0)):
        place = Place(latitude=latitude, timezone="UTC")
        noon = sky.sun_day(place, dt.date(2025, 3, 20)).noon
        away = (sky.sun_position(place, noon).azimuth - direction + 180) % 360 - 180
        assert away == pytest.approx(0.0, abs=0.01)


def test_inside_the_tropics_the_noon_shadow_flips_in_the_year() -> None:
    place = Place(latitude=15.0, timezone="UTC")
    june, december = (sky.sun_position(place, sky.sun_day(place, dt.date(2025, m, 21)).noon).azimuth for m in (6, 12))
    assert abs((june + 180) % 360 - 180) < 1
    assert december == pytest.approx(180, abs=1)


def test_june_sunrise_lies_north_of_east_below_the_polar_circle() -> None:
    for latitude in (10.0, 40.0, 60.0, 65.5):
        place = Place(latitude=latitude, timezone="UTC")
        rise = sky.sun_day(place, dt.date(2025, 6, 10)).rise
        assert rise is not None
        assert sky.sun_position(place, rise).azimuth < 90
