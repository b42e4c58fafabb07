"""How far two kinds stand apart so that neither crowds the other out when both are grown: the rule the findings use."""

import math
from collections.abc import Iterable
from functools import lru_cache

import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.composing.ground import Mask
from gardenkit.planting.composing.woody import Placed
from gardenkit.planting.crowding import HARD_OVERLAP
from gardenkit.planting.growth import size
from gardenkit.planting.species import Species
from gardenkit.planting.standing import CARPETS

GROWN = 15  # years: when two kinds are looked at beside each other
MARGIN = 0.9  # of the share at which crowding becomes a warning. House value.
HALVINGS = 24  # numerical choice


@lru_cache(maxsize=8192)
def least_apart(first: Species, second: Species) -> float:
    """Return metres from stem to stem below which the smaller of two grown plants is crowded; 0 for what may run under.

    Ground covers, bulbs, climbers and what stands under a tree crowd nobody.
    """
    layers = (first.layer, second.layer)
    if first == second or any(layer in (*CARPETS, "climber", "wall fruit", "tree", "conifer") for layer in layers):
        return 0.0
    small, large = sorted(size(s, GROWN).spread / 2 for s in (first, second))
    low, high = large - small, large + small
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _shared(middle, small, large) > MARGIN * HARD_OVERLAP else (low, middle)
    return high


def uncrowded(species: Species, points: FloatArray, there: Iterable[Placed]) -> Mask:
    """Return which places (n, 2) are far enough from everything that stands already."""
    ok = np.ones(len(points), dtype=bool)
    if not len(points):
        return ok
    middle = points.mean(axis=0)
    reach = float(np.hypot(*(points - middle).T).max())
    for one in there:
        need = least_apart(species, one.kind.species)
        if need > 0 and math.dist(one.at, middle) < reach + need:
            off = points - np.asarray(one.at)
            ok &= off[:, 0] ** 2 + off[:, 1] ** 2 >= need * need
    return ok


def _shared(apart: float, small: float, large: float) -> float:
    """Return the share of the smaller circle that both cover."""
    if apart <= large - small:
        return 1.0
    d = max(apart, 1e-9)
    near, far = (d**2 + small**2 - large**2) / (2 * d * small), (d**2 + large**2 - small**2) / (2 * d * large)
    one = small**2 * math.acos(max(-1.0, min(1.0, near)))
    two = large**2 * math.acos(max(-1.0, min(1.0, far)))
    sides = (-d + small + large) * (d + small - large) * (d - small + large) * (d + small + large)
    return (one + two - 0.5 * math.sqrt(max(sides, 0.0))) / (math.pi * small**2)
