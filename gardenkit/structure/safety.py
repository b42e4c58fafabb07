"""Where the work can hurt: lifting, stone dust, ladders, power lines, treated wood and falls, with the published
limits.

These are cautions, not instructions: each finding says who printed the figure and defers to local rules and trained
people.
"""

import math
from typing import Literal

import attrs

from gardenkit.findings import Finding, GardenError, Seriousness, nearest
from gardenkit.sources import COMMON, MEMORY, Figure
from gardenkit.units import CUBIC_FOOT, FOOT, INCH, POUND, show_length

NIOSH = "NIOSH 94-110, revised lifting equation"
LOAD_CONSTANT = Figure(51 * POUND, "kg", f"{NIOSH}: 51 lb (23 kg)")
STONE_DENSITY = Figure(165 * POUND / CUBIC_FOOT, "kg per m3", "stone suppliers' estimating value, 165 lb/cu ft")
Grip = Literal["good", "fair", "poor"]
Duration = Literal["up to 1 h", "up to 2 h", "up to 8 h"]
# Grip multiplier with the hands below 30 in, and from 30 in up: coupling table of the same, from memory.
GRIPS: dict[str, tuple[float, float]] = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}
# Lifts a minute up to, and the multiplier for work up to 1 h, 2 h, 8 h with the hands below 30 in (lower, so cautious):
# frequency table of the same, from memory.
FREQUENCY: tuple[tuple[float, float, float, float], ...] = (
    (0.2, 1.00, 0.95, 0.85),
    (0.5, 0.97, 0.92, 0.81),
    (1.0, 0.94, 0.88, 0.75),
    (2.0, 0.91, 0.84, 0.65),
    (3.0, 0.88, 0.79, 0.55),
    (4.0, 0.84, 0.72, 0.45),
    (5.0, 0.80, 0.60, 0.35),
    (6.0, 0.75, 0.50, 0.27),
    (7.0, 0.70, 0.42, 0.22),
    (8.0, 0.60, 0.35, 0.18),
)
DURATIONS: tuple[Duration, ...] = ("up to 1 h", "up to 2 h", "up to 8 h")

LADDER = "San Joaquin County safety page"
LADDER_BASE = Figure(0.25, "of the working length", LADDER)
LADDER_ABOVE = Figure(3 * FOOT, "m", LADDER)
LINES_RULE = "29 CFR 1910.269"
LINES_KEEP_OFF = Figure(10 * FOOT, "m", f"electric cooperatives; {LINES_RULE} to 50 kV")


@attrs.frozen(kw_only=True)
class Lift:
    """One lift: hands ``out`` from the ankles, ``from_height`` to ``to_height`` above the ground, metres; ``turn``
    degrees of twist.
    """

    out: float
    from_height: float
    to_height: float
    turn: float = 0.0
    grip: Grip = "fair"
    lifts_a_minute: float = 0.2
    duration: Duration = "up to 1 h"


GROUND_TO_BARROW = Lift(
    out=15 * INCH, from_height=6 * INCH, to_height=30 * INCH
)  # a stone into a wheelbarrow. House value.


def multipliers(lift: Lift) -> dict[str, float]:
    """Return the six multipliers of the NIOSH equation, each capped at 1, at the start of the lift.

    H, V, D in inches: 10/H; 1 - 0.0075 abs(V - 30); 0.82 + 1.8/D; 1 - 0.0032 A; frequency; grip. Raises GardenError
    outside the equation's range: H to 25 in, V to 70 in, A to 135 degrees.
    """
    h, v = lift.out / INCH, lift.from_height / INCH
    d = abs(lift.to_height - lift.from_height) / INCH
    if not (0 < h <= 25 + 1e-9 and 0 <= v <= 70 + 1e-9 and 0 <= lift.turn <= 135):
        raise GardenError(
            f"a lift {h:.0f} in out from {v:.0f} in high, turning {lift.turn:.0f} degrees, is outside "
            "the equation; do not lift it so by hand, or give hands to 25 in out, 70 in high, 135 degrees"
        )
    return {
        "horizontal": min(1.0, 10.0 / h),
        "vertical": 1.0 - 0.0075 * abs(v - 30.0),
        "distance": 1.0 if d <= 10.0 else min(1.0, 0.82 + 1.8 / d),
        "twist": 1.0 - 0.0032 * lift.turn,
        "frequency": frequency_multiplier(lift.lifts_a_minute, lift.duration),
        "grip": GRIPS[lift.grip][v >= 30.0 - 1e-9],
    }


def frequency_multiplier(lifts_a_minute: float, duration: Duration = "up to 1 h") -> float:
    """Return the multiplier for so many lifts a minute, of the next row of the table; 0 above 8 a minute (house value,
    cautious).
    """
    if duration not in DURATIONS:
        raise GardenError(f'there is no duration "{duration}"{nearest(duration, DURATIONS)}')
    row = next((r for r in FREQUENCY if lifts_a_minute <= r[0] + 1e-9), None)
    return 0.0 if row is None else row[1 + DURATIONS.index(duration)]


def recommended_weight(lift: Lift) -> float:
    """Return the weight in kg that nearly all healthy workers may lift so: 51 lb times the multipliers, at the start
    of the lift.
    """
    return LOAD_CONSTANT * math.prod(multipliers(lift).values())


def lifting_index(weight: float, lift: Lift) -> float:
    """Return weight over the recommended weight; above 1 more and more people are hurt. Infinite when nothing should
    be lifted so.
    """
    limit = recommended_weight(lift)
    return weight / limit if limit > 0 else math.inf


def stone_weight(
    length: float, width: float, thickness: float, *, round_stone: bool = False, density: float = STONE_DENSITY
) -> float:
    """Return the weight of a stone slab in kg, sizes in metres; ``round_stone``: ``length`` and ``width`` are its
    diameters.
    """
    return length * width * thickness * (math.pi / 4.0 if round_stone else 1.0) * density


def ladder_base(working_length: float) -> float:
    """Return how far out the foot of a leaning ladder stands, metres: a quarter of its working length."""
    return LADDER_BASE * working_length


def ladder_findings(where: str, working_length: float) -> tuple[Finding, ...]:
    """Return how to stand a ladder of that working length in metres."""
    what = (
        f"foot {show_length(ladder_base(working_length))} out, top {show_length(LADDER_ABOVE)} above its support, "
        "three points of contact, never on the top three rungs; keep it 10 ft from power lines"
    )
    return (_finding(where, what, "base out a quarter of the length", LADDER, "caution"),)


def line_distance(kilovolts: float) -> float:
    """Return the least distance in metres from a power line: 10 ft to 50 kV to ground and 4 in for each 10 kV above."""
    return LINES_KEEP_OFF + max(0.0, kilovolts - 50.0) / 10.0 * 4 * INCH


def power_line_findings(where: str, distance: float, *, kilovolts: float = 0.0) -> tuple[Finding, ...]:
    """Return a stop when work comes nearer to a power line than the law lets untrained people."""
    need = line_distance(kilovolts)
    if distance >= need - 1e-9:
        return ()
    what = (
        f"work {show_length(distance)} from a power line: keep people, tools and ladders {show_length(need)} away; "
        "only line-clearance arborists and the utility work nearer"
    )
    return (_finding(where, what, "10 ft to 50 kV, 4 in more per 10 kV", LINES_KEEP_OFF.source, "stop"),)


def treated_wood_findings(where: str) -> tuple[Finding, ...]:
    """Return the cautions for sawing and drilling treated wood and masonry."""
    what = "wear eye protection and a dust mask to saw treated wood or drill masonry; never burn treated wood"
    return (_finding(where, what, "", f"{COMMON}; burning {MEMORY}", "caution"),)


def _finding(where: str, what: str, why: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(where=where, what=what, why=why, source=source, seriousness=seriousness, topic="safety")
