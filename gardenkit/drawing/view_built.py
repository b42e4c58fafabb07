"""Fences with their boards, gates, arches and trellises as they stand in the picture."""

import itertools
import math
from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Hatch, Plain, Ring
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander, Upright
from gardenkit.geometry.plane import FloatArray, Line, Point
from gardenkit.site.openings import Opening
from gardenkit.site.site import Fence
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.structure import Support
from gardenkit.structure.supports import HOLDS

BOARD = Figure(0.10, "m", HOUSE)  # width of a fence board or picket
MESH = Figure(0.30, "m", HOUSE)  # between the bars of a trellis or the wires of a wall
POST = Figure(0.09, "m", HOUSE)  # across a post of a fence or support
POST_EVERY = Figure(2.4, "m", HOUSE)
LEAST_DEPTH = Figure(0.6, "m", HOUSE)  # of an arch whose depth is not given, as in its parts list
GATE_STANDS_OPEN = Figure(3.0, "m", HOUSE)  # a gate nearer than this is the one one comes through: drawn open
WOOD, DARK_WOOD, HEDGE, MASONRY, IRON = "#b09a7b", "#8b775d", "#5d7a4a", "#b9ab98", "#5b5f58"
Wall3 = Callable[[float, float], FloatArray]  # share along, height above the ground there -> places (1, 3)


def fence_parts(scene: Stage, fences: Sequence[Fence]) -> list[Upright]:
    """Return every straight stretch of the fences as an upright; boards stand as far apart as ``openness`` says."""
    return [_stretch(scene, f.name, a, b, f.height, f.openness) for f in fences for a, b in _pairs(f.line)]


def gate_parts(scene: Stage, openings: Sequence[Opening]) -> list[Upright]:
    """Return the closed gates; one near the eye stands open and is left out."""
    gates = [o for o in openings if o.kind == "gate" and scene.away(o.middle) > GATE_STANDS_OPEN]
    return [_stretch(scene, o.name, o.start, o.end, max(0.3, o.head - 0.1), 0.4, posts=True) for o in gates]


def support_parts(scene: Stage, supports: Sequence[Support]) -> tuple[list[Upright], list[Stander]]:
    """Return trellises, wires, screens and fences as uprights; arches, arbours and pergolas as posts with a top."""
    flat: list[Upright] = []
    framed: list[Stander] = []
    for support in supports:
        for a, b in _pairs(support.line):
            if support.kind in ("arch", "arbour", "pergola"):
                framed += _frame(scene, support, a, b)
            elif support.kind in ("fence", "screen") and not HOLDS[support.kind].mesh:
                flat.append(_stretch(scene, support.name, a, b, support.height, min(support.openness, 0.6)))
            else:
                flat.append(_lattice(scene, support, a, b))
    return flat, framed


def along_ground(scene: Stage, a: Point, b: Point) -> Wall3:
    """Return what places a share along a line and a height above the ground there, as (1, 3)."""
    low, high = scene.level(a), scene.level(b)

    def at(share: float, z: float) -> FloatArray:
        return np.array([[a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), low + share * (high - low) + z]])

    return at


def quad(scene: Stage, at: Wall3, u0: float, u1: float, low: float, high: float) -> Ring:
    """Return the picture outline of an upright rectangle between two shares and two heights."""
    return scene.camera.ring(np.vstack((at(u0, low), at(u1, low), at(u1, high), at(u0, high))))


def turned_away(scene: Stage, a: Point, b: Point) -> float:
    """Return how much darker an upright face is, 0 to 0.2; least on the side of the light."""
    way = np.subtract(b, a) / math.dist(a, b)
    normal = np.array([way[1], -way[0]])
    if float(normal @ np.subtract(scene.camera.at, a)) < 0:
        normal = -normal
    angle = math.radians(scene.light)
    return 0.1 - 0.1 * float(normal @ np.array([math.sin(angle), math.cos(angle)]))


def area_of(ring: Ring, fill: str, stroke: str | None = None) -> Area:
    """Return a filled outline, outlined when ``stroke`` is given."""
    return Area(rings=(ring,) if ring else (), fill=fill, stroke=stroke, width_mm=0.12, layer="planting")


def _pairs(line: Line) -> list[tuple[Point, Point]]:
    return [(a, b) for a, b in itertools.pairwise(line) if math.dist(a, b) > 1e-6]


def _stretch(
    scene: Stage, name: str, a: Point, b: Point, height: float, openness: float, *, posts: bool = False
) -> Upright:
    at, long = along_ground(scene, a, b), math.dist(a, b)
    leafy, solid = "hedge" in name.lower(), "wall" in name.lower()

    def make(start: float, end: float) -> list[Piece]:
        away = math.dist(_between(a, b, (start + end) / 2), scene.camera.at)
        whole = quad(scene, at, start, end, 0.0, height)
        if not whole:
            return []
        base = HEDGE if leafy else MASONRY if solid else WOOD
        colour = scene.faded(style.mixed(base, style.INK, turned_away(scene, a, b)), away)
        if leafy or solid or openness < 0.08:
            marks = _closed(scene, at, long, start, end, height, colour, whole, upright=not solid)
        else:
            marks = _open(scene, at, long, start, end, height, openness, colour)
        if posts:
            marks += [
                area_of(quad(scene, at, u - 0.05 / long, u + 0.05 / long, 0, height + 0.15), colour) for u in (0, 1)
            ]
        marks = [m for m in marks if not isinstance(m, Area) or m.rings]
        shut = leafy or solid or openness < 0.08
        return [Piece(marks=tuple(marks), cover=(whole,), name=name, kind="fence", away=away, solid=shut, tip=name)]

    return Upright(a=a, b=b, make=make)


def _closed(
    scene: Stage,
    at: Wall3,
    long: float,
    start: float,
    end: float,
    height: float,
    colour: str,
    whole: Ring,
    *,
    upright: bool,
) -> list[Plain]:
    ink = style.mixed(colour, style.INK, 0.25)
    if upright:
        count = int((end - start) * long / (1.5 * BOARD))
        joints = [np.vstack((at(u, 0), at(u, height))) for u in np.linspace(start, end, count + 2)[1:-1]]
    else:
        joints = [np.vstack((at(start, z), at(end, z))) for z in np.arange(0.25, height, 0.25)]
    lines = tuple(piece for joint in joints for piece in scene.camera.lines(joint))
    cap = quad(scene, at, start, end, height - 0.06, height)
    return [
        area_of((whole), colour, ink),
        Hatch(lines=lines, colour=ink, width_mm=0.12, layer="planting"),
        area_of(cap, style.mixed(colour, "#ffffff", 0.2)),
    ]


def _open(
    scene: Stage, at: Wall3, long: float, start: float, end: float, height: float, openness: float, colour: str
) -> list[Plain]:
    """Return rails, then pickets ``BOARD`` wide with gaps between them that let ``openness`` of the view through."""
    pitch = BOARD / max(0.1, 1.0 - openness)
    rails = tuple(r for z in (0.22 * height, 0.8 * height) if (r := quad(scene, at, start, end, z - 0.035, z + 0.035)))
    half = BOARD / 2 / long
    pickets = []
    for k in range(math.ceil(start * long / pitch), math.floor(end * long / pitch) + 1):
        u = min(max(k * pitch / long, start + half), end - half)
        corners = [
            (u - half, 0.04),
            (u + half, 0.04),
            (u + half, height - 0.05),
            (u, height),
            (u - half, height - 0.05),
        ]
        ring = scene.camera.ring(np.vstack([at(*c) for c in corners]))
        if ring:
            pickets.append(ring)
    ink = style.mixed(colour, style.INK, 0.35)
    dark = style.mixed(colour, style.INK, 0.2)
    return [
        Area(rings=rails, fill=dark, layer="planting"),
        Area(rings=tuple(pickets), fill=colour, stroke=ink, width_mm=0.07, layer="planting"),
    ]


def _lattice(scene: Stage, support: Support, a: Point, b: Point) -> Upright:
    at, long = along_ground(scene, a, b), math.dist(a, b)
    wires = support.kind in ("wall wires", "espalier")

    def make(start: float, end: float) -> list[Piece]:
        away = scene.away(_between(a, b, (start + end) / 2))
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
    middle = _between(a, b, 0.5)
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
        ring = _post(scene, p, support.height)
        if ring:
            cover.append(ring)
            marks.append(area_of(ring, colour, style.mixed(colour, style.INK, 0.4)))
    return [
        Piece(marks=tuple(marks), cover=tuple(cover), name=support.name, kind="support", away=away, tip=support.name)
    ]


def _top(scene: Stage, support: Support, ends: Sequence[Sequence[Point]]) -> list[Piece]:
    marks: list[Plain] = []
    away = scene.away(_between(ends[0][0], ends[1][1], 0.5))
    colour = scene.faded(DARK_WOOD, away)
    cover = []
    beams = sorted(((ends[0][k], ends[1][k]) for k in (0, 1)), key=lambda p: -scene.away(_between(p[0], p[1], 0.5)))
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


def _post(scene: Stage, at: Point, height: float) -> Ring:
    foot = scene.camera.before(np.array([[*at, scene.level(at)]]))[0]
    half = POST / 2
    corners = [(-half, 0.0), (half, 0.0), (half, height), (-half, height)]
    return scene.camera.ring_of(np.array([[foot[0] + u, foot[1] + v, foot[2]] for u, v in corners]))


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _moved(p: Point, by: FloatArray) -> Point:
    return float(p[0] + by[0]), float(p[1] + by[1])
