"""How well two colours go together, as observers judged pairs: the two-colour model of Ou and Luo.

L.-C. Ou and M. R. Luo, "A colour harmony model for two-colour combinations", Color Research & Application
31(3):191-204, 2006 (1,431 pairs judged); published values run from about -1.24 to +1.39, larger is more harmonious.
"""

import math
from functools import lru_cache

from gardenkit.planting.colour import Lab, lab


@lru_cache(maxsize=8192)
def pair_harmony(first: str, second: str) -> float:
    """Return the harmony of two colours ``#rrggbb``. Raises GardenError for a colour that cannot be read."""
    return lab_harmony(lab(first), lab(second))


def lab_harmony(first: Lab, second: Lab) -> float:
    """Return the harmony of two CIELAB colours (D65)."""
    return _of_hue_difference(first, second) + _of_lightness(first, second) + _of_hue(first) + _of_hue(second)


def hue_liking(hue: float) -> float:
    """Return the part HS that one hue, degrees in CIELAB, has in harmony: most for blue, least for red."""
    return -0.08 - 0.14 * math.sin(math.radians(hue + 50)) - 0.07 * math.sin(math.radians(2 * hue + 90))


# ---- helpers


def _of_hue_difference(first: Lab, second: Lab) -> float:
    one, two = math.hypot(first[1], first[2]), math.hypot(second[1], second[2])
    apart = (first[1] - second[1]) ** 2 + (first[2] - second[2]) ** 2
    hue = max(apart - (one - two) ** 2, 0.0)  # the CIELAB hue difference squared: what is not lightness or chroma
    return 0.04 + 0.53 * math.tanh(0.8 - 0.045 * math.sqrt(hue + ((one - two) / 1.46) ** 2))


def _of_lightness(first: Lab, second: Lab) -> float:
    both, apart = first[0] + second[0], abs(first[0] - second[0])
    return 0.28 + 0.54 * math.tanh(-3.88 + 0.029 * both) + 0.14 + 0.15 * math.tanh(-2 + 0.2 * apart)


def _of_hue(one: Lab) -> float:
    hue, strong = math.degrees(math.atan2(one[2], one[1])) % 360, math.hypot(one[1], one[2])
    near_yellow = (90 - hue) / 10
    yellow = ((0.22 * one[0] - 12.8) / 10) * math.exp(near_yellow - math.exp(near_yellow))
    return (0.5 + 0.5 * math.tanh(-2 + 0.5 * strong)) * (hue_liking(hue) + yellow)
