"""How much soil is moved: cut and fill as the difference of two surfaces, and what that comes to on a lorry.

Two methods that surveying books print, so that each checks the other: the grid (mean of the four corner differences of
each square) and cross-sections (prismoidal formula). Figures in tests/published/test_earthwork.py.
"""

import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Region
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.new_ground import NewGround

VOLUMES = "thesurveyschool.com, volumes: bulking 1.10 to 1.30, shrinkage 0.85 to 0.95, after the geometry; second-hand"
BULKING = Figure(1.25, "loose for 1 in the ground", f"{VOLUMES}; 1.25 within it is a {HOUSE}")
SHRINKAGE = Figure(0.90, "placed and firmed for 1 in the ground", f"{VOLUMES}; 0.90 within it is a {HOUSE}")
CELLS = 12_000  # squares of the grid over the ground that is changed. House value.
FINEST, COARSEST = 0.05, 0.5  # m: side of a square. House values.


@attrs.frozen(kw_only=True)
class Earthwork:
    """Soil in the ground, in m3: ``cut`` is dug, ``fill`` is made; ``cut_area`` and ``fill_area`` in m2; the deepest
    and the highest change in metres. ``by_sections`` is cut and fill by the other method.
    """

    cut: float
    fill: float
    cut_area: float
    fill_area: float
    deepest: float
    highest: float
    by_sections: tuple[float, float]

    @property
    def loose(self) -> float:
        """The volume of what is dug, loose, in m3."""
        return self.cut * BULKING

    @property
    def spare(self) -> float:
        """What of the cut is left over after the fill is made of it, in the ground, m3; below 0 it is lacking."""
        return self.cut - self.fill / SHRINKAGE

    @property
    def away(self) -> float:
        """Loose soil to be taken away, m3."""
        return max(self.spare, 0.0) * BULKING

    @property
    def bought(self) -> float:
        """Loose soil to be brought in, m3."""
        return max(-self.spare, 0.0) * BULKING


def earthwork(ground: NewGround, within: Region) -> Earthwork:
    """Return the soil that is moved to make new ground of the ground as found, inside a region."""
    low_x, low_y, high_x, high_y = plane.bounds(within)
    wide, deep = high_x - low_x, high_y - low_y
    cell = min(max(math.sqrt(wide * deep / CELLS), FINEST), COARSEST)
    columns, rows = max(2, math.ceil(wide / cell)), 2 * max(1, math.ceil(deep / cell / 2))
    xs, ys = np.linspace(low_x, high_x, columns + 1), np.linspace(low_y, high_y, rows + 1)
    places = np.array(np.meshgrid(xs, ys)).reshape(2, -1).T
    change = (ground.at(places) - ground.found(places)).reshape(rows + 1, columns + 1)
    middles = np.array(np.meshgrid((xs[1:] + xs[:-1]) / 2, (ys[1:] + ys[:-1]) / 2)).reshape(2, -1).T
    within_it = plane.inside(within, middles).reshape(rows, columns)
    square = (xs[1] - xs[0]) * (ys[1] - ys[0])
    cut, fill = by_grid(change, square, within_it)
    mean = _means(change)
    moved = within_it & (np.abs(mean) > 1e-3)
    inside = plane.inside(within, places).reshape(change.shape)
    kept = np.where(inside, change, 0.0)
    sides = [prismoidal(_section(one, xs), ys[1] - ys[0]) for one in (np.maximum(-kept, 0), np.maximum(kept, 0))]
    return Earthwork(
        cut=cut,
        fill=fill,
        cut_area=float((moved & (mean < 0)).sum() * square),
        fill_area=float((moved & (mean > 0)).sum() * square),
        deepest=float(max(-kept.min(), 0.0)),
        highest=float(max(kept.max(), 0.0)),
        by_sections=(sides[0], sides[1]),
    )


def by_grid(change: FloatArray, square: float, counted: NDArray[np.bool_] | None = None) -> tuple[float, float]:
    """Return cut and fill in m3 by the grid method: ``change`` (rows + 1, columns + 1) is new less found height at the
    corners of squares of ``square`` m2, ``counted`` (rows, columns) which of them count (None: all).

    A square cut and filled at once is shared as the squares of the sums of its corners (four-point method).

    >>> by_grid(np.array([[1.0, 1.0], [1.0, 2.0]]), 4.0)
    (0.0, 5.0)
    """
    corners = np.stack((change[:-1, :-1], change[:-1, 1:], change[1:, :-1], change[1:, 1:]))
    up, down = np.maximum(corners, 0).sum(axis=0), np.maximum(-corners, 0).sum(axis=0)
    both = np.maximum(up + down, 1e-15)
    use = np.ones_like(up, dtype=bool) if counted is None else counted
    return float((down**2 / both)[use].sum() * square / 4), float((up**2 / both)[use].sum() * square / 4)


def prismoidal(areas: Sequence[float] | FloatArray, apart: float) -> float:
    """Return the volume through an odd number of cross-sections ``apart`` metres from one another: L/6 (A1 + 4 Am + A2)
    over each two spaces. Raises GardenError for an even number.
    """
    a = np.asarray(areas, dtype=float)
    if len(a) < 3 or len(a) % 2 == 0:
        raise GardenError(f"{len(a)} cross-sections; the prismoidal formula wants an odd number from 3 on")
    return float(apart / 3 * (a[0] + 4 * a[1:-1:2].sum() + 2 * a[2:-2:2].sum() + a[-1]))


# ---- helpers


def _means(change: FloatArray) -> FloatArray:
    return np.asarray((change[:-1, :-1] + change[:-1, 1:] + change[1:, :-1] + change[1:, 1:]) / 4)


def _section(depths: FloatArray, xs: FloatArray) -> FloatArray:
    """Return the area (rows,) of the cross-section along each row of depths."""
    return np.asarray(np.trapezoid(depths, xs, axis=1))
