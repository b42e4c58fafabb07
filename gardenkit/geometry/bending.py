"""A springy line: pushed sideways towards where one would like it, held within the room there is, bending no more than
it must.
"""

import itertools

import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.curve import STEP, Curve
from gardenkit.geometry.plane import FloatArray, Line

HELD = 1e9  # weight of a point that may not move against 1 for a free one; numerical choice
ROUNDS = 12  # most rounds of finding which limits are reached; numerical choice


def tangents_of(points: FloatArray) -> FloatArray:
    """Return unit vectors (n, 2) along a line of points, the mean of both sides at inner points."""
    pieces = np.diff(points, axis=0)
    pieces = pieces / np.linalg.norm(pieces, axis=1, keepdims=True)
    both = np.vstack((pieces[:1], pieces[:-1] + pieces[1:], pieces[-1:]))
    norms = np.linalg.norm(both, axis=1, keepdims=True)
    return np.asarray(both / np.where(norms < 1e-9, 1.0, norms))


def turning(points: FloatArray) -> FloatArray:
    """Return the curvature (n - 2,) at the inner points, per metre, positive to the left: turn over mean length."""
    pieces = np.diff(points, axis=0)
    lengths = np.hypot(pieces[:, 0], pieces[:, 1])
    cross = pieces[:-1, 0] * pieces[1:, 1] - pieces[:-1, 1] * pieces[1:, 0]
    dot = (pieces[:-1] * pieces[1:]).sum(axis=1)
    return np.asarray(np.arctan2(cross, dot) / (0.5 * (lengths[:-1] + lengths[1:])))


def settle(
    points: FloatArray, want: FloatArray, low: FloatArray, high: FloatArray, stiffness: float | FloatArray
) -> FloatArray:
    """Return sideways shifts (n,) of a line that come near ``want``, stay from ``low`` to ``high`` and bend little.

    Shifts are along the left normals, in metres. ``stiffness`` is the length in metres over which the line evens out
    its bends (one value, or one for each of the n - 2 inner points). Least squares of bending and of distance from
    ``want``, the limits by an active set; a limit where low equals high holds the point.
    """
    bands, right = _stiff_bands(points, want, np.asarray(stiffness, dtype=float))
    fixed = high - low < 1e-9
    side = np.where(fixed, 2, 0)
    for _ in range(ROUNDS):
        at = np.where(side == -1, low, np.where(side == 1, high, 0.5 * (low + high)))
        hold = np.where(side != 0, HELD, 0.0)
        shift = _solved(bands[0] + hold, bands[1], bands[2], right + hold * at)
        pull = hold * (shift - at)
        loose = ((side == -1) & (pull > 1e-7)) | ((side == 1) & (pull < -1e-7))
        over, under = (side == 0) & (shift > high + 1e-9), (side == 0) & (shift < low - 1e-9)
        if not (loose.any() or over.any() or under.any()):
            break
        side = np.where(over, 1, np.where(under, -1, np.where(loose, 0, side)))
    return np.asarray(np.clip(shift, low, high))


def through(line: Line, *, step: float) -> Line:
    """Return a smooth line through the corners of another, points about ``step`` metres apart, its ends kept."""
    from scipy.interpolate import CubicSpline

    corners = np.asarray(line, dtype=float)
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(corners, axis=0).T))))
    spots = np.linspace(0.0, along[-1], max(3, int(np.ceil(along[-1] / step)) + 1))
    found = CubicSpline(along, corners, bc_type="natural")(np.unique(np.concatenate((spots, along[[0, -1]]))))
    return tuple((float(x), float(y)) for x, y in found)


def drawn(knots: FloatArray, through: NDArray[np.intp], *, step: float = STEP, even_ends: bool = False) -> Curve:
    """Return the smooth curve through knots (n, 2), points about ``step`` metres apart, with a point at each index
    ``through``.

    The first and last knot and the knots ``through`` are points of the curve exactly. With ``even_ends`` the curve
    ends as bent as it comes to its ends, without it straight.
    """
    if len(knots) == 2:
        knots = np.vstack((knots[:1], knots.mean(axis=0), knots[1:]))
        through = np.where(through == 1, 2, through)
    t = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(knots, axis=0), axis=1))))
    fine = np.linspace(0.0, t[-1], max(8, 2 * int(t[-1] / step)) + 1)
    fine = np.union1d(fine, t[through])
    raw = spline(t, knots, fine, even_ends=even_ends)
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(raw, axis=0), axis=1))))
    stops = np.unique(np.concatenate(([0], np.searchsorted(fine, t[through]), [len(fine) - 1])))
    legs = [
        np.linspace(along[i], along[j], max(1, round((along[j] - along[i]) / step)), endpoint=False)
        for i, j in itertools.pairwise(stops)
    ]
    even = np.concatenate((*legs, along[-1:]))
    points = np.column_stack([np.interp(even, along, raw[:, axis]) for axis in (0, 1)])
    points[0], points[-1] = knots[0], knots[-1]
    slopes = np.gradient(points, even, axis=0) if len(even) > 2 else np.repeat(np.diff(points, axis=0), 2, axis=0)
    return Curve(points, even, slopes / np.linalg.norm(slopes, axis=1, keepdims=True))


def spline(t: FloatArray, knots: FloatArray, at: FloatArray, *, even_ends: bool = False) -> FloatArray:
    """Return the cubic spline through knots (n, 2) at parameters t (n,), evaluated at ``at`` (m,): (m, 2); natural, or
    with ``even_ends`` bent in its first and last piece as much as where they meet the next.

    Three diagonals are solved by plain elimination, which a busy machine does not slow as it does a matrix library.
    """
    h = np.diff(t)
    slope = np.diff(knots, axis=0) / h[:, None]
    rhs, span, step = (6 * np.diff(slope, axis=0)).tolist(), (2 * (h[:-1] + h[1:])).tolist(), h.tolist()
    if even_ends:
        span[0], span[-1] = span[0] + step[0], span[-1] + step[-1]
    for i in range(1, len(span)):
        share = step[i] / span[i - 1]
        span[i] -= share * step[i]
        rhs[i] = [rhs[i][0] - share * rhs[i - 1][0], rhs[i][1] - share * rhs[i - 1][1]]
    second = [[0.0, 0.0]] * len(knots)
    for i in range(len(span) - 1, -1, -1):
        after = second[i + 2]
        second[i + 1] = [(rhs[i][k] - step[i + 1] * after[k]) / span[i] for k in (0, 1)]
    if even_ends:
        second[0], second[-1] = second[1], second[-2]
    m = np.asarray(second)
    leg = np.clip(np.searchsorted(t, at, side="right") - 1, 0, len(t) - 2)
    a, b, w = (t[leg + 1] - at)[:, None], (at - t[leg])[:, None], h[leg][:, None]
    return np.asarray(
        (m[leg] * a**3 + m[leg + 1] * b**3) / (6 * w)
        + (knots[leg] / w - m[leg] * w / 6) * a
        + (knots[leg + 1] / w - m[leg + 1] * w / 6) * b
    )


def _stiff_bands(
    points: FloatArray, want: FloatArray, stiffness: FloatArray
) -> tuple[tuple[FloatArray, FloatArray, FloatArray], FloatArray]:
    """Return the diagonal and two side diagonals of the least squares of bending and distance, and its right side."""
    pieces = np.diff(points, axis=0)
    h = np.hypot(pieces[:, 0], pieces[:, 1])
    span = 0.5 * (h[:-1] + h[1:])
    before, after = 1 / (h[:-1] * span), 1 / (h[1:] * span)
    middle = -(before + after)
    weight = np.broadcast_to(stiffness**4, span.shape) * span
    mass = np.concatenate(([h[0] / 2], span, [h[-1] / 2]))
    main, near, far = mass.copy(), np.zeros(len(h)), weight * before * after
    main[:-2] += weight * before**2
    main[1:-1] += weight * middle**2
    main[2:] += weight * after**2
    near[:-1] += weight * before * middle
    near[1:] += weight * middle * after
    bent = weight * turning(points)
    right = mass * want
    right[:-2] -= bent * before
    right[1:-1] -= bent * middle
    right[2:] -= bent * after
    return (main, near, far), right


def _solved(main: FloatArray, near: FloatArray, far: FloatArray, right: FloatArray) -> FloatArray:
    """Return x for a symmetric matrix of five diagonals (LDL' elimination in plain numbers, about 60 rows)."""
    d, one, two, x = main.tolist(), near.tolist(), far.tolist(), right.tolist()
    n = len(d)
    first, second = [0.0] * n, [0.0] * n
    for i in range(1, n):
        if i > 1:
            second[i] = two[i - 2] / d[i - 2]
            first[i] = (one[i - 1] - second[i] * first[i - 1] * d[i - 2]) / d[i - 1]
            d[i] -= first[i] ** 2 * d[i - 1] + second[i] ** 2 * d[i - 2]
            x[i] -= first[i] * x[i - 1] + second[i] * x[i - 2]
        else:
            first[1] = one[0] / d[0]
            d[1] -= first[1] ** 2 * d[0]
            x[1] -= first[1] * x[0]
    x = [value / pivot for value, pivot in zip(x, d, strict=True)]
    for i in range(n - 2, -1, -1):
        x[i] -= first[i + 1] * x[i + 1] + (second[i + 2] * x[i + 2] if i + 2 < n else 0.0)
    return np.asarray(x)
