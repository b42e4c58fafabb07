"""Leaves, blades, twigs and flowers as pen and brush would put them: masses of leaf, fans of grass, branching twigs."""

import math
from functools import lru_cache

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Dots, Hatch, Plain
from gardenkit.drawing.view_camera import Camera
from gardenkit.geometry.plane import FloatArray

LIT, DEEP = "#fff3c4", "#22301f"
MOST_MASSES, MOST_TICKS, MOST_FLOWERS = 110, 140, 100  # a plant; keeps a hundred plants below 600 KB
GOLDEN = 0.6180339887


def leaf_masses(
    camera: Camera, outline: FloatArray, colour: str, *, seed: int, light: float, leaf: float = 0.6
) -> list[Plain]:
    """Return a body of leaves inside a picture outline (n, 2): its outline, masses lit from one side, ticks of leaf.

    ``light`` from -1 (left) to 1 (right) is the side the light comes from; ``leaf`` the length of a tick, mm.
    """
    ring = camera.framed(outline)
    if not ring:
        return []
    ink = style.mixed(colour, DEEP, 0.55)
    body = Area(rings=(ring,), fill=style.mixed(colour, DEEP, 0.22), stroke=ink, width_mm=0.14, layer="planting")
    low, high = outline.min(axis=0), outline.max(axis=0)
    wide, tall = high - low
    shown = np.asarray(ring)  # only what is inside the frame is worked out
    size = math.sqrt(float(np.prod(np.ptp(shown, axis=0))))
    marks: list[Plain] = [body]
    if size < 2.5:
        return marks
    count = int(np.clip((size / 3.0) ** 1.4, 3, MOST_MASSES))
    spots, room = _spread_inside(shown, count, seed)
    radius = 0.68 * size / math.sqrt(count)
    order = np.argsort(-spots[:, 1])
    for number, (x, y) in zip(order.tolist(), spots[order].tolist(), strict=True):
        across, up = 2 * (x - low[0]) / wide - 1, (y - low[1]) / tall
        lit = 0.3 * light * across + 0.7 * up - 0.12 + 0.36 * ((number * GOLDEN) % 1.0 - 0.5)
        tint = style.mixed(style.mixed(colour, DEEP, 0.18), style.mixed(colour, LIT, 0.28), float(np.clip(lit, 0, 1)))
        reach = min(radius, 1.15 * room[number], (y - low[1]) / 0.8, (high[1] - y) / 0.8)
        blob = camera.framed(_mass(x, y, reach, seed + number)) if reach > 0.25 else ()
        if blob:
            marks.append(Area(rings=(blob,), fill=tint, layer="planting"))
    return marks + _ticks(camera, shown, ink, seed, leaf)


def flower_spots(
    camera: Camera, outline: FloatArray, *, seed: int, size: float, low: float = 0.35, dense: float = 1.0
) -> FloatArray:
    """Return where flowers stand over the upper part of an outline, (n, 2); ``size`` their radius in millimetres."""
    ring = camera.framed(outline)
    if not ring:
        return np.zeros((0, 2))
    if len(ring) != len(outline):  # cut by the frame: the share of its height counts for the whole plant
        level = outline[:, 1].min() + low * np.ptp(outline[:, 1])
        outline = np.asarray(ring)
        low = float(np.clip((level - outline[:, 1].min()) / max(np.ptp(outline[:, 1]), 1e-6), 0.0, 0.94))
    (x0, y0), (x1, y1) = outline.min(axis=0), outline.max(axis=0)
    wanted = dense * (x1 - x0) * (y1 - y0) / (14 * max(size, 0.3) ** 1.2)
    spots, _ = _spread_inside(outline, int(np.clip(wanted, 5, MOST_FLOWERS)), seed + 5, low=low)
    return spots


def flowers(
    camera: Camera,
    outline: FloatArray,
    colours: tuple[str, ...],
    *,
    seed: int,
    size: float,
    low: float = 0.35,
    dense: float = 1.0,
) -> list[Plain]:
    """Return dots of flower or fruit over the upper part of an outline; arguments as for ``flower_spots``."""
    spots = flower_spots(camera, outline, seed=seed, size=size, low=low, dense=dense)
    marks: list[Plain] = []
    for number, colour in enumerate(colours[:2]):
        part = camera.shown(spots[number :: min(2, len(colours))], margin=size)
        if part:
            edge = style.mixed(colour, DEEP, 0.4)
            marks.append(
                Dots(
                    points=part,
                    radius=size,
                    fill=colour,
                    stroke=edge if size > 0.3 else None,
                    width_mm=0.06,
                    layer="planting",
                )
            )
    return marks


def fan(
    foot: tuple[float, float], half: float, tall: float, *, count: int, seed: int, droop: float, lean: float = 1.0
) -> list[FloatArray]:
    """Return blades that rise from a foot and bend outward, each (n, 2), none above ``tall`` or wider than ``half``."""
    rng = np.random.default_rng(seed)
    share = np.clip((np.linspace(-1, 1, count) + rng.uniform(-0.1, 0.1, count)) * lean, -1, 1)
    length = rng.uniform(0.76, 1.0, count)
    share[count // 2], length[count // 2] = 0.02, 1.0
    t = np.linspace(0, 1, 4 if tall < 14 else 6)[:, None]
    blades = []
    for s, part in zip(share, length, strict=True):
        top = tall * part * (1 - 0.25 * s * s)
        first = np.array([foot[0] + 0.14 * half * s, foot[1]])
        bend = np.array([foot[0] + (0.3 + 0.25 * droop) * half * s, foot[1] + top * (0.75 + 0.5 * droop * abs(s))])
        last = np.array([foot[0] + half * s, foot[1] + top * (1 - droop * abs(s))])
        blades.append(np.asarray((1 - t) ** 2 * first + 2 * t * (1 - t) * bend + t * t * last))
    return blades


def branches(
    foot: tuple[float, float], fork: float, half: float, tall: float, *, seed: int, count: int
) -> tuple[list[FloatArray], list[FloatArray]]:
    """Return limbs and twigs of a leafless crown ``half`` wide and ``tall`` high that forks ``fork`` above the foot."""
    rng = np.random.default_rng(seed)
    limbs, twigs = [], []
    base, high = np.array([foot[0], foot[1] + fork]), tall - fork
    squeeze = min(1.0, half / max(high, 1e-6) + 0.35)
    for number, s in enumerate(np.linspace(-0.95, 0.95, count)):
        reach = high * (1 - 0.32 * s * s) * (1.0 if number == count // 2 else rng.uniform(0.84, 0.98))
        tip = base + np.array([half * s * 0.92, reach])
        knee = base + np.array([half * (0.38 * s + rng.uniform(-0.1, 0.1)), reach * rng.uniform(0.38, 0.55)])
        shin = (knee + tip) / 2 + np.array([half * rng.uniform(-0.05, 0.05), 0.0])
        limbs.append(np.array([base, knee, shin, tip]))
        for along in (0.3, 0.45, 0.6, 0.75, 0.88):
            start = knee + (2 * along - 1) * (tip - knee) if along > 0.5 else base + 2 * along * (knee - base)
            for way in (-1, 1):
                angle = way * rng.uniform(0.4, 0.8) + 0.6 * s
                end = start + 0.3 * high * (1.15 - along) * np.array([math.sin(angle) * squeeze, math.cos(angle)])
                bud = start + 0.55 * (end - start)
                side = bud + 0.4 * (end - start) @ np.array([[0.8, way * 0.6], [-way * 0.6, 0.8]])
                for line in (np.array([start, bud, end]), np.array([bud, side])):
                    line[:, 1] = np.minimum(line[:, 1], foot[1] + tall)
                    line[:, 0] = np.clip(line[:, 0], foot[0] - half, foot[0] + half)
                    twigs.append(line)
    return limbs, twigs


def on_twigs(camera: Camera, twigs: list[FloatArray], colours: tuple[str, ...], *, size: float) -> list[Plain]:
    """Return flowers or fruit along bare twigs."""
    spots = np.vstack([line[-2:] + share * (line[-1] - line[-2]) * 0.5 for line in twigs for share in (0.0, -0.9)])
    spots = spots[:: max(1, math.ceil(len(spots) / (2.6 * MOST_FLOWERS)))]
    marks: list[Plain] = []
    for number, colour in enumerate(colours[:2]):
        part = camera.shown(spots[number :: min(2, len(colours))], margin=size)
        if part:
            marks.append(Dots(points=part, radius=size, fill=colour, layer="planting"))
    return marks


def hatch(camera: Camera, lines: list[FloatArray], colour: str, width_mm: float, *, alpha: float = 1.0) -> list[Plain]:
    """Return open lines as one mark, cut to the frame; nothing when none shows."""
    kept = tuple(piece for line in lines for piece in camera.within(line))
    return [Hatch(lines=kept, colour=colour, width_mm=width_mm, alpha=alpha, layer="planting")] if kept else []


def lobed(outline: FloatArray, *, depth: float, pitch: float = 2.2) -> FloatArray:
    """Return an outline with a leafy edge, lobes about ``pitch`` millimetres long; as high and as wide as before."""
    closed = np.vstack((outline, outline[:1]))
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))))
    lobes = int(np.clip(along[-1] / pitch, 8, 44))
    even = np.linspace(0, along[-1], lobes * 4, endpoint=False)
    points = np.column_stack([np.interp(even, along, closed[:, axis]) for axis in (0, 1)])
    low, high = outline.min(axis=0), outline.max(axis=0)
    keep = (low + high) / 2
    points = keep + (points - keep) * _cuts(len(points), depth)
    least, most = points.min(axis=0), points.max(axis=0)
    for axis in (0, 1):
        points[:, axis] = np.interp(points[:, axis], (least[axis], most[axis]), (low[axis], high[axis]))
    return np.asarray(points)


@lru_cache(maxsize=256)
def _cuts(count: int, depth: float) -> FloatArray:
    """Return how far in each point of a leafy edge lies, as a share (n, 1) of its way from the middle."""
    cut = 1 - depth * (1 - np.abs(np.sin(np.arange(count) * math.pi / 4)))
    cut = 1 - (1 - cut) * (0.6 + 0.4 * np.sin(np.arange(count) * 0.61))
    return np.asarray(cut[:, None])


def _spread_inside(outline: FloatArray, count: int, seed: int, *, low: float = 0.06) -> tuple[FloatArray, FloatArray]:
    """Return points spread inside an outline above the share ``low`` of its height, and their room to the sides."""
    k = np.arange(1, count + 1) + seed % 97
    y0, y1 = outline[:, 1].min(), outline[:, 1].max()
    shake = np.random.default_rng(seed).uniform(-0.5, 0.5, (2, count)) / math.sqrt(count)  # no rows
    levels = y0 + (y1 - y0) * np.clip(low + (0.95 - low) * ((k * 0.5698402910) % 1.0) + 0.5 * shake[0], low, 0.95)
    a, b = outline, np.roll(outline, -1, axis=0)
    y_a, y_b = a[:, 1][None, :], b[:, 1][None, :]
    cut = (y_a <= levels[:, None]) != (y_b <= levels[:, None])
    with np.errstate(divide="ignore", invalid="ignore"):
        xs = a[:, 0] + (levels[:, None] - y_a) / (y_b - y_a) * (b[:, 0] - a[:, 0])
    left, right = np.where(cut, xs, np.inf).min(axis=1), np.where(cut, xs, -np.inf).max(axis=1)
    ok = cut.any(axis=1)
    levels, left, right, k, push = levels[ok], left[ok], right[ok], k[ok], shake[1][ok]
    x = left + (right - left) * np.clip(0.06 + 0.88 * ((k * 0.7548776662) % 1.0) + push, 0.05, 0.95)
    room = np.maximum(np.minimum(x - left, right - x), 0.22 * (right - left))
    return np.column_stack((x, levels)), np.asarray(room)


def _mass(x: float, y: float, radius: float, seed: int) -> FloatArray:
    corners = 9 if radius < 2.5 else 14 if radius < 6 else 20
    t = np.arange(corners) * 2 * math.pi / corners
    lobes = 3 if corners == 9 else 5 if corners == 14 else 7
    r = radius * (0.86 + 0.14 * np.abs(np.sin(lobes * t / 2 + seed)))
    return np.column_stack((x + r * np.cos(t), y + 0.8 * r * np.sin(t)))


def _ticks(camera: Camera, outline: FloatArray, ink: str, seed: int, leaf: float) -> list[Plain]:
    wide, tall = outline.max(axis=0) - outline.min(axis=0)
    count = int(np.clip(wide * tall / (12 * max(leaf, 0.6) ** 1.5), 3, MOST_TICKS))
    spots, _ = _spread_inside(outline, count, seed + 11, low=0.1)
    turn = ((np.arange(len(spots)) * GOLDEN + seed * 0.37) % 1.0 - 0.5) * 2.2
    c, s = np.cos(turn)[:, None], np.sin(turn)[:, None]
    across, up = np.array([(-0.5, 0.0, 0.5), (-0.25, 0.2, -0.25)]) * leaf
    lines = np.stack((spots[:, :1] + across * c - up * s, spots[:, 1:] + across * s + up * c), axis=2)  # (n, 3, 2)
    high = lines[:, :, 1]
    inside = (high.max(axis=1) < outline[:, 1].max()) & (high.min(axis=1) > outline[:, 1].min())
    return hatch(camera, list(lines[inside]), ink, 0.12 + 0.03 * min(leaf, 3.0), alpha=0.5)
