"""How much water a clipped lawn would give off each day: the yardstick by which gardens are watered.

Every step is a function named for its quantity, with its equation number in FAO Irrigation and Drainage Paper 56
(Allen, Pereira, Raes, Smith, 1998). Daily figures throughout: MJ per m2 and day, kPa, degrees C, m/s at 2 m, mm a day.
"""

import math

from gardenkit.findings import GardenError
from gardenkit.sources import Figure

FAO56 = "FAO Irrigation and Drainage Paper 56, 1998"
SOLAR_CONSTANT = Figure(0.0820, "MJ per m2 and minute", f"{FAO56}, eq. 21")
STEFAN_BOLTZMANN = Figure(4.903e-9, "MJ per K4, m2 and day", f"{FAO56}, eq. 39")
ZERO_C = Figure(273.16, "K", f"{FAO56}, eq. 39")
ALBEDO = Figure(0.23, "", f"{FAO56}, eq. 38: reference grass")
EVAPORATION = Figure(0.408, "mm per MJ and m2", f"{FAO56}, eq. 20: 1 / 2.45")
ANGSTROM_A = Figure(0.25, "", f"{FAO56}, eq. 35")
ANGSTROM_B = Figure(0.50, "", f"{FAO56}, eq. 35")
INLAND = Figure(0.16, "per root of a degree C", f"{FAO56}, eq. 50: inland, where land weighs more than sea")
FARTHEST = Figure(55.0, "degrees of latitude", f"{FAO56}: radiation equations lose validity above about 55")
# The 15th of each month, FAO-56 Table 2.5 (its shortcut 30.4 M - 15 gives March 76, which Table 2.6 does not use).
MID_MONTH = (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349)


# ---- sun


def inverse_distance(day: float) -> float:
    """Return the inverse relative distance Earth to Sun (eq. 23)."""
    return 1.0 + 0.033 * math.cos(2.0 * math.pi * day / 365.0)


def declination(day: float) -> float:
    """Return the sun's declination in radians (eq. 24): for daily totals only, a degree out for shadows."""
    return 0.409 * math.sin(2.0 * math.pi * day / 365.0 - 1.39)


def sunset_angle(latitude: float, day: float) -> float:
    """Return the sunset hour angle in radians (eq. 25); latitude in degrees, clipped where the sun does not set."""
    x = -math.tan(math.radians(latitude)) * math.tan(declination(day))
    return math.acos(min(1.0, max(-1.0, x)))


def extraterrestrial(latitude: float, day: float) -> float:
    """Return Ra, the radiation above the air (eq. 21); latitude in degrees, south negative."""
    if not -90.0 <= latitude <= 90.0:
        raise GardenError(f"a latitude of {latitude:g} is outside -90 to 90; give degrees, south negative")
    phi, delta, angle = math.radians(latitude), declination(day), sunset_angle(latitude, day)
    share = angle * math.sin(phi) * math.sin(delta) + math.cos(phi) * math.cos(delta) * math.sin(angle)
    return 24.0 * 60.0 / math.pi * SOLAR_CONSTANT * inverse_distance(day) * share


def daylight_hours(latitude: float, day: float) -> float:
    """Return N, hours from geometric sunrise to sunset (eq. 34); an almanac's day is some minutes longer."""
    return 24.0 / math.pi * sunset_angle(latitude, day)


def solar(sunshine: float, daylight: float, ra: float) -> float:
    """Return Rs from hours of bright sunshine (eq. 35); sunshine is 0 to ``daylight`` hours."""
    if not 0.0 <= sunshine <= 24.0:
        raise GardenError(f"{sunshine:g} hours of sunshine a day is outside 0 to 24; give the mean of the month")
    share = min(1.0, sunshine / daylight) if daylight > 0 else 0.0
    return (ANGSTROM_A + ANGSTROM_B * share) * ra


def solar_of_temperatures(tmin: float, tmax: float, ra: float) -> float:
    """Return Rs from how far the temperature, degrees C, swings in a day (eq. 50, inland)."""
    _ordered(tmin, tmax)
    return INLAND * math.sqrt(tmax - tmin) * ra


def clear_sky(ra: float, elevation: float) -> float:
    """Return Rso on a cloudless day (eq. 37); elevation in metres."""
    return (0.75 + 2e-5 * elevation) * ra


def net_shortwave(rs: float) -> float:
    """Return Rns (eq. 38)."""
    return (1.0 - ALBEDO) * rs


def black_body(temperature: float) -> float:
    """Return sigma T^4 (Table 2.8) for degrees C."""
    return STEFAN_BOLTZMANN * (temperature + ZERO_C) ** 4


def net_longwave(tmin: float, tmax: float, vapour: float, *, rs: float, rso: float) -> float:
    """Return Rnl (eq. 39); Rs/Rso counts as at most 1."""
    cloud = 1.35 * (min(1.0, rs / rso) if rso > 0 else 1.0) - 0.35
    return (black_body(tmax) + black_body(tmin)) / 2.0 * (0.34 - 0.14 * math.sqrt(vapour)) * cloud


def soil_heat_of_month(mean: float, previous: float, following: float | None = None) -> float:
    """Return G (eq. 43 with the following month's mean temperature known, eq. 44 without)."""
    return 0.14 * (mean - previous) if following is None else 0.07 * (following - previous)


# ---- air


def pressure(elevation: float) -> float:
    """Return air pressure, kPa (eq. 7)."""
    return 101.3 * math.pow((293.0 - 0.0065 * elevation) / 293.0, 5.26)


def psychrometric(kpa: float) -> float:
    """Return gamma, kPa per degree C (eq. 8)."""
    return 0.665e-3 * kpa


def saturation(temperature: float) -> float:
    """Return the saturation vapour pressure e0(T), kPa (eq. 11)."""
    return 0.6108 * math.exp(17.27 * temperature / (temperature + 237.3))


def mean_saturation(tmin: float, tmax: float) -> float:
    """Return es, kPa (eq. 12)."""
    return (saturation(tmax) + saturation(tmin)) / 2.0


def saturation_slope(temperature: float) -> float:
    """Return Delta, kPa per degree C (eq. 13)."""
    return 4098.0 * saturation(temperature) / (temperature + 237.3) ** 2


def vapour_of_mean_humidity(tmin: float, tmax: float, *, mean: float) -> float:
    """Return ea, kPa, from mean relative humidity in percent (eq. 19): less good than eq. 17."""
    return mean / 100.0 * mean_saturation(tmin, tmax)


# ---- the yardstick


def radiation_term(mean: float, gamma: float, *, wind: float, rn: float, g: float) -> float:
    """Return the first term of eq. 6, mm a day."""
    slope = saturation_slope(mean)
    return EVAPORATION * slope * (rn - g) / (slope + gamma * (1.0 + 0.34 * wind))


def aerodynamic_term(mean: float, gamma: float, *, wind: float, deficit: float) -> float:
    """Return the second term of eq. 6, mm a day; ``deficit`` is es - ea, kPa."""
    slope = saturation_slope(mean)
    return gamma * 900.0 / (mean + 273.0) * wind * deficit / (slope + gamma * (1.0 + 0.34 * wind))


def penman_monteith(
    *,
    latitude: float,
    elevation: float,
    day: float,
    tmin: float,
    tmax: float,
    vapour: float,
    wind: float,
    sunshine: float,
    g: float = 0.0,
) -> float:
    """Return ETo, mm a day, by FAO-56 Penman-Monteith (eq. 6), never below 0.

    Degrees C, ea in kPa, wind in m/s at 2 m, hours of sunshine, G in MJ per m2 and day (0 for a single day, eq. 42).
    Raises GardenError when tmin is above tmax or wind or vapour is below 0.
    """
    _ordered(tmin, tmax)
    if wind < 0 or vapour < 0:
        raise GardenError(f"wind {wind:g} m/s and vapour pressure {vapour:g} kPa must be 0 or more; check the weather")
    mean, gamma = (tmin + tmax) / 2.0, psychrometric(pressure(elevation))
    ra = extraterrestrial(latitude, day)
    rs = solar(sunshine, daylight_hours(latitude, day), ra)
    rn = net_shortwave(rs) - net_longwave(tmin, tmax, vapour, rs=rs, rso=clear_sky(ra, elevation))
    deficit = mean_saturation(tmin, tmax) - vapour
    eto = radiation_term(mean, gamma, wind=wind, rn=rn, g=g)
    return max(0.0, eto + aerodynamic_term(mean, gamma, wind=wind, deficit=deficit))


def hargreaves(tmin: float, tmax: float, ra: float, *, mean: float | None = None) -> float:
    """Return ETo, mm a day, by Hargreaves (eq. 52) from temperatures and Ra in MJ per m2 and day; never below 0."""
    _ordered(tmin, tmax)
    mean = (tmin + tmax) / 2.0 if mean is None else mean
    return max(0.0, 0.0023 * (mean + 17.8) * math.sqrt(tmax - tmin) * EVAPORATION * ra)


def _ordered(tmin: float, tmax: float) -> None:
    if tmin > tmax:
        raise GardenError(f"the lowest temperature {tmin:g} C is above the highest {tmax:g} C; check the two columns")
