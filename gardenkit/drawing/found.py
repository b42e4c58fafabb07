"""The ground as found, drawn over the scan that it is traced from when there is one."""

from collections.abc import Callable, Sequence

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.furniture import STRIP_MM, furniture
from gardenkit.drawing.plan import EMPTY_GROUND, MARGIN_MM, PIXEL_MM, plan_bounds, plan_scene, screen_scale
from gardenkit.drawing.scene import Area, Bounds, Label, Mark, Scene, around, grown_bounds, on_ground
from gardenkit.geometry.plane import Point
from gardenkit.site.site import Site
from gardenkit.units import System

WASH = 0.35  # how much of the plan's own colours is left over a scan. House value.
BESIDE = 2.0  # m of a scan shown beyond the boundary. House value.
LETTER_OFF = (3.2, 2.4)  # mm from a mark of a scan to its letter


def found_scene(
    site: Site,
    *,
    title: str,
    units: System,
    screen_px: tuple[int, int],
    scan: Bounds | None = None,
    whole_scan: bool = False,
    extra: Callable[[float], Sequence[Mark]],
) -> Scene:
    """Return the site as found at the scale that fills ``screen_px`` (width, most height).

    ``scan`` is the ground that the scan below covers; over one the plan's own colours are washed out. ``whole_scan``
    shows all of it, else the plot and a little more as soon as there is a boundary. ``extra`` gives more marks for the
    scale.
    """
    shown = None if scan is None else _shown(site, scan, whole=whole_scan)
    wide, high = screen_px
    scale = screen_scale(site, width_px=wide, most_height_px=high) if shown is None else _scale(shown, screen_px)
    marks = tuple(extra(scale))
    made = plan_scene(site=site, title=title, scale=scale, units=units, to_scale=False, extra=marks)
    if shown is None:
        return made
    washed = tuple(
        attrs.evolve(m, alpha=m.alpha * WASH) if isinstance(m, Area) and m.layer in ("ground", "structure") else m
        for m in made.unnamed
        if m.layer != "furniture"
    )
    below, whole = furniture(shown, y_bearing=site.y_bearing, units=units, scale=scale, title=title, to_scale=False)
    return attrs.evolve(made, marks=(*washed, *below), bounds=whole)  # its words stay beside them


def letters_of(marks: dict[str, Point], scale: float) -> list[Mark]:
    """Return the letters of the two marks of a scan."""
    right, up = (on_ground(off, scale) for off in LETTER_OFF)
    return [
        Label(
            at=(x + right, y + up),
            text=letter,
            size_mm=3.6,
            bold=True,
            colour=style.ALERT,
            halo=style.PAPER,
            layer="overlay",
        )
        for letter, (x, y) in marks.items()
    ]


def words_on_empty_ground(words: str) -> Mark:
    """Return a sentence in the middle of a plan on which nothing is drawn yet."""
    return Label(at=(EMPTY_GROUND / 2, 0.6 * EMPTY_GROUND), text=words, size_mm=3.6, colour=style.SOFT_INK)


# ---- helpers


def _shown(site: Site, scan: Bounds, *, whole: bool) -> Bounds:
    if site.boundary and not whole:
        return grown_bounds(plan_bounds(site, scale=1e-9), BESIDE)
    plot = [plan_bounds(site, scale=1e-9)] if site.boundary else []
    return around(*plot, scan)


def _scale(bounds: Bounds, screen_px: tuple[int, int]) -> float:
    """Return the n of 1 : n at which some ground fills the plan on the screen."""
    low_x, low_y, high_x, high_y = bounds
    wide = screen_px[0] * PIXEL_MM - 2 * MARGIN_MM
    high = screen_px[1] * PIXEL_MM - 2 * MARGIN_MM - STRIP_MM
    return max((high_x - low_x) * 1000 / wide, (high_y - low_y) * 1000 / high)
