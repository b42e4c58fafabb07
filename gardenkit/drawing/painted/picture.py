"""Paints what one sees: every leaf at its depth, in the light of the hour; as a picture within the usual drawing."""

import io
import math
import os
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise
from typing import Any

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing.painted.bodies import bodies_for
from gardenkit.drawing.painted.built import MASONRY, PLAIN, ROCK, Faces, PlainStage, Surveyor
from gardenkit.drawing.painted.drifts import all_splats
from gardenkit.drawing.painted.figures import figure
from gardenkit.drawing.painted.ground import materials, mesh, palette, strewn
from gardenkit.drawing.painted.hedges import hedge_splats
from gardenkit.drawing.painted.sky import HAZE_FAR, air, lamps
from gardenkit.drawing.painted.splats import Splats
from gardenkit.drawing.view_ground import Stage, for_plants, stone_marks
from gardenkit.drawing.view_order import Piece, Stander, Upright
from gardenkit.drawing.view_shadows import low_bodies
from gardenkit.drawing.view_standing import Grown
from gardenkit.drawing.view_things import Company
from gardenkit.geometry.plane import FloatArray
from gardenkit.geometry.solid import Solid
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.season import Standing
from gardenkit.site.standing import standing_fences
from gardenkit.structure.kinds import fence_kind
from gardenkit.structure.things import things_in

BAND = 60  # rows: fewer are not worth a thread. House value.
Pixels = NDArray[np.uint8]
Sheet = tuple[NDArray[np.float32], NDArray[np.uint8], NDArray[np.float32]]


Seen = tuple[Any, Any, Any, Any, Any]  # leaves: places, half axes and rows in the picture, facings, paint


@attrs.frozen(kw_only=True)
class Quality:
    """How finely a picture is painted: ``across`` pixels, each of ``finer`` x ``finer`` dots; ``detail`` of leaves."""

    across: int = 1000
    finer: float = 1.3
    detail: float = 1.0


FINE = Quality()
HALF = Quality(across=620, finer=1.3)  # one of two beside each other
QUICK = Quality(across=560, finer=1.0, detail=0.5)


@attrs.frozen(kw_only=True, eq=False)
class Painted:
    """A picture (rows, columns, 3) and how far off each of its dots lies (rows, columns), metres; inf for sky."""

    pixels: Pixels
    depth: NDArray[np.float32]


@attrs.frozen(kw_only=True)
class Reach:
    """What of a garden is painted: what is at least ``near`` ahead, leaves up to ``far``, ground to ``ground`` (m).

    ``slack`` is the share of its distance by which what is painted later may lie behind what it covers; at ``air`` m
    the air has taken 63 % of a colour.
    """

    near: float = 0.0
    far: float = math.inf
    slack: float = 0.002
    ground: float = math.inf
    air: float = HAZE_FAR


@attrs.frozen(kw_only=True, eq=False)
class Subject:
    """What is painted: the stage, the garden, its bodies that throw shadows, its plants, what is built, and
    who stands in it for scale."""

    scene: Stage
    project: Project
    worked: Layout
    bodies: Sequence[Solid]
    standing: Sequence[Standing]
    plants: Sequence[Grown]
    built: Sequence[Upright | Stander]
    year: int
    reach: Reach = Reach()
    company: Company | None = None


def is_ready() -> bool:
    """Whether the painter's loops are in memory; if not, the first picture waits for them to be read, or compiled."""
    light = sys.modules.get("gardenkit.drawing.painted.light")
    return light is not None and bool(light.lit.signatures)


def paint(of: Subject, quality: Quality = FINE, *, night: bool = False, snow: bool | None = None) -> Painted:
    """Return a garden painted as one sees it, at night by its lamps, in snow if asked for or the climate has it."""
    image, depth = in_dots(of, quality, night=night, snow=snow)
    return Painted(pixels=reduced(image, quality), depth=depth)


def in_dots(
    of: Subject, quality: Quality, *, night: bool = False, snow: bool | None = None
) -> tuple[Pixels, NDArray[np.float32]]:
    """Return a garden painted, dot for dot as ``quality`` is finer than its pixels, and how far off each dot lies."""
    from gardenkit.drawing.painted.canvas import faces as put_faces
    from gardenkit.drawing.painted.canvas import leaves as put_leaves
    from gardenkit.drawing.painted.light import cover_ground, lit
    from gardenkit.drawing.painted.water import mirror

    scene = of.scene
    light = air(scene, of.project.site.climate, night=night, snow=snow)
    left, low, right, top = scene.camera.frame
    fine = quality.across * quality.finer / (right - left)
    focal = scene.camera.focal * fine
    lens = np.array([focal, -left * fine, top * fine], dtype=np.float32)
    sheet = _blank(round((top - low) * fine), round((right - left) * fine))
    made = materials(of.project, of.worked, [(*p.drawn.at, p.drawn.spread / 2) for p in of.plants])
    grass = strewn(scene, made, focal=focal, detail=quality.detail, snowed=light.snow > 0)
    leaves = all_splats(for_plants(scene, of.project), of.plants, focal=focal, sun=light.sun, detail=quality.detail)
    planted = things_in(of.project.structure.things, of.year)
    hedges = hedge_splats(scene, standing_fences(of.project.site), planted, focal=focal, detail=quality.detail)
    at = (np.asarray(scene.camera.eye, dtype=float), np.ascontiguousarray(scene.camera.turn))
    person = figure(scene, of.company, focal) if of.company is not None else None
    reach = np.array([of.reach.near, of.reach.far, of.reach.slack, of.reach.ground])
    flying = [*leaves, *hedges, *(part for part in (grass, person) if part is not None)]
    spots = _as_seen(flying, *at, np.array([*lens, *sheet[0].shape], dtype=float), reach)
    flat = _faces(of, fine)
    place, colours = np.array([*made.corner, made.dot]), np.vstack((palette(scene), made.units))
    held = bodies_for([*of.bodies, *low_bodies(scene, of.standing)], tuple(light.sun), scene.month).held
    image = np.zeros((*sheet[0].shape, 3), dtype=np.uint8)
    shining = lamps(scene, of.project) if night else np.zeros((0, 9))
    mood = np.array([float(light.night), light.snow, of.reach.air])

    def band(rows: slice) -> None:
        part, lens_of = _rows_of(sheet, rows), lens - np.array([0.0, 0.0, rows.start], dtype=np.float32)
        if spots is not None:
            put_leaves(*part, rows.start, *spots)
        put_faces(*part, rows.start, reach, *flat)
        cover_ground(*part, made.kinds, made.shelter, place, colours, made.laid, *at, lens_of)
        lit(image[rows], *part, *at, lens_of, light.sky, light.lights, shining, mood, held)

    _in_bands(band, len(image))
    if not light.snow:
        mirror(image, *sheet[:2], *at, lens, light.sky)
    return image, sheet[0]


def _in_bands(work: Callable[[slice], None], rows: int) -> None:
    """Do the rows of a picture in bands beside each other, a few for each processor: sky is done sooner than leaves."""
    processors = os.cpu_count() or 1
    count = min(4 * processors, rows // BAND)
    if processors < 2 or count < 2:
        work(slice(0, rows))
        return
    edges = [round(rows * number / count) for number in range(count + 1)]
    with ThreadPoolExecutor(processors) as threads:
        list(threads.map(work, [slice(a, b) for a, b in pairwise(edges)]))


def _blank(rows: int, columns: int) -> Sheet:
    """Return a sheet with nothing on it: how far off each dot is, its colour and light, the way it faces."""
    depth = np.full((rows, columns), np.inf, dtype=np.float32)
    return depth, np.zeros((rows, columns, 6), dtype=np.uint8), np.zeros((rows, columns, 3), dtype=np.float32)


def encoded(pixels: Pixels, *, quality: int = 80) -> bytes:
    """Return a picture as the bytes of a WebP file."""
    from PIL import Image

    held = io.BytesIO()
    Image.fromarray(pixels).save(held, "WEBP", quality=quality, method=2)
    return held.getvalue()


def _as_seen(
    every: Sequence[Splats], eye: FloatArray, turn: FloatArray, lens: FloatArray, reach: FloatArray
) -> Seen | None:
    """Return leaves as the canvas takes them; None of none. ``lens`` and ``reach`` are as ``canvas.seen`` has them."""
    from gardenkit.drawing.painted.canvas import seen

    kept = [part for part in every if len(part.at)]
    if not kept:
        return None
    count = sum(len(part.at) for part in kept)
    spots, axes = np.empty((count, 3), dtype=np.float32), np.empty((count, 4), dtype=np.float32)
    rows = np.empty((count, 2), dtype=np.int32)
    first = 0
    for part in kept:
        seen(part.at, part.along, part.across, part.paint, eye, turn, lens, reach, first, spots, axes, rows)
        first += len(part.at)
    facing, paint = (np.concatenate([getattr(part, name) for part in kept]) for name in ("facing", "paint"))
    return spots, axes, rows, facing, paint


def _rows_of(sheet: Sheet, rows: slice) -> Sheet:
    depth, layer, facing = sheet
    return depth[rows], layer[rows], facing[rows]


def _faces(of: Subject, fine: float) -> tuple[NDArray[Any], ...]:
    """Return the ground, then what is built, in the order of the drawing, as the canvas takes flat faces."""
    held = Faces(of.scene.camera, fine, slack=of.reach.slack)
    held.ground(np.stack(mesh(of.scene, of.project, is_level=of.worked.lie is None)))
    for name, laid in of.worked.layings.items():
        for symbol in stone_marks(of.scene, [stone.outline for stone in laid.stones], name):
            for mark in symbol.marks:
                held.mark(mark)
    site = of.project.site
    made_of = {o.name: ROCK for o in site.obstacles if o.is_rock}
    made_of |= {fence.name: MASONRY for fence in site.fences if fence_kind(fence).view == "masonry"}
    for part in of.built:
        pieces: Sequence[Piece] = part.make(part.start, part.end) if isinstance(part, Upright) else part.make()
        for piece in pieces:
            held.piece(piece, made_of.get(piece.name, PLAIN))
    return held.arrays()


def reduced(image: Pixels, quality: Quality) -> Pixels:
    """Return a picture in pixels from its finer dots."""
    if quality.finer == 1.0:
        return image
    from PIL import Image

    high = round(image.shape[0] / quality.finer)
    return np.asarray(Image.fromarray(image).resize((quality.across, high), Image.Resampling.HAMMING))


def plain_stage(scene: Stage) -> PlainStage:
    """Return a stage whose outlines remember their places and whose colours are their own."""
    camera = scene.camera
    surveyor = camera
    if not isinstance(camera, Surveyor):
        surveyor = Surveyor(eye=camera.eye, towards=camera.towards, angle=camera.angle, width=camera.width)
    fields = {f.name: getattr(scene, f.name) for f in attrs.fields(Stage) if f.name != "camera"}
    return PlainStage(camera=surveyor, **fields)
