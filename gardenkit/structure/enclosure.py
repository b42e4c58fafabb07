"""How enclosed a place feels: the distance to what stands round it against its height, and how much sky is left.

Beware: the garden rules measure from the viewer to the wall, the street rules take the full width between both walls.
"""

import math
from collections.abc import Mapping

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry.isovist import REACH
from gardenkit.structure.sightlines import View

# Distance from the viewer over height, and how the place reads at it. Between two printed ratios the looser reading
# is taken, and beyond 3:1 enclosure counts as lost: house reading.
READINGS: tuple[tuple[float, str], ...] = (
    (1.0, "full enclosure"),
    (2.0, "just enclosing"),
    (3.0, "minimum enclosure"),
    (4.0, "loss of enclosure"),
)


@attrs.frozen(kw_only=True)
class Around:
    """Enclosure all round a place: share of directions at each reading, and the median distance over height.

    ``open_share`` is the share of directions where nothing of known height ends the view.
    """

    shares: tuple[tuple[str, float], ...]
    median_ratio: float
    open_share: float


def reading(distance: float, height: float) -> str:
    """Return how a wall ``height`` metres high at ``distance`` metres from the viewer reads, by Robinette's ratios.

    >>> reading(6.0, 2.0)
    'minimum enclosure'
    """
    if not (distance > 0 and height > 0):
        raise GardenError(f"distance {distance:g} m and height {height:g} m must both be above 0 to compare them")
    ratio = distance / height
    return next((name for most, name in READINGS if ratio <= most * (1 + 1e-9)), READINGS[-1][1])


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
