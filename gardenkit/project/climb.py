"""A climb from one place on the ground to another: how far, how high, how steep, and the ground between the two."""

import math

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.site.levels import Surface
from gardenkit.site.site import Site

FLAT = 0.02  # m: less than this between two places needs neither steps nor ramp. House value.
APART = 0.2  # m: nearer than this two places are one. House value.
PAST_END = 1.4  # of the length of what is built: so far the ground is drawn. House value.
PIECES = 60  # of the ground's line
ROUNDING = 1e-9


@attrs.frozen(kw_only=True)
class Climb:
    """Two places on the plan and the ``rise`` in metres from the first to the second; below 0 it goes down."""

    ends: tuple[Point, Point]
    rise: float

    @property
    def run(self) -> float:
        """Level metres between the two."""
        return math.dist(*self.ends)

    @property
    def height(self) -> float:
        """Metres to be climbed, whichever way."""
        return abs(self.rise)

    @property
    def slope(self) -> float:
        """Metres of height in one level metre."""
        return self.height / self.run

    @property
    def is_flat(self) -> bool:
        """Whether there is nothing to climb."""
        return self.height < FLAT

    def fits(self, needed: float) -> bool:
        """Return whether something ``needed`` level metres long finds room between the two places."""
        return needed <= self.run + ROUNDING


def first_ends(site: Site) -> tuple[Point, Point]:
    """Return the lowest and the highest measured spot, or two places in the middle of the plot."""
    heights = site.heights
    if len(heights) > 1:
        low, high = min(heights, key=lambda h: h.height), max(heights, key=lambda h: h.height)
        if math.dist(low.at, high.at) > APART:
            return low.at, high.at
    x, y = plane.centre(plane.region(site.boundary)) if site.boundary else (0.0, 0.0)
    return (x, y - 2.0), (x, y + 2.0)


def with_end(ends: tuple[Point, Point], index: int, at: Point) -> tuple[Point, Point]:
    """Return the two places with one of them (0 or 1) put elsewhere. Raises GardenError when they become one."""
    if math.dist(at, ends[1 - index]) < APART:
        raise GardenError("the two places are one; drag them further apart")
    return (at, ends[1]) if index == 0 else (ends[0], at)


def rise_between(ends: tuple[Point, Point], ground: Surface | None) -> float:
    """Return metres from the first place up to the second. Raises GardenError while no heights are measured."""
    if ground is None:
        raise GardenError("no ground heights are measured yet; type the rise, or take heights in 03_site_measurement")
    low, high = (ground.height(place) for place in ends)
    return high - low


def ground_beside(climb: Climb, ground: Surface | None, *, landing: float, overall: float) -> Line:
    """Return the ground in section from the lower place to a little past the end of what is built, empty if unknown.

    The line begins ``landing`` metres along at height 0; ``overall`` is the length built, in metres.
    """
    if ground is None:
        return ()
    low, high = climb.ends if climb.rise > 0 else climb.ends[::-1]
    share = np.linspace(0, 1, PIECES + 1)
    heights = ground.at(np.asarray(low) + share[:, None] * (np.asarray(high) - np.asarray(low)))
    line = [(landing + climb.run * float(s), float(z - heights[0])) for s, z in zip(share, heights, strict=True)]
    return tuple(point for point in line if point[0] <= PAST_END * overall)
