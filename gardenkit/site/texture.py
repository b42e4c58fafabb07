"""How sandy, silty or clayey a soil is: from the layers in a jar of water to the name on the texture triangle."""

import math
from collections.abc import Sequence
from typing import Literal

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError, nearest
from gardenkit.sources import HOUSE, Figure

TEXTURES = (
    *("sand", "loamy sand", "sandy loam", "loam", "silt loam", "silt", "sandy clay loam", "clay loam"),
    *("silty clay loam", "sandy clay", "silty clay", "clay"),
)
SUM_TOLERANCE = Figure(2.0, "percentage points", HOUSE)  # three shares, each rounded or read from a jar

JAR_TIMINGS: dict[str, tuple[float, float, float]] = {  # minutes until sand, silt and clay have settled
    "Colorado State Master Gardener": (1, 2 * 60, 48 * 60),  # Colorado State Master Gardener guide, second-hand
    "Montana State": (1, 6 * 60, 24 * 60),  # Montana State Univ., landresources.montana.edu/soilfertility
    "Clemson": (1, 2 * 60, 48 * 60),  # Clemson approach, second-hand
}


@attrs.frozen(kw_only=True)
class JarReading:
    """Heights of the settled layers up the side of a jar, each from the bottom, in one unit (metres or any other).

    ``timing`` names the publisher whose waiting times were kept: a word of JAR_TIMINGS.
    """

    sand_mark: float
    silt_mark: float
    clay_mark: float
    timing: str = "Colorado State Master Gardener"

    def __attrs_post_init__(self) -> None:
        if self.timing not in JAR_TIMINGS:
            known = ", ".join(JAR_TIMINGS)
            raise GardenError(f'no jar timing "{self.timing}"{nearest(self.timing, JAR_TIMINGS)}; use one of {known}')
        marks = (self.sand_mark, self.silt_mark, self.clay_mark)
        if not all(math.isfinite(mark) for mark in marks) or self.sand_mark < 0 or self.clay_mark <= 0:
            raise GardenError(f"the jar marks {_list(marks)} are not all heights of 0 or more; read them again")
        if not self.sand_mark <= self.silt_mark <= self.clay_mark:
            raise GardenError(
                f"the jar marks {_list(marks)} go down; measure each layer's top from the bottom of the jar"
            )


def jar_shares(jar: JarReading) -> tuple[float, float, float]:
    """Return sand, silt and clay in percent of the settled height.

    >>> [round(share, 9) for share in jar_shares(JarReading(sand_mark=0.8, silt_mark=1.6, clay_mark=2.0))]
    [40.0, 40.0, 20.0]
    """
    whole = jar.clay_mark / 100.0
    return jar.sand_mark / whole, (jar.silt_mark - jar.sand_mark) / whole, (jar.clay_mark - jar.silt_mark) / whole


def normalised(
    sand: float, silt: float, clay: float, *, tolerance: float = SUM_TOLERANCE
) -> tuple[float, float, float]:
    """Return the three percentages scaled to a sum of 100; refused when they miss 100 by more than ``tolerance``."""
    shares = (sand, silt, clay)
    if not all(math.isfinite(share) and 0.0 <= share <= 100.0 + tolerance for share in shares):
        raise GardenError(f"sand, silt and clay {_list(shares)} are not all percentages from 0 to 100; check them")
    total = math.fsum(shares)
    if abs(total - 100.0) > tolerance + 1e-9:
        raise GardenError(
            f"sand, silt and clay {_list(shares)} add up to {total:g} %, over {tolerance:g} away from 100; check them"
        )
    return sand * 100.0 / total, silt * 100.0 / total, clay * 100.0 / total


def texture_rules(sand: NDArray[np.float64], clay: NDArray[np.float64]) -> dict[str, NDArray[np.bool_]]:
    """Return which points satisfy each of the twelve USDA rules; silt is what is left of 100.

    ``sand`` and ``clay`` are percent arrays of one shape, sum at most 100. Worked in whole millionths of a percent, so
    a boundary is a boundary. Source: TEXTURE_SOURCE. Every point satisfies exactly one rule.
    """
    one = 1_000_000
    s, c = (np.rint(np.asarray(share, dtype=float) * one).astype(np.int64) for share in (sand, clay))
    z = 100 * one - s - c
    sandy_loam = (c >= 7 * one) & (c < 20 * one) & (s > 52 * one) | (c < 7 * one) & (z < 50 * one)
    silt_loam = (z >= 50 * one) & (c >= 12 * one) & (c < 27 * one) | (z >= 50 * one) & (z < 80 * one) & (c < 12 * one)
    return {
        "sand": 2 * z + 3 * c < 30 * one,
        "loamy sand": (2 * z + 3 * c >= 30 * one) & (z + 2 * c < 30 * one),
        "sandy loam": sandy_loam & (z + 2 * c >= 30 * one),
        "loam": (c >= 7 * one) & (c < 27 * one) & (z >= 28 * one) & (z < 50 * one) & (s <= 52 * one),
        "silt loam": silt_loam,
        "silt": (z >= 80 * one) & (c < 12 * one),
        "sandy clay loam": (c >= 20 * one) & (c < 35 * one) & (z < 28 * one) & (s > 45 * one),
        "clay loam": (c >= 27 * one) & (c < 40 * one) & (s > 20 * one) & (s <= 45 * one),
        "silty clay loam": (c >= 27 * one) & (c < 40 * one) & (s <= 20 * one),
        "sandy clay": (c >= 35 * one) & (s > 45 * one),
        "silty clay": (c >= 40 * one) & (z >= 40 * one),
        "clay": (c >= 40 * one) & (s <= 45 * one) & (z < 40 * one),
    }


def texture(sand: float, silt: float, clay: float, *, tolerance: float = SUM_TOLERANCE) -> str:
    """Return the USDA texture class of a soil from its percentages of sand, silt and clay.

    Sums within ``tolerance`` of 100 are scaled, others refused (GardenError). Source: TEXTURE_SOURCE.

    >>> texture(40, 40, 20)
    'loam'
    """
    s, _z, c = normalised(sand, silt, clay, tolerance=tolerance)
    rules = texture_rules(np.array([s]), np.array([c]))
    return next(name for name in TEXTURES if rules[name][0])


def soil_group(texture_class: str) -> Literal["sandy", "loam", "clay"]:
    """Return the broad group that amendment tables use (our own grouping: clay loams count as clay, house value)."""
    known_texture(texture_class)
    if texture_class in ("sand", "loamy sand", "sandy loam"):
        return "sandy"
    return "loam" if texture_class in ("loam", "silt loam", "silt", "sandy clay loam") else "clay"


def known_texture(word: str) -> None:
    """Raise GardenError unless ``word`` is one of TEXTURES."""
    if word not in TEXTURES:
        raise GardenError(f'"{word}" is not a USDA texture class{nearest(word, TEXTURES)}; use {", ".join(TEXTURES)}')


# ---- helpers


def _list(values: Sequence[float]) -> str:
    return ", ".join(f"{value:g}" for value in values)
