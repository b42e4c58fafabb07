"""Plants left standing alone that like company: taken into the group beside them, or out where they only fill."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence

import attrs

from gardenkit.planting.composing.apart import by_kind, uncrowded
from gardenkit.planting.composing.figures import ONE_GROUP, alone_among, groups_of
from gardenkit.planting.composing.ground import Ground, Mask, tree_of
from gardenkit.planting.composing.kinds import Kind
from gardenkit.planting.composing.order import Order
from gardenkit.planting.composing.woody import Placed

FILLING = ("ground", "filler")  # stages that only close gaps: what cannot join a group there is left out
LIKE = 0.3  # m by which the heights of a plant and of the group it joins may differ. House value.


def in_company(placed: Sequence[Placed], kept: int, ground: Ground, room: Callable[[Kind], Mask]) -> list[Placed]:
    """Return the plants with no new one alone that likes company: each joins a group it stands beside, where that kind
    has ``room``, crowds nothing and keeps low before tall; else it is left out where it only filled a gap, as is what
    closes a gap that something tall hides. The last of a kind stays. The first ``kept`` are not touched.
    """
    found: dict[int, Placed] = dict(enumerate(placed))
    number = {id(one): i for i, one in enumerate(placed)}
    order = Order(ground, placed)
    left = {kind: len(at) for kind, at in by_kind(placed).items()}
    for one in alone_among(groups_of([p for p in placed if p.kind.part == "drift" and p.stage != "accent"])):
        i = number[id(one)]
        if i < kept or left[one.kind] < 2:
            continue
        others = [p for j, p in found.items() if j != i]
        new = _joined(one, others, ground, room, order)
        if new is not None:
            found[i] = attrs.evolve(one, kind=new)
            left[one.kind] -= 1
        elif one.stage in FILLING:
            del found[i]
            left[one.kind] -= 1
    return _in_sight(found, kept, ground)


# ---- helpers


def _in_sight(found: Mapping[int, Placed], kept: int, ground: Ground) -> list[Placed]:
    """Return the plants without those that close a gap where something tall stands right before them."""
    order = Order(ground, found.values())
    left = Counter(one.kind for one in found.values())
    stay: list[Placed] = []
    for i, one in found.items():
        fills = i >= kept and one.stage in FILLING and left[one.kind] > 1
        if fills and not order.fits_at(one.kind, int(ground.index.query(one.at)[1])):
            left[one.kind] -= 1
        else:
            stay.append(one)
    return stay


def _joined(
    one: Placed, others: Sequence[Placed], ground: Ground, room: Callable[[Kind], Mask], order: Order
) -> Kind | None:
    """Return the kind of the nearest group that a plant can join, or None."""
    standing = by_kind([p for p in others if p.until == one.until])
    every = by_kind(others)
    square = int(ground.index.query(one.at)[1])
    near: list[tuple[float, Kind]] = []
    for kind, at in standing.items():
        if kind is one.kind or kind.part not in ("drift", "carpet"):
            continue
        away = float(tree_of(at).query(one.at)[0])
        if away <= ONE_GROUP * kind.species.spacing_m and abs(kind.species.height - one.kind.species.height) <= LIKE:
            near.append((away, kind))
    for _, kind in sorted(near, key=lambda pair: pair[0]):
        apart = {other: at for other, at in every.items() if other is not kind}
        if room(kind)[square] and order.fits_at(kind, square) and uncrowded(kind, ground.points[[square]], apart)[0]:
            return kind
    return None
