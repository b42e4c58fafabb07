"""Seats, meter boxes and a person for scale, as they stand in the picture."""

import math
from collections.abc import Sequence
from functools import partial

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.elevation import PERSON
from gardenkit.drawing.scene import Area, Plain
from gardenkit.drawing.view_built import area_of, turned_away
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.site.site import Obstacle
from gardenkit.structure.structure import Seat

ROCK_TOP = 0.74  # of its foot that the top of a rock takes. House value.
ROCK, BLOCK = ("#8d877b", "#9d978a"), ("#b7b4ac", "#c9c6be")  # side and top. House values.
COMPANY: dict[str, tuple[str, tuple[tuple[float, float], ...]]] = {  # its size in words, its outline from the side (m)
    "a person": (
        f"{PERSON:.1f} m tall",
        (
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
        ),
    ),
    "a dog": (
        "0.6 m to the shoulder",
        (  # a large retriever's height, from memory
            (-0.42, 0.0),
            (-0.44, 0.32),
            (-0.46, 0.5),
            (-0.62, 0.66),
            (-0.6, 0.7),
            (-0.42, 0.6),
            (0.22, 0.6),
            (0.34, 0.74),
            (0.36, 0.86),
            (0.46, 0.88),
            (0.52, 0.8),
            (0.64, 0.76),
            (0.63, 0.7),
            (0.48, 0.68),
            (0.42, 0.5),
            (0.36, 0.34),
            (0.34, 0.0),
            (0.27, 0.0),
            (0.27, 0.3),
            (-0.24, 0.34),
            (-0.3, 0.26),
            (-0.34, 0.0),
        ),
    ),
    "a chair": (
        "0.9 m high",
        (  # seat 0.45 m: common practice, no source
            (-0.24, 0.0),
            (-0.24, 0.45),
            (-0.3, 0.9),
            (-0.26, 0.9),
            (-0.19, 0.49),
            (0.24, 0.49),
            (0.24, 0.0),
            (0.2, 0.0),
            (0.2, 0.43),
            (-0.2, 0.43),
            (-0.2, 0.0),
        ),
    ),
}


@attrs.frozen(kw_only=True)
class Company:
    """Who or what stands in a view for scale: a row of ``COMPANY``, at a plan point."""

    kind: str
    at: Point


def seat_parts(scene: Stage, seats: Sequence[Seat]) -> list[Stander]:
    """Return benches: a seat at 0.45 m and a back to 0.85 m (house values), facing as recorded."""
    return [Stander(at=s.at, make=partial(_bench, scene, s)) for s in seats if scene.away(s.at) > 0.8]


def obstacle_parts(scene: Stage, obstacles: Sequence[Obstacle]) -> list[Stander]:
    """Return things that stand on the ground, such as a meter box, as plain blocks."""
    found = [o for o in obstacles if o.height > 0.02]
    return [Stander(at=plane.centre(plane.region(o.outline)), make=partial(_block, scene, o)) for o in found]


def company_part(scene: Stage, company: Company) -> Stander:
    """Return who or what stands at a place for scale."""
    return Stander(at=company.at, make=lambda: _company(scene, company))


def outlined(part: Stander) -> Stander:
    """Return the same without its marks: its outline and words alone, for a picture made otherwise."""
    return attrs.evolve(part, make=lambda: [attrs.evolve(piece, marks=()) for piece in part.make()])


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
    below = scene.laid(outline)
    above = (
        _top_of_rock(scene, outline, obstacle.height) if obstacle.is_rock else scene.laid(outline, lift=obstacle.height)
    )
    side, upper = ROCK if obstacle.is_rock else BLOCK
    marks: list[Plain] = []
    cover = []
    for number, (a, b) in enumerate(zip(outline, (*outline[1:], outline[0]), strict=True)):
        facing = (b[0] - a[0]) * (scene.camera.eye[1] - a[1]) - (b[1] - a[1]) * (scene.camera.eye[0] - a[0]) < 0
        after = (number + 1) % len(outline)
        ring = scene.camera.ring(np.array([below[number], below[after], above[after], above[number]]))
        if ring and facing:
            colour = scene.faded(style.mixed(side, style.INK, turned_away(scene, a, b)), away)
            cover.append(ring)
            marks.append(area_of(ring, colour, style.mixed(colour, style.INK, 0.4)))
    top = scene.camera.ring(above)
    if top and float(above[:, 2].max()) < scene.camera.eye[2]:
        marks.append(area_of(top, scene.faded(upper, away), "#77746c"))
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


def _top_of_rock(scene: Stage, outline: Sequence[Point], height: float) -> FloatArray:
    """Return the upper edge of a rock: drawn in from its foot, and nowhere quite level."""
    foot = np.asarray(outline, dtype=float)
    middle = foot.mean(axis=0)
    top = scene.laid(middle + ROCK_TOP * (foot - middle))
    lean = (foot - middle) @ np.array([0.6, 0.8])
    top[:, 2] += height * (0.8 + 0.2 * lean / max(float(np.abs(lean).max()), 1e-9))
    return top


def _company(scene: Stage, company: Company) -> list[Piece]:
    at = company.at
    words, shape = COMPANY[company.kind]
    foot, body = scene.camera.before(np.array([[*at, scene.level(at)]]))[0], np.array(shape)
    ring = scene.camera.ring_of(
        np.column_stack((foot[0] + body[:, 0], foot[1] + body[:, 1], np.full(len(body), foot[2])))
    )
    if not ring:
        return []
    tip = f"{company.kind} {words}, for scale"
    area = Area(rings=(ring,), fill="#6c7268", alpha=0.85, layer="planting")
    return [Piece(marks=(area,), cover=(ring,), name=tip, kind="person", away=scene.away(at), tip=tip)]
