"""Which plants to take out of a planting that stands too close, so that the rest has the room it is used to."""

import heapq
from collections import Counter, defaultdict
from collections.abc import Sequence

from gardenkit.planting.crowding import YEARS, overlaps
from gardenkit.planting.setbacks import close_pairs
from gardenkit.planting.standing import Planted, Standing, mature, standing


def to_take_out(plants: Sequence[Planted]) -> frozenset[int]:
    """Return the numbers of few plants without which no two crowd each other or stand nearer than is usual.

    Those in the most such pairs go first, of equals one of the kind there is most of. What is locked stays, and so
    does the last of a kind; a pair of two that stay is left to the designer.
    """
    left = Counter(species.botanical for _, species in plants)
    near: dict[int, set[int]] = defaultdict(set)
    kind: dict[int, str] = {}
    for a, b in _pairs(plants):
        near[a.plant.number].add(b.plant.number)
        near[b.plant.number].add(a.plant.number)
        kind |= {one.plant.number: one.species.botanical for one in (a, b) if not one.plant.locked}
    taken: set[int] = set()

    def order(number: int) -> tuple[int, int, int]:
        return -len(near[number]), -left[kind[number]], -number

    waiting = [order(number) for number in kind]
    heapq.heapify(waiting)
    while waiting:
        first = heapq.heappop(waiting)
        number = -first[2]
        if not near[number] or left[kind[number]] < 2:
            continue
        if first != (now := order(number)):  # it has fewer neighbours, or fellows, than when it was put there
            heapq.heappush(waiting, now)
            continue
        taken.add(number)
        left[kind[number]] -= 1
        for other in near.pop(number):
            near[other].discard(number)
    return frozenset(taken)


# ---- helpers


def _pairs(plants: Sequence[Planted]) -> list[tuple[Standing, Standing]]:
    """Return the pairs that the rules of crowding and of setbacks speak of, each once."""
    meet = [(o.first, o.second) for year in YEARS for o in overlaps(standing(plants, year))]
    near = [(a, b) for a, b, _ in close_pairs(mature(plants))]
    return list({frozenset((a.plant.number, b.plant.number)): (a, b) for a, b in (*meet, *near)}.values())
