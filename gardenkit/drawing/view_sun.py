"""Where the sun stands over a garden at a date and hour, and what it does to the sky."""

import calendar
import datetime as dt
import math

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.geometry.plane import Point
from gardenkit.site.place import Place
from gardenkit.site.site import Site
from gardenkit.site.sky import sun_position, towards_sun
from gardenkit.sources import HOUSE, Figure

USUAL_HOUR = 16.0  # clock time a view is lit at when none is asked for: long soft light, paths still lit. House value.
DAY = 21  # of the month: the day the sun's place is taken for where none is asked for. House value.
YEAR = 2025  # a common year; others differ by less than a picture shows
LIKED_SUN = Figure(18.0, "degrees", f"lower, walls shade most of a small garden; {HOUSE}")
LOWEST_SUN = Figure(3.0, "degrees", f"lower, every shadow runs out of the garden; {HOUSE}")
WARM = "#f2b56b"  # what a low sun stirs into the sky at the horizon. House value.


@attrs.frozen(kw_only=True)
class Sunlight:
    """The sun over a garden at one moment: ``azimuth`` degrees clockwise from north, ``elevation`` degrees, ``towards``
    the unit vector to it on the plan (x, y, up), ``hour`` of the place's clock.
    """

    azimuth: float
    elevation: float
    towards: tuple[float, float, float]
    hour: float

    @property
    def run(self) -> Point:
        """The way to the sun on the plan for each metre of height."""
        return self.towards[0] / self.towards[2], self.towards[1] / self.towards[2]

    @property
    def bearing(self) -> float:
        """Degrees clockwise from the plan's y axis that the light comes from."""
        return math.degrees(math.atan2(self.towards[0], self.towards[1])) % 360

    @property
    def glow(self) -> float:
        """How much of the warmth of a low sun there is, 0 (above 20 degrees) to 1 (at the horizon)."""
        return float(np.clip(1.0 - self.elevation / 20.0, 0.0, 1.0))


def sunlight(site: Site, month: int, hour: float | None = None, *, day: int = DAY) -> Sunlight | None:
    """Return the sun on a day of a month at an hour of the place's clock; None before the place is known or while the
    sun is lower than 3 degrees. A day past the end of the month is its last.

    Without an ``hour`` it is four in the afternoon, or earlier where the sun stands low by then.
    """
    if site.place == Place():
        return None
    hours = (hour,) if hour is not None else (USUAL_HOUR, 14.5, 13.0, 12.0)
    last = calendar.monthrange(YEAR, month)[1]
    found: Sunlight | None = None
    for each in hours:
        when = dt.datetime(YEAR, month, min(day, last), int(each) % 24, round(60 * (each % 1)) % 60)  # noqa: DTZ001 - the place's own clock
        sun = sun_position(site.place, when)
        if sun.elevation >= max(LOWEST_SUN, found.elevation if found else 0.0):
            way = towards_sun(np.array([sun.azimuth]), np.array([sun.elevation]), y_bearing=site.y_bearing)[0]
            x, y, up = (float(part) for part in way)
            found = Sunlight(azimuth=sun.azimuth, elevation=sun.elevation, towards=(x, y, up), hour=each)
            if sun.elevation >= LIKED_SUN:
                break
    return found


def sky_colours(high: str, haze: str, light: Sunlight | None) -> tuple[str, str]:
    """Return the colours of the sky high up and at the horizon, warmer the lower the sun."""
    if light is None:
        return high, haze
    return style.mixed(high, WARM, 0.22 * light.glow), style.mixed(haze, WARM, 0.5 * light.glow)
