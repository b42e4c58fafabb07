"""The layout and setting-out sheet: the plan with numbered places, and the table that two people with tapes build it
from.
"""

import csv
import io
from collections.abc import Sequence
from pathlib import Path

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.faded import of_its_area, shown_area
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.setting_out import key_scene, setting_out_scene
from gardenkit.garden import Garden
from gardenkit.handover.keyed import legend, legend_high, meaning
from gardenkit.handover.paper import (
    LETTERS,
    Issue,
    Leaf,
    SheetSize,
    centred,
    column,
    fitted,
    frame,
    millimetres,
    saved,
    wrapped_note,
    written,
)
from gardenkit.handover.pdf import Pen
from gardenkit.handover.tables import plain_cell
from gardenkit.schedules.setting_out import Mark, SettingOut
from gardenkit.storage.files import replace_safely
from gardenkit.units import FOOT, System, show_length

NUMBER, TITLE = "L2", "Layout and setting-out plan"
ROW = 4.1  # mm: one line of the table
COLUMNS = (("pt.", 0.0, 9.0), ("place", 10.0, 58.0), ("along", 70.0, 16.0), ("off", 88.0, 18.0), ("ties", 108.0, 38.0))
# head, mm from the table's left, mm wide
TABLE = 152.0  # mm: width of one table with the white after it
HEADS = ("x_{}", "y_{}", "along_{}", "offset_{}", "tie_1", "{}_1", "tie_2", "{}_2")
HOW = (
    "Along and off are running dimensions and offsets: along the baseline from A, its zero, then square to it (L left, "
    "R right of the way from A to B). The ties are distances from two lettered points; the two arcs cross at the "
    "place, on the side that the offset says. Set out by the ties, check by along and off. Measure level, not along "
    "the slope. Left and right edge as one walks a path from its 0."
)


def write(
    garden: Garden, target: Path, *, scale: float | None = None, paper: str = "", issue: Issue | None = None
) -> int:
    """Write the setting-out sheet as a PDF; returns its size in bytes. See ``sheet``."""
    return saved(sheet(garden, scale=scale, paper=paper, issue=issue), target)


def write_csv(garden: Garden, target: Path) -> int:
    """Write every place with its coordinates on the plan as a table, in metres or decimal feet; returns how many."""
    found = garden.setting_out
    unit, each = ("ft", FOOT) if garden.units == "imperial" else ("m", 1.0)
    text = io.StringIO(newline="")
    page = csv.writer(text, lineterminator="\r\n")
    page.writerow(("number", "kind", "place", *(head.format(unit) for head in HEADS)))
    for m in found.marks:
        lengths = [f"{metres / each:.3f}" for metres in (*m.at, m.running, m.offset)]
        ties = [part for tie in m.ties for part in (tie.letter, f"{tie.far / each:.3f}")]
        page.writerow((m.number, *(plain_cell(text) for text in (m.kind, m.what)), *lengths, *ties))
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, text.getvalue().encode("utf-8"))
    return len(found.marks)


def sheet(garden: Garden, *, scale: float | None = None, paper: str = "", issue: Issue | None = None) -> bytes:
    """Return the setting-out plan and its table as a PDF; scale and paper as for the planting sheet.

    Raises GardenError without a boundary, or when the plan does not fit.
    """
    return written(
        garden.project, leaves(garden, scale=scale, paper=paper), issue or Issue.of(garden.project), title=TITLE
    )


def leaves(garden: Garden, *, scale: float | None = None, paper: str = "") -> tuple[Leaf, ...]:
    """Return the sheets of the setting-out: the plan with what of the table stands beside it, then the rest of it."""
    project, found = garden.project, garden.setting_out
    title = of_its_area(garden, TITLE)

    def draw(n: float) -> Scene:
        return shown_area(garden, setting_out_scene(project, garden.layout, found, scale=n, title=title))

    scene, size = fitted(draw, project, scale=scale, paper=paper)
    beside = _Tables.beside(scene, size)

    def plan(pen: Pen) -> None:
        centred(pen, scene, size, left=beside.columns > 0)
        beside.write(pen, found.marks, garden.units)
        _key(pen, found, scene, size, garden.units)

    pages = [Leaf(number=NUMBER, title=title, size=size, draw=plan, scale=scene.scale)]
    left, whole = found.marks[beside.holds :], _Tables.alone(size)
    while left:
        pages.append(_more(left, whole, size, f"{NUMBER}.{len(pages)}", garden.units))
        left = left[whole.holds :]
    return tuple(pages)


# ---- helpers


def _more(marks: Sequence[Mark], whole: "_Tables", size: SheetSize, number: str, units: System) -> Leaf:
    part = marks[: whole.holds]
    title = f"Setting out, places {part[0].number} to {part[-1].number}"

    def page(pen: Pen) -> None:
        whole.write(pen, part, units)
        x, _, right, top = column(size)
        wrapped_note(pen, (x, top), HOW, wide=right - x)

    return Leaf(number=number, title=title, size=size, draw=page)


@attrs.frozen(kw_only=True)
class _Tables:
    """Room for tables of places: mm from the left and down from the top of the first, how many, rows in each."""

    left: float
    top: float
    columns: int
    rows: int

    @classmethod
    def beside(cls, scene: Scene, size: SheetSize) -> "_Tables":
        """Return the room that a plan at the left of its sheet leaves before the right column."""
        low_x, low_y, high_x, high_y = frame(size)
        left = low_x + 2 + millimetres(scene)[0] + 5
        columns, rows = max(0, int((high_x - left) / TABLE)), int((high_y - low_y - 14) / ROW)
        return cls(left=left, top=high_y - 8, columns=columns, rows=rows)

    @classmethod
    def alone(cls, size: SheetSize) -> "_Tables":
        """Return the room of a whole sheet; a small one holds one table, though it be narrow."""
        low_x, low_y, high_x, high_y = frame(size)
        columns, rows = max(1, int((high_x - low_x - 4) / TABLE)), int((high_y - low_y - 14) / ROW)
        return cls(left=low_x + 4, top=high_y - 8, columns=columns, rows=rows)

    @property
    def holds(self) -> int:
        """How many places find room."""
        return self.columns * self.rows

    def write(self, pen: Pen, marks: Sequence[Mark], units: System) -> None:
        """Write places into the room, one table after the other."""
        for number in range(self.columns):
            part = marks[number * self.rows : (number + 1) * self.rows]
            if part:
                _rows(pen, part, left=self.left + number * TABLE, top=self.top, units=units)


def _key(pen: Pen, found: SettingOut, scene: Scene, size: SheetSize, units: System) -> None:
    """Write what is measured from, what the signs mean and how tight the bends are down the right column."""
    x, low, right, y = column(size)
    wide = right - x
    pen.text((x, y), "Measured from", size_mm=3.4, bold=True)
    y = wrapped_note(pen, (x, y - 5), f"Baseline: {found.baseline} (dash and dot).", wide=wide)
    for fixed in found.fixed:
        pen.text((x, y), fixed.letter, size_mm=LETTERS, bold=True)
        pen.text((x + 7, y), fixed.words, size_mm=LETTERS, width=wide - 7)
        y -= ROW
    y = wrapped_note(pen, (x, y - 1), HOW, wide=wide)
    key = key_scene()
    pen.scene(key, left=x, top=y)
    y -= millimetres(key)[1] + 5
    meant = meaning(scene)
    if y - legend_high(meant) - ROW * (len(found.bends) + 2) > low:
        legend(pen, meant, (x, y), wide=wide)
        y -= legend_high(meant) + 2
    if found.bends and y > low + ROW:
        pen.text((x, y), "Bends, middle line of the path", size_mm=3.4, bold=True)
        y -= 5
    for bend in found.bends:
        if y < low:
            break
        span = f"{show_length(bend.start, units)} to {show_length(bend.end, units)}"
        words = f"{bend.path}, {span}: {bend.way}, R {show_length(bend.radius, units)}"
        pen.text((x, y), words, size_mm=LETTERS, width=wide)
        y -= ROW


def _rows(pen: Pen, marks: Sequence[Mark], *, left: float, top: float, units: System) -> None:
    for head, at, _ in COLUMNS:
        pen.text((left + at, top), head, size_mm=LETTERS, colour=style.SOFT_INK)
    pen.rule((left, top - 1.3), (left + TABLE - 6, top - 1.3), width_mm=0.18)
    for row, mark in enumerate(marks, 1):
        y = top - ROW * row - 0.6
        side = "L" if mark.offset > 0 else "R" if mark.offset < 0 else ""
        ties = "   ".join(f"{tie.letter} {show_length(tie.far, units)}" for tie in mark.ties)
        texts = (
            str(mark.number),
            mark.what,
            show_length(mark.running, units),
            f"{show_length(abs(mark.offset), units)} {side}".strip(),
            ties,
        )
        for (_, at, wide), text in zip(COLUMNS, texts, strict=True):
            pen.text((left + at, y), text, size_mm=LETTERS, width=wide)
