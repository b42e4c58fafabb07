"""Which plants to take out of a planting that stands too close, so that the rest has the room it is used to."""

import heapq
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence

from gardenkit.planting.crowding import YEARS, meeting
from gardenkit.planting.setbacks import close_pairs
from gardenkit.planting.standing import Planted, Standing, mature


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
    rows = _Rows(near, kind)
    taken: set[int] = set()
    while (number := rows.first(left)) is not None:
        taken.add(number)
        left[kind[number]] -= 1
        rows.take(number)
    return frozenset(taken)


class _Rows:
    """The plants that may go, in rows by how many they crowd and of which kind: the highest number of a row first."""

    def __init__(self, near: dict[int, set[int]], kind: Mapping[int, str]) -> None:
        self._near, self._kind = near, kind
        self._rows: dict[int, dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
        for number in kind:
            self._put(number)

    def first(self, left: Mapping[str, int]) -> int | None:
        """Return the one to go next, None when none has to; of a kind with one ``left`` it may not."""
        for many in sorted((many for many in self._rows if many), reverse=True):
            row = self._rows[many]
            heads = [(left[name], head) for name in row if left[name] > 1 and (head := self._head(many, name))]
            if heads:
                return max(heads)[1]
            if not any(row.values()):
                del self._rows[many]
        return None

    def take(self, number: int) -> None:
        """Take one out: those that it crowded crowd one less."""
        for other in self._near.pop(number):
            self._near[other].discard(number)
            if other in self._kind:
                self._put(other)

    def _put(self, number: int) -> None:
        heapq.heappush(self._rows[len(self._near[number])][self._kind[number]], -number)

    def _head(self, many: int, name: str) -> int:
        """Return the highest number of a row, 0 for none: what was taken out or crowds fewer now is no more there."""
        row = self._rows[many][name]
        while row and len(self._near.get(-row[0], ())) != many:
            heapq.heappop(row)
        return -row[0] if row else 0


# ---- helpers


def _pairs(plants: Sequence[Planted]) -> list[tuple[Standing, Standing]]:
    """Return the pairs that the rules of crowding and of setbacks speak of, each once."""
    meet = [(o.first, o.second) for year in YEARS for o in meeting(tuple(plants), year)]
    near = [(a, b) for a, b, _ in close_pairs(mature(plants))]
    return list({frozenset((a.plant.number, b.plant.number)): (a, b) for a, b in (*meet, *near)}.values())
