"""The arithmetic of fitting all measures together: weighted least squares over the points of a tape survey."""

import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.site.loci import Known
from gardenkit.site.placing import difference
from gardenkit.site.survey import Reading

Matrix = NDArray[np.float64]
MOST_STEPS = 200  # far more than a net with fair first guesses needs (about 6)
ROUGH_STEPS = 15  # steps of a rough fit
ROUGH = 1e-3  # a rough fit ends when the sum of squares falls by a smaller share than this
SETTLED = 1e-11  # m or degrees: a step smaller than this ends the search
FLAT = 1e-6  # least share of the strongest direction's pull that still counts as fixing a point
NEARLY = 1e-8  # m or degrees: a step smaller than this ends the search when the fit no longer gets better
STIFF = 1e14  # damping beyond which no step makes the fit better


@attrs.frozen(kw_only=True, eq=False)
class Fit:
    """Fitted points in metres, where the y axis points (degrees from north, None if unknown), and the net's algebra.

    ``rows`` (readings, unknowns) is the Jacobian divided by each reading's standard error, ``off`` (readings,) the
    residuals likewise, ``columns`` the unknown's (point, axis 0 or 1) or ("", 2) for the turn of the plan.
    """

    points: Known
    north: float | None
    rows: Matrix
    off: Matrix
    columns: tuple[tuple[str, int], ...]

    @property
    def square_sum(self) -> float:
        """Return the sum of squared residuals in standard errors."""
        return float(self.off @ self.off)

    @property
    def spare(self) -> int:
        """Return the redundancy: readings beyond the least number needed."""
        return len(self.off) - len(self.columns)


def fit(
    readings: Sequence[Reading],
    start: Known,
    held: frozenset[tuple[str, int]],
    *,
    north: float | None,
    turn: bool,
    rough: bool = False,
) -> Fit:
    """Return the weighted least-squares fit (damped Gauss-Newton) from first guesses.

    ``held`` names coordinates that stay; ``turn`` lets the north be found too; ``rough`` stops early, good enough
    to compare arrangements. Raises GardenError naming a point that the readings leave free to move.
    """
    used = {p for r in readings for p in r.points}
    columns = [(n, axis) for n in start if n in used for axis in (0, 1) if (n, axis) not in held]
    turning = turn and any(r.part == "bearing" for r in readings)
    net = _Trial(readings, tuple(columns + [("", 2)] * turning))
    points, facing = net.settled(dict(start), north or 0.0, rough=rough)
    rows, off = net.rows(points), net.off(points, facing)
    if not rough:
        _refuse_loose(rows, net.columns)
    return Fit(points=points, north=facing % 360 if turning else north, rows=rows, off=off, columns=net.columns)


def covariance(rows: Matrix) -> Matrix:
    """Return the covariance of the unknowns (unknowns, unknowns) for unit weight: the inverse of the normal matrix."""
    return np.asarray(np.linalg.inv(rows.T @ rows), dtype=float) if rows.shape[1] else np.zeros((0, 0))


def redundancy(rows: Matrix) -> Matrix:
    """Return each reading's redundancy number (readings,), 0 unchecked to 1 fully checked; their sum is the spare."""
    if not rows.shape[1]:
        return np.ones(len(rows))
    q, _ = np.linalg.qr(rows)
    return np.asarray(np.clip(1.0 - (q * q).sum(axis=1), 0.0, 1.0), dtype=float)


def spread(cov: Matrix) -> tuple[float, float, float]:
    """Return (long semi-axis, short one, degrees clockwise from y of the long one) of a 2 by 2 covariance."""
    values, vectors = np.linalg.eigh(cov)
    long, short = math.sqrt(max(float(values[1]), 0.0)), math.sqrt(max(float(values[0]), 0.0))
    return long, short, math.degrees(math.atan2(float(vectors[0, 1]), float(vectors[1, 1]))) % 180


def slopes(r: Reading, points: Known) -> dict[tuple[str, int], float]:
    """Return how a reading changes as its points move: {(point, axis): metres or degrees per metre}."""
    at = [points[p] for p in r.points]
    if r.part == "distance":
        ux, uy, _ = _unit(at[0], at[1])
        return _gather(r.points, [(-ux, -uy), (ux, uy)])
    if r.part == "bearing":
        gx, gy = _heading_slope(at[0], at[1])
        return _gather(r.points, [(-gx, -gy), (gx, gy)])
    if r.part in ("turn", "square"):
        ax, ay = _heading_slope(at[0], at[1])
        bx, by = _heading_slope(at[0], at[2])
        if r.part == "square" and _turns_left(at):
            ax, ay, bx, by = -ax, -ay, -bx, -by
        return _gather(r.points, [(ax - bx, ay - by), (-ax, -ay), (bx, by)])
    ux, uy, length = _unit(at[0], at[1])
    nx, ny = -uy, ux  # to the left of the line
    wx, wy = at[2][0] - at[0][0], at[2][1] - at[0][1]
    share = (wx * nx + wy * ny) / length if r.part == "along" else -(wx * ux + wy * uy) / length
    dx, dy = (ux, uy) if r.part == "along" else (nx, ny)
    return _gather(r.points, [(-dx - share * nx, -dy - share * ny), (share * nx, share * ny), (dx, dy)])


class _Trial:
    """Residuals and slopes of one set of readings at any guess."""

    def __init__(self, readings: Sequence[Reading], columns: tuple[tuple[str, int], ...]) -> None:
        self.readings, self.columns = readings, columns
        self.place = {column: i for i, column in enumerate(columns)}

    def off(self, points: Known, facing: float) -> Matrix:
        return np.array([difference(r, points, facing) / r.sigma for r in self.readings], dtype=float)

    def settled(self, points: Known, facing: float, *, rough: bool) -> tuple[Known, float]:
        """Return points and facing moved until no step makes the fit better."""
        rows, off = self.rows(points), self.off(points, facing)
        damping = 1e-3
        for _ in range(ROUGH_STEPS if rough else MOST_STEPS):
            step = _damped(rows, off, damping)
            trial, trial_facing = self.moved(points, facing, step)
            trial_off = self.off(trial, trial_facing)
            before, after = float(off @ off), float(trial_off @ trial_off)
            if after <= before * (1 + 1e-15):
                points, facing, off = trial, trial_facing, trial_off
                rows = self.rows(points)
                damping = max(damping / 10, 1e-15)
                small = float(np.max(np.abs(step), initial=0.0))
                gain = before - after
                if small < SETTLED or (small < NEARLY and gain <= 1e-13 * before):
                    break
                if rough and (gain < ROUGH * before or after < 1.0):
                    break
            else:
                damping *= 10
                if damping > STIFF:
                    break
        return points, facing

    def rows(self, points: Known) -> Matrix:
        table = np.zeros((len(self.readings), len(self.columns)))
        turning = self.place.get(("", 2))
        for i, r in enumerate(self.readings):
            for key, slope in slopes(r, points).items():
                if key in self.place:
                    table[i, self.place[key]] += slope / r.sigma
            if r.part == "bearing" and turning is not None:
                table[i, turning] = 1.0 / r.sigma
        return table

    def moved(self, points: Known, facing: float, step: Matrix) -> tuple[Known, float]:
        moved = {n: [at[0], at[1]] for n, at in points.items()}
        for (name, axis), by in zip(self.columns, step, strict=True):
            if axis == 2:
                facing += float(by)
            else:
                moved[name][axis] += float(by)
        return {n: (x, y) for n, (x, y) in moved.items()}, facing


def _damped(rows: Matrix, off: Matrix, damping: float) -> Matrix:
    normal = rows.T @ rows
    weight = np.diag(normal).copy()
    weight[weight == 0] = 1.0
    return np.asarray(np.linalg.lstsq(normal + np.diag(damping * weight), -rows.T @ off, rcond=None)[0], dtype=float)


def _refuse_loose(rows: Matrix, columns: tuple[tuple[str, int], ...]) -> None:
    if not columns:
        return
    size = np.ones(len(columns))
    if columns[-1][1] == 2:  # the turn of the plan is in degrees: weigh it like a typical coordinate
        size[-1] = float(np.linalg.norm(rows[:, -1])) / (float(np.abs(rows).max()) or 1.0) or 1.0
    _, values, directions = np.linalg.svd(rows / size, full_matrices=True)
    if len(rows) >= len(columns) and values[-1] > FLAT * values[0]:
        return
    share = np.abs(directions[-1])
    name = columns[int(np.argmax(share))][0] or "the north of the plan"
    raise GardenError(
        f'the measures leave "{name}" free to move: they are too few, or all pull in one line; tie it to another point '
        "to the side, at a cut between 30 and 150 degrees"
    )


def _unit(a: Point, b: Point) -> tuple[float, float, float]:
    length = math.dist(a, b)
    if length < 1e-9:
        return 1.0, 0.0, 1e-9
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length, length


def _heading_slope(a: Point, b: Point) -> tuple[float, float]:
    ux, uy, length = _unit(a, b)
    return math.degrees(uy / length), math.degrees(-ux / length)


def _turns_left(at: list[Point]) -> bool:
    (cx, cy), (ax, ay), (bx, by) = at
    return (ax - cx) * (by - cy) - (ay - cy) * (bx - cx) > 0


def _gather(points: tuple[str, ...], values: list[tuple[float, float]]) -> dict[tuple[str, int], float]:
    found: dict[tuple[str, int], float] = {}
    for name, pair in zip(points, values, strict=True):
        for axis in (0, 1):
            found[name, axis] = found.get((name, axis), 0.0) + pair[axis]
    return found
