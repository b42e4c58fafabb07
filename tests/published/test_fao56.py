"""FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes, Smith, 1998): its worked examples and tables."""

import math

import pytest

from gardenkit.site import evapotranspiration as fao

MONTHS = range(12)
# Ra on the 15th, MJ m-2 day-1, laid out as Table 2.6 (worked from the equations)
RADIATION = {
    52: (7.7, 13.2, 21.2, 30.8, 38.2, 41.6, 40.0, 33.8, 24.6, 15.7, 9.0, 6.3),
    50: (8.9, 14.4, 22.2, 31.5, 38.5, 41.7, 40.2, 34.3, 25.6, 16.8, 10.2, 7.5),
    44: (12.5, 18.0, 25.3, 33.5, 39.3, 41.9, 40.7, 35.8, 28.3, 20.3, 13.8, 11.1),
    40: (15.0, 20.4, 27.2, 34.7, 39.7, 41.8, 40.8, 36.7, 29.9, 22.5, 16.3, 13.6),
    36: (17.5, 22.6, 29.0, 35.7, 40.0, 41.7, 40.8, 37.3, 31.4, 24.6, 18.7, 16.1),
    30: (21.1, 25.8, 31.4, 36.8, 40.0, 41.2, 40.5, 38.0, 33.3, 27.5, 22.2, 19.7),
    0: (36.2, 37.4, 37.9, 36.8, 34.8, 33.4, 33.9, 35.6, 37.2, 37.3, 36.3, 35.6),
    -34: (43.3, 39.1, 33.0, 25.3, 19.2, 16.2, 17.4, 22.3, 29.7, 36.8, 42.0, 44.3),
}
# N on the 15th, hours, laid out as Table 2.7
DAYLIGHT = {
    60: (6.4, 8.8, 11.4, 14.2, 16.8, 18.4, 17.7, 15.3, 12.5, 9.7, 7.1, 5.6),
    50: (8.3, 9.8, 11.6, 13.5, 15.2, 16.1, 15.7, 14.3, 12.3, 10.4, 8.7, 7.9),
    44: (9.1, 10.3, 11.6, 13.2, 14.6, 15.3, 15.0, 13.8, 12.3, 10.7, 9.4, 8.7),
    40: (9.5, 10.5, 11.7, 13.1, 14.2, 14.8, 14.6, 13.6, 12.2, 10.9, 9.7, 9.2),
    30: (10.3, 11.0, 11.8, 12.7, 13.5, 13.9, 13.7, 13.1, 12.2, 11.2, 10.5, 10.1),
    0: (12.0,) * 12,
}


def degrees(whole: float, minutes: float) -> float:
    return whole + minutes / 60.0


def near(value: float, decimals: int) -> object:
    """The printed value, to half a unit of its last printed digit."""
    return pytest.approx(value, abs=0.5 * 10.0**-decimals, rel=0)


def test_table_2_5_day_numbers_of_mid_month() -> None:
    assert fao.MID_MONTH == (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349)


def test_example_8_and_9_radiation_and_daylight_at_20_south_on_3_september() -> None:
    assert fao.inverse_distance(246) == near(0.985, 3)
    assert fao.declination(246) == near(0.120, 3)
    assert fao.sunset_angle(-20, 246) == near(1.527, 3)
    assert fao.extraterrestrial(-20, 246) == near(32.194, 3)  # printed 32.2
    assert fao.daylight_hours(-20, 246) == near(11.666, 3)  # printed 11.7


@pytest.mark.parametrize("latitude", RADIATION)
def test_table_2_6_extraterrestrial_radiation(latitude: int) -> None:
    for month in MONTHS:
        assert fao.extraterrestrial(latitude, fao.MID_MONTH[month]) == near(RADIATION[latitude][month], 1)


@pytest.mark.parametrize("latitude", DAYLIGHT)
def test_table_2_7_daylight_hours(latitude: int) -> None:
    for month in MONTHS:
        assert fao.daylight_hours(latitude, fao.MID_MONTH[month]) == near(DAYLIGHT[latitude][month], 1)


def test_march_by_the_shortcut_day_76_would_be_27_8_at_40_north() -> None:
    assert fao.extraterrestrial(40, 76) == near(27.8, 1)
    assert fao.extraterrestrial(40, fao.MID_MONTH[2]) == near(27.2, 1)


def test_polar_day_and_polar_night_are_clipped() -> None:
    assert fao.daylight_hours(70, fao.MID_MONTH[5]) == 24.0
    assert fao.daylight_hours(70, fao.MID_MONTH[11]) == 0.0
    assert fao.extraterrestrial(70, fao.MID_MONTH[11]) == pytest.approx(0.0, abs=1e-12)


def test_declination_is_for_daily_totals_not_for_shadows() -> None:
    assert math.degrees(fao.declination(290)) == near(-10.41, 2)  # an almanac has -9.31 on 17 October


def test_example_17_bangkok_in_april() -> None:
    """Pp. 70-71."""
    latitude, day = degrees(13, 44), 105
    gamma = fao.psychrometric(fao.pressure(2))
    assert fao.saturation_slope(30.2) == near(0.24580, 5)  # printed 0.246
    assert gamma == near(0.067349, 6)  # printed 0.0674 (0.0667 in one line is a slip)
    assert (fao.saturation(34.8), fao.saturation(25.6)) == (near(5.56, 2), near(3.28, 2))
    assert fao.mean_saturation(25.6, 34.8) == near(4.42, 2)
    ra, daylight = fao.extraterrestrial(latitude, day), fao.daylight_hours(latitude, day)
    assert (ra, daylight) == (near(38.0577, 4), near(12.3126, 4))  # printed 38.06, 12.31
    assert 8.5 / daylight == near(0.69, 2)
    rs, rso = fao.solar(8.5, daylight, ra), fao.clear_sky(ra, 2)
    assert (rs, rso) == (near(22.6510, 4), near(28.54, 2))  # printed 22.65
    rns, rnl = fao.net_shortwave(rs), fao.net_longwave(25.6, 34.8, 2.85, rs=rs, rso=rso)
    assert (rns, rnl, rns - rnl) == (near(17.44, 2), near(3.11, 2), near(14.3327, 4))  # printed 14.33
    g = fao.soil_heat_of_month(30.2, 29.2)
    assert g == near(0.14, 2)
    radiation = fao.radiation_term(30.2, gamma, wind=2, rn=rns - rnl, g=g)
    air = fao.aerodynamic_term(30.2, gamma, wind=2, deficit=fao.mean_saturation(25.6, 34.8) - 2.85)
    assert (radiation, air) == (near(3.97, 2), near(1.75, 2))
    eto = fao.penman_monteith(
        latitude=latitude, elevation=2, day=day, tmin=25.6, tmax=34.8, vapour=2.85, wind=2, sunshine=8.5, g=g
    )
    assert eto == near(5.716, 3)  # printed 5.72 mm/day


def test_example_18_uccle_on_6_july() -> None:
    """Pp. 72-74."""
    latitude, day = degrees(50, 48), 187
    wind = 10 / 3.6 * 4.87 / math.log(67.8 * 10 - 5.42)  # equation 47, printed 2.078
    assert fao.pressure(100) == near(100.1, 1)
    gamma = fao.psychrometric(fao.pressure(100))
    assert gamma == near(0.06658, 5)  # printed 0.0666
    assert fao.saturation_slope(16.9) == near(0.12211, 5)  # printed 0.122
    vapour = 1.40862  # printed 1.409
    assert fao.mean_saturation(12.3, 21.5) == near(1.997, 3)
    ra, daylight = fao.extraterrestrial(latitude, day), fao.daylight_hours(latitude, day)
    assert (ra, daylight) == (near(41.09, 2), near(16.1, 1))  # the line that shows 16.3 is a slip
    rs, rso = fao.solar(9.25, daylight, ra), fao.clear_sky(ra, 100)
    assert (rs, rso) == (near(22.0721, 4), near(30.90, 2))  # printed 22.07
    rnl = fao.net_longwave(12.3, 21.5, vapour, rs=rs, rso=rso)
    rn = fao.net_shortwave(rs) - rnl
    assert (rnl, rn) == (near(3.71, 2), near(13.2832, 4))  # printed 13.28
    radiation = fao.radiation_term(16.9, gamma, wind=wind, rn=rn, g=0)
    air = fao.aerodynamic_term(16.9, gamma, wind=wind, deficit=fao.mean_saturation(12.3, 21.5) - vapour)
    assert (radiation, air) == (near(2.81, 2), near(1.07, 2))
    eto = fao.penman_monteith(
        latitude=latitude, elevation=100, day=day, tmin=12.3, tmax=21.5, vapour=vapour, wind=wind, sunshine=9.25
    )
    assert eto == near(3.880, 3)  # printed 3.88, 3.9


def test_equations_43_and_44_agree_when_months_warm_evenly() -> None:
    assert fao.soil_heat_of_month(12, 10, 14) == pytest.approx(0.28)
    assert fao.soil_heat_of_month(12, 10) == pytest.approx(0.28)


@pytest.mark.parametrize(("elevation", "kpa"), [(1800, 81.8), (1200, 87.9)])
def test_table_2_1_pressure(elevation: float, kpa: float) -> None:
    assert fao.pressure(elevation) == near(kpa, 1)


def test_example_2_psychrometric_constant() -> None:
    assert fao.psychrometric(81.8) == near(0.054, 3)


def test_table_2_3_and_example_3_saturation_pressure() -> None:
    assert (fao.saturation(15), fao.saturation(24.5)) == (near(1.705, 3), near(3.075, 3))
    assert fao.mean_saturation(15, 24.5) == near(2.39, 2)


@pytest.mark.parametrize(("temperature", "slope"), [(20, 0.145), (30, 0.243)])
def test_table_2_4_slope(temperature: float, slope: float) -> None:
    assert fao.saturation_slope(temperature) == near(slope, 3)


def test_example_5_vapour_pressure_by_two_routes() -> None:
    assert fao.vapour_of_mean_humidity(18, 25, mean=68) == near(1.78, 2)


def test_table_2_8_black_body_at_20_c() -> None:
    assert fao.black_body(20) == near(36.21, 2)


def test_annex_1_a_millimetre_of_evaporation() -> None:
    assert round(1 / fao.EVAPORATION, 2) == 2.45


def test_equation_52_hargreaves_as_worked_by_mehta_2006() -> None:
    assert fao.hargreaves(28, 38, 38.93715, mean=35) == near(6.101, 3)  # printed 6.1 mm/day
