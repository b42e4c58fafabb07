"""A fair line: through the points it must pass, within the room there is, its curvature changing least."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry import bending, ways
from gardenkit.geometry.curve import Curve
from gardenkit.geometry.plane import FloatArray

ROUNDS = 10  # most rounds of finding which limits are reached; numerical choice
TURNS = 5  # most times the line is straightened out upon itself, since shifts are small ones only; numerical choice
WITHIN = 2e-4  # m over a limit that is none; the curve is drawn and tried again. Numerical choice.
STILL = 1e-3  # m: a line that moves less than this has settled; numerical choice
EASE = 0.25  # share of a swing over which bending itself counts; keeps a line with nothing to go round straight. House.

Room = Callable[[FloatArray, FloatArray], tuple[FloatArray, FloatArray]]  # points, normals -> how far right and left


def fair(line: FloatArray, pinned: NDArray[np.bool_], room: Room, span: float) -> FloatArray:
    """Return points (n, 2) of a line near ``line`` whose curvature changes least along it, the ``pinned`` (n,) kept.

    ``room`` says how far each point may move right (negative) and left along its normal, in metres; ``span`` is the
    length of a swing in metres. With only its ends pinned and room to spare the line is straight; with one point more
    it is close to an arc. Least squares of the change of curvature (the minimum variation curve of Moreton and Sequin,
    1992, from memory), the limits by an active set, taken again from each line it gives.
    """
    side = np.where(pinned, 2, 0)
    for _ in range(TURNS):
        normals = normals_of(line)
        low, high = room(line, normals)
        low, high = np.where(pinned, 0.0, low), np.where(pinned, 0.0, high)
        shift, side = _settled(line, (low, high), side, EASE / span)
        line = line + shift[:, None] * normals
        if np.abs(shift).max(initial=0.0) < STILL:
            break
    return line


def drawn(knots: FloatArray, through: NDArray[np.intp]) -> Curve:
    """Return the smooth curve through the knots (n, 2), its curvature even at both ends."""
    return bending.drawn(knots, through, even_ends=True)


def normals_of(points: FloatArray) -> FloatArray:
    """Return the unit vectors (n, 2) to the left of a line of points."""
    t = bending.tangents_of(points)
    return np.column_stack((-t[:, 1], t[:, 0]))


def _settled(
    line: FloatArray, limits: tuple[FloatArray, FloatArray], side: NDArray[np.intp], ease: float
) -> tuple[FloatArray, NDArray[np.intp]]:
    """Return the shifts (n,) within the limits for which the curvature changes least, and the limits that hold them.

    ``side`` (n,) is the limit that each point is tried at first: -1 low, 1 high, 0 neither, 2 pinned.
    """
    low, high = limits
    matrix, right = _squares(line, ease)
    side = np.where(high - low < 1e-9, 2, np.where(side == 2, 0, side))
    for _ in range(ROUNDS):
        free = side == 0
        shift = np.where(side == -1, low, np.where(side == 1, high, np.where(free, 0.0, 0.5 * (low + high))))
        if free.any():
            shift[free] = np.linalg.solve(matrix[np.ix_(free, free)], (right - matrix @ shift)[free])
        pull = right - matrix @ shift
        loose = np.where(side == -1, pull, np.where(side == 1, -pull, 0.0))
        over = np.where(free, np.maximum(shift - high, low - shift), 0.0)
        if loose.max() <= 1e-9 and over.max() <= WITHIN:
            break
        side = np.where(_tops(over, WITHIN), np.where(shift > high, 1, -1), np.where(_tops(loose, 1e-9), 0, side))
    return np.asarray(np.clip(shift, low, high)), side


def _tops(by: FloatArray, least: float) -> NDArray[np.bool_]:
    """Return which of the values (n,) are over ``least`` and no smaller than their neighbours: the worst of each run.

    A stiff line that is held at the worst alone comes free of its neighbours, which would only be let go again.
    """
    beside = np.concatenate(([-np.inf], by, [-np.inf]))
    return np.asarray((by > least) & (by >= beside[:-2]) & (by > beside[2:]))


def _squares(line: FloatArray, ease: float) -> tuple[FloatArray, FloatArray]:
    """Return the matrix (n, n) and right side (n,) of the least squares of changes of curvature and of bending."""
    h = np.diff(ways.lengths(line))
    span, now = 0.5 * (h[:-1] + h[1:]), bending.turning(line)
    before, after = 1 / (h[:-1] * span), 1 / (h[1:] * span)
    bend = np.column_stack((before, now**2 - before - after, after))
    root, soft = np.sqrt(h[1:-1]), ease * np.sqrt(span)
    none = np.zeros((len(bend) - 1, 1))
    change = (np.hstack((none, bend[1:])) - np.hstack((bend[:-1], none))) / root[:, None]
    matrix, right = 1e-9 * np.eye(len(line)), np.zeros(len(line))
    for rows, have in ((change, np.diff(now) / root), (soft[:, None] * bend, soft * now)):
        _add_rows(matrix, right, rows, have)
    return matrix, right


def _add_rows(matrix: FloatArray, right: FloatArray, rows: FloatArray, have: FloatArray) -> None:
    """Add to the least squares rows (m, k) of which each takes the k points from its own number on; plain sums, as a
    matrix library is slow on a busy machine.
    """
    i = np.arange(len(rows))
    for a in range(rows.shape[1]):
        right[i + a] -= rows[:, a] * have
        for b in range(rows.shape[1]):
            matrix[i + a, i + b] += rows[:, a] * rows[:, b]
