"""What a plan of sun and shade lays over the ground: hours, classes of sun, or shadows at one moment, with its key."""

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.overlays import cell_rings, shadow_marks, sun_legend, sun_marks
from gardenkit.drawing.scene import Area, Mark
from gardenkit.geometry import plane
from gardenkit.geometry.grid import Grid
from gardenkit.geometry.plane import FloatArray, Region
from gardenkit.site.shade import Shadow
from gardenkit.site.sun_classes import class_map, sun_classes

CLASS_COLOURS = ("#3a4766", "#73809a", "#bdb98c", "#faedaa")  # shade to sun, each lighter, to be read in grey too
SHADOW_KEY = (("#99a0ae", "shadow, darker where less light comes through"),)
ALPHA = 0.85
DARKEST = 0.5  # how dark a shadow is that nothing comes through. House value.


class Laid(NamedTuple):
    """What is laid over the plan, and its key: (colour, words)."""

    marks: tuple[Mark, ...] = ()
    key: tuple[tuple[str, str], ...] = ()


def hours_laid(hours: FloatArray, grid: Grid) -> Laid:
    """Return hours of direct sun (rows, columns; NaN left blank)."""
    return Laid(sun_marks(hours, x0=grid.left, y0=grid.bottom, cell=grid.cell), sun_legend())


def light_laid(light: FloatArray, grid: Grid) -> Laid:
    """Return daily light, mol/m2 (rows, columns; NaN left blank)."""
    steps = style.LIGHT_STEPS
    marks = sun_marks(light, x0=grid.left, y0=grid.bottom, cell=grid.cell, steps=steps, unit="mol", of="of light a day")
    return Laid(marks, sun_legend(steps, unit="mol a day"))


def classes_laid(hours: FloatArray, grid: Grid, *, setting: str) -> Laid:
    """Return what one publisher calls these hours (rows, columns; NaN left blank)."""
    found = sun_classes(setting)
    numbers = class_map(np.nan_to_num(hours), setting=found.name)
    colours = _spread_colours(len(found.classes))
    marks = [
        Area(rings=rings, fill=colours[i], alpha=ALPHA, layer="sun", tip=one.name)
        for i, one in enumerate(found.classes)
        if (rings := cell_rings((numbers == i) & np.isfinite(hours), x0=grid.left, y0=grid.bottom, cell=grid.cell))
    ]
    words = [
        (colours[i], f"{one.name}, {'over' if one.above else 'from'} {one.from_hours:g} h")
        for i, one in enumerate(found.classes)
    ]
    return Laid(tuple(marks), tuple(words))


def shadows_laid(shadows: Iterable[Shadow], plot: Region) -> Laid:
    """Return the shadows that fall on the plot at one moment."""
    marks = [
        mark
        for shadow in shadows
        for mark in shadow_marks(
            [plane.intersection(plane.region(shadow.outline), plot)], alpha=DARKEST * shadow.opacity
        )
    ]
    return Laid(tuple(marks), SHADOW_KEY)


def _spread_colours(count: int) -> tuple[str, ...]:
    """Return the colours of some classes from shade to sun, the first always the darkest and the last the lightest."""
    last = len(CLASS_COLOURS) - 1
    return tuple(CLASS_COLOURS[round(i * last / max(count - 1, 1))] for i in range(count))
