"""What the rules say about the bones: width, bends, slope and gates of each path, steep ground, supports, work."""

from collections.abc import Iterable
from functools import lru_cache
from itertools import combinations

import attrs
import numpy as np

from gardenkit.findings import LOCAL_CODE, Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.site import levels
from gardenkit.site.heights import SpotHeight
from gardenkit.site.levels import Surface
from gardenkit.site.openings import Opening
from gardenkit.site.site import Site
from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure import ramps, steps, supports
from gardenkit.structure.clearances import CLEARANCES
from gardenkit.structure.flights import left_by_flights, left_by_landings
from gardenkit.structure.kinds import is_overhead, parts_list, support_kind
from gardenkit.structure.kinds.support_parts import PostChoice, post_of, posts_of, trained_wires
from gardenkit.structure.path_rules import SLOPES, Gate, check_path, slope_allowed
from gardenkit.structure.posts import post_findings
from gardenkit.structure.route import Route, crossings
from gardenkit.structure.structure import Path, Structure, Support
from gardenkit.structure.training import FREE_POST_SPACING, trained, trained_findings, wire_findings
from gardenkit.units import System

SLOPE_RUN = Figure(1.0, "m", f"a slope is felt over about a step and a half; {HOUSE}")
STEP = 0.5  # m between the points where the ground's height is read. House value.
FELT = 0.1  # m: a piece of path no longer has no slope of its own. House value.
STEP_RISE = Figure(0.10, "m", f"less is taken up by the path itself; {HOUSE}")
POST = 0.09  # m: a 4 x 4 in post as sawn, half of one at either end of an arch's line
SQUARE_ENOUGH = Figure(45.0, "degrees", f"a flatter crossing leaves slivers of bed; {HOUSE}")
STRETCHES = {"trail": "outdoor trail", "recreation access": "outdoor access route"}  # rules judged stretch by stretch


@attrs.frozen(kw_only=True)
class PathSlope:
    """How the ground runs under a path: ``steepest`` percent over a metre where ``at``, ``cross`` percent at most (None
    when not asked), and the longest stretch steeper than the rule allows: its ``run`` and ``rise`` in metres.

    ``piece`` is what was looked at, from and to in metres along the path.
    """

    steepest: float
    at: Point
    cross: float | None = None
    run: float = 0.0
    rise: float = 0.0
    piece: tuple[float, float] = (0.0, 0.0)

    @property
    def length(self) -> float:
        """Metres of path that were looked at."""
        return self.piece[1] - self.piece[0]


@attrs.frozen(eq=False, kw_only=True)
class Graded:
    """Heights ``z`` (n,) in metres at the lengths ``s`` (n,) along a path, and the slope in ``percent`` (n - apart,)
    from each to the one ``apart`` places on.
    """

    s: FloatArray
    z: FloatArray
    apart: int
    percent: FloatArray


def ground_of(site: Site) -> Surface | None:
    """Return the ground as found, through the spot heights; None where none were taken."""
    return _surface(site.heights) if site.heights else None


@lru_cache(maxsize=8)
def _surface(heights: tuple[SpotHeight, ...]) -> Surface:
    return levels.surface(heights)


def path_slope(path: Path, route: Route, ground: Surface) -> PathSlope:
    """Return the slope of a path where it is steepest, what its flights of steps take left out."""
    x, y = route.curve.at(route.length / 2)[0]
    all_steps = PathSlope(steepest=0.0, at=(float(x), float(y)))
    return max(path_slopes(path, route, ground), key=lambda piece: abs(piece.steepest), default=all_steps)


def path_slopes(path: Path, route: Route, ground: Surface) -> tuple[PathSlope, ...]:
    """Return the slope along and across of each piece that a path's flights leave, and its steep stretch by the path's
    own slope rule.
    """
    pieces = left_by_landings(path, route.length)
    return tuple(_piece(path, route, ground, start, end) for start, end in pieces if end - start > FELT)


def _piece(path: Path, route: Route, ground: Surface, start: float, end: float) -> PathSlope:
    line = graded(route, ground, start, end)
    s, z, apart = line.s, line.z, line.apart
    worst = int(np.abs(line.percent).argmax())
    x, y = route.curve.at((s[worst] + s[worst + apart]) / 2)[0]
    first, last = longest_run(np.abs(line.percent) > max(limit for limit, _ in SLOPES[path.slope_rule][1]))
    run, rise = 0.0, 0.0
    if last > first:
        stop = last - 1 + apart
        run, rise = float(s[stop] - s[first]), float(abs(z[stop] - z[first]))
    cross = None
    if path.use == "wheelchair":  # only there does a rule ask for the slope across
        side = np.full(len(s), route.width / 2)
        left, right = (ground.at(route.curve.beside(s, way * side)) for way in (1, -1))
        cross = float(np.abs(left - right).max()) / route.width * 100
    return PathSlope(
        steepest=float(line.percent[worst]),
        at=(float(x), float(y)),
        cross=cross,
        run=run,
        rise=rise,
        piece=(start, end),
    )


def graded(route: Route, ground: Surface, start: float, end: float) -> Graded:
    """Return the ground below a piece of path, from ``start`` to ``end`` in metres along it, and its slope."""
    s = np.linspace(start, end, max(3, round((end - start) / STEP) + 1))
    z = ground.at(route.curve.at(s))
    apart = min(len(s) - 1, max(1, round(SLOPE_RUN / (s[1] - s[0]))))
    return Graded(s=s, z=z, apart=apart, percent=100 * (z[apart:] - z[:-apart]) / (s[apart:] - s[:-apart]))


def path_findings(
    path: Path, route: Route, site: Site, ground: Surface | None, supports_too: Iterable[Support] = ()
) -> tuple[Finding, ...]:
    """Return what the named standards say about a path for its use, with its slope on the ground as it will be, its
    gates and arches over it.
    """
    slopes = path_slopes(path, route, ground) if ground is not None else ()
    slope = worst_piece(path, slopes)
    said = check_path(
        path,
        route,
        use=path.use,
        slope_percent=slope.steepest if slope else None,
        slope_length=slope.length if slope else None,
        cross_percent=max((piece.cross for piece in slopes if piece.cross is not None), default=None),
        slope_rule=path.slope_rule,
        gates=gates_on(route, site),
    )
    found = [f for f in said if not _said_by_route(f, route)]
    if ground is not None and path.slope_rule in STRETCHES and not any(f.topic == "slope" for f in said):
        rule = STRETCHES[path.slope_rule]
        found += ramps.trail_findings(f'path "{path.name}"', stretches(path, route, ground), rule=rule)
    if slope is not None:
        found = [attrs.evolve(f, at=slope.at) if f.topic == "slope" else f for f in found]
        found += steep_findings(path, max(slopes, key=lambda piece: piece.rise))
    for support in supports_too:
        if is_overhead(support) and plane.distance(route.region, plane.line(support.line)) < 1e-6:
            found += supports.passage_findings(
                support.name,
                clear_width=plane.line(support.line).length - POST,
                clear_height=support.height,
                path_width=path.width,
            )
    return tuple(found)


def worst_piece(path: Path, slopes: Iterable[PathSlope]) -> PathSlope | None:
    """Return the piece of a path that is furthest from its slope rule; None where its flights leave none."""

    def how_bad(piece: PathSlope) -> tuple[bool, float]:
        allowed = slope_allowed(piece.steepest, piece.length, by=path.slope_rule)
        return not allowed, abs(piece.steepest)

    return max(slopes, key=how_bad, default=None)


def stretches(path: Path, route: Route, ground: Surface) -> tuple[tuple[float, float], ...]:
    """Return a path as stretches of (length in metres, slope) about as long as a slope is felt over; a flight of steps
    with its landings is level.
    """
    found: list[tuple[float, float]] = []
    at = 0.0
    for start, end in left_by_flights(path, route.length):
        if start > at:
            found.append((start - at, 0.0))
        s = np.linspace(start, end, max(2, round((end - start) / SLOPE_RUN) + 1))
        z = ground.at(route.curve.at(s))
        found += [(float(far), float(rise / far)) for far, rise in zip(np.diff(s), np.diff(z), strict=True)]
        at = end
    return (*found, (route.length - at, 0.0)) if route.length - at > FELT else tuple(found)


def steep_findings(path: Path, slope: PathSlope) -> tuple[Finding, ...]:
    """Return what steps or a ramp over the steep stretch of a path would take; empty where nothing is steep."""
    if slope.rise < STEP_RISE:
        return ()
    where = f'path "{path.name}", steep part'
    flight, made = steps.steps(slope.rise, width=path.width), ramps.ramp(slope.rise)
    what = (
        f"the ground rises {slope.rise:.2f} m over {slope.run:.1f} m: {flight.risers} risers of {flight.riser:.3f} m "
        f"with treads of {flight.tread:.2f} m, or a ramp {made.overall:.3f} m long with its landings; {LOCAL_CODE}"
    )
    own = Finding(where=where, what=what, source=PLAIN, seriousness="caution", at=slope.at, topic="steps")
    return (own, *steps.step_findings(where, flight))


def gates_on(route: Route, site: Site) -> tuple[Gate, ...]:
    """Return the gates and doors a path starts, ends or passes at; a door's lintel limits the headroom."""
    return tuple(_gate(o) for o in site.doors_and_gates() if plane.distance(route.region, plane.point(o.middle)) < 0.1)


def crossing_findings(routes: Iterable[Route], joined: Iterable[tuple[str, str]]) -> tuple[Finding, ...]:
    """Return where two paths cross at a flat angle; paths that join each other are left out."""
    known = {frozenset(pair) for pair in joined}
    found = []
    boxed = [(route, plane.bounds(route.region)) for route in routes]
    for (a, here), (b, there) in combinations(boxed, 2):
        if here[0] > there[2] or there[0] > here[2] or here[1] > there[3] or there[1] > here[3]:
            continue
        if frozenset((a.name, b.name)) in known or plane.distance(a.region, b.region) > 0:
            continue
        for at, angle in _crossings(a, b):
            if angle < SQUARE_ENOUGH:
                what = f'crosses path "{b.name}" at only {angle:.0f} degrees; turn one of them to cross more squarely'
                found.append(Finding(where=f'path "{a.name}"', what=what, source=HOUSE, at=at, topic="bend"))
    return tuple(found)


@lru_cache(maxsize=256)
def _crossings(a: Route, b: Route) -> tuple[tuple[Point, float], ...]:
    return crossings(a, b)


def support_findings(site: Site, structure: Structure, units: System) -> tuple[Finding, ...]:
    """Return what is to be said about every support; remembered while neither they nor what is round them changes."""
    around = attrs.evolve(
        Site(), buildings=site.buildings, openings=site.openings, fences=site.fences, obstacles=site.obstacles
    )
    return _supports(around, structure.supports, posts_of(structure, units))


@lru_cache(maxsize=16)
def _supports(site: Site, made: tuple[Support, ...], posts: PostChoice) -> tuple[Finding, ...]:
    things = {
        o.name: (kind, plane.centre(plane.region(o.outline)))
        for o in site.obstacles
        for kind in CLEARANCES
        if kind in o.name.casefold()
    }
    found: list[Finding] = []
    for support in made:
        found += supports.fit_findings(support, openings=site.openings, buildings=site.buildings, things=things)
        found += [*supports.size_findings(support), *supports.wall_notes(support), *_building(support, posts)]
    return tuple(found)


def _building(support: Support, posts: PostChoice) -> list[Finding]:
    """Return what posts and wires say; a support that cannot be built as drawn says why in one sentence."""
    found: list[Finding] = []
    try:
        parts = parts_list(support, posts=posts)
        if any(part.name == "post" for part in parts):
            found += post_findings(support.name, post_of(support, posts), frost_depth=posts.frost_depth)
        if support_kind(support.kind).parts is trained_wires:
            long = plane.line(support.line).length
            found += trained_findings(
                support.name, trained(long, support.height), length=long, on_wall=bool(support.against)
            )
    except GardenError as error:
        found.append(Finding(where=support.name, what=str(error), seriousness="warning", topic="supports"))
    if support_kind(support.kind).hold.trains and not support.against and not support_kind(support.kind).hold.solid:
        found += wire_findings(support.name, min(FREE_POST_SPACING, plane.line(support.line).length))
    return found


def _gate(opening: Opening) -> Gate:
    over = opening.head - opening.sill if opening.kind == "door" else 0.0
    return Gate(name=opening.name, clear=opening.width, headroom=over, at=opening.middle)


def _said_by_route(finding: Finding, route: Route) -> bool:
    """Return whether the route already says that it turns tightly, at the place where it does."""
    return finding.what.startswith("turns on") and any(f.topic == "bend" for f in route.findings)


def longest_run(flags: np.ndarray) -> tuple[int, int]:
    """Return first and past-the-last position of the longest unbroken run of true flags."""
    best, start = (0, 0), 0
    for i, flag in enumerate(flags.tolist()):
        if not flag:
            start = i + 1
        elif i + 1 - start > best[1] - best[0]:
            best = (start, i + 1)
    return best
