"""The watering laid out as it is built: beds of one thirst on one valve, as many as the tap can feed at once."""

import math
from collections.abc import Sequence

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.schedules.irrigation import TAP, WATERINGS, BedWater
from gardenkit.schedules.lines import Line as TakenOff
from gardenkit.schedules.pipes import DEEP, length, supply, trench_volume
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.units import INCH

WHERE = "watering"
LEAST_ROW = 0.15  # m: a shorter piece of dripline is left out. House value.
SPARE = Figure(0.05, "share", f"dripline for turns and cuts; {HOUSE}")


@attrs.frozen(kw_only=True)
class Zone:
    """What is watered at one time: its ``number``, its beds, what all its emitters give, how long it runs by month.

    ``minutes`` are for each of the week's waterings when no rain falls, those of its thirstiest bed. A bed that asks
    for more than the tap gives is laid in ``parts``, each on a valve of its own.
    """

    number: int
    thirst: str
    beds: tuple[str, ...]
    emitters: int
    litres_an_hour: float
    length: float
    minutes: tuple[float, ...]
    parts: int = 1

    @property
    def flow(self) -> float:
        """Litres an hour when one of its valves is open."""
        return self.litres_an_hour / self.parts


def zones(waters: Sequence[BedWater], *, flow: float = float(TAP)) -> tuple[Zone, ...]:
    """Return the valves for beds as watering zones: alike in thirst, no more open at once than ``flow`` L/h feeds.

    A bed that asks for more alone is a zone by itself, in as many parts as it takes.
    """
    found: list[list[BedWater]] = []
    for thirst in dict.fromkeys(bed.thirst for bed in waters):
        open_one: list[BedWater] = []
        for bed in sorted((b for b in waters if b.thirst == thirst), key=lambda b: -b.drip.litres_an_hour):
            if open_one and sum(b.drip.litres_an_hour for b in (*open_one, bed)) > flow:
                found.append(open_one)
                open_one = []
            open_one.append(bed)
        found.append(open_one)
    return tuple(_zone(number, beds, flow) for number, beds in enumerate(found, 1))


def rows(worked: Layout, water: BedWater) -> tuple[Line, ...]:
    """Return the rows of dripline in a bed, along its longer side, half a row off its edge; metres on the plan."""
    ground = next((bed.region for bed in worked.beds if bed.name == water.bed), plane.NOWHERE)
    left, low, right, high = plane.bounds(ground)
    across, apart = right - left < high - low, water.drip.row_spacing
    start, end, side, far = (left, right, low, high) if across else (low, high, left, right)
    count = max(1, math.ceil((end - start) / apart - 0.5))
    found: list[Line] = []
    for k in range(count):
        at = start + (k + 0.5) * apart
        ends: tuple[Point, Point] = ((at, side), (at, far)) if across else ((side, at), (far, at))
        found += [piece for piece in plane.lines_within(plane.line(ends), ground) if length(piece) >= LEAST_ROW]
    return tuple(found)


def water_lines(project: Project, worked: Layout, waters: Sequence[BedWater]) -> tuple[TakenOff, ...]:
    """Return what a watering system takes: dripline, pipe, valves, and what stands behind the tap."""
    if not waters:
        return ()
    drip = sum(length(row) for bed in waters for row in rows(worked, bed)) * (1 + SPARE)
    runs = supply(project, worked, waters)
    parts = {bed: zone.parts for zone in zones(waters) for bed in zone.beds}
    pipe = sum(length(run) * parts[bed.bed] for bed, run in zip(waters, runs, strict=False))
    count = sum(zone.parts for zone in zones(waters))
    lines = [
        TakenOff(
            item="dripline",
            where=WHERE,
            amount=drip,
            unit="m",
            rule="rows as drawn, 5 % more for turns; its price has pins, joints and end caps in it",
            source=SPARE.source,
        ),
        TakenOff(
            item="valve",
            where=WHERE,
            amount=count,
            unit="each",
            rule="one a zone, one a part of a bed that the tap cannot feed at once",
            source=TAP.source,
        ),
    ]
    lines += [
        TakenOff(item=item, where=WHERE, amount=1, unit="each", rule=rule, source=COMMON)
        for item, rule in (
            ("backflow preventer", "behind the tap, before all else"),
            ("controller", "opens the valves in turn for the minutes of the irrigation sheet; mains by an electrician"),
            ("drip filter", "before the regulator"),
            ("pressure regulator", "before the valves, as the dripline's maker asks"),
        )
    ]
    if pipe:
        lines.append(
            TakenOff(
                item="supply pipe",
                where=WHERE,
                amount=pipe,
                unit="m",
                rule=(
                    "from the valve box to each bed, as drawn, one to each part of a bed with its own valve; "
                    f"{trench_volume(runs):.2f} m³ of trench, "
                    f"{DEEP / INCH:g} in deep, is dug by hand in the hours of the pipe and filled again"
                ),
                source=DEEP.source,
            )
        )
    return tuple(lines)


def _zone(number: int, beds: Sequence[BedWater], flow: float) -> Zone:
    asked = sum(bed.drip.litres_an_hour for bed in beds)
    return Zone(
        number=number,
        thirst=beds[0].thirst,
        beds=tuple(bed.bed for bed in beds),
        emitters=sum(bed.drip.emitters for bed in beds),
        litres_an_hour=asked,
        parts=max(1, math.ceil(round(asked / flow, 6))),
        length=sum(bed.drip.length for bed in beds),
        minutes=tuple(max(bed.minutes_a_week[m] for bed in beds) / WATERINGS for m in range(12)),
    )
