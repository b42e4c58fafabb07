"""The tape survey as noted in the garden: which points there are, and what was measured between them."""

import math
from typing import Literal

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.plane import Point
from gardenkit.tuples import lists_as_tuples

# How far one reading may be off, one standard error; a measure with its own ``precision`` overrides these.
TAPE_PRECISION = 0.02  # m; fibreglass tape pulled by one person over rough ground. House value.
OFFSET_PRECISION = 0.03  # m; an offset also carries the error of squaring it off by eye. House value.
SLOPE_PRECISION = 0.025  # m; slope tape with its height difference by string level. House value.
COMPASS_PRECISION = 2.0  # degrees; hand-held compass near a house. House value.
ANGLE_PRECISION = 1.0  # degrees; angle taken off a board or a plan. House value.
RIGHT_ANGLE_PRECISION = 1.0  # degrees; 3-4-5 ft triangle with tapes read to 20 mm. House value.

SideWord = Literal["left", "right"]
Part = Literal["distance", "along", "off", "turn", "square", "bearing"]
ANGLES = ("turn", "square", "bearing")  # the parts in degrees; the others are metres


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Station:
    """A named point. ``at`` holds its plan coordinates in metres when they are known and held fixed, else None."""

    name: str
    at: Point | None = None


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Tie:
    """A level tape between any two points: a tie, a wall length or a diagonal, in metres."""

    a: str
    b: str
    distance: float
    precision: float | None = None


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class SlopeTie:
    """A tape pulled along sloping ground: ``slope_distance`` as read and ``rise`` from a to b, in metres."""

    a: str
    b: str
    slope_distance: float
    rise: float
    precision: float | None = None


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Offset:
    """A point squared off a baseline: ``along`` from ``start`` to ``end``, ``off`` to the left (right minus), in m."""

    start: str
    end: str
    point: str
    along: float
    off: float
    precision: float | None = None


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Running:
    """A point on a wall line: ``running`` is the reading in m of a tape pulled from zero at ``start`` to ``end``."""

    start: str
    end: str
    point: str
    running: float
    precision: float | None = None


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Angle:
    """The clockwise turn in degrees, 0 to 360, at the point ``at`` from looking at ``a`` to looking at ``b``."""

    at: str
    a: str
    b: str
    angle: float
    precision: float | None = None


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Bearing:
    """A compass reading: ``degrees`` clockwise from north looking from ``a`` to ``b``."""

    a: str
    b: str
    degrees: float
    precision: float | None = None


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class RightAngle:
    """A square corner at ``corner`` between ``a`` and ``b``, as a 3-4-5 triangle shows it."""

    corner: str
    a: str
    b: str
    precision: float | None = None


Measure = Tie | SlopeTie | Offset | Running | Angle | Bearing | RightAngle


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Side:
    """Which of two mirrored places is meant: seen from ``start`` looking to ``end``, ``point`` is left or right."""

    start: str
    end: str
    point: str
    side: SideWord


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Survey:
    """All stations, measures and side notes. ``declination`` in degrees (east above 0) is added to compass readings."""

    stations: tuple[Station, ...] = ()
    measures: tuple[Measure, ...] = ()
    sides: tuple[Side, ...] = ()
    tape_precision: float = TAPE_PRECISION
    declination: float = 0.0


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Reading:
    """One number of a measure (an offset gives two); ``value`` and standard error ``sigma`` in metres or degrees."""

    measure: int  # place of the measure in the survey, from 0
    part: Part
    points: tuple[str, ...]
    value: float
    sigma: float


def names(survey: Survey) -> tuple[str, ...]:
    """Return the names of all points, listed stations first, then those met in the measures, each once."""
    found = [station.name for station in survey.stations]
    for measure in survey.measures:
        found += points_of(measure)
    return tuple(dict.fromkeys(found))


def points_of(measure: Measure) -> tuple[str, ...]:
    """Return the names of the points a measure joins, in the order they are typed."""
    if isinstance(measure, (Offset, Running)):
        return (measure.start, measure.end, measure.point)
    if isinstance(measure, Angle):
        return (measure.at, measure.a, measure.b)
    if isinstance(measure, RightAngle):
        return (measure.corner, measure.a, measure.b)
    return (measure.a, measure.b)


def label(measure: Measure) -> str:
    """Return what a measure is called in a message, such as ``the tie from A to P``."""
    if isinstance(measure, Tie):
        return f"the tie from {measure.a} to {measure.b}"
    if isinstance(measure, SlopeTie):
        return f"the slope tape from {measure.a} to {measure.b}"
    if isinstance(measure, Offset):
        return f"the offset to {measure.point} from the line {measure.start} to {measure.end}"
    if isinstance(measure, Running):
        return f"the running measure to {measure.point} along {measure.start} to {measure.end}"
    if isinstance(measure, Angle):
        return f"the angle at {measure.at} from {measure.a} to {measure.b}"
    if isinstance(measure, Bearing):
        return f"the bearing from {measure.a} to {measure.b}"
    return f"the right angle at {measure.corner} between {measure.a} and {measure.b}"


def level_distance(measure: SlopeTie) -> float:
    """Return the level distance in metres of a tape pulled along a slope: sqrt(s^2 - h^2)."""
    return math.sqrt(measure.slope_distance**2 - measure.rise**2)


def readings(survey: Survey) -> tuple[Reading, ...]:
    """Return every number measured, with its standard error; call ``check`` first for typed-in surveys."""
    found: list[Reading] = []
    for index, measure in enumerate(survey.measures):
        found += _numbers(index, measure, survey)
    return tuple(found)


def _numbers(index: int, m: Measure, survey: Survey) -> list[Reading]:
    tape = survey.tape_precision

    def reading(part: Part, value: float, usual: float) -> Reading:
        sigma = usual if m.precision is None else m.precision
        return Reading(measure=index, part=part, points=points_of(m), value=value, sigma=sigma)

    if isinstance(m, Tie):
        return [reading("distance", m.distance, tape)]
    if isinstance(m, SlopeTie):
        return [reading("distance", level_distance(m), max(tape, SLOPE_PRECISION))]
    if isinstance(m, Offset):
        usual = max(tape, OFFSET_PRECISION)
        return [reading("along", m.along, usual), reading("off", m.off, usual)]
    if isinstance(m, Running):
        if m.point == m.end:  # the tape's far end: a plain tie
            return [attrs.evolve(reading("distance", m.running, tape), points=(m.start, m.end))]
        return [reading("along", m.running, tape), reading("off", 0.0, tape)]
    if isinstance(m, Angle):
        return [reading("turn", m.angle % 360, ANGLE_PRECISION)]
    if isinstance(m, Bearing):
        return [reading("bearing", (m.degrees + survey.declination) % 360, COMPASS_PRECISION)]
    return [reading("square", 90.0, RIGHT_ANGLE_PRECISION)]  # either way round


def check(survey: Survey) -> None:
    """Raise GardenError for the first thing in the survey that cannot be, before any adjustment is tried."""
    listed = [station.name for station in survey.stations]
    for name in listed:
        if listed.count(name) > 1:
            raise GardenError(f'two stations are called "{name}"; give each point its own name')
    fixed = [station for station in survey.stations if station.at is not None]
    for i, first in enumerate(fixed):
        if not all(math.isfinite(v) for v in first.at or ()):
            raise GardenError(f'station "{first.name}" has a coordinate that is not a number; type two lengths')
        for second in fixed[i + 1 :]:
            if first.at == second.at:
                raise GardenError(
                    f'stations "{first.name}" and "{second.name}" have the same coordinates; correct one of them'
                )
    if not (math.isfinite(survey.tape_precision) and survey.tape_precision > 0):
        raise GardenError(f"the tape precision is {survey.tape_precision:g} m; give a length above 0, such as 0.02")
    known = names(survey)
    for measure in survey.measures:
        _check_measure(measure)
    for side in survey.sides:
        for name in (side.start, side.end, side.point):
            if name not in known:
                raise GardenError(f'the side note for "{side.point}" names "{name}"{nearest(name, known)}; correct it')


def _check_measure(m: Measure) -> None:
    points, what = points_of(m), label(m)
    pairs = points[:2] if isinstance(m, Running) and m.point == m.end else points
    if len(set(pairs)) < len(pairs):
        raise GardenError(f"{what} uses the same point twice; give different points")
    if m.precision is not None and not (math.isfinite(m.precision) and m.precision > 0):
        raise GardenError(f"the precision of {what} is {m.precision:g}; give a value above 0 or leave it out")
    numbers = [v for v in attrs.astuple(m) if isinstance(v, float)]
    if not all(math.isfinite(v) for v in numbers):
        raise GardenError(f"{what} holds a value that is not a number; measure again or remove it")
    if isinstance(m, Tie) and m.distance <= 0:
        raise GardenError(f"{what} is {m.distance:g} m long; give a length above 0 or remove it")
    if isinstance(m, SlopeTie) and m.slope_distance <= abs(m.rise):
        raise GardenError(
            f"{what} reads {m.slope_distance:g} m but rises {abs(m.rise):g} m, which cannot be; check both readings"
        )
    if isinstance(m, (Bearing, Angle)):
        turn = m.degrees if isinstance(m, Bearing) else m.angle
        if not 0 <= turn <= 360:
            raise GardenError(f"{what} is {turn:g} degrees; give 0 to 360, clockwise")
