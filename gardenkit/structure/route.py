"""Where a path runs: a smooth line between two places, clear of walls and trees, through the points put by hand."""

import itertools
import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import bending, plane, ways
from gardenkit.geometry.curve import Curve
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure import fair_route
from gardenkit.structure.clear_ground import FINE, ON_EDGE, Ground, Leads, check_ends, into, ready, too_narrow
from gardenkit.structure.fair_route import Fitted
from gardenkit.structure.structure import HeldPoint, Path

TURN_MARGIN = Figure(0.15, "m", HOUSE)  # inner edge of a bend at least this radius: a tighter one reads as a kink
SWING = Figure(0.35, "share of a swing's length", HOUSE)  # widest swing to one side; more and the path doubles back
GATE_STEP = 0.4  # m between the points that carry the line; house value, speed against detail
# Shares of the clear width walked straight out of a gate or door before turning; the shorter where things stand near
LEADS = (0.5, 0.15)  # house value
TAUT_STEP = 0.1  # m between the points of a line that has no room to be smoothed; numerical choice
SAME = 1e-3  # m: two held points nearer than this are one, given twice. Numerical choice.
CLEAR = 1e-6  # m off the free ground that is rounding; numerical choice
TRIES = 8  # times a line may be corrected before its bend is reduced; numerical choice
CURVATURE_STEPS = (1.0, 0.7, 0.4, 0.0)  # shares of the asked bend tried in turn; house value


@attrs.frozen(eq=False, kw_only=True)
class Route:
    """A path as it runs: ``curve`` its middle line, ``region`` its surface (cut to the ground and clear of obstacles).

    ``clearance`` is the least distance in metres from the path's edge to a wall or obstacle, the stretch before a gate
    or door left out; ``tightest_radius`` that of the middle line; ``curvature`` the share of the way to the widest
    swing that was really used.
    """

    name: str
    curve: Curve
    width: float
    region: Region
    clearance: float
    tightest_radius: float
    curvature: float
    findings: tuple[Finding, ...] = ()

    @property
    def length(self) -> float:
        """Length of the middle line in metres."""
        return self.curve.length


@attrs.frozen(eq=False, kw_only=True)
class _Base:
    """The line that a path swings about: points (n, 2), which are ``fixed``, the room beside it, its taut legs."""

    line: FloatArray
    fixed: NDArray[np.bool_]
    low: FloatArray
    high: FloatArray
    taut: Sequence[FloatArray]
    leads: tuple[int, ...]


def route(
    start: Point,
    end: Point,
    ground: Region,
    obstacles: Region | Sequence[Region],
    path: Path,
    *,
    start_direction: float | None = None,
    end_direction: float | None = None,
    barred: Region = plane.NOWHERE,
) -> Route:
    """Return the path's route from ``start`` to ``end`` over ``ground``, clear of ``obstacles``, with its findings.

    ``start_direction`` is where one walks on leaving the start, ``end_direction`` where one comes from at the end (both
    point into the ground, degrees clockwise from the plan's y axis); without them a place on the ground's edge is left
    square to the edge, any other place in any direction. Near a gate or door the distance to its own wall is relaxed.
    The middle line does not cross what is ``barred``.
    Raises GardenError when the path cannot fit, naming the narrowest place.
    """
    blocks = obstacles if isinstance(obstacles, Region) else plane.union(obstacles)
    check_ends(start, end, ground, blocks, path)
    if ground.is_empty:
        raise GardenError(f'path "{path.name}" has no ground to run on; draw or measure the boundary first')
    path = attrs.evolve(path, held=_held(path, start, end))
    leads = (into(start, ground, start_direction), into(end, ground, end_direction))
    made = ready((start, end), leads, ground, blocks, path, barred=barred)
    try:
        return _best(leads, made, (start, end), path)
    except GardenError:  # room is short: draw the corners finer before saying that the path cannot fit
        made = ready((start, end), leads, ground, blocks, path, quarter=FINE, barred=barred)
        return _best(leads, made, (start, end), path)


def fork(from_route: Route, share: float, *, side: str = "left") -> tuple[Point, float]:
    """Return where a second path may leave, ``share`` (0 to 1) of the way along, and the direction square to it."""
    s = share * from_route.length
    (x, y), (dx, dy) = from_route.curve.at(s)[0], from_route.curve.direction(s)[0]
    turn = -90.0 if side == "left" else 90.0
    return (float(x), float(y)), (math.degrees(math.atan2(dx, dy)) + turn) % 360


def crossings(a: Route, b: Route) -> tuple[tuple[Point, float], ...]:
    """Return where two paths cross and at what angle in degrees (90 is square)."""
    (p, r), (q, s) = _steps_beside(a, b), _steps_beside(b, a)
    cross = r[:, None, 0] * s[None, :, 1] - r[:, None, 1] * s[None, :, 0]
    gap = q[None] - p[:, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (gap[..., 0] * s[None, :, 1] - gap[..., 1] * s[None, :, 0]) / cross
        u = (gap[..., 0] * r[:, None, 1] - gap[..., 1] * r[:, None, 0]) / cross
    found = []
    for i, j in np.argwhere((t >= 0) & (t < 1) & (u >= 0) & (u < 1)):
        at = p[i] + t[i, j] * r[i]
        lengths = np.linalg.norm(r[i]) * np.linalg.norm(s[j])
        found.append(((float(at[0]), float(at[1])), math.degrees(math.asin(min(1.0, abs(cross[i, j]) / lengths)))))
    return tuple(found)


def _steps_beside(route: Route, other: Route) -> tuple[FloatArray, FloatArray]:
    """Return where the steps of a path's middle line start and how they go, those within the box round another's."""
    points, theirs = route.curve.points, other.curve.points
    low, high = np.minimum(points[:-1], points[1:]), np.maximum(points[:-1], points[1:])
    beside = ((high >= theirs.min(axis=0)) & (low <= theirs.max(axis=0))).all(axis=1)
    return points[:-1][beside], np.diff(points, axis=0)[beside]


def least_radius(width: float) -> float:
    """Return the tightest middle-line radius a path of this width should have, in metres (house rule)."""
    return width / 2 + TURN_MARGIN


def _best(leads: Leads, made: Ground, ends: tuple[Point, Point], path: Path) -> Route:
    """Return the route that turns most gently, with a shorter straight lead at the openings only where it must."""
    best: Fitted | None = None
    for lead in LEADS:
        found = _fitted(_base_line(ends, leads, lead, made, path), made, path)
        if best is None or found.curve.tightest_radius() > best.curve.tightest_radius():
            best = found
        if best.curve.tightest_radius() >= least_radius(path.width):
            break
    assert best is not None
    return _measured(best, made, path)


def _base_line(ends: tuple[Point, Point], leads: Leads, lead: float, made: Ground, path: Path) -> _Base:
    """Return the evened-out taut way through the held points, square to the openings for ``lead`` clear widths."""
    start, end = ends
    short = min(lead * made.need, math.dist(start, end) / 4)
    stops: list[Point] = [start]
    stops += [] if leads[0] is None else [(start[0] + short * leads[0][0], start[1] + short * leads[0][1])]
    stops += [held.at for held in path.held]
    stops += [] if leads[1] is None else [(end[0] + short * leads[1][0], end[1] + short * leads[1][1])]
    stops.append(end)
    legs: list[FloatArray] = []
    for i, (a, b) in enumerate(itertools.pairwise(stops)):
        led = (i == 0 and leads[0] is not None) or (i == len(stops) - 2 and leads[1] is not None)
        legs.append(np.asarray([a, b] if led else _taut(a, b, made, path), dtype=float))
    length = float(sum(ways.lengths(leg)[-1] for leg in legs))
    even = path.line == "even swings"
    line, fixed = _joined(legs, GATE_STEP if even else max(fair_route.STEP, length / fair_route.MOST_POINTS))
    if np.abs(bending.turning(line)).max(initial=0.0) > 1e-6:
        for _ in range(2):
            low, high = _room(line, fixed, made.free, reach=3 * made.need)
            shift = bending.settle(line, np.zeros(len(line)), low, high, 3 * GATE_STEP)
            line = line + shift[:, None] * _normals(line)
    low, high = _room(line, fixed, made.free, reach=SWING * float(ways.lengths(line)[-1]))
    stop = np.flatnonzero(fixed)
    within = [int(stop[i]) for i, lead in zip((1, -2), leads, strict=True) if lead is not None]
    return _Base(line=line, fixed=fixed, low=low, high=high, taut=legs, leads=tuple(within))


def _held(path: Path, start: Point, end: Point) -> tuple[HeldPoint, ...]:
    """Return the held points in their order; one that lies on the point before it, or on the end, says nothing."""
    before = [start, *(held.at for held in path.held)]
    pairs = zip(path.held, before, strict=False)
    return tuple(held for held, at in pairs if min(math.dist(held.at, at), math.dist(held.at, end)) > SAME)


def _taut(a: Point, b: Point, made: Ground, path: Path) -> list[Point]:
    free = ways.one_piece(made.free, a, b)
    way = ways.shortest(free, a, b) if not free.is_empty else []
    if not way:
        raise GardenError(too_narrow(a, b, made, path))
    return way


def _joined(legs: Sequence[FloatArray], step: float) -> tuple[FloatArray, NDArray[np.bool_]]:
    """Return the legs as one line of points ``step`` metres apart, and which points are ends of legs."""
    pieces = [ways.even(leg, step) for leg in legs]
    line = np.vstack([*(piece[:-1] for piece in pieces), pieces[-1][-1:]])
    fixed = np.zeros(len(line), dtype=bool)
    fixed[np.concatenate(([0], np.cumsum([len(piece) - 1 for piece in pieces])))] = True
    return line, fixed


def _fitted(base: _Base, made: Ground, path: Path) -> Fitted:
    """Return the smooth curve and the bend used: as asked if that stays clear and turns gently enough, else less."""
    if path.line != "even swings":
        fair = fair_route.fitted(base.line, base.fixed, base.leads, made, path)
        if fair.clear:
            return fair
        curve, clear, _ = _corrected(base, np.zeros(len(base.line)), made, path)
        return Fitted(curve=curve, curvature=0.0) if clear else _on_taut(base)
    want = _swing(base, path)
    fallback: Fitted | None = None
    for share in CURVATURE_STEPS if path.curvature > 0 else (0.0,):
        curvature = share * path.curvature
        curve, clear, left = _corrected(base, curvature * want, made, path)
        curvature *= left
        if clear and curve.tightest_radius() >= least_radius(path.width):
            return Fitted(curve=curve, curvature=curvature)
        if clear and (fallback is None or curve.tightest_radius() > 1.05 * fallback.curve.tightest_radius()):
            fallback = Fitted(curve=curve, curvature=curvature)
    return fallback or _on_taut(base)


def _on_taut(base: _Base) -> Fitted:
    """Return the taut way, where it is too tight for a smooth line: it is clear; its radius is reported."""
    taut, ends = _joined(base.taut, TAUT_STEP)
    return Fitted(curve=bending.drawn(taut, np.flatnonzero(ends)), curvature=0.0)


def _corrected(base: _Base, want: FloatArray, made: Ground, path: Path) -> tuple[Curve, bool, float]:
    """Return a curve near ``want``, whether it is clear, and the share of ``want`` that was left: limits are drawn in,
    bends stiffened and swings lessened where it fails.
    """
    normals, tightest = _normals(base.line), 1 / least_radius(path.width)
    low, high = base.low.copy(), base.high.copy()
    lobe = float(ways.lengths(base.line)[-1]) / (path.sway + 1)
    stiff = np.full(len(base.line) - 2, min(2.0, max(0.5, lobe / 6)))
    pins, left = np.flatnonzero(base.fixed), 1.0
    for _ in range(TRIES):
        shift = bending.settle(base.line, left * want, low, high, stiff)
        knots = base.line + shift[:, None] * normals
        curve = bending.drawn(knots, pins)
        depth, bends = _faults(curve, made)
        clear = not (depth > CLEAR).any()
        if clear and bends.max() <= tightest:
            break
        after = np.searchsorted(ways.lengths(knots), curve.along).clip(1, len(knots) - 1)
        _draw_in((low, high), shift, depth, after, base)
        sharp = np.unique(after[bends > tightest]) - 1
        for near in (-1, 0, 1):
            stiff[(sharp + near).clip(0, len(stiff) - 1)] *= 1.25
        left = 0.93 * left if len(sharp) else left
    return curve, clear, left


def _faults(curve: Curve, made: Ground) -> tuple[FloatArray, FloatArray]:
    """Return how far each point of the curve is off the free ground, and its curvature, both (n,), ends left out."""
    out = ~plane.inside(made.free, curve.points)
    out[[0, -1]] = False
    depth = np.zeros(len(out))
    depth[out] = plane.point_distances(curve.points[out], made.free)
    bends = np.abs(curve.curvature())
    bends[[0, -1]] = 0.0
    return depth, bends


def _draw_in(
    limits: tuple[FloatArray, FloatArray], shift: FloatArray, depth: FloatArray, after: NDArray[np.intp], base: _Base
) -> None:
    """Narrow the limits, in place, at the knots on both sides of each point that is off the free ground."""
    low, high = limits
    for gate in np.unique(after[depth > CLEAR]):
        by = 1.2 * float(depth[after == gate].max()) + 2e-3
        for i in (gate - 1, gate):
            if base.fixed[i]:
                continue
            if shift[i] - low[i] < high[i] - shift[i]:
                low[i] = min(low[i] + by, high[i])
            else:
                high[i] = max(high[i] - by, low[i])


def _swing(base: _Base, path: Path) -> FloatArray:
    """Return the sideways shift (n,) of the widest swing: a sine of ``sway`` + 1 lobes as wide as the ground allows."""
    along = ways.lengths(base.line)
    lobes = path.sway + 1
    wave = np.sin(math.pi * lobes * along / along[-1]) * (1 if path.first_side == "left" else -1)
    most = SWING * along[-1] / lobes
    return np.asarray(np.where(wave > 0, wave * np.clip(base.high, 0, most), wave * np.clip(-base.low, 0, most)))


def _room(line: FloatArray, fixed: NDArray[np.bool_], free: Region, *, reach: float) -> tuple[FloatArray, FloatArray]:
    low, high = ways.room_beside(free, line, _normals(line), reach)
    low, high = low + 1e-3, np.maximum(high - 1e-3, low + 1e-3)
    return np.where(fixed, 0.0, low), np.where(fixed, 0.0, high)


def _measured(fit: Fitted, made: Ground, path: Path) -> Route:
    curve = fit.curve
    surface = plane.intersection(ways.strip(_carried_out(curve, path.width, made.open), path.width), made.open)
    surface = plane.difference(surface, made.blocks) if not made.blocks.is_empty else surface
    apart = 1.5 * made.need
    p = curve.points
    counted = (np.linalg.norm(p - p[0], axis=1) > apart) & (np.linalg.norm(p - p[-1], axis=1) > apart)
    sample = p[counted] if counted.any() else p[len(p) // 2 : len(p) // 2 + 1]
    clearance = ways.line_gap(sample, [ways.edge_of(made.open), made.blocks]) - path.width / 2
    radius = curve.tightest_radius()
    findings = _notes(fit, clearance, radius, path)
    return Route(
        name=path.name,
        curve=curve,
        width=path.width,
        region=surface,
        clearance=clearance,
        tightest_radius=radius,
        curvature=fit.curvature,
        findings=findings,
    )


def _carried_out(curve: Curve, width: float, ground: Region) -> FloatArray:
    """Return the middle line half a width beyond each end at the ground's edge: a path that leaves its gate or door
    aslant still fills the opening.
    """
    edge, points = ways.edge_of(ground), curve.points
    before, after = (
        [points[i] + way * width / 2 * curve.tangents[i]]
        if plane.distance(edge, plane.point(points[i])) < ON_EDGE
        else []
        for i, way in ((0, -1.0), (-1, 1.0))
    )
    return np.vstack((*before, points, *after))


def _notes(fit: Fitted, clearance: float, radius: float, path: Path) -> tuple[Finding, ...]:
    where, found = f'path "{path.name}"', list[Finding]()
    if clearance < path.clear_of_walls - 1e-3:
        what = f"comes within {max(clearance, 0.0):.2f} m of a wall or obstacle, {path.clear_of_walls:.2f} m was asked"
        found.append(Finding(where=where, what=what, source=HOUSE, seriousness="warning", topic="clearance"))
    if radius < least_radius(path.width) - 1e-6:
        at = fit.curve.points[int(np.abs(fit.curve.curvature()).argmax())]
        what = (
            f"turns on a radius of {radius:.2f} m; {least_radius(path.width):.2f} m or more keeps the inner edge round"
        )
        why = "a path of constant width needs a middle-line radius above half its width, or the inner edge pinches"
        spot = (float(at[0]), float(at[1]))
        found.append(
            Finding(where=where, what=what, why=why, source=PLAIN, seriousness="caution", at=spot, topic="bend")
        )
    short = f"{fit.curvature:.2f}" != f"{path.curvature:.2f}"
    if short or fit.no_room:
        less = f"bends to {fit.curvature:.2f} instead of {path.curvature:.2f}: {fit.why}"
        what = less if short else f"swings less often than asked: {fit.no_room}"
        found.append(Finding(where=where, what=what, source=HOUSE, topic="bend"))
    return tuple(found)


def _normals(points: FloatArray) -> FloatArray:
    t = bending.tangents_of(points)
    return np.column_stack((-t[:, 1], t[:, 0]))
