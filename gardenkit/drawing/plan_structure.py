"""Seats and supports from above: benches, arches, arbours, pergolas, trellis, wires and trained-fruit frames."""

import math
from collections.abc import Callable, Iterable
from itertools import pairwise

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.scene import Area, Disc, Hatch, Mark, Ring, Stroke, Symbol
from gardenkit.geometry.plane import Point, heading, towards
from gardenkit.structure.kinds import frame_of, is_overhead, support_kind
from gardenkit.structure.kinds.support_parts import PANEL_SPACING
from gardenkit.structure.posts import count_posts
from gardenkit.structure.structure import Seat, Support, Thing
from gardenkit.units import System

POST = 0.06  # m half width of a drawn post
SLATS, SLAT_EVERY = 0.06, 0.22  # m from a screen's middle to its faces as drawn, and between its laths. House values.
Marks = tuple[Area | Hatch | Stroke | Disc, ...]


def seat_marks(seats: Iterable[Seat]) -> tuple[Mark, ...]:
    """Return benches to their size, slatted, back rail behind, with a small pointer the way one looks."""
    marks: list[Mark] = []
    for seat in seats:
        corners = [_local(seat, x, y) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
        slats = tuple((_local(seat, -1, y), _local(seat, 1, y)) for y in (-0.4, 0.1, 0.6))
        tip_at, base = towards(seat.at, seat.facing, seat.depth / 2 + 0.32), seat.depth / 2 + 0.12
        left, right = (towards(towards(seat.at, seat.facing, base), seat.facing + side, 0.1) for side in (-90, 90))
        marks.append(
            Symbol(
                marks=(
                    Area(
                        rings=(tuple(corners),),
                        fill=style.TIMBER,
                        stroke=style.INK,
                        width_mm=style.BUILT,
                        layer="structure",
                    ),
                    Hatch(lines=slats, colour=style.SOFT_INK, width_mm=style.RIB, layer="structure"),
                    Stroke(points=(corners[0], corners[1]), colour=style.INK, width_mm=style.WALL, layer="structure"),
                    Area(rings=((left, tip_at, right),), fill=style.EYE, layer="structure"),
                ),
                tip=f"{seat.name}: seat {seat.width:.2f} m wide",
                layer="structure",
            )
        )
    return tuple(marks)


def support_marks(supports: Iterable[Support], units: System = "imperial") -> tuple[Mark, ...]:
    """Return supports by kind: posts solid, rails and rafters overhead as light lines, as many as a garden in ``units``
    orders.
    """
    return tuple(
        Symbol(
            marks=_overhead(support, units)
            if is_overhead(support)
            else PLAN[support_kind(support.kind).drawn.plan](support),
            tip=f"{support.name}: {support.kind}, {support.height:.2f} m high",
            layer="structure",
        )
        for support in supports
        if len(support.line) > 1 and support.line[0] != support.line[-1]
    )


def name_beside(one: Seat | Thing) -> Wish:
    """Return the name of a seat or placed thing as a label that wants a place beside it."""
    return Wish(
        text=one.name,
        at=one.at,
        clear=max(one.width, one.depth) / 2 + 0.15,
        size_mm=style.NOTE_LETTERS,
        rank=4,
        inside=False,
        italic=True,
    )


def structure_names(seats: Iterable[Seat], supports: Iterable[Support]) -> tuple[Wish, ...]:
    """Return the names of seats and supports as labels that want a place."""
    wishes = [name_beside(seat) for seat in seats]
    for support in supports:
        if len(support.line) > 1:
            a, b = support.line[0], support.line[-1]
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            round_it = support_kind(support.kind).stands == "round"
            clear = max(0.25, support.depth / 2, 0.15 + math.dist(a, b) / 2 if round_it else 0.0)
            wishes.append(
                Wish(
                    text=support.name,
                    at=middle,
                    clear=clear,
                    size_mm=style.NOTE_LETTERS,
                    rank=4,
                    inside=False,
                    italic=True,
                )
            )
    return tuple(wishes)


def _local(seat: Seat, x: float, y: float) -> Point:
    """Return a point of the seat: x -1 to 1 across its width, y -1 (back) to 1 (front)."""
    front = towards(seat.at, seat.facing, y * seat.depth / 2)
    return towards(front, seat.facing + 90, x * seat.width / 2)


def _overhead(support: Support, units: System = "imperial") -> Marks:
    """Return a frame overhead of the timbers that are ordered for it: its posts, beams along, rafters across."""
    first, last = support.line[0], support.line[-1]
    timbers, along = frame_of(attrs.evolve(support, line=(first, last)), units), heading(first, last)

    def at(u: float, v: float) -> Point:
        return towards(towards(first, along, u), along + 90, v)

    half, over, long = timbers.deep / 2, timbers.over, timbers.long
    wide = half + over
    roof: Ring = (at(0, -half), at(long, -half), at(long, half), at(0, half))
    rafters = tuple((at(u, -wide), at(u, wide)) for u in timbers.rafters_at())
    beams = tuple((at(-over, side), at(long + over, side)) for side in (-half, half))
    posts = tuple(_post(at(u, side)) for side in (-half, half) for u in timbers.posts_at())
    return (
        Area(rings=(roof,), fill=style.TIMBER, stroke=None, alpha=0.25, layer="structure"),
        Hatch(lines=rafters, colour="#8a6a3c", width_mm=style.STONE, layer="structure"),
        Hatch(lines=beams, colour=style.INK, width_mm=style.EDGE, layer="structure"),
        Area(rings=posts, fill=style.INK, layer="structure"),
    )


def _run(support: Support) -> Marks:
    """Return boards: a heavy line with its posts, a bay apart."""
    posts = [
        p for a, b in pairwise(support.line) for p in _along(a, b, count_posts(math.dist(a, b), PANEL_SPACING) - 1)
    ]
    return (
        Stroke(points=support.line, colour=style.INK, width_mm=style.BUILT, layer="structure"),
        Area(rings=tuple(_post(p) for p in dict.fromkeys(posts)), fill=style.INK, layer="structure"),
    )


def _slatted(support: Support) -> Marks:
    """Return a panel of laths: two light lines with slanting strokes between them."""
    a, b = support.line[0], support.line[-1]
    along, count = heading(a, b), max(2, round(math.dist(a, b) / SLAT_EVERY))
    sides = tuple((towards(a, along + 90, s * SLATS), towards(b, along + 90, s * SLATS)) for s in (-1, 1))
    slats = tuple(
        (towards(at, along + 45, -1.4 * SLATS), towards(at, along + 45, 1.4 * SLATS))
        for at in _along(a, b, count)[1:-1]
    )
    return (
        Stroke(points=support.line, colour=style.INK, width_mm=style.RIB, layer="structure"),
        Hatch(lines=(*sides, *slats), colour=style.INK, width_mm=style.EDGE, layer="structure"),
        Area(rings=(_post(a), _post(b)), fill=style.INK, layer="structure"),
    )


def _crossed(support: Support) -> Marks:
    """Return laths: a line with small crosses."""
    return _ticked(support, (45.0, -45.0), reach=0.10)


def _ticks(support: Support) -> Marks:
    """Return wires for trained fruit: a line with short ticks across."""
    return _ticked(support, (90.0,), reach=0.05)


def _broken(support: Support) -> Marks:
    """Return wires on a wall: a broken line with short ticks across."""
    return _ticked(support, (90.0,), reach=0.05, dash=style.FINE_DASH)


def _ticked(support: Support, turns: tuple[float, ...], *, reach: float, dash: tuple[float, ...] = ()) -> Marks:
    a, b = support.line[0], support.line[-1]
    along = heading(a, b)
    count = max(2, round(math.dist(a, b) / 0.3))
    ticks = tuple(
        (towards(at, along + turn, -reach), towards(at, along + turn, reach))
        for at in _along(a, b, count)
        for turn in turns
    )
    return (
        Stroke(points=support.line, colour=style.INK, width_mm=style.EDGE, dash=dash, layer="structure"),
        Hatch(lines=ticks, colour=style.INK, width_mm=style.PLANT, layer="structure"),
        Area(rings=(_post(a), _post(b)), fill=style.INK, layer="structure"),
    )


def _tapered(support: Support) -> Marks:
    """Return what stands on a square and meets in a point: the square with its two diagonals, a dot in the middle."""
    a, b = support.line[0], support.line[-1]
    across, half = heading(a, b) + 90, math.dist(a, b) / 2
    near, far = ([towards(p, across, side * half) for p in (a, b)] for side in (-1, 1))
    square: Ring = (near[0], near[1], far[1], far[0])
    legs = ((near[0], far[1]), (near[1], far[0]))
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return (
        Area(
            rings=(square,),
            fill=style.TIMBER,
            alpha=0.35,
            stroke=style.INK,
            width_mm=style.EDGE,
            layer="structure",
        ),
        Hatch(lines=legs, colour=style.INK, width_mm=style.EDGE, layer="structure"),
        Disc(at=middle, radius=POST, fill=style.INK, layer="structure"),
    )


PLAN: dict[str, Callable[[Support], Marks]] = {
    "frame": _overhead,
    "run": _run,
    "slatted": _slatted,
    "crossed ticks": _crossed,
    "ticks": _ticks,
    "broken line": _broken,
    "tapered": _tapered,
}


def _along(a: Point, b: Point, parts: int) -> list[Point]:
    """Return ``parts`` + 1 evenly spaced points from a to b."""
    return [(a[0] + (b[0] - a[0]) * k / parts, a[1] + (b[1] - a[1]) * k / parts) for k in range(parts + 1)]


def _post(at: Point) -> Ring:
    x, y = at
    return ((x - POST, y - POST), (x + POST, y - POST), (x + POST, y + POST), (x - POST, y + POST))
