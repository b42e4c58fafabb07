"""Leaves, blades, twigs and flowers as pen and brush would put them: masses of leaf, fans of grass, branching twigs."""

import math

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Dots, Hatch, Plain
from gardenkit.drawing.view_camera import Camera
from gardenkit.geometry.plane import FloatArray

LIT, DEEP = "#fff3c4", "#22301f"
MOST_MASSES, MOST_TICKS, MOST_FLOWERS = 18, 46, 110  # a plant; keeps a hundred plants below 600 KB
GOLDEN = 0.6180339887


def leaf_masses(camera: Camera, outline: FloatArray, colour: str, *, seed: int, light: float, ragged: bool = True) -> list[Plain]:
    """Return a body of leaves inside a picture outline (n, 2): its outline, masses lit from one side, ticks of leaf.

    ``light`` from -1 (left) to 1 (right) is the side the light comes from.
    """
    ring = camera.framed(outline)
    if not ring:
        return []
    ink = style.mixed(colour, DEEP, 0.55)
    body = Area(
        rings=(ring,), fill=style.mixed(colour, DEEP, 0.22), stroke=ink, width_mm=0.14, layer="planting"
    )
    low, high = outline.min(axis=0), outline.max(axis=0)
    wide, tall = high - low
    size = math.sqrt(wide * tall)
    marks: list[Plain] = [body]
    if size < 2.5:
        return marks
    count = int(np.clip(size / 2.6, 3, MOST_MASSES))
    spots = _spread_inside(outline, count, seed)
    radius = 0.62 * size / math.sqrt(count)
    for x, y in sorted(spots.tolist(), key=lambda p: -p[1]):
        across = 2 * (x - low[0]) / wide - 1
        up = (y - low[1]) / tall
        lit = np.clip(0.35 * light * across + 0.85 * up - 0.25, 0.0, 1.0)
        tint = style.mixed(style.mixed(colour, DEEP, 0.16), style.mixed(colour, LIT, 0.26), float(lit))
        room = min(radius, x - low[0], high[0] - x, (y - low[1]) / 0.8, (high[1] - y) / 0.8)
        if room > 0.25:
            blob = camera.framed(_mass(x, y, room, seed + int(31 * x) + int(17 * y)))
            if blob:
                marks.append(Area(rings=(blob,), fill=tint, layer="planting"))
    if ragged:
        marks += _ticks(camera, outline, ink, seed, size)
    return marks


def flowers(
    camera: Camera, outline: FloatArray, colours: tuple[str, ...], *, seed: int, size: float, low: float = 0.35, dense: float = 1.0
) -> list[Plain]:
    """Return dots of flower over the upper part of an outline; ``size`` their radius in picture millimetres."""
    x0, y0 = outline.min(axis=0)
    x1, y1 = outline.max(axis=0)
    wanted = dense * (x1 - x0) * (y1 - y0) / (14 * max(size, 0.3) ** 1.2)
    spots = _spread_inside(outline, int(np.clip(wanted, 5, MOST_FLOWERS)), seed + 5, low=low)
    marks: list[Plain] = []
    for number, colour in enumerate(colours[:2]):
        part = camera.shown(spots[number :: min(2, len(colours))])
        if part:
            edge = style.mixed(colour, DEEP, 0.4)
            marks.append(
                Dots(points=part, radius=size, fill=colour, stroke=edge if size > 0.3 else None, width_mm=0.06, layer="planting")
            )
    return marks


def fan(
    foot: tuple[float, float], half: float, tall: float, *, count: int, seed: int, droop: float, lean: float = 1.0
) -> list[FloatArray]:
    """Return blades that rise from a foot and bend outward, each (4, 2), none above ``tall`` or wider than ``half``."""
    rng = np.random.default_rng(seed)
    share = np.linspace(-1, 1, count) * lean + rng.uniform(-0.08, 0.08, count) * lean
    share = np.clip(share, -1, 1)
    length = rng.uniform(0.78, 1.0, count)
    length[count // 2] = 1.0
    blades = []
    for s, part in zip(share, length, strict=True):
        top = tall * part * (1 - 0.25 * s * s)
        end = top * (1 - droop * abs(s))
        x = half * s
        blades.append(
            np.array(
                [
                    (foot[0] + 0.12 * x, foot[1]),
                    (foot[0] + 0.32 * x, foot[1] + 0.55 * top),
                    (foot[0] + 0.66 * x, foot[1] + 0.5 * (top + end) + 0.08 * (top - end)),
                    (foot[0] + x, foot[1] + end),
                ]
            )
        )
    blades[count // 2][-1] = (foot[0] + 0.02 * half, foot[1] + tall)
    return blades


def branches(
    foot: tuple[float, float], fork: float, half: float, tall: float, *, seed: int, count: int
) -> tuple[list[FloatArray], list[FloatArray]]:
    """Return the limbs and the twigs of a leafless crown ``half`` wide and ``tall`` high that forks ``fork`` above the foot."""
    rng = np.random.default_rng(seed)
    limbs, twigs = [], []
    base = np.array(foot) + (0.0, fork)
    for number, s in enumerate(np.linspace(-0.95, 0.95, count)):
        reach = (tall - fork) * (1 - 0.32 * s * s) * (1.0 if number == count // 2 else rng.uniform(0.86, 0.98))
        tip = base + (half * s * 0.92, reach)
        knee = base + (half * s * rng.uniform(0.3, 0.45), reach * rng.uniform(0.42, 0.55))
        limbs.append(np.array([base, knee, tip]))
        for along in (0.35, 0.55, 0.75, 0.9):
            start = base + along * (tip - base) + (knee - (base + tip) / 2) * (1 - abs(2 * along - 1))
            for way in (-1, 1):
                long = 0.26 * (tall - fork) * (1.15 - along)
                angle = way * rng.uniform(0.45, 0.85) + 0.7 * s
                end = start + (long * math.sin(angle) * min(1.0, half / max(tall - fork, 1e-6) + 0.35), long * math.cos(angle))
                end[1] = min(end[1], foot[1] + tall)
                twigs.append(np.array([start, end]))
    return limbs, twigs


def hatch(camera: Camera, lines: list[FloatArray], colour: str, width_mm: float, *, alpha: float = 1.0) -> list[Plain]:
    """Return open lines as one mark, cut to the frame; nothing when none shows."""
    kept = tuple(piece for line in lines for piece in camera.within(line))
    return [Hatch(lines=kept, colour=colour, width_mm=width_mm, alpha=alpha, layer="planting")] if kept else []


def lobed(outline: FloatArray, *, lobes: int, depth: float, keep: tuple[float, float]) -> FloatArray:
    """Return an outline with a leafy edge cut into it: never outside the old one; its top and sides stay where they were.

    ``keep`` is the point the lobes are drawn towards.
    """
    closed = np.vstack((outline, outline[:1]))
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))))
    even = np.linspace(0, along[-1], lobes * 4, endpoint=False)
    points = np.column_stack([np.interp(even, along, closed[:, axis]) for axis in (0, 1)])
    cut = 1 - depth * (1 - np.abs(np.sin(np.arange(len(points)) * math.pi / 4)))
    return np.asarray(np.asarray(keep) + (points - keep) * cut[:, None])


def _spread_inside(outline: FloatArray, count: int, seed: int, *, low: float = 0.06) -> FloatArray:
    """Return points spread evenly inside an outline, above the share ``low`` of its height."""
    k = np.arange(1, count + 1) + seed % 97
    y0, y1 = outline[:, 1].min(), outline[:, 1].max()
    levels = y0 + (y1 - y0) * (low + (0.95 - low) * ((k * 0.5698402910) % 1.0))
    a, b = outline, np.roll(outline, -1, axis=0)
    y_a, y_b = a[:, 1][None, :], b[:, 1][None, :]
    cut = (y_a <= levels[:, None]) != (y_b <= levels[:, None])
    with np.errstate(divide="ignore", invalid="ignore"):
        xs = a[:, 0] + (levels[:, None] - y_a) / (y_b - y_a) * (b[:, 0] - a[:, 0])
    left = np.where(cut, xs, np.inf).min(axis=1)
    right = np.where(cut, xs, -np.inf).max(axis=1)
    ok = np.isfinite(left) & np.isfinite(right)
    x = left + (right - left) * (0.08 + 0.84 * ((k * 0.7548776662) % 1.0))
    return np.asarray(np.column_stack((x, levels))[ok])


def _mass(x: float, y: float, radius: float, seed: int) -> FloatArray:
    t = np.arange(11) * 2 * math.pi / 11
    r = radius * (0.9 + 0.1 * np.sin(3 * t + seed))
    return np.column_stack((x + r * np.cos(t), y + 0.8 * r * np.sin(t)))


def _ticks(camera: Camera, outline: FloatArray, ink: str, seed: int, size: float) -> list[Plain]:
    count = int(np.clip(size * size / 9, 3, MOST_TICKS))
    spots = _spread_inside(outline, count, seed + 11, low=0.1)
    long = min(1.3, 0.1 * size + 0.25)
    turn = ((np.arange(len(spots)) * GOLDEN + seed * 0.37) % 1.0 - 0.5) * 1.6
    lines = []
    for (x, y), t in zip(spots, turn, strict=True):
        c, s = math.cos(t), math.sin(t)
        tick = np.array([(-0.5, -0.25), (0.0, 0.2), (0.5, -0.25)]) * long
        lines.append(np.column_stack((x + tick[:, 0] * c - tick[:, 1] * s, y + tick[:, 0] * s + tick[:, 1] * c)))
    inside = [line for line in lines if line[:, 1].max() < outline[:, 1].max() and line[:, 1].min() > outline[:, 1].min()]
    return hatch(camera, inside, ink, 0.12, alpha=0.55)

