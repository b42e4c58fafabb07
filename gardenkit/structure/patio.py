"""How big a patio must be for the people, tables and chairs that go on it."""

import math

from gardenkit.findings import Finding, GardenError
from gardenkit.sources import COMMON, Figure
from gardenkit.units import FOOT, INCH, SQUARE_FOOT, show_area, show_length

GUIDE = "designer's guide"
PER_PERSON = Figure(25 * SQUARE_FOOT, "m2", "contractor: 25 sq ft a person")
ROUND_TABLE = Figure(36 * INCH, "m", f"{GUIDE}: 36 in clear round a table to rise and pass")
EDGE_PER_SEAT = Figure(24 * INCH, "m", f"{GUIDE}: 24 in of table edge a seat")
LEAST_SEATS = 2  # a table for fewer is none. House value.
SMALLEST = Figure(10 * FOOT, "m", f"10 x 10 ft for two; {COMMON}")


def area_for_people(people: int) -> float:
    """Return square metres for so many people at 25 sq ft each; raises GardenError for a number below 1."""
    if people < 1:
        raise GardenError(f"a patio for {people} people; give 1 or more")
    return people * PER_PERSON


def room_for_table(across: float, *, clear: float = ROUND_TABLE) -> float:
    """Return the side of the floor in metres for a table ``across`` metres wide with ``clear`` metres on both sides."""
    return across + 2 * clear


def table_for(width: float) -> tuple[float, int]:
    """Return how wide a round table stands on a floor ``width`` metres across, and how many sit at it; 0 for none."""
    across = max(0.0, width - room_for_table(0.0))
    seats = seats_at(math.pi * across)
    return (across, seats) if seats >= LEAST_SEATS else (0.0, 0)


def seats_at(edge: float) -> int:
    """Return how many people sit along a table edge of that length, 24 in each."""
    return int(edge / EDGE_PER_SEAT + 1e-9)


def patio_findings(where: str, *, area: float, width: float, people: int) -> tuple[Finding, ...]:
    """Return cautions for a patio too small for its people or narrower than 10 ft (``width`` its largest inscribed
    circle).
    """
    found = []
    need = area_for_people(people)
    if area < need - 1e-9:
        what = f"{show_area(area)} for {people} people; usual is {show_area(need)}"
        found.append(Finding(where=where, what=what, source=PER_PERSON.source, seriousness="caution", topic="patio"))
    if width < SMALLEST - 1e-9:
        what = f"only {show_length(width)} across; the smallest that works for two is {show_length(SMALLEST)}"
        found.append(Finding(where=where, what=what, source=SMALLEST.source, seriousness="caution", topic="patio"))
    return tuple(found)
