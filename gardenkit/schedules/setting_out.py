"""Setting out: every place that two people with tapes need on the ground, measured from a baseline and fixed points.

The baseline is the wall of the house that overlooks most of the ground (else the longest side of the boundary),
carried on past both its ends. A place has its running dimension along the baseline and its offset square to it, and its
ties: distances from two fixed points that can be found on the site, chosen so that no building stands in the way of a
tape and the two arcs cross well. Whoever distrusts a right angle uses the ties; the other figures check them.
"""

import math
from collections.abc import Sequence
from itertools import combinations, pairwise
from string import ascii_uppercase
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.schedules.places import Kind, Place, places
from gardenkit.site.site import Site
from gardenkit.sources import HOUSE, Figure
from gardenkit.units import INCH

TAPE = {"imperial": Figure(INCH / 2, "m", f"as lengths are written; {HOUSE}"), "metric": Figure(0.005, "m", HOUSE)}
MOST_FIXED = 12  # fixed points looked at; only those that a tie needs get a letter. House value.
GOOD_CROSSING = (30.0, 150.0)  # degrees between two ties: flatter ones miss by more than the tape. Common practice.
LEAST_WALL = 2.0  # m: a shorter wall is no baseline, as a string along it may point anywhere. House value.
APART = 0.5  # m: fixed points nearer than this are one. House value.
SAMPLES = 14  # places tried across and up the plot to see what a wall overlooks. House value.
THICK = 0.02  # m that a tape may brush along a wall. House value.


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
        raise GardenError("setting out needs the boundary; draw or measure it in 03_site_measurement first")
    start, end, of = baseline(project.site)
    fixed = fixed_points(project.site)
    tape, blocks = float(TAPE[project.units]), _blocks(project.site)
    marks = [
        _mark(number, place, base=(start, end), fixed=fixed, blocks=blocks, tape=tape)
        for number, place in enumerate(places(project, worked, catalogue), 1)
    ]
    fixed, marks = _lettered(fixed, marks)
    bends = [bend for name, route in worked.routes.items() for bend in bends_of(name, route.curve.points)]
    words = f"A to B, a side of the {of}, carried on past both"
    return SettingOut(
        start=start, end=end, baseline=words, fixed=fixed, marks=tuple(marks), bends=tuple(bends), tape=tape
    )


def _lettered(fixed: Sequence[FixedPoint], marks: Sequence[Mark]) -> tuple[tuple[FixedPoint, ...], list[Mark]]:
    """Return the fixed points that are used, lettered anew without a gap, and the marks by those letters."""
    used = {tie.letter for mark in marks for tie in mark.ties} | {f.letter for f in fixed[:2]}
    letters = dict(zip((f.letter for f in fixed if f.letter in used), ascii_uppercase, strict=False))
    kept = tuple(attrs.evolve(f, letter=letters[f.letter]) for f in fixed if f.letter in used)
    told = [attrs.evolve(m, ties=tuple(attrs.evolve(t, letter=letters[t.letter]) for t in m.ties)) for m in marks]
    return kept, told


def baseline(site: Site) -> tuple[Point, Point, str]:
    """Return the two ends of the baseline and what it is a side of; it leaves least of the plot behind its zero."""
    if not site.buildings:
        a, b = max(pairwise([*site.boundary, site.boundary[0]]), key=lambda side: math.dist(*side))
        return (*_running_on(a, b, site), "boundary")
    house = max(site.buildings, key=lambda b: plane.area(plane.region(b.outline)))
    walls = list(pairwise([*house.outline, house.outline[0]]))
    long = [wall for wall in walls if math.dist(*wall) >= LEAST_WALL] or walls
    spots, blocks = _sampled(site), _blocks(site)
    plot = plane.grown(plane.region(site.boundary), 0.1)
    a, b = max(long, key=lambda w: (round(_overlooked(w, spots, plot, blocks), 1), round(math.dist(*w), 2)))
    return (*_running_on(a, b, site), house.name)


def fixed_points(site: Site) -> tuple[FixedPoint, ...]:
    """Return places to measure from, lettered: the ends of the baseline, corners of buildings, then of the boundary."""
    start, end, of = baseline(site)
    found: list[tuple[Point, str]] = [(start, f"corner of the {of}, zero"), (end, f"corner of the {of}")]
    for building in site.buildings:
        centre = plane.centre(plane.region(building.outline))
        corners = sorted(building.outline, key=lambda p: -math.dist(p, centre))
        found += [(at, f"corner of the {building.name}") for at in corners[:4]]
    found += [(at, "corner of the boundary") for at in _spread_out(site.boundary, MOST_FIXED)]
    chosen: list[tuple[Point, str]] = []
    for at, words in found:
        if len(chosen) < MOST_FIXED and all(math.dist(at, other) > APART for other, _ in chosen):
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


# ---- measuring


def _mark(
    number: int,
    place: Place,
    *,
    base: tuple[Point, Point],
    fixed: Sequence[FixedPoint],
    blocks: Region,
    tape: float,
) -> Mark:
    at, (start, end) = place.at, base
    ux, uy = _unit(start, end)
    dx, dy = at[0] - start[0], at[1] - start[1]
    seen = [f for f in fixed if not _blocked(f.at, at, blocks)]
    among = seen if len(seen) > 1 else fixed
    pair = max(combinations(among, 2), key=lambda two: _crossing(at, two[0].at, two[1].at))
    ties = tuple(Tie(letter=f.letter, far=_read(math.dist(f.at, at), tape)) for f in pair)
    running, offset = _read(dx * ux + dy * uy, tape), _read(dy * ux - dx * uy, tape)
    return Mark(number=number, kind=place.kind, what=place.what, at=at, running=running, offset=offset, ties=ties)


def _blocks(site: Site) -> Region:
    """Return what no tape goes through: buildings, less what a tape along a wall may brush."""
    return plane.grown(plane.union(plane.region(b.outline) for b in site.buildings), -THICK)


def _blocked(a: Point, b: Point, blocks: Region) -> bool:
    return not blocks.is_empty and math.dist(a, b) > THICK and plane.distance(plane.line((a, b)), blocks) == 0


def _sampled(site: Site) -> list[Point]:
    """Return places about evenly over the open ground of a plot."""
    open_ground = plane.difference(plane.region(site.boundary), _blocks(site))
    low_x, low_y, high_x, high_y = plane.bounds(plane.region(site.boundary))
    steps = (np.arange(SAMPLES) + 0.5) / SAMPLES
    grid = [(low_x + u * (high_x - low_x), low_y + v * (high_y - low_y)) for u in steps for v in steps]
    return [at for at in grid if plane.contains(open_ground, at)]


def _overlooked(wall: tuple[Point, Point], spots: Sequence[Point], plot: Region, blocks: Region) -> float:
    """Return the share of places whose offset from a wall's line nothing blocks, its foot being on the plot."""
    (ux, uy), a = _unit(*wall), wall[0]
    count = 0
    for at in spots:
        along = (at[0] - a[0]) * ux + (at[1] - a[1]) * uy
        foot = (a[0] + along * ux, a[1] + along * uy)
        open_way = not _blocked(foot, at, blocks) and not _blocked(a, foot, blocks)
        count += open_way and plane.contains(plot, foot)
    return count / max(1, len(spots))


def _running_on(a: Point, b: Point, site: Site) -> tuple[Point, Point]:
    """Return the ends of a baseline in the order that leaves less of the plot behind its zero."""
    ux, uy = _unit(a, b)
    along = [(p[0] - a[0]) * ux + (p[1] - a[1]) * uy for p in site.boundary]
    return (b, a) if -min(along) > max(along) - math.dist(a, b) else (a, b)


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


def _spread_out(points: Sequence[Point], most: int) -> list[Point]:
    """Return points of an outline far from each other, the farthest from its middle first."""
    centre = plane.centre(plane.region(points))
    left = sorted(points, key=lambda p: -math.dist(p, centre))
    kept = left[:1]
    while len(kept) < min(most, len(left)):
        kept.append(max(left, key=lambda p: min(math.dist(p, k) for k in kept)))
    return kept


def _unit(start: Point, end: Point) -> tuple[float, float]:
    long = math.dist(start, end)
    return (end[0] - start[0]) / long, (end[1] - start[1]) / long


def _runs(side: np.ndarray) -> list[tuple[int, int]]:
    edges = [0, *(np.flatnonzero(np.diff(side)) + 1).tolist(), len(side)]
    return list(pairwise(edges))
