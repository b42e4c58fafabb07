"""How a paved area is to lie: level along the house, falling away from it, by the ground that is there or will be."""

import math
from collections.abc import Sequence
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.site.grading import HARD_FALL, PAVING_MOST
from gardenkit.site.levels import Surface, slope_of
from gardenkit.site.site import Building
from gardenkit.sources import HOUSE, Figure

BESIDE = Figure(0.3, "m", HOUSE)  # an area nearer to a wall than this lies along it
EVERY = Figure(0.25, "m", HOUSE)  # between the places along a wall where the ground is asked


@attrs.frozen(kw_only=True)
class PavedFall:
    """A plane for a paved area: ``top`` is its height at ``start``, metres over the plan's zero, ``away`` the way it
    falls, degrees clockwise from the plan's y axis, by ``percent``; ``along`` names the building it lies along.
    """

    start: Point
    top: float
    away: float
    percent: float
    along: str = ""

    def level(self, at: Point) -> float:
        """Return how high the paving lies at a place."""
        turn = math.radians(self.away)
        out = (at[0] - self.start[0]) * math.sin(turn) + (at[1] - self.start[1]) * math.cos(turn)
        return self.top - out * self.percent / 100


def paved_fall(region: Region, lie: Surface, buildings: Sequence[Building]) -> PavedFall:
    """Return how paving over ``region`` is to lie: as the ground falls where that is between what a hard surface needs
    beside a building and the most that tables stand on, else the nearer of the two; down the ground's own slope where
    no building is beside it. Raises GardenError for a region without ground.
    """
    slope, wall = slope_of(lie, region), _wall_beside(region, buildings)
    if wall is None:
        start, away, along, spots = plane.centre(region), slope.downhill, "", np.array([plane.centre(region)])
        own = slope.percent
    else:
        along, a, b, away = wall
        count = max(2, math.ceil(math.dist(a, b) / EVERY) + 1)
        start, spots = a, np.linspace(a, b, count)
        own = slope.percent * math.cos(math.radians(slope.downhill - away))
    percent = min(max(own, float(HARD_FALL)), float(PAVING_MOST))
    return PavedFall(start=start, top=float(lie.at(spots).mean()), away=away, percent=percent, along=along)


def _wall_beside(region: Region, buildings: Sequence[Building]) -> tuple[str, Point, Point, float] | None:
    """Return the building, the stretch of its wall that an area lies along most, and the way out from it."""
    best, longest = None, 0.0
    near = plane.grown(region, BESIDE)
    for house in buildings:
        body, ring = plane.region(house.outline), (*house.outline, house.outline[0])
        for a, b in pairwise(ring):
            for first, *_, last in plane.lines_within(plane.line((a, b)), near):
                long = math.dist(first, last)
                if long > longest:
                    out = plane.heading(a, b) + 90
                    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                    inwards = plane.contains(body, plane.towards(middle, out, 0.05))
                    best, longest = (house.name, first, last, (out + 180 * inwards) % 360), long
    return best
