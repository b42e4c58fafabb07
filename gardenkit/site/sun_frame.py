"""Lays the garden's bodies out over the surface the sun falls on, be it the ground, a slope or a wall, ready for
shadows to be drawn.

On every surface a point has a column, a row and a height above the surface; a body at height w casts its shadow at
(column, row) - w k, where k is the sun's sideways run for each metre it stands off the surface. Turning, tilting and
scaling are one 3 x 3 matrix, so ground and walls share one calculation. Whatever lies behind the surface is cut away.
"""

from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.grid import Grid
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, Solid

IntArray = NDArray[np.int64]
TOUCHING = 1e-6  # m: a body that stands off the surface by less than this casts no shadow on it
AROUND = (
    720  # points round the rim where an upright crown or trunk is cut by a wall's plane: true to 1e-5 of its radius
)
UNIT_DISC = np.diag((1.0, 1.0, 0.0))  # a level disc of radius 1, as the matrix of its ellipse
EDGE_ON = 1e-4  # sine of the least angle between sun and surface; below it light only grazes. House value.


@attrs.frozen(eq=False, kw_only=True)
class Frame:
    """A surface cut into ``rows`` by ``columns``: plan (x, y, z) becomes ``matrix @ point + shift`` = (column, row,
    height off it).
    """

    matrix: FloatArray
    shift: FloatArray
    columns: int
    rows: int

    def placed(self, points: FloatArray) -> FloatArray:
        """Return plan points (n, 3) as columns, rows and heights off the surface, (n, 3)."""
        return np.asarray(points @ self.matrix.T + self.shift)

    def turned(self) -> "Frame":
        """Return the same surface with rows and columns exchanged."""
        order = [1, 0, 2]
        return Frame(matrix=self.matrix[order], shift=self.shift[order], columns=self.rows, rows=self.columns)

    def runs(self, towards: FloatArray) -> tuple[FloatArray, NDArray[np.bool_]]:
        """Return the shadow's run (n, 2) in cells a metre for unit vectors to the sun, and whether the sun is in
        front.
        """
        turned = towards @ self.matrix.T
        front = turned[:, 2] > EDGE_ON
        return turned[:, :2] / np.where(front, turned[:, 2], 1.0)[:, None], front


@attrs.frozen(eq=False, kw_only=True)
class Bodies:
    """All bodies over one frame as plain arrays, in the order rounds, shafts, hulls; ``light`` (bodies, 12) in that
    order.

    ``rounds`` (n, 9): centre, then the ellipsoid's matrix as uu uv vv uw vw ww. ``shafts`` (n, 8): base centre, top
    centre, two radii, over the common ``disc`` (6,) of radius 1. Hulls: ``corners`` and ``edges`` with the first of
    each hull. ``rounds_cut`` and ``shafts_cut`` give the row of ``cuts`` (m, 2, rows: first and last column) where the
    surface cuts the body, or -1.
    """

    rounds: FloatArray
    rounds_cut: IntArray
    shafts: FloatArray
    shafts_cut: IntArray
    disc: FloatArray
    corners: FloatArray
    first_corner: IntArray
    edges: IntArray
    first_edge: IntArray
    cuts: FloatArray
    light: FloatArray


def ground_frame(grid: Grid, *, height: float = 0.0, slope: tuple[float, float] = (0.0, 0.0)) -> Frame:
    """Return the frame of the surface z = height + slope_x * x + slope_y * y (metres) over a grid."""
    run = 1.0 / grid.cell
    matrix = np.array([[run, 0.0, 0.0], [0.0, run, 0.0], [-slope[0], -slope[1], 1.0]])
    shift = np.array([-grid.left * run - 0.5, -grid.bottom * run - 0.5, -height])
    return Frame(matrix=matrix, shift=shift, columns=grid.columns, rows=grid.rows)


def wall_frame(start: Point, end: Point, grid: Grid) -> Frame:
    """Return the frame of an upright face from start to end, seen from the right of that way; ``grid`` is (along,
    up).
    """
    along = np.subtract(end, start) / np.hypot(*np.subtract(end, start))
    run = 1.0 / grid.cell
    matrix = np.array([[along[0] * run, along[1] * run, 0.0], [0.0, 0.0, run], [along[1], -along[0], 0.0]])
    corner = np.array([-grid.left * run - 0.5, -grid.bottom * run - 0.5, 0.0])
    shift = corner - matrix @ np.array([start[0], start[1], 0.0])
    return Frame(matrix=matrix, shift=shift, columns=grid.columns, rows=grid.rows)


def bodies_over(frame: Frame, solids: Sequence[Solid]) -> Bodies:
    """Return the solids as arrays over a frame, without those wholly behind the surface or letting all light
    through.
    """
    disc = frame.matrix @ UNIT_DISC @ frame.matrix.T
    cuts: list[FloatArray] = []
    rounds, shafts, hulls = [], [], []
    lights: tuple[list[object], list[object], list[object]] = ([], [], [])
    for solid in solids:
        if min(solid.light) >= 1.0:
            continue
        if isinstance(solid, Ellipsoid):
            ball = _round(frame, solid, cuts)
            if ball is not None:
                rounds.append(ball)
                lights[0].append(solid.light)
        elif isinstance(solid, Hull):
            shell = _clipped(frame.placed(solid.vertices), solid.edge_pairs)
            if shell is not None:
                hulls.append(shell)
                lights[2].append(solid.light)
        else:
            shaft = _shaft(frame, solid, disc, cuts)
            if shaft is not None:
                shafts.append(shaft)
                lights[1].append(solid.light)
    return _packed(frame, disc, rounds, shafts, hulls, cuts, [*lights[0], *lights[1], *lights[2]])


def _packed(
    frame: Frame,
    disc: FloatArray,
    rounds: list[tuple[FloatArray, int]],
    shafts: list[tuple[FloatArray, int]],
    hulls: list[tuple[FloatArray, IntArray]],
    cuts: list[FloatArray],
    light: list[object],
) -> Bodies:
    corner_counts = [len(corners) for corners, _ in hulls]
    edge_counts = [len(edges) for _, edges in hulls]
    return Bodies(
        rounds=np.array([row for row, _ in rounds], dtype=float).reshape(-1, 9),
        rounds_cut=np.array([cut for _, cut in rounds], dtype=np.int64),
        shafts=np.array([row for row, _ in shafts], dtype=float).reshape(-1, 8),
        shafts_cut=np.array([cut for _, cut in shafts], dtype=np.int64),
        disc=_six(disc),
        corners=np.vstack([np.zeros((0, 3)), *(corners for corners, _ in hulls)]),
        first_corner=np.concatenate(([0], np.cumsum(corner_counts))).astype(np.int64),
        edges=np.vstack([np.zeros((0, 2), dtype=np.int64), *(edges for _, edges in hulls)]),
        first_edge=np.concatenate(([0], np.cumsum(edge_counts))).astype(np.int64),
        cuts=np.array(cuts, dtype=float).reshape(-1, 2, frame.rows),
        light=np.array(light, dtype=float).reshape(-1, 12),
    )


def _six(matrix: FloatArray) -> FloatArray:
    return np.array([matrix[0, 0], matrix[0, 1], matrix[1, 1], matrix[0, 2], matrix[1, 2], matrix[2, 2]])


def _round(frame: Frame, solid: Ellipsoid, cuts: list[FloatArray]) -> tuple[FloatArray, int] | None:
    centre = frame.placed(np.array([solid.centre]))[0]
    own = np.diag((solid.radius**2, solid.radius**2, solid.half_height**2))
    matrix = frame.matrix @ own @ frame.matrix.T
    reach = float(np.sqrt(matrix[2, 2]))
    if centre[2] + reach <= TOUCHING or min(solid.radius, solid.half_height) <= 0:
        return None
    cut = -1
    if centre[2] - reach < 0:
        cut = len(cuts)
        cuts.append(_ellipsoid_cut(centre, matrix, frame.rows))
    return np.concatenate((centre, _six(matrix))), cut


def _ellipsoid_cut(centre: FloatArray, matrix: FloatArray, rows: int) -> FloatArray:
    """Return first and last column of the ellipse in which the surface cuts an ellipsoid, for each row, (2, rows)."""
    deep, side = matrix[2, 2], matrix[:2, 2]
    middle = centre[:2] - side * (centre[2] / deep)
    flat = (matrix[:2, :2] - np.outer(side, side) / deep) * max(0.0, 1.0 - centre[2] ** 2 / deep)
    off = np.arange(rows) - middle[1]
    if flat[1, 1] <= 0:
        return _nothing(rows)
    within = off**2 <= flat[1, 1]
    half = np.sqrt(np.maximum(0.0, 1.0 - off**2 / flat[1, 1]) * max(0.0, flat[0, 0] - flat[0, 1] ** 2 / flat[1, 1]))
    mid = middle[0] + flat[0, 1] / flat[1, 1] * off
    return np.where(within, np.array([mid - half, mid + half]), _nothing(rows))


def _shaft(
    frame: Frame, solid: Column | Cone, disc: FloatArray, cuts: list[FloatArray]
) -> tuple[FloatArray, int] | None:
    low, high = frame.placed(np.array([(*solid.at, solid.base), (*solid.at, solid.top)]))
    wide, narrow = solid.radius, 0.0 if isinstance(solid, Cone) else solid.radius
    if solid.radius <= 0 or solid.top <= solid.base:
        return None
    reach = float(np.sqrt(disc[2, 2]))
    if max(low[2] + wide * reach, high[2] + narrow * reach) <= TOUCHING:
        return None
    if reach == 0.0 and low[2] < 0:  # discs level with the surface: the cut is a disc again
        share = -low[2] / (high[2] - low[2])
        low, wide = low + share * (high - low), wide + share * (narrow - wide)
    cut = -1
    if min(low[2] - wide * reach, high[2] - narrow * reach) < 0:
        cut = len(cuts)
        cuts.append(_shaft_cut(frame, solid, wide, narrow))
    return np.array([*low, *high, wide, narrow]), cut


def _shaft_cut(frame: Frame, solid: Column | Cone, wide: float, narrow: float) -> FloatArray:
    """Return first and last column where the surface cuts an upright trunk or crown, for each row, (2, rows)."""
    angle = np.linspace(0.0, 2 * np.pi, AROUND, endpoint=False)
    rim = np.column_stack((np.cos(angle), np.sin(angle), np.zeros(AROUND)))
    low = frame.placed(rim * wide + (*solid.at, solid.base))
    high = frame.placed(rim * narrow + (*solid.at, solid.top))
    starts, ends = np.vstack((low, low, high)), np.vstack((high, np.roll(low, 1, 0), np.roll(high, 1, 0)))
    spots = _on_surface(starts, ends)
    if len(spots) < 3:
        return _nothing(frame.rows)
    turn = np.argsort(np.arctan2(*(spots - spots.mean(axis=0)).T[::-1]))
    return _rows_between(spots[turn], np.roll(spots[turn], -1, axis=0), frame.rows)


def _on_surface(starts: FloatArray, ends: FloatArray) -> FloatArray:
    """Return (column, row) where lines pass through the surface, (m, 2)."""
    passing = (starts[:, 2] < 0) != (ends[:, 2] < 0)
    a, b = starts[passing], ends[passing]
    share = (a[:, 2] / (a[:, 2] - b[:, 2]))[:, None]
    return np.asarray((a + share * (b - a))[:, :2])


def _rows_between(starts: FloatArray, ends: FloatArray, rows: int) -> FloatArray:
    found = _nothing(rows)
    row = np.arange(rows)
    for a, b in zip(starts, ends, strict=True):
        if a[1] == b[1]:
            continue
        low, high = min(a[1], b[1]), max(a[1], b[1])
        column = a[0] + (row - a[1]) * ((b[0] - a[0]) / (b[1] - a[1]))
        on = (row >= low) & (row <= high)
        found[0, on] = np.minimum(found[0, on], column[on])
        found[1, on] = np.maximum(found[1, on], column[on])
    return found


def _nothing(rows: int) -> FloatArray:
    return np.array([np.full(rows, np.inf), np.full(rows, -np.inf)])


def _clipped(corners: FloatArray, edges: IntArray) -> tuple[FloatArray, IntArray] | None:
    """Return the part of a hull off the surface and the edges it may show, or None when nothing stands off it."""
    height = corners[:, 2]
    if height.max() <= TOUCHING:
        return None
    if height.min() >= 0:
        return corners, edges
    stands = height >= 0
    kept = edges[stands[edges].all(axis=1)]
    passing = edges[stands[edges[:, 0]] != stands[edges[:, 1]]]
    inner = np.where(stands[passing[:, 0]], passing[:, 0], passing[:, 1])
    a, b = corners[passing[:, 0]], corners[passing[:, 1]]
    share = (a[:, 2] / (a[:, 2] - b[:, 2]))[:, None]
    new = a + share * (b - a)
    new[:, 2] = 0.0
    numbers = np.concatenate((np.flatnonzero(np.abs(height) < 1e-9), np.arange(len(corners), len(corners) + len(new))))
    rim = np.array([(i, j) for n, i in enumerate(numbers) for j in numbers[n + 1 :]], dtype=np.int64).reshape(-1, 2)
    every = np.vstack((kept, np.column_stack((inner, numbers[len(numbers) - len(new) :])), rim))
    used, compact = np.unique(every, return_inverse=True)
    return np.vstack((corners, new))[used], compact.reshape(-1, 2).astype(np.int64)
