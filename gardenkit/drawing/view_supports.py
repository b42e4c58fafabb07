"""Arches, trellises, wires and obelisks as they stand in the picture, each by the symbol of its kind."""

import math
from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Hatch, Plain, Ring
from gardenkit.drawing.view_built import DARK_WOOD, along_ground, area_of, between, pairs, post, quad, stretch
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander, Upright
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import support_kind
from gardenkit.structure.structure import Support

MESH = Figure(0.30, "m", HOUSE)  # between the bars of a trellis or the wires of a wall
LEAST_DEPTH = Figure(0.6, "m", HOUSE)  # of an arch whose depth is not given, as in its parts list
NEAREST = 0.5  # m: what stands nearer to the eye is not drawn. House value.
IRON = "#5b5f58"
Made = tuple[list[Upright], list[Stander]]


def support_parts(scene: Stage, supports: Sequence[Support]) -> Made:
    """Return flat supports as uprights; arches, arbours, pergolas and obelisks as things that stand."""
    flat: list[Upright] = []
    standing: list[Stander] = []
    for support in supports:
        uprights, standers = VIEW[support_kind(support.kind).drawn.view](scene, support)
        flat += uprights
        standing += standers
    return flat, standing


def _boards(scene: Stage, support: Support) -> Made:
    """Return boards along the line, at least a little closed."""
    openness = min(support.openness, 0.6)
    return [stretch(scene, support.name, a, b, support.height, openness) for a, b in pairs(support.line)], []


def _laths(scene: Stage, support: Support) -> Made:
    """Return laths both ways along the line."""
    return [_bars(scene, support, a, b, wires=False) for a, b in pairs(support.line)], []


def _wires(scene: Stage, support: Support) -> Made:
    """Return level wires along the line."""
    return [_bars(scene, support, a, b, wires=True) for a, b in pairs(support.line)], []


def _frames(scene: Stage, support: Support) -> Made:
    """Return posts with rungs and a top."""
    return [], [part for a, b in pairs(support.line) for part in _frame(scene, support, a, b)]


def _tapered(scene: Stage, support: Support) -> Made:
    """Return legs that meet in a point, with rungs."""
    middle = between(support.line[0], support.line[-1], 0.5)
    return [], [Stander(at=middle, make=partial(_obelisk, scene, support))]


VIEW: dict[str, Callable[[Stage, Support], Made]] = {
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


def _frame(scene: Stage, support: Support, a: Point, b: Point) -> list[Stander]:
    """Return the two sides of an arch as posts with rungs, and its top; each side stands by itself in the order."""
    depth = max(support.depth, LEAST_DEPTH)
    way = np.subtract(b, a) / math.dist(a, b)
    aside = np.array([-way[1], way[0]]) * depth / 2
    ends = [[_moved(p, aside), _moved(p, -aside)] for p in (a, b)]
    sides = [Stander(at=p, make=partial(_side, scene, support, pair)) for p, pair in zip((a, b), ends, strict=True)]
    middle = between(a, b, 0.5)
    return [*sides, Stander(at=middle, make=lambda: _top(scene, support, ends))]


def _side(scene: Stage, support: Support, pair: Sequence[Point]) -> list[Piece]:
    first, second = sorted(pair, key=lambda p: -scene.away(p))
    away = scene.away(first)
    colour = scene.faded(DARK_WOOD, away)
    at = along_ground(scene, first, second)
    rungs = [np.vstack((at(0, z), at(1, z))) for z in np.arange(0.45, support.height - 0.2, 0.3)]
    lines = tuple(piece for rung in rungs for piece in scene.camera.lines(rung))
    pen = max(0.15, 0.02 * scene.camera.focal / max(away, 0.8))
    marks: list[Plain] = [Hatch(lines=lines, colour=colour, width_mm=min(pen, 1.2), layer="planting")]
    cover = []
    for p in (first, second):
        ring = post(scene, p, support.height)
        if ring:
            cover.append(ring)
            marks.append(area_of(ring, colour, style.mixed(colour, style.INK, 0.4)))
    return [
        Piece(marks=tuple(marks), cover=tuple(cover), name=support.name, kind="support", away=away, tip=support.name)
    ]


def _top(scene: Stage, support: Support, ends: Sequence[Sequence[Point]]) -> list[Piece]:
    marks: list[Plain] = []
    away = scene.away(between(ends[0][0], ends[1][1], 0.5))
    colour = scene.faded(DARK_WOOD, away)
    cover = []
    beams = sorted(((ends[0][k], ends[1][k]) for k in (0, 1)), key=lambda p: -scene.away(between(p[0], p[1], 0.5)))
    long = math.dist(*beams[0])
    count = max(3, round(long / 0.4) + 1)
    for number, (a, b) in enumerate(beams):
        at = along_ground(scene, a, b)
        ring = quad(scene, at, -0.12 / long, 1 + 0.12 / long, support.height - 0.12, support.height)
        if number == 1:
            rafters = [
                scene.camera.lines(np.vstack([along_ground(scene, *beam)(u, support.height + 0.03) for beam in beams]))
                for u in np.linspace(0, 1, count)
            ]
            pen = min(1.4, max(0.2, 0.05 * scene.camera.focal / max(away, 0.8)))
            lines = tuple(piece for rafter in rafters for piece in rafter)
            marks.append(
                Hatch(lines=lines, colour=style.mixed(colour, style.INK, 0.15), width_mm=pen, layer="planting")
            )
        if ring:
            cover.append(ring)
            marks.append(area_of(ring, colour, style.mixed(colour, style.INK, 0.4)))
    if not cover:
        return []
    return [Piece(marks=tuple(marks), cover=tuple(cover), kind="support", away=away, tip=support.name)]


def _moved(p: Point, by: FloatArray) -> Point:
    return float(p[0] + by[0]), float(p[1] + by[1])
