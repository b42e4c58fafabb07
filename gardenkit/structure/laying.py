"""A stone as it lies, the gaps between neighbours, and what a crew should know before lifting it."""

import math
from collections.abc import Iterable, Sequence

import attrs
import numpy as np

from gardenkit.findings import Finding
from gardenkit.geometry import outlines
from gardenkit.geometry.plane import FloatArray, Outline, Point
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.safety import GROUND_TO_BARROW, lifting_index
from gardenkit.structure.structure import StoneChoice
from gardenkit.units import POUND, inch_words

LIFT = Figure(51 * POUND, "kg", "NIOSH publication 94-110, 51 lb")
PACE_SLACK = Figure(0.15, "share of the pace", HOUSE)  # a step this much longer or shorter is felt
SMALLEST = Figure(0.25, "m", HOUSE)  # a stepping stone shorter or narrower than this is no foothold (about 10 in)
HAIR = 5e-4  # m: half a millimetre, finer than anyone sets a stone; gaps are judged to this. House value.


@attrs.frozen(kw_only=True)
class Stone:
    """One stone: ``number`` along the path (0 first), ``outline``, middle ``at``, ``turn`` in degrees clockwise off the
    path's direction.

    ``across`` and ``along`` are its sizes over and along the path in metres, ``weight`` in kg; ``held`` when put by
    hand.
    """

    number: int
    outline: Outline
    at: Point
    turn: float
    across: float
    along: float
    area: float
    weight: float
    held: bool = False


@attrs.frozen(kw_only=True)
class Gap:
    """The clear distance in metres between two neighbouring stones, by their numbers."""

    first: int
    second: int
    clear: float


@attrs.frozen(kw_only=True)
class Laying:
    """The stones of one path with the gaps between neighbours; ``pace`` is the mean step centre to centre in metres, 0
    for a field.
    """

    stones: tuple[Stone, ...] = ()
    gaps: tuple[Gap, ...] = ()
    pace: float = 0.0
    findings: tuple[Finding, ...] = ()

    @property
    def area(self) -> float:
        """Stone surface in square metres."""
        return sum(stone.area for stone in self.stones)

    @property
    def weight(self) -> float:
        """Weight of all stones in kg."""
        return sum(stone.weight for stone in self.stones)


def gaps(stones: Sequence[Stone], *, within: float) -> tuple[Gap, ...]:
    """Return the clear distance between every two stones closer than ``within`` metres, measured on their outlines."""
    shapes = outlines.from_outlines([s.outline for s in stones])
    pairs, clear = outlines.close_pairs(shapes, within)
    return named_gaps(stones, pairs.tolist(), clear)


def named_gaps(stones: Sequence[Stone], pairs: Iterable[Sequence[int]], clear: FloatArray) -> tuple[Gap, ...]:
    """Return gaps for pairs of positions in ``stones`` with their clear distances (n,)."""
    return tuple(
        Gap(first=stones[i].number, second=stones[j].number, clear=float(c))
        for (i, j), c in zip(pairs, clear, strict=True)
    )


def middle_steps(middles: Sequence[Point], pairs: Iterable[Sequence[int]]) -> FloatArray:
    """Return the distance between each pair of positions in ``middles`` of stones, metres (n,)."""
    return np.asarray([math.dist(middles[i], middles[j]) for i, j in pairs], dtype=float)


def gap_findings(where: str, stones: Sequence[Stone], found: Iterable[Gap], low: float, high: float) -> list[Finding]:
    """Return a finding for every gap outside ``low`` to ``high`` metres, at the place between the two stones."""
    places = {s.number: s.at for s in stones}
    result = []
    for gap in found:
        if low - HAIR <= gap.clear <= high + HAIR:
            continue
        a, b = places[gap.first], places[gap.second]
        wide = "wider than" if gap.clear > high else "narrower than"
        limit = high if gap.clear > high else low
        what = f"the gap is {inch_words(gap.clear)}, {wide} the {inch_words(limit)} you set"
        result.append(
            Finding(
                where=f"{where}, stones {gap.first + 1} and {gap.second + 1}",
                what=what,
                source=COMMON,
                seriousness="warning",
                at=((a[0] + b[0]) / 2, (a[1] + b[1]) / 2),
                topic="gap",
            )
        )
    return result


def lifting_findings(where: str, stones: Sequence[Stone]) -> list[Finding]:
    """Return one caution when stones are heavier than one person should lift, with how many and the heaviest."""
    heavy = [s for s in stones if s.weight > LIFT]
    if not heavy:
        return []
    worst = max(heavy, key=lambda s: s.weight)
    what = (
        f"{len(heavy)} of {len(stones)} stones weigh more than 51 lb ({LIFT:.0f} kg), the heaviest "
        f"{worst.weight / POUND:.0f} lb ({worst.weight:.0f} kg): two people or a cart, straps, toes and fingers clear"
    )
    index = lifting_index(worst.weight, GROUND_TO_BARROW)
    why = f"load constant of the lifting equation; the heaviest has a lifting index of {index:.1f}, where 1 is the most"
    source = LIFT.source
    return [
        Finding(where=where, what=what, why=why, source=source, seriousness="caution", at=worst.at, topic="lifting")
    ]


def cutting_caution(where: str) -> Finding:
    """Return the usual caution for cutting stone or pavers to fit."""
    return Finding(
        where=where,
        what="cutting stone and concrete makes silica dust: cut wet, outdoors, with eye and ear protection and a mask",
        why="limit 50 micrograms per cubic metre of air over 8 hours; follow the saw's and the local safety rules",
        source="29 CFR 1926.1153, OSHA Table 1",
        seriousness="caution",
        topic="cutting",
    )


def weight_of(area: float, choice: StoneChoice) -> float:
    """Return kg of a stone of ``area`` square metres at the choice's thickness and density."""
    return area * choice.thickness * choice.density
