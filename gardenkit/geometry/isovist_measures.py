"""How big, how closed and how lopsided the view from a spot is: area, edges, longest view, drift, spread of views.

The measures are Benedikt's (To take hold of space: isovists and isovist fields, Environment and Planning B 6(1), 1979,
47-65).
"""

import math
from typing import Literal

import attrs
import numpy as np

from gardenkit.geometry.isovist import REACH, SAME, TAU, Isovist, cross
from gardenkit.geometry.plane import FloatArray, Point

Compactness = Literal["4 pi A / P2", "P2 / 4 pi A", "mean view / longest view"]
NODES, WEIGHTS = np.polynomial.legendre.leggauss(24)  # Gauss points: lengths to a round trunk are exact to rounding


@attrs.frozen(kw_only=True)
class Measures:
    """Benedikt's local measures of an isovist (Environment and Planning B 6(1), 1979), metres and square metres.

    ``occlusivity`` is the length of its radial edges that are no wall; ``open_edge`` the length where only the end of
    sight stops the eye; ``closed_perimeter`` the rest. ``drift`` is the distance from the eye to the middle of the
    seen ground. ``mean_view``, ``mean_square``, ``variance`` and ``skewness`` (third central moment, m3) are those of
    the length of view over all directions.
    """

    area: float
    perimeter: float
    closed_perimeter: float
    occlusivity: float
    open_edge: float
    longest_view: float
    longest_at: Point
    drift: float
    centroid: Point
    mean_view: float
    mean_square: float
    variance: float
    skewness: float

    def compactness(self, formula: Compactness = "4 pi A / P2") -> float:
        """Return compactness by a named formula, as authors differ; the middle of a full circle gives 1 in all."""
        if formula == "mean view / longest view":
            return self.mean_view / self.longest_view
        ratio = 4.0 * math.pi * self.area / self.perimeter**2
        return ratio if formula == "4 pi A / P2" else 1.0 / ratio


def measures(seen: Isovist) -> Measures:
    """Return the measures of an isovist, exact for straight walls, round trunks and a round end of sight."""
    jumps = np.abs(np.roll(seen.far, 1) - seen.near)
    occlusivity = float(jumps.sum()) - _along_walls(seen)
    arcs = _arcs(seen)
    area = float(arcs.area.sum())
    perimeter = float(arcs.edge.sum() + jumps.sum())
    open_edge = float(arcs.edge[seen.stop == REACH].sum())
    middle = arcs.moment.sum(axis=0) / area
    mean, square, cube = (float(power.sum()) / TAU for power in arcs.powers)
    k = int(np.argmax(np.maximum(seen.near, seen.far)))
    angle, longest = max(((seen.start[k], seen.near[k]), (seen.end[k], seen.far[k])), key=lambda pair: pair[1])
    return Measures(
        area=area,
        perimeter=perimeter,
        closed_perimeter=perimeter - occlusivity - open_edge,
        occlusivity=occlusivity,
        open_edge=open_edge,
        longest_view=float(longest),
        longest_at=(seen.eye[0] + float(longest * np.cos(angle)), seen.eye[1] + float(longest * np.sin(angle))),
        drift=float(np.hypot(*middle)),
        centroid=(seen.eye[0] + float(middle[0]), seen.eye[1] + float(middle[1])),
        mean_view=mean,
        mean_square=square,
        variance=square - mean**2,
        skewness=cube - 3.0 * mean * square + 2.0 * mean**3,
    )


def _along_walls(seen: Isovist) -> float:
    """Return the length of radial edges that lie along a wall seen edge-on: real edges, not occluding ones."""
    total = 0.0
    before, after = np.roll(seen.far, 1), seen.near
    for angle, near, far in seen.radial:
        off = np.abs((seen.start - angle + math.pi) % TAU - math.pi)
        k = int(np.argmin(off))
        if off[k] <= 2.0 * SAME:
            low, high = sorted((before[k], after[k]))
            total += max(0.0, min(high, far) - max(low, near))
    return total


# ---- areas, edges and moments of the wedges


@attrs.frozen(eq=False)
class _Wedges:
    area: FloatArray
    edge: FloatArray
    moment: FloatArray  # (k, 2), about the eye
    powers: FloatArray  # (3, k): integrals of length, its square and its cube over angle


def _arcs(seen: Isovist) -> _Wedges:
    """Return area, length of edge, first moment and integrals of l, l2, l3 for each wedge."""
    turn = seen.end - seen.start
    p = seen.near[:, None] * np.column_stack((np.cos(seen.start), np.sin(seen.start)))
    q = seen.far[:, None] * np.column_stack((np.cos(seen.end), np.sin(seen.end)))
    area = cross(p, q) / 2.0
    edge = np.hypot(*(q - p).T)
    moment = area[:, None] * (p + q) / 3.0
    powers = np.zeros((3, len(turn)))
    flat = (seen.stop >= 0) & (seen.stop < len(seen.segments))
    powers[:, flat] = _flat_powers(p[flat], q[flat])
    ends = seen.stop == REACH
    if ends.any():
        reach, u, v = seen.reach, seen.start[ends], seen.end[ends]
        area[ends], edge[ends] = reach**2 * turn[ends] / 2.0, reach * turn[ends]
        moment[ends] = reach**3 / 3.0 * np.column_stack((np.sin(v) - np.sin(u), np.cos(u) - np.cos(v)))
        powers[:, ends] = np.array([reach, reach**2, reach**3])[:, None] * turn[ends]
    wedges = _Wedges(area, edge, moment, powers)
    for k in np.flatnonzero(seen.stop >= len(seen.segments)):
        _round_wedge(seen, int(k), p[k], q[k], wedges)
    return wedges


def _flat_powers(p: FloatArray, q: FloatArray) -> FloatArray:
    """Return the integrals of l, l2, l3 over angle for straight edges p to q, h the distance of the line from the eye.

    l = h / cos(angle from the foot), so with x the tangent at an end: h asinh x; h2 x; h3 (x sqrt(1+x2) + asinh x) / 2.
    """
    along = q - p
    unit = along / np.maximum(np.hypot(*along.T), 1e-300)[:, None]
    h = np.maximum(np.abs(cross(p, unit)), 1e-300)
    x, y = (p * unit).sum(axis=1) / h, (q * unit).sum(axis=1) / h
    secants = y * np.sqrt(1 + y**2) - x * np.sqrt(1 + x**2)
    bend = np.arcsinh(y) - np.arcsinh(x)
    return np.vstack((h * bend, h**2 * (y - x), h**3 * (secants + bend) / 2.0))


def _round_wedge(seen: Isovist, k: int, p: FloatArray, q: FloatArray, wedges: _Wedges) -> None:
    """Correct one wedge that ends on a round trunk: take the bulge towards the eye off its triangle."""
    x, y, radius = seen.circles[seen.stop[k] - len(seen.segments)] - np.array([*seen.eye, 0.0])
    half = math.asin(min(1.0, wedges.edge[k] / (2.0 * radius)))
    outward = (p + q) / 2.0 - np.array([x, y])
    bulge = radius**2 * (half - math.sin(half) * math.cos(half))
    toward = outward / max(float(np.hypot(*outward)), 1e-300)
    bulge_moment = bulge * np.array([x, y]) + 2.0 / 3.0 * (radius * math.sin(half)) ** 3 * toward
    wedges.area[k] -= bulge
    wedges.edge[k] = 2.0 * radius * half
    wedges.moment[k] -= bulge_moment
    apart = math.hypot(x, y)
    off = (np.array([seen.start[k], seen.end[k]]) - math.atan2(y, x) + math.pi) % TAU - math.pi
    low, high = np.arcsin(np.clip(np.sin(off) * apart / radius, -1.0, 1.0))
    t = (low + high + (high - low) * NODES) / 2.0  # with sin(angle) = radius / apart sin t the length is smooth in t
    sine = radius / apart * np.sin(t)
    length = apart * np.sqrt(1 - sine**2) - radius * np.cos(t)
    weight = (high - low) / 2.0 * WEIGHTS * radius / apart * np.cos(t) / np.sqrt(1 - sine**2)
    wedges.powers[:, k] = [float((weight * length**n).sum()) for n in (1, 2, 3)]
