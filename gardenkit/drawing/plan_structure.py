"""Seats and supports from above: benches, arches, arbours, pergolas, trellis, wires and trained-fruit frames."""

import math
from collections.abc import Iterable

from gardenkit.drawing import style
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.scene import Area, Disc, Hatch, Mark, Ring, Stroke, Symbol
from gardenkit.geometry.plane import Point, heading, towards
from gardenkit.structure.structure import Seat, Support

POST = 0.06  # m half width of a drawn post
RAFTER_EVERY = 0.45  # m between drawn rafters
WALL_GAP = 0.08  # m wires and trellis are drawn off their wall


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


def support_marks(supports: Iterable[Support]) -> tuple[Mark, ...]:
    """Return supports by kind: posts solid, rails and rafters overhead as light lines."""
    return tuple(
        Symbol(
            marks=_overhead(support) if support.kind in ("arbour", "arch", "pergola") else _flat(support),
            tip=f"{support.name}: {support.kind}, {support.height:.1f} m high",
            layer="structure",
        )
        for support in supports
        if len(support.line) > 1
    )


def structure_names(seats: Iterable[Seat], supports: Iterable[Support]) -> tuple[Wish, ...]:
    """Return the names of seats and supports as labels that want a place."""
    wishes = [
        Wish(
            text=s.name,
            at=s.at,
            clear=max(s.width, s.depth) / 2 + 0.15,
            size_mm=style.NOTE_LETTERS,
            rank=4,
            inside=False,
            italic=True,
        )
        for s in seats
    ]
    for support in supports:
        if len(support.line) > 1:
            a, b = support.line[0], support.line[-1]
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            clear = max(0.25, support.depth / 2)
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


def _overhead(support: Support) -> tuple[Area | Hatch | Stroke | Disc, ...]:
    a, b = support.line[0], support.line[-1]
    depth = max(support.depth, 0.3)
    across = heading(a, b) + 90
    sides = [[towards(p, across, side * depth / 2) for p in (a, b)] for side in (-1, 1)]
    long = math.dist(a, b)
    parts = max(2, round(long / RAFTER_EVERY))
    rafters = []
    for k in range(parts + 1):
        middle = (a[0] + (b[0] - a[0]) * k / parts, a[1] + (b[1] - a[1]) * k / parts)
        rafters.append(tuple(towards(middle, across, side * (depth / 2 + 0.12)) for side in (-1, 1)))
    posts = tuple(_post(p) for side in sides for p in _posts_along(side[0], side[1], support.kind == "pergola"))
    roof: Ring = (sides[0][0], sides[0][1], sides[1][1], sides[1][0])
    return (
        Area(rings=(roof,), fill=style.TIMBER, stroke=None, alpha=0.25, layer="structure"),
        Hatch(lines=tuple(rafters), colour="#8a6a3c", width_mm=style.STONE, layer="structure"),
        Hatch(lines=tuple(tuple(side) for side in sides), colour=style.INK, width_mm=style.EDGE, layer="structure"),
        Area(rings=posts, fill=style.INK, layer="structure"),
    )


def _flat(support: Support) -> tuple[Area | Hatch | Stroke | Disc, ...]:
    line = support.line
    if support.kind in ("fence", "screen"):
        return (
            Stroke(points=line, colour=style.INK, width_mm=style.BUILT, layer="structure"),
            Area(rings=tuple(_post(p) for p in line), fill=style.INK, layer="structure"),
        )
    a, b = line[0], line[-1]
    along = heading(a, b)
    long = math.dist(a, b)
    count = max(2, round(long / 0.3))
    ticks = []
    for k in range(count + 1):
        at = (a[0] + (b[0] - a[0]) * k / count, a[1] + (b[1] - a[1]) * k / count)
        turn = {"trellis": 45.0, "espalier": 90.0}.get(support.kind, 90.0)
        reach = 0.10 if support.kind == "trellis" else 0.05
        ticks.append((towards(at, along + turn, -reach), towards(at, along + turn, reach)))
        if support.kind == "trellis":
            ticks.append((towards(at, along - turn, -reach), towards(at, along - turn, reach)))
    dash = style.FINE_DASH if support.kind == "wall wires" else ()
    return (
        Stroke(points=line, colour=style.INK, width_mm=style.EDGE, dash=dash, layer="structure"),
        Hatch(lines=tuple(ticks), colour=style.INK, width_mm=style.PLANT, layer="structure"),
        Area(rings=(_post(a), _post(b)), fill=style.INK, layer="structure"),
    )


def _posts_along(a: Point, b: Point, many: bool) -> list[Point]:
    parts = max(1, round(math.dist(a, b) / 2.4)) if many else 1
    return [(a[0] + (b[0] - a[0]) * k / parts, a[1] + (b[1] - a[1]) * k / parts) for k in range(parts + 1)]


def _post(at: Point) -> Ring:
    x, y = at
    return ((x - POST, y - POST), (x + POST, y - POST), (x + POST, y + POST), (x - POST, y + POST))
