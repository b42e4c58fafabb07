"""How big a patio must be for the people, tables and chairs that go on it."""

from collections.abc import Mapping

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.sources import COMMON, Figure
from gardenkit.units import FOOT, INCH, SQUARE_FOOT, show_area, show_length

GUIDE = "designer's guide"
CONTRACTOR = "contractor, 2018"
PER_PERSON = Figure(25 * SQUARE_FOOT, "m2", "contractor: 25 sq ft a person")
ROUND_TABLE = Figure(36 * INCH, "m", f"{GUIDE}: 36 in clear round a table to rise and pass")
CHAIR_BACK = Figure(30 * INCH, "m", "a chair drawn back, 30 in; " + COMMON)
BY_STEPS = Figure(5 * FOOT, "m", f"{GUIDE}: 5 to 6 ft clear by steps")
EDGE_PER_SEAT = Figure(24 * INCH, "m", f"{GUIDE}: 24 in of table edge a seat")
SMALLEST = Figure(10 * FOOT, "m", f"10 x 10 ft for two; {COMMON}")
FURNITURE: dict[str, Figure] = {
    name: Figure(feet * SQUARE_FOOT, "m2", CONTRACTOR)
    for name, feet in (
        ("2 chairs", 35),
        ("4 chairs", 65),
        ("couch and 2 chairs", 130),
        ("table for 2", 35),
        ("table for 4", 65),
        ("table for 6", 120),
        ("grill", 30),
        ("fire pit with seats", 200),
    )
}
SEAT_WALL = Figure(6 * FOOT, "m2 per m", f"{CONTRACTOR}: 6 sq ft per foot of seat wall")


def area_for_people(people: int) -> float:
    """Return square metres for so many people at 25 sq ft each; raises GardenError for a number below 1."""
    if people < 1:
        raise GardenError(f"a patio for {people} people; give 1 or more")
    return people * PER_PERSON


def area_for(furniture: Mapping[str, int], *, seat_wall: float = 0.0) -> float:
    """Return square metres for pieces of ``FURNITURE`` by number, and metres of seat wall."""
    for name in furniture:
        if name not in FURNITURE:
            raise GardenError(f'no area is known for "{name}"{nearest(name, FURNITURE)}')
    return sum(FURNITURE[name] * count for name, count in furniture.items()) + seat_wall * SEAT_WALL


def room_for_table(across: float, *, clear: float = ROUND_TABLE) -> float:
    """Return the side of the floor in metres for a table ``across`` metres wide with ``clear`` metres on both sides."""
    return across + 2 * clear


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
