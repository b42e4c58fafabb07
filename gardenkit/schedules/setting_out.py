"""Setting out: every place that two people with tapes need on the ground, measured from a baseline and fixed points.

The baseline is the longest straight wall of the house (else the longest side of the boundary). A place has its running
dimension along the baseline and its offset square to it, and its ties: distances from two fixed points that can be
found on the site, chosen so that the two arcs cross well. Whoever distrusts a right angle uses the ties; the other
figures check them.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from string import ascii_uppercase
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.sources import HOUSE, Figure
from gardenkit.units import FOOT, INCH, System

Kind = Literal["path", "stone", "corner", "post", "seat", "tree", "curve"]
STATION = {"imperial": Figure(3 * FOOT, "m", HOUSE), "metric": Figure(1.0, "m", HOUSE)}  # along path and curved edges
TAPE = {"imperial": Figure(INCH / 2, "m", f"as lengths are written; {HOUSE}"), "metric": Figure(0.005, "m", HOUSE)}
MOST_FIXED = 6  # fixed points offered: more letters than this nobody keeps apart. House value.
GOOD_CROSSING = (30.0, 150.0)  # degrees between two ties: flatter ones miss by more than the tape. Common practice.
WOODY = ("tree", "conifer")
SMOOTH_TURN = 35.0  # degrees: an outline that turns less at every corner is a curve, given by stations. House value.


@attrs.frozen(kw_only=True)
class FixedPoint:
    """A place that is there on the site and can be measured from: a corner of the house, else of the boundary."""

    letter: str
    at: Point
    words: str


@attrs.frozen(kw_only=True)
class Tie:
    """A distance in metres from a fixed point."""

    letter: str
    far: float


@attrs.frozen(kw_only=True)
class Mark:
    """One place to set out: its number on the sheet, what it is, ``running`` metres along the baseline from its start,
    ``offset`` metres square to it (left of the baseline is positive), and two ties.
    """

    number: int
    kind: Kind
    what: str
    at: Point
    running: float
    offset: float
    ties: tuple[Tie, ...]


@attrs.frozen(kw_only=True)
class Bend:
    """A stretch of a path that turns one way: which, from and to metres along it, and its tightest radius in metres."""

    path: str
    way: Literal["left", "right"]
    start: float
    end: float
    radius: float


@attrs.frozen(kw_only=True)
class SettingOut:
    """The whole set: the baseline from ``start`` to ``end`` in words, fixed points, marks and bends; tapes are read to
    ``tape`` metres.
    """

    start: Point
    end: Point
    baseline: str
    fixed: tuple[FixedPoint, ...]
    marks: tuple[Mark, ...]
    bends: tuple[Bend, ...]
    tape: float


def setting_out(project: Project, worked: Layout, catalogue: Catalogue) -> SettingOut:
    """Return what has to be measured to build a garden's structure and plant its trees.

    Raises GardenError without a boundary.
    """
    if not project.site.boundary:
        raise GardenError("setting out needs the boundary; draw or measure it on the site page first")
    start, end, words = baseline(project)
    fixed = fixed_points(project)
    tape = float(TAPE[project.units])
    marks = [
        _mark(number, kind, what, at, start=start, end=end, fixed=fixed, tape=tape)
        for number, (kind, what, at) in enumerate(_places(project, worked, catalogue), 1)
    ]
    bends = [bend for name, route in worked.routes.items() for bend in bends_of(name, route.curve.points)]
    return SettingOut(
        start=start, end=end, baseline=words, fixed=fixed, marks=tuple(marks), bends=tuple(bends), tape=tape
    )


def baseline(project: Project) -> tuple[Point, Point, str]:
    """Return the two ends of the baseline and what it is: the longest wall of a building, else of the boundary."""
    site = project.site
    if site.buildings:
        house = max(site.buildings, key=lambda b: plane.area(plane.region(b.outline)))
        a, b = _longest(house.outline)
        return a, b, f"the longest wall of the {house.name}"
    a, b = _longest(site.boundary)
    return a, b, "the longest side of the boundary"


def fixed_points(project: Project) -> tuple[FixedPoint, ...]:
    """Return the lettered places to measure from: corners of the buildings first, then those of the boundary."""
    site = project.site
    found: list[tuple[Point, str]] = []
    for building in site.buildings:
        centre = plane.centre(plane.region(building.outline))
        corners = sorted(building.outline, key=lambda p: -math.dist(p, centre))
        found += [(at, f"corner of the {building.name}") for at in corners[:4]]
    found += [(at, "corner of the boundary") for at in _spread_out(site.boundary, MOST_FIXED)]
    chosen: list[tuple[Point, str]] = []
    for at, words in found:
        if len(chosen) < MOST_FIXED and all(math.dist(at, other) > 1.0 for other, _ in chosen):
            chosen.append((at, words))
    return tuple(
        FixedPoint(letter=letter, at=at, words=words)
        for letter, (at, words) in zip(ascii_uppercase, chosen, strict=False)
    )


def bends_of(path: str, points: Sequence[Sequence[float]] | np.ndarray) -> tuple[Bend, ...]:
    """Return the bends of a path's middle line (n, 2) with their tightest radius; straights are left out."""
    line = np.asarray(points, dtype=float)
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))))
    way = np.unwrap(np.arctan2(*np.diff(line, axis=0).T[::-1]))
    middle = (along[1:] + along[:-1]) / 2
    turn = np.gradient(way, middle) if len(way) > 2 else np.zeros(len(way))
    side = np.where(np.abs(turn) < 1 / 60.0, 0, np.sign(turn)).astype(int)  # over 60 m of radius reads as straight
    found = []
    for first, last in _runs(side):
        part = np.abs(turn[first:last])
        if side[first] and middle[last - 1] - middle[first] > 0.5:
            found.append(
                Bend(
                    path=path,
                    way="left" if side[first] > 0 else "right",
                    start=float(middle[first]),
                    end=float(middle[last - 1]),
                    radius=float(1 / np.percentile(part, 95)),
                )
            )
    return tuple(found)


def from_baseline(running: float, offset: float, *, start: Point, end: Point) -> Point:
    """Return the plan point at a running dimension and an offset from the baseline."""
    ux, uy = _unit(start, end)
    return start[0] + running * ux - offset * uy, start[1] + running * uy + offset * ux


# ---- the places


def _places(project: Project, worked: Layout, catalogue: Catalogue) -> Iterator[tuple[Kind, str, Point]]:
    yield from _of_paths(project, worked)
    yield from _of_outlines(project, worked)
    for support in project.structure.supports:
        for number, at in enumerate(support.line, 1):
            yield "post", f"{support.name}, end {number}", at
    for seat in project.structure.seats:
        yield "seat", f"{seat.name}, middle", seat.at
    for plant in project.planting.plants:
        if catalogue[plant.species].layer in WOODY:
            yield "tree", f"{catalogue[plant.species].botanical} (plant {plant.number})", plant.at


def _of_paths(project: Project, worked: Layout) -> Iterator[tuple[Kind, str, Point]]:
    step = float(STATION[project.units])
    for name, route in worked.routes.items():
        for s in (*np.arange(0.0, route.length, step).tolist(), route.length):
            x, y = route.curve.at(float(s))[0]
            yield "path", f"{name}, middle at {_station(s, project.units)}", (float(x), float(y))
        for stone in worked.layings[name].stones:
            yield "stone", f"{name}, stone {stone.number + 1}", stone.at


def _of_outlines(project: Project, worked: Layout) -> Iterator[tuple[Kind, str, Point]]:
    step = float(STATION[project.units])
    for patch in project.structure.patches:
        yield from _outline(patch.name, patch.outline, step)
    for bed in project.structure.beds:
        if bed.outline:
            yield from _outline(f"bed {bed.name}", bed.outline, step)


def _outline(name: str, outline: Sequence[Point], step: float) -> Iterator[tuple[Kind, str, Point]]:
    """Yield the corners of an outline, or stations along it where it is a curve."""
    if not outline:
        return
    turns = [_turn(outline[i - 1], at, outline[(i + 1) % len(outline)]) for i, at in enumerate(outline)]
    sharp = [at for at, turn in zip(outline, turns, strict=True) if turn >= SMOOTH_TURN]
    if len(outline) <= 12 or len(sharp) >= len(outline) / 2:
        for number, at in enumerate(outline, 1):
            yield "corner", f"{name}, corner {number}", at
        return
    ring = plane.line([*outline, outline[0]])
    count = max(8, round(ring.length / step))
    for number in range(count):
        spot = ring.interpolate(number / count, normalized=True)
        yield "curve", f"{name}, edge {number + 1}", (float(spot.x), float(spot.y))


def _mark(
    number: int,
    kind: Kind,
    what: str,
    at: Point,
    *,
    start: Point,
    end: Point,
    fixed: Sequence[FixedPoint],
    tape: float,
) -> Mark:
    ux, uy = _unit(start, end)
    dx, dy = at[0] - start[0], at[1] - start[1]
    pair = max(combinations(fixed, 2), key=lambda two: _crossing(at, two[0].at, two[1].at))
    ties = tuple(Tie(letter=f.letter, far=_read(math.dist(f.at, at), tape)) for f in pair)
    running, offset = _read(dx * ux + dy * uy, tape), _read(dy * ux - dx * uy, tape)
    return Mark(number=number, kind=kind, what=what, at=at, running=running, offset=offset, ties=ties)


def _crossing(at: Point, a: Point, b: Point) -> float:
    """Return how well two ties cross at a place: the sine of their angle, less for long tapes; 0 on their line."""
    far = math.dist(at, a), math.dist(at, b)
    if min(far) < 0.3 or math.dist(a, b) < 1.0:
        return 0.0
    angle = math.degrees(math.acos(np.clip(np.dot(np.subtract(a, at), np.subtract(b, at)) / (far[0] * far[1]), -1, 1)))
    well = 1.0 if GOOD_CROSSING[0] <= angle <= GOOD_CROSSING[1] else 0.3
    return well * math.sin(math.radians(angle)) / (1.0 + 0.02 * max(far))


def _read(metres: float, tape: float) -> float:
    return round(round(metres / tape) * tape, 6)


def _station(s: float, units: System) -> str:
    return f"{s / FOOT:.0f} ft" if units == "imperial" else f"{s:.1f} m"


def _longest(outline: Sequence[Point]) -> tuple[Point, Point]:
    return max(pairwise([*outline, outline[0]]), key=lambda side: math.dist(*side))


def _spread_out(points: Sequence[Point], most: int) -> list[Point]:
    """Return points of an outline far from each other, the farthest from its middle first."""
    centre = plane.centre(plane.region(points))
    left = sorted(points, key=lambda p: -math.dist(p, centre))
    kept = left[:1]
    while len(kept) < min(most, len(left)):
        kept.append(max(left, key=lambda p: min(math.dist(p, k) for k in kept)))
    return kept


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return how far a line a, b, c turns at b, degrees."""
    first, second = math.atan2(b[1] - a[1], b[0] - a[0]), math.atan2(c[1] - b[1], c[0] - b[0])
    return abs(math.degrees((second - first + math.pi) % (2 * math.pi) - math.pi))


def _unit(start: Point, end: Point) -> tuple[float, float]:
    long = math.dist(start, end)
    return (end[0] - start[0]) / long, (end[1] - start[1]) / long


def _runs(side: np.ndarray) -> list[tuple[int, int]]:
    edges = [0, *(np.flatnonzero(np.diff(side)) + 1).tolist(), len(side)]
    return list(pairwise(edges))
