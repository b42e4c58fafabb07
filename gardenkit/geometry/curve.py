"""Smooth lines such as the middle of a path: a spline through given points, measured along its length."""

import math
from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import FloatArray

STEP = 0.05  # m between the points a curve is stored with; a path drawn from them is true to under 1 mm. House value.


@attrs.frozen(eq=False)
class Curve:
    """A smooth line: ``points`` (n, 2), ``along`` (n,) the length from the start, ``tangents`` (n, 2) unit vectors."""

    points: FloatArray
    along: FloatArray
    tangents: FloatArray

    @property
    def length(self) -> float:
        """Length in metres."""
        return float(self.along[-1])

    @property
    def normals(self) -> FloatArray:
        """Unit vectors to the left of the line, (n, 2)."""
        return np.column_stack((-self.tangents[:, 1], self.tangents[:, 0]))

    def at(self, s: float | FloatArray) -> FloatArray:
        """Return the points at the lengths ``s`` from the start, (m, 2); lengths beyond the ends give the ends."""
        s = np.atleast_1d(np.asarray(s, dtype=float))
        return np.column_stack(
            (np.interp(s, self.along, self.points[:, 0]), np.interp(s, self.along, self.points[:, 1]))
        )

    def direction(self, s: float | FloatArray) -> FloatArray:
        """Return unit vectors along the line at the lengths ``s``, (m, 2)."""
        s = np.atleast_1d(np.asarray(s, dtype=float))
        raw = np.column_stack(
            (np.interp(s, self.along, self.tangents[:, 0]), np.interp(s, self.along, self.tangents[:, 1]))
        )
        return np.asarray(raw / np.linalg.norm(raw, axis=1, keepdims=True))

    def beside(self, s: FloatArray, offset: FloatArray) -> FloatArray:
        """Return the points ``offset`` metres left (negative: right) of the line at the lengths ``s``, (m, 2)."""
        forward = self.direction(s)
        return np.asarray(
            self.at(s) + np.asarray(offset, dtype=float)[:, None] * np.column_stack((-forward[:, 1], forward[:, 0]))
        )

    def curvature(self) -> FloatArray:
        """Return 1/radius at every stored point, positive when turning left, (n,), per metre."""
        if len(self.along) < 3:
            return np.zeros(len(self.along))
        bend = np.gradient(np.unwrap(np.arctan2(self.tangents[:, 1], self.tangents[:, 0])), self.along)
        return np.asarray(bend)

    def tightest_radius(self) -> float:
        """Return the smallest radius of the line in metres, infinite for a straight line."""
        most = float(np.abs(self.curvature()).max())
        return math.inf if most < 1e-12 else 1.0 / most


def smooth(points: Sequence[Sequence[float]] | FloatArray, *, step: float = STEP) -> Curve:
    """Return a cubic spline through the points (natural ends, chord-length parameter), resampled every ``step`` metres.

    Two points give a straight line. Raises GardenError when fewer than two different points are given.
    """
    knots = np.asarray([tuple(p) for p in points], dtype=float).reshape(-1, 2)
    if len(knots) > 1:
        knots = knots[np.concatenate(([True], np.linalg.norm(np.diff(knots, axis=0), axis=1) > 1e-6))]
    if len(knots) < 2:
        raise GardenError("a line needs two different points; its start and end are the same place")
    t = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(knots, axis=0), axis=1))))
    fine = np.linspace(0.0, t[-1], max(8, 2 * int(t[-1] / step)) + 1)
    if len(knots) == 2:
        raw = knots[0] + (fine / t[-1])[:, None] * (knots[1] - knots[0])
    else:
        raw = np.column_stack([natural_spline(t, knots[:, axis], fine) for axis in (0, 1)])
    return measured(raw, step=step)


def measured(points: FloatArray, *, step: float = STEP) -> Curve:
    """Return a dense line of points as a curve measured along its length, points ``step`` metres apart."""
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))))
    even = np.linspace(0.0, along[-1], max(2, round(along[-1] / step) + 1))
    spread = np.column_stack([np.interp(even, along, points[:, axis]) for axis in (0, 1)])
    slopes = np.gradient(spread, even, axis=0) if len(even) > 2 else np.repeat(np.diff(spread, axis=0), 2, axis=0)
    norms = np.linalg.norm(slopes, axis=1, keepdims=True)
    return Curve(spread, even, slopes / np.where(norms == 0, 1.0, norms))


def natural_spline(t: FloatArray, values: FloatArray, at: FloatArray) -> FloatArray:
    """Return a natural cubic spline through (t, values) evaluated at ``at``; same as scipy's, without its import
    time.
    """
    h = np.diff(t)
    n = len(t)
    matrix = np.zeros((n, n))
    rhs = np.zeros(n)
    matrix[0, 0] = matrix[-1, -1] = 1.0
    rows = np.arange(1, n - 1)
    matrix[rows, rows - 1] = h[:-1]
    matrix[rows, rows] = 2 * (h[:-1] + h[1:])
    matrix[rows, rows + 1] = h[1:]
    rhs[1:-1] = 6 * (np.diff(values[1:]) / h[1:] - np.diff(values[:-1]) / h[:-1])
    second = np.linalg.solve(matrix, rhs)
    i = np.clip(np.searchsorted(t, at, side="right") - 1, 0, n - 2)
    a, b = t[i + 1] - at, at - t[i]
    return np.asarray(
        second[i] * a**3 / (6 * h[i])
        + second[i + 1] * b**3 / (6 * h[i])
        + (values[i] / h[i] - second[i] * h[i] / 6) * a
        + (values[i + 1] / h[i] - second[i + 1] * h[i] / 6) * b
    )
