"""How cold the winters and how hot the summers are: hardiness and heat zones as plant labels print them."""

import math
import re
from collections.abc import Mapping
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError
from gardenkit.site.weather import DailyWeather
from gardenkit.sources import HOUSE, MEMORY, Figure

COLDEST_ZONE_F = Figure(-60.0, "degrees F", "USDA Plant Hardiness Zone Map: lower end of zone 1a")
HALF_ZONE_F = Figure(5.0, "degrees F", "USDA Plant Hardiness Zone Map: zones of 10 F in halves a and b")
HALF_ZONES = tuple(f"{number}{half}" for number in range(1, 14) for half in "ab")  # 1a .. 13b
ZONE_YEARS = Figure(30, "winters", "USDA Plant Hardiness Zone Map: a zone is a 30-year mean of yearly lowest readings")
MAP_PERIODS: dict[str, tuple[int, int, str]] = {  # map: first year, last year, source
    "USDA 2023 map": (1991, 2020, "USDA Plant Hardiness Zone Map, 2023"),
    "USDA 2012 map": (1976, 2005, f"USDA Plant Hardiness Zone Map, 2012; {MEMORY}"),
}

HEAT_DAY = Figure(30.0, "degrees C", "American Horticultural Society heat zones: days above 86 F (30 C)")
HEAT_ZONE_ENDS = (1, 7, 14, 30, 45, 60, 90, 120, 150, 180, 210)  # days a year; AHS: zone 1 is below 1, zone 2 is 1 to 7


NEAR_EDGE = 0.3  # degrees C from the edge of a half-zone, 11 % of its width. House value.
YearKind = Literal["calendar", "winter"]


def hardiness_zone(text: str, *, where: str = "the hardiness zone") -> str:
    """Return a USDA hardiness zone as written on the map: ``6b``, or ``6`` for a whole zone.

    Raises GardenError outside zones 1 to 13.

    >>> hardiness_zone("Zone 6B")
    '6b'
    """
    shown = str(text).strip()
    match = re.fullmatch(r"(?:usda\s*)?(?:zone\s*)?([0-9]{1,2})\s*([ab]?)", shown.casefold())
    if match is None or not 1 <= int(match[1]) <= 13:
        raise GardenError(
            f'{where} "{shown[:60]}" is not a USDA zone; give one from 1a to 13b, like 6b, or 6 for both halves'
        )
    return f"{int(match[1])}{match[2]}"


def zone_of_minimum(mean_minimum_c: float) -> str:
    """Return the half-zone of a mean yearly lowest temperature in degrees C; the lower bound belongs to the zone.

    Raises GardenError outside -60 to 70 F (-51.1 to 21.1 C). Source: USDA Plant Hardiness Zone Map.

    >>> zone_of_minimum(0.0)
    '10a'
    """
    fahrenheit = round(mean_minimum_c * 1.8 + 32.0, 9)
    steps = (fahrenheit - COLDEST_ZONE_F) / HALF_ZONE_F
    if not 0.0 <= steps <= len(HALF_ZONES):
        raise GardenError(
            f"a mean yearly minimum of {mean_minimum_c:.1f} C is outside the zone map (-51.1 to 21.1 C); check the unit"
        )
    return HALF_ZONES[min(int(steps), len(HALF_ZONES) - 1)]


def zone_limits_c(zone: str) -> tuple[float, float]:
    """Return the lowest and highest mean yearly minimum of a zone, degrees C; a zone without a letter spans both."""
    zone = hardiness_zone(zone)
    first = HALF_ZONES.index(zone if zone[-1] in "ab" else zone + "a")
    count = 1 if zone[-1] in "ab" else 2
    low = COLDEST_ZONE_F + first * HALF_ZONE_F
    return (low - 32.0) / 1.8, (low + count * HALF_ZONE_F - 32.0) / 1.8


@attrs.frozen(kw_only=True)
class ZoneReading:
    """A hardiness zone worked out from yearly lowest temperatures, with the period and the kind of year it is for."""

    zone: str
    mean_minimum_c: float
    first_year: int
    last_year: int
    year: YearKind
    years_used: int

    @property
    def source(self) -> str:
        """One line for the records: zone, mean, period and convention."""
        kind = "calendar years" if self.year == "calendar" else "winters (July to June, by their first year)"
        return f"mean of {self.years_used} {kind} {self.first_year}-{self.last_year}: {self.mean_minimum_c:.1f} °C"

    def findings(self) -> tuple[Finding, ...]:
        """Return what to know before trusting the zone."""
        found = []
        if self.years_used < ZONE_YEARS:
            found.append(
                Finding(
                    where="climate",
                    what=f"zone {self.zone} rests on {self.years_used} years only; compare it with the zone map",
                    why=f"{ZONE_YEARS:g} years are usual",
                    source=ZONE_YEARS.source,
                    seriousness="caution",
                    topic="hardiness",
                )
            )
        low, high = zone_limits_c(self.zone)
        edge = min(self.mean_minimum_c - low, high - self.mean_minimum_c)
        if edge < NEAR_EDGE:
            found.append(
                Finding(
                    where="climate",
                    what=f"zone {self.zone} is a near thing; choose key plants for the colder half-zone beside it",
                    why=f"the mean lies {edge / (high - low):.0%} of a half-zone from its edge; under 11 % is near",
                    source=HOUSE,
                    topic="hardiness",
                )
            )
        return tuple(found)


def zone_of_years(minima: Mapping[int, float], *, first: int, last: int, year: YearKind = "calendar") -> ZoneReading:
    """Return the zone from lowest temperatures (degrees C) by year, over ``first`` to ``last``, both included.

    ``year`` says how the caller's years run: calendar years, or winters named by the year they start in. NaN and
    absent years are left out and the number used is reported. MAP_PERIODS holds the periods of the published maps.

    Raises GardenError when no year of the period has a reading.
    """
    used = [minima[y] for y in range(first, last + 1) if y in minima and not math.isnan(minima[y])]
    if not used:
        raise GardenError(f"there is no yearly minimum from {first} to {last}; give readings or another period")
    mean = math.fsum(used) / len(used)
    return ZoneReading(
        zone=zone_of_minimum(mean),
        mean_minimum_c=mean,
        first_year=first,
        last_year=last,
        year=year,
        years_used=len(used),
    )


def heat_days(weather: DailyWeather, *, above: float = float(HEAT_DAY)) -> dict[int, int]:
    """Return by year how many days were hotter than ``above`` degrees C (AHS: above 30 C, not at it)."""
    years = np.unique(weather.years)
    return {int(y): int(np.count_nonzero(weather.tmax[weather.years == y] > above)) for y in years}


def heat_zone(days_a_year: float) -> int:
    """Return the AHS plant heat zone, 1 to 12, of a mean number of days a year above 30 C; 0 to 366.

    Source: American Horticultural Society, Plant Heat Zone Map (1974-1995): 1 is below 1 day, 2 is 1 to 7 and so on.

    >>> heat_zone(7), heat_zone(7.1)
    (2, 3)
    """
    if not 0.0 <= days_a_year <= 366.0:
        raise GardenError(
            f"{days_a_year:g} heat days a year is outside 0 to 366; give the mean count of days above 30 C"
        )
    if days_a_year < HEAT_ZONE_ENDS[0]:
        return 1
    return next((zone for zone, end in enumerate(HEAT_ZONE_ENDS[1:], start=2) if days_a_year <= end), 12)
