"""How enclosed a place feels: the distance to what stands round it against its height, and how much sky is left.

Beware: the garden rules measure from the viewer to the wall, the street rules take the full width between both walls.
"""

import math
from collections.abc import Mapping

import attrs
import numpy as np

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.isovist import REACH
from gardenkit.sources import COMMON
from gardenkit.structure.sightlines import View

BOOTH = (
    "Robinette, Plants, People and Environmental Quality, quoted in Booth, "
    "Basic Elements of Landscape Architectural Design, p. 137"
)
# Distance from the viewer over height, and how the place reads at it. Between two printed ratios the looser reading
# is taken, and beyond 3:1 enclosure counts as lost: house reading.
READINGS: tuple[tuple[float, str], ...] = (
    (1.0, "full enclosure"),
    (2.0, "just enclosing"),
    (3.0, "minimum enclosure"),
    (4.0, "loss of enclosure"),
)
IDEAL_RATIO = (3.0, f'distance to height 3:1, "ideal"; {COMMON}')
# Height over full width between the walls: lowest and highest advised, and who says so.
STREET_RULES: dict[str, tuple[float, float, str]] = {
    "not below 1:6": (1 / 6, math.inf, "street design guide"),
    "1:2 to 1:4": (1 / 4, 1 / 2, "street design guide: common; below 1:4 not advised"),
    "3:2 to 1:6": (1 / 6, 3 / 2, "recommended range, second-hand; Ewing & Handy, 2009, found no single ratio"),
}


@attrs.frozen(kw_only=True)
class Around:
    """Enclosure all round a place: share of directions at each reading, and the median distance over height.

    ``open_share`` is the share of directions where nothing of known height ends the view.
    """

    shares: tuple[tuple[str, float], ...]
    median_ratio: float
    open_share: float


def enclosure_angle(distance: float, height: float) -> float:
    """Return the angle from level ground to the top, degrees: atan(H / D)."""
    return math.degrees(math.atan2(height, distance))


def reading(distance: float, height: float) -> str:
    """Return how a wall ``height`` metres high at ``distance`` metres from the viewer reads, by Robinette's ratios.

    >>> reading(6.0, 2.0)
    'minimum enclosure'
    """
    if not (distance > 0 and height > 0):
        raise GardenError(f"distance {distance:g} m and height {height:g} m must both be above 0 to compare them")
    ratio = distance / height
    return next((name for most, name in READINGS if ratio <= most * (1 + 1e-9)), READINGS[-1][1])


def street_reading(width: float, height: float, *, rule: str = "not below 1:6") -> str:
    """Return "enclosed", "too open" or "too tight" for two walls ``width`` metres apart, by a named street rule."""
    if rule not in STREET_RULES:
        raise GardenError(f'there is no street rule "{rule}"{nearest(rule, STREET_RULES)}')
    if not width > 0:
        raise GardenError(f"the width between the walls is {width:g} m; give a width above 0")
    low, high, _source = STREET_RULES[rule]
    ratio = height / width
    if ratio < low * (1 - 1e-9):
        return "too open"
    return "too tight" if ratio > high * (1 + 1e-9) else "enclosed"


def sky_between_walls(width: float, height: float) -> float:
    """Return the share of the sky seen from the middle of the floor between two long walls: cos(atan(2H / W))."""
    return math.cos(math.atan2(2.0 * height, width))


def sky_in_clearing(distance: float, height: float) -> float:
    """Return the share of the sky seen from the middle of a round clearing: D2 / (D2 + H2)."""
    return distance**2 / (distance**2 + height**2)


def around(view: View, heights: Mapping[str, float], *, directions: int = 72) -> Around:
    """Return enclosure all round a view: ``heights`` gives metres above the viewer's ground for names that end it."""
    degrees = np.arange(directions) * 360.0 / directions
    far = view.isovist.views(degrees)
    ratios: list[float] = []
    counts = dict.fromkeys((name for _, name in READINGS), 0)
    for length, stop in zip(far, view.isovist.stops(degrees), strict=True):
        height = 0.0 if stop == REACH else heights.get(view.names[int(stop)], 0.0)
        ratio = float(length) / height if height > 0 else math.inf
        ratios.append(ratio)
        if height > 0:
            counts[reading(float(length), height)] += 1
    unknown = sum(math.isinf(r) for r in ratios)
    shares = tuple((name, count / directions) for name, count in counts.items())
    ordered = sorted(ratios)
    return Around(shares=shares, median_ratio=ordered[directions // 2], open_share=unknown / directions)
