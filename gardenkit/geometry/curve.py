"""Smooth lines such as the middle of a path: a spline through given points, measured along its length."""

import math

import attrs
import numpy as np

from gardenkit.geometry.plane import FloatArray

STEP = 0.05  # m between the points a curve is stored with; a path drawn from them is true to under 1 mm. House value.
STRAIGHT = 0.01  # per metre: a radius over 100 m is straight to the eye. House value.


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

    def changes_of_side(self) -> int:
        """Return how often the line stops turning one way and turns the other; what is straight to the eye turns
        neither way.
        """
        bends = self.curvature()[2:-2]
        sides = np.sign(bends[np.abs(bends) > STRAIGHT])
        return int((sides[1:] != sides[:-1]).sum())


def measured(points: FloatArray, *, step: float = STEP) -> Curve:
    """Return a dense line of points as a curve measured along its length, points ``step`` metres apart."""
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))))
    even = np.linspace(0.0, along[-1], max(2, round(along[-1] / step) + 1))
    spread = np.column_stack([np.interp(even, along, points[:, axis]) for axis in (0, 1)])
    slopes = np.gradient(spread, even, axis=0) if len(even) > 2 else np.repeat(np.diff(spread, axis=0), 2, axis=0)
    norms = np.linalg.norm(slopes, axis=1, keepdims=True)
    return Curve(spread, even, slopes / np.where(norms == 0, 1.0, norms))
