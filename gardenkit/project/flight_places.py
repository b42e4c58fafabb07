"""Where flights of steps would bring a steep path within its slope rule."""

from itertools import pairwise

import attrs
import numpy as np

from gardenkit.project.rules import graded, longest_run, path_slopes, worst_piece
from gardenkit.site.levels import Surface
from gardenkit.structure.flights import DUG, Built, built
from gardenkit.structure.path_rules import SLOPES, WHEELED, slope_allowed
from gardenkit.structure.route import Route
from gardenkit.structure.structure import Flight, Path

Stretch = tuple[float, float]  # from, to in metres along a path
NO_STEPS = ("accessible route", "ramp")  # slope rules of a path that is to be free of steps
MOST = 8  # flights put into one path; one that needs more wants another way. House value.
LEAST_RISE = 0.40  # m: three low risers; fewer together are easily missed (handbook). House value.
ROOM = 0.05  # m that a flight is given beyond what it needs. House value.
SLIVER = 0.6  # m: a shorter piece of path beside a flight becomes its landing. House value.
TRIES = 20  # times a stretch is lengthened by what its flights lack


def takes_steps(path: Path) -> bool:
    """Return whether a path's use and slope rule leave it free to have steps."""
    return path.use not in WHEELED and path.slope_rule not in NO_STEPS


def flights_for(path: Path, route: Route, ground: Surface) -> tuple[Stretch, ...]:
    """Return the stretches that flights have to take so that a path keeps its slope rule; none where they cannot."""
    added: list[Stretch] = []
    while (found := _steep_stretch(_with(path, route, added), route, ground)) is not None:
        more = _stretches(*found, path, route, ground)
        added += more
        if not more or len(added) > MOST:
            return ()
    return tuple(sorted(added))


# ---- helpers


def _with(path: Path, route: Route, added: list[Stretch]) -> Path:
    more = (Flight(start=start / route.length, end=end / route.length) for start, end in added)
    return attrs.evolve(path, flights=tuple(sorted((*path.flights, *more), key=lambda flight: flight.start)))


def _steep_stretch(path: Path, route: Route, ground: Surface) -> tuple[Stretch, Stretch] | None:
    """Return the longest steep stretch of the piece of path that is furthest from its rule, and that piece."""
    worst = worst_piece(path, path_slopes(path, route, ground))
    if worst is None or slope_allowed(worst.steepest, worst.length, by=path.slope_rule):
        return None
    steps = SLOPES[path.slope_rule][1]
    limit = max(percent for percent, _ in steps)
    if abs(worst.steepest) <= limit:  # steep for so long a piece only
        limit = max((percent for percent, far in steps if far >= worst.length), default=0.0)
    line = graded(route, ground, *worst.piece)
    first, last = longest_run(np.abs(line.percent) > limit)
    return (float(line.s[first]), float(line.s[last - 1 + line.apart])), worst.piece


def _stretches(steep: Stretch, piece: Stretch, path: Path, route: Route, ground: Surface) -> tuple[Stretch, ...]:
    """Return one or more flights beside each other over a steep stretch: as few as keep digging shallow, and fit."""
    best: tuple[float, tuple[Stretch, ...]] = (np.inf, ())
    rise = abs(float(np.diff(ground.at(route.curve.at(np.asarray(steep))))[0]))
    for count in range(1, min(MOST, max(1, int(rise / LEAST_RISE))) + 1):
        made = _fitted(steep, piece, count, path, route, ground)
        deep = max((max(one.cut, one.fill) for one in made), default=np.inf)
        if deep < best[0]:
            best = (deep, tuple((one.start, one.end) for one in made))
        if deep <= DUG:
            break
    return best[1]


def _fitted(steep: Stretch, piece: Stretch, count: int, path: Path, route: Route, ground: Surface) -> tuple[Built, ...]:
    """Return ``count`` flights of one length over a steep stretch, lengthened within its piece until all fit."""
    (start, end), (low, high) = steep, piece
    for _ in range(TRIES):
        start = low if start - low < SLIVER else start
        end = high if high - end < SLIVER else end
        bounds = np.linspace(start, end, count + 1)
        flights = tuple(Flight(start=a / route.length, end=b / route.length) for a, b in pairwise(bounds.tolist()))
        made = built(attrs.evolve(path, flights=flights), route, ground)
        if any(one.steps is None for one in made):
            return ()
        lacks = count * max(0.0, *(ROOM - one.left_over for one in made)) if made else 0.0
        if lacks <= ROOM:
            return made
        if start <= low and end >= high:
            return ()
        start, end = max(low, start - lacks / 2), min(high, end + lacks / 2)
    return ()
