"""Rain off a roof: how much a month brings, how often a butt or cistern runs dry, how large a rain garden must be."""

from collections.abc import Mapping, Sequence

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.sources import Figure
from gardenkit.units import FOOT, INCH

EFFICIENCY = Figure(0.85, "share", "roofs yield 75 to 95 % (Take Care of Texas); 85 % as rainbarrel guides reckon")
TYPICAL_DOWNPIPES = Figure(4.0, "downpipes", "typical house: four, a quarter of the roof each (Wisconsin manual)")
FIRST_INCH = Figure(1 * INCH, "m", "UConn simple method: 1 in of runoff from all that drains to it")
LEAST_DEPTH = Figure(4 * INCH, "m", "rain gardens are 4 to 8 in deep (Univ. of Wisconsin Extension)")
MOST_DEPTH = Figure(8 * INCH, "m", LEAST_DEPTH.source)
HOUSE_CLEAR = Figure(10 * FOOT, "m", "a rain garden lies 10 ft or more from the house (Univ. of Wisconsin Extension)")
SPLIT_FROM = Figure(300 * FOOT * FOOT, "m2", "split above 300 sq ft (Univ. of Wisconsin Extension)")
# Share of the draining roof, nearer than 30 ft to the downpipe, for ponding depths of 3-5, 6-7 and 8 in
WISCONSIN = "Wisconsin manual's size factors, second-hand (minnesotaraingardens.wordpress.com, 2009)"
FACTORS: Mapping[str, tuple[float, float, float]] = {
    "sandy": (0.19, 0.15, 0.08),
    "loam": (0.34, 0.25, 0.16),
    "clay": (0.43, 0.32, 0.20),
}
YEARS = 3  # the balance runs so long from a full store, and its last year is told. House value.


@attrs.frozen(kw_only=True)
class Stored:
    """A year of a store, by month in litres: what was ``asked``, what was ``short``, and what ran ``over``."""

    asked: tuple[float, ...]
    short: tuple[float, ...]
    over: tuple[float, ...]

    @property
    def dry(self) -> tuple[int, ...]:
        """Months, 1 to 12, in which it runs dry."""
        return tuple(month for month, litres in enumerate(self.short, 1) if litres > 0.5)

    @property
    def given(self) -> float:
        """Litres that it gives in the year."""
        return sum(self.asked) - sum(self.short)

    @property
    def met(self) -> float:
        """Share of what the year asks that it gives; 1 where nothing is asked."""
        asked = sum(self.asked)
        return 1.0 if asked <= 0 else 1.0 - sum(self.short) / asked


def roof_litres(area: float, rain: float, *, efficiency: float = EFFICIENCY) -> float:
    """Return the litres that ``rain`` mm on ``area`` m2 of roof brings: 1 mm on 1 m2 is a litre.

    >>> roof_litres(10.0, 25.4, efficiency=1.0)
    254.0
    """
    return area * rain * efficiency


def through_the_year(capacity: float, gained: Sequence[float], asked: Sequence[float]) -> Stored:
    """Return how a store of ``capacity`` litres gets through a year of twelve monthly gains and wants.

    Month by month: what is held and comes in, less what is asked, no less than nothing and no more than it holds.
    Raises GardenError for a year that has not twelve months.
    """
    if len(gained) != 12 or len(asked) != 12:
        raise GardenError(f"a year of rain has twelve months, not {len(gained)}; give one figure a month")
    held, short, over = capacity, [0.0] * 12, [0.0] * 12
    for _ in range(YEARS):
        for month in range(12):
            left = held + gained[month] - asked[month]
            short[month], over[month] = max(0.0, -left), max(0.0, left - capacity)
            held = min(capacity, max(0.0, left))
    return Stored(asked=tuple(asked), short=tuple(short), over=tuple(over))


def rain_garden_area(roof: float, depth: float, *, runoff: float = FIRST_INCH) -> float:
    """Return the m2 of floor, ``depth`` m deep, that hold ``runoff`` m from ``roof`` m2: at 6 in deep a sixth of it."""
    if not depth > 0:
        raise GardenError(f"a rain garden {depth:g} m deep holds nothing; give its depth above 0")
    return roof * runoff / depth


def rain_garden_by_soil(roof: float, depth: float, soil: str) -> float:
    """Return the m2 of floor by the size factors for sandy, loam or clay ground within 30 ft of the downpipe.

    Raises GardenError for a ground that the table does not know.
    """
    if soil not in FACTORS:
        raise GardenError(f'there is no size factor for ground "{soil}"{nearest(soil, FACTORS)}')
    band = 0 if depth < 5.5 * INCH else 1 if depth < 7.5 * INCH else 2
    return roof * FACTORS[soil][band]
