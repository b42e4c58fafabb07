"""Low in front and tall behind: whether each plant can be seen from the path, and the rules of thumb for groups."""

from collections import defaultdict
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import Finding
from gardenkit.geometry import nearby, plane
from gardenkit.geometry.plane import FloatArray, Line
from gardenkit.planting.balance import REACH, beside
from gardenkit.planting.standing import Standing, in_reach, positions
from gardenkit.sources import HOUSE, Figure

Numbers = NDArray[np.intp]
EXTENSION = "Cooperative Extension, ask.extension.org/questions/351222"
ODD_UP_TO = Figure(9, "plants", f"{HOUSE}: in larger groups nobody counts")
ONE_GROUP = Figure(1.5, "of the spacing", f"{HOUSE}: plants of one kind this near make one group")
AT_ONCE = 64  # plants whose look is worked out at a time: some 64 x 2,000 numbers. Numerical choice.
SLACK = Figure(0.10, "of the height", f"{HOUSE}: a plant in front this much taller still counts as level")
MOST_VIOLATIONS = Figure(0.15, "of the pairs", HOUSE)


@attrs.frozen(kw_only=True)
class HeightOrder:
    """How many pairs stand one behind the other as seen from the path, and those where the one in front is taller."""

    pairs: int
    wrong: tuple[tuple[Standing, Standing], ...]  # (in front, hidden behind it)

    @property
    def share(self) -> float:
        """Share of pairs in the wrong order, 0 to 1."""
        return len(self.wrong) / self.pairs if self.pairs else 0.0


def height_order(plants: Sequence[Standing], way: Line, *, reach: float = float(REACH)) -> HeightOrder:
    """Return the pairs of a plant and one between it and the nearest place of the path, and which hide the one behind.

    A plant stands in front when the straight look from the path to the other passes within its crown. Crowns one looks
    under (lowest leaves above the other's top) hide nothing; climbers and trained fruit on their supports are left
    out, and so
    are carpets and bulbs behind others: they are meant to run under and between them.
    """
    seen = [one for one in in_reach(plants, way, reach) if one.tier != "wall"]
    if len(seen) < 2 or len(way) < 2:
        return HeightOrder(pairs=0, wrong=())
    at = positions(seen)
    away, _, _ = beside(at, way)
    feet = _feet(at, way)
    radius = np.array([one.radius for one in seen])
    tall, clear = (np.array([getattr(one.size, name) for one in seen]) for name in ("height", "crown_base"))
    told = np.flatnonzero((away <= reach) & ~np.array([one.is_carpet for one in seen]))
    pairs, wrong = 0, []
    for some in np.array_split(told, max(1, len(told) // AT_ONCE)):
        i, j = _in_front(at, away, feet, some, radius)
        hiding = clear[j] < tall[i]
        pairs += int(hiding.sum())
        taller = hiding & (tall[j] > tall[i] * (1 + SLACK))
        wrong += [(seen[front], seen[behind]) for behind, front in zip(i[taller], j[taller], strict=True)]
    return HeightOrder(pairs=pairs, wrong=tuple(wrong))


def groups(plants: Sequence[Standing]) -> tuple[tuple[Standing, ...], ...]:
    """Return the groups of one kind: plants joined by steps of at most 1.5 times the usual spacing."""
    by_kind: dict[str, list[Standing]] = defaultdict(list)
    for one in plants:
        by_kind[one.species.botanical].append(one)
    return tuple(tuple(group) for kind in by_kind.values() for group in _joined(kind))


def layering_findings(plants: Sequence[Standing], way: Line, *, path: str = "path") -> tuple[Finding, ...]:
    """Return whether tall plants hide low ones as seen from the path."""
    order = height_order(plants, way)
    if order.share <= MOST_VIOLATIONS:
        return ()
    front, behind = order.wrong[0]
    return (
        Finding(
            where=path,
            what=f"in {order.share:.0%} of the places where one plant stands before another the taller is in "
            f"front, such as {front.name} before {behind.name}",
            why=f"{len(order.wrong)} of {order.pairs} pairs",
            source=f"border: tall at the back; {EXTENSION}",
            seriousness="caution",
            at=front.at,
            topic="layering",
        ),
    )


def group_findings(plants: Sequence[Standing]) -> tuple[Finding, ...]:
    """Return a note for each kind whose smaller groups hold even numbers, at the first; nobody counts carpets."""
    even: dict[str, list[tuple[Standing, ...]]] = defaultdict(list)
    for group in groups(plants):
        first = group[0]
        is_counted = len(group) < ODD_UP_TO and first.tier in ("herb", "shrub") and not first.is_carpet
        if is_counted and len(group) % 2 == 0:
            even[first.species.botanical].append(group)
    return tuple(
        Finding(
            where=botanical,
            what=f"stand in even groups ({', '.join(str(len(group)) for group in found)}); 3, 5 or 7 look less stiff",
            source=f"odd groups; {EXTENSION}",
            at=found[0][0].at,
            topic="layering",
        )
        for botanical, found in even.items()
    )


# ---- helpers


def _feet(at: FloatArray, way: Line) -> FloatArray:
    return plane.nearest_places(plane.line(way), at)


def _in_front(
    at: FloatArray, away: FloatArray, feet: FloatArray, some: Numbers, radius: FloatArray
) -> tuple[Numbers, Numbers]:
    """Return the pairs of one of ``some`` plants and one nearer the path, whose crown the look from the path to it
    passes through: the number of the one behind and of the one in front.
    """
    look = at[some] - feet[some]
    long = np.maximum(np.hypot(*look.T), 1e-12)[:, None]
    right, up = (at[None, :, axis] - feet[some, None, axis] for axis in (0, 1))
    deep = (right * look[:, :1] + up * look[:, 1:]) / long
    aside = np.abs(right * look[:, 1:] - up * look[:, :1]) / long
    front = (deep > 0) & (deep < long - 0.5 * radius) & (aside < radius) & (away < away[some, None] - 1e-9)
    behind, before = np.nonzero(front & (long >= 1e-9))
    return some[behind], before


def _joined(kind: list[Standing]) -> list[list[Standing]]:
    at = positions(kind)
    limit = kind[0].species.spacing_m * ONE_GROUP
    near: dict[int, set[int]] = defaultdict(set)
    for i, j in nearby.near_pairs(at, limit).tolist():
        near[i].add(j)
        near[j].add(i)
    left = set(range(len(kind)))
    found = []
    while left:
        group, edge = set[int](), {left.pop()}
        while edge:
            group |= edge
            edge = {j for i in edge for j in near[i]} & left
            left -= edge
        found.append([kind[i] for i in sorted(group)])
    return found
