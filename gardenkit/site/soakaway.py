"""How large a soakaway must be: what a storm brings, what soaks away meanwhile, and what the pit holds of the rest."""

import math

import attrs

from gardenkit.findings import GardenError
from gardenkit.sources import HOUSE, Figure
from gardenkit.units import INCH

BALANCE = "BRE Digest 365, second-hand (Gyoury Self, soakaway sheets of 2017): inflow less outflow is what is stored"
# mm that fall in so many minutes once in ten years, where an hour of five years brings 20 mm and the ratio r is 0.40
STORMS: tuple[tuple[int, float], ...] = (
    (10, 12.69),
    (15, 15.50),
    (30, 19.84),
    (60, 24.80),
    (120, 30.01),
    (240, 35.38),
    (360, 38.72),
    (600, 42.96),
    (1440, 52.86),
    (2880, 61.31),
    (5760, 70.15),
)
USUAL_HOUR = Figure(24.8, "mm", f"an hour's rain once in ten years in southern England; {BALANCE}")
VOIDS = Figure(0.30, "share", "voids between rubble, about 30 % (CNC Building Control, how to size a soakaway)")
QUICK = Figure(50.0 / 3000.0, "m", "CNC Building Control: roof x 50 mm / 3000, on ground that soaks well")
LEAST_RATE = Figure(1e-6, "m/s", "Buckinghamshire Council, design standards: slower ground is not used")
HALF_EMPTY = Figure(24.0, "h", "BRE Digest 365, second-hand: from full to half empty within a day")
HOLE = Figure(12 * INCH, "m", f"width and depth of the hole that drainage was tested in; {HOUSE}")


@attrs.frozen(kw_only=True)
class Pit:
    """The inside of a soakaway in metres, and how much of it is ``voids``."""

    length: float
    width: float
    deep: float
    voids: float = VOIDS

    @property
    def holds(self) -> float:
        """The m3 of water it holds."""
        return self.length * self.width * self.deep * self.voids

    @property
    def sides(self) -> float:
        """The m2 of its sides to half its depth; the floor silts up and does not count."""
        return 2 * (self.length + self.width) * self.deep / 2


@attrs.frozen(kw_only=True)
class Balance:
    """The storm that fills a pit most: its ``minutes``, the m3 it brings, those that soak away, those to be held, and
    the ``hours`` until the pit is half empty again.
    """

    minutes: int
    brings: float
    soaks: float
    wanted: float
    hours: float


def soaking(drop_mm_an_hour: float) -> float:
    """Return the m/s at which water goes into the ground, from how fast it falls in a test hole.

    The water leaves a hole through its floor and its wet sides, so the ground takes less than the fall of the water.

    >>> soaking(18.0) * 1e6
    1.0
    """
    if not 0 <= drop_mm_an_hour < math.inf:
        raise GardenError(f"water that falls {drop_mm_an_hour:g} mm an hour is no reading; measure the hole again")
    floor, sides = math.pi * HOLE * HOLE / 4, math.pi * HOLE * HOLE
    return drop_mm_an_hour / 1000 / 3600 * floor / (floor + sides)


def balance(pit: Pit, area: float, rate: float, *, hour: float = USUAL_HOUR) -> Balance:
    """Return the storm of ten years that asks most of a pit for ``area`` m2, in ground that takes ``rate`` m/s.

    ``hour`` is what an hour brings once in ten years, in mm; the other storms are larger or smaller with it.
    """
    if not rate > 0:
        raise GardenError("ground that takes no water holds no soakaway; lead the water elsewhere")
    found = []
    for minutes, rain in STORMS:
        brings = area * rain / 1000 * hour / USUAL_HOUR
        soaks = pit.sides * rate * minutes * 60
        found.append((brings - soaks, minutes, brings, soaks))
    wanted, minutes, brings, soaks = max(found)
    half = 0.5 * max(0.0, wanted) / (pit.sides * rate) / 3600
    return Balance(minutes=minutes, brings=brings, soaks=soaks, wanted=max(0.0, wanted), hours=half)


def quick_volume(area: float) -> float:
    """Return the m3 of rubble-filled pit for ``area`` m2 of roof on ground that soaks well.

    >>> round(quick_volume(50.0), 1)
    2.8
    """
    return area * QUICK / VOIDS


def stretched(pit: Pit, area: float, rate: float | None, *, hour: float = USUAL_HOUR) -> float:
    """Return how many times as long and wide a pit must be for its storm, or by the quick rule without a ``rate``."""
    if rate is None:
        return math.sqrt(quick_volume(area) / (pit.length * pit.width * pit.deep))
    low, high = 0.01, 100.0
    for _ in range(60):
        k = math.sqrt(low * high)
        grown = attrs.evolve(pit, length=k * pit.length, width=k * pit.width)
        low, high = (low, k) if grown.holds >= balance(grown, area, rate, hour=hour).wanted else (k, high)
    return high
