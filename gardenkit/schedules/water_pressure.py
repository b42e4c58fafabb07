"""The pressure that a watering zone asks for: what pipe, longest row and rise of the ground take of it."""

import math
from collections.abc import Sequence

import attrs

from gardenkit.findings import Finding
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.solids import height_to_be
from gardenkit.schedules.irrigation import BedWater
from gardenkit.schedules.irrigation_zones import rows, zones
from gardenkit.schedules.pipes import length, supply
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.units import INCH, PSI, show_pressure

EXPONENT = 1.852  # of the flow, in the formula of Hazen and Williams
HAZEN_WILLIAMS = Figure(10.67, "SI", "Hazen and Williams, as EPANET 2 has it (US EPA 600/R-00/057), in metres and m3/s")
ROUGHNESS = Figure(150.0, "C", "plastic pipe: Ill. Admin. Code 77, part 906, appendix A, exhibit I")
PIPE_SOLD = "3/4 in"  # as it is asked for
PIPE = Figure(0.824 * INCH, "m", "inside of schedule 40 plastic pipe of 3/4 in")
DRIPLINE = Figure(0.0138, "m", f"inside of dripline 16 mm wide; {HOUSE}")
WORKING = Figure(25 * PSI, "m", f"behind the regulator of a dripline; {COMMON}")
SPREAD = Figure(
    0.2, "share", f"of the pressure that may be lost in a row: its last emitter gives a tenth less; {HOUSE}"
)
USUAL = Figure(40 * PSI, "m", f"what a house tap keeps while it runs: measure it; {HOUSE}")


@attrs.frozen(kw_only=True)
class ZonePressure:
    """What the bed of a zone that asks for most takes, in metres of water: ``pipe`` and ``row`` by friction over their
    lengths in metres, ``rise`` of the ground from the house.
    """

    number: int
    bed: str
    pipe_length: float
    row_length: float
    pipe: float
    row: float
    rise: float

    @property
    def asked(self) -> float:
        """Metres of water that the zone asks for at the house, beside what stands behind the tap."""
        return WORKING + self.pipe + self.row + max(0.0, self.rise)

    @property
    def uneven(self) -> bool:
        """Whether the last emitters of its longest row give too little beside the first."""
        return self.row > SPREAD * WORKING

    @property
    def too_much(self) -> bool:
        """Whether it asks for more than a usual tap keeps."""
        return self.asked > USUAL


def friction(length: float, litres_an_hour: float, inside: float, *, roughness: float = float(ROUGHNESS)) -> float:
    """Return the metres of water lost in a pipe that is ``inside`` metres wide.

    >>> round(friction(100.0, 10 * 227.125, 1.049 * 0.0254), 1)
    5.5
    """
    flow = litres_an_hour / 3.6e6
    return float(HAZEN_WILLIAMS * length * math.pow(flow / roughness, EXPONENT) / math.pow(inside, 4.871))


def outlets_share(count: int) -> float:
    """Return the share of the friction that is left where a flow goes out evenly on the way (Christiansen 1942).

    >>> outlets_share(1)
    1.0
    """
    if count <= 1:
        return 1.0
    return 1 / (EXPONENT + 1) + 1 / (2 * count) + math.sqrt(EXPONENT - 1) / (6 * count**2)


def zone_pressures(project: Project, worked: Layout, waters: Sequence[BedWater]) -> tuple[ZonePressure, ...]:
    """Return what each zone asks for, in the order of the zones; empty without a house to lead the water from."""
    runs = dict(zip((water.bed for water in waters), supply(project, worked, waters), strict=False))
    if not runs:
        return ()
    ground, by_bed = height_to_be(project), {water.bed: water for water in waters}
    found = []
    for zone in zones(waters):
        beds = []
        for name in zone.beds:
            water, run = by_bed[name], runs[name]
            far = length(run)
            row = max((length(line) for line in rows(worked, water)), default=0.0)
            beds.append(
                ZonePressure(
                    number=zone.number,
                    bed=name,
                    pipe_length=far,
                    row_length=row,
                    pipe=friction(far, zone.flow, float(PIPE)),
                    row=_in_row(row, water),
                    rise=ground(run[-1]) - ground(run[0]),
                )
            )
        found.append(max(beds, key=lambda bed: bed.asked))
    return tuple(found)


def pressure_findings(asked: Sequence[ZonePressure]) -> tuple[Finding, ...]:
    """Return which zones ask for more pressure than a house tap keeps, or water the ends of their rows too little."""
    found = []
    strong = [f"zone {one.number} ({one.bed}) {show_pressure(one.asked)}" for one in asked if one.too_much]
    if strong:
        what = (
            f"more pressure than the {show_pressure(float(USUAL))} of a usual tap is asked for at the house: "
            f"{', '.join(strong)}; measure the tap while it runs, take a wider pipe, or water that bed by hand"
        )
        found.append(Finding(where="water", what=what, source=USUAL.source, seriousness="caution", topic="water"))
    uneven = [f"zone {one.number} ({one.bed})" for one in asked if one.uneven]
    if uneven:
        what = f"the ends of the rows get too little water in {', '.join(uneven)}; feed those rows from their middle"
        found.append(Finding(where="water", what=what, source=SPREAD.source, topic="water"))
    return tuple(found)


def _in_row(length: float, water: BedWater) -> float:
    emitters = max(1, math.ceil(length / water.drip.emitter_spacing))
    flow = emitters * water.drip.emitter_flow
    return friction(length, flow, float(DRIPLINE)) * outlets_share(emitters)
