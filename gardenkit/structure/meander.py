"""Ways a path might wander: many routes tried, the best few for what you want shown with what each one costs."""

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import medial, plane
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.structure.flights import left_by_flights
from gardenkit.structure.route import Route, route
from gardenkit.structure.structure import Path, PathLine

Goal = Literal["largest pocket", "least straight view", "shortest", "gentlest slope"]
GOALS: tuple[Goal, ...] = ("largest pocket", "least straight view", "shortest", "gentlest slope")
Heights = Callable[[FloatArray], FloatArray]  # ground heights in metres (n,) for points (n, 2)
BENDS = (0.35, 0.7, 1.0)  # tried, with none; house value, looks that differ at a glance
SWAYS = (0, 1, 2)  # tried; house value, more than two changes of side is a slalom in a home garden
LONGEST = 1.35  # length factor over the most direct way; house value: a third longer is still walked, not cut across
SLOPE_RUN = 1.0  # m over which a slope is measured; house value, about a step and a half
ALIKE = 0.2  # m: lines nowhere further apart are one to the eye. House value.
STEP = 0.4  # m between the points used for views and slopes; house value


@attrs.frozen(eq=False, kw_only=True)
class Meander:
    """A route proposed for one ``goal``, the ``path`` record that gives it, and its figures beside the others'.

    ``pocket`` is the radius in metres of the largest circle beside it, ``straight_view`` the longest straight look
    along its surface in metres, ``steepest`` percent (None without heights), ``factor`` its length over the most direct
    way's. ``swing`` is how far aside of the most direct way any line that was tried runs, in metres.
    """

    goal: Goal
    path: Path
    route: Route
    length: float
    factor: float
    pocket: float
    straight_view: float
    steepest: float | None
    swing: float = 0.0

    @property
    def longer(self) -> float:
        """By what share it is longer than the most direct way."""
        return self.factor - 1

    @property
    def crown(self) -> float:
        """How wide a crown finds room beside it, in metres."""
        return 2 * self.pocket


def same_but_for_bends(a: Path, b: Path) -> bool:
    """Return whether two records are of one path that only bends otherwise: what a route option may change."""
    return a == attrs.evolve(b, curvature=a.curvature, sway=a.sway, first_side=a.first_side, line=a.line, round=a.round)


def propose_meanders(
    start: Point,
    end: Point,
    ground: Region,
    obstacles: Region | Sequence[Region],
    path: Path,
    *,
    goals: Sequence[Goal] = GOALS,
    length_factor: float = LONGEST,
    heights: Heights | None = None,
    taken: Region = plane.NOWHERE,
) -> tuple[Meander, ...]:
    """Return the best route for each goal, among fair curves and lines along a side that are at most ``length_factor``
    times as long as the most direct way.

    Pockets are looked for in ``ground`` less the path and ``taken`` (lawn, patio, obstacles that no tree can share).
    The gentlest slope needs ``heights``. A route that is best for two goals comes twice, once for each. Raises
    GardenError for an unknown goal or when no route fits.
    """
    for goal in goals:
        if goal not in GOALS:
            raise GardenError(
                f'there is no goal "{goal}" for a path{nearest(goal, GOALS)}; goals are {", ".join(GOALS)}'
            )
    found = _tried(start, end, ground, obstacles, path)
    direct = min(r.length for _, r in found)
    within = [(p, r) for p, r in found if r.length <= length_factor * direct + 1e-9]
    left = plane.difference(ground, taken)
    every = [_figures(p, r, direct, left, heights) for p, r in within]
    straightest = min(every, key=lambda m: m.length)
    swing = max(lines_apart(m.route, straightest.route) for m in every)
    best: dict[Goal, Meander] = {}
    for goal in sorted(goals, key=("shortest", *GOALS).index):  # what is as good as another is then none of the others
        if heights is not None or goal != "gentlest slope":
            chosen = _best_for(goal, every, list(best.values()))
            best[goal] = attrs.evolve(chosen, goal=goal, swing=swing)
    return tuple(best[goal] for goal in goals if goal in best)


def lines_apart(a: Route, b: Route) -> float:
    """Return how far two routes' middle lines are apart where they are furthest, in metres."""
    p = a.curve.at(np.linspace(0, a.length, max(3, round(a.length / STEP) + 1)))
    return float(np.hypot(*(p[:, None] - b.curve.points[None]).transpose(2, 0, 1)).min(axis=1).max())


def look_alike(a: Meander, b: Meander) -> bool:
    """Return whether two routes are one line to the eye."""
    return lines_apart(a.route, b.route) < ALIKE


def _best_for(goal: Goal, every: Sequence[Meander], others: Sequence[Meander]) -> Meander:
    """Return the best route for a goal; of those as good the one most unlike the others, then the shorter."""
    least = min(_cost(m, goal)[0] for m in every)
    good = [m for m in every if _cost(m, goal)[0] == least]

    def unlike(m: Meander) -> float:
        return min((lines_apart(m.route, other.route) for other in others), default=0.0)

    return min(good, key=lambda m: (-round(unlike(m), 1), m.length))


def straight_view(line: FloatArray, width: float) -> float:
    """Return the longest straight look along a path in metres: the longest chord whose way stays within its surface.

    ``line`` (n, 2) are points of the middle line in order.
    """
    best, first = 0.0, 0
    for i in range(len(line) - 1):
        for j in range(max(i + 1, first), len(line)):
            far = math.dist(line[i], line[j])
            if far <= best:
                continue
            if _stays(line, i, j, width):
                best, first = far, j
            elif j > first + 3:
                break
    return best


def steepest_percent(
    curve_points: FloatArray,
    along: FloatArray,
    heights: Heights,
    *,
    run: float = SLOPE_RUN,
    piece: tuple[float, float] | None = None,
) -> float:
    """Return the steepest slope along a line in percent, measured over ``run`` metres; of a ``piece`` alone (from, to
    in metres along it) when given.
    """
    start, end = piece or (0.0, float(along[-1]))
    s = np.linspace(start, end, max(2, round((end - start) / (run / 2)) + 1))
    at = np.column_stack([np.interp(s, along, curve_points[:, axis]) for axis in (0, 1)])
    z = heights(at)
    apart = min(2, len(s) - 1)
    return float(np.abs(100 * (z[apart:] - z[:-apart]) / (s[apart:] - s[:-apart])).max())


def _tried(
    start: Point, end: Point, ground: Region, obstacles: Region | Sequence[Region], path: Path
) -> list[tuple[Path, Route]]:
    blocks = obstacles if isinstance(obstacles, Region) else plane.union(obstacles)
    found, trouble = list[tuple[Path, Route]](), None
    for way in _ways(path):
        try:
            made = route(start, end, ground, blocks, way)
        except GardenError as error:
            trouble = error
            continue
        if way.curvature == 0 or made.curvature > 0:
            found.append((way, made))
    if not found:
        raise trouble or GardenError(f'the path "{path.name}" cannot fit; make it narrower')
    return found


def _ways(path: Path) -> Iterator[Path]:
    """Yield the path unbent, in fair curves, and along each side."""
    fair = attrs.evolve(path, line="fair curves")
    yield attrs.evolve(fair, curvature=0.0)
    sides: tuple[Literal["left", "right"], ...] = ("left", "right")
    lines: tuple[tuple[PathLine, int], ...] = (*(("fair curves", sway) for sway in SWAYS), ("along one side", 0))
    for (line, sway), curvature, side in itertools.product(lines, BENDS, sides):
        yield attrs.evolve(fair, line=line, sway=sway, curvature=curvature, first_side=side)


def _figures(path: Path, made: Route, direct: float, left: Region, heights: Heights | None) -> Meander:
    free = plane.difference(left, made.region)
    pocket = medial.circles(free, most=1, tolerance=0.05)[0].radius if not free.is_empty else 0.0
    line = made.curve.at(np.linspace(0, made.length, max(3, round(made.length / STEP) + 1)))
    steepest = None if heights is None else _steepest(path, made, heights)
    return Meander(
        goal="shortest",
        path=path,
        route=made,
        length=made.length,
        factor=made.length / direct,
        pocket=pocket,
        straight_view=straight_view(line, made.width),
        steepest=steepest,
    )


def _steepest(path: Path, made: Route, heights: Heights) -> float:
    """Return the steepest slope of a route in percent, what its flights of steps take left out."""
    pieces = left_by_flights(path, made.length)
    curve = made.curve
    return max((steepest_percent(curve.points, curve.along, heights, piece=piece) for piece in pieces), default=0.0)


def _cost(meander: Meander, goal: Goal) -> tuple[float, float]:
    figure = {
        "largest pocket": -round(meander.pocket, 2),
        "least straight view": round(meander.straight_view, 2),
        "shortest": meander.length,
        "gentlest slope": round(meander.steepest or 0.0, 4),
    }[goal]
    return figure, meander.length


def _stays(line: FloatArray, i: int, j: int, width: float) -> bool:
    run = line[j] - line[i]
    off = line[i + 1 : j] - line[i]
    across = np.abs(run[0] * off[:, 1] - run[1] * off[:, 0])
    return bool((across <= width / 2 * math.hypot(*run)).all())
