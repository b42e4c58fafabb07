"""Which plants to take out of a planting that stands too close, so that the rest has the room it is used to."""

from collections import Counter
from collections.abc import Sequence

from gardenkit.planting.crowding import YEARS, overlaps
from gardenkit.planting.setbacks import close_pairs
from gardenkit.planting.standing import Planted, Standing, mature, standing


def to_take_out(plants: Sequence[Planted]) -> frozenset[int]:
    """Return the numbers of few plants without which no two crowd each other or stand nearer than is usual.

    Those in the most such pairs go first, of equals one of the kind there is most of. What is locked stays, and so
    does the last of a kind; a pair of two that stay is left to the designer.
    """
    pairs = _pairs(plants)
    left = Counter(species.botanical for _, species in plants)
    taken: set[int] = set()
    while pairs:
        often = Counter(one.plant.number for pair in pairs for one in pair)
        free = {o.plant.number: o.species.botanical for p in pairs for o in p if _may_go(o, left)}
        if not free:
            break
        number = max(free, key=lambda n: (often[n], left[free[n]], n))
        taken.add(number)
        left[free[number]] -= 1
        pairs = [pair for pair in pairs if number not in {one.plant.number for one in pair}]
    return frozenset(taken)


# ---- helpers


def _pairs(plants: Sequence[Planted]) -> list[tuple[Standing, Standing]]:
    """Return the pairs that the rules of crowding and of setbacks speak of, each once."""
    meet = [(o.first, o.second) for year in YEARS for o in overlaps(standing(plants, year))]
    near = [(a, b) for a, b, _ in close_pairs(mature(plants))]
    return list({frozenset((a.plant.number, b.plant.number)): (a, b) for a, b in (*meet, *near)}.values())


def _may_go(one: Standing, left: Counter[str]) -> bool:
    return not one.plant.locked and left[one.species.botanical] > 1
