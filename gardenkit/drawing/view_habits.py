"""How each habit of plant is drawn: leafy bodies, bare twigs, dry stems, grasses, ferns, bulbs and flower spires."""

import math
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Plain, Ring
from gardenkit.drawing.silhouettes import PROFILES, RAYED, silhouette
from gardenkit.drawing.symbols import BY_LAYER
from gardenkit.drawing.view_climbers import on_support
from gardenkit.drawing.view_foliage import branches, fan, flower_spots, flowers, hatch, leaf_masses, lobed, on_twigs
from gardenkit.drawing.view_heads import heads
from gardenkit.drawing.view_standing import Draw, Local, box
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray

SMOOTH = ("conical", "mat", "trained")
WOODY = ("tree", "conifer", "shrub", "climber", "wall fruit")
_TURN = np.linspace(0, 2 * math.pi, 12, endpoint=False)


def drawn_as(local: Local) -> tuple[FloatArray, Draw, bool]:
    """Return a plant's outline in the picture, what draws it, and whether it hides what is behind.

    Most plants of a garden stand behind others, and a painted view asks for outlines alone: what draws is asked last.
    """
    plant = local.plant.drawn
    form = BY_LAYER.get(plant.layer, plant.form if plant.form in PROFILES else "round")
    if local.plant.support is not None:
        return on_support(local, local.plant.support)
    if plant.leaf == "bare":
        return _bare(local, form) if plant.layer in WOODY else _dry(local)
    if plant.layer == "grass" or form in ("fountain", "fern"):
        return _blades(local, form)
    if form == "bulb":
        return _bulb(local)
    if form in ("spire", "rosette") and local.plant.flowers:
        return _spires(local)
    outline = _outline(local, "mound" if form in ("spire", "rosette") else form)
    return outline, lambda: _leafy(local, outline), True


def _leafy(local: Local, outline: FloatArray) -> list[Plain]:
    plant = local.plant
    colour = local.colour(plant.drawn.foliage)
    seed = plant.drawn.number
    marks: list[Plain] = []
    if plant.stem > 0:
        marks += _trunk(local, plant.stem + 0.35 * (plant.drawn.height - plant.stem))
    marks += leaf_masses(local.scene.camera, outline, colour, seed=seed, light=local.light, leaf=local.leaf)
    return marks + _blossom(local, outline)


def _outline(local: Local, form: str) -> FloatArray:
    plant = local.plant
    if plant.stem > 0:
        return lobed(local.set(silhouette(form, raised=True), base=plant.stem * local.per_metre), depth=0.05, pitch=3.0)
    half, tall = plant.drawn.spread / 2, plant.drawn.height
    profile = PROFILES[form]
    if local.up + tall < -0.05:
        hull = local.cushion([(y * tall, x * half) for y, x in profile])
        if len(hull) > 3:
            return lobed(hull, depth=0.1)
    sides = local.set(silhouette(form))
    whole = np.vstack((sides, local.front(profile[0][1] * half)[1:-1]))
    return whole if form in SMOOTH else lobed(whole, depth=0.05)


def _blossom(local: Local, outline: FloatArray) -> list[Plain]:
    plant = local.plant
    size = local.bloom
    camera = local.scene.camera
    marks: list[Plain] = []
    tree = plant.stem > 0
    if plant.flowers:
        colours = tuple(local.colour(c) for c in plant.flowers)
        low = 0.12 if tree else 0.4 if plant.drawn.layer in WOODY else 0.55
        big = size * (1.4 if tree else 1.0)
        spots = flower_spots(camera, outline, seed=plant.drawn.number, size=big, low=low, dense=1.6 if tree else 1.0)
        for number, colour in enumerate(colours[:2]):
            part = spots[number :: min(2, len(colours))]
            marks += heads(camera, part, plant.head, colour, size=0.8 * big, lighter=local.colour)
    if plant.fruit:
        marks += flowers(
            camera,
            outline,
            (local.colour(plant.fruit),),
            seed=plant.drawn.number + 3,
            size=0.7 * size,
            low=0.2,
            dense=0.5,
        )
    return marks


def _trunk(local: Local, top: float) -> list[Plain]:
    half = max(0.12, local.per_metre * max(local.plant.trunk, 0.03) / 2)
    x, y = local.foot
    high = local.per_metre * top
    shape = np.array(
        [
            (x - 1.35 * half, y),
            (x + 1.35 * half, y),
            (x + half, y + 0.12 * high),
            (x + 0.65 * half, y + high),
            (x - 0.65 * half, y + high),
            (x - half, y + 0.12 * high),
        ]
    )
    ring = local.scene.camera.framed(shape)
    if not ring:
        return []
    colour = local.colour(style.BARE_INK)
    return [
        Area(rings=(ring,), fill=colour, stroke=style.mixed(colour, style.INK, 0.4), width_mm=0.1, layer="planting")
    ]


def _bare(local: Local, form: str) -> tuple[FloatArray, Draw, bool]:
    plant = local.plant
    outline = local.set(
        silhouette(form if form in PROFILES else "round", raised=plant.stem > 0), base=plant.stem * local.per_metre
    )
    return outline, lambda: _twigs(local), False


def _twigs(local: Local) -> list[Plain]:
    plant = local.plant
    count = 7 if plant.stem > 0 else 8
    limbs, twigs = branches(
        local.foot, plant.stem * local.per_metre, local.half, local.tall, seed=plant.drawn.number, count=count
    )
    colour = local.colour(style.BARE_INK)
    thick = float(np.clip((plant.trunk or 0.02 * plant.drawn.height) * 0.22 * local.per_metre, 0.12, 2.2))
    camera = local.scene.camera
    marks: list[Plain] = _trunk(local, plant.stem * 1.02) if plant.stem > 0 else []
    marks += hatch(camera, twigs, style.mixed(colour, "#ffffff", 0.15), max(0.09, thick * 0.17))
    for first, share in ((2, 0.3), (1, 0.55), (0, 0.85)):
        marks += hatch(camera, [limb[first : first + 2] for limb in limbs], colour, max(0.1, thick * share))
    size = 0.8 * local.bloom
    for colours in (plant.flowers, (plant.fruit,) if plant.fruit else ()):
        if colours:
            marks += on_twigs(camera, twigs, tuple(local.colour(c) for c in colours), size=size)
    return marks


def _dry(local: Local) -> tuple[FloatArray, Draw, bool]:
    """Return dry stems left standing, with their seed heads."""
    plant = local.plant.drawn
    count = int(np.clip(local.half * 1.6, 6, 20))
    lines = fan(
        local.foot,
        local.half,
        local.tall,
        count=count,
        seed=plant.number,
        droop=0.25 if plant.layer == "grass" else 0.0,
    )
    return box(np.vstack(lines)), lambda: _seed_stems(local, lines), False


def _seed_stems(local: Local, lines: list[FloatArray]) -> list[Plain]:
    plant = local.plant.drawn
    colour = local.colour(plant.foliage)
    pen = float(np.clip(0.008 * local.per_metre, 0.1, 0.4))
    marks = hatch(local.scene.camera, lines, colour, pen)
    heads = np.array([line[-1] for line in lines])
    if plant.layer != "grass":
        dark = style.mixed(colour, style.BARE_INK, 0.55)
        marks += flowers(
            local.scene.camera,
            box(heads),
            (dark,),
            seed=plant.number,
            size=max(0.15, 0.014 * local.per_metre),
            low=0.6,
        )
    return marks


def _blades(local: Local, form: str) -> tuple[FloatArray, Draw, bool]:
    """Return a grass or fern: it hides what is behind unless it is small, or nothing of it is inside the picture."""
    size = math.sqrt(local.half * local.tall)
    outline = local.set(silhouette(form if form in RAYED else "fountain"))
    mass = local.scene.camera.framed(local.set(silhouette("fountain") * (0.82, 0.8)))

    def draw() -> list[Plain]:
        return _tuft(local, form, mass)

    return outline, draw, size > 3 and (bool(mass) or bool(draw()))


def _tuft(local: Local, form: str, mass: Ring) -> list[Plain]:
    plant = local.plant.drawn
    colour = local.colour(plant.foliage)
    upright = form in ("clump", "upright", "columnar")
    size = math.sqrt(local.half * local.tall)
    count = int(np.clip(size * 1.8, 9, 30)) | 1
    droop = 0.12 if upright else 0.42
    back = fan(local.foot, local.half, local.tall * 0.94, count=count, seed=plant.number, droop=droop)
    ahead = fan(local.foot, local.half, local.tall, count=count, seed=plant.number + 1, droop=droop, lean=0.95)
    pen = float(np.clip(0.011 * local.per_metre, 0.14, 0.6))
    camera = local.scene.camera
    marks: list[Plain] = []
    if mass:
        marks.append(Area(rings=(mass,), fill=style.mixed(colour, "#22301f", 0.3), alpha=0.75, layer="planting"))
    marks += hatch(camera, back, style.mixed(colour, "#22301f", 0.3), pen)
    if form == "fern":
        ahead += [leaf for blade in ahead[::2] for leaf in _pinnae(blade)]
    marks += hatch(camera, ahead, style.mixed(colour, "#fff3c4", 0.15), pen)
    if local.plant.flowers:
        plumes = [blade[-2:] for blade in ahead[count // 5 : count - count // 5 : 2]]
        marks += hatch(camera, plumes, local.colour(local.plant.flowers[-1]), pen * 2.4)
    return marks


def _pinnae(blade: FloatArray) -> list[FloatArray]:
    found = []
    for a, b in pairwise(blade):
        way = (b - a) * 0.3
        aside = np.array([-way[1], way[0]])
        found += [
            np.array([a + s * (b - a), a + s * (b - a) + way + side * aside])
            for s in (0.3, 0.75)
            for side in (-0.9, 0.9)
        ]
    return found


def _bulb(local: Local) -> tuple[FloatArray, Draw, bool]:
    plant = local.plant.drawn
    leaves = fan(
        local.foot,
        local.half,
        local.tall * (0.5 if local.plant.flowers else 1.0),
        count=7,
        seed=plant.number,
        droop=0.35,
    )
    whole = box(np.vstack([*leaves, np.array([local.foot, (local.foot[0], local.foot[1] + local.tall)])]))
    return whole, lambda: _bulb_drawn(local, leaves), False


def _bulb_drawn(local: Local, leaves: list[FloatArray]) -> list[Plain]:
    plant = local.plant.drawn
    camera = local.scene.camera
    colour = local.colour(plant.foliage)
    marks = hatch(camera, leaves, colour, float(np.clip(0.014 * local.per_metre, 0.14, 0.7)))
    if local.plant.flowers:
        stems = fan(local.foot, 0.7 * local.half, local.tall, count=3, seed=plant.number, droop=0.0)
        marks += hatch(
            camera, stems, style.mixed(colour, "#22301f", 0.2), float(np.clip(0.006 * local.per_metre, 0.1, 0.4))
        )
        radius = local.per_metre * min(0.055, 0.16 * plant.height)
        for x, y in (stem[-1] for stem in stems):
            head = np.column_stack((x + radius * np.cos(_TURN), y - radius + radius * np.sin(_TURN)))
            ring = camera.framed(head)
            fill = local.colour(local.plant.flowers[0])
            if ring:
                marks.append(
                    Area(
                        rings=(ring,),
                        fill=fill,
                        stroke=style.mixed(fill, "#22301f", 0.35),
                        width_mm=0.1,
                        layer="planting",
                    )
                )
    return marks


def _spires(local: Local) -> tuple[FloatArray, Draw, bool]:
    """Return a low body of leaves with flower spikes rising from it."""
    plant = local.plant.drawn
    low = attrs.evolve(
        local,
        plant=attrs.evolve(local.plant, drawn=attrs.evolve(plant, height=0.5 * plant.height), flowers=(), fruit=None),
    )
    outline = _outline(low, "mound")
    tip = np.array([(local.foot[0], local.foot[1] + local.tall)])
    return np.asarray(plane.hull_outline(np.vstack((outline, tip)))), lambda: _spikes(local, low, outline), False


def _spikes(local: Local, low: Local, outline: FloatArray) -> list[Plain]:
    plant = local.plant.drawn
    camera = local.scene.camera
    marks = _leafy(low, outline)
    count = int(np.clip(local.half * 1.1, 3, 13)) | 1
    stems = fan(local.foot, 0.75 * local.half, local.tall, count=count, seed=plant.number, droop=0.0)
    fill = local.colour(local.plant.flowers[0])
    wide = max(0.16, min(0.012 * local.per_metre, 1.6))
    marks += hatch(camera, stems, style.mixed(local.colour(plant.foliage), "#22301f", 0.2), max(0.1, wide * 0.3))
    spikes = [np.array([stem[len(stem) // 2], stem[-1]]) for stem in stems]
    rings = []
    for a, b in ((s[0], s[1]) for s in spikes):
        shape = np.array(
            [
                a - np.array([0.6 * wide, 0.0]),
                a + np.array([0.6 * wide, 0.0]),
                a + 0.45 * (b - a) + np.array([wide, 0.0]),
                b,
                a + 0.45 * (b - a) - np.array([wide, 0.0]),
            ]
        )
        ring = camera.framed(shape)
        if ring:
            rings.append(ring)
    marks += [
        Area(rings=(r,), fill=fill, stroke=style.mixed(fill, "#22301f", 0.3), width_mm=0.08, layer="planting")
        for r in rings
    ]
    return marks
