"""The plan on paper, true to scale: one PDF sheet with title block, scale bar, north arrow, plant keys and schedule."""

import io
from collections.abc import Sequence
from pathlib import Path

from gardenkit.drawing import style
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.handover.paper import BLOCK, COLUMN, MARGIN, SheetSize, border, fitted, millimetres, title_block
from gardenkit.handover.pdf import FACES, MM, Pen, embedded_letters
from gardenkit.planting.keys import plant_keys
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.project.season import catalogue_of
from gardenkit.schedules.plants import PlantLine, plant_schedule

ROW, LETTERS = 3.9, 2.2  # mm: one line of the schedule and its letters


def write(
    project: Project,
    folder: Path,
    target: Path,
    *,
    scale: float | None = None,
    paper: str = "",
    year: int = 10,
    month: int = 6,
) -> int:
    """Write the to-scale plan of a garden as a PDF; returns its size in bytes. See ``sheet``."""
    content = sheet(project, folder, scale=scale, paper=paper, year=year, month=month)
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(content)
    return len(content)


def sheet(
    project: Project, folder: Path, *, scale: float | None = None, paper: str = "", year: int = 10, month: int = 6
) -> bytes:
    """Return the plan as a PDF at 1 : ``scale`` (48, 96, 50 or 100; the largest that fits by default).

    ``paper`` names a sheet of PAPERS; without it the smallest that holds the plan is taken. Raises GardenError when the
    plan does not fit, naming what would.
    """
    if not project.site.boundary:
        raise GardenError("the sheet needs the boundary; draw or measure it first")
    scene, size = _fitted(project, folder, scale, paper, when=(year, month))
    return _drawn(project, folder, scene, size, title=f"Planting plan, {MONTHS[month - 1]} of year {year}")


def _fitted(
    project: Project, folder: Path, scale: float | None, paper: str, *, when: tuple[int, int]
) -> tuple[Scene, SheetSize]:
    worked, catalogue = layout(project), catalogue_of(folder)

    def draw(n: float) -> Scene:
        return garden_scene(project, worked, catalogue, year=when[0], month=when[1], scale=n, to_scale=True)

    return fitted(draw, imperial=project.units == "imperial", scale=scale, paper=paper)


# ---- drawing


def _drawn(project: Project, folder: Path, scene: Scene, size: SheetSize, *, title: str) -> bytes:
    from reportlab.pdfgen.canvas import Canvas

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
    lines = _lines(project, folder)
    left_over = _schedule(pen, lines, at=(column + 3, size.high - MARGIN - 6), low=MARGIN + BLOCK + 4)
    while left_over:
        canvas.showPage()
        pen = Pen(canvas)
        border(pen, size, None)
        left_over = _schedule(pen, left_over, at=(MARGIN + 4, size.high - MARGIN - 6), low=MARGIN + 4)
    canvas.save()
    return out.getvalue()


def _lines(project: Project, folder: Path) -> tuple[PlantLine, ...]:
    catalogue = catalogue_of(folder)
    keys = plant_keys(catalogue[p.species].botanical for p in project.planting.plants)
    return plant_schedule(project.planting.plants, catalogue, keys, prices=project.planting.prices)


def _schedule(pen: Pen, lines: Sequence[PlantLine], *, at: tuple[float, float], low: float) -> tuple[PlantLine, ...]:
    """Write the schedule downwards from ``at`` as far as ``low``; returns the lines that found no room."""
    x, y = at
    wide = COLUMN - 6
    if not lines:
        return ()
    pen.text((x, y), "Plant schedule", size_mm=3.2, bold=True)
    y -= 5.5
    for head, place, anchor in (("key", 0.0, "start"), ("no.", 17.5, "end"), ("plant", 20.0, "start")):
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
