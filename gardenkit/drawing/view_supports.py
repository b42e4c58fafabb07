"""Arches, trellises, wires and obelisks as they stand in the picture, each by the symbol of its kind."""

import math
from collections.abc import Callable, Sequence
from functools import partial

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Hatch, Plain, Ring
from gardenkit.drawing.view_built import DARK_WOOD, POST, along_ground, area_of, between, pairs, post, quad, stretch
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander, Upright
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import frame_of, support_kind
from gardenkit.structure.kinds.frames import Frame
from gardenkit.structure.structure import Support
from gardenkit.units import System

MESH = Figure(0.30, "m", HOUSE)  # between the bars of a trellis or the wires of a wall
NEAREST = 0.5  # m: what stands nearer to the eye is not drawn. House value.
IRON = "#5b5f58"
Made = tuple[list[Upright], list[Stander]]


@attrs.frozen(kw_only=True)
class Board:
    """A board on edge between two places of the plan, its lower and upper edge over the ground in metres."""

    a: Point
    b: Point
    low: float
    high: float


def support_parts(scene: Stage, supports: Sequence[Support], units: System) -> Made:
    """Return flat supports as uprights; arches, arbours, pergolas and obelisks as things that stand, of the timbers
    that a garden in ``units`` orders.
    """
    flat: list[Upright] = []
    standing: list[Stander] = []
    for support in supports:
        uprights, standers = VIEW[support_kind(support.kind).drawn.view](scene, support, units)
        flat += uprights
        standing += standers
    return flat, standing


def _boards(scene: Stage, support: Support, units: System) -> Made:
    """Return boards along the line, at least a little closed."""
    openness = min(support.openness, 0.6)
    return [stretch(scene, support.name, a, b, support.height, openness) for a, b in pairs(support.line)], []


def _laths(scene: Stage, support: Support, units: System) -> Made:
    """Return laths both ways along the line."""
    return [_bars(scene, support, a, b, wires=False) for a, b in pairs(support.line)], []


def _wires(scene: Stage, support: Support, units: System) -> Made:
    """Return level wires along the line."""
    return [_bars(scene, support, a, b, wires=True) for a, b in pairs(support.line)], []


def _frames(scene: Stage, support: Support, units: System) -> Made:
    """Return posts with rungs and a top."""
    return [], [part for a, b in pairs(support.line) for part in _frame(scene, support, a, b, units)]


def _tapered(scene: Stage, support: Support, units: System) -> Made:
    """Return legs that meet in a point, with rungs."""
    middle = between(support.line[0], support.line[-1], 0.5)
    return [], [Stander(at=middle, make=partial(_obelisk, scene, support))]


VIEW: dict[str, Callable[[Stage, Support, System], Made]] = {
    "boards": _boards,
    "lattice": _laths,
    "wires": _wires,
    "frame": _frames,
    "tapered": _tapered,
}


def _obelisk(scene: Stage, support: Support) -> list[Piece]:
    a, b = support.line[0], support.line[-1]
    middle = between(a, b, 0.5)
    away = scene.away(middle)
    if away < NEAREST:
        return []
    half = np.subtract(b, a) / 2
    aside = np.array([-half[1], half[0]])
    corners = [np.asarray(middle) + u * half + v * aside for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    tall, foot = support.height, scene.level(middle)

    def at(corner: FloatArray, share: float) -> list[float]:
        x, y = np.asarray(middle) + (1 - share) * (corner - middle)
        return [float(x), float(y), foot + share * tall]

    legs = [np.array([at(c, 0.0), at(c, 1.0)]) for c in corners]
    shares = np.arange(float(MESH), tall, float(MESH)) / tall
    rungs = [np.array([at(c, s) for c in (*corners, corners[0])]) for s in shares]
    colour = scene.faded(DARK_WOOD, away)
    pen = min(1.2, max(0.15, 0.03 * scene.camera.focal / max(away, 0.8)))
    marks = [
        Hatch(lines=_lines(scene, rungs), colour=colour, width_mm=0.5 * pen, layer="planting"),
        Hatch(lines=_lines(scene, legs), colour=style.mixed(colour, style.INK, 0.25), width_mm=pen, layer="planting"),
    ]
    cover = scene.camera.ring(np.array([at(corners[0], 0.0), at(corners[2], 0.0), at(corners[0], 1.0)]))
    drawn = (cover,) if cover else ()
    tip = support.name
    return [Piece(marks=tuple(marks), cover=drawn, kind="support", away=away, name=tip, tip=tip)]


def _lines(scene: Stage, paths: Sequence[FloatArray]) -> tuple[Ring, ...]:
    return tuple(piece for path in paths for piece in scene.camera.lines(path))


def _bars(scene: Stage, support: Support, a: Point, b: Point, *, wires: bool) -> Upright:
    at, long = along_ground(scene, a, b), math.dist(a, b)

    def make(start: float, end: float) -> list[Piece]:
        away = scene.away(between(a, b, (start + end) / 2))
        whole = quad(scene, at, start, end, 0.0, support.height)
        if not whole:
            return []
        colour = scene.faded(IRON if wires else DARK_WOOD, away)
        rows = np.arange(MESH, support.height + 1e-6, MESH)
        bars = [np.vstack((at(start, z), at(end, z))) for z in rows]
        if not wires:
            count = max(2, round((end - start) * long / MESH) + 1)
            bars += [np.vstack((at(u, MESH / 2), at(u, support.height))) for u in np.linspace(start, end, count)]
        lines = tuple(piece for bar in bars for piece in scene.camera.lines(bar))
        pen = max(0.12, min(0.9, (0.004 if wires else 0.022) * scene.camera.focal / max(away, 0.8)))
        marks = (Hatch(lines=lines, colour=colour, width_mm=pen, layer="planting"),)
        return [Piece(marks=marks, cover=(whole,), name=support.name, kind="support", away=away, tip=support.name)]

    return Upright(a=a, b=b, make=make)


def _frame(scene: Stage, support: Support, a: Point, b: Point, units: System) -> list[Stander]:
    """Return the posts of a frame, pair by pair, and its top, all of the timbers that are ordered for it; an arch has
    rungs from post to post. Each pair stands by itself in the order.
    """
    timbers = frame_of(attrs.evolve(support, line=(a, b)), units)
    way = np.subtract(b, a) / math.dist(a, b)
    aside = np.array([-way[1], way[0]])
    half = timbers.deep / 2

    def at(along: float, across: float) -> Point:
        return _moved(a, along * way + across * aside)

    found: list[Stander] = []
    for along in timbers.posts_at():
        pair = at(along, half), at(along, -half)
        make = partial(_pair, scene, support, pair, rungs=not timbers.paired)
        found.append(Stander(at=at(along, 0.0), make=make))
    boards = _overhead(timbers, at, half, support.height, units)
    return [*found, Stander(at=between(a, b, 0.5), make=partial(_top, scene, support, boards))]


def _overhead(
    timbers: Frame, at: Callable[[float, float], Point], half: float, tall: float, units: System
) -> list[Board]:
    """Return the beams along both sides, two boards each where they are paired, and the rafters that lie on them."""
    beam, rafter, over = timbers.beam_drawn(), timbers.rafter_drawn(), timbers.over
    off = (POST + beam.thick(units)) / 2
    lines = [side * half + by for side in (-1, 1) for by in ((-off, off) if timbers.paired else (0.0,))]
    long = timbers.long + over
    beams = [Board(a=at(-over, v), b=at(long, v), low=tall - beam.deep(units), high=tall) for v in lines]
    top, wide = tall + rafter.deep(units), half + over
    return [*beams, *(Board(a=at(u, -wide), b=at(u, wide), low=tall, high=top) for u in timbers.rafters_at())]


def _pair(scene: Stage, support: Support, pair: Sequence[Point], *, rungs: bool) -> list[Piece]:
    first, second = sorted(pair, key=lambda p: -scene.away(p))
    away = scene.away(first)
    colour = scene.faded(DARK_WOOD, away)
    marks: list[Plain] = []
    if rungs:
        at = along_ground(scene, first, second)
        bars = [np.vstack((at(0, z), at(1, z))) for z in np.arange(0.45, support.height - 0.2, 0.3)]
        pen = max(0.15, 0.02 * scene.camera.focal / max(away, 0.8))
        marks.append(Hatch(lines=_lines(scene, bars), colour=colour, width_mm=min(pen, 1.2), layer="planting"))
    cover = []
    for p in (first, second):
        ring = post(scene, p, support.height)
        if ring:
            cover.append(ring)
            marks.append(area_of(ring, colour, style.mixed(colour, style.INK, 0.4)))
    if not cover:
        return []
    return [
        Piece(marks=tuple(marks), cover=tuple(cover), name=support.name, kind="support", away=away, tip=support.name)
    ]


def _top(scene: Stage, support: Support, boards: Sequence[Board]) -> list[Piece]:
    """Return the boards overhead, far ones first."""
    away = scene.away(between(boards[0].a, boards[0].b, 0.5))
    colour = scene.faded(DARK_WOOD, away)
    rings = [
        ring
        for one in sorted(boards, key=lambda one: -scene.away(between(one.a, one.b, 0.5)))
        if (ring := quad(scene, along_ground(scene, one.a, one.b), 0.0, 1.0, one.low, one.high))
    ]
    if not rings:
        return []
    marks = tuple(area_of(ring, colour, style.mixed(colour, style.INK, 0.4)) for ring in rings)
    return [Piece(marks=marks, cover=tuple(rings), kind="support", away=away, tip=support.name)]


def _moved(p: Point, by: FloatArray) -> Point:
    return float(p[0] + by[0]), float(p[1] + by[1])
