"""Ground textures as if drawn by hand: grass, gravel, mulch, bark, moss, paving joints, kept inside their region.

Marks stand on a loose grid fixed to the ground, so moving a path does not make the grass beside it jump. Their number
is capped: a live plan has to be quick.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing import style
from gardenkit.drawing.scene import Dots, Hatch, Layer, Mark, Ring, on_ground
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Region
from gardenkit.structure.kinds import bond_kind, laid_in

MOST = 260  # marks in one texture of one region. House value: a live plan of ten regions stays under 3,000 strokes
PITCH_MM = {
    "grass": 4.6,
    "gravel": 2.7,
    "mulch": 4.0,
    "bark": 3.6,
    "moss": 3.2,
    "meadow": 4.2,
    "short meadow": 5.4,
    "water": 6.5,
}
UPRIGHT = ("grass", "meadow", "short meadow", "water")  # strokes that all stand one way
FURROW_MM = 2.6  # between the furrows of a worked bed on the sheet. House value.
UNIT_MM, MOST_UNITS = 0.9, 2500  # a bond is drawn unit by unit where they are as wide and as few. House values.
COURSE_MM = 6.0  # paving course on the sheet, least; drawn pattern, not a laying plan


def texture(region: Region, kind: str, *, scale: float, seed: int = 1, layer: Layer = "ground") -> tuple[Mark, ...]:
    """Return the marks of a texture inside a region, in metres, for a sheet at 1 : scale; none for an unknown kind.

    The same seed gives the same marks; every vertex lies inside the region.
    """
    if region.is_empty or kind not in style.TEXTURE_INK:
        return ()
    ink = style.TEXTURE_INK[kind]
    if kind == "paving":
        lines = paving_joints(region, scale=scale)
        return (Hatch(lines=lines, colour=ink, width_mm=style.FLECK, layer=layer),) if lines else ()
    if kind == "furrows":
        lines = furrows(region, scale=scale)
        return (Hatch(lines=lines, colour=ink, width_mm=style.FLECK, layer=layer),) if lines else ()
    spots, turn = _scattered(region, on_ground(PITCH_MM[kind], scale), seed)
    mm = on_ground(1.0, scale)
    if kind == "gravel":
        return _gravel(region, spots, turn, mm=mm, layer=layer)
    strokes = _placed(_STROKES[kind], spots, turn if kind not in UPRIGHT else (turn - 0.5) * 0.08, mm)
    kept = _whole_inside(region, strokes)
    return (Hatch(lines=kept, colour=ink, width_mm=style.FLECK, layer=layer),) if kept else ()


def hatch_lines(rings: Sequence[Ring], *, degrees: float, pitch: float) -> tuple[Ring, ...]:
    """Return parallel lines ``pitch`` metres apart across the inside of rings, turned anticlockwise from x."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    edges = [np.column_stack((ring, np.roll(ring, -1, axis=0))) for ring in map(np.asarray, rings) if len(ring) > 2]
    if not edges:
        return ()
    e = np.vstack(edges)
    u0, v0, u1, v1 = (
        e[:, 0] * c + e[:, 1] * s,
        -e[:, 0] * s + e[:, 1] * c,
        e[:, 2] * c + e[:, 3] * s,
        -e[:, 2] * s + e[:, 3] * c,
    )
    found: list[Ring] = []
    for level in (np.arange(math.ceil(v0.min() / pitch), math.floor(v0.max() / pitch) + 1) + 0.5) * pitch:
        cut = (v0 <= level) != (v1 <= level)
        us = np.sort(u0[cut] + (level - v0[cut]) / (v1[cut] - v0[cut]) * (u1[cut] - u0[cut]))
        for a, b in zip(us[::2], us[1::2], strict=False):
            found.append(((a * c - level * s, a * s + level * c), (b * c - level * s, b * s + level * c)))
    return tuple(tuple((float(x), float(y)) for x, y in line) for line in found)


def furrows(region: Region, *, scale: float) -> tuple[Ring, ...]:
    """Return broken lines along the longer way of a region, as a worked bed is drawn."""
    along = plane.long_way(region)
    pitch = max(on_ground(FURROW_MM, scale), math.sqrt(plane.area(region)) / 40)
    return hatch_lines([tuple(ring) for ring in plane.rings(region)], degrees=90 - along, pitch=pitch)


def paving_joints(region: Region, *, scale: float) -> tuple[Ring, ...]:
    """Return the joints of a running bond inside a region: courses along x, upright joints staggered by half a unit."""
    rings = tuple(tuple(ring) for ring in plane.rings(region))
    course = max(0.45, on_ground(COURSE_MM, scale), math.sqrt(plane.area(region) / MOST * 2))
    unit = course * 1.5
    courses = hatch_lines(rings, degrees=0, pitch=course)
    low_x, low_y, high_x, high_y = plane.bounds(region)
    rows = np.arange(math.floor(low_y / course) - 1, math.ceil(high_y / course) + 1)
    joints = []
    for row in rows:
        xs = (np.arange(math.floor(low_x / unit) - 1, math.ceil(high_x / unit) + 1) + 0.5 * (row % 2)) * unit
        y = (row + 0.5) * course
        joints.append(np.stack([np.column_stack((xs, np.full(len(xs), v))) for v in (y, y + course)], axis=1))
    return courses + _whole_inside(region, np.vstack(joints))


def bond_marks(region: Region, bond: str, *, scale: float, layer: Layer = "ground") -> tuple[Mark, ...]:
    """Return the units of a bond as they lie, cut at the edges; none where they are too fine or too many to see."""
    if not bond or region.is_empty:
        return ()
    kind = bond_kind(bond)
    if kind.wide < on_ground(UNIT_MM, scale) or plane.area(region) * kind.each > MOST_UNITS:
        return ()
    found = laid_in(region, bond)
    lines = tuple((*outline, outline[0]) for outline in (*found.whole, *found.cut))
    return (Hatch(lines=lines, colour=style.LAID_INK[kind.unit], width_mm=style.FLECK, layer=layer),) if lines else ()


def _gravel(region: Region, spots: FloatArray, turn: FloatArray, *, mm: float, layer: Layer) -> tuple[Mark, ...]:
    near_edge = plane.grown(region, -0.35 * mm)
    spots_in = plane.inside(near_edge, spots) if not near_edge.is_empty else np.zeros(len(spots), bool)
    big, ink = turn > 0.5, style.TEXTURE_INK["gravel"]
    return tuple(
        Dots(points=_tuples(spots[spots_in & pick]), radius=radius * mm, fill=ink, layer=layer)
        for pick, radius in ((big, 0.30), (~big, 0.17))
        if (spots_in & pick).any()
    )


def _scattered(region: Region, pitch: float, seed: int) -> tuple[FloatArray, FloatArray]:
    """Return loose grid points over a region's bounds and a number from 0 to 1 for each, both fixed to the ground."""
    pitch = max(pitch, math.sqrt(plane.area(region) / MOST))
    low_x, low_y, high_x, high_y = plane.bounds(region)
    i = np.arange(math.floor(low_x / pitch), math.ceil(high_x / pitch) + 1)
    j = np.arange(math.floor(low_y / pitch), math.ceil(high_y / pitch) + 1)
    ii, jj = (g.ravel() for g in np.meshgrid(i, j))
    across, up, turn = (_noise(ii, jj, seed + salt) for salt in (11, 23, 37))
    return pitch * np.column_stack((ii + 0.9 * across, jj + 0.9 * up)), turn


def _noise(i: NDArray[np.int64], j: NDArray[np.int64], salt: int) -> FloatArray:
    mixed = (i * 73856093) ^ (j * 19349663) ^ (salt * 83492791)
    mixed = (mixed ^ (mixed >> 13)) * 1274126177
    return np.asarray(((mixed ^ (mixed >> 16)) & 0xFFFF) / 65536.0, dtype=float)


_STROKES: dict[str, FloatArray] = {  # one stroke each, in mm on the sheet, about its own middle
    "grass": np.array([(-0.55, 0.55), (-0.15, -0.4), (0.0, 0.75), (0.15, -0.4), (0.6, 0.5)]),
    "meadow": np.array([(-0.7, 0.9), (-0.2, -0.5), (-0.05, 1.4), (0.1, 1.7), (0.05, 1.4), (0.1, -0.5), (0.7, 1.0)]),
    "short meadow": np.array([(-0.5, 0.6), (-0.1, -0.4), (0.0, 0.1), (0.55, 0.1), (0.0, 0.1), (0.1, -0.4), (0.5, 0.6)]),
    "mulch": np.array([(-0.6, 0.0), (0.0, 0.12), (0.6, 0.0)]),
    "bark": np.array([(-0.8, 0.0), (0.0, 0.3), (0.8, 0.0), (0.0, -0.15), (-0.8, 0.0)]),
    "moss": np.array([(-0.35, -0.1), (-0.2, 0.22), (0.15, 0.26), (0.35, -0.05)]),
    "water": np.array([(-1.8, 0.0), (-0.9, 0.3), (0.0, 0.0), (0.9, -0.3), (1.8, 0.0)]),
}


def _placed(stroke: FloatArray, spots: FloatArray, turn: FloatArray, mm: float) -> FloatArray:
    angle = turn * 2 * math.pi
    c, s = np.cos(angle)[:, None], np.sin(angle)[:, None]
    x, y = stroke[:, 0] * mm, stroke[:, 1] * mm
    return np.stack((spots[:, :1] + c * x - s * y, spots[:, 1:] + s * x + c * y), axis=2)


def _whole_inside(region: Region, strokes: FloatArray) -> tuple[Ring, ...]:
    """Return the strokes (n, k, 2) of which every vertex lies inside the region."""
    n, k, _ = strokes.shape
    keep = plane.inside(region, strokes.reshape(-1, 2)).reshape(n, k).all(axis=1)
    return tuple(tuple(map(tuple, stroke)) for stroke in strokes[keep].tolist())


def _tuples(points: FloatArray) -> Ring:
    return tuple(map(tuple, points.tolist()))
