"""Several spots put in order: on one straight line, or at even distances along it."""

import math
from collections.abc import Sequence
from itertools import combinations, pairwise

from gardenkit.geometry.plane import Line, Point


def on_a_line(spots: Sequence[Point]) -> tuple[Point, ...]:
    """Return spots put square onto the line between the two furthest apart, each where it is along it."""
    start, way = _line(spots)
    return tuple(_at(start, way, along, 0.0) for along, _ in (_seen(p, start, way) for p in spots))


def spread_evenly(spots: Sequence[Point]) -> tuple[Point, ...]:
    """Return spots at even distances along the line between the two furthest apart, which stay; each keeps its order
    and how far it is off the line.
    """
    start, way = _line(spots)
    seen = [_seen(p, start, way) for p in spots]
    order = sorted(range(len(spots)), key=lambda i: seen[i][0])
    low, high = seen[order[0]][0], seen[order[-1]][0]
    step = (high - low) / max(len(spots) - 1, 1)
    put = {i: _at(start, way, low + place * step, seen[i][1]) for place, i in enumerate(order)}
    return tuple(put[i] for i in range(len(spots)))


# ---- helpers


def walked(line: Line, step: float) -> tuple[Point, ...]:
    """Return the points of a line ``step`` metres apart along it, its first one first."""
    found: list[Point] = []
    left = 0.0
    for a, b in pairwise(line):
        far = math.dist(a, b)
        while left < far:
            share = left / far
            found.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
            left += step
        left -= far
    return tuple(found)


def along(line: Line, at: Point) -> tuple[float, float]:
    """Return how far along a line its nearest place to a point lies, and how far off it the point is, metres.

    >>> along(((0, 0), (4, 0), (4, 3)), (5, 1))
    (5.0, 1.0)
    """
    best, before = (0.0, math.inf), 0.0
    for a, b in pairwise(line):
        far = math.dist(a, b)
        share = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / far**2 if far else 0.0
        share = min(max(share, 0.0), 1.0)
        off = math.dist(at, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        if off < best[1]:
            best = (before + share * far, off)
        before += far
    return best


def _line(spots: Sequence[Point]) -> tuple[Point, Point]:
    """Return where the line begins and its direction, of length 1."""
    a, b = max(combinations(spots, 2), key=lambda pair: math.dist(*pair))
    far = math.dist(a, b)
    return a, ((b[0] - a[0]) / far, (b[1] - a[1]) / far) if far > 0 else (1.0, 0.0)


def _seen(at: Point, start: Point, way: Point) -> tuple[float, float]:
    """Return how far along the line a spot is, and how far off it."""
    x, y = at[0] - start[0], at[1] - start[1]
    return x * way[0] + y * way[1], y * way[0] - x * way[1]


def _at(start: Point, way: Point, along: float, off: float) -> Point:
    return start[0] + along * way[0] - off * way[1], start[1] + along * way[1] + off * way[0]
