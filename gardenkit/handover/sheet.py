"""The plan on paper, true to scale: one PDF sheet with title block, scale bar, north arrow, plant keys and schedule."""

import io
from collections.abc import Sequence
from pathlib import Path

from gardenkit.drawing import style
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover.paper import BLOCK, COLUMN, MARGIN, SheetSize, border, fitted, millimetres, title_block
from gardenkit.handover.pdf import FACES, MM, Pen, embedded_letters
from gardenkit.project.season import early_summer
from gardenkit.schedules.plants import PlantLine
from gardenkit.storage.files import replace_safely

ROW, LETTERS = 3.9, 2.2  # mm: one line of the schedule and its letters


def write(
    garden: Garden,
    target: Path,
    *,
    scale: float | None = None,
    paper: str = "",
    year: int = 10,
    month: int | None = None,
) -> int:
    """Write the to-scale plan of a garden as a PDF; returns its size in bytes. See ``sheet``."""
    content = sheet(garden, scale=scale, paper=paper, year=year, month=month)
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, content)
    return len(content)


def sheet(
    garden: Garden, *, scale: float | None = None, paper: str = "", year: int = 10, month: int | None = None
) -> bytes:
    """Return the plan as a PDF at 1 : ``scale`` (48, 96, 50 or 100; the largest that fits by default).

    ``paper`` names a sheet of PAPERS; without it the smallest that holds the plan is taken. Raises GardenError when the
    plan does not fit, naming what would. Without a ``month`` it is the garden's early summer.
    """
    if not garden.project.site.boundary:
        raise GardenError("the sheet needs the boundary; draw or measure it first")
    month = month or early_summer(garden.project.site)
    scene, size = _fitted(garden, scale, paper, when=(year, month))
    return _drawn(garden, scene, size, title=f"Planting plan, {MONTHS[month - 1]} of year {year}")


def _fitted(garden: Garden, scale: float | None, paper: str, *, when: tuple[int, int]) -> tuple[Scene, SheetSize]:
    project = garden.project

    def draw(n: float) -> Scene:
        return garden_scene(
            project, garden.layout, garden.catalogue, year=when[0], month=when[1], scale=n, to_scale=True
        )

    return fitted(draw, imperial=project.units == "imperial", scale=scale, paper=paper)


# ---- drawing


def _drawn(garden: Garden, scene: Scene, size: SheetSize, *, title: str) -> bytes:
    from reportlab.pdfgen.canvas import Canvas

    project = garden.project
    out = io.BytesIO()
    embedded_letters()
    page = (size.wide * MM, size.high * MM)
    canvas = Canvas(out, pagesize=page, invariant=True, lang="en", initialFontName=FACES[False, False])
    canvas.setTitle(f"{project.name}: {title}")
    canvas.setAuthor(project.designer)
    canvas.setSubject(scene.description[:500])
    pen = Pen(canvas)
    wide, high = millimetres(scene)
    room = size.wide - 3 * MARGIN - COLUMN
    pen.scene(scene, left=MARGIN + (room - wide) / 2, top=size.high - MARGIN - (size.high - 2 * MARGIN - high) / 2)
    column = size.wide - MARGIN - COLUMN
    border(pen, size, column)
    title_block(pen, project, size, scale=scene.scale, title=title)
    left_over = _schedule(pen, garden.schedule, at=(column + 3, size.high - MARGIN - 6), low=MARGIN + BLOCK + 4)
    while left_over:
        canvas.showPage()
        pen = Pen(canvas)
        border(pen, size, None)
        left_over = _schedule(pen, left_over, at=(MARGIN + 4, size.high - MARGIN - 6), low=MARGIN + 4)
    canvas.save()
    return out.getvalue()


def _schedule(pen: Pen, lines: Sequence[PlantLine], *, at: tuple[float, float], low: float) -> tuple[PlantLine, ...]:
    """Write the schedule downwards from ``at`` as far as ``low``; returns the lines that found no room."""
    x, y = at
    wide = COLUMN - 6
    if not lines:
        return ()
    pen.text((x, y), "Plant schedule", size_mm=3.2, bold=True)
    y -= 5.5
    for head, place, anchor in (("key", 0.0, "start"), ("qty", 17.5, "end"), ("plant", 20.0, "start")):
        pen.text((x + place, y), head, size_mm=LETTERS, colour=style.SOFT_INK, anchor=anchor)
    pen.rule((x, y - 1.2), (x + wide, y - 1.2), width_mm=0.18)
    for number, line in enumerate(lines):
        y -= ROW * 1.75 if number else ROW + 0.6
        if y - ROW < low:
            return tuple(lines[number:])
        pen.text((x, y), line.key, size_mm=LETTERS, bold=True, width=12.5)
        pen.text((x + 17.5, y), f"{line.count}", size_mm=LETTERS, anchor="end")
        pen.text((x + 20, y), line.species.botanical, size_mm=LETTERS, italic=True, width=wide - 20)
        apart = f"{line.species.common}, {line.size}"
        pen.text((x + 20, y - 2.9), apart, size_mm=1.9, colour=style.SOFT_INK, width=wide - 20)
    return ()
