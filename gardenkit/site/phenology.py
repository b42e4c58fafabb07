"""When things flower elsewhere: the rule of thumb for moving dates over a map, and warmth counted in degree days."""

from typing import Literal

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError, nearest
from gardenkit.sources import MEMORY, Figure
from gardenkit.units import FOOT

HOPKINS = "A. D. Hopkins, 1918, bioclimatic law, as quoted in the A. Leopold papers, Univ. of Wisconsin; North America"
DAYS_A_DEGREE_NORTH = Figure(4.0, "days", HOPKINS)
DAYS_A_DEGREE_EAST = Figure(4.0 / 5.0, "days", HOPKINS)  # 4 days for 5 degrees; east is later, west earlier
DAYS_A_METRE_UP = Figure(4.0 / (400.0 * FOOT), "days", HOPKINS)  # 4 days for 400 ft

BASE_C = Figure(10.0, "degrees C", "base 50 F, Ohio State Univ. (Herms) degree-day calendar")
Method = Literal["simple average", "lower cutoff"]
METHODS: dict[str, str] = {
    "simple average": "(Tmax + Tmin) / 2 - base, not below 0",
    "lower cutoff": "as the simple average, but a Tmin (or Tmax) below the base counts as the base (Ohio State Univ.)",
}


@attrs.frozen(kw_only=True)
class Milestone:
    """A plant event and the degree days (F, base 50, from 1 January) by which Ohio sees it."""

    plant: str
    event: Literal["first bloom", "full bloom"]
    degree_days_f: float
    source: str


_OSU = "Ohio State Univ. (Herms) calendar, u.osu.edu"
_QUOTED = "Ohio State Univ. (Herms) calendar, second-hand"
_MEMORY = f"Ohio State Univ. (Herms) calendar; {MEMORY}, +-10"
MILESTONES = tuple(
    Milestone(plant=plant, event="first bloom" if event == "first" else "full bloom", degree_days_f=gdd, source=source)
    for plant, event, gdd, source in (
        ("speckled alder", "first", 52, _OSU),
        ("Forsythia 'Northern Lights'", "first", 58, _OSU),
        ("border forsythia", "first", 86, f"{_OSU}; another page of it says 81"),
        ("Spiraea x arguta (compact)", "full", 205, _QUOTED),
        ("Spring Snow crabapple", "full", 209, _QUOTED),
        ("Halesia tetraptera", "first", 213, _QUOTED),
        ("Chaenomeles speciosa", "full", 214, _QUOTED),
        ("Coralburst crabapple", "first", 217, _QUOTED),
        ("silver maple", "first", 34, _MEMORY),
        ("red maple", "full", 75, _MEMORY),
        ("star magnolia", "first", 83, _MEMORY),
        ("border forsythia", "full", 116, _MEMORY),
        ("saucer magnolia", "first", 133, _MEMORY),
        ("redbud", "first", 191, _MEMORY),
        ("common lilac", "first", 234, _MEMORY),
        ("flowering dogwood", "first", 263, _MEMORY),
        ("common lilac", "full", 315, _MEMORY),
        ("black locust", "first", 467, _MEMORY),
    )
)


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


def degree_days(
    tmin: NDArray[np.float64], tmax: NDArray[np.float64], *, base: float = float(BASE_C), method: str = "simple average"
) -> NDArray[np.float64]:
    """Return each day's degree days above ``base``; tmin, tmax and base share one unit, and the answer has it too.

    ``method`` is a word of METHODS: published calendars differ, so name it beside the figure. NaN stays NaN.
    Ohio State's calendar in F: ``1.8 * degree_days(tmin_c, tmax_c, method="lower cutoff")``.

    >>> degree_days(np.array([40.0]), np.array([70.0]), base=50, method="lower cutoff").tolist()
    [10.0]
    """
    if method not in METHODS:
        raise GardenError(
            f'the degree-day method "{method}" is not known{nearest(method, METHODS)}; use {" or ".join(METHODS)}'
        )
    low, high = np.asarray(tmin, dtype=float), np.asarray(tmax, dtype=float)
    if method == "lower cutoff":
        low, high = np.maximum(low, base), np.maximum(high, base)
    above: NDArray[np.float64] = np.maximum((low + high) / 2.0 - base, 0.0)
    return above


def day_reached(daily: NDArray[np.float64], total: float) -> int | None:
    """Return the first row at which the running sum of ``daily`` reaches ``total``, or None; a missing day adds 0."""
    reached = np.flatnonzero(np.cumsum(np.nan_to_num(daily)) >= total)
    return int(reached[0]) if len(reached) else None
