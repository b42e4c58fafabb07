"""The outlines of leaves, petals and sticks as the painter knows them, each on its own square from -1 to 1.

Importing this file imports Numba.
"""

import math

from gardenkit.site.sun_kernel import compiled

OVATE, LANCE, HEART, PALMATE, FEATHER, TUFT, STRAP, LOBED, ROUND = range(9)  # leaves
DAISY, ROSE, FLORET, BELL, CUP = range(9, 14)  # flowers
STICK, DISC = 14, 15  # a round stem, a flat chip
EYE = 100.0  # added to the tone of what has the colour of a flower's eye
SPRAY = 16  # a shape + n times this: a twig of n x n such leaves, each its own way round
FILLS = 1.22  # how much longer the leaves of a twig are than its squares: they lap over. House value.
LOOK_WIDE = (0.55, 0.34, 0.85, 0.95, 0.5, 0.9, 0.2, 0.62, 0.85)  # width of each leaf against its length


@compiled
def _twig(count: int, shape: int, s: float, t: float) -> float:
    """Return how bright a twig of ``count`` x ``count`` leaves is, some of which are missing towards its edge."""
    if s * s + t * t > 1.0:
        return 0.0
    column, row = int(0.5 * (s + 1.0) * count), int(0.5 * (t + 1.0) * count)
    chance = (column * 0.754877 + row * 0.569840 + count * 0.31) % 1.0
    p, q = (s + 1.0) * count - 2 * column - 1.0, (t + 1.0) * count - 2 * row - 1.0
    turn = 6.2832 * chance
    along, across = p * math.cos(turn) + q * math.sin(turn), q * math.cos(turn) - p * math.sin(turn)
    return _leaf(shape, along / FILLS, across / (FILLS * LOOK_WIDE[shape])) * (0.82 + 0.34 * ((7.0 * chance) % 1.0))


@compiled
def tone_of(shape: int, s: float, t: float) -> float:
    """Return how bright a shape is at a place of its square (s along, t across), 0 outside it."""
    if shape >= 16:
        return _twig(shape // 16, shape % 16, s, t)
    if shape >= 9 and shape < 14:
        return _petals(shape, s, t)
    return _leaf(shape, s, t)


@compiled
def _leaf(shape: int, s: float, t: float) -> float:
    side = abs(t)
    if shape == 0:
        return 0.0 if s * s + t * t > 1.0 else 0.92 + 0.14 * t - 0.1 * (side < 0.1)
    if shape == 1:
        return 0.0 if side > 1.0 - s * s else 0.92 + 0.16 * t
    if shape == 2:
        return 0.0 if side > 1.1 * math.sqrt(max(0.0, (1.0 - s) / 2)) * min(1.0, 2.6 + 2.2 * s) else 0.9 + 0.16 * t
    if shape == 6:
        return 0.0 if side > min(1.0, 3.0 * (1.0 - s)) or s < -1.0 else 0.95 + 0.2 * t
    if shape == 7:
        return 0.0 if side > (1.0 - s * s) * (0.68 + 0.32 * math.sin(9.0 * s)) else 0.92 + 0.14 * t
    if shape == 4:
        wide = (1.0 - s * s * 0.8) * 0.95
        cut = (s * 5.0 + side * 1.6) % 1.0
        return 0.0 if abs(s) > 1.0 or side > wide or (cut > 0.66 and side > 0.12) else 0.84 + 0.26 * (1 - cut)
    return _round_leaf(shape, s, t)


@compiled
def _round_leaf(shape: int, s: float, t: float) -> float:
    far = s * s + t * t
    if shape == 14:
        return 0.0 if abs(s) > 1.0 or abs(t) > 1.0 else 1.0 - 0.35 * abs(t)
    if far > 1.0:
        return 0.0
    if shape == 3:
        return 0.0 if math.sqrt(far) > 0.5 + 0.5 * abs(math.cos(2.5 * math.atan2(t, s))) else 0.95 + 0.1 * t
    if shape == 5:
        return 0.0 if (math.atan2(t, s) * 2.4 + 8.0) % 1.0 > 0.5 else 0.8 + 0.3 * far
    return 0.9 + 0.15 * t


@compiled
def _rose(far: float, turn: float) -> float:
    """Return how bright a double rose is: rings of petals, each darker at its foot, round a dark heart."""
    ring = 0.0 if far > 0.62 else (1.0 if far > 0.34 else 2.0)
    petal = abs(math.cos((2.5 - 0.5 * ring) * turn + 1.1 * ring))
    if ring == 0.0 and far > 0.8 + 0.2 * petal:
        return 0.0
    foot = (0.62, 0.34, 0.0)[int(ring)]
    return 0.74 - 0.07 * ring + 0.7 * (far - foot) + 0.16 * math.sqrt(petal)


@compiled
def _petals(shape: int, s: float, t: float) -> float:
    far = math.sqrt(s * s + t * t)
    if far > 1.0:
        return 0.0
    turn = math.atan2(t, s)
    if shape == 9:
        if far < 0.32:
            return 100.0 + 1.05 - far
        return 0.0 if far > 0.62 + 0.38 * abs(math.cos(5.0 * turn)) else 0.86 + 0.16 * far
    if shape == 10:
        return _rose(far, turn)
    if shape == 12:
        return 0.0 if abs(t) > 0.45 + 0.5 * max(s, 0.0) else 0.8 + 0.2 * s
    if shape == 13:
        return 0.0 if far > 0.66 + 0.34 * abs(math.cos(2.5 * turn)) else (0.78 if far < 0.22 else 0.85 + 0.2 * far)
    return 0.85 + 0.2 * t
