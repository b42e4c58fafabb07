"""Plants drawn as a planting plan's masses: what touches of one kind is one shape, as a small picture shows it."""

import math
from collections.abc import Sequence

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Dots, Layer, Mark, Ring
from gardenkit.drawing.symbols import BARE_ALPHA, CANOPY_ALPHA, CANOPY_LAYERS, PLANT_ALPHA, PlantDrawn
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region

SIDES = 14  # of the round that one crown is in a mass. House value.
KNIT = 0.06  # m by which gaps between crowns of a kind are closed. House value.
FLOWER, FLOWERS_APART = 0.06, 0.32  # m: a dot of flowers and how far one lies from the next. House values.
GOLDEN = math.pi * (3 - math.sqrt(5))  # the golden angle
LINE = 0.5  # of the weight of an edge. House value.


def mass_marks(plants: Sequence[PlantDrawn]) -> tuple[Mark, ...]:
    """Return every kind as its masses, low kinds first so that taller ones lie over them; dots where it flowers."""
    kinds: dict[str, list[PlantDrawn]] = {}
    for plant in plants:
        if plant.spread > 0 and plant.leaf != "below ground":
            kinds.setdefault(plant.key, []).append(plant)
    marks: list[Mark] = []
    for kind in sorted(kinds.values(), key=lambda members: members[0].height):
        marks += _marks_of(kind)
    return tuple(marks)


# ---- helpers


def _marks_of(kind: Sequence[PlantDrawn]) -> list[Mark]:
    first = kind[0]
    canopy = first.layer in CANOPY_LAYERS
    layer: Layer = "canopy" if canopy else "planting"
    shape = plane.union(plane.circle(p.at, p.spread / 2 + KNIT, sides=SIDES) for p in kind)
    shape = plane.simplified(plane.grown(shape, -KNIT), 0.01)
    if shape.is_empty:
        return []
    leafy = CANOPY_ALPHA if canopy else PLANT_ALPHA
    mass = Area(
        rings=_rings(shape),
        fill=first.foliage,
        stroke=style.outline_of(first.foliage),
        width_mm=LINE * style.EDGE,
        alpha=BARE_ALPHA if first.leaf == "bare" else leafy,
        layer=layer,
        tip=f"{first.name}: {len(kind)}",
    )
    if first.flower is None:
        return [mass]
    dots = tuple(at for plant in kind for at in _flowers_of(plant))
    return [mass, Dots(points=dots, radius=FLOWER, fill=first.flower, layer=layer)]


def _flowers_of(plant: PlantDrawn) -> list[Point]:
    """Return dots about evenly over a crown, one for a small plant, in the order of seeds on a flower's head."""
    count = max(1, round((0.75 * plant.spread / FLOWERS_APART) ** 2))
    found = []
    for n in range(count):
        far, turn = 0.42 * plant.spread * math.sqrt(n / count), n * GOLDEN + plant.number
        found.append((plant.at[0] + far * math.cos(turn), plant.at[1] + far * math.sin(turn)))
    return found


def _rings(shape: Region) -> tuple[Ring, ...]:
    return tuple(tuple(ring) for ring in plane.rings(shape))
