"""Steps in a path from above: a line for each riser, and an arrow that points up, with how many risers there are.

The arrow to the upper end with "up" and the count is how stairs are drawn in the trade: common practice, no source.
"""

import math
from collections.abc import Iterable

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Hatch, Label, Mark, Ring, Stroke, Symbol, on_ground
from gardenkit.geometry.plane import FloatArray
from gardenkit.structure.flights import Built, fine, flight_words, riser_ends
from gardenkit.structure.route import Route

PAST = 0.20  # m that the arrow stands out below its first riser and above its last. House value.
HEAD = 0.14  # m: length of the arrow's head, and half its width twice that. House value.
BELOW_MM = 1.6  # paper between the foot of the arrow and the middle of the words


@attrs.frozen(kw_only=True)
class FlightDrawn:
    """Steps as a drawing takes them: the ground of the treads, the risers, the way up from foot to head, the words."""

    name: str
    treads: Ring
    risers: tuple[Ring, ...]
    way: Ring
    words: str
    tip: str


def flight_drawn(name: str, one: Built, route: Route) -> FlightDrawn | None:
    """Return a flight of a path on its route for drawing; None where there is nothing to climb."""
    if one.steps is None:
        return None
    s, ends = one.risers, riser_ends(one, route)
    along = np.linspace(s[0] - PAST, s[-1] + PAST, max(2, math.ceil((s[-1] - s[0] + 2 * PAST) / PAST) + 1))
    way = _ring(route.curve.at(along if one.climbs_along else along[::-1]))
    return FlightDrawn(
        name=f"{name}, flight {one.number}",
        tip=f"{name}, flight {one.number}: {flight_words(one)} risers of {fine(one.steps.riser)}",
        treads=(*(left for left, _ in ends), *(right for _, right in reversed(ends))),
        risers=ends,
        way=way,
        words=flight_words(one),
    )


def flight_marks(flights: Iterable[FlightDrawn], *, scale: float) -> tuple[Mark, ...]:
    """Return flights on the plan: treads bare, risers across, the arrow up along the middle, the count at its foot."""
    marks: list[Mark] = []
    for one in flights:
        marks.append(
            Symbol(
                marks=(
                    Area(rings=(one.treads,), fill=style.PAPER, layer="paths"),
                    Hatch(lines=one.risers, colour=style.INK, width_mm=style.STONE, layer="paths"),
                    Stroke(points=one.way, colour=style.INK, width_mm=style.PLANT, layer="paths"),
                    Area(rings=(arrow_head(one.way),), fill=style.INK, layer="paths"),
                ),
                tip=one.tip,
                layer="paths",
            )
        )
        marks.append(_count(one, scale))
    return tuple(marks)


def arrow_head(way: Ring) -> Ring:
    """Return the head of an arrow that ends where the way does."""
    (ax, ay), (bx, by) = way[-2], way[-1]
    far = math.dist(way[-2], way[-1]) or 1.0
    ux, uy = (bx - ax) / far * HEAD, (by - ay) / far * HEAD
    return ((bx, by), (bx - ux - uy / 2, by - uy + ux / 2), (bx - ux + uy / 2, by - uy - ux / 2))


def _count(one: FlightDrawn, scale: float) -> Label:
    """Return the words on the landing before the foot of the arrow, where one comes to the steps from below."""
    (ax, ay), (bx, by) = one.way[0], one.way[1]
    far = math.dist(one.way[0], one.way[1]) or 1.0
    back = on_ground(BELOW_MM, scale) / far
    at = (ax - back * (bx - ax), ay - back * (by - ay))
    return Label(at=at, text=one.words, size_mm=style.SMALL_LETTERS, bold=True, halo=style.PAPER, layer="labels")


def _ring(points: FloatArray) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)
