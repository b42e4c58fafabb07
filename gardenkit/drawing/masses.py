"""Plants drawn as a planting plan's masses: what touches of one kind is one shape, as a small picture shows it."""

from collections.abc import Sequence

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Dots, Layer, Mark, Ring
from gardenkit.drawing.symbols import BARE_ALPHA, CANOPY_ALPHA, CANOPY_LAYERS, PLANT_ALPHA, PlantDrawn
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region

SIDES = 14  # of the round that one crown is in a mass. House value.
KNIT = 0.06  # m by which gaps between crowns of a kind are closed. House value.
FLOWER_SHARE, LEAST_FLOWER = 0.17, 0.04  # of a plant's spread, and metres at least: the dot of its flowers
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
    radius = max(FLOWER_SHARE * first.spread, LEAST_FLOWER)
    return [mass, Dots(points=tuple(p.at for p in kind), radius=radius, fill=first.flower, layer=layer)]


def _rings(shape: Region) -> tuple[Ring, ...]:
    return tuple(tuple(ring) for ring in plane.rings(shape))
