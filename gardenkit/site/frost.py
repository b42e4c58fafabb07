"""When the last frost of spring and the first of autumn come, year by year and how surely."""

import datetime as dt
import math
from collections.abc import Sequence
from typing import Literal

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.site.weather import DailyWeather
from gardenkit.sources import HOUSE, Figure

FROST_THRESHOLDS: dict[str, Figure] = {
    "frost, 0 °C": Figure(0.0, "degrees C", "Univ. of Wisconsin SSEC: freeze at 32 F"),
    "hard freeze, -2.2 °C": Figure(-2.2, "degrees C", "Univ. of Wisconsin SSEC: hard freeze at 28 F (-2.22 C) or less"),
}
MOST_MISSING = Figure(30, "days a year without a reading", HOUSE)  # a year missing more does not count

Mask = NDArray[np.bool_]
Season = Literal["spring", "autumn"]


@attrs.frozen(kw_only=True)
class FrostYear:
    """One year's frosts: the last of spring, the first of autumn, and the days between them, both left out.

    South of the equator the year starts on 1 July and is named by it, so spring and autumn keep their meaning.
    """

    year: int
    last_spring: dt.date | None
    first_autumn: dt.date | None
    lowest_c: float
    missing_days: int


def frost_years(weather: DailyWeather, *, threshold: float = 0.0, southern: bool = False) -> tuple[FrostYear, ...]:
    """Return each year's last spring and first autumn day at or below ``threshold`` degrees C.

    FROST_THRESHOLDS names the usual two. Spring is January to June and autumn July to December; ``southern=True``
    turns the halves round (spring July to December).
    """
    shift = np.timedelta64(6 if southern else 0, "M")
    season_month = weather.dates.astype("datetime64[M]") - shift
    season_year = season_month.astype("datetime64[Y]").astype(np.int64) + 1970
    late = season_month.astype(np.int64) % 12 >= 6
    cold = weather.tmin <= threshold
    return tuple(
        _frost_year(weather, int(y), season_year == y, late=late, cold=cold, southern=southern)
        for y in np.unique(season_year)
    )


def mean_frost_date(years: Sequence[FrostYear], season: Season, *, southern: bool = False) -> str | None:
    """Return the mean ``MM-DD`` of the last spring or first autumn frost over the years that had one."""
    happened = [day for day in _season_days(years, season, southern) if day is not None]
    return _month_day(round(math.fsum(happened) / len(happened)), southern) if happened else None


def growing_season_days(last_frost: str, first_frost: str) -> int:
    """Return days from the mean last spring frost to the mean first of autumn (both ``MM-DD``), over New Year too.

    Source: Univ. of Wisconsin SSEC, growing season.

    >>> growing_season_days("04-15", "10-20")
    188
    """
    spring, autumn = (dt.date.fromisoformat(f"2001-{day}").toordinal() for day in (last_frost, first_frost))
    return (autumn - spring) % 365


# ---- helpers


def _frost_year(weather: DailyWeather, year: int, mine: Mask, *, late: Mask, cold: Mask, southern: bool) -> FrostYear:
    start = dt.date(year, 7, 1) if southern else dt.date(year, 1, 1)
    length = (start.replace(year=year + 1) - start).days
    readings = weather.tmin[mine]
    readings = readings[~np.isnan(readings)]
    spring = weather.dates[mine & ~late & cold]
    autumn = weather.dates[mine & late & cold]
    return FrostYear(
        year=year,
        last_spring=spring[-1].astype(object) if len(spring) else None,
        first_autumn=autumn[0].astype(object) if len(autumn) else None,
        lowest_c=float(readings.min()) if len(readings) else math.nan,
        missing_days=length - len(readings),
    )


def _season_days(years: Sequence[FrostYear], season: Season, southern: bool) -> list[float | None]:
    """Days into a 365-day season year (29 February counts as the 28th), None for a year without that frost."""
    whole = [year for year in years if year.missing_days <= MOST_MISSING]
    if not whole:
        raise GardenError(
            f"no year has readings on all but {MOST_MISSING:g} days, so frost dates cannot be found; add daily weather"
        )
    dates = [year.last_spring if season == "spring" else year.first_autumn for year in whole]
    return [None if date is None else _season_day(date, southern) for date in dates]


def _season_day(date: dt.date, southern: bool) -> float:
    day = dt.date(2001, date.month, min(date.day, 28) if date.month == 2 else date.day).timetuple().tm_yday
    return float((day - 182) % 365 if southern else day - 1)  # 1 July is day 182 of a 365-day year


def _month_day(day: int, southern: bool) -> str:
    ordinal = (day + 181) % 365 if southern else day
    return (dt.date(2001, 1, 1) + dt.timedelta(days=ordinal)).strftime("%m-%d")
