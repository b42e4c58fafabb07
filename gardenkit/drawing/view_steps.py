"""Flights of steps as they stand in the picture: every step a body as high as it is built, the handrail beside it."""

from collections.abc import Callable, Sequence
from functools import partial
from itertools import pairwise

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Hatch, Plain
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.drawing.view_placed import NEAREST, bodies
from gardenkit.geometry.plane import Point
from gardenkit.project.layout import Layout
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.flights import Built, riser_ends
from gardenkit.structure.kinds.thing_forms import Form
from gardenkit.structure.route import Route

RAIL = Figure(0.91, "m", f"a handrail about 36 in above the nosings; {HOUSE}")
SLIVER = 0.02  # share of a tread that its step is deep where it meets the ground
RAIL_COLOUR = "#5b5f58"
Ends = Sequence[tuple[Point, Point]]


def step_parts(scene: Stage, worked: Layout) -> list[Stander]:
    """Return every flight that climbs, as what stands in the picture."""
    found = []
    for name, flights in worked.flights.items():
        for one in flights:
            if one.steps is not None:
                at = _middle(riser_ends(one, worked.routes[name]))
                found.append(Stander(at=at, make=partial(_flight, scene, name, one, worked.routes[name])))
    return found


def step_forms(one: Built, route: Route, ground: Callable[[Point], float]) -> tuple[Form, ...]:
    """Return the steps of a flight from the lowest up, heights above its foot; ``ground`` gives heights on the plan.

    Each is a wedge that stands on the slope: its riser from the ground before it, its tread back into the ground.
    """
    if one.steps is None:
        return ()
    ends = list(riser_ends(one, route))
    ends = ends if one.climbs_along else ends[::-1]
    ends.append(_beyond(ends, one.steps.tread))
    base = ground(_between(*ends[0]))
    found = []
    for number, ((a, b), (c, d)) in enumerate(pairwise(ends), 1):
        high = number * one.steps.riser
        low = min(high - one.steps.riser, ground(a) - base, ground(b) - base)
        foot = (a, b, _between(b, d, SLIVER), _between(a, c, SLIVER))
        found.append(Form(foot=foot, head=(a, b, d, c), low=low, high=high, material="stone", buried=2))
    return tuple(found)


# ---- helpers


def _flight(scene: Stage, name: str, one: Built, route: Route) -> list[Piece]:
    ends = riser_ends(one, route)
    at = _middle(ends)
    away = scene.away(at)
    if away < NEAREST:
        return []
    foot = ends[0] if one.climbs_along else ends[-1]
    base = scene.level(_between(*foot))
    cover, marks = bodies(scene, step_forms(one, route, scene.level), base, away)
    if one.flight.handrail and one.steps is not None:
        marks += _rail(scene, ends if one.climbs_along else ends[::-1], base, one.steps.riser, away)
    if not cover:
        return []
    tip = f"{name}, flight {one.number}"
    return [Piece(marks=tuple(marks), cover=tuple(cover), name=tip, kind="steps", away=away, tip=tip)]


def _rail(scene: Stage, ends: Ends, base: float, riser: float, away: float) -> list[Plain]:
    """Return the handrail on the left edge as one climbs, with a post at its foot, its head and each third step."""
    tops = [(*side[0], base + number * riser + RAIL) for number, side in enumerate(ends, 1)]
    posts = [k for k in range(len(tops)) if k % 3 == 0 or k == len(tops) - 1]
    paths = [np.array(tops), *(np.array([(*tops[k][:2], tops[k][2] - RAIL), tops[k]]) for k in posts)]
    lines = tuple(piece for path in paths if len(path) > 1 for piece in scene.camera.lines(path))
    pen = max(0.15, min(1.0, 0.03 * scene.camera.focal / max(away, 0.8)))
    colour = style.mixed(scene.faded(RAIL_COLOUR, away), style.INK, 0.1)
    return [Hatch(lines=lines, colour=colour, width_mm=pen, layer="planting")] if lines else []


def _beyond(ends: Ends, tread: float) -> tuple[Point, Point]:
    """Return where the tread above the last riser ends: a tread further on, or across it where there is one alone."""
    (a, b), (before, _) = ends[-1], ends[-2] if len(ends) > 1 else (ends[-1][0], ends[-1][0])
    way = np.subtract(_between(a, b), _between(*ends[-2])) if before != a else np.array([a[1] - b[1], b[0] - a[0]])
    long = float(np.hypot(*way)) or 1.0
    x, y = way / long * tread
    return (float(a[0] + x), float(a[1] + y)), (float(b[0] + x), float(b[1] + y))


def _middle(ends: Ends) -> Point:
    return _between(_between(*ends[0]), _between(*ends[-1]))


def _between(a: Point, b: Point, share: float = 0.5) -> Point:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
