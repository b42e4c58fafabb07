"""Makes a cloud of leaves into a plant, turned, sized and coloured; sets it where plants like it stand, each lit there.

Importing this file imports Numba.
"""

import math

import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray
from gardenkit.site.sun_kernel import compiled

Reals = NDArray[np.float32]
DIMMEST = 0.26  # share of the sky deep inside a crown. House value.
DARKEST = 0.2  # share of the sun deep inside a crown. House value.


@compiled
def set_leaves(
    at: FloatArray,
    along: FloatArray,
    facing: FloatArray,
    size: FloatArray,
    depth: FloatArray,
    shade: FloatArray,
    stand: FloatArray,
    colour: FloatArray,
    out: Reals,
    paint: NDArray[np.uint8],
    within: Reals,
) -> None:
    """Fill ``out`` (4, n, 3): places, half axes along and across, ways they face; the first six of ``paint``; and
    ``within`` (n, 7): where a leaf is in its crown's measure (x, y, z: 1 at its skin), how far out, how thick the crown
    is to light, 1 / its half width and half height.

    ``stand``: foot x, y, z, half spread, height, the cloud's own height, turn (radians), half length of a leaf (0: the
    cloud's own), width (against the length, else m), shape, how thick the crown is to light. ``colour``: red, green,
    blue, how varied.
    """
    c, s = math.cos(stand[6]), math.sin(stand[6])
    half, rise = stand[3], stand[4] / stand[5]
    wide, deep = 1.05 * half, 0.5775 * stand[4]
    for i in range(len(at)):
        x, y, z = half * (at[i, 0] * c - at[i, 1] * s), half * (at[i, 0] * s + at[i, 1] * c), rise * at[i, 2]
        out[0, i, 0], out[0, i, 1], out[0, i, 2] = stand[0] + x, stand[1] + y, stand[2] + z
        nx, ny, nz = facing[i, 0] * c - facing[i, 1] * s, facing[i, 0] * s + facing[i, 1] * c, facing[i, 2]
        ax, ay, az = along[i, 0] * c - along[i, 1] * s, along[i, 0] * s + along[i, 1] * c, along[i, 2]
        if stand[7] > 0.0:
            long = stand[7] * size[i]
            ax, ay, az = long * ax, long * ay, long * az
            across = long * stand[8]
        else:
            ax, ay, az = half * ax, half * ay, rise * az
            across = stand[8] * size[i]
        bx, by, bz = ny * az - nz * ay, nz * ax - nx * az, nx * ay - ny * ax
        across /= max(math.sqrt(bx * bx + by * by + bz * bz), 1e-9)
        out[1, i, 0], out[1, i, 1], out[1, i, 2] = ax, ay, az
        out[2, i, 0], out[2, i, 1], out[2, i, 2] = across * bx, across * by, across * bz
        out[3, i, 0], out[3, i, 1], out[3, i, 2] = nx, ny, nz
        within[i, 0], within[i, 1], within[i, 2] = x / wide, y / wide, (z - 0.5 * stand[4]) / deep
        within[i, 3], within[i, 4], within[i, 5], within[i, 6] = depth[i], stand[10], 1 / wide, 1 / deep
        off = (shade[i] - 0.5) * 2 * colour[3]
        for k in range(3):
            paint[i, k] = np.uint8(min(255.0, max(0.0, colour[k] * (1 + off) + off * (22.0, 10.0, -12.0)[k])))
        paint[i, 3] = np.uint8(stand[9])
        paint[i, 4] = np.uint8(min(249.0, 255.0 * (DARKEST + (1 - DARKEST) * (0.45 + 0.65 * depth[i]))))
        paint[i, 5] = np.uint8(255.0 * (DIMMEST + (1 - DIMMEST) * depth[i]))


@compiled
def set_again(
    spans: Reals,
    colours: NDArray[np.uint8],
    within: Reals,
    stand: FloatArray,
    sun: FloatArray,
    out: Reals,
    paint: NDArray[np.uint8],
) -> None:
    """Fill ``out`` (4, n, 3) and ``paint`` (n, 9) with a plant's shapes ``spans`` (4, n, 3) where one like it stands.

    ``stand``: foot x, y, z, how much wider and taller it is, turn (radians). Leaves are lit through those before them.
    """
    c, s, wider, taller = math.cos(stand[5]), math.sin(stand[5]), stand[3], stand[4]
    sx, sy, sz = sun[0] * c + sun[1] * s, sun[1] * c - sun[0] * s, sun[2]  # the sun as the plant has it
    for i in range(spans.shape[1]):
        for k in range(4):
            wide, tall = (wider, taller if k < 2 else wider) if k < 3 else (1.0, 1.0)
            x, y = wide * spans[k, i, 0], wide * spans[k, i, 1]
            out[k, i, 0], out[k, i, 1], out[k, i, 2] = x * c - y * s, x * s + y * c, tall * spans[k, i, 2]
        for k in range(3):
            out[0, i, k] += stand[k]
        for k in range(9):
            paint[i, k] = colours[i, k]
        if within[i, 4] < 0.0:
            continue
        px, py, pz = within[i, 0], within[i, 1], within[i, 2]
        dx, dy, dz = sx * within[i, 5], sy * within[i, 5], sz * within[i, 6]
        dd = dx * dx + dy * dy + dz * dz
        pd = px * dx + py * dy + pz * dz
        inside = pd * pd - dd * (px * px + py * py + pz * pz - 1.0)
        path = max(0.0, (-pd + math.sqrt(max(inside, 0.0))) / math.sqrt(dd))
        lit = DARKEST + (1 - DARKEST) * math.exp(-within[i, 4] * path) * (0.45 + 0.65 * within[i, 3])
        paint[i, 4] = np.uint8(min(249.0, max(0.0, 255.0 * lit)))
