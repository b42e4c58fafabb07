"""Fences, walls and patios: what often needs a permit, how thick a dry stone wall stands, and how much room people
need.

Permit limits differ from town to town, so they are the designer's own data; the examples show how far apart they lie.
"""

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, Seriousness
from gardenkit.sources import Figure
from gardenkit.units import FOOT, show_length


@attrs.frozen(kw_only=True)
class PermitLimits:
    """The heights up to which a place asks no permit, metres (shed: square metres); None where it is not known.

    ``wall_from`` says from where a retaining wall is measured.
    """

    place: str
    source: str
    fence: float | None = None
    front_fence: float | None = None
    wall: float | None = None
    wall_from: str = "bottom of footing"
    shed: float | None = None


SEGMENTAL_ENGINEER = Figure(4 * FOOT, "m", "contractor guide: above 4 ft engineered")
SEGMENTAL_GRID = Figure(3 * FOOT, "m", "contractor guide: geogrid usually above 3 ft, 12 in of drain gravel and a pipe")
YARD_FENCES = "front 3-4 ft, side and rear 6 ft: codes of Augusta GA, Hinckley MN, Alameda CA"


def fence_findings(
    where: str, height: float, *, limits: PermitLimits | None = None, front: bool = False
) -> tuple[Finding, ...]:
    """Return whether a fence often needs a permit by the designer's own limits; without them a note to ask, with the
    known span.
    """
    limit = None if limits is None else limits.front_fence if front and limits.front_fence else limits.fence
    if limits is None or limit is None:
        what = f"a fence {show_length(height)} high may need a permit; {LOCAL_CODE} and type its limit"
        return (
            _finding(where, what, f"limits from 4 to 8.5 ft in eight places looked at; {YARD_FENCES}", "", "caution"),
        )
    if height <= limit + 1e-9:
        what = f"{show_length(height)} is within the {show_length(limit)} often allowed without a permit; {LOCAL_CODE}"
        return (_finding(where, what, limits.place, limits.source, "note"),)
    what = f"{show_length(height)} is above the {show_length(limit)} often allowed without a permit; {LOCAL_CODE}"
    return (_finding(where, what, limits.place, limits.source, "warning"),)


def retaining_findings(
    where: str, shown: float, *, footing: float = 0.0, limits: PermitLimits | None = None, surcharge: bool = False
) -> tuple[Finding, ...]:
    """Return what a retaining wall asks: ``shown`` metres above ground and ``footing`` metres buried below it.

    Where the limit counts from the footing's bottom the buried part counts too. ``surcharge``: a slope, drive or
    building bears on it.
    """
    found: list[Finding] = []
    if limits is None or limits.wall is None:
        what = f"a retaining wall may need a permit; {LOCAL_CODE} and type its limit"
        found.append(_finding(where, what, "limits from 2 to 4 ft in eight places looked at", "", "caution"))
    else:
        height = shown if limits.wall_from == "finished grade" else shown + footing
        over = height > limits.wall + 1e-9
        what = (
            f"{show_length(height)} from {limits.wall_from} is {'above' if over else 'within'} the "
            f"{show_length(limits.wall)} often allowed without a permit; {LOCAL_CODE}"
        )
        found.append(_finding(where, what, limits.place, limits.source, "warning" if over else "note"))
    if surcharge or shown + footing > SEGMENTAL_ENGINEER + 1e-9:
        what = "have an engineer design this wall"
        why = "something bears on it" if surcharge else "above 4 ft"
        found.append(_finding(where, what, why, SEGMENTAL_ENGINEER.source, "warning"))
    elif shown + footing > SEGMENTAL_GRID + 1e-9:
        what = f"a block wall this high usually wants geogrid, drain gravel and a pipe; {LOCAL_CODE}"
        found.append(_finding(where, what, "above 3 ft", SEGMENTAL_GRID.source, "caution"))
    return tuple(found)


def _finding(where: str, what: str, why: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(where=where, what=what, why=why, source=source, seriousness=seriousness, topic="permit")
