"""Plants alike are made once and set many times, each turned, sized and lit where it stands: a drift costs little."""

import math
from collections.abc import Sequence
from functools import lru_cache

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing.painted.plants import Set, parts_of
from gardenkit.drawing.painted.setting import set_again
from gardenkit.drawing.painted.splats import Splats, joined, within_of
from gardenkit.drawing.view_camera import Camera
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_standing import Grown
from gardenkit.geometry.plane import FloatArray

SIZES, SCALES = 4, 3  # steps in which sizes and distances count as alike: as many to each doubling. House values.
VARIED = 2  # plants of a kind that differ in where their flowers sit; each is turned its own way too. House value.
KEPT = 500  # kinds of plants remembered, some 100 kB each


def all_splats(
    scene: Stage, plants: Sequence[Grown], *, focal: float, sun: FloatArray, detail: float = 1.0
) -> list[Splats]:
    """Return every plant in the picture as splats, the nearest first, so that what it hides is soon passed over.

    ``detail`` under 1 is a quick sketch.
    """
    if not plants:
        return []
    feet = scene.laid([plant.drawn.at for plant in plants])
    seen = scene.camera.before(feet)
    half = np.array([max(plant.drawn.spread / 2, 0.04) for plant in plants])
    right, ahead = np.abs(seen[:, 0]), seen[:, 2]
    slant = math.tan(math.radians(scene.camera.angle / 2))
    inside = (ahead >= -half) & (right <= np.maximum(ahead, 0.0) * slant + 2.0 * half + 0.5)
    away = np.maximum(np.maximum(ahead - 0.5 * half, np.hypot(right, ahead) * 0.5), 0.5)
    order = [int(i) for i in np.argsort(np.hypot(right, ahead)) if inside[i]]
    scales = focal / away * min(1.0, detail)
    sight = _sight(scene.camera)
    found = (_set(plants[i], feet[i], float(half[i]), float(scales[i]), sun, sight) for i in order)
    return [one for one in found if one is not None]


def _sight(camera: Camera) -> FloatArray:
    """Return what a place is off each edge of the picture, outwards, in m: rows (4, 4) for (east, north, up, 1)."""
    left, low, right, top = (edge / camera.focal for edge in camera.frame)
    edges = np.array([(-1, 0, left), (1, 0, -right), (0, -1, low), (0, 1, -top)])
    edges = edges / np.linalg.norm(edges, axis=1, keepdims=True) @ camera.turn
    return np.column_stack((edges, -edges @ np.asarray(camera.eye)))


def _set(
    plant: Grown, foot: FloatArray, half: float, scale: float, sun: FloatArray, sight: FloatArray
) -> Splats | None:
    """Return one plant where it stands; None where nothing of it shows or lies in the picture."""
    tall = max(plant.drawn.height, 0.03)
    if plant.support is not None:  # a climber is as its support is: made where it stands
        return joined(parts_of(Set(plant=plant, foot=foot, half=half, tall=tall, scale=scale)))
    sizes = (_step(half), _step(tall))
    made = _model(_alike(plant, *sizes), *sizes, _finer(scale))
    if made is None:
        return None
    turn = (plant.drawn.number * 7919 % 628) / 100.0
    wider, taller = half / sizes[0], tall / sizes[1]
    middle = (foot[0], foot[1], foot[2] + taller * made.middle, 1.0)
    if (sight @ middle).max() > max(wider, taller) * made.reach:
        return None
    stand = np.array([*foot, wider, taller, turn])
    spans, paint = np.empty_like(made.spans), np.empty_like(made.paint)
    set_again(made.spans, made.paint, made.within, stand, sun, spans, paint)
    return Splats(at=spans[0], along=spans[1], across=spans[2], facing=spans[3], paint=paint)


@attrs.frozen(kw_only=True, eq=False)
class Model:
    """A plant at the middle of the world: ``spans`` (4, n, 3), ``paint`` (n, 9), ``within`` (n, 7) as ``set_again``.

    All of it is within ``reach`` metres of a point ``middle`` metres up.
    """

    spans: NDArray[np.float32]
    paint: NDArray[np.uint8]
    within: NDArray[np.float32]
    middle: float = attrs.field(init=False)
    reach: float = attrs.field(init=False)

    @middle.default
    def _middle(self) -> float:
        up = self.spans[0, :, 2]
        return float(up.min() + up.max()) / 2

    @reach.default
    def _reach(self) -> float:
        off = self.spans[:3].copy()
        off[0, :, 2] -= self.middle
        return float(np.linalg.norm(off, axis=2).sum(axis=0).max())


@lru_cache(maxsize=KEPT)
def _model(like: Grown, half: float, tall: float, scale: float) -> Model | None:
    """Return a plant of a kind, a size and a distance; None when nothing of it shows."""
    one = joined(parts_of(Set(plant=like, foot=np.zeros(3), half=half, tall=tall, scale=scale)))
    if one is None:
        return None
    spans = np.stack((one.at, one.along, one.across, one.facing)).astype(np.float32)
    return Model(spans=spans, paint=one.paint, within=within_of(one))


def _alike(plant: Grown, half: float, tall: float) -> Grown:
    """Return a plant as every one like it is: without its place, its name and what is its own in size."""
    drawn = attrs.evolve(
        plant.drawn,
        number=plant.drawn.number % VARIED,
        at=(0.0, 0.0),
        key="",
        name="",
        turn=0.0,
        spread=half,
        height=tall,
    )
    share = round(plant.stem / tall, 2)
    return attrs.evolve(plant, drawn=drawn, stem=share * tall, trunk=float(f"{plant.trunk:.1g}"))


def _step(size: float) -> float:
    """Return the nearest of the sizes that count as alike."""
    return float(2.0 ** (round(SIZES * math.log2(size)) / SIZES))


def _finer(scale: float) -> float:
    """Return the nearest step of scale that shows no less: leaves far off are never coarser than they may be."""
    return float(2.0 ** (math.ceil(SCALES * math.log2(scale)) / SCALES))
