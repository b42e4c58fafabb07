"""When things flower elsewhere: the rule of thumb for moving dates over a map."""

import datetime as dt

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.sources import Figure
from gardenkit.units import FOOT

HOPKINS = "A. D. Hopkins, 1918, bioclimatic law, as quoted in the A. Leopold papers, Univ. of Wisconsin; North America"
DAYS_A_DEGREE_NORTH = Figure(4.0, "days", HOPKINS)
DAYS_A_DEGREE_EAST = Figure(4.0 / 5.0, "days", HOPKINS)  # 4 days for 5 degrees; east is later, west earlier
DAYS_A_METRE_UP = Figure(4.0 / (400.0 * FOOT), "days", HOPKINS)  # 4 days for 400 ft


def hopkins_shift_days(
    *, degrees_north: float = 0.0, degrees_east: float = 0.0, metres_up: float = 0.0, season: str = "spring"
) -> float:
    """Return days by which an event comes later (minus: earlier) after a move; a rule of thumb for North America.

    Spring: 4 days later per degree of latitude north, per 5 degrees of longitude EAST, per 400 ft up. Autumn: as much
    earlier. Going from longitude -90 to -85 is 5 degrees east.

    >>> round(hopkins_shift_days(degrees_north=1, degrees_east=-5, metres_up=200 * 0.3048), 9)
    2.0
    """
    if season not in ("spring", "autumn"):
        raise GardenError(
            f'the season "{season}" has no date rule{nearest(season, ("spring", "autumn"))}; use spring or autumn'
        )
    later = degrees_north * DAYS_A_DEGREE_NORTH + degrees_east * DAYS_A_DEGREE_EAST + metres_up * DAYS_A_METRE_UP
    return later if season == "spring" else -later


def hopkins_between(
    known: tuple[float, float, float], here: tuple[float, float, float], *, season: str = "spring"
) -> float:
    """Return the shift in days from a place with known dates to ``here``; each is (latitude, longitude, height m).

    Latitude is counted towards the pole, so the sign is right south of the equator too (there the east rule is
    untried). Raises GardenError across the equator.
    """
    if known[0] * here[0] < 0:
        raise GardenError(
            "the two places lie on either side of the equator, so their seasons differ; choose a nearer place"
        )
    return hopkins_shift_days(
        degrees_north=abs(here[0]) - abs(known[0]),
        degrees_east=(here[1] - known[1] + 180.0) % 360.0 - 180.0,
        metres_up=here[2] - known[2],
        season=season,
    )


@attrs.frozen(kw_only=True)
class MovedDates:
    """The frost dates of a place worked out from a station's: MM-DD, and by how many days each was moved (later: +)."""

    last_frost: str
    first_frost: str
    spring: float
    autumn: float

    @property
    def source(self) -> str:
        """One line for the records."""
        return (
            f"{HOPKINS}: station's dates moved by {self.spring:+.0f} days in spring, {self.autumn:+.0f} in autumn; a "
            "rule of thumb"
        )


def moved_dates(
    known: tuple[float, float, float], here: tuple[float, float, float], *, last_frost: str, first_frost: str
) -> MovedDates:
    """Return a station's mean frost dates (MM-DD) moved to ``here``; places are (latitude, longitude, height m).

    Raises GardenError across the equator.
    """
    spring, autumn = (hopkins_between(known, here, season=season) for season in ("spring", "autumn"))
    return MovedDates(
        last_frost=days_later(last_frost, spring),
        first_frost=days_later(first_frost, autumn),
        spring=spring,
        autumn=autumn,
    )


def days_later(date: str, days: float) -> str:
    """Return a month and day some days later.

    >>> days_later("04-15", 6.4), days_later("12-30", 4)
    ('04-21', '01-03')
    """
    return (dt.date.fromisoformat(f"2001-{date}") + dt.timedelta(days=round(days))).strftime("%m-%d")
