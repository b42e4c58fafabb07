"""Placed things seen square on: every body of a thing as it stands against a line, near ones over far ones."""

from collections.abc import Iterable

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.plan_things import MATERIALS
from gardenkit.drawing.scene import Area, Symbol
from gardenkit.geometry.plane import Point, hull_outline
from gardenkit.structure.kinds.thing_forms import Form
from gardenkit.structure.structure import Thing
from gardenkit.structure.things import forms_of

BEFORE = 1.0  # m before the line that plants and things are still seen. House value.
PALER = 0.45  # share of the paper's colour in what stands at the back of the depth that is shown. House value.


def seen(things: Iterable[Thing], line: tuple[Point, Point], *, depth: float) -> list[tuple[float, Symbol, Thing]]:
    """Return (metres beyond the line, symbol, thing) of each thing that stands before or up to ``depth`` beyond a line.

    The scene's x runs along the line from its first end, y is height above the ground the thing stands on.
    """
    long = float(np.hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]))
    found = []
    for thing in things:
        x, away = _local(thing.at, line, long)
        half = max(thing.width, thing.depth) / 2
        if -half <= x <= long + half and -BEFORE <= away <= depth:
            fade = PALER * min(1.0, max(0.0, away / max(depth, 1e-6)))
            found.append((away, _symbol(thing, line, long, fade), thing))
    return found


def _symbol(thing: Thing, line: tuple[Point, Point], long: float, fade: float) -> Symbol:
    forms = sorted(forms_of(thing), key=lambda form: (-round(_beyond(form, line, long), 2), form.low))
    marks = tuple(mark for form in forms for mark in _marks(form, line, long, fade))
    return Symbol(marks=marks, tip=f"{thing.name}: {thing.kind}, {thing.height:.2f} m high", layer="planting")


def _marks(form: Form, line: tuple[Point, Point], long: float, fade: float) -> tuple[Area, ...]:
    spots = [(_local(p, line, long)[0], z) for ring, z in ((form.foot, form.low), (form.head, form.high)) for p in ring]
    outline = hull_outline(np.asarray(spots))
    if len(outline) < 3:
        return ()
    look = MATERIALS[form.material]
    fill = style.mixed(look.view, style.PAPER, fade)
    edge = style.mixed(style.INK, style.PAPER, fade)
    area = Area(
        rings=(tuple(outline),),
        fill=fill,
        stroke=edge,
        width_mm=style.PLANT,
        alpha=1.0 - 0.6 * look.clear,
        layer="planting",
    )
    return (area,)


def _beyond(form: Form, line: tuple[Point, Point], long: float) -> float:
    return float(np.mean([_local(p, line, long)[1] for p in form.foot]))


def _local(at: Point, line: tuple[Point, Point], long: float) -> tuple[float, float]:
    (ax, ay), (bx, by) = line
    ux, uy = (bx - ax) / long, (by - ay) / long
    dx, dy = at[0] - ax, at[1] - ay
    return dx * ux + dy * uy, dy * ux - dx * uy
