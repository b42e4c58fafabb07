"""Light as plants count it: moles of light that fall on a square metre of level ground on an average day of each month.

A month's radiation follows from the climate on record, its share from the whole sky from how clear the month is, and
the rest comes straight from the sun. Both reach a spot past the same bodies as the hours of sun; what walls and ground
throw back is not counted. Crowns let the sky's light through as they do the sun's.
"""

import math
from collections.abc import Callable

import attrs
import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.site import evapotranspiration as fao
from gardenkit.site.climate import Climate, Months
from gardenkit.site.sky import SunTable
from gardenkit.sources import Figure

FAUST_LOGAN = "J. E. Faust and J. Logan, HortScience 53:1250-1257, 2018"
MOL_PER_WH = Figure(
    0.007265, "mol per Wh of sunshine", f"{FAUST_LOGAN}: 45 % of it serves plants, 4.48 micromol a joule"
)
MJ_PER_WH = 0.0036
MOL_PER_MJ = MOL_PER_WH / MJ_PER_WH
ERBS_FITS = 0.3, 0.8  # clearness of the months that Erbs' line was laid through; beyond it the ends hold
SHORT_DAY = math.radians(81.4)  # hour angle of sunset below which it is winter to Erbs
SKY_SPOTS = 144  # places of the sky asked whether a spot sees them: beside a long wall within 1 % of it. House value.
FULL_SUN = Figure(
    20.0,
    "mol/m2/day",
    "growers' rule of thumb (second-hand; publishers differ): full sun 20 and more, shade under 10",
)


@attrs.frozen(kw_only=True)
class Radiation:
    """What falls on open level ground on an average day of each month, MJ a square metre: ``whole``, the part of it
    ``from_sky``, and ``why`` it is known.
    """

    whole: Months
    from_sky: Months
    why: str

    @property
    def light(self) -> Months:
        """The same as daily light, mol/m2."""
        return tuple(MOL_PER_MJ * mj for mj in self.whole)


def radiation(climate: Climate, *, latitude: float, elevation: float = 0.0) -> Radiation:
    """Return a month's radiation by hours of sunshine where they are known, else by temperatures, else of a clear sky.

    Latitude in degrees (south negative), elevation in metres. Never more than a cloudless day gives.
    """
    above = [fao.extraterrestrial(latitude, day) for day in fao.MID_MONTH]
    clear = [fao.clear_sky(ra, elevation) for ra in above]
    of_month, why = _known_by(climate, latitude, above)
    whole = tuple(min(most, of_month(m)) for m, most in enumerate(clear)) if of_month is not None else tuple(clear)
    shares = [
        diffuse_share(w / ra if ra > 0 else 0.0, sunset_of(latitude, m))
        for m, (w, ra) in enumerate(zip(whole, above, strict=True))
    ]
    return Radiation(whole=whole, from_sky=tuple(w * s for w, s in zip(whole, shares, strict=True)), why=why)


def diffuse_share(clearness: float, sunset: float) -> float:
    """Return the share of a month's radiation that comes from the sky, by its ``clearness`` (share of what falls above
    the air) and the hour angle of ``sunset`` in radians (Erbs, Klein and Duffie, Solar Energy 28:293, 1982).
    """
    k = min(ERBS_FITS[1], max(ERBS_FITS[0], clearness))
    if sunset <= SHORT_DAY:
        return 1.391 - 3.560 * k + 4.189 * k**2 - 2.137 * k**3
    return 1.311 - 3.022 * k + 3.427 * k**2 - 1.821 * k**3


def hour_share(hour_angle: FloatArray, sunset: float) -> FloatArray:
    """Return the share of a day's radiation that falls in an hour about an hour angle (radians), by the hour angle of
    sunset (Collares-Pereira and Rabl, Solar Energy 22:155, 1979).
    """
    a = 0.409 + 0.5016 * math.sin(sunset - math.pi / 3.0)
    b = 0.6609 - 0.4767 * math.sin(sunset - math.pi / 3.0)
    lift = np.cos(hour_angle) - math.cos(sunset)
    day = math.sin(sunset) - sunset * math.cos(sunset)
    return np.asarray(math.pi / 24.0 * (a + b * np.cos(hour_angle)) * lift / day)


def light_table(sky: SunTable, found: Radiation, *, latitude: float, spots: int = SKY_SPOTS) -> SunTable:
    """Return what lights open ground as a table for a sun map, its ``hours`` being mol/m2 a day: the sun's places, each
    with the light straight from it, and for every month of ``sky`` places all over the sky with the light of the sky.
    """
    months = np.unique(sky.month)
    azimuth, elevation = sky_spots(spots)
    from_sky = np.asarray(found.from_sky)[months - 1] * MOL_PER_MJ / spots
    return SunTable(
        month=np.concatenate((sky.month, np.repeat(months, spots))),
        hours=np.concatenate((_beam(sky, found, latitude), np.repeat(from_sky, spots))),
        azimuth=np.concatenate((sky.azimuth, np.tile(azimuth, len(months)))),
        elevation=np.concatenate((sky.elevation, np.tile(elevation, len(months)))),
        afternoon=np.concatenate((sky.afternoon, np.tile(azimuth >= 180.0, len(months)))),
    )


def sky_spots(count: int = SKY_SPOTS) -> tuple[FloatArray, FloatArray]:
    """Return azimuth and elevation, in degrees, of places spread over an even sky so that each lights level ground
    alike: along a spiral, in turns of the golden angle.
    """
    number = np.arange(count) + 0.5
    azimuth = np.degrees(number * math.pi * (3.0 - math.sqrt(5.0))) % 360.0
    return azimuth, np.degrees(np.arccos(np.sqrt(number / count)))


def sunset_of(latitude: float, month: int) -> float:
    """Return the hour angle of sunset, in radians, in the middle of a month (0 is January)."""
    return fao.sunset_angle(latitude, fao.MID_MONTH[month])


# ---- helpers


def _known_by(climate: Climate, latitude: float, above: list[float]) -> tuple[Callable[[int], float] | None, str]:
    if (sunshine := climate.sunshine) is not None:
        long = [fao.daylight_hours(latitude, day) for day in fao.MID_MONTH]
        return lambda m: fao.solar(sunshine[m], long[m], above[m]), "from the hours of sunshine of the place"
    low, high = climate.tmin, climate.tmax
    if low is not None and high is not None:
        return lambda m: fao.solar_of_temperatures(low[m], high[m], above[m]), (
            "from how far the temperature swings in a day, as no hours of sunshine are known"
        )
    return None, "under a clear sky all year, as no weather is known: the most there can be"


def _beam(sky: SunTable, found: Radiation, latitude: float) -> FloatArray:
    """Return the light straight from each of the sun's places, mol/m2 a day."""
    lift = np.sin(np.radians(sky.elevation))
    light = np.zeros(len(sky))
    for month in np.unique(sky.month):
        here = sky.month == month
        whole, from_sky = found.whole[month - 1], found.from_sky[month - 1]
        if whole <= from_sky:
            continue
        sunset, tilt = sunset_of(latitude, int(month) - 1), fao.declination(fao.MID_MONTH[month - 1])
        cosine = math.cos(sunset) + lift[here] / max(1e-6, math.cos(math.radians(latitude)) * math.cos(tilt))
        of_day = sky.hours[here] * hour_share(np.arccos(np.clip(cosine, -1.0, 1.0)), sunset)
        of_sky = sky.hours[here] * lift[here]  # Liu and Jordan, 1960: the sky's light by the height of the sun
        straight = np.maximum(0.0, whole * of_day / of_day.sum() - from_sky * of_sky / of_sky.sum())
        light[here] = straight * (whole - from_sky) / straight.sum()
    return light * MOL_PER_MJ
