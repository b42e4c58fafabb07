"""Fences with their boards, and gates, as they stand in the picture."""

import itertools
import math
from collections.abc import Callable, Sequence

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Hatch, Plain, Ring
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Upright
from gardenkit.geometry.plane import FloatArray, Line, Point
from gardenkit.site.openings import Opening
from gardenkit.site.site import Fence
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import fence_kind

BOARD = Figure(0.10, "m", HOUSE)  # width of a fence board or picket
POST = Figure(0.09, "m", HOUSE)  # across a post of a fence or support
GATE_STANDS_OPEN = Figure(3.0, "m", HOUSE)  # a gate nearer than this is the one one comes through: drawn open
DARK_WOOD = "#8b775d"
FACES = {"boards": "#b09a7b", "leaves": "#5d7a4a", "masonry": "#b9ab98"}  # of fences, hedges and walls
Wall3 = Callable[[float, float], FloatArray]  # share along, height above the ground there -> places (1, 3)


def fence_parts(scene: Stage, fences: Sequence[Fence]) -> list[Upright]:
    """Return every straight stretch of the fences as an upright; boards stand as far apart as ``openness`` says."""
    return [
        stretch(scene, f.name, a, b, f.height, f.openness, face=fence_kind(f).view)
        for f in fences
        for a, b in pairs(f.line)
    ]


def gate_parts(scene: Stage, openings: Sequence[Opening]) -> list[Upright]:
    """Return the closed gates; one near the eye stands open and is left out."""
    gates = [o for o in openings if o.kind == "gate" and scene.away(o.middle) > GATE_STANDS_OPEN]
    return [stretch(scene, o.name, o.start, o.end, max(0.3, o.head - 0.1), 0.4, posts=True) for o in gates]


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


def pairs(line: Line) -> list[tuple[Point, Point]]:
    """Return the straight stretches of a line."""
    return [(a, b) for a, b in itertools.pairwise(line) if math.dist(a, b) > 1e-6]


def stretch(
    scene: Stage,
    name: str,
    a: Point,
    b: Point,
    height: float,
    openness: float,
    *,
    posts: bool = False,
    face: str = "boards",
) -> Upright:
    """Return a straight stretch of fence, wall or hedge; boards stand as far apart as ``openness`` says."""
    at, long = along_ground(scene, a, b), math.dist(a, b)
    leafy, solid = face == "leaves", face == "masonry"

    def make(start: float, end: float) -> list[Piece]:
        away = math.dist(between(a, b, (start + end) / 2), scene.camera.at)
        whole = quad(scene, at, start, end, 0.0, height)
        if not whole:
            return []
        base = FACES[face]
        colour = scene.faded(style.mixed(base, style.INK, turned_away(scene, a, b)), away)
        if leafy or solid or openness < 0.08:
            marks = _closed(
                scene, at, long, start, end, height, colour, whole, upright=not solid, boarded=face == "boards"
            )
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
    boarded: bool,
) -> list[Plain]:
    ink = style.mixed(colour, style.INK, 0.25)
    boards: list[Plain] = []
    if upright:
        count = int((end - start) * long / (1.5 * BOARD))
        if boarded:
            edges = list(itertools.pairwise(np.linspace(start, end, count + 2)))[::2]
            rings = tuple(r for u, v in edges if (r := quad(scene, at, u, v, 0.0, height)))
            boards.append(Area(rings=rings, fill=style.mixed(colour, style.INK, 0.14), layer="planting"))
        joints = [np.vstack((at(u, 0), at(u, height))) for u in np.linspace(start, end, count + 2)[1:-1]]
    else:
        joints = [np.vstack((at(start, z), at(end, z))) for z in np.arange(0.25, height, 0.25)]
    lines = tuple(piece for joint in joints for piece in scene.camera.lines(joint))
    cap = quad(scene, at, start, end, height - 0.06, height)
    return [
        area_of((whole), colour, ink),
        *boards,
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


def post(scene: Stage, at: Point, height: float) -> Ring:
    """Return the picture outline of a post."""
    foot = scene.camera.before(np.array([[*at, scene.level(at)]]))[0]
    half = POST / 2
    corners = [(-half, 0.0), (half, 0.0), (half, height), (-half, height)]
    return scene.camera.ring_of(np.array([[foot[0] + u, foot[1] + v, foot[2]] for u, v in corners]))


def between(a: Point, b: Point, share: float) -> Point:
    """Return the point a share of the way from a to b."""
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
