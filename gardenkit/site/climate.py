"""What is known of the climate of a garden: zone, frost dates, monthly weather; and what is still to find out."""

import datetime as dt
import math
import re
from collections.abc import Sequence
from typing import Any

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError
from gardenkit.site.frost import MOST_MISSING, frost_years, growing_season_days, mean_frost_date
from gardenkit.site.hardiness import hardiness_zone, heat_days
from gardenkit.site.weather import DailyWeather, monthly_means

Months = tuple[float, ...]

TROPIC = (
    23.44  # degrees of latitude, nearer the equator the seasons do not turn with the hemisphere. The tilt of the axis
)
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
NORTH_SUMMER, SOUTH_SUMMER = "07-15", "01-15"  # the middle of the warmest month. House values, late for high places


def _zone_or_none(zone: str | None) -> str | None:
    return None if zone is None or not str(zone).strip() else hardiness_zone(zone)


def _twelve(values: Sequence[float] | None) -> Months | None:
    if values is None:
        return None
    months = tuple(float(v) for v in values)
    if len(months) != 12 or not all(math.isfinite(v) for v in months):
        raise GardenError(f"monthly figures need twelve numbers, January to December; {len(months)} were given")
    return months


def _day_or_none(text: str | None) -> str | None:
    if text is None or not text.strip():
        return None
    try:
        if not re.fullmatch("[0-9]{2}-[0-9]{2}", text.strip()):
            raise ValueError
        return dt.date.fromisoformat(f"2001-{text.strip()}").strftime("%m-%d")
    except ValueError as error:
        raise GardenError(f'the frost date "{text[:60]}" cannot be read; write month and day like 04-15') from error


@attrs.frozen(kw_only=True)
class Climate:
    """The climate of a garden as the designer gave it or worked it out; None means not known.

    ``zone`` USDA; dates ``MM-DD``; monthly tuples January to December: ``tmin``/``tmax`` degrees C, ``rain`` mm a
    month, ``wind`` m/s at 2 m, ``humidity`` mean relative humidity percent, ``sunshine`` hours a day. ``storm`` is the
    mm that one hour brings once in ten years.
    """

    zone: str | None = attrs.field(default=None, converter=_zone_or_none)
    zone_source: str = ""
    last_frost: str | None = attrs.field(default=None, converter=_day_or_none)
    first_frost: str | None = attrs.field(default=None, converter=_day_or_none)
    frost_source: str = ""
    tmin: Months | None = attrs.field(default=None, converter=_twelve)
    tmax: Months | None = attrs.field(default=None, converter=_twelve)
    rain: Months | None = attrs.field(default=None, converter=_twelve)
    wind: Months | None = attrs.field(default=None, converter=_twelve)
    humidity: Months | None = attrs.field(default=None, converter=_twelve)
    sunshine: Months | None = attrs.field(default=None, converter=_twelve)
    heat_days: float | None = None
    storm: float | None = None
    weather_source: str = ""


def check(climate: Climate, *, latitude: float) -> None:
    """Raise GardenError when the two frost dates stand the wrong way round for the hemisphere.

    The days from the last frost to the first hold the middle of summer; between the tropics nothing is asked.
    """
    if climate.last_frost is None or climate.first_frost is None or abs(latitude) < TROPIC:
        return
    middle, side = (NORTH_SUMMER, "north") if latitude > 0 else (SOUTH_SUMMER, "south")
    season = growing_season_days(climate.last_frost, climate.first_frost)
    if growing_season_days(climate.last_frost, middle) > season:
        raise GardenError(
            f"the last frost of spring is {climate.last_frost} and the first of autumn {climate.first_frost}, which "
            f"leaves summer in the {side} outside the season between them; change the two dates over, or correct the "
            "latitude (south is negative); to do both, leave one date empty until the latitude is right"
        )


def check_months(climate: Climate) -> None:
    """Raise GardenError for a month whose mean lowest of the day is above its mean highest."""
    for month, low, high in zip(MONTHS, climate.tmin or (), climate.tmax or (), strict=False):
        if low > high:
            raise GardenError(f"in {month} the lowest of the day is above the highest; check the two rows")


def climate_of(weather: DailyWeather, *, threshold: float = 0.0, southern: bool = False) -> Climate:
    """Return the frost dates, monthly means and heat days of a daily record; no zone: that needs thirty winters."""
    years = frost_years(weather, threshold=threshold, southern=southern)
    whole = [y for y in years if y.missing_days <= MOST_MISSING]
    span = f"{weather.years[0]}-{weather.years[-1]}"
    measured = weather.years[~np.isnan(weather.tmax)]
    counts = {y: n for y, n in heat_days(weather).items() if np.count_nonzero(measured == y) >= 365 - MOST_MISSING}
    return Climate(
        last_frost=mean_frost_date(years, "spring", southern=southern) if whole else None,
        first_frost=mean_frost_date(years, "autumn", southern=southern) if whole else None,
        frost_source=f"mean of {len(whole)} years, {span}, days at or below {threshold:g} °C" if whole else "",
        tmin=monthly_means(weather, "tmin"),
        tmax=monthly_means(weather, "tmax"),
        rain=monthly_means(weather, "rain"),
        heat_days=sum(counts.values()) / len(counts) if counts else None,
        weather_source=f"{weather.place or 'daily weather'}, {span}",
    )


def known_of(weather: DailyWeather, *, threshold: float = 0.0, southern: bool = False) -> dict[str, Any]:
    """Return only those fields of the climate that a daily record tells; frost dates go together with their source."""
    found = climate_of(weather, threshold=threshold, southern=southern)
    keys = ["tmin", "tmax", "rain", "heat_days", "weather_source"]
    known = {key: value for key in keys if (value := getattr(found, key)) is not None}
    if found.last_frost or found.first_frost:
        known |= {key: getattr(found, key) for key in ("last_frost", "first_frost", "frost_source")}
    return known


def climate_findings(climate: Climate) -> tuple[Finding, ...]:
    """Return what is still to find out about the climate, and what its figures cannot say."""
    found = []
    if climate.zone is None:
        found.append(_ask("the hardiness zone is not given; look it up on the zone map or work it out", "hardiness"))
    elif not climate.zone_source:
        found.append(_ask(f"zone {climate.zone} has no source; name the map and its period", "hardiness"))
    if climate.last_frost is None or climate.first_frost is None:
        found.append(_ask("a frost date is missing; give it, or read a few years of daily weather", "frost"))
    else:
        days = growing_season_days(climate.last_frost, climate.first_frost)
        found.append(
            Finding(
                where="climate",
                what=f"{days} days between the mean last and first frost; low ground and open ground have fewer",
                why="air temperature about 1.5 m up; a garden's hollow can be colder",
                source=climate.frost_source or "dates as given",
                topic="frost",
            )
        )
    return tuple(found)


# ---- helpers


def _ask(what: str, topic: str) -> Finding:
    return Finding(where="climate", what=what, seriousness="caution", source="", topic=topic)
