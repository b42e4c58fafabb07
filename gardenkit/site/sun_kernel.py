"""Draws the shadows of all bodies on a surface, step by step through one month, fast: the compiled form of
``sun_numpy``.

Every body's shadow is convex, so it covers one run of columns in each row. A step starts with full light everywhere;
each body multiplies the light in its runs by what it lets through; then the light lost is added up over the touched
stretch of each row, which is set back to full. Cells are handled sixteen at a time with the ends masked, as runs are
short. Importing this file imports Numba. The arithmetic of the runs is word for word that of ``sun_numpy``, so that
both draw exactly the same cells.
"""

import hashlib
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TypeVar, cast

import numba
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray

Func = TypeVar("Func", bound=Callable[..., object])
Light = NDArray[np.float32]
IntArray = NDArray[np.int64]
LANES = 16  # cells handled together: 64 bytes of float32, one cache line
FAR = 1e30  # columns; beyond any grid
PACKAGE = Path(__file__).parents[1]
WITH_LOOPS = ("site/sun_kernel.py", "drawing/painted/*.py")  # where compiled loops stand that call each other


def kept_as(package: Path) -> str:
    """Return the name of the folder that compiled loops are kept in: another one when any file that holds some changes.

    Numba looks at each loop's own file alone, so one that calls a changed loop of another file would stay as it was.
    """
    held = (path.read_bytes() for pattern in WITH_LOOPS for path in sorted(package.glob(pattern)))
    return f"loops-{hashlib.sha256(b''.join(text for text in held if b'compiled' in text)).hexdigest()[:12]}"


@cache
def _keep_apart() -> None:
    """Have loops kept by the files they stand in; those of files that have changed since go."""
    base = Path(numba.config.CACHE_DIR or PACKAGE / "__pycache__")
    folder = base / kept_as(PACKAGE)
    for old in base.glob("loops-*"):
        if old != folder:
            shutil.rmtree(old, ignore_errors=True)
    numba.config.CACHE_DIR = str(folder)


def compiled(function: Func) -> Func:
    """Compile a function without the interpreter lock, kept on disk where any cache folder can be written."""
    _keep_apart()
    try:
        return cast(Func, numba.njit(nogil=True, cache=True, error_model="numpy")(function))
    except RuntimeError:  # neither the package's folder nor the user's cache folder can be written
        return cast(Func, numba.njit(nogil=True, error_model="numpy")(function))


@compiled
def _ellipse(
    first: FloatArray,
    last: FloatArray,
    low: int,
    high: int,
    middle_x: float,
    middle_y: float,
    lean: float,
    flat: float,
    wide: float,
    scale: float,
) -> None:
    """Widen the runs of rows low to high to hold an ellipse."""
    for row in range(low, high + 1):
        off = row - middle_y
        half = np.sqrt(max(scale - off * off * flat, 0.0)) * wide
        middle = middle_x + lean * off
        inside = off * off * flat <= scale
        first[row] = min(first[row], middle - half if inside else FAR)
        last[row] = max(last[row], middle + half if inside else -FAR)


@compiled
def _cut_ellipse(
    first: FloatArray,
    last: FloatArray,
    low: int,
    high: int,
    middle_x: float,
    middle_y: float,
    lean: float,
    flat: float,
    wide: float,
    scale: float,
    depth: float,
    rise_x: float,
    rise_y: float,
) -> None:
    """The same, taking only ends whose point on the body, depth + rise . offset, stands off the surface."""
    for row in range(low, high + 1):
        off = row - middle_y
        if off * off * flat > scale:
            continue
        half = np.sqrt(max(scale - off * off * flat, 0.0)) * wide
        left, right = lean * off - half, lean * off + half
        if depth + rise_x * left + rise_y * off >= 0.0:
            first[row], last[row] = min(first[row], middle_x + left), max(last[row], middle_x + left)
        if depth + rise_x * right + rise_y * off >= 0.0:
            first[row], last[row] = min(first[row], middle_x + right), max(last[row], middle_x + right)


@compiled
def _line(first: FloatArray, last: FloatArray, rows: int, x0: float, y0: float, x1: float, y1: float) -> None:
    """Widen the runs of the rows a straight edge passes."""
    if y0 == y1:
        return
    low = int(np.ceil(max(min(y0, y1), 0.0)))
    high = int(np.floor(min(max(y0, y1), rows - 1.0)))
    slope = (x1 - x0) / (y1 - y0)
    for row in range(low, high + 1):
        column = x0 + (row - y0) * slope
        first[row] = min(first[row], column)
        last[row] = max(last[row], column)


@compiled
def _off_line(
    first: FloatArray, last: FloatArray, rows: int, x0: float, y0: float, w0: float, x1: float, y1: float, w1: float
) -> None:
    """The same for the part of an edge off the surface, between ends at heights w0 and w1."""
    if w0 < 0.0 and w1 < 0.0:
        return
    if w0 < 0.0:
        share = w0 / (w0 - w1)
        x0, y0 = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
    elif w1 < 0.0:
        share = w0 / (w0 - w1)
        x1, y1 = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
    _line(first, last, rows, x0, y0, x1, y1)


@compiled
def _darken(
    light: Light,
    first: FloatArray,
    last: FloatArray,
    low: int,
    high: int,
    columns: int,
    blocks: int,
    through: np.float32,
    touched: IntArray,
    ramp: Light,
) -> None:
    """Multiply the light of every run by ``through`` and note the blocks of each row it touched; ``ramp`` counts 0, 1,
    2 and so on, in the width the light has.
    """
    clear = np.float32(1.0)
    for row in range(low, high + 1):
        left = int(np.ceil(min(max(first[row], 0.0), float(columns))))
        right = int(np.floor(max(min(last[row], columns - 1.0), -1.0)))
        if right < left:
            continue
        block, end = left >> 4, right >> 4
        touched[2 * row] = min(touched[2 * row], block)
        touched[2 * row + 1] = max(touched[2 * row + 1], end)
        begin = np.uint64((row * blocks + block) << 4)  # unsigned: spares the compiled loop a test for negative places
        start, stop = np.float32(left - (block << 4)), np.float32(right - (block << 4))
        for lane in range(np.uint64((end - block + 1) << 4)):
            light[begin + lane] *= through if (ramp[lane] >= start) & (ramp[lane] <= stop) else clear


@compiled
def _collect(light: Light, lost: Light, hours: np.float32, rows: int, blocks: int, touched: IntArray) -> None:
    """Add the hours lost in every touched stretch and set it back to full light."""
    clear = np.float32(1.0)
    for row in range(rows):
        begin, end = touched[2 * row], touched[2 * row + 1]
        if end < begin:
            continue
        for cell in range(np.uint64((row * blocks + begin) << 4), np.uint64((row * blocks + end + 1) << 4)):
            lost[cell] += hours * (clear - light[cell])
            light[cell] = clear
        touched[2 * row], touched[2 * row + 1] = blocks, -1


@compiled
def _rows_between(rows: int, low_y: float, high_y: float) -> tuple[int, int]:
    """Return the first and the last row between two heights on the grid."""
    return int(np.ceil(min(max(low_y, 0.0), float(rows)))), int(np.floor(max(min(high_y, rows - 1.0), -1.0)))


@compiled
def _open_runs(
    first: FloatArray, last: FloatArray, rows: int, low_y: float, high_y: float, cuts: FloatArray, cut: int
) -> tuple[int, int]:
    """Return the rows a shadow may touch, their runs empty, or the body's cut with the surface where it has one."""
    if cut >= 0:
        for row in range(rows):
            first[row], last[row] = cuts[cut, 0, row], cuts[cut, 1, row]
        return 0, rows - 1
    low, high = _rows_between(rows, low_y, high_y)
    for row in range(low, high + 1):
        first[row], last[row] = FAR, -FAR
    return low, high


@compiled
def _round_shadow(
    first: FloatArray,
    last: FloatArray,
    rows: int,
    columns: int,
    ball: FloatArray,
    cut: int,
    cuts: FloatArray,
    ku: float,
    kv: float,
) -> tuple[int, int]:
    """Set the runs of an ellipsoid's shadow; return the first and last row."""
    x, y, w = ball[0] - ball[2] * ku, ball[1] - ball[2] * kv, ball[2]
    side_u, side_v = ball[6] - ku * ball[8], ball[7] - kv * ball[8]
    xx = ball[3] - ku * ball[6] - ku * side_u
    xy = ball[4] - kv * ball[6] - ku * side_v
    yy = ball[5] - kv * ball[7] - kv * side_v
    tall = np.sqrt(yy)
    if cut < 0 and (x + np.sqrt(xx) < 0.0 or x - np.sqrt(xx) > columns - 1.0):
        return 0, -1
    lean, flat = xy / yy, 1.0 / yy
    wide = np.sqrt(max(xx - xy * lean, 0.0))
    if cut < 0:
        low, high = _rows_between(rows, y - tall, y + tall)
        for row in range(low, high + 1):
            off = row - y
            half, middle = np.sqrt(max(1.0 - off * off * flat, 0.0)) * wide, x + lean * off
            first[row], last[row] = middle - half, middle + half
        return low, high
    low, high = _open_runs(first, last, rows, y - tall, y + tall, cuts, cut)
    det = xx * yy - xy * xy
    rise_x, rise_y = (side_u * yy - side_v * xy) / det, (side_v * xx - side_u * xy) / det
    _cut_ellipse(first, last, low, high, x, y, lean, flat, wide, 1.0, w, rise_x, rise_y)
    return low, high


@compiled
def _fallen_disc(disc: FloatArray, ku: float, kv: float, fallen: FloatArray) -> None:
    """Set what all shafts' shadows of a step share: the ellipse (xx, xy, yy) a disc of radius 1 falls to, and how its
    points rise along the grid.
    """
    side_u, side_v = disc[3] - ku * disc[5], disc[4] - kv * disc[5]
    xx = disc[0] - ku * disc[3] - ku * side_u
    xy = disc[1] - kv * disc[3] - ku * side_v
    yy = disc[2] - kv * disc[4] - kv * side_v
    det = xx * yy - xy * xy
    fallen[0], fallen[1], fallen[2] = xx, xy, yy
    fallen[3], fallen[4] = (side_u * yy - side_v * xy) / det, (side_v * xx - side_u * xy) / det


@compiled
def _shaft_shadow(
    first: FloatArray,
    last: FloatArray,
    rows: int,
    columns: int,
    shaft: FloatArray,
    fallen: FloatArray,
    cut: int,
    cuts: FloatArray,
    ku: float,
    kv: float,
) -> tuple[int, int]:
    """Set the runs of a trunk's or cone's shadow, the hull of two like ellipses; return the first and last row."""
    xx, xy, yy, rise_x, rise_y = fallen[0], fallen[1], fallen[2], fallen[3], fallen[4]
    det = xx * yy - xy * xy
    x0, y0, w0 = shaft[0] - shaft[2] * ku, shaft[1] - shaft[2] * kv, shaft[2]
    x1, y1, w1 = shaft[3] - shaft[5] * ku, shaft[4] - shaft[5] * kv, shaft[5]
    r0, r1 = shaft[6], shaft[7]
    across, tall = np.sqrt(xx), np.sqrt(yy)
    if cut < 0 and (
        max(x0 + r0 * across, x1 + r1 * across) < 0.0 or min(x0 - r0 * across, x1 - r1 * across) > columns - 1.0
    ):
        return 0, -1
    lean, flat = xy / yy, 1.0 / yy
    wide = np.sqrt(max(xx - xy * lean, 0.0))
    low_y, high_y = min(y0 - r0 * tall, y1 - r1 * tall), max(y0 + r0 * tall, y1 + r1 * tall)
    low, high = _open_runs(first, last, rows, low_y, high_y, cuts, cut)
    for x, y, w, r in ((x0, y0, w0, r0), (x1, y1, w1, r1)):
        if r > 0.0 and cut < 0:
            begin, end = max(low, int(np.ceil(max(y - r * tall, 0.0)))), min(high, int(np.floor(y + r * tall)))
            _ellipse(first, last, begin, end, x, y, lean, flat, wide, r * r)
        elif r > 0.0:
            _cut_ellipse(first, last, low, high, x, y, lean, flat, wide, r * r, w, rise_x, rise_y)
    go_x, go_y = x1 - x0, y1 - y0
    m_x, m_y = (go_x * yy - go_y * xy) / det, (go_y * xx - go_x * xy) / det
    far = go_x * m_x + go_y * m_y  # squared distance of the discs in radii of the unit disc
    if far <= (r0 - r1) * (r0 - r1):
        return low, high
    ahead = (r0 - r1) / far
    aside = np.sqrt(max(far - (r0 - r1) * (r0 - r1), 0.0) * det) / far
    for sign in (-1.0, 1.0):
        t_x, t_y = ahead * go_x - sign * aside * m_y, ahead * go_y + sign * aside * m_x
        from_x, from_y, to_x, to_y = x0 + r0 * t_x, y0 + r0 * t_y, x1 + r1 * t_x, y1 + r1 * t_y
        if cut < 0:
            _line(first, last, rows, from_x, from_y, to_x, to_y)
        else:
            rise = rise_x * t_x + rise_y * t_y
            _off_line(first, last, rows, from_x, from_y, w0 + r0 * rise, to_x, to_y, w1 + r1 * rise)
    return low, high


@compiled
def _hull_shadow(
    first: FloatArray,
    last: FloatArray,
    rows: int,
    columns: int,
    corners: FloatArray,
    edges: IntArray,
    spots: FloatArray,
    ku: float,
    kv: float,
) -> tuple[int, int]:
    """Set the runs of a convex body's shadow from its edges; return the first and last row."""
    low_x = low_y = FAR
    high_x = high_y = -FAR
    for i in range(len(corners)):
        spots[i, 0] = corners[i, 0] - corners[i, 2] * ku
        spots[i, 1] = corners[i, 1] - corners[i, 2] * kv
        low_x, high_x = min(low_x, spots[i, 0]), max(high_x, spots[i, 0])
        low_y, high_y = min(low_y, spots[i, 1]), max(high_y, spots[i, 1])
    if high_x < 0.0 or low_x > columns - 1.0 or high_y < 0.0 or low_y > rows - 1.0:
        return 0, -1
    low, high = int(np.ceil(max(low_y, 0.0))), int(np.floor(min(high_y, rows - 1.0)))
    for row in range(low, high + 1):
        first[row], last[row] = FAR, -FAR
    for i in range(len(edges)):
        a, b = edges[i, 0], edges[i, 1]
        _line(first, last, rows, spots[a, 0], spots[a, 1], spots[b, 0], spots[b, 1])
    return low, high


@compiled
def hours_lost(
    runs: FloatArray,
    hours: FloatArray,
    through: FloatArray,
    rounds: FloatArray,
    rounds_cut: IntArray,
    shafts: FloatArray,
    shafts_cut: IntArray,
    disc: FloatArray,
    corners: FloatArray,
    first_corner: IntArray,
    edges: IntArray,
    first_edge: IntArray,
    cuts: FloatArray,
    rows: int,
    columns: int,
) -> Light:
    """Return the hours of sun each cell loses to the bodies over some steps, (rows, columns).

    ``runs`` (n, 2) shadow run in cells a metre and ``hours`` (n,) of each step; ``through`` (bodies,) share of light
    let through; the rest as in ``sun_frame.Bodies``.
    """
    blocks = (columns + LANES - 1) // LANES
    light = np.ones(rows * blocks * LANES, np.float32)
    lost = np.zeros(rows * blocks * LANES, np.float32)
    first, last = np.empty(rows), np.empty(rows)
    ramp = np.arange(blocks * LANES).astype(np.float32)
    spots, fallen = np.empty((len(corners), 2)), np.empty(5)
    touched = np.empty(2 * rows, np.int64)
    for row in range(rows):
        touched[2 * row], touched[2 * row + 1] = blocks, -1
    shaft_from, hull_from = len(rounds), len(rounds) + len(shafts)
    for step in range(len(runs)):
        ku, kv = runs[step, 0], runs[step, 1]
        for i in range(len(rounds)):
            low, high = _round_shadow(first, last, rows, columns, rounds[i], rounds_cut[i], cuts, ku, kv)
            _darken(light, first, last, low, high, columns, blocks, np.float32(through[i]), touched, ramp)
        _fallen_disc(disc, ku, kv, fallen)
        for i in range(len(shafts)):
            low, high = _shaft_shadow(first, last, rows, columns, shafts[i], fallen, shafts_cut[i], cuts, ku, kv)
            _darken(light, first, last, low, high, columns, blocks, np.float32(through[shaft_from + i]), touched, ramp)
        for i in range(len(first_corner) - 1):
            low, high = _hull_shadow(
                first,
                last,
                rows,
                columns,
                corners[first_corner[i] : first_corner[i + 1]],
                edges[first_edge[i] : first_edge[i + 1]],
                spots,
                ku,
                kv,
            )
            _darken(light, first, last, low, high, columns, blocks, np.float32(through[hull_from + i]), touched, ramp)
        _collect(light, lost, np.float32(hours[step]), rows, blocks, touched)
    out = np.empty((rows, columns), np.float32)
    for row in range(rows):
        out[row] = lost[row * blocks * LANES : row * blocks * LANES + columns]
    return out
