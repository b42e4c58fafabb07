"""Where a path turns back on itself, and how wide what it turns round is."""

import numpy as np

from gardenkit.geometry.curve import Curve
from gardenkit.geometry.plane import Point

LOOKED_AT = 0.1  # m between the points looked at. Numerical choice.
BACK = 170.0  # degrees of turning that count as turning back. House value; the standard says 180.


def tightest_half_turn(curve: Curve, width: float) -> tuple[float, Point] | None:
    """Return how wide the narrowest thing is that a path ``width`` metres wide turns back round, in metres between the
    inner edges of its two legs, and where the turn is; None for a path that does not turn back.
    """
    s = np.linspace(0.0, curve.length, max(3, round(curve.length / LOOKED_AT) + 1))
    at, way = curve.at(s), curve.direction(s)
    heading = np.unwrap(np.arctan2(way[:, 1], way[:, 0]))
    turned = np.abs(heading[None, :] - heading[:, None]) >= np.radians(BACK)
    turned &= np.arange(len(s))[None, :] > np.arange(len(s))[:, None]
    begins = np.flatnonzero(turned.any(axis=1))
    if not len(begins):
        return None
    ends = turned[begins].argmax(axis=1)
    apart = np.linalg.norm(at[ends] - at[begins], axis=1)
    best = int(apart.argmin())
    x, y = curve.at((s[begins[best]] + s[ends[best]]) / 2)[0]
    return max(0.0, float(apart[best]) - width), (float(x), float(y))
