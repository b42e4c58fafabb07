"""Plant symbols seen from above: each habit has its own outline, drawn to the plant's spread.

Our own drawing on the trade's plan conventions: leafy trees as lobed rounds with branches, conifers as spiked rounds,
evergreens with a heavy double outline, leafless plants as broken outlines with twigs, grasses as rays, spires as stars.
The widest part of every symbol is exactly the spread.
"""

import math
from functools import lru_cache
from typing import Literal

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Disc, Dots, Hatch, Layer, Plain, Ring, Symbol, on_ground
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.species import TREES

LeafState = Literal["evergreen", "leaf", "bare", "below ground"]
Edge = Literal["scallop", "wave", "star", "ring"]
Inner = Literal["twigs", "spokes", "rays", "fronds", "droop", "arcs", "ring", "stipple", "tiers", "arms", "none"]


@attrs.frozen(kw_only=True)
class Habit:
    """How a form is drawn: ``lobes`` round the edge, their ``depth`` as a share of the radius, and what is inside."""

    edge: Edge
    lobes: int
    depth: float
    inner: Inner
    uneven: float = 0.0
    squash: float = 1.0  # short axis over long axis


HABITS: dict[str, Habit] = {
    "round": Habit(edge="scallop", lobes=11, depth=0.13, inner="twigs"),
    "oval": Habit(edge="scallop", lobes=10, depth=0.14, inner="twigs", squash=0.86),
    "columnar": Habit(edge="scallop", lobes=8, depth=0.12, inner="tiers"),
    "conical": Habit(edge="star", lobes=15, depth=0.17, inner="spokes"),
    "vase": Habit(edge="wave", lobes=8, depth=0.14, inner="arcs"),
    "weeping": Habit(edge="wave", lobes=13, depth=0.13, inner="droop"),
    "spreading": Habit(edge="scallop", lobes=9, depth=0.16, inner="twigs", uneven=0.16),
    "irregular": Habit(edge="scallop", lobes=7, depth=0.18, inner="twigs", uneven=0.28),
    "upright": Habit(edge="wave", lobes=6, depth=0.16, inner="ring"),
    "mounding": Habit(edge="scallop", lobes=8, depth=0.16, inner="ring", uneven=0.05),
    "arching": Habit(edge="wave", lobes=9, depth=0.2, inner="arcs"),
    "prostrate": Habit(edge="scallop", lobes=10, depth=0.2, inner="stipple", uneven=0.3),
    "clump": Habit(edge="wave", lobes=6, depth=0.24, inner="none"),
    "mound": Habit(edge="scallop", lobes=7, depth=0.18, inner="none"),
    "spire": Habit(edge="star", lobes=7, depth=0.36, inner="none"),
    "fountain": Habit(edge="star", lobes=14, depth=0.45, inner="rays"),
    "mat": Habit(edge="wave", lobes=9, depth=0.18, inner="stipple", uneven=0.16),
    "rosette": Habit(edge="scallop", lobes=6, depth=0.42, inner="none"),
    "fern": Habit(edge="star", lobes=8, depth=0.5, inner="fronds"),
    "bulb": Habit(edge="ring", lobes=20, depth=0.0, inner="stipple"),
    "climbing": Habit(edge="wave", lobes=7, depth=0.3, inner="ring", uneven=0.1),
    "trained": Habit(edge="scallop", lobes=10, depth=0.25, inner="arms", squash=0.28),
}
BY_LAYER = {"fern": "fern", "bulb": "bulb", "tender bulb": "bulb"}
CANOPY_LAYERS = TREES
CANOPY_ALPHA = 0.30  # so that what grows or is built beneath a tree is seen
PLANT_ALPHA = 0.92
BARE_ALPHA = 0.10
FLOOR_LAYER, FLOOR = (
    "ground cover",
    0.18,
)  # drawn as the floor: an outline hardly darker than its leaves, no ring. House value.
Arm = tuple[tuple[tuple[float, float], ...], ...]
ARMS: dict[str, tuple[int, Arm]] = {  # how many arms, and the lines of one: (share of the radius, radians aside)
    "twigs": (7, (((0, 0), (0.48, 0), (0.78, 0.22)), ((0.48, 0), (0.72, -0.26)))),
    "spokes": (10, (((0.12, 0), (0.8, 0)),)),
    "rays": (9, (((0, 0), (0.5, 0), (0.92, 0.16)),)),
    "fronds": (
        8,
        (((0, 0), (0.92, 0)), ((0.49, 0.22), (0.35, 0), (0.49, -0.22)), ((0.74, 0.2), (0.6, 0), (0.74, -0.2))),
    ),
    "droop": (9, (((0.2, 0), (0.7, 0.1), (0.82, 0.3), (0.7, 0.42)),)),
    "arcs": (7, (((0.1, 0), (0.45, 0.1), (0.8, 0.38)),)),
}
FLOWERS_PER_MM, MOST_FLOWERS = 1.7, 48  # flower dots by the symbol's radius on the sheet. House values.
SMALL_MM = 1.6  # a symbol with a smaller radius on the sheet has nothing drawn inside it
FINE_MM = 7.0  # a symbol with a larger radius on the sheet gets an outline of twice the corners


@attrs.frozen(kw_only=True, cache_hash=True)
class PlantDrawn:
    """What a drawing needs to know of one plant in one month of one year: sizes in metres, colours ``#rrggbb``.

    ``flower`` is None when it is not in flower. ``turn`` is degrees clockwise: the way a trained plant's arms run.
    """

    number: int
    key: str
    at: Point
    height: float
    spread: float
    form: str
    foliage: str
    flower: str | None = None
    leaf: LeafState = "leaf"
    layer: str = "perennial"
    name: str = ""
    turn: float = 0.0


@lru_cache(maxsize=4096)
def plant_symbol(plant: PlantDrawn, *, scale: float) -> Symbol:
    """Return the plan symbol of a plant for a sheet at 1 : scale, its widest part exactly its spread."""
    habit = HABITS[BY_LAYER.get(plant.layer, plant.form if plant.form in HABITS else "round")]
    canopy = plant.layer in CANOPY_LAYERS
    paint_layer: Layer = "canopy" if canopy else "planting"
    radius = plant.spread / 2
    shape = _outline(habit, plant.number % 7, radius > on_ground(FINE_MM, scale))
    edge = _put(shape, plant.at, radius, _turn(plant, habit))
    ink = (
        style.mixed(plant.foliage, style.INK, FLOOR) if plant.layer == FLOOR_LAYER else style.outline_of(plant.foliage)
    )
    body, *ring = _body(plant, edge, canopy, ink, paint_layer)
    parts: list[Plain] = [attrs.evolve(body, tip=_tip(plant)), *ring]
    large_enough = radius >= on_ground(SMALL_MM, scale)
    if large_enough and plant.leaf != "below ground":
        parts += _inside(plant, habit, radius, ink, paint_layer)
    if canopy:
        trunk = max(0.04, min(0.03 * plant.height, 0.25))
        parts.append(Disc(at=plant.at, radius=trunk, fill=style.BARE_INK, layer=paint_layer))
    parts += _flowers(plant, habit, radius, scale, paint_layer)
    return Symbol(marks=tuple(parts), tip=_tip(plant), layer=paint_layer)


def unit_outline(form: str, *, variant: int = 0) -> FloatArray:
    """Return the outline of a form about (0, 0), (n, 2), its furthest point at distance 1."""
    return _outline(HABITS[form], variant)


def unit_inner(form: str) -> tuple[FloatArray, ...]:
    """Return the lines drawn inside a form of radius 1, each (n, 2)."""
    return _inner(HABITS[form].inner, HABITS[form].squash)


@lru_cache(maxsize=1024)
def tree_symbol(
    at: Point, spread: float, *, form: str, trunk: float, keep: bool, tip: str, bare: bool = False
) -> Symbol:
    """Return an existing tree: crown outline to its spread, trunk to its diameter; crossed out when it will go."""
    habit = HABITS.get(form, HABITS["round"])
    edge = _put(_outline(habit, 2, True), at, spread / 2, 20.0)
    fill = "#a9bd8c"
    crown = Area(
        rings=(edge,),
        fill=fill if keep else None,
        stroke=style.PLANT_INK if keep else style.BARE_INK,
        width_mm=style.CANOPY + 0.1,
        dash=style.HIDDEN_DASH if not keep else style.FINE_DASH if bare else (),
        alpha=BARE_ALPHA if bare else CANOPY_ALPHA,
        layer="canopy",
        tip=tip,
    )
    parts: list[Plain] = [crown]
    if keep:
        parts.append(
            _ribs(habit, at, spread / 2, 20.0, ink=style.BARE_INK if bare else style.PLANT_INK, layer="canopy")
        )
        parts.append(Disc(at=at, radius=trunk / 2, fill=style.BARE_INK, stroke=style.INK, layer="canopy"))
    else:
        arm = spread * 0.2
        cross = tuple(((at[0] - arm, at[1] - s * arm), (at[0] + arm, at[1] + s * arm)) for s in (1, -1))
        parts.append(Hatch(lines=cross, colour=style.BARE_INK, width_mm=style.EDGE, layer="canopy"))
    return Symbol(marks=tuple(parts), tip=tip, layer="canopy")


def _turn(plant: PlantDrawn, habit: Habit) -> float:
    """Return degrees clockwise: as given for a trained plant, otherwise different from its neighbours."""
    return plant.turn if habit.squash < 0.5 else plant.turn + (plant.number * 37) % 360


def _body(plant: PlantDrawn, edge: Ring, canopy: bool, ink: str, layer: Layer) -> list[Area]:
    weight = style.CANOPY if canopy else style.PLANT
    match plant.leaf:
        case "below ground":
            return [Area(rings=(edge,), stroke=style.BARE_INK, width_mm=style.RIB, dash=style.FINE_DASH, layer=layer)]
        case "bare":
            return [
                Area(
                    rings=(edge,),
                    fill=style.BARE_INK,
                    stroke=style.BARE_INK,
                    width_mm=weight,
                    dash=style.FINE_DASH,
                    alpha=BARE_ALPHA,
                    layer=layer,
                )
            ]
        case "evergreen":
            weight *= 1.0 if plant.layer == FLOOR_LAYER else 1.9
    alpha = CANOPY_ALPHA if canopy else PLANT_ALPHA
    body = Area(rings=(edge,), fill=plant.foliage, stroke=ink, width_mm=weight, alpha=alpha, layer=layer)
    if plant.leaf != "evergreen" or plant.layer == FLOOR_LAYER:
        return [body]
    inner = _put(np.asarray(edge) - plant.at, plant.at, 0.86, 0.0)
    return [body, Area(rings=(inner,), stroke=ink, width_mm=style.RIB, layer=layer)]


def _inside(plant: PlantDrawn, habit: Habit, radius: float, ink: str, layer: Layer) -> list[Plain]:
    turn = _turn(plant, habit)
    if plant.leaf == "bare" and habit.inner in ("none", "ring", "stipple", "tiers"):
        return [_ribs(HABITS["round"], plant.at, radius * 0.85, turn, ink=style.BARE_INK, layer=layer)]
    if habit.inner == "none":
        return []
    return [_ribs(habit, plant.at, radius, turn, ink=style.BARE_INK if plant.leaf == "bare" else ink, layer=layer)]


def _flowers(plant: PlantDrawn, habit: Habit, radius: float, scale: float, layer: Layer) -> list[Plain]:
    if not plant.flower:
        return []
    size = min(on_ground(style.FLOWER_RADIUS_MM, scale), radius * 0.24)
    count = int(np.clip(FLOWERS_PER_MM * radius / on_ground(1.0, scale), 5, MOST_FLOWERS))
    angles = np.arange(count) * 2.39996 + plant.number  # golden angle, radians: even without rows
    inner = max(0.45, 0.86 - 0.8 * habit.depth - 0.6 * habit.uneven)  # keeps them off the notches
    reach = radius * inner * np.sqrt((np.arange(count) + 0.6) / count)
    spots = _put(
        np.column_stack((reach * np.cos(angles), habit.squash * reach * np.sin(angles))),
        plant.at,
        1.0,
        _turn(plant, habit),
    )
    return [Dots(points=spots, radius=size, fill=plant.flower, stroke=style.outline_of(plant.flower), layer=layer)]


def _ribs(habit: Habit, at: Point, radius: float, turn: float, *, ink: str, layer: Layer) -> Hatch:
    lines = tuple(_put(line, at, radius, turn) for line in _inner(habit.inner, habit.squash))
    return Hatch(lines=lines, colour=ink, width_mm=style.RIB, alpha=0.8, layer=layer)


@lru_cache(maxsize=512)
def _outline(habit: Habit, variant: int, fine: bool = False) -> FloatArray:
    per = {"scallop": 8 if fine else 4, "wave": 8 if fine else 4, "star": 2, "ring": 1}[habit.edge]
    n = habit.lobes * per
    t = np.arange(n) * 2 * math.pi / n
    lobe = habit.lobes * t / 2
    match habit.edge:
        case "scallop":
            r = 1 - habit.depth + habit.depth * np.abs(np.sin(lobe)) ** 0.8
        case "wave":
            r = 1 - habit.depth / 2 + habit.depth / 2 * np.cos(2 * lobe)
        case "star":
            r = np.where(np.arange(n) % 2 == 0, 1.0, 1 - habit.depth)
        case _:
            r = np.ones(n)
    if habit.uneven:
        sway = np.cos(2 * t + variant) + 0.6 * np.cos(3 * t + 2.1 * variant + 1)
        r = r * (1 - habit.uneven / 2 * (1 + sway / 1.6))
    points = np.column_stack((r * np.cos(t), habit.squash * r * np.sin(t)))
    return np.asarray(points / np.hypot(points[:, 0], points[:, 1]).max())


@lru_cache(maxsize=64)
def _inner(inner: Inner, squash: float) -> tuple[FloatArray, ...]:
    """Return the lines inside a symbol of radius 1."""
    lines: list[list[Point]] = []
    if inner in ARMS:
        count, arm = ARMS[inner]
        for k in range(count):
            a = 2 * math.pi * (k + 0.13 * (k % 3)) / count
            lines += [[_polar(r, a + aside) for r, aside in part] for part in arm]
    elif inner == "ring":
        lines = [[_polar(0.48, start + 0.27 * k) for k in range(6)] for start in (0.3, 2.5, 4.5)]
    elif inner == "tiers":
        lines = [[_polar(s, 2 * math.pi * k / 18) for k in range(19)] for s in (0.28, 0.58)]
    elif inner == "stipple":
        spots = [_polar(0.75 * math.sqrt((k + 0.5) / 9), 2.39996 * k) for k in range(9)]
        lines = [[(x - 0.04, y), (x + 0.04, y + 0.02)] for x, y in spots]
    elif inner == "arms":
        lines = [[(-0.92, 0.0), (0.92, 0.0)], *([(x, -0.4), (x, 0.4)] for x in (-0.6, -0.3, 0.0, 0.3, 0.6))]
    return tuple(np.array(line) * (1.0, squash) for line in lines)


def _polar(r: float, angle: float) -> Point:
    return r * math.cos(angle), r * math.sin(angle)


def _put(points: FloatArray, at: Point, size: float, degrees: float) -> Ring:
    """Return points grown by ``size``, turned clockwise and set at a place."""
    angle = math.radians(-degrees)
    c, s = size * math.cos(angle), size * math.sin(angle)
    x, y = points[:, 0], points[:, 1]
    xs, ys = at[0] + c * x - s * y, at[1] + s * x + c * y
    return tuple(zip(xs.tolist(), ys.tolist(), strict=True))


def _tip(plant: PlantDrawn) -> str:
    state = {"evergreen": "evergreen", "leaf": "in leaf", "bare": "leafless", "below ground": "below ground"}[
        plant.leaf
    ]
    flower = ", in flower" if plant.flower else ""
    name = f"{plant.name} ({plant.key})" if plant.name and plant.key else plant.name or plant.key
    return f"{name}: about {plant.height:.2f} m high, about {plant.spread:.2f} m wide, {state}{flower}"
