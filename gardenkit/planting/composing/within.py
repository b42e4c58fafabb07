"""A planting thinned until it keeps to what all plants may come to: first low plants evenly, then the dear ones."""

import math
from collections import Counter
from collections.abc import Callable, Sequence

import numpy as np

from gardenkit.geometry import plane
from gardenkit.planting.composing.woody import Placed
from gardenkit.planting.limits import Limit

LOW = ("filler", "ground", "bulbs", "edge", "drift")  # stages of a composition that are thinned before shrubs and trees
THINNEST = 0.5  # of a kind's low plants: no fewer while anything else can give way. House value.
ROUNDING = 1e-9


def within(
    new: Sequence[Placed], limits: Sequence[Limit], *, there: Sequence[Placed], rng: np.random.Generator
) -> set[int]:
    """Return which of the ``new`` plants (by their place in the row) go, so that with those ``there`` already every
    limit holds. A limit that not even one plant of each kind would keep to takes nothing: the palette is to blame.
    """
    gone: set[int] = set()
    for limit in limits:
        if limit.measure == "kinds":
            continue  # the palette is to keep to it
        adds = _adds(new, limit)
        over = sum(_adds(there, limit)) - limit.most
        over += sum(amount for i, amount in enumerate(adds) if i not in gone)
        going, order = list[int](), iter(_order(new, adds, gone, rng))
        while over > ROUNDING and (i := next(order, None)) is not None:
            going.append(i)
            over -= adds[i]
        gone.update(going if over <= ROUNDING else ())
    return gone


# ---- helpers


def _adds(placed: Sequence[Placed], limit: Limit) -> list[float]:
    """Return how much each of some plants adds; nothing where it stands on other ground."""
    each, ground = limit.amounts(), limit.ground
    amounts = [each.get(one.kind.species.botanical, 0.0) for one in placed]
    if ground is None:
        return amounts
    return [amount if plane.contains(ground, one.at) else 0.0 for one, amount in zip(placed, amounts, strict=True)]


def _order(new: Sequence[Placed], adds: Sequence[float], gone: set[int], rng: np.random.Generator) -> list[int]:
    """Return the plants in the order in which they give way: low ones evenly down to half of each kind, shrubs and
    trees that stand more than once from the dearest, and low ones down to one; one of each kind stays.
    """
    shuffled = [int(i) for i in rng.permutation(len(new)) if int(i) not in gone and adds[int(i)] > 0]
    dear = sorted(shuffled, key=lambda i: -adds[i])
    full = Counter(one.kind.species for i, one in enumerate(new) if i not in gone)
    left, order = Counter(full), dict[int, None]()

    def give(row: Sequence[int], low: bool, least: Callable[[int], int]) -> None:
        for i in row:
            kind = new[i].kind.species
            if i not in order and (new[i].stage in LOW) is low and left[kind] > least(full[kind]):
                order[i] = None
                left[kind] -= 1

    give(shuffled, True, lambda many: math.ceil(THINNEST * many))
    give(dear, False, lambda _: 1)
    give(shuffled, True, lambda _: 1)
    return list(order)
