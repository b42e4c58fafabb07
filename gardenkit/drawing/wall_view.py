"""A wall of the house to scale, seen from outside: windows and doors, the supports before it, plants as grown."""

from collections.abc import Sequence

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.elevation import WallBehind, elevation_scene
from gardenkit.drawing.furniture import Units
from gardenkit.drawing.scene import Area, Hatch, Label, Mark, Ring, Scene
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.geometry.plane import Point
from gardenkit.structure.structure import Support
from gardenkit.structure.wall_elevation import NEAR, WallElevation

BAR_APART = 0.3  # m between the drawn bars of a lattice, or wires
TALLEST = 3.2  # m: a support's name stands over it, no higher than this


def wall_scene(
    wall: WallElevation,
    ends: tuple[Point, Point],
    plants: Sequence[PlantDrawn],
    *,
    supports: Sequence[Support] = (),
    title: str,
    scale: float = 48.0,
    units: Units = "imperial",
) -> Scene:
    """Return a wall seen square on: ``ends`` its left and right end on the plan as seen from outside.

    Plants within 1.5 m before the wall are drawn at their size; climbers and trained plants as they were measured.
    """
    (ax, ay), (bx, by) = ends
    ux, uy = (bx - ax) / wall.length, (by - ay) / wall.length
    out = (NEAR * uy, -NEAR * ux)
    before = ((ax + out[0], ay + out[1]), (bx + out[0], by + out[1]))
    openings = tuple((m.left, m.right, m.bottom, m.top, m.kind) for m in wall.marks if m.kind in ("door", "window"))
    behind = WallBehind(left=0.0, right=wall.length, height=wall.eaves, name=wall.building, openings=openings)
    drawn = elevation_scene(
        plants, line=before, title=title, depth=NEAR + 0.3, walls=[behind], scale=scale, units=units
    )
    kinds = {s.name: s for s in supports}
    extra: list[Mark] = []
    for mark in wall.marks:
        if mark.kind == "support" and mark.name in kinds:
            extra += _support(kinds[mark.name], mark.left, mark.right, mark.bottom, mark.top)
    said = "; ".join(f"{m.kind} {m.name}" for m in wall.marks if m.kind != "plant")
    words = f"{title}. On the wall: {said or 'nothing'}. {drawn.description}"
    return attrs.evolve(drawn, marks=(*drawn.marks, *extra), description=words)


def _support(support: Support, left: float, right: float, low: float, high: float) -> list[Mark]:
    """Return a support seen square on: posts and a beam overhead, laths, wires or boards."""
    tip = f"{support.name}: {support.kind}"
    name = Label(at=((left + right) / 2, min(high, TALLEST) + 0.14), text=support.name, size_mm=2.0, layer="furniture")
    if support.kind in ("arch", "arbour", "pergola"):
        bars = [
            _box(left, low, left + 0.09, high),
            _box(right - 0.09, low, right, high),
            _box(left, high - 0.14, right, high),
        ]
        return [
            *(
                Area(rings=(b,), fill=style.TIMBER, stroke=style.INK, width_mm=style.EDGE, layer="ground", tip=tip)
                for b in bars
            ),
            name,
        ]
    foot = low + (0.3 if support.kind in ("trellis", "espalier", "wall wires") else 0.0)
    rows = max(1, round((high - foot) / BAR_APART))
    flat = tuple(
        ((left, foot + k * (high - foot) / rows), (right, foot + k * (high - foot) / rows)) for k in range(rows + 1)
    )
    if support.kind in ("wall wires", "espalier"):
        return [Hatch(lines=flat, colour=style.SOFT_INK, width_mm=style.EDGE, layer="ground"), name]
    columns = max(1, round((right - left) / BAR_APART))
    upright = tuple(
        ((left + k * (right - left) / columns, foot), (left + k * (right - left) / columns, high))
        for k in range(columns + 1)
    )
    frame = Area(rings=(_box(left, foot, right, high),), fill=style.TIMBER, alpha=0.25, layer="ground", tip=tip)
    return [frame, Hatch(lines=(*flat, *upright), colour=style.INK, width_mm=style.EDGE, layer="ground"), name]


def _box(left: float, low: float, right: float, high: float) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))
