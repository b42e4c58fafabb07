"""Draws the shadows of all bodies on a surface in plain NumPy: the first picture, while the compiled ``sun_kernel``
loads.

The same runs of columns, word for word, as in ``sun_kernel``; the light is kept as its logarithm, added where a run
starts, taken off after it ends, and summed along each row, so that overlapping shadows multiply.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray
from gardenkit.site.sun_frame import Bodies, IntArray

Runs = tuple[FloatArray, FloatArray, FloatArray]  # rows (1, n), first and last column (steps, n)

CHUNK_CELLS = 1_200_000  # cells of all steps handled together: what stays in a processor's cache. House value.
DARK = -64.0  # logarithm of the light through an opaque body: exp(-64) is nothing
FAR = 1e30  # columns; beyond any grid


def hours_lost(
    runs: FloatArray, hours: FloatArray, through: FloatArray, bodies: Bodies, rows: int, columns: int
) -> FloatArray:
    """Return the hours of sun each cell loses to the bodies over some steps, (rows, columns).

    ``runs`` (n, 2) shadow run in cells a metre and ``hours`` (n,) of each step; ``through`` (bodies,) share of light
    let through.
    """
    lost = np.zeros((rows, columns))
    chunk = max(1, CHUNK_CELLS // (rows * columns))
    faint = np.maximum(np.log(np.maximum(through, 1e-300)), DARK)
    for start in range(0, len(runs), chunk):
        part = runs[start : start + chunk]
        change = np.zeros(len(part) * rows * (columns + 1), dtype=np.float32)
        for (row, first, last), strength in zip(_all_runs(part, bodies, rows), faint, strict=True):
            _mark(change, row, first, last, rows, columns, np.float32(strength))
        light = np.cumsum(change.reshape(len(part), rows, columns + 1), axis=2)
        np.exp(np.minimum(light, 0.0, out=light), out=light)
        weight = hours[start : start + chunk].astype(np.float32)
        lost += weight.sum() - np.tensordot(weight, light, axes=1)[:, :columns]
    return lost


def _all_runs(runs: FloatArray, bodies: Bodies, rows: int) -> Iterator[Runs]:
    ku, kv = runs[:, :1], runs[:, 1:]
    for ball, cut in zip(bodies.rounds, bodies.rounds_cut, strict=True):
        yield _round(rows, ku, kv, ball, bodies.cuts, cut)
    for shaft, cut in zip(bodies.shafts, bodies.shafts_cut, strict=True):
        yield _shaft(rows, ku, kv, shaft, bodies.disc, bodies.cuts, cut)
    for i in range(len(bodies.first_corner) - 1):
        corners = bodies.corners[bodies.first_corner[i] : bodies.first_corner[i + 1]]
        yield _hull(rows, ku, kv, corners, bodies.edges[bodies.first_edge[i] : bodies.first_edge[i + 1]])


def _mark(
    change: NDArray[np.float32],
    row: FloatArray,
    first: FloatArray,
    last: FloatArray,
    rows: int,
    columns: int,
    strength: np.float32,
) -> None:
    """Add the logarithm of light at the start of every run and take it off after its end; empty runs cancel past
    the edge.
    """
    left = np.ceil(np.clip(first, 0.0, float(columns)))
    after = np.floor(np.clip(last, -1.0, columns - 1.0)) + 1.0
    empty = left >= after
    left[empty] = after[empty] = columns
    begin = (np.arange(len(first))[:, None] * rows + row.astype(np.int64)) * (columns + 1)
    change[begin + left.astype(np.int64)] += strength
    change[begin + after.astype(np.int64)] -= strength


def _open_rows(low_y: FloatArray, high_y: FloatArray, rows: int, cut: int) -> FloatArray:
    """Return the rows a shadow may touch in any of the steps, (1, n); all of them for a body the surface cuts."""
    if cut >= 0:
        return np.arange(rows)[None, :].astype(float)
    low = max(0.0, np.ceil(float(low_y.min())))
    return np.arange(low, min(np.floor(float(high_y.max())), rows - 1.0) + 1.0)[None, :]


def _empty(row: FloatArray, ku: FloatArray, cuts: FloatArray, cut: int) -> tuple[FloatArray, FloatArray]:
    shape = (len(ku), row.shape[1])
    if cut >= 0:
        return np.tile(cuts[cut, 0], (len(ku), 1)), np.tile(cuts[cut, 1], (len(ku), 1))
    return np.full(shape, FAR), np.full(shape, -FAR)


def _round(rows: int, ku: FloatArray, kv: FloatArray, ball: FloatArray, cuts: FloatArray, cut: int) -> Runs:
    x, y, w = ball[0] - ball[2] * ku, ball[1] - ball[2] * kv, ball[2]
    side_u, side_v = ball[6] - ku * ball[8], ball[7] - kv * ball[8]
    xx = ball[3] - ku * ball[6] - ku * side_u
    xy = ball[4] - kv * ball[6] - ku * side_v
    yy = ball[5] - kv * ball[7] - kv * side_v
    lean, flat = xy / yy, 1.0 / yy
    wide = np.sqrt(np.maximum(xx - xy * lean, 0.0))
    tall = np.sqrt(yy)
    row = _open_rows(y - tall, y + tall, rows, cut)
    first, last = _empty(row, ku, cuts, cut)
    if cut < 0:
        return row, *_ellipse(row, first, last, x, y, lean, flat, wide, 1.0)
    det = xx * yy - xy * xy
    rise_x, rise_y = (side_u * yy - side_v * xy) / det, (side_v * xx - side_u * xy) / det
    return row, *_cut_ellipse(row, first, last, x, y, lean, flat, wide, 1.0, w, rise_x, rise_y)


def _ellipse(
    row: FloatArray,
    first: FloatArray,
    last: FloatArray,
    middle_x: FloatArray,
    middle_y: FloatArray,
    lean: FloatArray,
    flat: FloatArray,
    wide: FloatArray,
    scale: float,
) -> tuple[FloatArray, FloatArray]:
    off = row - middle_y
    reach = off * off * flat
    inside = reach <= scale
    half = np.where(inside, np.sqrt(np.maximum(scale - reach, 0.0)) * wide, -FAR)  # beyond the ellipse: an empty run
    middle = middle_x + lean * off
    return np.minimum(first, middle - half, out=first), np.maximum(last, middle + half, out=last)


def _cut_ellipse(
    row: FloatArray,
    first: FloatArray,
    last: FloatArray,
    middle_x: FloatArray,
    middle_y: FloatArray,
    lean: FloatArray,
    flat: FloatArray,
    wide: FloatArray,
    scale: float,
    depth: float,
    rise_x: FloatArray,
    rise_y: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    off = row - middle_y
    reach = off * off * flat
    half = np.sqrt(np.maximum(scale - reach, 0.0)) * wide
    for end in (lean * off - half, lean * off + half):
        stands = (reach <= scale) & (depth + rise_x * end + rise_y * off >= 0.0)
        first = np.minimum(first, np.where(stands, middle_x + end, FAR))
        last = np.maximum(last, np.where(stands, middle_x + end, -FAR))
    return first, last


def _line(
    row: FloatArray,
    first: FloatArray,
    last: FloatArray,
    x0: FloatArray,
    y0: FloatArray,
    x1: FloatArray,
    y1: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    level = y0 == y1
    slope = (x1 - x0) / np.where(level, 1.0, y1 - y0)
    column = x0 + (row - y0) * slope
    on = (row >= np.minimum(y0, y1)) & (row <= np.maximum(y0, y1)) & ~level
    return (
        np.minimum(first, np.where(on, column, FAR), out=first),
        np.maximum(last, np.where(on, column, -FAR), out=last),
    )


def _shaft(
    rows: int, ku: FloatArray, kv: FloatArray, shaft: FloatArray, disc: FloatArray, cuts: FloatArray, cut: int
) -> Runs:
    side_u, side_v = disc[3] - ku * disc[5], disc[4] - kv * disc[5]
    xx = disc[0] - ku * disc[3] - ku * side_u
    xy = disc[1] - kv * disc[3] - ku * side_v
    yy = disc[2] - kv * disc[4] - kv * side_v
    det = xx * yy - xy * xy
    x0, y0, w0 = shaft[0] - shaft[2] * ku, shaft[1] - shaft[2] * kv, float(shaft[2])
    x1, y1, w1 = shaft[3] - shaft[5] * ku, shaft[4] - shaft[5] * kv, float(shaft[5])
    r0, r1 = float(shaft[6]), float(shaft[7])
    lean, flat = xy / yy, 1.0 / yy
    wide = np.sqrt(np.maximum(xx - xy * lean, 0.0))
    rise_x, rise_y = (side_u * yy - side_v * xy) / det, (side_v * xx - side_u * xy) / det
    tall = np.sqrt(yy)
    low_y, high_y = np.minimum(y0 - r0 * tall, y1 - r1 * tall), np.maximum(y0 + r0 * tall, y1 + r1 * tall)
    row = _open_rows(low_y, high_y, rows, cut)
    first, last = _empty(row, ku, cuts, cut)
    for x, y, w, r in ((x0, y0, w0, r0), (x1, y1, w1, r1)):
        if r > 0.0 and cut < 0:
            first, last = _ellipse(row, first, last, x, y, lean, flat, wide, r * r)
        elif r > 0.0:
            first, last = _cut_ellipse(row, first, last, x, y, lean, flat, wide, r * r, w, rise_x, rise_y)
    go_x, go_y = x1 - x0, y1 - y0
    m_x, m_y = (go_x * yy - go_y * xy) / det, (go_y * xx - go_x * xy) / det
    far = go_x * m_x + go_y * m_y
    apart = far > (r0 - r1) * (r0 - r1)
    far = np.where(apart, far, 1.0)
    ahead = (r0 - r1) / far
    aside = np.sqrt(np.maximum(far - (r0 - r1) * (r0 - r1), 0.0) * det) / far
    for sign in (-1.0, 1.0):
        t_x, t_y = ahead * go_x - sign * aside * m_y, ahead * go_y + sign * aside * m_x
        rise = rise_x * t_x + rise_y * t_y
        ends = (x0 + r0 * t_x, y0 + r0 * t_y, w0 + r0 * rise, x1 + r1 * t_x, y1 + r1 * t_y, w1 + r1 * rise)
        first, last = _off_line(row, first, last, apart, ends, cut)
    return row, first, last


def _off_line(
    row: FloatArray,
    first: FloatArray,
    last: FloatArray,
    apart: NDArray[np.bool_],
    ends: tuple[FloatArray, ...],
    cut: int,
) -> tuple[FloatArray, FloatArray]:
    """Widen the runs by the part of an edge off the surface, where the two discs' shadows stand apart."""
    x0, y0, w0, x1, y1, w1 = ends
    if cut >= 0:
        apart = apart & ~((w0 < 0.0) & (w1 < 0.0))
        share = w0 / np.where(w0 == w1, 1.0, w0 - w1)
        at_x, at_y = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
        behind0, behind1 = w0 < 0.0, (w1 < 0.0) & (w0 >= 0.0)
        x0, y0 = np.where(behind0, at_x, x0), np.where(behind0, at_y, y0)
        x1, y1 = np.where(behind1, at_x, x1), np.where(behind1, at_y, y1)
    return _line(row, first, last, x0, np.where(apart, y0, FAR), x1, np.where(apart, y1, FAR))


def _hull(rows: int, ku: FloatArray, kv: FloatArray, corners: FloatArray, edges: IntArray) -> Runs:
    x, y = corners[:, 0] - corners[:, 2] * ku, corners[:, 1] - corners[:, 2] * kv
    row = _open_rows(y, y, rows, -1)
    first, last = _empty(row, ku, np.zeros((0, 2, 0)), -1)
    for a, b in edges:
        first, last = _line(row, first, last, x[:, a : a + 1], y[:, a : a + 1], x[:, b : b + 1], y[:, b : b + 1])
    return row, first, last
