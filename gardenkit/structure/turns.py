"""A path that swings round something: on which hand one has it, how near it comes, and why it cannot."""

import math
from collections.abc import Callable, Sequence
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane, ways
from gardenkit.geometry.plane import Outline, Point, Region
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.route import Route, least_radius, route
from gardenkit.structure.structure import Hand, HeldPoint, Path

CLEAR = Figure(0.3, "m", HOUSE)  # kept between the path's edge and what it turns round, where nothing else is usual
NEAR = 0.25  # m further off than it might be, and a path no more turns round a thing. House value.
CLOSE = 0.05  # m further off than it might be: a line this near hugs a thing. House value.
FURTHER = (
    0.0,
    0.1,
    0.25,
)  # shares of a thing's length at which the line's point beside its middle is tried further off
SLACK = 1.03  # times what is needed: a point held beside a thing that nothing crowds. House value.
WALL = 0.01  # m: half of a line that may not be crossed; numerical choice
ENDS = 0.05  # m: a thing whose nearest place on the way is this near an end lies not beside it. House value.


@attrs.frozen(kw_only=True)
class Swung:
    """What a path is to turn round: its ``outline``, how far off it the path's edge keeps in metres, the hand it is on.

    ``missing`` says in words why there is nothing to turn round.
    """

    name: str
    outline: Outline = ()
    clear: float = float(CLEAR)
    hand: Hand = ""
    missing: str = ""


@attrs.frozen(eq=False, kw_only=True)
class _Way:
    """A route with what it was looked for by: what stood in it, what it may not cross, the points it was held at."""

    made: Route
    blocks: Region
    barred: Region
    held: tuple[HeldPoint, ...]


Walk = Callable[[Region, Region, tuple[HeldPoint, ...]], _Way]


def route_round(
    start: Point,
    end: Point,
    ground: Region,
    blocks: Region,
    path: Path,
    swung: Sequence[Swung],
    *,
    start_direction: float | None = None,
    end_direction: float | None = None,
) -> Route:
    """Return the fair route of a path that turns round each of some things in turn, with a finding for each that it
    cannot turn round; see ``route.route``. Raises GardenError when it cannot run at all.
    """
    fair = attrs.evolve(path, line="fair curves", curvature=0.0, round=())

    def walk(standing: Region, barred: Region, held: tuple[HeldPoint, ...]) -> _Way:
        made = route(
            start,
            end,
            ground,
            standing,
            attrs.evolve(fair, held=held),
            start_direction=start_direction,
            end_direction=end_direction,
            barred=barred,
        )
        return _Way(made=made, blocks=standing, barred=barred, held=held)

    way, notes = walk(blocks, plane.NOWHERE, path.held), list[Finding]()
    for one in swung:
        try:
            way = _turned(one, way, walk, path)
        except GardenError as error:
            notes.append(_note(path, f"does not turn round {one.name}: {error}", "caution"))
            continue
        off = _off(one, way.made)
        if off > _kept(one, path) + NEAR:
            what = f"has {one.name} on its {hand_of(one, way.made)} hand, {off:.2f} m off"
            notes.append(_note(path, f"{what}: {_why_off(one, way.made)}", "note"))
    return attrs.evolve(way.made, findings=(*way.made.findings, *notes))


def hand_of(one: Swung, made: Route) -> Literal["left", "right"]:
    """Return the hand on which one has a thing, walking along a route from its start."""
    k, left = _nearest(one, made)
    (x, y), at = made.curve.points[k], _middle(one)
    return "left" if left[0] * (at[0] - x) + left[1] * (at[1] - y) > 0 else "right"


def _turned(one: Swung, way: _Way, walk: Walk, path: Path) -> _Way:
    """Return the way that turns round one thing more.

    The thing is on either hand where it stands in the way as it is, the one that makes it shorter; else within the
    bend. Raises GardenError saying why it cannot.
    """
    if one.missing:
        raise GardenError(one.missing)
    k, left = _nearest(one, way.made)
    if not ENDS < way.made.curve.along[k] < way.made.length - ENDS:
        raise GardenError("it does not lie beside the way from its start to its end")
    within: Hand = "right" if hand_of(one, way.made) == "left" else "left"
    stands = _off(one, way.made) < _kept(one, path)
    hands: tuple[Hand, ...] = (one.hand,) if one.hand else ("left", "right") if stands else (within,)
    more = plane.grown(plane.region(one.outline), max(0.0, one.clear - path.clear_of_walls))
    standing, found, trouble = plane.union([way.blocks, more]), list[_Way](), list[str]()
    for hand in hands:
        out = (-left[0], -left[1]) if hand == "left" else left
        shut = plane.union([way.barred, _wall(one, (-out[0], -out[1]))])
        try:
            found.append(_hugging(one, walk(standing, shut, way.held), out, walk, path))
        except GardenError as error:
            trouble.append(f"with it on the {hand} hand {_reason(error)}")
    gentle = [each for each in found if not _kinked(each.made) or _kinked(way.made)]
    if found and not gentle:
        tight, least = found[0].made.tightest_radius, least_radius(path.width)
        trouble.append(f"it would turn there on a radius of {tight:.2f} m; {least:.2f} m or more keeps its edge round")
    if not gentle:
        raise GardenError("; ".join(trouble))
    return min(gentle, key=lambda each: each.made.length)


def _hugging(one: Swung, way: _Way, out: Point, walk: Walk, path: Path) -> _Way:
    """Return a way past a thing that comes near it in few bends: as it runs of itself, or else held at a point ``out``
    of its middle.
    """

    def faults(each: _Way) -> tuple[bool, bool, bool, int, float]:
        off, made = _off(one, each.made) - _kept(one, path), each.made
        crowded = made.clearance < min(path.clear_of_walls, way.made.clearance) - WALL
        return _kinked(made), crowded, off > NEAR, made.curve.changes_of_side(), off

    tried = [way]
    for point in _beside(one, out, path):
        *forced, sides, off = faults(tried[-1])
        if not any(forced) and sides == 0 and off <= CLOSE:
            break
        try:
            tried.append(walk(way.blocks, way.barred, _with(way, point)))
        except GardenError:  # something else stands there
            continue
    return min(tried, key=faults)


def _beside(one: Swung, out: Point, path: Path) -> list[Point]:
    """Return points beside the middle of a thing where the middle line of a path may run past it."""
    ground, at = plane.region(one.outline), _middle(one)
    need = SLACK * (path.width / 2 + _kept(one, path))
    ray = (at, (at[0] + plane.FAR * out[0], at[1] + plane.FAR * out[1]))
    far = math.dist(at, plane.corners_of_line(plane.common_line(ways.swollen(ground, need), ray))[-1])
    low_x, low_y, high_x, high_y = plane.bounds(ground)
    long = max(high_x - low_x, high_y - low_y)
    return [(at[0] + (far + share * long) * out[0], at[1] + (far + share * long) * out[1]) for share in FURTHER]


def _why_off(one: Swung, made: Route) -> str:
    k, _ = _nearest(one, made)
    if (made.curve.curvature()[k] > 0) == (hand_of(one, made) == "left"):
        return "what else stands there keeps it off"
    return "nothing makes it turn there; the other hand takes it round"


def _with(way: _Way, point: Point) -> tuple[HeldPoint, ...]:
    """Return the points that a way is held at with one more, in their order along it."""
    curve = way.made.curve
    held = [*(one.at for one in way.held), point]
    along = [float(curve.along[int(np.hypot(*(curve.points - at).T).argmin())]) for at in held]
    return tuple(HeldPoint(at=held[i]) for i in np.argsort(along, kind="stable"))


def _nearest(one: Swung, made: Route) -> tuple[int, Point]:
    """Return which point of a route is nearest to the middle of a thing, and the unit vector to its left there."""
    curve = made.curve
    k = int(np.hypot(*(curve.points - _middle(one)).T).argmin())
    dx, dy = curve.tangents[k]
    return k, (-float(dy), float(dx))


def _middle(one: Swung) -> Point:
    return plane.centre(plane.region(one.outline))


def _wall(one: Swung, way: Point) -> Region:
    """Return a thin line from the middle of a thing to beyond any garden's edge."""
    at = _middle(one)
    far = (at[0] + plane.FAR * way[0], at[1] + plane.FAR * way[1])
    return plane.grown(plane.line((at, far)), WALL, round_ends=False)


def _kinked(made: Route) -> bool:
    return made.tightest_radius < least_radius(made.width)


def _off(one: Swung, made: Route) -> float:
    """Return how far the edge of a path is off a thing, in metres; negative where it would run over it."""
    return ways.line_gap(made.curve.points, [plane.region(one.outline)]) - made.width / 2


def _kept(one: Swung, path: Path) -> float:
    return max(one.clear, path.clear_of_walls)


def _reason(error: GardenError) -> str:
    """Return why a path cannot fit, without its name."""
    said = str(error)
    return said.partition("cannot fit: ")[2] or said


def _note(path: Path, what: str, seriousness: Literal["note", "caution"]) -> Finding:
    return Finding(where=f'path "{path.name}"', what=what, source=HOUSE, seriousness=seriousness, topic="bend")
