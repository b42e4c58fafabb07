"""Where the sun stands: its direction at any moment, when it rises and sets, and the table of moments a sun map is made
from.

Sunrise and sunset are the almanac's: the sun's centre 0.833 degrees below the true horizon, which is its upper edge on
the horizon with 34 minutes of refraction and 16 of semidiameter. Shadows use the apparent (refracted) height.
Directions are degrees clockwise from north. All from the NREL solar position algorithm (Reda and Andreas,
NREL/TP-560-34302, rev. 2008) through pvlib.
"""

import datetime as dt
import functools
import importlib.util
import math
from collections.abc import Callable, Iterable
from pathlib import Path
from types import ModuleType
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import FloatArray
from gardenkit.site.place import Place
from gardenkit.units import compass_word

HORIZON = (
    -50.0 / 60.0
)  # degrees, sun's centre at sunrise and sunset: almanac definition (zenith distance 90 deg 50 min)
LOWEST = 0.1  # degrees: a sun lower than this (its upper edge only) casts shadows as if it stood here. House value.
DAYS = (5, 15, 25)  # days of each month the year is sampled on; against all 365: mean 0.04, worst 0.44 h. House value.
STEP = 10.0  # minutes between sun positions. House value.
YEAR = 2025  # a common year; other years differ by under 0.3 degrees of declination. House value.
DELTA_T = 67.0  # s between terrestrial and universal time; pvlib's default, 1 s matters by 0.004 degrees
HALF_DAY = 12.0  # hours
_SEARCH = 10.0 / 60.0  # hours between the trial moments that bracket sunrise
_EPOCH = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)


@attrs.frozen(kw_only=True)
class SunPosition:
    """Direction of the sun in degrees: ``azimuth`` clockwise from north, ``elevation`` as seen, ``true_elevation``
    unrefracted.
    """

    azimuth: float
    elevation: float
    true_elevation: float

    @property
    def up(self) -> bool:
        """Whether any of the sun's disc is above a level horizon."""
        return self.true_elevation > HORIZON


@attrs.frozen(kw_only=True)
class SunDay:
    """One day's sun in local clock time. ``rise`` and ``set`` are None when the sun stays up or down; ``hours`` is 24
    or 0 then.
    """

    rise: dt.datetime | None
    noon: dt.datetime
    set: dt.datetime | None
    hours: float


@attrs.frozen(eq=False, kw_only=True)
class SunTable:
    """The sun's places through a year, all arrays (n,), in the order of time.

    ``month`` 1 to 12; ``hours`` each place stands for in an average day of its month; ``azimuth`` and ``elevation`` (as
    seen, at least 0.1) in degrees; ``afternoon`` true after solar noon.
    """

    month: NDArray[np.int64]
    hours: FloatArray
    azimuth: FloatArray
    elevation: FloatArray
    afternoon: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.month)

    @property
    def day_length(self) -> FloatArray:
        """Hours from sunrise to sunset on an average day of each month, (12,)."""
        return np.asarray(np.bincount(self.month - 1, weights=self.hours, minlength=12), dtype=float)

    def of_months(self, months: Iterable[int]) -> "SunTable":
        """Return the sun's places of some months (1 to 12) alone; the other months have no sun then."""
        kept = np.isin(self.month, list(months))
        return SunTable(
            month=self.month[kept],
            hours=self.hours[kept],
            azimuth=self.azimuth[kept],
            elevation=self.elevation[kept],
            afternoon=self.afternoon[kept],
        )

    def towards_sun(self, y_bearing: float = 0.0) -> FloatArray:
        """Return unit vectors to the sun on a plan whose y axis points ``y_bearing`` degrees from north, (n, 3)."""
        return towards_sun(self.azimuth, self.elevation, y_bearing=y_bearing)


def sun_table(
    place: "Place", *, days: tuple[int, ...] = DAYS, step_minutes: float = STEP, year: int = YEAR
) -> SunTable:
    """Return the sun's places on the given days of every month, about every ``step_minutes``, at the middle of each
    step.

    Each half day, sunrise to solar noon and noon to sunset, is cut into equal steps, so the hours add up to the
    almanac's day length. Worked out once for a place. Raises GardenError for days or steps that cannot be.
    """
    if not days or not all(1 <= d <= 28 for d in days):
        raise GardenError(f"the days of the month {days} must each lie from 1 to 28; use (5, 15, 25)")
    if not 0.1 <= step_minutes <= 60:
        raise GardenError(f"the step is {step_minutes:g} minutes; give 0.1 to 60, 10 is usual")
    return _table(*_coordinates(place), tuple(days), float(step_minutes), year)


def sun_position(
    place: "Place", when: dt.datetime, *, pressure: float | None = None, temperature: float = 12.0
) -> SunPosition:
    """Return where the sun stands at a moment; a ``when`` without a zone is the place's clock time.

    ``pressure`` in pascals (None: from the elevation) and ``temperature`` in degrees C bend the light near the horizon.
    """
    moment = np.array([(local_time(place, when) - _EPOCH).total_seconds()])
    azimuth, seen, true, _ = positions(moment, *_coordinates(place), pressure=pressure, temperature=temperature)
    return SunPosition(azimuth=float(azimuth[0]), elevation=float(seen[0]), true_elevation=float(true[0]))


def sun_day(place: "Place", date: dt.date) -> SunDay:
    """Return sunrise, solar noon, sunset and day length of one date, in the place's clock time."""
    noon, rise, sets = day_events(*_coordinates(place), (date,))
    hours = float(sets[0] - rise[0])
    zone = zone_of(place)

    def clock(after_noon: float) -> dt.datetime:
        return (_EPOCH + dt.timedelta(seconds=float(noon[0] + 3600.0 * after_noon))).astimezone(zone)

    turns = 0.0 < hours < 2 * HALF_DAY
    return SunDay(
        rise=clock(rise[0]) if turns else None, noon=clock(0.0), set=clock(sets[0]) if turns else None, hours=hours
    )


def sun_words(place: "Place", when: dt.datetime) -> str:
    """Return where the sun stands at a moment of the place's clock, and when it rises and sets that day."""
    position, day = sun_position(place, when), sun_day(place, when.date())
    stands = "The sun is down"
    if position.up:
        stands = f"The sun stands {position.elevation:.0f}° high in the {compass_word(position.azimuth)}"
    return f"{stands}; sunrise {day.rise:%H:%M}, sunset {day.set:%H:%M}." if day.rise and day.set else f"{stands}."


def local_time(place: "Place", when: dt.datetime) -> dt.datetime:
    """Return ``when`` with the place's time zone, daylight saving included; a moment that has a zone keeps it."""
    return when.replace(tzinfo=zone_of(place)) if when.tzinfo is None else when


def zone_of(place: "Place") -> ZoneInfo:
    """Return the time zone of a place. Raises GardenError for a name that is not an IANA zone."""
    try:
        return ZoneInfo(place.timezone)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise GardenError(
            f'"{place.timezone}" is not a known time zone; use a name such as "America/New_York" or "Europe/London"'
        ) from error


def towards_sun(azimuth: FloatArray, elevation: FloatArray, *, y_bearing: float = 0.0) -> FloatArray:
    """Return unit vectors (x, y, up) to a sun at these directions in degrees, (n, 3)."""
    turn, height = np.radians(np.asarray(azimuth) - y_bearing), np.radians(elevation)
    return np.column_stack((np.sin(turn) * np.cos(height), np.cos(turn) * np.cos(height), np.sin(height)))


def positions(
    moments: FloatArray,
    latitude: float,
    longitude: float,
    elevation: float = 0.0,
    *,
    pressure: float | None = None,
    temperature: float = 12.0,
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Return azimuth, elevation as seen, true elevation (degrees) and equation of time (minutes) at Unix ``moments``,
    each (n,).
    """
    pascals = pressure_at(elevation) if pressure is None else pressure
    found = _algorithm().solar_position_numpy(
        np.asarray(moments, dtype=float),
        latitude,
        longitude,
        elevation,
        pascals / 100.0,
        temperature,
        DELTA_T,
        0.5667,
        None,
    )
    _, _, seen, true, azimuth, equation = (np.asarray(column, dtype=float) for column in found)
    return azimuth, seen, true, equation


def pressure_at(elevation: float) -> float:
    """Return the mean pressure of the air in pascals at metres above the sea, as pvlib has it."""
    return 100.0 * math.pow((44331.514 - elevation) / 11880.516, 1 / 0.1902632)


@functools.cache
def _algorithm() -> ModuleType:
    """Return pvlib's file of the algorithm alone: the package takes most of a second to import, and we use no more."""
    package = importlib.util.find_spec("pvlib")
    places = package.submodule_search_locations if package else None
    path = Path(places[0], "spa.py") if places else Path()
    spec = importlib.util.spec_from_file_location("gardenkit_solar_position", path) if path.is_file() else None
    if spec is None or spec.loader is None:
        return importlib.import_module("pvlib.spa")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def day_events(
    latitude: float, longitude: float, elevation: float, dates: tuple[dt.date, ...]
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return for each date solar noon (Unix seconds), sunrise and sunset (hours from that noon), each (n,).

    A day the sun never sets has -12 and 12; a day it never rises has 0 and 0.
    """
    middays = [dt.datetime(d.year, d.month, d.day, 12, tzinfo=dt.UTC).timestamp() for d in dates]
    noon = np.array(middays) - longitude * 240.0
    for _ in range(2):  # the equation of time changes by up to 30 s a day: a second look settles it
        noon = np.array(middays) - longitude * 240.0 - 60.0 * positions(noon, latitude, longitude, elevation)[3]

    def above(hours: FloatArray) -> FloatArray:
        moments = (noon[:, None] + 3600.0 * hours).ravel()
        return (positions(moments, latitude, longitude, elevation)[2] - HORIZON).reshape(hours.shape)

    trial = np.arange(0.0, HALF_DAY + 1e-9, _SEARCH)
    sets = _crossing(above, trial, len(noon))
    rise = _crossing(above, -trial, len(noon))
    return noon, rise, sets


def _crossing(above: Callable[[FloatArray], FloatArray], trial: FloatArray, days: int) -> FloatArray:
    """Return where the sun's height passes the horizon going outward from noon along ``trial``, hours from noon,
    (days,).
    """
    height = above(np.tile(trial, (days, 1)))
    down = height <= 0
    last = np.where(down.any(axis=1), down.argmax(axis=1), len(trial) - 1)
    near = np.maximum(last - 1, 0)
    each = np.arange(days)
    a, b, fa, fb = trial[near], trial[last], height[each, near], height[each, last]
    for _ in range(3):  # false position: nearly straight between trial moments, three steps leave under 0.1 s
        middle = np.where(fa == fb, a, a + (b - a) * fa / np.where(fa == fb, 1.0, fa - fb))
        fm = above(middle[:, None])[:, 0]
        up = fm > 0
        a, fa = np.where(up, middle, a), np.where(up, fm, fa)
        b, fb = np.where(up, b, middle), np.where(up, fb, fm)
    crossing = np.where(np.abs(fa) < np.abs(fb), a, b)
    return np.where(down[:, 0], 0.0, np.where(down.any(axis=1), crossing, math.copysign(HALF_DAY, trial[-1])))


@functools.lru_cache(maxsize=32)
def _table(
    latitude: float, longitude: float, elevation: float, days: tuple[int, ...], step_minutes: float, year: int
) -> SunTable:
    dates = tuple(dt.date(year, month, day) for month in range(1, 13) for day in days)
    noon, rise, sets = day_events(latitude, longitude, elevation, dates)
    moment, hours, month, late = [], [], [], []
    for i, date in enumerate(dates):
        for start, end in ((rise[i], 0.0), (0.0, sets[i])):
            steps = math.ceil((end - start) * 60.0 / step_minutes - 1e-9)
            moment.append(noon[i] + 3600.0 * (start + (end - start) * (np.arange(steps) + 0.5) / max(steps, 1)))
            hours.append(np.full(steps, (end - start) / max(steps, 1) / len(days)))
            month.append(np.full(steps, date.month))
            late.append(np.full(steps, start == 0.0 and end > 0.0))
    azimuth, seen, _, _ = positions(np.concatenate(moment), latitude, longitude, elevation)
    columns = {
        "month": np.concatenate(month),
        "hours": np.concatenate(hours),
        "azimuth": azimuth,
        "elevation": np.maximum(seen, LOWEST),
        "afternoon": np.concatenate(late),
    }
    for column in columns.values():
        column.setflags(write=False)  # the table is shared between all who ask for this place
    return SunTable(**columns)


def _coordinates(place: "Place") -> tuple[float, float, float]:
    if not (-90 <= place.latitude <= 90 and -180 <= place.longitude <= 180):
        raise GardenError(
            f"latitude {place.latitude:g} and longitude {place.longitude:g} are no place on earth; "
            "give degrees, north and east positive, latitude within 90 and longitude within 180"
        )
    return float(place.latitude), float(place.longitude), float(place.elevation)
