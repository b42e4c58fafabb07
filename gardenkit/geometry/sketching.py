"""Shapes made of a few clicks: a rectangle of two corners or of a side and its depth, corners joined by a curve."""

import math
from collections.abc import Sequence
from typing import Literal

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point

Way = Literal["corners", "rectangle", "side and depth", "curve"]
NEEDED: dict[Way, int] = {"corners": 3, "rectangle": 2, "side and depth": 3, "curve": 3}  # clicks, at the least
WHOLE: dict[Way, int] = {"rectangle": 2, "side and depth": 3}  # clicks after which the shape is whole
ROUND = 4  # points of a curve from one click to the next. House value.


def outline_of(clicked: Sequence[Point], way: Way) -> Outline:
    """Return the outline that clicks (metres) make as far as they go: their own corners while there are too few."""
    if len(clicked) < NEEDED[way]:
        return tuple(clicked)
    if way == "rectangle":
        (ax, ay), (bx, by) = clicked[0], clicked[1]
        return ((ax, ay), (bx, ay), (bx, by), (ax, by))
    if way == "side and depth":
        return _on_a_side(*clicked[:3])
    return _curve(clicked) if way == "curve" else tuple(clicked)


def lengths_of(line: Line, *, closed: bool) -> tuple[float, ...]:
    """Return the length of every side in metres, the one back to the start too when ``closed``."""
    ends = (*line[1:], line[0]) if closed and len(line) > 2 else line[1:]
    return tuple(math.dist(a, b) for a, b in zip(line, ends, strict=False))


# ---- helpers


def _on_a_side(a: Point, b: Point, beyond: Point) -> Outline:
    """Return the rectangle on the side from a to b, as deep as a third click lies off it."""
    long = math.dist(a, b)
    if long < 1e-9:
        return (a, b, beyond)
    across = (-(b[1] - a[1]) / long, (b[0] - a[0]) / long)
    depth = (beyond[0] - a[0]) * across[0] + (beyond[1] - a[1]) * across[1]
    by = (across[0] * depth, across[1] * depth)
    return (a, b, *plane.moved((b, a), by))


def _curve(clicked: Sequence[Point]) -> Outline:
    """Return a closed curve through the clicks: Catmull and Rom's cubic, 1974, from memory."""
    n, found = len(clicked), []
    for i in range(n):
        p, q, r, s = (clicked[(i + k - 1) % n] for k in range(4))
        for step in range(ROUND):
            t = step / ROUND
            found.append(tuple(_cubic(p[k], q[k], r[k], s[k], t) for k in (0, 1)))
    return tuple((x, y) for x, y in found)


def _cubic(p: float, q: float, r: float, s: float, t: float) -> float:
    return 0.5 * (2 * q + (r - p) * t + (2 * p - 5 * q + 4 * r - s) * t**2 + (3 * q - p - 3 * r + s) * t**3)
