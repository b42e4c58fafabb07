"""Flowers, fruit and seed heads where they are on a plant: on stalks above its leaves, or among the outer leaves."""

import math
from typing import TYPE_CHECKING

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.painted import heads, shapes
from gardenkit.drawing.painted.forms import UP, Cloud, unit
from gardenkit.drawing.painted.heads import GOLDEN, HEADS, OPEN_CUP, Head
from gardenkit.drawing.painted.splats import Splats
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.catalogue_columns import BULBS
from gardenkit.planting.flower_heads import FlowerHead
from gardenkit.planting.season import LEAFY_HEIGHT

if TYPE_CHECKING:
    from gardenkit.drawing.painted.plants import Set

MOST_HEADS = 640  # a plant. House value.
STALK = "#6f8a4c"
RAISED = ("spire", "umbel", "ball", "plume", "daisy", "panicle", "bell")  # carried on stalks above low plants
WOODY = ("tree", "shrub", "conifer", "climber", "wall fruit")
BLOSSOM = 1.0  # of the usual size: the flowers of trees, which come in bunches. House value.
CLOSE_SET = {"cup": 2.0, "bell": 2.4, "umbel": 2.5}  # half widths between heads of a shrub. House values.
LOW_HEAD = 0.15  # of the height of a ground cover: its heads are no larger. House value.
DOMED, LEANS = 0.2, 0.3  # how much lower the outer heads of a plant are, and how far their stalks lean. House values.


def blossom(one: "Set", cloud: Cloud) -> list[Splats]:
    """Return the flowers of the month, else fruit or seed heads, over a plant's leaves."""
    plant = one.plant
    parts: list[Splats] = []
    for number, colour in enumerate(plant.flowers[:3]):
        parts += _heads(one, cloud, plant.head, colour, share=1.0 / min(3, len(plant.flowers)), turn=number)
    if plant.fruit:
        parts += _fruit(one, cloud, plant.fruit)
    elif plant.seed_heads and not plant.flowers:
        dark = style.mixed(plant.drawn.foliage, "#5b452e", 0.6)
        form: FlowerHead = plant.head if plant.head in ("umbel", "plume", "spire", "ball") else "ball"
        parts += _heads(one, cloud, form, dark, share=0.6, turn=0)
    return parts


def leafy_share(one: "Set") -> float:
    """Return how much of the height the leaves take; flowers carried above them take the rest."""
    drawn, plant = one.plant.drawn, one.plant
    if drawn.layer in (*WOODY, "ground cover") or not (plant.flowers or plant.seed_heads):
        return 1.0
    if drawn.layer in BULBS:
        return 0.6
    if drawn.layer == "grass":
        return 0.74
    if plant.head not in RAISED:
        return 1.0
    return LEAFY_HEIGHT.get(drawn.form, 0.8)


def _heads(one: "Set", cloud: Cloud, form: FlowerHead, colour: str, *, share: float, turn: int) -> list[Splats]:
    plant = one.plant
    layer = plant.drawn.layer
    head, most = _head(one, form), MOST_HEADS * (4 if layer == "tree" else 1)
    area = 3.2 * one.half**2 + (2.0 * one.half * one.tall if layer in WOODY else 0.0)
    pitch = head.apart * max(head.half, 0.75 / one.scale)
    count = int(np.clip(share * area / pitch**2, 1 if layer in BULBS else 3, most))
    if form not in RAISED or layer in WOODY:
        if layer in BULBS:
            return _on_stalks(one, form, head, colour, count, turn)
        at, facing = _among_leaves(one, cloud, count, turn, pitch)
        axis = unit(facing + 0.7 * UP) if form in heads.UPRIGHT else facing
        return [heads.built(at, axis, colour, form, head, one.scale, eye=plant.eye)]
    return _on_stalks(one, form, head, colour, count, turn)


def _head(one: "Set", form: FlowerHead) -> Head:
    """Return a head of a form as large as it is on this plant."""
    layer = one.plant.drawn.layer
    head = OPEN_CUP if form == "cup" and layer in BULBS else HEADS[form]
    if layer == "tree":
        return attrs.evolve(head.grown(BLOSSOM), apart=2.0)
    if layer in WOODY:
        head = attrs.evolve(head, apart=CLOSE_SET.get(form, head.apart))
    most = LOW_HEAD * one.tall / head.size if layer == "ground cover" else np.inf
    if form == "spire" and layer not in WOODY:
        return head.grown(min(most, float(np.clip(one.tall / 0.6, 0.35, 2.6))))
    return head.grown(min(most, float(np.clip(0.6 + 0.7 * one.tall, 0.65, 1.4)) * (1.25 if layer in BULBS else 1.0)))


def _on_stalks(one: "Set", form: FlowerHead, head: Head, colour: str, count: int, turn: int) -> list[Splats]:
    """Return heads spread evenly over a plant, each on a stalk of its own that stands out of the leaves."""
    rng = np.random.default_rng(one.seed + turn)
    k = np.arange(count)
    far = np.sqrt((k + 0.5) / count) * (0.84 if count > 2 else 0.4)
    angle = k * GOLDEN + 2.1 * turn + rng.uniform(-0.25, 0.25, count)
    way = np.column_stack((np.cos(angle), np.sin(angle), np.zeros(count)))
    leafy = leafy_share(one)
    top = one.tall * (1.0 - DOMED * far**2) * rng.uniform(0.84, 1.0, count) - 0.45 * head.high
    top = np.maximum(top, one.tall * leafy * 0.7 + 0.5 * head.half)
    at = one.foot + one.half * far[:, None] * way + np.column_stack((np.zeros((count, 2)), top))
    axis = unit(way * (LEANS * far)[:, None] + rng.normal(scale=0.07, size=(count, 3)) + (0.0, 0.0, 1.0))
    if form in ("daisy", "cup"):  # looked into from the side and from above, each its own way
        axis = unit(0.6 * axis + way * (0.4 + 0.6 * far)[:, None] + rng.normal(scale=0.3, size=(count, 3)))
    parts = []
    if one.scale > 40:
        foot = one.foot + 0.7 * one.half * far[:, None] * way + (0.0, 0.0, 0.55 * leafy * one.tall)
        parts.append(_stalks(foot, at, max(0.0015 + 0.002 * one.tall, 0.25 / one.scale)))
    parts.append(heads.built(at, axis, colour, form, head, one.scale, eye=one.plant.eye))
    return parts


def _among_leaves(one: "Set", cloud: Cloud, count: int, turn: int, pitch: float) -> tuple[FloatArray, FloatArray]:
    """Return places for flowers among the outer leaves, some ``pitch`` m from each other, and the way each looks."""
    rng = np.random.default_rng(one.seed + 11 * turn)
    plant = one.plant
    top = max(float(cloud.at[:, 2].max()), 1e-6)
    tree = plant.drawn.layer == "tree"
    outer = (cloud.depth > (0.3 if tree else 0.55)) & (
        cloud.at[:, 2] > (0.1 if plant.drawn.layer in WOODY else 0.5) * top
    )
    open_ones = np.flatnonzero(outer & ((cloud.facing[:, 2] > -0.1) | tree))
    if not len(open_ones):
        open_ones = np.arange(len(cloud.at))
    picked = rng.permutation(open_ones)
    on_support = plant.support is not None
    stretch = np.ones(3) if on_support else np.array([one.half, one.half, one.tall * leafy_share(one) / top])
    if not tree:
        cells = np.floor(cloud.at[picked] * stretch / (0.8 * pitch)).astype(np.int64)
        picked = picked[np.sort(np.unique(cells, axis=0, return_index=True)[1])]
    picked = picked[:count]
    if on_support:
        return cloud.at[picked] + 0.06 * cloud.facing[picked], cloud.facing[picked]
    c, s = math.cos(one.turn), math.sin(one.turn)
    spin = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    looks = unit(cloud.facing[picked] @ spin + (0.0, 0.0, 0.25))
    if tree:  # seen from below too
        looks = unit(rng.normal(size=looks.shape) + cloud.at[picked] @ spin * (1.0, 1.0, 0.0))
    clear = 0.012 + plant.leaf + (0.04 if tree else 0.0)  # before the leaves round it
    return (cloud.at[picked] @ spin) * stretch + one.foot + clear * looks, looks


def _stalks(a: FloatArray, b: FloatArray, thick: float) -> Splats:
    from gardenkit.drawing.painted.plants import sticks_between

    return sticks_between(a, b, np.full(len(a), thick), STALK)


def _fruit(one: "Set", cloud: Cloud, colour: str) -> list[Splats]:
    count = int(np.clip(40 * one.half * one.tall, 12, 160))
    at, facing = _among_leaves(one, cloud, count, 5, 0.05)
    size = 0.018 if one.plant.drawn.layer in ("tree", "wall fruit") else 0.01
    berry = Head(florets=1, high=0.0, half=size, radius=size, shape=shapes.ROUND, apart=3.0)
    return [heads.built(at, facing, colour, "cup", berry, one.scale, eye=colour)]
