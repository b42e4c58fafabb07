"""One head of flowers close by: spires that thin to their tip, globes, flat umbels, plumes, daisies, open cups."""

import attrs
import numpy as np

from gardenkit.drawing.painted import shapes
from gardenkit.drawing.painted.forms import UP, cross, unit
from gardenkit.drawing.painted.splats import Splats, colours_of, golden, rgb, splats
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.flower_heads import FlowerHead

GOLDEN = 2.399963
UPRIGHT = ("spire", "plume", "panicle")
DENSE_TO_LIGHT = 1.0  # how fast light is lost through a head: its far side lies in its own shade. House value.
UNLIKE = 0.09  # how much brighter or darker one head is than the next. House value.
TIP = "#7d8a55"  # what buds at the tip of a spire lean to
SIZES = (0.72, 1.12)  # of the heads of a plant. House values.
FEWEST, SHOWN = 4, 6.5  # florets of a head; pixels of its size at which all of them show. House values.
SPECK = 1.5  # pixels: a head of less half size is one dot of its colour. House value.


@attrs.frozen(kw_only=True)
class Head:
    """A head as it is built: ``florets`` of a ``radius`` and ``shape``, ``high`` and ``half`` wide (m), heads stand
    ``apart`` half widths from middle to middle.
    """

    florets: int
    high: float
    half: float
    radius: float
    shape: int
    apart: float

    @property
    def size(self) -> float:
        """Half its larger size, m."""
        return max(self.half, self.radius, 0.5 * self.high)

    def grown(self, by: float) -> "Head":
        """Return the same head larger or smaller."""
        return attrs.evolve(self, high=by * self.high, half=by * self.half, radius=by * self.radius)


# On a plant 0.6 m high. House values.
HEADS: dict[FlowerHead, Head] = {
    "spire": Head(florets=46, high=0.2, half=0.017, radius=0.0105, shape=shapes.FLORET, apart=4.4),
    "plume": Head(florets=54, high=0.19, half=0.036, radius=0.012, shape=shapes.FLORET, apart=3.0),
    "panicle": Head(florets=46, high=0.17, half=0.06, radius=0.02, shape=shapes.CUP, apart=2.7),
    "umbel": Head(florets=40, high=0.016, half=0.046, radius=0.0095, shape=shapes.ROUND, apart=2.9),
    "ball": Head(florets=44, high=0.06, half=0.03, radius=0.0095, shape=shapes.FLORET, apart=3.7),
    "mophead": Head(florets=40, high=0.1, half=0.07, radius=0.021, shape=shapes.CUP, apart=2.25),
    "bell": Head(florets=4, high=0.06, half=0.02, radius=0.014, shape=shapes.BELL, apart=3.4),
    "daisy": Head(florets=1, high=0.0, half=0.036, radius=0.036, shape=shapes.DAISY, apart=2.5),
    "rose": Head(florets=1, high=0.0, half=0.036, radius=0.036, shape=shapes.ROSE, apart=3.0),
    "cup": Head(florets=1, high=0.0, half=0.022, radius=0.022, shape=shapes.CUP, apart=2.3),
}
OPEN_CUP = Head(florets=6, high=0.04, half=0.02, radius=0.02, shape=shapes.OVATE, apart=3.4)  # of a bulb


def built(
    at: FloatArray, axis: FloatArray, colour: str, form: FlowerHead, head: Head, scale: float, *, eye: str
) -> Splats:
    """Return heads at places (n, 3) along their ways up (n, 3), as fine as ``scale`` pixels a metre show them."""
    if scale * head.size < SPECK:
        return _flat(at, axis, colour, np.full(len(at), max(head.size, 0.9 / scale)), shapes.ROUND, eye)
    if head.florets == 1:
        return _flat(at, axis, colour, max(head.radius, 0.9 / scale) * sizes(len(at)), head.shape, eye)
    if form in UPRIGHT and scale * head.half < SPECK:
        return _strokes(at, axis, colour, head, scale)
    share = min(1.0, scale * max(head.half, 0.35 * head.high) / SHOWN)
    count = int(np.clip(round(head.florets * share), FEWEST, head.florets))
    offs, size, young = _florets(form, head, count)
    return _set(at, axis, colour, head, (offs, size / share**0.5, young), scale)


def sizes(count: int) -> FloatArray:
    """Return how large each of so many heads is against the usual."""
    return np.asarray(SIZES[0] + (SIZES[1] - SIZES[0]) * ((np.arange(count) * 0.7548) % 1.0))


def _florets(form: FlowerHead, head: Head, count: int) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return where florets are on a head of half width 1 and height 1, their size, how far each is from open."""
    k = np.arange(count)
    t, turn = (k + 0.5) / count, k * GOLDEN
    size, young, level = np.ones(count), np.zeros(count), t
    if form in ("ball", "mophead"):
        level = 1 - 2 * t
        ring, level = np.sqrt(1 - level * level), 0.5 * level
    elif form == "umbel":
        ring = np.sqrt(t)
        level = 0.9 * (1 - t)
    elif form == "bell":
        ring, level = np.ones(count), 0.5 - t
    elif form == "cup":
        turn = k * 2 * np.pi / count
        ring, level = np.full(count, 0.62), np.full(count, 0.2)
    else:  # open below, in bud at the tip
        slim = {"spire": 0.72, "plume": 0.85}.get(form, 0.8)
        ring = (1 - slim * t**1.3) * (1.0 if form == "spire" else 0.55 + 0.45 * np.abs(np.cos(2.5 * turn)))
        size, young = 1.15 - 0.75 * t, np.clip(1.6 * t - 0.75, 0, 1) * (0.7 if form == "spire" else 0.25)
        level = t**0.9 - 0.5
    return np.column_stack((ring * np.cos(turn), ring * np.sin(turn), level)), size, young


def _set(
    at: FloatArray,
    axis: FloatArray,
    colour: str,
    head: Head,
    made: tuple[FloatArray, FloatArray, FloatArray],
    scale: float,
) -> Splats:
    """Return florets set round the middles of their heads, those away from the sun in the shade of the others."""
    offs, size, young = made
    count, many = len(at), len(offs)
    across = unit(cross(axis, [0.31, 0.93, 0.17]))
    frame = np.stack((across, cross(axis, across), axis), axis=1)  # (heads, 3, 3)
    own = sizes(count)
    spots = own[:, None, None] * (offs * (head.half, head.half, head.high))[None] @ frame
    out = unit((offs * (1.0, 1.0, 0.7) + (0.0, 0.0, 0.15))[None] @ frame.reshape(count, 3, 3) + 0.0).reshape(-1, 3)
    if head.shape == shapes.OVATE:  # petals that stand
        along = unit(0.45 * out + np.repeat(axis, many, axis=0))
        facing = unit(cross(cross(along, out), along))
    else:
        facing = unit(out + 0.25 * np.repeat(axis, many, axis=0))
        along = unit(
            cross(facing, np.tile(unit(np.column_stack((offs[:, 1], -offs[:, 0], 0.4 + 0 * size))), (count, 1)))
        )
    large = np.maximum(np.tile(size, count) * np.repeat(own, many) * head.radius, 0.8 / scale)
    wide = 0.6 if head.shape == shapes.OVATE else 1.0
    shade = (np.tile(golden(many), count) + np.repeat(golden(count), many)) % 1.0
    paint = _toned(colour, shade, np.repeat(golden(count), many), np.tile(young, count))
    spots = (spots + at[:, None, :]).reshape(-1, 3)
    sky = np.tile(0.62 + 0.38 * np.clip(0.5 + (0.5 * offs[:, 2] + 0.25), 0, 1), count)
    made_of = splats(
        spots,
        along * large[:, None],
        cross(facing, along) * (wide * large)[:, None],
        facing,
        paint,
        head.shape,
        sun=np.full(len(spots), 0.95),
        sky=sky,
    )
    within = np.empty((len(spots), 7), dtype=np.float32)
    tall = max(0.5 * head.high, 0.5 * head.half)
    within[:, :3] = (spots - np.repeat(at, many, axis=0)) / (1.05 * head.half, 1.05 * head.half, 1.05 * tall)
    within[:, 3:] = (0.84, DENSE_TO_LIGHT, 1 / head.half, 1 / tall)
    return attrs.evolve(made_of, within=within)


def _toned(colour: str, shade: FloatArray, whole: FloatArray, young: FloatArray) -> FloatArray:
    """Return a colour for each floret: its own shade, its head's, and greener in bud."""
    paint = colours_of(colour, shade, varied=0.08) * (1 + UNLIKE * (2 * whole - 1))[:, None]
    return np.asarray(paint + young[:, None] * (np.array(rgb(TIP)) - paint))


def _strokes(at: FloatArray, axis: FloatArray, colour: str, head: Head, scale: float) -> Splats:
    """Return slim heads far off: a stroke that is thinner towards its tip."""
    own = (sizes(len(at)) * head.high)[:, None]
    feet, waist, tips = at - 0.5 * own * axis, at + 0.05 * own * axis, at + 0.5 * own * axis
    a, b = np.concatenate((feet, waist)), np.concatenate((waist, tips))
    thick = np.concatenate((np.full(len(at), head.half), np.full(len(at), 0.55 * head.half)))
    along, level = 0.5 * (b - a), unit(cross(b - a, [0.3, 0.95, 0.1]))
    whole = np.tile(golden(len(at)), 2)
    young = np.repeat((0.0, 0.35), len(at))
    paint = _toned(colour, np.roll(whole, 1), whole, young)
    facing = unit(cross(level, along) + 0.35 * head.high * UP)
    across = level * np.maximum(thick, 0.55 / scale)[:, None]
    full = np.full(len(a), 0.9)
    return splats(0.5 * (a + b), along, across, facing, paint, shapes.STICK, sun=full, sky=full)


def _flat(at: FloatArray, facing: FloatArray, colour: str, size: FloatArray, shape: int, eye: str) -> Splats:
    side = unit(cross(facing, [0.31, 0.17, 0.93]) + 1e-6)
    shade = golden(len(at))
    paint = _toned(colour, shade, (3 * shade) % 1.0, np.zeros(len(at)))
    full = np.ones(len(at))
    across = cross(facing, side)
    return splats(
        at, side * size[:, None], across * size[:, None], facing, paint, shape, sun=0.95 * full, sky=full, eye=eye
    )
