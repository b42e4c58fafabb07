"""A small picture of one plant from the side, drawn from its own form and colours, for lists and tables."""

from functools import lru_cache

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.scene import Scene, Stroke, in_units
from gardenkit.drawing.silhouettes import side_symbol
from gardenkit.drawing.svg import svg
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.planting.season import appearance
from gardenkit.planting.species import Species
from gardenkit.units import System

HIGH, WIDE = 1.0, 1.25  # of the picture, in plant heights; a wider plant is drawn lower. House values.
SCALE = 48.0
SUMMER = 7
LEAVES_UNKNOWN = "#7d8f62"


def plant_picture(species: Species, *, month: int | None = None, px: int = 54, units: System = "metric") -> str:
    """Return an SVG in a box ``px`` high: the plant at its full proportions, in flower or as in ``month``."""
    return f'<div style="width:{round(px * WIDE)}px;height:{px}px">{_drawing(species, month, units)}</div>'


@lru_cache(maxsize=2048)
def _drawing(species: Species, month: int | None, units: System) -> str:
    return svg(in_units(picture_scene(species, month=month), units))


def picture_scene(species: Species, *, month: int | None = None) -> Scene:
    """Return the picture as a scene: as high as 1 m of drawing, or as wide as the box when the plant is broader."""
    fit = min(HIGH / species.height, 0.94 * WIDE / species.spread)
    look = appearance(species, month or _best_month(species))
    drawn = PlantDrawn(
        number=1,
        key="",
        at=(0.0, 0.0),
        height=species.height * fit,
        spread=species.spread * fit,
        form=species.form,
        foliage=look.foliage or species.foliage_summer or species.foliage_spring or LEAVES_UNKNOWN,
        flower=look.flowers[0] if look.flowers else None,
        layer=species.layer,
        name=species.botanical,
    )
    ground = Stroke(points=((-WIDE / 2, 0.0), (WIDE / 2, 0.0)), colour=style.SOFT_INK, width_mm=0.35)
    return Scene(
        marks=(attrs.evolve(side_symbol(drawn, at=0.0, scale=SCALE), tip=""), ground),
        bounds=(-WIDE / 2, -0.03, WIDE / 2, HIGH + 0.03),
        title=species.botanical,
        description=f"{species.botanical} from the side: {species.form}, about {species.height:.2f} m high and "
        f"about {species.spread:.2f} m wide when full grown.",
        scale=SCALE,
        paper=None,
    )


def _best_month(species: Species) -> int:
    """Return a month in flower when it is in leaf then, else any in flower, else summer."""
    months = species.bloom_months
    if not months:
        return SUMMER
    leafy = [m for m in months if appearance(species, m).foliage]
    return (leafy or months)[len(leafy or months) // 2]
