"""A square-on drawing of a side of a house, to lay its straightened photo under and mark windows and doors on."""

import math

from gardenkit.drawing import style
from gardenkit.drawing.plan import PIXEL_MM
from gardenkit.drawing.scene import Bounds, Label, Mark, Scene, Stroke, on_ground
from gardenkit.geometry.plane import Point
from gardenkit.site.site import Site
from gardenkit.site.wall_sides import Rectangle, Side, held_by
from gardenkit.units import FOOT, System

WIDTH_PX, HIGH_PX = 460, 540  # of the drawing on the page
BESIDE = 0.2  # m of the photo shown beyond the wall's edges. House value.
GRID_MM = (10.0, 7.0)  # mm of the drawing left of the photo and below it for the grid's figures. House value.


def shown(side: Side, *, foot: float) -> Bounds:
    """Return the piece of a wall's photo that is shown, in the wall's own metres."""
    return (-BESIDE, -BESIDE, side.length + BESIDE, side.top - foot + BESIDE)


def wall_scene(
    site: Site,
    side: Side,
    *,
    foot: float,
    units: System,
    mark: Rectangle | None = None,
) -> Scene:
    """Return a wall seen square on: a grid in feet or metres, what is on it already, and the ``mark``."""
    low_x, low_y, high_x, high_y = shown(side, foot=foot)
    across = (high_x - low_x) * 1000 / (WIDTH_PX * PIXEL_MM - GRID_MM[0])
    scale = max(across, (high_y - low_y) * 1000 / (HIGH_PX * PIXEL_MM - GRID_MM[1]))
    bounds = (low_x - on_ground(GRID_MM[0], scale), low_y - on_ground(GRID_MM[1], scale), high_x, high_y)
    marks: list[Mark] = [*_grid(side, foot, units, scale), _box((0.0, 0.0, side.length, side.eaves - foot), style.INK)]
    for name, rectangle in held_by(site, side, foot=foot):
        marks.append(_box(rectangle, style.FOUND, dash=style.HIDDEN_DASH))
        marks.append(_name(name, rectangle))
    if mark is not None:
        marks += [_box(mark, style.ALERT, width=style.BUILT), *_numbers(mark, scale)]
    title = f"{side.words(units)}, seen square on from outside"
    return Scene(marks=tuple(marks), bounds=bounds, title=title, description=title, scale=scale)


# ---- helpers


def _grid(side: Side, foot: float, units: System, scale: float) -> list[Mark]:
    step, named, word = (FOOT, 5, "ft") if units == "imperial" else (0.5, 2, "m")
    wide, high, out = side.length, side.top - foot, BESIDE + on_ground(1.0, scale)
    marks: list[Mark] = []
    for upright, whole in ((True, wide), (False, high)):
        for number in range(math.floor(whole / step + 1e-9) + 1):
            s, strong = number * step, number % named == 0
            ends: tuple[Point, Point] = ((s, 0.0), (s, high)) if upright else ((0.0, s), (wide, s))
            width = style.PLANT if strong else style.RIB
            marks.append(Stroke(points=ends, colour=style.FOUND, width_mm=width, alpha=0.8 if strong else 0.35))
            if strong:
                at = (s, -out - on_ground(2.0, scale)) if upright else (-out, s)
                text = f"{number if units == 'imperial' else number // 2} {word}"
                marks.append(
                    Label(at=at, text=text, size_mm=2.6, colour=style.SOFT_INK, anchor="middle" if upright else "end")
                )
    return marks


def _box(at: Rectangle, colour: str, *, width: float = style.EDGE, dash: tuple[float, ...] = ()) -> Stroke:
    x1, y1, x2, y2 = at
    ring = ((x1, y1), (x2, y1), (x2, y2), (x1, y2), (x1, y1))
    return Stroke(points=ring, colour=colour, width_mm=width, dash=dash, layer="overlay")


def _numbers(mark: Rectangle, scale: float) -> list[Label]:
    off = on_ground(3.5, scale)
    at = {"1": (mark[0] - off, mark[1] - off), "2": (mark[2] + off, mark[3] + off)}
    return [
        Label(at=spot, text=number, size_mm=4.0, bold=True, colour=style.ALERT, halo=style.PAPER)
        for number, spot in at.items()
    ]


def _name(text: str, at: Rectangle) -> Label:
    middle = ((at[0] + at[2]) / 2, (at[1] + at[3]) / 2)
    return Label(at=middle, text=text, colour=style.FOUND, halo=style.PAPER, size_mm=style.NOTE_LETTERS)
