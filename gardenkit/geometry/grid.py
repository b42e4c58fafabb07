"""Squared paper over the plan: equal cells in rows, to hold one value (hours of sun, height) at each cell's
middle.
"""

import math

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import FloatArray, Outline

CELL = 0.1524  # m, 6 in: fine enough to see a stepping stone. House value.
MOST_CELLS = 4_000_000  # more than this is a slip in the cell size, not a garden. House value.


@attrs.frozen(kw_only=True)
class Grid:
    """Cells ``cell`` metres square: the lower left corner of the first is (``left``, ``bottom``); ``columns`` by
    ``rows``.
    """

    left: float
    bottom: float
    columns: int
    rows: int
    cell: float = CELL

    @property
    def x(self) -> FloatArray:
        """Middles of the columns in metres, (columns,)."""
        return np.asarray(self.left + (np.arange(self.columns) + 0.5) * self.cell, dtype=float)

    @property
    def y(self) -> FloatArray:
        """Middles of the rows in metres, lowest first, (rows,)."""
        return np.asarray(self.bottom + (np.arange(self.rows) + 0.5) * self.cell, dtype=float)

    @property
    def points(self) -> FloatArray:
        """Middles of all cells, row by row from the lowest, (rows * columns, 2)."""
        x, y = np.meshgrid(self.x, self.y)
        return np.column_stack((x.ravel(), y.ravel()))

    def part(self, rows: slice, columns: slice) -> "Grid":
        """Return some of its rows and columns as a grid of their own."""
        return Grid(
            left=self.left + columns.start * self.cell,
            bottom=self.bottom + rows.start * self.cell,
            columns=columns.stop - columns.start,
            rows=rows.stop - rows.start,
            cell=self.cell,
        )

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Return (least x, least y, greatest x, greatest y) of the covered ground in metres."""
        return self.left, self.bottom, self.left + self.columns * self.cell, self.bottom + self.rows * self.cell


def grid_over(outline: Outline, *, cell: float = CELL) -> Grid:
    """Return the smallest grid that covers an outline. Raises GardenError for a cell size that cannot be used."""
    corners = np.asarray(outline, dtype=float)
    if corners.ndim != 2 or len(corners) < 2:
        raise GardenError("a grid needs an outline of at least two corners; draw the boundary first")
    if not cell > 0:
        raise GardenError(f"the cell size is {cell:g} m; give a size above 0, such as {CELL} m (6 in)")
    left, bottom = corners.min(axis=0)
    width, depth = corners.max(axis=0) - corners.min(axis=0)
    columns, rows = (max(1, math.ceil(size / cell - 1e-9)) for size in (width, depth))
    if columns * rows > MOST_CELLS:
        raise GardenError(
            f"a cell of {cell:g} m would cut this ground into {columns * rows:,} cells; "
            f"give at least {math.sqrt(width * depth / MOST_CELLS):.2f} m"
        )
    return Grid(left=float(left), bottom=float(bottom), columns=columns, rows=rows, cell=cell)
