"""What is dug out for paths, paving and ponds, what of it leaves, and the ground between single stepping stones."""

from collections.abc import Sequence

from gardenkit.geometry import plane
from gardenkit.schedules.lines import Line
from gardenkit.site.amendments import COMPOST_NEW_BED, MULCH, layer_volume
from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure.earthwork import BULKING, VOLUMES
from gardenkit.structure.structure import Path

LEAST_DUG = Figure(0.005, "m3", f"less soil is raked aside, not ordered away; {HOUSE}")
DIGGING = ("excavation", "spoil away")  # the items of what is dug and what of it leaves
BESIDE = Figure(0.3, "m", f"what lies so near a stepping path lies between its stones too; {HOUSE}")


def dug_lines(where: str, volume: float, rule: str, *, priced: bool = True) -> tuple[Line, ...]:
    """Return the digging of ``volume`` m3 of soil as it lies and its carting away, loose; none for a handful.

    Without ``priced`` the digging is in the hours of what is built there, and only the carting is a line.
    """
    if volume < LEAST_DUG:
        return ()
    away = f"what is dug here, loose: {BULKING:g} for 1; less what is used on the site"
    carted = Line(item=DIGGING[1], where=where, amount=volume * BULKING, unit="m3", rule=away, source=VOLUMES)
    dug = Line(item=DIGGING[0], where=where, amount=volume, unit="m3", rule=rule, source=PLAIN)
    return (dug, carted) if priced else (carted,)


def stone_gap_lines(
    path: Path, ground: plane.Region, *, lawns: Sequence[plane.Region], roots: Sequence[plane.Region]
) -> tuple[Line, ...]:
    """Return what the ``ground`` between single stones takes: compost for plants that creep there, none in the
    ``roots`` of trees to keep; else the turf of the lawn that the path crosses, or mulch as in the beds beside it.
    """
    if path.creeping:
        dug = plane.area(plane.difference(ground, plane.union(roots)))
        deep, rule = COMPOST_NEW_BED[0], "dug in between the stones, for what creeps there"
        return (_spread("compost", path.name, dug, float(deep), rule, deep.source),)
    area, rim = plane.area(ground), plane.grown(ground, float(BESIDE))
    beside = plane.area(rim) - area
    if lawns and plane.area(plane.intersection(rim, plane.union(lawns))) > beside / 2:
        rule = "turf between the stones, as beside them"
        return (Line(item="lawn", where=path.name, amount=area, unit="m2", area=area, rule=rule, source=BESIDE.source),)
    deep = MULCH[0]
    return (_spread("mulch", path.name, area, float(deep), "between the stones, flush with them", deep.source),)


def _spread(item: str, where: str, area: float, deep: float, rule: str, source: str) -> Line:
    volume = layer_volume(area, deep) if area > 0 else 0.0
    said = f"{deep * 1000:.0f} mm deep {rule}"
    return Line(item=item, where=where, amount=volume, unit="m3", area=area, rule=said, source=source)
