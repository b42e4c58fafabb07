"""A plan on its sheet with what its signs mean: "Drawn here" stands at the top of the right column, then the list."""

from collections.abc import Sequence

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.legend import Sign, signs
from gardenkit.drawing.scene import Area, Mark, Scene, Stroke
from gardenkit.geometry.plane import Point
from gardenkit.handover.listed import Entry, listed
from gardenkit.handover.paper import LETTERS, Leaf, SheetSize, centred, column
from gardenkit.handover.pdf import Pen

ROW, HEADING, SWATCH = 4.2, 5.5, (10.0, 2.8)  # mm. House values.
SAID = {  # words of the legend that a contractor needs more of
    "building": "building; long dashes: edge of its roof",
    "gate": "gate, as it swings",
    "door": "door, as it swings",
    "seat": "seat; triangle: the way one looks from it",
    "table and chairs": "table; dots: room to draw chairs out",
    "thing to keep clear of": "obstacle, as named; fine dots: keep clear",
    "tree that stays": "tree to keep, its crown",
    "tree that goes": "tree to be removed",
}


def keyed(
    scene: Scene,
    size: SheetSize,
    *,
    number: str,
    title: str,
    entries: Sequence[Entry],
    note: str = "",
    heading: str = "",
    more: Sequence[Sign] = (),
) -> tuple[Leaf, ...]:
    """Return the sheet of a plan with its legend, note and list, and further sheets for what finds no room.

    ``more`` are signs that cannot be read off what is drawn. Things that have their name beside them need no sign.
    """
    meant = meaning(scene, more)
    x, _, right, top = column(size)

    def draw(pen: Pen) -> None:
        centred(pen, scene, size)
        legend(pen, meant, (x, top), wide=right - x)

    leaf = Leaf(number=number, title=title, size=size, draw=draw, scale=scene.scale)
    return listed(leaf, entries, note=note, heading=heading, before=legend_high(meant))


def meaning(scene: Scene, more: Sequence[Sign] = ()) -> tuple[Sign, ...]:
    """Return ``more`` and the signs that are drawn on a plan, in the words of a sheet."""
    drawn = (one for one in signs(scene.marks) if not one.thing or one.words in SAID)
    return (*more, *(attrs.evolve(one, words=SAID.get(one.words, one.words)) for one in drawn))


def legend_high(meant: Sequence[Sign]) -> float:
    """Return how many mm of a column a legend takes."""
    return HEADING + ROW * len(meant) + 2.0


def legend(pen: Pen, meant: Sequence[Sign], at: Point, *, wide: float) -> None:
    """Write what signs mean into a column ``wide`` mm wide from ``at`` down."""
    x, y = at
    right = x + wide
    pen.text((x, y), "Drawn here", size_mm=3.4, bold=True)
    y -= HEADING
    long, high = SWATCH
    marks = [_swatch(one, -number * ROW) for number, one in enumerate(meant)]
    every = Scene(marks=tuple(marks), bounds=(0.0, -ROW * len(meant), long, high), title="", description="", scale=1000)
    pen.scene(every, left=x, top=y + high - 0.4)
    for one in meant:
        pen.text((x + long + 3, y), one.words, size_mm=LETTERS, width=right - x - long - 3)
        y -= ROW


# ---- helpers


def _swatch(sign: Sign, y: float) -> Mark:
    """Return a sign as a small piece of what it stands for, its lower left corner at (0, y) mm: a line has no fill."""
    wide, high = SWATCH
    if sign.fill is None:
        ends = ((0.0, y + high / 2), (wide, y + high / 2))
        return Stroke(points=ends, colour=sign.stroke or style.INK, width_mm=0.4, dash=sign.dash)
    box = ((0.0, y), (wide, y), (wide, y + high), (0.0, y + high))
    return Area(rings=(box,), fill=sign.fill, stroke=sign.stroke or style.SOFT_INK, dash=sign.dash)
