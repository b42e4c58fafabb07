"""Plants from the side: each form's outline, drawn to its height and spread."""

import math
from functools import lru_cache

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Dots, Hatch, Plain, Ring, Symbol, on_ground
from gardenkit.drawing.symbols import BY_LAYER, CANOPY_LAYERS, PlantDrawn
from gardenkit.geometry.plane import FloatArray, Point

Profile = tuple[tuple[float, float], ...]
PROFILES: dict[str, Profile] = {  # (share of the crown's height, half width as a share of half the spread), our own
    "round": ((0, 0.45), (0.15, 0.82), (0.45, 1), (0.75, 0.82), (0.93, 0.42), (1, 0)),
    "oval": ((0, 0.35), (0.2, 0.8), (0.45, 1), (0.75, 0.75), (0.93, 0.35), (1, 0)),
    "columnar": ((0, 0.7), (0.1, 0.95), (0.5, 1), (0.85, 0.8), (0.96, 0.45), (1, 0)),
    "conical": ((0, 1), (0.33, 0.7), (0.66, 0.36), (1, 0)),
    "vase": ((0, 0.14), (0.4, 0.5), (0.75, 1), (0.9, 0.85), (0.98, 0.4), (1, 0)),
    "weeping": ((0, 0.92), (0.1, 1), (0.5, 0.95), (0.8, 0.7), (0.95, 0.35), (1, 0)),
    "spreading": ((0, 0.3), (0.3, 0.85), (0.55, 1), (0.8, 0.88), (0.95, 0.5), (1, 0)),
    "irregular": ((0, 0.4), (0.25, 0.9), (0.4, 0.78), (0.6, 1), (0.75, 0.66), (0.9, 0.55), (1, 0)),
    "upright": ((0, 0.4), (0.4, 0.72), (0.8, 1), (0.94, 0.7), (1, 0)),
    "mounding": ((0, 0.9), (0.2, 1), (0.5, 0.92), (0.8, 0.62), (0.95, 0.3), (1, 0)),
    "arching": ((0, 0.2), (0.35, 0.6), (0.6, 1), (0.8, 0.8), (0.95, 0.4), (1, 0)),
    "prostrate": ((0, 1), (0.5, 0.97), (0.85, 0.7), (1, 0)),
    "clump": ((0, 0.4), (0.5, 0.85), (0.75, 1), (0.92, 0.66), (1, 0)),
    "mound": ((0, 0.85), (0.25, 1), (0.6, 0.85), (0.85, 0.5), (1, 0)),
    "spire": ((0, 0.75), (0.12, 1), (0.28, 0.72), (0.38, 0.28), (0.7, 0.17), (0.9, 0.1), (1, 0)),
    "fountain": ((0, 0.1), (0.45, 0.45), (0.75, 1), (0.84, 0.9), (0.95, 0.5), (1, 0)),
    "mat": ((0, 1), (0.4, 0.95), (0.8, 0.65), (1, 0)),
    "rosette": ((0, 0.8), (0.2, 1), (0.36, 0.5), (0.46, 0.1), (0.8, 0.14), (1, 0)),
    "fern": ((0, 0.12), (0.5, 0.66), (0.8, 1), (0.92, 0.75), (1, 0)),
    "bulb": ((0, 0.5), (0.5, 0.8), (0.78, 1), (0.95, 0.6), (1, 0)),
    "climbing": ((0, 0.4), (0.2, 0.75), (0.5, 0.9), (0.8, 1), (0.95, 0.7), (1, 0)),
    "trained": ((0, 0.06), (0.2, 0.06), (0.24, 0.96), (0.5, 1), (0.9, 1), (1, 0.9)),
}
TRUNK_SHARE = {"tree": 0.28, "conifer": 0.06}  # of the height below the crown. House value.
SLIM = ("climbing", "columnar")
RIPPLES, RIPPLE = 9, 0.045
SPIKED = ("spire", "rosette", "conical", "trained", "mat", "prostrate")
RAYED = ("fountain", "fern", "arching", "clump", "bulb", "vase")


def side_symbol(plant: PlantDrawn, *, at: float, scale: float, fade: float = 0.0) -> Symbol:
    """Return a plant seen from the side, standing at ``at`` metres along the drawing; ``fade`` 0 near to 1 far."""
    form = BY_LAYER.get(plant.layer, plant.form if plant.form in PROFILES else "round")
    bare = plant.leaf in ("bare", "below ground")
    fill = style.mixed(plant.foliage, style.PAPER, 0.55 * fade)
    edge = style.BARE_INK if bare else style.mixed(style.outline_of(plant.foliage), style.PAPER, 0.4 * fade)
    stem = TRUNK_SHARE.get(plant.layer, 0.0) * plant.height
    crown = _set(silhouette(form, raised=stem > 0), at, plant.spread / 2, stem, plant.height - stem)
    parts: list[Plain] = []
    if stem:
        parts.append(_trunk(plant, at, stem + 0.3 * (plant.height - stem), fade))
    parts.append(
        Area(
            rings=(crown,),
            fill=style.BARE_INK if bare else fill,
            stroke=edge,
            width_mm=style.CANOPY if plant.layer in CANOPY_LAYERS else style.PLANT,
            dash=style.FINE_DASH if bare else (),
            alpha=0.12 if bare else 0.95,
            layer="planting",
        )
    )
    if form in RAYED or bare:
        rays = tuple(_set(ray, at, plant.spread / 2, stem, plant.height - stem) for ray in _rays(form))
        parts.append(Hatch(lines=rays, colour=edge, width_mm=style.RIB, alpha=0.8, layer="planting"))
    if plant.flower:
        face = plant.spread * plant.height / on_ground(1.0, scale) ** 2
        spots = _set(
            _flower_spots(form, int(np.clip(face / 14, 7, 60))), at, plant.spread / 2, stem, plant.height - stem
        )
        size = min(on_ground(0.8, scale), plant.spread * 0.09)
        ink = style.outline_of(plant.flower)
        parts.append(Dots(points=spots, radius=size, fill=plant.flower, stroke=ink, layer="planting"))
    name = f"{plant.name} ({plant.key})" if plant.name else plant.key
    return Symbol(marks=tuple(parts), tip=f"{name}: about {plant.height:.2f} m high, about {plant.spread:.2f} m wide")


@lru_cache(maxsize=128)
def silhouette(form: str, *, raised: bool = False) -> FloatArray:
    """Return the side outline of a form, (n, 2): x from -1 to 1, y from 0 at its foot to 1 at the top.

    ``raised`` rounds the underside too: a crown on a trunk.
    """
    half = np.array([(0.0, 0.0), *PROFILES[form]] if raised else PROFILES[form], dtype=float)[:, ::-1]
    for _ in range(3):  # cutting corners three times makes the profile a smooth curve
        cut = np.repeat(half, 2, axis=0)[1:-1]
        half = np.vstack((half[:1], 0.75 * cut + 0.25 * cut.reshape(-1, 2, 2)[:, ::-1].reshape(-1, 2), half[-1:]))
    if form not in RAYED and form not in SPIKED:
        along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(half, axis=0).T))))
        lobes = 1 - RIPPLE * (1 - np.abs(np.sin(along / along[-1] * math.pi * RIPPLES)))
        even = np.linspace(0, 1, 10 * RIPPLES + 1) * along[-1]
        half = np.column_stack(
            [
                np.interp(even, along, half[:, axis] * part)
                for axis, part in ((0, lobes), (1, 1 if form in SLIM else lobes))
            ]
        )
    half = (half - (0.0, half[:, 1].min())) / (half[:, 0].max(), np.ptp(half[:, 1]))
    return np.vstack((half, half[::-1] * (-1.0, 1.0)))


def _rays(form: str) -> tuple[FloatArray, ...]:
    """Return stems from the foot to the crown's edge."""
    profile = np.array(PROFILES[form], dtype=float)
    rays = []
    for lean in np.linspace(-0.85, 0.85, 7):
        top = 0.92 - 0.25 * lean * lean
        reach = lean * float(np.interp(top, profile[:, 0], profile[:, 1]))
        rays.append(np.array([(0.06 * lean, 0.0), (0.35 * reach, 0.55 * top), (reach, top)]))
    return tuple(rays)


def _flower_spots(form: str, count: int) -> FloatArray:
    profile = np.array(PROFILES[form], dtype=float)
    k = np.arange(1, count + 1)
    low = 0.42 if form in ("spire", "rosette") else 0.5
    up = low + (0.93 - low) * ((k * 0.5698) % 1.0)  # two irrational steps: even cover, no rows
    reach = 0.8 * np.interp(up, profile[:, 0], profile[:, 1])
    return np.column_stack((reach * (2 * ((k * 0.7549) % 1.0) - 1), up))


def _trunk(plant: PlantDrawn, at: float, top: float, fade: float) -> Area:
    half = max(0.03, min(0.02 * plant.height, 0.18))
    ring = ((at - half, 0.0), (at + half, 0.0), (at + 0.6 * half, top), (at - 0.6 * half, top))
    ink = style.mixed(style.BARE_INK, style.PAPER, 0.4 * fade)
    return Area(rings=(ring,), fill=ink, layer="planting")


def _set(points: FloatArray, at: float, half: float, base: float, high: float) -> Ring:
    placed: list[Point] = [(at + half * float(x), base + high * float(y)) for x, y in points]
    return tuple(placed)
