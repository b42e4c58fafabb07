"""Where two tapes, or a tape and a sight line, cross: the drawing-board geometry of a tape survey."""

import math
from collections.abc import Iterator

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point, heading, towards
from gardenkit.site.survey import Offset, Running, SideWord

Known = dict[str, Point]  # points already placed, in metres


class SideQuestion(GardenError):  # noqa: N818 - it is a question to the designer
    """Tapes alone leave two mirrored places: ``questions`` holds (point, start, end) for each point to ask about."""

    def __init__(self, questions: tuple[tuple[str, str, str], ...]) -> None:
        self.questions = questions
        point, start, end = questions[0]
        rest = "" if len(questions) == 1 else f" (the same is open for {', '.join(q[0] for q in questions[1:])})"
        super().__init__(
            f'the tapes leave two places for "{point}": standing at {start} and looking to {end}, is it on the left '
            f"or on the right? Add a side note{rest}"
        )


@attrs.frozen(kw_only=True)
class Locus:
    """All places one measure allows: a circle, a ray from a point (``radius`` None, degrees), or a single point."""

    measure: int
    centre: Point
    other: str  # the known point it hangs on
    radius: float | None = None
    degrees: float | None = None
    both_ways: bool = False
    sigma: float = 0.02

    @property
    def is_point(self) -> bool:
        """Whether the measure alone fixes the place."""
        return self.radius is None and self.degrees is None


def two_tape_tie(length: float, d1: float, d2: float, side: SideWord | None = None) -> Point:
    """Return (x, y) of a point taped ``d1`` from (0, 0) and ``d2`` from (length, 0), all metres, left is y above 0.

    x = (d1^2 - d2^2 + L^2) / 2L, y = sqrt(d1^2 - x^2): the crossing of two circles. Raises GardenError when the tapes
    cannot meet, SideQuestion without a side.

    >>> two_tape_tie(14, 13, 15, "left")
    (5.0, 12.0)
    """
    if not all(math.isfinite(v) and v > 0 for v in (length, d1, d2)):
        raise GardenError(f"a tie needs three lengths above 0; given are {length:g}, {d1:g} and {d2:g}")
    refuse_gap(length, d1, d2, ends=("the first station", "the second station"), point="the point")
    if side is None:
        raise SideQuestion((("the point", "the first station", "the second station"),))
    x = (d1**2 - d2**2 + length**2) / (2 * length)
    y = math.sqrt(max(d1**2 - x**2, 0.0))
    return (x, y if side == "left" else -y)


def cut_angle(length: float, d1: float, d2: float) -> float:
    """Return the degrees at which two tapes ``d1`` and ``d2`` from stations ``length`` apart cross at the point."""
    return math.degrees(math.acos(max(-1.0, min(1.0, (d1**2 + d2**2 - length**2) / (2 * d1 * d2)))))


def refuse_gap(length: float, d1: float, d2: float, *, ends: tuple[str, str], point: str, slack: float = 0.0) -> None:
    """Raise GardenError when two tapes miss each other by more than ``slack`` metres, saying by how much and where."""
    if d1 + d2 < length - slack:
        raise GardenError(
            f"the tapes to {point} cannot meet: {d1:g} m from {ends[0]} and {d2:g} m from {ends[1]}, but these are "
            f"{length:.4g} m apart, so {length - d1 - d2:.3g} m is missing; measure all three again"
        )
    if abs(d1 - d2) > length + slack:
        near, far = (ends[0], ends[1]) if d1 < d2 else (ends[1], ends[0])
        raise GardenError(
            f"the tapes to {point} cannot meet: {max(d1, d2):g} m from {far} reaches past {near}, {length:.4g} m away, "
            f"by more than the {min(d1, d2):g} m from {near}; measure all three again"
        )


def crossing(a: Locus, b: Locus) -> tuple[list[Point], float]:
    """Return where two loci cross (none, one or two places) and how square the cut is, 0 to 1."""
    if a.radius is not None and b.radius is not None:
        return _two_circles(a, b)
    if a.radius is None and b.radius is None:
        return _two_rays(a, b)
    ray, ring = (a, b) if a.radius is None else (b, a)
    return _ray_and_circle(ray, ring)


def _two_circles(a: Locus, b: Locus) -> tuple[list[Point], float]:
    r, s, length = a.radius or 0.0, b.radius or 0.0, math.dist(a.centre, b.centre)
    if length < 1e-9:
        return [], 0.0
    x = (r**2 - s**2 + length**2) / (2 * length)
    ux, uy = (b.centre[0] - a.centre[0]) / length, (b.centre[1] - a.centre[1]) / length
    foot = (a.centre[0] + x * ux, a.centre[1] + x * uy)
    if r**2 - x**2 < 0:
        return [], 0.0
    y = math.sqrt(r**2 - x**2)
    if y < 1e-9:
        return [foot], 0.0
    quality = math.sin(math.radians(cut_angle(length, r, s)))
    return [(foot[0] - y * uy, foot[1] + y * ux), (foot[0] + y * uy, foot[1] - y * ux)], quality


def _ray_and_circle(ray: Locus, ring: Locus) -> tuple[list[Point], float]:
    angle = math.radians(ray.degrees or 0.0)
    ux, uy = math.sin(angle), math.cos(angle)
    wx, wy = ring.centre[0] - ray.centre[0], ring.centre[1] - ray.centre[1]
    along, off, radius = wx * ux + wy * uy, wx * uy - wy * ux, ring.radius or 0.0
    if abs(off) > radius:
        return [], 0.0
    half = math.sqrt(radius**2 - off**2)
    reach = [along - half, along + half] if half > 1e-9 else [along]
    if not ray.both_ways:
        reach = [t for t in reach if t > 1e-9]
    return [(ray.centre[0] + t * ux, ray.centre[1] + t * uy) for t in reach], half / radius


def _two_rays(a: Locus, b: Locus) -> tuple[list[Point], float]:
    one, two = math.radians(a.degrees or 0.0), math.radians(b.degrees or 0.0)
    cross = math.sin(one) * math.cos(two) - math.cos(one) * math.sin(two)
    wx, wy = b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]
    if abs(cross) < 1e-6 or math.hypot(wx, wy) < 1e-9:
        return [], 0.0
    t = (wx * math.cos(two) - wy * math.sin(two)) / cross
    return [(a.centre[0] + t * math.sin(one), a.centre[1] + t * math.cos(one))], abs(cross)


def from_baseline(m: Offset | Running, name: str, known: Known, base: Locus) -> Iterator[Locus]:
    """Yield what an offset or running measure says about its point, or about the far end of its line."""
    along, off = (m.along, m.off) if isinstance(m, Offset) else (m.running, 0.0)
    if m.point == m.end:  # the tape's far end: a plain tie
        yield attrs.evolve(base, centre=known[m.start if name == m.end else m.end], radius=along)
    elif name == m.point:
        start = known[m.start]
        line = heading(start, known[m.end])
        yield attrs.evolve(base, centre=towards(towards(start, line, along), line - 90, off))
    elif name == m.end:
        turn = heading(known[m.start], known[m.point]) + math.degrees(math.atan2(off, along))
        yield attrs.evolve(base, centre=known[m.start], other=m.start, degrees=turn % 360)
