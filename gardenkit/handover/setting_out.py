"""The setting-out sheet: the plan with numbered places, and the table that two people with tapes build it from."""

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from gardenkit.drawing import style
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.setting_out import setting_out_scene
from gardenkit.garden import Garden
from gardenkit.handover.paper import BLOCK, COLUMN, MARGIN, SheetSize, border, fitted, millimetres, title_block
from gardenkit.handover.pdf import FACES, MM, Pen, embedded_letters
from gardenkit.handover.tables import plain_cell
from gardenkit.schedules.setting_out import Mark, SettingOut, setting_out
from gardenkit.storage.files import replace_safely
from gardenkit.units import FOOT, System, show_length

TITLE = "Setting-out plan"
ROW, LETTERS = 4.1, 2.5  # mm: one line of the table and its letters
COLUMNS = (
    ("number", 0.0),
    ("place", 12.0),
    ("along", 78.0),
    ("off", 96.0),
    ("ties", 114.0),
)  # mm from the table's left
HEADS = ("x_{}", "y_{}", "along_{}", "offset_{}", "tie_1", "{}_1", "tie_2", "{}_2")
TABLE = 158.0  # mm: width of one table
HOW = (
    "Along and off are measured from the baseline: along it from its zero, then square to it (L left, R right of",
    "the way it runs). The ties are distances from two lettered points; the two arcs cross at the place. Set out",
    "by the ties, check by along and off. Measure level, not along the slope. Check all dimensions on site.",
)


def write(garden: Garden, target: Path, *, scale: float | None = None, paper: str = "") -> int:
    """Write the setting-out sheet as a PDF; returns its size in bytes. See ``sheet``."""
    content = sheet(garden, scale=scale, paper=paper)
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, content)
    return len(content)


def write_csv(garden: Garden, target: Path) -> int:
    """Write every place with its coordinates on the plan as a table, in metres or decimal feet; returns how many."""
    found = setting_out(garden.project, garden.layout, garden.catalogue)
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


def sheet(garden: Garden, *, scale: float | None = None, paper: str = "") -> bytes:
    """Return the setting-out plan and its table as a PDF; scale and paper as for the planting sheet.

    Raises GardenError without a boundary, or when the plan does not fit.
    """
    from reportlab.pdfgen.canvas import Canvas

    project = garden.project
    found = setting_out(project, garden.layout, garden.catalogue)

    def draw(n: float) -> Scene:
        return setting_out_scene(project, garden.layout, found, scale=n)

    scene, size = fitted(draw, imperial=garden.units == "imperial", scale=scale, paper=paper)
    out = io.BytesIO()
    embedded_letters()
    page = (size.wide * MM, size.high * MM)
    canvas = Canvas(out, pagesize=page, invariant=True, lang="en", initialFontName=FACES[False, False])
    canvas.setTitle(f"{project.name}: {TITLE}")
    canvas.setAuthor(project.designer)
    canvas.setSubject(scene.description[:500])
    pen = Pen(canvas)
    _plan(pen, garden, found, scene, size)
    left: Sequence[Mark] = found.marks
    while left:
        canvas.showPage()
        pen = Pen(canvas)
        left = _table(pen, left, size, garden.units)
    canvas.save()
    return out.getvalue()


# ---- helpers


def _plan(pen: Pen, garden: Garden, found: SettingOut, scene: Scene, size: SheetSize) -> None:
    wide, high = millimetres(scene)
    room = size.wide - 3 * MARGIN - COLUMN
    pen.scene(scene, left=MARGIN + (room - wide) / 2, top=size.high - MARGIN - (size.high - 2 * MARGIN - high) / 2)
    column = size.wide - MARGIN - COLUMN
    border(pen, size, column)
    title_block(pen, garden.project, size, scale=scene.scale, title=TITLE)
    x, y = column + 3, size.high - MARGIN - 7
    pen.text((x, y), "Measured from", size_mm=3.2, bold=True)
    pen.text((x, y - 5), f"baseline: {found.baseline}", size_mm=LETTERS, width=COLUMN - 6)
    y -= 10
    for fixed in found.fixed:
        pen.text((x, y), fixed.letter, size_mm=LETTERS, bold=True)
        pen.text((x + 7, y), fixed.words, size_mm=LETTERS, width=COLUMN - 13)
        y -= ROW
    y -= 3
    if found.bends:
        pen.text((x, y), "Bends, middle line", size_mm=3.2, bold=True)
        y -= 5
    for bend in found.bends:
        if y < MARGIN + BLOCK + 5:
            break
        span = f"{show_length(bend.start, garden.units)} to {show_length(bend.end, garden.units)}"
        words = f"{bend.path}, {span}: {bend.way}, R {show_length(bend.radius, garden.units)}"
        pen.text((x, y), words, size_mm=LETTERS, width=COLUMN - 6)
        y -= ROW


def _table(pen: Pen, marks: Sequence[Mark], size: SheetSize, units: System) -> Sequence[Mark]:
    """Write one page of the table, as many columns of it as the sheet is wide; returns what found no room."""
    border(pen, size, None)
    top = size.high - MARGIN - 8
    pen.text((MARGIN + 4, top), f"{TITLE}: places", size_mm=4.0, bold=True)
    for number, line in enumerate(HOW):
        pen.text((MARGIN + 4, top - 6 - 3.6 * number), line, size_mm=LETTERS, colour=style.SOFT_INK)
    top -= 22
    per_column = max(1, int((top - MARGIN - 6) / ROW) - 1)
    columns = max(1, int((size.wide - 2 * MARGIN - 4) / TABLE))
    for column in range(columns):
        part = marks[column * per_column : (column + 1) * per_column]
        if not part:
            break
        _rows(pen, part, left=MARGIN + 4 + column * TABLE, top=top, units=units)
    return marks[columns * per_column :]


def _rows(pen: Pen, marks: Sequence[Mark], *, left: float, top: float, units: System) -> None:
    for head, at in COLUMNS:
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
        for (_, at), text, wide in zip(COLUMNS, texts, (11.0, 64.0, 17.0, 17.0, 40.0), strict=True):
            pen.text((left + at, y), text, size_mm=LETTERS, width=wide)
