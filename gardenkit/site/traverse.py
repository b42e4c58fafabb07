"""A line of taped courses walked round the garden: how far it misses its start, and how the miss is shared out."""

import math
from collections.abc import Sequence

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.sources import HOUSE


@attrs.frozen(kw_only=True)
class AcceptanceClass:
    """How far a closed survey may miss: ``ratio`` 1:n, ``seconds`` of angle times the root of the corners."""

    name: str
    ratio: float
    seconds: float | None
    source: str


CLASSES = (
    AcceptanceClass(
        name="garden tape survey", ratio=200.0, seconds=None, source=f"{HOUSE}: warn below 1:500, refuse below 1:200"
    ),
    AcceptanceClass(
        name="property survey minimum", ratio=3_000.0, seconds=None, source="Wisconsin minimum, J. Mahun, ch. D"
    ),
    AcceptanceClass(name="residential lot", ratio=5_000.0, seconds=30.0, source="Washington WAC 332-130-090"),
    AcceptanceClass(name="city centre", ratio=10_000.0, seconds=10.0, source="Washington WAC 332-130-090"),
    AcceptanceClass(name="historical first order", ratio=100_000.0, seconds=None, source="J. Mahun, ch. D"),
)
GARDEN_GOOD = 500.0  # 1:500 and better is good work with a garden tape. House value.


@attrs.frozen(kw_only=True)
class Course:
    """One straight leg: its length (any unit, the same for all) and bearing in degrees clockwise from north."""

    length: float
    bearing: float
    name: str = ""

    @property
    def latitude(self) -> float:
        """How far north the leg goes, south negative."""
        return self.length * math.cos(math.radians(self.bearing))

    @property
    def departure(self) -> float:
        """How far east the leg goes, west negative."""
        return self.length * math.sin(math.radians(self.bearing))


@attrs.frozen(kw_only=True)
class Misclosure:
    """By how much a traverse misses its end: north, east, straight, and as 1:``ratio`` of its length (inf: no miss)."""

    latitude: float
    departure: float
    linear: float
    perimeter: float
    ratio: float

    def accepted(self, rule: AcceptanceClass) -> bool:
        """Return whether the miss is within a rule's linear limit."""
        return self.ratio >= rule.ratio * (1 - 1e-9)

    def finding(self, rule: AcceptanceClass = CLASSES[0]) -> Finding:
        """Return how the traverse stands against a rule; a garden survey is cautioned between 1:200 and 1:500."""
        shown = "closes exactly" if math.isinf(self.ratio) else f"closes to 1:{self.ratio:,.0f}"
        good = self.accepted(rule)
        fair = rule.name == CLASSES[0].name and good and self.ratio < GARDEN_GOOD
        advice = "" if good and not fair else "; measure the longest legs and their bearings again"
        return Finding(
            where="traverse",
            what=f"it {shown}, {'within' if good else 'outside'} 1:{rule.ratio:,.0f} for a {rule.name}{advice}",
            why=f"misses by {self.linear:.3f} in {self.perimeter:.2f}; for a legal boundary ask a licensed surveyor, "
            f"{LOCAL_CODE}",
            source=rule.source,
            seriousness="warning" if not good else "caution" if fair else "note",
            topic="survey",
        )


@attrs.frozen(kw_only=True)
class AdjustedTraverse:
    """A closed-up traverse: corrected (latitude, departure) of each course; points from the start as (east, north)."""

    courses: tuple[tuple[float, float], ...]
    points: tuple[Point, ...]
    misclosure: Misclosure


def misclosure(courses: Sequence[Course], *, start: Point = (0.0, 0.0), end: Point | None = None) -> Misclosure:
    """Return by how much the courses miss their end: the start for a loop, or a known point ``end`` (east, north).

    linear = sqrt(lat^2 + dep^2), ratio = perimeter / linear (J. Mahun, open surveying text, ch. D).
    Raises GardenError for fewer than two courses or a length that is not above 0.
    """
    _check(courses, loop=end is None)
    east, north = (0.0, 0.0) if end is None else (end[0] - start[0], end[1] - start[1])
    lat = math.fsum(c.latitude for c in courses) - north
    dep = math.fsum(c.departure for c in courses) - east
    perimeter, linear = math.fsum(c.length for c in courses), math.hypot(lat, dep)
    ratio = perimeter / linear if linear > 1e-12 * perimeter else math.inf
    return Misclosure(latitude=lat, departure=dep, linear=linear, perimeter=perimeter, ratio=ratio)


def compass_rule(courses: Sequence[Course], *, start: Point = (0.0, 0.0), end: Point | None = None) -> AdjustedTraverse:
    """Return the traverse with its misclosure shared out by length (compass or Bowditch rule).

    Points are (east, north); a loop's points do not repeat the start, a line's points end at ``end``.

    >>> square = [Course(length=10, bearing=b) for b in (0, 90, 180, 270)]
    >>> [round(v, 9) for v in compass_rule(square).points[2]]
    [10.0, 10.0]
    """
    miss = misclosure(courses, start=start, end=end)
    share = [c.length / miss.perimeter for c in courses]
    fixed = tuple(
        (c.latitude - miss.latitude * s, c.departure - miss.departure * s) for c, s in zip(courses, share, strict=True)
    )
    points = [start]
    for lat, dep in fixed:
        points.append((points[-1][0] + dep, points[-1][1] + lat))
    return AdjustedTraverse(courses=fixed, points=tuple(points[:-1] if end is None else points), misclosure=miss)


def cross_sums(points: Sequence[Point]) -> tuple[float, float]:
    """Return the two sums of cross products, x_i * y_i+1 and y_i * x_i+1; half their difference is the area."""
    following = [*points[1:], points[0]]
    down = math.fsum(a[0] * b[1] for a, b in zip(points, following, strict=True))
    up = math.fsum(a[1] * b[0] for a, b in zip(points, following, strict=True))
    return down, up


def area_by_coordinates(points: Sequence[Point], *, where: str = "the traverse") -> float:
    """Return the area inside points taken in order, in the square of their unit; a repeated closing point is allowed.

    Raises GardenError for fewer than three points or an outline that crosses itself.
    """
    ring = plane.outline(points, where=where)
    origin = ring[0]  # near the origin no digits are lost
    down, up = cross_sums([(x - origin[0], y - origin[1]) for x, y in ring])
    return abs(down - up) / 2


def _check(courses: Sequence[Course], *, loop: bool) -> None:
    if len(courses) < (3 if loop else 1):
        raise GardenError(
            f"a {'loop' if loop else 'traverse'} of {len(courses)} courses cannot close; add the missing legs"
        )
    for i, course in enumerate(courses, 1):
        if not (math.isfinite(course.length) and course.length > 0 and math.isfinite(course.bearing)):
            raise GardenError(
                f"course {course.name or i} needs a length above 0 and a bearing; correct it or remove it"
            )
