"""Puts leaves and faces on the canvas: the nearest one stays, with its colour, the way it faces and its share of light.

Importing this file imports Numba.
"""

import math

import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing.painted.shapes import tone_of
from gardenkit.geometry.plane import FloatArray
from gardenkit.site.sun_kernel import compiled

Reals = NDArray[np.float32]
Bytes = NDArray[np.uint8]
STEM = 14  # the shape of sticks
GROUND = 2  # the kind of faces that are ground
NEAR = 1.1  # m before the eye: leaves nearer than this are out of focus
AT_ONE = 0.012  # m: what is drawn later wins over what is no more than this before it (boards on a wall)


@compiled
def seen(
    at: Reals,
    along: Reals,
    across: Reals,
    paint: Bytes,
    eye: FloatArray,
    turn: FloatArray,
    lens: FloatArray,
    reach: FloatArray,
    first: int,
    spots: Reals,
    axes: Reals,
    rows: NDArray[np.int32],
) -> None:
    """Put flat shapes at ``at``, spanned by half axes ``along`` and ``across`` (n, 3), metres, in the picture.

    From number ``first`` on it fills ``spots`` (right and down in dots, metres ahead), ``axes`` (the half axes, right
    and down in dots) and ``rows``: the first that a shape may reach and the one after its last, none of what is not
    seen. ``turn`` has the eye's right, up and ahead as rows; ``lens`` is focal length, middle x, middle y, rows and
    columns in dots; ``paint`` is as ``leaves`` has it, ``reach`` is ``picture.Reach`` as numbers.
    """
    focal, middle_x, middle_y, high, columns = lens[0], lens[1], lens[2], int(lens[3]), lens[4]
    near, far = max(NEAR, reach[0]), reach[1]
    for i in range(len(at)):
        k = first + i
        rows[k, 0] = rows[k, 1] = 0
        right, up, z = _as_turned(at[i, 0] - eye[0], at[i, 1] - eye[1], at[i, 2] - eye[2], turn)
        if z < near or z > far:
            continue
        scale = focal / z
        x, y = middle_x + scale * right, middle_y - scale * up
        off_x, off_y = right / z, up / z
        a, b, c = _as_turned(along[i, 0], along[i, 1], along[i, 2], turn)
        ux, uy = scale * (a - c * off_x), -scale * (b - c * off_y)
        a, b, c = _as_turned(across[i, 0], across[i, 1], across[i, 2], turn)
        vx, vy = scale * (a - c * off_x), -scale * (b - c * off_y)
        if paint[i, 3] == STEM:  # round: as wide from every side
            vx, vy = _aside(ux, uy, scale * math.sqrt(a * a + b * b + c * c))
        reach_x, reach_y = abs(ux) + abs(vx), abs(uy) + abs(vy)
        if x + reach_x < 0 or x - reach_x > columns or y + reach_y < 0 or y - reach_y > high:
            continue
        if abs(ux * vy - uy * vx) < 0.45 * max(math.hypot(ux, uy), 0.6):  # seen edge on: at least a hair wide
            long = max(math.hypot(ux, uy), 0.6)
            vx, vy = -uy / long * 0.5, ux / long * 0.5
            ux, uy = (ux, uy) if long > 0.6 else (0.6, 0.0)
            vx, vy = (vx, vy) if long > 0.6 else (0.0, 0.5)
            reach_y = abs(uy) + abs(vy)
        spots[k, 0], spots[k, 1], spots[k, 2] = x, y, z
        axes[k, 0], axes[k, 1], axes[k, 2], axes[k, 3] = ux, uy, vx, vy
        rows[k, 0], rows[k, 1] = max(0, int(y - reach_y)), min(high, int(y + reach_y) + 2)


@compiled
def leaves(
    depth: Reals,
    layer: Bytes,
    facing: Reals,
    top: int,
    spots: Reals,
    axes: Reals,
    reached: NDArray[np.int32],
    normals: Reals,
    paint: Bytes,
) -> None:
    """Draw the shapes that ``seen`` put in the picture; the first row of ``depth`` is row ``top`` of it.

    ``paint`` is (n, 9): red, green, blue, shape, sun 0 to 255, open sky 0 to 255, red, green and blue of an eye.
    """
    rows, columns = depth.shape
    for i in range(len(spots)):
        low, high = max(top, reached[i, 0]), min(top + rows, reached[i, 1])
        if low >= high:
            continue
        x, y, z = spots[i, 0], spots[i, 1] - top, spots[i, 2]
        ux, uy, vx, vy = axes[i, 0], axes[i, 1], axes[i, 2], axes[i, 3]
        det, reach_x = ux * vy - uy * vx, abs(ux) + abs(vx)
        for row in range(low - top, high - top):
            for column in range(max(0, int(x - reach_x)), min(columns, int(x + reach_x) + 2)):
                if z >= depth[row, column]:
                    continue
                dx, dy = column + 0.5 - x, row + 0.5 - y
                s, t = (dx * vy - dy * vx) / det, (dy * ux - dx * uy) / det
                tone = tone_of(paint[i, 3], s, t)
                if tone > 0.0:
                    depth[row, column] = z
                    _lay(layer, facing, row, column, i, tone, t, normals, paint)


@compiled
def _as_turned(x: float, y: float, z: float, turn: FloatArray) -> tuple[float, float, float]:
    return (
        turn[0, 0] * x + turn[0, 1] * y + turn[0, 2] * z,
        turn[1, 0] * x + turn[1, 1] * y + turn[1, 2] * z,
        turn[2, 0] * x + turn[2, 1] * y + turn[2, 2] * z,
    )


@compiled
def _aside(x: float, y: float, wide: float) -> tuple[float, float]:
    long = max(math.hypot(x, y), 1e-6)
    wide = max(wide, 0.4)
    return -y / long * wide, x / long * wide


@compiled
def _lay(
    layer: Bytes,
    facing: Reals,
    row: int,
    column: int,
    i: int,
    tone: float,
    t: float,
    normals: Reals,
    paint: Bytes,
) -> None:
    """Set one dot of leaf number ``i``."""
    first = 0
    if tone > 50.0:
        first, tone = 6, tone - 100.0
    for k in range(3):
        layer[row, column, k] = np.uint8(min(255.0, paint[i, first + k] * tone))
        facing[row, column, k] = normals[i, k]
    layer[row, column, 3] = paint[i, 4]
    layer[row, column, 4] = paint[i, 5]
    layer[row, column, 5] = 1


@compiled
def faces(
    depth: Reals,
    layer: Bytes,
    facing: Reals,
    top: int,
    reach: FloatArray,
    corners: Reals,
    rings: NDArray[np.int64],
    owners: NDArray[np.int64],
    planes: Reals,
    normals: Reals,
    paint: Bytes,
) -> None:
    """Draw flat faces in order: each is the rings of ``corners`` (pixels) it owns, filled by the even-odd rule.

    The first row of ``depth`` is row ``top`` of the whole picture, which ``corners`` and ``planes`` are in.
    ``planes`` (n, 3) give 1 / depth as a x + b y + c; ``paint`` is (n, 4): red, green, blue, kind. ``reach`` is
    ``picture.Reach`` as numbers.
    """
    rows, columns = depth.shape
    cuts = np.empty(512, dtype=np.float32)
    for face in range(len(planes)):
        far = reach[3] if paint[face, 3] == GROUND else math.inf
        first, last = owners[face], owners[face + 1]
        low, high = 1e9, -1e9
        for k in range(rings[first], rings[last]):
            low, high = min(low, corners[k, 1]), max(high, corners[k, 1])
        for row in range(max(0, int(low - 0.5) - top), min(rows, int(high + 1.5) - top)):
            level = top + row + 0.5
            count = _crossings(cuts, corners, rings, first, last, level)
            for pair in range(0, count - 1, 2):
                start, stop = max(0, math.ceil(cuts[pair] - 0.5)), min(columns, math.ceil(cuts[pair + 1] - 0.5))
                for column in range(start, stop):
                    near = planes[face, 0] * (column + 0.5) + planes[face, 1] * level + planes[face, 2]
                    if near <= 1e-6:
                        continue
                    z = np.float32(1.0 / near)
                    if z < reach[0] or z > far or z > depth[row, column] + AT_ONE + reach[2] * z:
                        continue
                    depth[row, column] = z
                    for k in range(3):
                        layer[row, column, k] = paint[face, k]
                        facing[row, column, k] = normals[face, k]
                    layer[row, column, 3] = 255
                    layer[row, column, 4] = 255
                    layer[row, column, 5] = paint[face, 3]


@compiled
def _crossings(cuts: Reals, corners: Reals, rings: NDArray[np.int64], first: int, last: int, level: float) -> int:
    """Find where the edges of a face cross a row, in order, and return how many do."""
    count = 0
    for ring in range(first, last):
        start, stop = rings[ring], rings[ring + 1]
        for k in range(start, stop):
            after = k + 1 if k + 1 < stop else start
            y0, y1 = corners[k, 1], corners[after, 1]
            if (y0 <= level) != (y1 <= level) and count < 512:
                at = np.float32(corners[k, 0] + (level - y0) / (y1 - y0) * (corners[after, 0] - corners[k, 0]))
                place = count
                while place > 0 and cuts[place - 1] > at:
                    cuts[place] = cuts[place - 1]
                    place -= 1
                cuts[place] = at
                count += 1
    return count
