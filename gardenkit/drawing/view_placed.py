"""Placed things as they stand in the picture: every body's faces that look towards the eye, far bodies first."""

import math
from collections.abc import Sequence
from functools import lru_cache, partial

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.plan_things import MATERIALS, boards_of
from gardenkit.drawing.scene import Area, Hatch, Plain, Ring
from gardenkit.drawing.view_built import turned_away
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.geometry.plane import FloatArray, Outline, Point
from gardenkit.structure.kinds.thing_forms import ROUND, Form
from gardenkit.structure.structure import Thing
from gardenkit.structure.things import forms_of

NEAREST = 0.6  # m: what stands nearer to the eye is not drawn. House value.
TOUCH = 1e-6
FINER = 3  # corners that a round body shows for each of its own. House value.
SOLID_FROM = 0.9  # m: a lower thing hides little. House value.


def thing_parts(scene: Stage, things: Sequence[Thing]) -> list[Stander]:
    """Return things as what stands in the picture."""
    return [Stander(at=one.at, make=partial(_thing, scene, one)) for one in things if scene.away(one.at) > NEAREST]


def _thing(scene: Stage, thing: Thing) -> list[Piece]:
    away = scene.away(thing.at)
    cover, marks = bodies(scene, forms_of(thing), scene.level(thing.at), away)
    if not cover:
        return []
    return [
        Piece(
            marks=tuple(marks),
            cover=tuple(cover),
            name=thing.name,
            kind="thing",
            away=away,
            solid=thing.height >= SOLID_FROM,
            tip=f"{thing.name}: {thing.kind}",
        )
    ]


def bodies(scene: Stage, forms: Sequence[Form], base: float, away: float) -> tuple[list[Ring], list[Plain]]:
    """Return the outlines that bodies on ground at height ``base`` cover in the picture, and their marks in order."""
    marks: list[Plain] = []
    cover: list[Ring] = []
    for form in far_to_near(tuple(forms), scene.camera.at, float(scene.camera.eye[2]) - base):
        for ring, mark in _faces(scene, form, base, away):
            cover.append(ring)
            marks.append(mark)
        marks += _boards(scene, form, base, away)
    return cover, marks


@lru_cache(maxsize=256)
def far_to_near(forms: tuple[Form, ...], eye: Point, high: float) -> tuple[Form, ...]:
    """Return bodies so that none is drawn over one that hides it from an eye at a plan place and a height over their
    ground; where neither hides the other, the farther is first. Remembered: a place is looked from in every season.
    """
    first = sorted(range(len(forms)), key=lambda i: (-_far(forms[i], eye), forms[i].low))
    before = {(i, j): _is_before(forms[i], forms[j], eye, high) for i in first for j in first if i != j}
    behind = {i: [j for j in first if i != j and before[i, j] and not before[j, i]] for i in first}
    done: list[int] = []
    entered: set[int] = set()

    def visit(i: int) -> None:
        if i in entered:
            return
        entered.add(i)
        for j in behind[i]:
            visit(j)
        done.append(i)

    for i in first:
        visit(i)
    return tuple(forms[i] for i in done)


# ---- helpers


def _far(form: Form, eye: Point) -> float:
    x, y = (sum(p[k] for p in form.foot) / len(form.foot) for k in (0, 1))
    return float(np.hypot(x - eye[0], y - eye[1]))


def _is_before(near: Form, far: Form, eye: Point, high: float) -> bool:
    """Return whether a plane between two bodies has the first on the eye's side."""
    over = near.low >= far.high - TOUCH and high > near.low
    under = near.high <= far.low + TOUCH and high < near.high
    return over or under or _beyond_an_edge(near, far, eye)


def _beyond_an_edge(near: Form, far: Form, eye: Point) -> bool:
    """Return whether an upright plane along an edge of either body parts them, the eye on the side of ``near``."""
    for own, other, eye_outside in ((far, near, True), (near, far, False)):
        _, out, level = _edges(own)
        of_eye = out @ np.asarray(eye) - level
        parting = of_eye > TOUCH if eye_outside else of_eye < -TOUCH
        reach = out[parting] @ _edges(other)[0].T - level[parting][:, None]
        if (reach >= -TOUCH).all(axis=1).any():
            return True
    return False


@lru_cache(maxsize=4096)
def _edges(form: Form) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the corners (n, 2) of a body's larger outline, counter-clockwise, each edge's way out of it, and how far
    that way it lies.
    """
    ring = max((np.asarray(form.foot), np.asarray(form.head)), key=lambda r: float(np.ptp(r)))
    x, y = ring[:, 0], ring[:, 1]
    turn = float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
    ring = ring if turn > 0 else ring[::-1]
    ways = np.roll(ring, -1, axis=0) - ring
    out = np.column_stack((ways[:, 1], -ways[:, 0]))
    return ring, out, np.asarray((ring * out).sum(axis=1))


def _faces(scene: Stage, form: Form, base: float, away: float) -> list[tuple[Ring, Area]]:
    look, form = MATERIALS[form.material], _rounder(form)
    found: list[tuple[Ring, Area]] = []
    count = len(form.foot)
    eye = np.asarray(scene.camera.eye, dtype=float)
    inside = np.array([*np.mean(np.asarray(form.foot), axis=0), base + (form.low + form.high) / 2])
    for k in range(count):
        corners = _quad(form, k, (k + 1) % count, base)
        if k == form.buried or not _looks_at(corners, inside, eye):
            continue
        dark = (
            turned_away(scene, form.foot[k], form.foot[(k + 1) % count]) if count <= 4 else _round_shade(scene, form, k)
        )
        found += _face(scene, corners, style.mixed(look.view, style.INK, dark), away, look.clear, edged=count <= 9)
    lid = np.column_stack((np.asarray(form.head), np.full(count, base + form.high)))
    if eye[2] > base + form.high:
        found += _face(scene, lid, style.mixed(look.view, "#ffffff", 0.18), away, look.clear, edged=True)
    return found


@lru_cache(maxsize=4096)
def _rounder(form: Form) -> Form:
    """Return a round body with more corners, on the circle or ellipse its own lie on, so that it shows no edges."""
    if len(form.foot) < ROUND or form.buried is not None:
        return form
    return attrs.evolve(form, foot=_finer(form.foot), head=_finer(form.head))


def _finer(ring: Outline) -> Outline:
    """Return a ring with ``FINER`` corners for each of its own, the new ones as far from its middle as those beside."""
    own = np.asarray(ring, dtype=float)
    middle = own.mean(axis=0)
    far, turn = np.hypot(*(own - middle).T), np.unwrap(np.arctan2(*(own - middle).T))
    ends = np.append(turn, turn[0] + math.copysign(math.tau, turn[1] - turn[0]))
    at = np.arange(len(own) * FINER) / FINER
    angle = np.interp(at, np.arange(len(ends)), ends)
    reach = np.interp(at, np.arange(len(ends)), np.append(far, far[0]))
    return tuple(
        (float(x), float(y)) for x, y in middle + reach[:, None] * np.column_stack((np.sin(angle), np.cos(angle)))
    )


def _face(
    scene: Stage, corners: FloatArray, fill: str, away: float, clear: float, *, edged: bool
) -> list[tuple[Ring, Area]]:
    ring = scene.camera.ring(corners)
    if not ring:
        return []
    colour = scene.faded(fill, away)
    stroke = style.mixed(colour, style.INK, 0.35) if edged else colour
    area = Area(rings=(ring,), fill=colour, stroke=stroke, width_mm=0.1, alpha=1.0 - clear, layer="planting")
    return [(ring, area)]


def _quad(form: Form, i: int, j: int, base: float) -> FloatArray:
    low, high = base + form.low, base + form.high
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = form.foot[i], form.foot[j], form.head[j], form.head[i]
    return np.array([(ax, ay, low), (bx, by, low), (cx, cy, high), (dx, dy, high)])


def _looks_at(corners: FloatArray, inside: FloatArray, eye: FloatArray) -> bool:
    """Return whether the outer side of a face is seen."""
    normal = np.cross(corners[1] - corners[0], corners[3] - corners[0])
    if not normal.any():
        normal = np.cross(corners[2] - corners[1], corners[3] - corners[2])
    if float(normal @ (inside - corners[0])) > 0:
        normal = -normal
    return float(normal @ (eye - corners[0])) > 0


def _round_shade(scene: Stage, form: Form, k: int) -> float:
    """Return how dark a strip of a round body is: from nothing on the side of the light to a third away from it."""
    a, b = form.foot[k], form.foot[(k + 1) % len(form.foot)]
    middle = np.mean(np.asarray(form.foot), axis=0)
    out = (np.add(a, b) / 2) - middle
    size = float(np.hypot(*out)) or 1.0
    turn = np.radians(scene.light)
    return 0.16 - 0.16 * float(out @ np.array([np.sin(turn), np.cos(turn)])) / size


def _boards(scene: Stage, form: Form, base: float, away: float) -> list[Plain]:
    """Return the joints of a boarded top, where one looks down on it."""
    if not form.boards or scene.camera.eye[2] <= base + form.high:
        return []
    joints = (_lifted(line, base + form.high) for line in boards_of(form.head, form.boards))
    lines = tuple(piece for joint in joints for piece in scene.camera.lines(joint))
    colour = style.mixed(scene.faded(MATERIALS[form.material].view, away), style.INK, 0.3)
    return [Hatch(lines=lines, colour=colour, width_mm=0.08, layer="planting")] if lines else []


def _lifted(line: Outline, high: float) -> FloatArray:
    return np.column_stack((np.asarray(line), np.full(len(line), high)))
