"""How far two kinds stand apart so that neither crowds the other out when both are grown: the rule the findings use."""

from collections.abc import Iterable, Mapping
from functools import lru_cache

import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.composing.ground import Mask, tree_of
from gardenkit.planting.composing.kinds import Kind
from gardenkit.planting.composing.woody import Placed
from gardenkit.planting.crowding import HARD_OVERLAP, OVERLAP, YEARS, competes_within, shared
from gardenkit.planting.growth import size
from gardenkit.planting.planting import Plant
from gardenkit.planting.setbacks import SAME_HERB, nearest_usual
from gardenkit.planting.species import Species
from gardenkit.planting.standing import Standing

MARGIN = 0.9  # of the share at which crowding is spoken of; between herbs, at which it becomes a warning. House value.
STEP = 0.02  # m; numerical choice


@lru_cache(maxsize=8192)
def least_apart(first: Kind, second: Kind, *, year: float | None = None) -> float:
    """Return metres from stem to stem below which two plants crowd each other, or stand nearer than is usual; 0: never.

    Both are asked of the rules of the findings, ``crowding.competes_within`` and ``setbacks.nearest_usual``. Where
    one of the two is there only until a ``year``, it may not crowd the other by then; what is usual is not asked of it.
    """
    one, two = (_grown(kind.species, max(YEARS) if year is None else year) for kind in (first, second))
    if any(each.is_carpet or each.tier == "wall" for each in (one, two)):
        return 0.0
    away = np.arange(0.0, one.radius + two.radius + STEP, STEP)
    most = HARD_OVERLAP if one.tier == two.tier == "herb" else OVERLAP
    tight = shared(away, np.array(one.radius), np.array(two.radius)) > MARGIN * most
    crowded = away[tight & (away < competes_within(one, two))]
    usual = nearest_usual(one, two) if year is None else 0.0
    return max(float(crowded[-1]) + STEP, usual) if len(crowded) else usual


def own_apart(kind: Kind) -> float:
    """Return metres from stem to stem below which one more of a kind is too many, carpets too."""
    return float(SAME_HERB) * kind.species.spacing_m


def by_kind(there: Iterable[Placed]) -> dict[Kind, FloatArray]:
    """Return where plants stand (n, 2), kind by kind."""
    found: dict[Kind, list[tuple[float, float]]] = {}
    for one in there:
        found.setdefault(one.kind, []).append(one.at)
    return {kind: np.array(at) for kind, at in found.items()}


def uncrowded(kind: Kind, points: FloatArray, there: Mapping[Kind, FloatArray], *, year: float | None = None) -> Mask:
    """Return which places (n, 2) are far enough from everything that stands already, given kind by kind; for a plant
    that is there only until a ``year``, far enough until then.
    """
    ok = np.ones(len(points), dtype=bool)
    tree = tree_of(points) if len(points) else None
    for other, at in there.items():
        need = least_apart(kind, other, year=year)
        if tree is not None and need > 0:
            for near in tree.query_ball_point(at, need):
                ok[near] = False
    return ok


# ---- helpers


@lru_cache(maxsize=4096)
def _grown(species: Species, year: float) -> Standing:
    plant = Plant(number=0, species=species.botanical, at=(0.0, 0.0))
    return Standing(plant=plant, species=species, size=size(species, year))
