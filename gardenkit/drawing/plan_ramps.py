"""Ramps in a path from above: an arrow up each run with its slope, a line across at its ends, its handrails."""

import math
from collections.abc import Iterable

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.plan_steps import arrow_head
from gardenkit.drawing.scene import Area, Hatch, Label, Mark, Ring, Stroke, Symbol
from gardenkit.geometry.plane import Point
from gardenkit.structure.ramp_runs import RampRun, rail_lines, way_up
from gardenkit.structure.ramps import slope_up
from gardenkit.structure.route import Route

RAIL_MM = 0.5  # a handrail's pen. House value.
ASIDE = 0.45  # of half the path's width that the words stand beside the arrow. House value.


@attrs.frozen(kw_only=True)
class RampDrawn:
    """A run of a ramp as a drawing takes it: its way up, the lines across at its ends, its handrails, its slope in
    words and the place of these.
    """

    name: str
    way: Ring
    ends: tuple[Ring, Ring]
    rails: tuple[Ring, ...]
    words: str
    at: Point


def ramp_drawn(name: str, run: RampRun, route: Route, *, railed: bool) -> RampDrawn:
    """Return a run of a path on its route for drawing, with its handrails where it is ``railed``."""
    left, right = rail_lines(run, route)[1]
    half = np.array((route.width / 2, -route.width / 2))
    ends = [route.curve.beside(np.array((at, at)), half) for at in (run.start, run.end)]
    return RampDrawn(
        name=f"{name}, ramp {run.number}",
        way=way_up(run, route),
        ends=(_ring(ends[0]), _ring(ends[1])),
        rails=(_ring(left), _ring(right)) if railed else (),
        words=slope_up(run.one_in),
        at=_ring(route.curve.beside(np.array([(run.start + run.end) / 2]), -ASIDE * half[:1]))[0],
    )


def ramp_marks(ramps: Iterable[RampDrawn]) -> tuple[Mark, ...]:
    """Return the runs of ramps on the plan."""
    marks: list[Mark] = []
    for one in ramps:
        railed = ", handrails on both sides" if one.rails else ""
        rails = [Stroke(points=rail, colour=style.INK, width_mm=RAIL_MM, layer="paths") for rail in one.rails]
        marks.append(
            Symbol(
                marks=(
                    Hatch(lines=one.ends, colour=style.INK, width_mm=style.STONE, layer="paths"),
                    Stroke(points=one.way, colour=style.INK, width_mm=style.PLANT, layer="paths"),
                    Area(rings=(arrow_head(one.way),), fill=style.INK, layer="paths"),
                    *rails,
                ),
                tip=f"{one.name}: {one.words}{railed}",
                layer="paths",
            )
        )
        (ax, ay), (bx, by) = one.way[0], one.way[-1]
        turn = math.degrees(math.atan2(by - ay, bx - ax))
        turn = turn - 180 if 90 < turn % 360 < 270 else turn
        marks.append(
            Label(
                at=one.at,
                text=one.words,
                size_mm=style.SMALL_LETTERS,
                turn=turn,
                halo=style.PAPER,
                layer="labels",
            )
        )
    return tuple(marks)


def _ring(points: Iterable[Iterable[float]]) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)
