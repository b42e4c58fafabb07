"""Daily light: Faust and Logan 2018, FAO-56's worked examples, Duffie and Beckman's hour of a day, and a wall's sky."""

import math

import numpy as np
import pytest

from gardenkit.geometry.solid import block, panel
from gardenkit.site import daily_light, sky, sun
from gardenkit.site import evapotranspiration as fao
from gardenkit.site.climate import Climate
from gardenkit.site.daily_light import Radiation, radiation
from gardenkit.site.place import Place

PLACE = Place(latitude=42.0, longitude=-72.0, elevation=100.0, timezone="America/New_York")
MAY, JULY = 4, 6
SPOTS = np.array([[0.0, 0.5], [0.0, 1.0], [0.0, 2.0], [0.0, 4.0], [0.0, 8.0]])


def even_sky() -> sky.SunTable:
    """A sky alike everywhere, worth 1 on open level ground, in January."""
    azimuth, elevation = daily_light.sky_spots()
    many = len(azimuth)
    return sky.SunTable(
        month=np.ones(many, dtype=np.int64),
        hours=np.full(many, 1 / many),
        azimuth=azimuth,
        elevation=elevation,
        afternoon=azimuth >= 180,
    )


def open_field(mj: float) -> Radiation:
    return Radiation(whole=(mj,) * 12, from_sky=(0.4 * mj,) * 12, why="as measured")


def test_faust_and_logan_mol_per_wh() -> None:
    """0.007265 mol a Wh, printed as 45 % of it at 4.48 micromol a joule: 0.00726 to the three digits of these."""
    assert pytest.approx(0.45 * 3600 * 4.48e-6, abs=0.00001) == daily_light.MOL_PER_WH
    assert open_field(3.6).light == pytest.approx((7.265,) * 12)  # 3.6 MJ are 1,000 Wh


def test_fao_56_example_10_rio_de_janeiro_in_may() -> None:
    """Example 10: 22 deg 54 min south, 7.1 h of sunshine, Rs = 14.4 to 14.5 MJ/m2/day."""
    found = radiation(Climate(sunshine=(7.1,) * 12), latitude=-22.9)
    assert found.whole[MAY] == pytest.approx(14.45, abs=0.1)
    assert found.light[MAY] == pytest.approx(14.45 / 3.6 * 7.265, abs=0.2)


def test_fao_56_example_15_lyon_in_july() -> None:
    """Example 15: 45 deg 43 min north, 14.8 to 26.6 degrees C, Ra 40.6, Rs = 22.3 MJ/m2/day."""
    assert fao.solar_of_temperatures(14.8, 26.6, 40.6) == pytest.approx(22.3, abs=0.05)
    found = radiation(Climate(tmin=(14.8,) * 12, tmax=(26.6,) * 12), latitude=45 + 43 / 60, elevation=200)
    assert found.whole[JULY] == pytest.approx(22.3, abs=0.1)


def test_duffie_and_beckman_an_hour_after_noon_in_madison() -> None:
    """Example 2.13.2 (from memory, to be confirmed): 43 north, 23 August, 1 to 2 in the afternoon, 0.118 of the day."""
    tilt = math.radians(23.45 * math.sin(math.radians(360 * (284 + 235) / 365)))
    sunset = math.acos(-math.tan(math.radians(43)) * math.tan(tilt))
    assert daily_light.hour_share(np.radians([22.5]), sunset) == pytest.approx([0.118], abs=0.0006)


@pytest.mark.parametrize(
    ("sunset", "share"), [(80.0, 1.391 - 1.780 + 1.04725 - 0.267125), (90.0, 1.311 - 1.511 + 0.85675 - 0.227625)]
)
def test_erbs_klein_and_duffie_a_half_clear_month(sunset: float, share: float) -> None:
    """1982: their two cubics, of short days and long ones, term by term at a clearness of 0.5; clearer is less sky."""
    shares = [daily_light.diffuse_share(k, math.radians(sunset)) for k in (0.2, 0.3, 0.5, 0.8)]
    assert shares[2] == pytest.approx(share)
    assert shares[0] == shares[1] > shares[2] > shares[3] > 0


def test_an_open_field_gets_the_radiation_of_the_place() -> None:
    found = radiation(Climate(sunshine=(6.0,) * 12), latitude=42.0, elevation=100.0)
    table = daily_light.light_table(sky.sun_table(PLACE), found, latitude=42.0)
    assert sun.sun_hours(SPOTS, [], table)[:, 0] == pytest.approx(found.light)


def test_open_ground_sees_the_whole_sky_and_a_long_wall_takes_what_geometry_says() -> None:
    """Beside an endless wall of elevation a: (1 + cos a) / 2 of an even sky."""
    assert sun.sun_hours(SPOTS, [], even_sky())[0] == pytest.approx(np.ones(5))
    wall = panel("wall", (-500.0, 0.0), (500.0, 0.0), 0.0, 3.0)
    seen = (1 + np.cos(np.arctan2(3.0, SPOTS[:, 1]))) / 2
    assert sun.sun_hours(SPOTS, [wall], even_sky())[0] == pytest.approx(seen, abs=0.01)


def test_under_an_opaque_ceiling_there_is_no_light() -> None:
    found = radiation(Climate(), latitude=42.0)
    table = daily_light.light_table(sky.sun_table(PLACE), found, latitude=42.0)
    ceiling = block("ceiling", ((-1e5, -1e5), (1e5, -1e5), (1e5, 1e5), (-1e5, 1e5)), 2.5, 3.0)
    assert sun.sun_hours(SPOTS, [ceiling], table).max() == pytest.approx(0.0, abs=1e-9)
