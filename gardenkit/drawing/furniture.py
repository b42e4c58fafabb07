"""Sheet furniture: the scale bar, the north arrow and the title, set below the plan where nothing else is."""

import math
from collections.abc import Sequence
from typing import Literal

from gardenkit.drawing import style
from gardenkit.drawing.labels import text_width
from gardenkit.drawing.scene import Area, Bounds, Disc, Label, Mark, Stroke, on_ground
from gardenkit.geometry.plane import Point

Units = Literal["imperial", "metric"]
FOOT = 0.3048  # m, exact
STRIP_MM = 21.0  # mm of sheet kept below the plan
NAMED_SCALES = {48.0: '1/4" = 1\'-0"', 96.0: '1/8" = 1\'-0"', 50.0: "1 : 50", 100.0: "1 : 100"}
BAR_STEPS: dict[Units, tuple[float, ...]] = {
    "imperial": tuple(feet * FOOT for feet in (0.25, 0.5, 1, 2, 4, 5, 10, 20, 50)),
    "metric": (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0),
}
BESIDE_BAR_MM = 12.0  # from the end of the bar, its last figure beside it, to the middle of the north arrow
LEAST_BAR_MM = 9.0  # one of its divisions


def furniture(
    bounds: Bounds, *, y_bearing: float, units: Units, scale: float, title: str = "", to_scale: bool = True
) -> tuple[tuple[Mark, ...], Bounds]:
    """Return the scale bar, north arrow and title below a plan, and the bounds that now hold them too.

    ``to_scale`` writes the nominal scale beside the bar; leave it out for a screen, where the bar alone is true.
    """
    low_x, low_y, high_x, high_y = bounds
    mm = on_ground(1.0, scale)
    middle = low_y - 0.5 * STRIP_MM * mm
    bar = scale_bar((low_x + 2 * mm, middle - 2.2 * mm), units=units, scale=scale, to_scale=to_scale)
    bar_ends = max(x for mark in bar if isinstance(mark, Area) for x, _ in mark.rings[0])
    at_x = max(high_x - 9 * mm, bar_ends + BESIDE_BAR_MM * mm)  # a narrow plan is widened rather than drawn over
    north = north_arrow((at_x, middle), y_bearing=y_bearing, size=6.0 * mm)
    marks = (*bar, *north)
    if title:
        at = (low_x + 2 * mm, middle + 5.2 * mm)
        marks = (Label(at=at, text=title, size_mm=3.6, anchor="start", bold=True, layer="furniture"), *marks)
    return marks, (low_x, low_y - STRIP_MM * mm, max(high_x, at_x + 9 * mm), high_y)


def north_arrow(at: Point, *, y_bearing: float, size: float) -> tuple[Mark, ...]:
    """Return a compass of our own: a ring, a leaf-shaped needle with one dark half, and the letter N.

    ``y_bearing`` is where the plan's y axis points, degrees clockwise from north; north lies at minus that on the plan.
    """

    def spot(along: float, aside: float) -> Point:
        a = math.radians(-y_bearing)
        return (
            at[0] + size * (along * math.sin(a) + aside * math.cos(a)),
            at[1] + size * (along * math.cos(a) - aside * math.sin(a)),
        )

    curve = [(1.05, 0.0), (0.55, 0.20), (0.05, 0.27), (-0.4, 0.19), (-0.8, 0.0)]
    dark = tuple(spot(y, x) for y, x in curve)
    light = tuple(spot(y, -x) for y, x in curve)
    ticks = [
        Stroke(
            points=(spot(0.92 * math.cos(a), 0.92 * math.sin(a)), spot(0.78 * math.cos(a), 0.78 * math.sin(a))),
            colour=style.SOFT_INK,
            width_mm=style.PLANT,
            layer="furniture",
        )
        for a in (math.pi / 2, math.pi, -math.pi / 2)
    ]
    return (
        Disc(at=at, radius=0.92 * size, stroke=style.SOFT_INK, width_mm=style.PLANT, layer="furniture"),
        *ticks,
        Area(rings=(light,), fill=style.PAPER, stroke=style.INK, width_mm=style.PLANT, layer="furniture"),
        Area(rings=(dark,), fill=style.INK, stroke=style.INK, width_mm=style.PLANT, layer="furniture"),
        Label(at=spot(1.38, 0.0), text="N", size_mm=3.0, bold=True, layer="furniture"),
    )


def scale_bar(at: Point, *, units: Units, scale: float, to_scale: bool = True) -> tuple[Mark, ...]:
    """Return a bar of four divisions, solid and open in turn, true to the ground; ``at`` is its lower left corner."""
    step = next((s for s in BAR_STEPS[units] if s >= on_ground(LEAST_BAR_MM, scale)), BAR_STEPS[units][-1])
    mm = on_ground(1.0, scale)
    x, y = at
    marks: list[Mark] = []
    for k in range(4):
        ring = (
            (x + k * step, y),
            (x + (k + 1) * step, y),
            (x + (k + 1) * step, y + 1.5 * mm),
            (x + k * step, y + 1.5 * mm),
        )
        fill = style.INK if k % 2 == 0 else style.PAPER
        marks.append(Area(rings=(ring,), fill=fill, stroke=style.INK, width_mm=style.PLANT, layer="furniture"))
    marks += [
        Label(
            at=(x + k * step, y - 2.0 * mm),
            text=_figure(k * step, units, last=k == 4),
            size_mm=style.NOTE_LETTERS,
            colour=style.SOFT_INK,
            layer="furniture",
        )
        for k in (0, 1, 2, 4)
    ]
    if to_scale and scale in NAMED_SCALES:
        text = f"scale {NAMED_SCALES[scale]}"
        marks.append(
            Label(
                at=(x + 4 * step + 6 * mm, y + 0.75 * mm),
                text=text,
                size_mm=style.NOTE_LETTERS,
                colour=style.SOFT_INK,
                anchor="start",
                layer="furniture",
            )
        )
    return tuple(marks)


def legend(
    rows: Sequence[tuple[str, str]], bounds: Bounds, *, scale: float, title: str = ""
) -> tuple[tuple[Mark, ...], Bounds]:
    """Return colour patches with words, (colour, text) each, in lines below a drawing, and the bounds with them."""
    mm = on_ground(1.0, scale)
    left, low, right, high = bounds
    x, y = left + 2 * mm, low - 2.5 * mm
    marks: list[Mark] = []
    if title:
        marks.append(_note((x, y), title, bold=True))
        x += (text_width(title, style.NOTE_LETTERS, bold=True) + 4) * mm
    for colour, text in rows:
        wide = (7.0 + text_width(text, style.NOTE_LETTERS) + 4.0) * mm
        if x + wide > right and x > left + 2 * mm:
            x, y = left + 2 * mm, y - 5 * mm
        ring = ((x, y - 1.6 * mm), (x + 5 * mm, y - 1.6 * mm), (x + 5 * mm, y + 1.6 * mm), (x, y + 1.6 * mm))
        marks.append(Area(rings=(ring,), fill=colour, stroke=style.INK, width_mm=style.RIB, layer="furniture"))
        marks.append(_note((x + 6.2 * mm, y), text))
        x += wide
    return tuple(marks), (left, y - 4 * mm, right, high)


def _note(at: Point, text: str, *, bold: bool = False) -> Label:
    return Label(at=at, text=text, size_mm=style.NOTE_LETTERS, anchor="start", bold=bold, layer="furniture")


def _figure(metres: float, units: Units, *, last: bool) -> str:
    value = metres / FOOT if units == "imperial" else metres
    unit = (" ft" if units == "imperial" else " m") if last else ""
    return f"{value:g}{unit}" if units == "metric" else f"{round(value, 6):g}{unit}"
