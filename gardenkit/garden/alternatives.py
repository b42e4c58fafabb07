"""One structure in figures, so that two for the same garden can be held against each other."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

import attrs

from gardenkit.findings import ORDER
from gardenkit.geometry import plane

if TYPE_CHECKING:
    from gardenkit.garden import Garden


@attrs.frozen(eq=False, kw_only=True)
class Compared:
    """What a structure comes to: lengths in metres, areas in square metres, weight in kg, ``path_seen`` a share,
    ``steepest`` percent (both None when not known); ``findings`` counts them by seriousness.
    """

    path_length: float
    stones: int
    stone_weight: float
    hard_area: float
    lawn_area: float
    beds: int
    bed_area: float
    edging: float
    largest_crown: float
    path_seen: float | None
    steepest: float | None
    wants_met: int
    wants: int
    findings: Mapping[str, int]
    problems: tuple[str, ...]


def compared(garden: "Garden") -> Compared:
    """Return a garden's structure in figures."""
    worked, known = garden.layout, garden.facts
    circles = [c.radius for bed in worked.beds for c in bed.pockets]
    share = known.get("path_straight_view")
    return Compared(
        path_length=sum(r.length for r in worked.routes.values()),
        stones=sum(len(laid.stones) for laid in worked.layings.values()),
        stone_weight=sum(laid.weight for laid in worked.layings.values()),
        hard_area=plane.area(worked.hardscape) - garden.lawn_area,
        lawn_area=garden.lawn_area,
        beds=len(worked.beds),
        bed_area=garden.bed_area,
        edging=sum(b.edging for b in worked.beds),
        largest_crown=2 * max(circles, default=0.0),
        path_seen=None if share is None else share / 100,
        steepest=garden.steepest_path,
        wants_met=sum(j.verdict == "met" for j in garden.wants),
        wants=len(garden.wants),
        findings={word: sum(f.seriousness == word for f in worked.findings) for word in ORDER},
        problems=worked.problems,
    )
