"""Still water: what stands round it is seen in it again, upside down and a little broken, the more so farther off.

Importing this file imports Numba.
"""

import math

import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing.painted.light import noise
from gardenkit.geometry.plane import FloatArray
from gardenkit.site.sun_kernel import compiled

Reals = NDArray[np.float32]
Bytes = NDArray[np.uint8]
WATER = 5  # the kind of its dots on the canvas
FIRST, LONGER, FARTHEST = 0.06, 1.14, 40.0  # m: steps along what is seen in it, each longer by a share. House values.
THICK, THICKER = 0.25, 0.18  # m, and of the way: how far behind a dot still counts as met. House values.
RIPPLE = 0.035  # how far still water leans from level. House value.
LEAST_SEEN = 0.1  # of what stands before it, looking straight down. House value.
DEPTHS = 0.8  # of the sky's light that comes back out of the water itself. House value.


@compiled
def mirror(
    image: Bytes, depth: Reals, layer: Bytes, eye: FloatArray, turn: FloatArray, lens: Reals, sky: FloatArray
) -> None:
    """Give every dot of water what is seen in it: a dot of the picture, else the sky (``sky`` as ``sky_tone`` has it).

    ``image`` is the finished picture but for its water.
    """
    rows, columns = depth.shape
    bright = (sky[1, 0] + sky[1, 1] + sky[1, 2]) / 765.0 * DEPTHS
    ray, back = np.empty(3), np.empty(3)
    for row in range(rows):
        for column in range(columns):
            if layer[row, column, 5] != WATER:
                continue
            z = depth[row, column]
            u, v = (column + 0.5 - lens[1]) / lens[0], (lens[2] - row - 0.5) / lens[0]
            long = math.sqrt(u * u + v * v + 1.0)
            for k in range(3):
                ray[k] = (u * turn[0, k] + v * turn[1, k] + turn[2, k]) / long
                back[k] = eye[k] + z * long * ray[k]
            lean_x = RIPPLE * (noise(3.0 * back[0], 7.0 * back[1]) + noise(11.0 * back[0], 16.0 * back[1]) - 1.0)
            lean_y = RIPPLE * (noise(7.0 * back[1], 3.0 * back[0]) + noise(16.0 * back[1], 11.0 * back[0]) - 1.0)
            facing = ray[0] * lean_x + ray[1] * lean_y + ray[2]
            ray[0] -= 2.0 * facing * lean_x
            ray[1] -= 2.0 * facing * lean_y
            ray[2] = max(ray[2] - 2.0 * facing, 0.01)
            seen = LEAST_SEEN + (1.0 - LEAST_SEEN) * (1.0 - min(1.0, max(0.0, -facing))) ** 3
            met = _met(depth, layer, back, ray, eye, turn, lens)
            share = min(1.0, ray[2] / 0.55) ** 0.65
            for k in range(3):
                other = sky[1, k] + (sky[0, k] - sky[1, k]) * share
                if met >= 0:
                    other = float(image[met // columns, met % columns, k])
                own = layer[row, column, k] * bright
                image[row, column, k] = np.uint8(min(255.0, own + (other - own) * seen))


@compiled
def _met(
    depth: Reals, layer: Bytes, start: FloatArray, way: FloatArray, eye: FloatArray, turn: FloatArray, lens: Reals
) -> int:
    """Return the dot (row times columns, and column) that a ray from the water meets, -1 for none in the picture."""
    rows, columns = depth.shape
    far = FIRST
    while far < FARTHEST:
        x, y, z = start[0] + far * way[0] - eye[0], start[1] + far * way[1] - eye[1], start[2] + far * way[2] - eye[2]
        ahead = turn[2, 0] * x + turn[2, 1] * y + turn[2, 2] * z
        if ahead < 0.3:
            return -1
        right, up = turn[0, 0] * x + turn[0, 1] * y + turn[0, 2] * z, turn[1, 0] * x + turn[1, 1] * y + turn[1, 2] * z
        column, row = int(lens[1] + lens[0] * right / ahead), int(lens[2] - lens[0] * up / ahead)
        if row < 0 or row >= rows or column < 0 or column >= columns:
            return -1
        behind = ahead - depth[row, column]
        if 0.0 < behind < THICK + THICKER * far and layer[row, column, 5] != WATER:
            return int(row * columns + column)
        far *= LONGER
    return -1
