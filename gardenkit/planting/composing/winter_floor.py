"""The floor of the beds from winter to spring: low evergreens between what dies back, so that no bed is bare earth."""

from collections.abc import Mapping, Sequence

import numpy as np

from gardenkit.planting.composing.apart import by_kind, own_apart
from gardenkit.planting.composing.carpet import BARE_SHARES, OWN_UPTO, STEM, colonies, widest_first
from gardenkit.planting.composing.figures import WINTER_OF, covered
from gardenkit.planting.composing.given import Aims
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.composing.kinds import Kind
from gardenkit.planting.composing.order import Order
from gardenkit.planting.composing.woody import Placed
from gardenkit.planting.winter import holds_the_floor
from gardenkit.sources import HOUSE, Figure

FLOOR = Figure(
    0.8, "of the ground that the style closes", f"{HOUSE}: from here on leaves, twigs and the low green hold together"
)
# Plants a m2 without bulbs, up to which the floor is planted: 950 on 100 m2 in the Silbersommer leaflet (Bund deutscher
# Staudengärtner).
DENSEST = Figure(9.5, "plants a m2", "Silbersommer leaflet, Arbeitskreis Pflanzenverwendung, BdS")
CLEAR = 0.4  # of a clump's own distance: nothing is set nearer to its crown. House value.


def winter_floor(
    kinds: Sequence[Kind],
    ground: Ground,
    rooms: Mapping[Kind, Mask],
    there: Sequence[Placed],
    aims: Aims,
    rng: np.random.Generator,
) -> list[Placed]:
    """Return low plants that keep their leaves where there are no leaves or twigs from January to March (dry stems are
    cut before that), the widest gaps first, until
    the floor of each bed holds together or all are as dense as published mixed plantings are. Between tall perennials
    stand only kinds that take some shade; carpets that die back are left alone.
    """
    low = [k for k in kinds if k.part == "carpet" and holds_the_floor(k.species)]
    bare = ~covered(ground, [p for p in there if holds_the_floor(p.kind.species)], WINTER_OF)
    most = int(float(DENSEST) * len(ground) * ground.square) - sum(p.kind.part != "bulb" for p in there)
    if not low:
        return []
    closed, standing = _closed_to_all(ground, there), by_kind(there)
    dark = covered(ground, [p for p in there if p.kind.is_herb and p.kind.species.height > OWN_UPTO], WINTER_OF)
    order = Order(ground, there)
    own = {kind: rooms[kind] & ~closed & (~dark | _takes_shade(kind)) & order.fits(kind) for kind in low}
    for kind in low:
        if kind in standing:
            own[kind] &= ~ground.within(standing[kind], own_apart(kind))
    colony = colonies(low, ground, aims, rng)
    found: list[Placed] = []
    squares = np.bincount(ground.bed)
    to_close = np.bincount(ground.bed[bare], minlength=len(squares)) - (1 - float(FLOOR) * aims.closed) * squares
    for i in widest_first(ground, bare, rng):
        if len(found) >= most:
            break
        if to_close[ground.bed[i]] <= 0:
            continue
        chosen = next((k for k in (low[int(colony[i])], *low) if own[k][i]), None)
        at = ground.points[i]
        if not bare[i] or chosen is None or bare[ground.near_to(at, chosen.species.spread / 2)].mean() < BARE_SHARES[0]:
            continue
        found.append(Placed(kind=chosen, at=(float(at[0]), float(at[1])), stage="ground"))
        near = ground.near_to(at, chosen.species.spread / 2)
        to_close -= np.bincount(ground.bed[near], weights=bare[near], minlength=len(squares))
        bare[near] = False
        own[chosen][ground.near_to(at, own_apart(chosen))] = False
    return found


# ---- helpers


def _takes_shade(kind: Kind) -> bool:
    return not {"part", "shade"}.isdisjoint(kind.species.sun_range)


def _closed_to_all(ground: Ground, there: Sequence[Placed]) -> Mask:
    """Return the squares where no low plant is set: on bulbs and crowns, at stems, in carpets that die back."""
    closed = covered(
        ground, [p for p in there if p.kind.part == "carpet" and not holds_the_floor(p.kind.species)], WINTER_OF
    )
    for one in there:
        spread = one.kind.species.spread
        core = {"shrub": spread / 4, "tree": 0.3, "climber": 0.15, "bulb": STEM, "carpet": STEM}.get(
            one.kind.part, max(STEM, CLEAR * one.kind.apart)
        )
        closed[ground.near_to(one.at, core)] = True
    return closed
