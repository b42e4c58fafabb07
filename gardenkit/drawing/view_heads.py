"""Flowers in the picture by the shape they stand in: spires rise, umbels lie flat, daisies have an eye, plumes taper.

Near plants get their heads; far ones, whose heads would be smaller than a pen, are dotted with their colour as before.
"""

import math
from collections.abc import Callable

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Dots, Plain
from gardenkit.drawing.view_camera import Camera
from gardenkit.drawing.view_foliage import DEEP
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.flower_heads import FlowerHead

FINEST_MM = 0.42  # a flower of a smaller radius in the picture is a dot. House value.
EYE = "#c9962f"  # the middle of a daisy
GOLDEN = 2.399963  # radians
Part = tuple[FloatArray, float, str]  # offsets (n, 2) in flower radii, their radius in flower radii, how it is toned


def _ring(count: int, far: float, squash: float = 1.0) -> FloatArray:
    turn = np.linspace(0, 2 * math.pi, count, endpoint=False)
    return np.column_stack((far * np.cos(turn), squash * far * np.sin(turn)))


def _cluster(count: int, far: float, squash: float = 1.0) -> FloatArray:
    """Return points spread evenly over a disc (the sunflower's spiral)."""
    k = np.arange(count)
    r, turn = far * np.sqrt((k + 0.5) / count), k * GOLDEN
    return np.column_stack((r * np.cos(turn), squash * r * np.sin(turn)))


def _raised(at: FloatArray, by: float) -> FloatArray:
    return np.asarray(at + np.array([0.0, by]))


def _taper(levels: int, tall: float, wide: float) -> list[tuple[FloatArray, float]]:
    """Return rows of a tapering head from the broad foot to the tip: offsets and radius of each."""
    rows = []
    for level in range(levels):
        share = level / max(1, levels - 1)
        half = wide * (1 - share) ** 0.8
        count = max(1, round(1.6 * half))
        xs = np.linspace(-half, half, count) if count > 1 else np.zeros(1)
        rows.append((np.column_stack((xs, np.full(count, tall * share))), 0.75 - 0.4 * share))
    return rows


def _tapered(levels: int, tall: float, wide: float) -> tuple[Part, ...]:
    tones = ("deep", "plain", "light")
    return tuple((at, r, tones[min(2, 3 * k // levels)]) for k, (at, r) in enumerate(_taper(levels, tall, wide)))


HEADS: dict[str, tuple[Part, ...]] = {
    "daisy": ((_ring(7, 0.85), 0.48, "plain"), (np.zeros((1, 2)), 0.5, "eye")),
    "umbel": ((_raised(_cluster(9, 2.0, 0.34), -0.25), 0.42, "deep"), (_cluster(11, 2.0, 0.3), 0.42, "plain")),
    "ball": (
        (np.zeros((1, 2)), 1.5, "deep"),
        (_cluster(12, 1.25), 0.4, "plain"),
        (_cluster(5, 0.7) + 0.35, 0.3, "light"),
    ),
    "mophead": (
        (_cluster(8, 1.5, 0.8), 0.7, "deep"),
        (_raised(_cluster(10, 1.35, 0.75), 0.2), 0.5, "plain"),
        (_cluster(4, 0.7) + 0.5, 0.4, "light"),
    ),
    "rose": ((np.zeros((1, 2)), 1.25, "plain"), (_ring(5, 0.72), 0.42, "light"), (np.zeros((1, 2)), 0.45, "deep")),
    "bell": (
        (np.array([(-0.55, -0.1), (0.55, -0.1), (0.0, -0.2)]), 0.5, "plain"),
        (np.array([(0.0, 0.5)]), 0.6, "deep"),
    ),
    "panicle": _tapered(6, 4.4, 1.9),
    "plume": _tapered(8, 5.2, 1.1),
    "spire": _tapered(8, 6.4, 0.75),
}
SPACING = {"spire": 2.4, "plume": 2.2, "panicle": 2.2, "umbel": 1.9, "ball": 1.9, "mophead": 1.9}


def heads(
    camera: Camera, spots: FloatArray, head: FlowerHead, colour: str, *, size: float, lighter: Callable[[str], str]
) -> list[Plain]:
    """Return flower heads of a shape at picture points (n, 2), a flower's radius being ``size`` mm.

    ``lighter`` tones a colour as the air does at that distance; a daisy's eye needs it.
    """
    if head not in HEADS or size < FINEST_MM:
        return _dots(camera, spots, colour, size)
    apart = max(1, round(SPACING.get(head, 1.0)))
    kept = spots[::apart]
    marks: list[Plain] = []
    for offsets, radius, tone in HEADS[head]:
        points = (kept[:, None, :] + size * offsets[None]).reshape(-1, 2)
        shown = camera.shown(points, margin=radius * size)
        if shown:
            fill = _toned(colour, tone, lighter)
            marks.append(Dots(points=shown, radius=radius * size, fill=fill, layer="planting"))
    return marks


def _dots(camera: Camera, spots: FloatArray, colour: str, size: float) -> list[Plain]:
    shown = camera.shown(spots, margin=size)
    if not shown:
        return []
    edge = style.mixed(colour, DEEP, 0.4) if size > 0.3 else None
    return [Dots(points=shown, radius=size, fill=colour, stroke=edge, width_mm=0.06, layer="planting")]


def _toned(colour: str, tone: str, lighter: Callable[[str], str]) -> str:
    match tone:
        case "deep":
            return style.mixed(colour, DEEP, 0.22)
        case "light":
            return style.mixed(colour, "#ffffff", 0.3)
        case "eye":
            return lighter(EYE)
    return colour
