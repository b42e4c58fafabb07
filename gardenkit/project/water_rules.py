"""Open water where children come: whether anything shuts it off from the doors one walks out of."""

from collections.abc import Mapping

from gardenkit.findings import LOCAL_CODE, Finding
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Region
from gardenkit.site.site import Fence, Site
from gardenkit.sources import HOUSE, MEMORY, Figure
from gardenkit.structure.kinds import fence_kind, ground_kind, support_kind
from gardenkit.structure.structure import Structure
from gardenkit.units import INCH, listed, show_length

BARRIER = Figure(
    48 * INCH, "m", f"ISPSC 305.2.1: a barrier round a pool is 48 in high, its gates shut themselves; {MEMORY}"
)
GAP = "2009 IRC AG105.2, second-hand (thebuildingcodeforum.com, vegetation as pool enclosure): no 4 in ball passes"
HEDGE_OPEN = 'a child gets through a hedge where a 4" ball does, and some towns allow one only with a fence in it'
CLOSED = Figure(0.05, "m", f"a line of fence holds so far to either side; {HOUSE}")
AT_DOOR = Figure(0.6, "m", f"ground so near a door is before it; {HOUSE}")


def water_findings(site: Site, structure: Structure, areas: Mapping[str, Region]) -> tuple[Finding, ...]:
    """Return for each pond and rill which door one walks to it from, or what shuts it off; gates are taken as shut."""
    doors = [one for one in site.openings if one.kind == "door"]
    waters = [ground_area for ground_area in structure.ground_areas if ground_kind(ground_area.kind).water]
    if not waters or not doors or not site.boundary:
        return ()
    barriers = _barriers(site, structure)
    hedges = [one.name for one in site.fences if one.height >= BARRIER - 1e-9 and _grown(one)]
    counts = f" {listed(hedges)} {'do' if len(hedges) > 1 else 'does'} not count: {HEDGE_OPEN}." if hedges else ""
    built = [plane.region(house.outline) for house in site.buildings]
    lines = [plane.grown(plane.line(line), CLOSED) for _, line in barriers]
    open_ground = plane.difference(plane.region(site.boundary), plane.union([*built, *lines]))
    pieces = plane.pieces(open_ground)
    found = []
    for ground_area in waters:
        water = areas[ground_area.name]
        if water.is_empty:
            continue
        about = [piece for piece in pieces if plane.area(plane.intersection(piece, water)) > plane.SLIVER]
        ways = [d.name for d in doors if any(plane.distance(piece, plane.point(d.middle)) < AT_DOOR for piece in about)]
        round_it = [
            name for name, line in barriers if any(plane.distance(p, plane.line(line)) < 2 * CLOSED for p in about)
        ]
        high = show_length(BARRIER)
        what = (
            f"is not fenced: one walks to it from {listed(ways)}, and nothing {high} high shuts it off.{counts} Where "
            f"small children come, fence it with a gate that shuts itself, or lay a firm grille under its surface; "
            f"{LOCAL_CODE}"
            if ways
            else f"is shut off from every door by {listed(list(dict.fromkeys(round_it)))}; let its gates shut and "
            f"latch by themselves; {LOCAL_CODE}"
        )
        found.append(
            Finding(
                where=f'{ground_area.kind} "{ground_area.name}"',
                what=what,
                source=f"{BARRIER.source}; {GAP}" if ways and hedges else BARRIER.source,
                seriousness="caution" if ways else "note",
                at=plane.centre(water),
                topic="water",
            )
        )
    return tuple(found)


def _grown(fence: Fence) -> bool:
    return fence_kind(fence).plan == "leafy band"


def _barriers(site: Site, structure: Structure) -> list[tuple[str, Line]]:
    """Return what is high enough to keep a child out, by name: fences and walls as found, fences to be built.

    A hedge is not among them: a child gets through where a ball of 4 in does.
    """
    found = [(one.name, one.line) for one in site.fences if one.height >= BARRIER - 1e-9 and not _grown(one)]
    return found + [
        (one.name, one.line)
        for one in structure.supports
        if support_kind(one.kind).barrier and one.height >= BARRIER - 1e-9
    ]
