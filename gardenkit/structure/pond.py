"""A pond of a depth: the liner that covers it, the water it holds, the pump that turns it over and its head."""

from itertools import pairwise

import attrs

from gardenkit.findings import Finding
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.sources import HOUSE, Figure
from gardenkit.units import FOOT, INCH, System, as_built, show_area, show_length

USUAL_DEPTH = Figure(0.6, "m", f"about 2 ft: goldfish winter in 18 in and more, maysgreenhouse.net 052; {HOUSE}")
FISH_DEPTH = Figure(18 * INCH, "m", "goldfish winter in 18 in: maysgreenhouse.net 052")
OVERLAP = Figure(1 * FOOT, "m", "1 ft of liner on each side: esbenshades.com, ponds2go.com")
SHELVES = Figure(0.75, "share", f"of depth by surface, for shelves and sloping sides; {HOUSE}")
TURNED_OVER = Figure(2.0, "hours", "plain or small pond once in 2 h: thepondboss.net, atlanticwatergardens.com")
HOSE = Figure(0.1, "m of head a m of hose", "1 ft for 10 ft of hose: pondpumpcalculator.com")
ELBOW = Figure(6 * INCH, "m", "6 in of head for each elbow: pondpumpcalculator.com")
ELBOWS = 2  # of a hose from the pump to its outlet. House value.


@attrs.frozen(kw_only=True)
class Pond:
    """A pond as worked out: its ``depth``, the ``liner`` as two sides, metres; ``litres`` it holds, ``flow`` of its
    pump in litres an hour and the ``head`` it works at, metres.
    """

    depth: float
    liner: tuple[float, float]
    litres: float
    flow: float
    head: float

    @property
    def liner_area(self) -> float:
        """Square metres of liner, a rectangle."""
        return self.liner[0] * self.liner[1]


def pond(water: Region, *, depth: float = 0.0, lift: float = 0.0, units: System = "imperial") -> Pond:
    """Return what a pond of an outline takes; ``depth`` 0 is the usual one, ``lift`` how high its outlet stands."""
    deep = depth or float(USUAL_DEPTH)
    long, wide = _sides(water)
    litres = 1000 * plane.area(water) * deep * SHELVES
    hose, over = lift + deep + long, as_built(OVERLAP, units)
    return Pond(
        depth=deep,
        liner=(liner_side(long, deep, over), liner_side(wide, deep, over)),
        litres=litres,
        flow=litres / TURNED_OVER,
        head=pump_head(lift, hose=hose, elbows=ELBOWS),
    )


def liner_side(side: float, depth: float, overlap: float = float(OVERLAP)) -> float:
    """Return one side of a liner in metres: the side, twice the greatest depth, twice the overlap.

    >>> round(liner_side(15 * 0.3048, 3 * 0.3048, 1.5 * 0.3048) / 0.3048, 6)
    24.0
    """
    return side + 2 * depth + 2 * overlap


def pump_head(lift: float, *, hose: float, elbows: int) -> float:
    """Return the head in metres that a pump works at: how high the water is lifted, its hose and its elbows."""
    return lift + HOSE * hose + elbows * ELBOW


def pond_findings(where: str, made: Pond, at: plane.Point, *, fish: bool = True) -> tuple[Finding, ...]:
    """Return what a pond takes, and what its depth means for ``fish`` where there may be any."""
    liner = " by ".join(show_length(side) for side in made.liner)
    what = (
        f"{show_length(made.depth)} deep it holds about {made.litres:,.0f} L; its liner is {liner} "
        f"({show_area(made.liner_area)}), and a pump of {made.flow:,.0f} L an hour at a head of "
        f"{show_length(made.head)} turns it over"
    )
    source = f"{OVERLAP.source}; {TURNED_OVER.source}; {HOSE.source}"
    found = [Finding(where=where, what=what, source=source, at=at, topic="water")]
    if fish and made.depth < FISH_DEPTH - 1e-9:
        shallow = f"too shallow for fish to winter: {show_length(FISH_DEPTH, small=True)} or more where it is deepest"
        found.append(
            Finding(where=where, what=shallow, source=FISH_DEPTH.source, seriousness="caution", at=at, topic="water")
        )
    return tuple(found)


def _sides(water: Region) -> tuple[float, float]:
    """Return the sides of the smallest rectangle round a region, the longer first."""
    corners = plane.least_rectangle(water)
    a, b = (((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 for (x0, y0), (x1, y1) in pairwise(corners[:3]))
    return max(a, b), min(a, b)
