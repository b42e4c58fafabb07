"""Climbers and trained plants where they grow: up and over an arch, or flat against trellis, fence and wires."""

import math
from collections.abc import Callable

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Plain
from gardenkit.drawing.silhouettes import silhouette
from gardenkit.drawing.view_foliage import branches, flowers, hatch, leaf_masses, lobed
from gardenkit.drawing.view_standing import Draw, Local
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import support_kind
from gardenkit.structure.structure import Support

ALONG_ARCH = Figure(0.17, "m", HOUSE)  # half the thickness of a climber on its arch


def on_support(local: Local, support: Support) -> tuple[FloatArray, Draw, bool]:
    """Return a climber where it grows: up the post and over an arch, or flat against its trellis, fence or wires."""
    shape = SHAPES[support_kind(support.kind).stands](local, support)
    if len(shape) < 4:
        return shape, list, False
    outline = lobed(shape, depth=0.04, pitch=3.0)
    if local.plant.drawn.leaf == "bare":
        return outline, lambda: _bare(local, outline), False
    return outline, lambda: _leafy(local, outline), True


def _bare(local: Local, outline: FloatArray) -> list[Plain]:
    middle = outline.mean(axis=0)
    half, tall = np.ptp(outline[:, 0]) / 2, np.ptp(outline[:, 1])
    foot = (float(middle[0]), float(outline[:, 1].min()))
    limbs, twigs = branches(foot, 0.1 * tall, half, tall, seed=local.plant.drawn.number, count=5)
    colour = local.colour(style.BARE_INK)
    camera = local.scene.camera
    return [*hatch(camera, limbs, colour, 0.35), *hatch(camera, twigs, colour, 0.14)]


def _leafy(local: Local, outline: FloatArray) -> list[Plain]:
    plant = local.plant
    marks = leaf_masses(
        local.scene.camera,
        outline,
        local.colour(plant.drawn.foliage),
        seed=plant.drawn.number,
        light=local.light,
        leaf=local.leaf,
    )
    if plant.flowers:
        marks += flowers(
            local.scene.camera,
            outline,
            tuple(local.colour(c) for c in plant.flowers),
            seed=plant.drawn.number,
            size=local.bloom,
            low=0.1,
            dense=0.6,
        )
    return marks


def _over_arch(local: Local, support: Support) -> FloatArray:
    near, far = sorted((support.line[0], support.line[-1]), key=lambda p: math.dist(p, local.plant.drawn.at))
    tall, long = support.height, math.dist(near, far)
    up = min(local.plant.drawn.height, tall)
    over = min(max(local.plant.drawn.height - tall, 0.0), 0.55 * long)
    half = min(float(ALONG_ARCH), 0.3 * local.plant.drawn.spread + 0.04)
    way = np.subtract(far, near) / long
    base = local.scene.level(near)
    rise = np.linspace(0, up, 7)
    sway = half * (1 + 0.25 * np.sin(5 * rise + local.plant.drawn.number))
    left = [(-w, z) for w, z in zip(sway, rise, strict=True)]
    right = [(w, z) for w, z in zip(sway[::-1], rise[::-1], strict=True)]
    if over > 0:
        crest = [
            (-half, up + half),
            *((x, up + half * (1.1 + 0.3 * math.sin(7 * x))) for x in np.linspace(0, over, 4)),
            (over, up - half * 0.5),
            (half, up - half),
        ]
    else:
        crest = [(0.0, up + 0.4 * half)]
    spots = np.array([(*(np.asarray(near) + way * u), base + z) for u, z in [*left, *crest, *right]])
    seen = local.scene.camera.before(spots)
    return local.scene.camera.flat(seen) if seen[:, 2].min() > 0.3 else np.zeros((0, 2))


def _against(local: Local, support: Support) -> FloatArray:
    """Return the patch of a support a plant covers, as high as it has grown (a little over the top at most)."""
    plant = local.plant.drawn
    line = plane.line(support.line)
    foot = np.asarray(plane.nearest_on(line, plant.at))
    a, b = min(
        zip(support.line, support.line[1:], strict=False),
        key=lambda pair: plane.distance(plane.line(pair), plane.point(tuple(foot))),
    )
    long = math.dist(a, b)
    way = np.subtract(b, a) / long
    along = float((foot - a) @ way)
    low, high = max(-0.15, along - plant.spread / 2), min(long + 0.15, along + plant.spread / 2)
    tall = min(plant.height, support.height + 0.25)
    unit = silhouette("trained" if plant.layer == "wall fruit" else "oval")
    u = (low + high) / 2 + unit[:, 0] * (high - low) / 2
    base = local.scene.level((float(foot[0]), float(foot[1])))
    spots = np.column_stack((a[0] + way[0] * u, a[1] + way[1] * u, base + tall * unit[:, 1]))
    seen = local.scene.camera.before(spots)
    return local.scene.camera.flat(seen) if seen[:, 2].min() > 0.3 else np.zeros((0, 2))


def _round(local: Local, support: Support) -> FloatArray:
    """Return a climber all round a tapering support, a little outside it, as high as it has grown."""
    a, b = support.line[0], support.line[-1]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    grown = min(1.0, local.plant.drawn.height / support.height)
    half = math.dist(a, b) / 2
    shares = np.linspace(0.0, grown, 8)
    wide = float(ALONG_ARCH) * (0.6 + 0.4 * np.sin(5 * shares + local.plant.drawn.number)) + half * (1 - shares)
    to_eye = np.subtract(local.scene.camera.at, middle)
    way = np.array([-to_eye[1], to_eye[0]]) / max(math.hypot(*to_eye), 1e-9)
    base, tall = local.scene.level(middle), support.height
    sides = [
        (side * w, z) for side, order in ((-1, 1), (1, -1)) for w, z in zip(wide[::order], shares[::order], strict=True)
    ]
    spots = np.array([(*(np.asarray(middle) + way * u), base + z * tall) for u, z in sides])
    seen = local.scene.camera.before(spots)
    return local.scene.camera.flat(seen) if seen[:, 2].min() > 0.3 else np.zeros((0, 2))


SHAPES: dict[str, Callable[[Local, Support], FloatArray]] = {"overhead": _over_arch, "flat": _against, "round": _round}
