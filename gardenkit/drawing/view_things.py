"""Seats, meter boxes and a person for scale, as they stand in the picture."""

import math
from collections.abc import Sequence
from functools import partial

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.elevation import PERSON
from gardenkit.drawing.scene import Area, Plain
from gardenkit.drawing.view_built import along_ground, area_of, quad, turned_away
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.site.site import Obstacle
from gardenkit.structure.structure import Seat


def seat_parts(scene: Stage, seats: Sequence[Seat]) -> list[Stander]:
    """Return benches: a seat at 0.45 m and a back to 0.85 m (house values), facing as recorded."""
    return [Stander(at=s.at, make=partial(_bench, scene, s)) for s in seats if scene.away(s.at) > 0.8]


def obstacle_parts(scene: Stage, obstacles: Sequence[Obstacle]) -> list[Stander]:
    """Return things that stand on the ground, such as a meter box, as plain blocks."""
    found = [o for o in obstacles if o.height > 0.02]
    return [Stander(at=plane.centre(plane.region(o.outline)), make=partial(_block, scene, o)) for o in found]


def person_part(scene: Stage, at: Point) -> Stander:
    """Return a person 1.7 m tall standing at a place, for scale."""
    return Stander(at=at, make=lambda: _person(scene, at))


def _bench(scene: Stage, seat: Seat) -> list[Piece]:
    base = scene.level(seat.at)
    turn = math.radians(seat.facing)
    ahead, right = np.array([math.sin(turn), math.cos(turn)]), np.array([math.cos(turn), -math.sin(turn)])

    def place(u: float, v: float, z: float) -> list[float]:
        spot = np.asarray(seat.at) + right * u * seat.width / 2 + ahead * v * seat.depth / 2
        return [float(spot[0]), float(spot[1]), base + z]

    away = scene.away(seat.at)
    colour = scene.faded("#9c7a55", away)
    dark = style.mixed(colour, style.INK, 0.35)
    back = [
        [place(u, -1, z) for u, z in ((-1, low), (1, low), (1, high), (-1, high))]
        for low, high in ((0.52, 0.64), (0.7, 0.85))
    ]
    legs = [
        [place(u, v, 0), place(u * 0.93, v, 0), place(u * 0.93, v, 0.45), place(u, v, 0.45)]
        for v in (-1, 1)
        for u in (-1, 1)
    ]
    seatboard = [place(-1, -1, 0.45), place(1, -1, 0.45), place(1, 1, 0.45), place(-1, 1, 0.45)]
    lip = [place(-1, 1, 0.45), place(1, 1, 0.45), place(1, 1, 0.39), place(-1, 1, 0.39)]
    to_eye = np.subtract(scene.camera.at, seat.at)
    front_first = float(to_eye @ ahead) < 0  # seen from behind, the back hides the seat
    shapes = [*((leg, dark) for leg in legs), (seatboard, style.mixed(colour, "#ffffff", 0.2)), (lip, colour)]
    boards = [(board, colour) for board in back]
    marks: list[Plain] = []
    cover = []
    for corners, fill in [*shapes, *boards] if front_first else [*boards, *shapes]:
        ring = scene.camera.ring(np.asarray(corners))
        if ring:
            cover.append(ring)
            marks.append(area_of(ring, fill, dark))
    if not marks:
        return []
    return [Piece(marks=tuple(marks), cover=tuple(cover), name=seat.name, kind="seat", away=away, tip=seat.name)]


def _block(scene: Stage, obstacle: Obstacle) -> list[Piece]:
    outline = plane.outline(obstacle.outline, where=f'obstacle "{obstacle.name}"')
    away = scene.away(outline[0])
    marks: list[Plain] = []
    cover = []
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        facing = (b[0] - a[0]) * (scene.camera.eye[1] - a[1]) - (b[1] - a[1]) * (scene.camera.eye[0] - a[0]) < 0
        ring = quad(scene, along_ground(scene, a, b), 0, 1, 0, obstacle.height) if facing else ()
        if ring:
            colour = scene.faded(style.mixed("#b7b4ac", style.INK, turned_away(scene, a, b)), away)
            cover.append(ring)
            marks.append(area_of(ring, colour, style.mixed(colour, style.INK, 0.4)))
    top = scene.camera.ring(scene.laid(outline, lift=obstacle.height))
    if top and scene.level(outline[0]) + obstacle.height < scene.camera.eye[2]:
        marks.append(area_of(top, scene.faded("#c9c6be", away), "#77746c"))
        cover.append(top)
    if not cover:
        return []
    return [
        Piece(
            marks=tuple(marks),
            cover=tuple(cover),
            name=obstacle.name,
            kind="obstacle",
            away=away,
            solid=True,
            tip=obstacle.name,
        )
    ]


def _person(scene: Stage, at: Point) -> list[Piece]:
    foot = scene.camera.before(np.array([[*at, scene.level(at)]]))[0]
    body = np.array(
        [
            (-0.10, 0),
            (-0.13, 0.78),
            (-0.22, 0.8),
            (-0.21, 1.3),
            (-0.14, 1.43),
            (-0.05, 1.46),
            (-0.05, 1.5),
            (-0.10, 1.56),
            (-0.10, 1.64),
            (-0.05, PERSON),
            (0.05, PERSON),
            (0.10, 1.64),
            (0.10, 1.56),
            (0.05, 1.5),
            (0.05, 1.46),
            (0.14, 1.43),
            (0.21, 1.3),
            (0.22, 0.8),
            (0.13, 0.78),
            (0.10, 0),
            (0.02, 0),
            (0.0, 0.72),
            (-0.02, 0),
        ]
    )
    ring = scene.camera.ring_of(
        np.column_stack((foot[0] + body[:, 0], foot[1] + body[:, 1], np.full(len(body), foot[2])))
    )
    if not ring:
        return []
    tip = f"a person {PERSON:.1f} m tall, for scale"
    area = Area(rings=(ring,), fill="#6c7268", alpha=0.85, layer="planting")
    return [Piece(marks=(area,), cover=(ring,), name=tip, kind="person", away=scene.away(at), tip=tip)]
