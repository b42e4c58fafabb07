"""What must stay clear: meters, vents, hydrants, pipes and overhead lines, and the call before digging.

Distances in metres. They are usual figures from agencies, utilities and makers; every finding sends the designer to
the utility and the local building or planning office.
"""

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness, nearest
from gardenkit.sources import COMMON, MEMORY
from gardenkit.units import FOOT, INCH, show_length

VERMONT = "Vermont Urban & Community Forestry, vtcommunityforestry.org/node/685"


@attrs.frozen(kw_only=True)
class Clearance:
    """How far to stay from a thing: ``least`` metres from it, what for, and who says so."""

    least: float
    what: str
    source: str


CLEARANCES: dict[str, Clearance] = {
    "air conditioner": Clearance(
        least=2 * FOOT, what="2 to 3 ft at the sides, 5 ft above, one side open", source="trade figure"
    ),
    "electric meter": Clearance(
        least=36 * INCH, what="36 in deep by 30 in wide in front", source=f"trade figure; NEC 110.26, {MEMORY}"
    ),
    "gas meter": Clearance(
        least=24 * INCH, what="24 in of room in front; 36 in to anything that sparks", source="gas utility"
    ),
    "dryer vent": Clearance(
        least=12 * INCH,
        what="12 in from bushes, 12 in above ground, 3 ft from openings",
        source="makers; IRC M1502.3, second-hand",
    ),
    "combustion vent": Clearance(
        least=4 * FOOT, what="4 ft to meters, 12 in above snow, not over flower beds", source="heating supplier"
    ),
    "fire hydrant": Clearance(
        least=36 * INCH,
        what="36 in all round; 10 ft in some towns",
        source="codes of Madison IN, Portsmouth OH; Florence KY 10 ft",
    ),
    "pad transformer": Clearance(
        least=8 * FOOT, what="8 ft in front of the doors, 2 ft at the sides", source="electric utility"
    ),
    "septic tank": Clearance(least=10 * FOOT, what="shrubs 10 to 15 ft off", source=COMMON),
    "water main": Clearance(least=5 * FOOT, what="trees 5 ft off", source=VERMONT),
    "street light": Clearance(least=15 * FOOT, what="trees 15 ft off", source=VERMONT),
    "paving or pipe": Clearance(least=5 * FOOT, what="trees 5 ft off", source="trade figure"),
}


def clearance_findings(where: str, thing: str, distance: float) -> tuple[Finding, ...]:
    """Return a warning when something stands nearer than usual to a thing of ``CLEARANCES``; raises GardenError for an
    unknown thing.
    """
    if thing not in CLEARANCES:
        raise GardenError(f'no clearance is known for "{thing}"{nearest(thing, CLEARANCES)}')
    rule = CLEARANCES[thing]
    if distance >= rule.least - 1e-9:
        return ()
    what = f"{show_length(distance)} from the {thing}; ask the utility or maker, and {LOCAL_CODE}"
    return (_finding(where, what, f"usually {rule.what}", rule.source, "warning"),)


def line_findings(where: str, *, height: float, distance: float) -> tuple[Finding, ...]:
    """Return a warning when a tree of a mature ``height`` stands too near overhead lines ``distance`` metres away.

    Up to 25 ft tall may stand under lines, up to 45 ft from 20 ft away, taller ones more than 40 ft away.
    """
    if height <= 25 * FOOT + 1e-9:
        return ()
    need = 20 * FOOT if height <= 45 * FOOT + 1e-9 else 40 * FOOT
    if distance >= need - 1e-9:
        return ()
    what = f"grows to {show_length(height)}, {show_length(distance)} from overhead lines; ask the utility"
    return (_finding(where, what, f"{show_length(need)} away", VERMONT, "warning"),)


def septic_findings(where: str, *, mature_height: float, distance: float) -> tuple[Finding, ...]:
    """Return a warning when a tree stands nearer to a septic drain field than it will be tall."""
    if distance >= mature_height - 1e-9:
        return ()
    what = f"{show_length(distance)} from the drain field and {show_length(mature_height)} tall when grown"
    source = "North Carolina Coop. Extension, Chatham County, Jones"
    return (_finding(where, f"{what}; ask the health department", "keep as far off as it is tall", source, "warning"),)


def _finding(where: str, what: str, why: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(where=where, what=what, why=why, source=source, seriousness=seriousness, topic="clearance")
