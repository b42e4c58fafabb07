"""Flowers, fruit and seed heads: spires, umbels, daisies, balls, plumes, bells, panicles, mopheads, roses and cups."""

import math
from typing import TYPE_CHECKING

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.painted import shapes
from gardenkit.drawing.painted.forms import Cloud, unit
from gardenkit.drawing.painted.splats import Splats, colours_of, golden, splats
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.catalogue_columns import BULBS

if TYPE_CHECKING:
    from gardenkit.drawing.painted.plants import Set

GOLDEN = 2.399963
MOST_HEADS = 640  # a plant. House value.
STALK = "#6f8a4c"
# Of each head: florets, its height and half width in metres, a floret's radius, the floret's shape. House values.
HEADS: dict[str, tuple[int, float, float, float, int]] = {
    "spire": (16, 0.17, 0.013, 0.011, shapes.FLORET),
    "plume": (22, 0.16, 0.035, 0.012, shapes.FLORET),
    "panicle": (26, 0.12, 0.05, 0.015, shapes.FLORET),
    "umbel": (14, 0.014, 0.045, 0.014, shapes.FLORET),
    "ball": (18, 0.05, 0.028, 0.012, shapes.FLORET),
    "mophead": (26, 0.06, 0.06, 0.02, shapes.CUP),
    "bell": (3, 0.05, 0.014, 0.014, shapes.BELL),
    "daisy": (1, 0.0, 0.0, 0.027, shapes.DAISY),
    "rose": (1, 0.0, 0.0, 0.03, shapes.ROSE),
    "cup": (1, 0.0, 0.0, 0.024, shapes.CUP),
}
RAISED = ("spire", "umbel", "ball", "plume", "daisy", "panicle", "bell")  # carried on stalks above low plants


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
        head = plant.head if plant.head in ("umbel", "plume", "spire", "ball") else "ball"
        parts += _heads(one, cloud, head, dark, share=0.6, turn=0)
    return parts


def _sites(one: "Set", cloud: Cloud, count: int, turn: int, *, low: float) -> tuple[FloatArray, FloatArray]:
    """Return places for flowers among the outer leaves above a share of the height, and the way each looks."""
    rng = np.random.default_rng(one.seed + 11 * turn)
    top = max(float(cloud.at[:, 2].max()), 1e-6)
    tree = one.plant.drawn.layer == "tree"
    outer = (cloud.depth > (0.3 if tree else 0.55)) & (cloud.at[:, 2] > low * top)
    open_ones = np.flatnonzero(outer & ((cloud.facing[:, 2] > -0.1) | tree))
    if not len(open_ones):
        open_ones = np.arange(len(cloud.at))
    picked = rng.choice(open_ones, min(count, len(open_ones)), replace=False)
    if one.plant.support is not None:
        return cloud.at[picked] + 0.06 * cloud.facing[picked], cloud.facing[picked]
    c, s = math.cos(one.turn), math.sin(one.turn)
    spin = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    leafy = _leafy_share(one)
    stretch = np.array([one.half, one.half, one.tall * leafy / top])
    looks = unit(cloud.facing[picked] @ spin + (0.0, 0.0, 0.25))
    if tree:  # seen from below too
        looks = unit(rng.normal(size=looks.shape) + cloud.at[picked] @ spin * (1.0, 1.0, 0.0))
    clear = 0.012 + one.plant.leaf  # before the leaves round it
    return (cloud.at[picked] @ spin) * stretch + one.foot + clear * looks, looks


def _leafy_share(one: "Set") -> float:
    """Return how much of the height the leaves take; flowers carried above them take the rest."""
    drawn = one.plant.drawn
    if drawn.layer in ("tree", "shrub", "conifer", "climber", "wall fruit", "ground cover"):
        return 1.0
    if drawn.form == "spire":
        return 0.5
    if drawn.form == "rosette":
        return 0.36
    if drawn.layer in BULBS:
        return 0.6
    return 0.74 if drawn.layer == "grass" else 0.94


def _heads(one: "Set", cloud: Cloud, head: str, colour: str, *, share: float, turn: int) -> list[Splats]:
    plant = one.plant
    florets, high, half, radius, shape = HEADS[head]
    woody = plant.drawn.layer in ("tree", "shrub", "climber")
    bulb = plant.drawn.layer in BULBS
    big = float(np.clip(0.6 + 0.7 * one.tall, 0.7, 1.35)) * (1.5 if bulb else 1.0)
    most = MOST_HEADS
    if plant.drawn.layer == "tree":  # blossom comes in bunches
        big, most = 0.8, 4 * MOST_HEADS
    radius, high, half = radius * big, high * big, half * big
    small = one.scale * max(half, radius) < 1.6  # a head smaller than this is one dot of colour
    area = 3.2 * one.half**2 + (2.0 * one.half * one.tall if woody else 0.0)
    dense = 0.75 if woody else 0.85
    count = int(np.clip(share * dense * area / (max(half, radius, 0.9 / one.scale) ** 2 * 3.1), 3, most))
    count = max(3, min(count, 9)) if bulb else count
    at, facing = _sites(one, cloud, count, turn, low=0.1 if woody else 0.5)
    raised = head in RAISED and not woody
    parts: list[Splats] = []
    if raised:
        rng = np.random.default_rng(one.seed + turn)
        rise = one.tall * (1 - _leafy_share(one)) * rng.uniform(0.6, 1.0, len(at)) if _leafy_share(one) < 1 else 0.04
        foot = at.copy()
        at = at + np.column_stack((np.zeros((len(at), 2)), np.broadcast_to(rise, (len(at),))))
        at[:, 2] = np.minimum(at[:, 2], one.foot[2] + one.tall * 1.02)
        if one.scale > 40:
            parts.append(_stalks(foot - (0.0, 0.0, 0.05), at, max(0.0025, 0.3 / one.scale)))
    if small or florets == 1:
        size = max(half if small else radius, 0.9 / one.scale)
        parts.append(_flat(at, facing, colour, size, shapes.ROUND if small else shape))
    else:
        parts.append(_built(at, facing, colour, head, (florets, high, half, radius, shape), one.scale))
    return parts


def _built(
    at: FloatArray, facing: FloatArray, colour: str, head: str, made: tuple[int, float, float, float, int], scale: float
) -> Splats:
    """Return heads of many florets round the places they stand at."""
    florets, high, half, radius, shape = made
    florets = int(np.clip(florets * min(1.0, scale * max(half, high * 0.4) / 6.0), 5, florets))
    k = np.arange(florets)
    t, turn = (k + 0.5) / florets, k * GOLDEN
    if head in ("ball", "mophead"):
        z = 1 - 2 * t
        ring = np.sqrt(1 - z * z)
        offs = np.column_stack(
            (half * ring * np.cos(turn), half * ring * np.sin(turn), half * z * (0.8 if head == "mophead" else 1))
        )
    elif head == "umbel":
        r = half * np.sqrt(t)
        offs = np.column_stack((r * np.cos(turn), r * np.sin(turn), high * (1 - t)))
    elif head == "bell":
        offs = np.column_stack((half * np.cos(turn), half * np.sin(turn), -high * t))
    else:  # a taper: broad below, pointed above
        r = half * (1 - t) ** (0.55 if head == "spire" else 0.8) * (0.6 + 0.4 * np.cos(turn * 3) ** 2)
        offs = np.column_stack((r * np.cos(turn), r * np.sin(turn), high * (t - 0.6)))
    spots = (at[:, None, :] + offs[None]).reshape(-1, 3)
    out = unit(offs * (1.0, 1.0, 0.6) + (0.0, 0.0, 0.35 * half + 1e-6))
    looks = unit((0.7 * out[None] + 0.3 * facing[:, None, :]).reshape(-1, 3))
    size = max(radius, 0.75 / scale) * np.ones(len(spots))
    shade = np.tile((k * 0.618) % 1.0, len(at))
    return _shapes(spots, looks, colour, size, shape, shade)


def _flat(at: FloatArray, facing: FloatArray, colour: str, size: float, shape: int) -> Splats:
    shade = golden(len(at))
    return _shapes(at, facing, colour, np.asarray(size * (0.85 + 0.3 * shade)), shape, shade)


def _shapes(at: FloatArray, facing: FloatArray, colour: str, size: FloatArray, shape: int, shade: FloatArray) -> Splats:
    side = unit(np.cross(facing, [0.31, 0.17, 0.93]) + 1e-6)
    along = side * size[:, None]
    across = np.cross(facing, side) * size[:, None]
    paint = colours_of(colour, shade, varied=0.07)
    full = np.ones(len(at))
    return splats(at, along, across, facing, paint, shape, sun=0.95 * full, sky=full)


def _stalks(a: FloatArray, b: FloatArray, thick: float) -> Splats:
    from gardenkit.drawing.painted.plants import sticks_between

    return sticks_between(a, b, np.full(len(a), thick), STALK)


def _fruit(one: "Set", cloud: Cloud, colour: str) -> list[Splats]:
    count = int(np.clip(40 * one.half * one.tall, 12, 160))
    at, facing = _sites(one, cloud, count, 5, low=0.1)
    size = max(0.018 if one.plant.drawn.layer in ("tree", "wall fruit") else 0.01, 1.0 / one.scale)
    return [_flat(at, facing, colour, size, shapes.ROUND)]
