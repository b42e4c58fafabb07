"""What must stay clear: meters, vents, hydrants, escape windows, pipes and overhead lines, and the call before digging.

Distances in metres. They are usual figures from agencies, utilities and makers; every finding sends the designer to
the utility and the local building or planning office.
"""

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness, nearest
from gardenkit.sources import COMMON, MEMORY, Figure
from gardenkit.units import FOOT, INCH, SQUARE_FOOT, show_area, show_length

VERMONT = "Vermont Urban & Community Forestry, vtcommunityforestry.org/node/685"
EGRESS = "IRC R310 (2000 edition), second-hand"
NET_OPENING = Figure(5.7 * SQUARE_FOOT, "m2", EGRESS)
MOST_SILL = Figure(44 * INCH, "m", EGRESS)
WELL_AREA = Figure(9 * SQUARE_FOOT, "m2", EGRESS)
WELL_REACH = Figure(36 * INCH, "m", EGRESS)


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


def digging_findings(where: str = "before digging") -> tuple[Finding, ...]:
    """Return the cautions before any spade goes in."""
    return (
        _finding(
            where,
            "have utilities marked first: call 811, two to three business days ahead",
            "marks are required for any digging",
            "East Grand Forks MN; gas trade association",
            "caution",
        ),
        _finding(
            where,
            "dig by hand only within the tolerance zone of a mark",
            "18 to 24 in each side, by state",
            "utilities",
            "caution",
        ),
        _finding(
            where,
            "lines past the meter (lights, irrigation, pool) are private: 811 does not mark them",
            "",
            "utilities",
            "caution",
        ),
    )


MARKS: dict[str, tuple[str, str]] = {  # colour of paint or flag: what lies there, source
    "red": ("electric", COMMON),
    "yellow": ("gas", COMMON),
    "orange": ("communications", COMMON),
    "blue": ("water", COMMON),
    "green": ("sewer", COMMON),
    "white": ("proposed digging", COMMON),
    "purple": ("reclaimed water", MEMORY),
    "pink": ("survey", MEMORY),
}


def egress_findings(
    where: str, *, clear_width: float, clear_height: float, sill: float, well: tuple[float, float] | None = None
) -> tuple[Finding, ...]:
    """Return what an escape window lacks: net opening 5.7 sq ft, 24 in high, 20 in wide, sill to 44 in; ``well``
    (width, reach), metres.
    """
    area = clear_width * clear_height
    checks = [
        (area < NET_OPENING - 1e-9, f"net opening {show_area(area)}", "at least 5.7 sq ft"),
        (clear_height < 24 * INCH - 1e-9, f"clear height {_in(clear_height)}", "at least 24 in"),
        (clear_width < 20 * INCH - 1e-9, f"clear width {_in(clear_width)}", "at least 20 in"),
        (sill > MOST_SILL + 1e-9, f"sill {_in(sill)} above the floor", "at most 44 in"),
    ]
    if well is not None:
        checks.append((well[1] < WELL_REACH - 1e-9, f"well reaches out {_in(well[1])}", "at least 36 in"))
        checks.append(
            (well[0] * well[1] < WELL_AREA - 1e-9, f"well of {show_area(well[0] * well[1])}", "at least 9 sq ft")
        )
    return tuple(
        _finding(where, f"{what}: too little to escape by; {LOCAL_CODE}", why, EGRESS, "warning")
        for wrong, what, why in checks
        if wrong
    )


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


def tree_building_distance(height: float) -> Figure:
    """Return the least distance in metres from a tree of that mature height to a building: 10, 15 or 20 ft."""
    feet = 10 if height <= 30 * FOOT + 1e-9 else 15 if height <= 50 * FOOT + 1e-9 else 20
    return Figure(feet * FOOT, "m", "trade figure: trees to 30 ft 10 ft, to 50 ft 15 ft, taller 20 ft")


def septic_findings(where: str, *, mature_height: float, distance: float) -> tuple[Finding, ...]:
    """Return a warning when a tree stands nearer to a septic drain field than it will be tall."""
    if distance >= mature_height - 1e-9:
        return ()
    what = f"{show_length(distance)} from the drain field and {show_length(mature_height)} tall when grown"
    source = "North Carolina Coop. Extension, Chatham County, Jones"
    return (_finding(where, f"{what}; ask the health department", "keep as far off as it is tall", source, "warning"),)


def _finding(where: str, what: str, why: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(where=where, what=what, why=why, source=source, seriousness=seriousness, topic="clearance")


def _in(metres: float) -> str:
    return show_length(metres, small=True).replace('"', " in")
