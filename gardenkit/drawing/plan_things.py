"""Placed things from above, each drawn by its own bodies to its size, with the room it wants as a fine broken line."""

import math
from collections.abc import Iterable
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.plan_steps import PAST, arrow_head
from gardenkit.drawing.plan_structure import name_beside
from gardenkit.drawing.scene import Area, Hatch, Mark, Plain, Ring, Stroke, Symbol
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Point
from gardenkit.geometry.rows import walked
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.thing_forms import Form
from gardenkit.structure.kinds.things_hedges import leaves_of
from gardenkit.structure.ramps import slope_up
from gardenkit.structure.structure import Cable, Thing
from gardenkit.structure.things import forms_of, lit_by, outline_of, room_of, run_of


@attrs.frozen(kw_only=True)
class Look:
    """The colours of a material: on the ``plan``, and standing before one in a ``view``; ``clear`` is how much shows
    through it.
    """

    plan: str
    view: str
    clear: float = 0.0


MATERIALS: dict[str, Look] = {  # House values.
    "timber": Look(plan="#d9c19c", view="#a98657"),
    "dark timber": Look(plan="#bfa078", view="#7d6244"),
    "stone": Look(plan="#c6c2b7", view="#a7a294"),
    "pale stone": Look(plan="#dedacf", view="#cbc5b6"),
    "brick": Look(plan="#cfa08a", view="#a9705a"),
    "terracotta": Look(plan="#d9a284", view="#b9714f"),
    "metal": Look(plan="#9aa09c", view="#6d736f"),
    "frame": Look(plan="#aeb8ae", view="#8d998d"),
    "green plastic": Look(plan="#9fb391", view="#5f7a55"),
    "dark plastic": Look(plan="#8a9085", view="#4d534b"),
    "door": Look(plan="#aeb8ae", view="#9fb0ae"),
    "bar": Look(plan="#aeb8ae", view="#e4e8e2"),
    "glass": Look(plan="#dfeaec", view="#bcd3d8", clear=0.55),
    "water": Look(plan="#cfe1e8", view="#8fb0bd"),
    "soil": Look(plan="#c9b193", view="#6f5a44"),
    "compost": Look(plan="#b89f80", view="#5d4a38"),
    "embers": Look(plan="#8d857c", view="#4c4642"),
    "felt": Look(plan="#b3ada2", view="#6b6862"),
    "cord": Look(plan="#8b8d86", view="#7d7f79"),
    "lamp": Look(plan="#f6dd8a", view="#f4d77a"),
    "leaves": Look(plan="#b9c9a2", view="#5d7a4a"),
    "turf": Look(plan="#c3d1a3", view="#5f6f3f"),
    "gravel": Look(plan="#dcd5c4", view="#958a74"),
    "beech leaves": Look(plan="#c3d09c", view="#708c43"),
    "box leaves": Look(plan="#b4c99a", view="#527a3a"),
    "yew leaves": Look(plan="#a9bc9a", view="#3c5638"),
    "mixed leaves": Look(plan="#bfc9a6", view="#687b4c"),
    "fabric": Look(plan="#e6ddc8", view="#d6c9ab"),
}
LAMPLIGHT = {"warm": "#f6dd8a", "cool": "#c9e2f5"}  # on the ground, by the colour of a lamp's light. House values.
BOX = 0.25  # m, a transformer. House value.
WIRE = "#8a3d2f"
LEAVES_EVERY = 0.18  # m along a hedge. House value.
WELD = 0.002  # m: the pieces of a bank are drawn as one. House value.
THIN = 0.05  # m: a narrower body is drawn with a fine line. House value.


def thing_marks(things: Iterable[Thing], *, lit: bool = True) -> tuple[Mark, ...]:
    """Return things from above, what is low first, in their own colours; ``lit``: with the ground that lamps light."""
    return tuple(
        Symbol(
            marks=_hedge(thing) if thing_kind(thing.kind).lined else _set_up(thing, lit=lit),
            tip=f"{thing.name}: {thing.kind}, {thing.width:.2f} m by {thing.depth:.2f} m, {thing.height:.2f} m high",
            layer="structure",
        )
        for thing in things
    )


def thing_names(things: Iterable[Thing]) -> tuple[Wish, ...]:
    """Return the names of things as labels that want a place beside them."""
    return tuple(
        wish
        for thing in things
        if not thing_kind(thing.kind).inside  # the bed within its walls has the name
        for wish in (name_beside(thing), *_marked_up(thing))
    )


def hedge_ground(things: Iterable[Thing]) -> tuple[Mark, ...]:
    """Return the ground that hedges will fill, as worked soil, under them while they are young."""
    return tuple(
        Area(rings=(outline_of(one),), fill=style.GROUND["bed"], layer="ground")
        for one in things
        if thing_kind(one.kind).lined
    )


def cable_marks(cables: Iterable[Cable]) -> tuple[Mark, ...]:
    """Return cables as laid by hand: a broken line from a small square, the transformer."""
    marks: list[Mark] = []
    for cable in cables:
        (x, y), half, tip = cable.line[0], BOX / 2, f"{cable.name}: low-voltage cable"
        box = ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
        marks += [
            Stroke(points=cable.line, colour=WIRE, width_mm=0.3, dash=style.HIDDEN_DASH, layer="structure", tip=tip),
            Area(rings=(box,), fill=style.PAPER, stroke=WIRE, width_mm=0.3, layer="structure", tip=tip),
        ]
    return tuple(marks)


# ---- helpers


def _hedge(thing: Thing) -> tuple[Plain, ...]:
    """Return a hedge from above: one green outline, with short strokes of leaf from both its sides."""
    look, half = MATERIALS[leaves_of(thing)], thing.depth / 2
    run = walked(run_of(thing), LEAVES_EVERY)
    strokes: list[Ring] = []
    for k, ((x, y), (nx, ny)) in enumerate(pairwise(run)):
        far = math.dist((x, y), (nx, ny)) or 1.0
        ahead, side = ((nx - x) / far, (ny - y) / far), 1 if k % 2 else -1
        off = (-ahead[1] * side * half, ahead[0] * side * half)
        strokes.append(
            (
                (x + 0.85 * off[0], y + 0.85 * off[1]),
                (x + 0.4 * off[0] + 0.3 * ahead[0] * half, y + 0.4 * off[1] + 0.3 * ahead[1] * half),
                (x + 0.75 * off[0] + 0.6 * ahead[0] * half, y + 0.75 * off[1] + 0.6 * ahead[1] * half),
            )
        )
    edge = Area(rings=(outline_of(thing),), fill=look.plan, stroke=style.INK, width_mm=style.EDGE, layer="structure")
    return (edge, Hatch(lines=tuple(strokes), colour=look.view, width_mm=style.RIB, layer="structure"))


def _set_up(thing: Thing, *, lit: bool) -> tuple[Plain, ...]:
    return (*(_pool(thing) if lit else ()), *_room(thing), *_bodies(thing), *_way_up(thing))


def _way_up(thing: Thing) -> tuple[Plain, ...]:
    """Return the arrow up the middle of steps or of a ramp."""
    if not _words_up(thing):
        return ()
    half = thing.depth / 2
    way = plane.moved(plane.turned(((0.0, half + PAST), (0.0, -half)), thing.facing), thing.at)
    return (
        Stroke(points=way, colour=style.INK, width_mm=style.PLANT, layer="structure"),
        Area(rings=(arrow_head(way),), fill=style.INK, layer="structure"),
    )


def _marked_up(thing: Thing) -> tuple[Wish, ...]:
    """Return how many risers there are, or how steep it is, at the foot of the arrow."""
    words = _words_up(thing)
    if not words:
        return ()
    (at,) = plane.moved(plane.turned(((0.0, thing.depth / 2 + PAST),), thing.facing), thing.at)
    return (Wish(text=words, at=at, size_mm=style.SMALL_LETTERS, rank=4, leader=False, bold=True),)


def _words_up(thing: Thing) -> str:
    """Return what stands at the arrow of steps or of a ramp; nothing for other things."""
    kind = thing_kind(thing.kind)
    if kind.slopes is not None:
        return slope_up(kind.slopes(thing) / thing.height)
    return kind.steps(thing).up if kind.steps is not None else ""


def _pool(thing: Thing) -> tuple[Plain, ...]:
    """Return the ground that a lamp lights, faint: the plan is mostly read by day."""
    ring = lit_by(thing)
    if not ring:
        return ()
    colour = LAMPLIGHT[thing.light]
    return (
        Area(rings=(ring,), fill=colour, alpha=0.1, layer="structure"),
        Area(rings=(ring,), stroke=style.SOFT_INK, width_mm=style.FLECK, alpha=0.6, layer="structure"),
    )


def _room(thing: Thing) -> tuple[Plain, ...]:
    outline = room_of(thing)
    if not outline:
        return ()
    ring = (*outline, outline[0])
    return (Stroke(points=ring, colour=style.SOFT_INK, width_mm=style.FLECK, dash=style.FINE_DASH, layer="structure"),)


def _bodies(thing: Thing) -> tuple[Plain, ...]:
    marks: list[Plain] = []
    holds = bool(thing_kind(thing.kind).inside)
    forms = forms_of(thing)
    banks = [form for form in forms if form.material == "turf"] if holds else []
    if banks:
        rings = plane.rings(plane.union(plane.grown(plane.region(form.foot), WELD) for form in banks))
        look = MATERIALS["turf"]
        marks.append(
            Area(
                rings=tuple(map(tuple, rings)), fill=look.plan, stroke=style.INK, width_mm=style.EDGE, layer="structure"
            )
        )
    for form in sorted((form for form in forms if form not in banks), key=lambda one: one.high):
        if holds and form.material == "soil":  # the bed within the walls is drawn as a bed, with what grows in it
            continue
        look = MATERIALS[form.material]
        wide = style.EDGE if _thickness(form) > THIN else style.RIB
        for outline in _seen_from_above(form):
            marks.append(
                Area(
                    rings=(outline,),
                    fill=look.plan,
                    stroke=style.INK,
                    width_mm=wide,
                    alpha=1.0 - 0.6 * look.clear,
                    layer="structure",
                )
            )
        if form.boards:
            lines = boards_of(form.head, form.boards)
            marks.append(Hatch(lines=lines, colour=style.SOFT_INK, width_mm=style.RIB, layer="structure"))
    return tuple(marks)


def _seen_from_above(form: Form) -> tuple[Ring, ...]:
    """Return the outlines that show: of what leans or tapers all that it covers and its head, else its head alone."""
    foot, head = np.asarray(form.foot), np.asarray(form.head)
    leans = float(np.linalg.norm(head.mean(axis=0) - foot.mean(axis=0))) > THIN
    if form.foot == form.head or (_thickness(form) <= THIN and not leans):
        return (form.head,)
    return (plane.hull_outline(np.vstack((foot, head))), form.head)


def _thickness(form: Form) -> float:
    """Return how wide a body is, seen from above, across its longest side."""
    ends = [*zip(form.foot, (*form.foot[1:], form.foot[0]), strict=True)]
    longest = max(math.dist(a, b) for a, b in ends)
    return plane.area(plane.region(form.foot)) / longest if longest > 0 else 0.0


def boards_of(outline: Outline, count: int) -> tuple[Ring, ...]:
    """Return the joints between boards that run along the longer side of a four-cornered outline."""
    a, b, c, d = outline[:4]
    if _far(a, b) < _far(b, c):
        a, b, c, d = b, c, d, a
    return tuple((_between(a, d, k / count), _between(b, c, k / count)) for k in range(1, count))


def _far(a: Point, b: Point) -> float:
    return math.dist(a, b)


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
