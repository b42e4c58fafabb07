"""A cut through something built, to scale: layers with their depths written beside them, widths below, soil around."""

from collections.abc import Sequence

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.labels import text_width
from gardenkit.drawing.scene import Area, Label, Mark, Scene, Stroke, on_ground
from gardenkit.geometry.plane import Point
from gardenkit.units import System, feet_inches, show_length

SOIL, STONE_BASE, SAND, CONCRETE, WATER = "#e6dac6", "#d8d3c5", "#efe3bf", "#c9cac6", style.GROUND["pond"]
LETTERS = 2.5  # mm
TICK = 1.2  # mm: the slanting stroke at each end of a width
LONG = 1.0  # m. House value.
NOTES_WIDE = 52.0  # mm kept beside the cut for the notes. House value.


@attrs.frozen(kw_only=True)
class Note:
    """Words beside a cut, and the place in it, in metres, that they are about."""

    at: Point
    words: str


@attrs.frozen(kw_only=True)
class Cut:
    """What is drawn of one detail, in metres, with the ground level at 0: its marks, its notes from the top down."""

    marks: tuple[Mark, ...]
    notes: tuple[Note, ...]
    left: float
    right: float
    low: float
    high: float


def box(left: float, low: float, right: float, high: float, fill: str | None, *, width_mm: float = 0.18) -> Area:
    """Return one rectangle of a cut."""
    ring = ((left, low), (right, low), (right, high), (left, high))
    return Area(rings=(ring,), fill=fill, stroke=style.INK, width_mm=width_mm, layer="structure")


def outlined(points: Sequence[Point], fill: str | None, *, width_mm: float = 0.3) -> Area:
    """Return a shape of a cut with any outline."""
    return Area(rings=(tuple(points),), fill=fill, stroke=style.INK, width_mm=width_mm, layer="structure")


def soil(left: float, low: float, right: float, high: float = 0.0) -> Area:
    """Return the ground around a cut, without an outline."""
    ring = ((left, low), (right, low), (right, high), (left, high))
    return Area(rings=(ring,), fill=SOIL, layer="ground")


def level(left: float, right: float, y: float = 0.0) -> Stroke:
    """Return the line of the ground."""
    return Stroke(points=((left, y), (right, y)), colour=style.INK, width_mm=0.5, layer="structure")


def broken(x: float, low: float, high: float) -> Stroke:
    """Return the line where a drawing is cut off although the thing goes on."""
    step = (high - low) / 6
    points = [(x + (0.02 if k % 2 else -0.02) * (0 < k < 6), low + k * step) for k in range(7)]
    return Stroke(points=tuple(points), colour=style.SOFT_INK, width_mm=0.18, layer="structure")


def said(metres: float, units: System) -> str:
    """Return a length as a builder reads it on a detail: inches or millimetres, from ``LONG`` on feet or metres."""
    if units == "metric" and metres < LONG:
        return f"{metres * 1000:.0f} mm"
    return show_length(metres, units, small=metres < LONG)


def finely(metres: float, units: System) -> str:
    """Return a riser or tread as finely as it is built, and as its take-off says it: to an eighth of an inch."""
    return said(metres, units) if units == "metric" else feet_inches(metres, to=8)


def measure(a: Point, b: Point, units: System, scale: float, *, words: str = "") -> tuple[Mark, ...]:
    """Return a dimension line from ``a`` to ``b``, level or upright, with the distance written along it."""
    far = max(abs(b[0] - a[0]), abs(b[1] - a[1]))
    figure = words or said(far, units)
    upright = a[0] == b[0]
    tick = on_ground(TICK, scale) / 2
    ends = [((x - tick, y - tick), (x + tick, y + tick)) for x, y in (a, b)]
    lines = [Stroke(points=line, colour=style.INK, width_mm=0.18, layer="labels") for line in ((a, b), *ends)]
    away = on_ground(LETTERS * 0.8, scale)
    middle = ((a[0] + b[0]) / 2 - (away if upright else 0), (a[1] + b[1]) / 2 + (0 if upright else away))
    label = Label(at=middle, text=figure, size_mm=LETTERS, turn=-90.0 if upright else 0.0, halo=style.PAPER)
    return (*lines, label)


def cut_scene(cut: Cut, *, title: str, scale: float) -> Scene:
    """Return a cut with its notes in a column at its right, each led to what it is about."""
    row = on_ground(LETTERS * 1.75, scale)
    edge = cut.right + on_ground(5.0, scale)
    notes = sorted(cut.notes, key=lambda note: -note.at[1])
    heights = _apart([note.at[1] for note in notes], row, cut.low)
    marks: list[Mark] = [*cut.marks]
    for note, y in zip(notes, heights, strict=True):
        line = (note.at, (edge - on_ground(1.5, scale), y), (edge - on_ground(0.5, scale), y))
        marks.append(Stroke(points=line, colour=style.SOFT_INK, width_mm=0.12, layer="labels"))
        marks.append(Label(at=(edge, y), text=note.words, size_mm=LETTERS, anchor="start"))
    low, top = min([cut.low, *heights]), max([cut.high, *heights])
    right = edge + on_ground(max([NOTES_WIDE, *(text_width(note.words, LETTERS) for note in notes)]), scale)
    words = f"{title}, a cut to scale: {'; '.join(note.words for note in notes)}."
    return Scene(
        marks=tuple(marks),
        bounds=(cut.left, low - row, right, top + row),
        title=title,
        description=words,
        scale=scale,
        paper=None,
    )


def _apart(wanted: Sequence[float], row: float, low: float) -> list[float]:
    """Return heights from the top down, each at least a row below the one before; raised where they would run on far
    below ``low``.
    """
    found: list[float] = []
    for y in wanted:
        found.append(min(y, found[-1] - row) if found else y)
    over = max(0.0, low - found[-1]) / 2 if found else 0.0
    return [y + over for y in found]
