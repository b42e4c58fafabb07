"""The plan on paper, true to scale: one PDF sheet with title block, scale bar, north arrow, plant keys and schedule."""

import io
import textwrap
from collections.abc import Mapping, Sequence
from pathlib import Path

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.furniture import NAMED_SCALES
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.scene import Scene, on_paper
from gardenkit.findings import LOCAL_CODE, GardenError, nearest
from gardenkit.handover.pdf import FACES, MM, Pen, embedded_letters
from gardenkit.planting.keys import plant_keys
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.project.season import catalogue_of
from gardenkit.schedules.phases import UTILITIES
from gardenkit.schedules.plants import PlantLine, plant_schedule

PAPERS: Mapping[str, tuple[float, float]] = {  # mm, long side across
    "letter": (279.4, 215.9),
    "tabloid": (431.8, 279.4),
    "arch C": (609.6, 457.2),
    "arch D": (914.4, 609.6),
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
}
IMPERIAL_PAPERS = ("letter", "tabloid", "arch C", "arch D")
METRIC_PAPERS = ("A4", "A3", "A2", "A1")
MARGIN, COLUMN, BLOCK = 9.0, 78.0, 58.0  # mm: edge of the sheet, width of the right column, height of the title block
ROW, LETTERS = 3.9, 2.2  # mm: one line of the schedule and its letters
NOTE_LETTERS = 78  # letters in a line of the notes


@attrs.frozen(kw_only=True)
class SheetSize:
    """A sheet of paper in mm, lying or standing."""

    name: str
    wide: float
    high: float


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


# ---- what fits


def _fitted(
    project: Project, folder: Path, scale: float | None, paper: str, *, when: tuple[int, int]
) -> tuple[Scene, SheetSize]:
    if paper and paper not in PAPERS:
        raise GardenError(f'there is no sheet "{paper}"{nearest(paper, PAPERS)}; use one of {", ".join(PAPERS)}')
    if scale is not None and scale not in NAMED_SCALES:
        known = ", ".join(f"{n:g} ({words})" for n, words in NAMED_SCALES.items())
        raise GardenError(f"there is no sheet scale 1 : {scale:g}; use one of {known}")
    usual = (48.0, 96.0) if project.units == "imperial" else (50.0, 100.0)
    papers = (paper,) if paper else IMPERIAL_PAPERS if project.units == "imperial" else METRIC_PAPERS
    worked, catalogue = layout(project), catalogue_of(folder)
    for n in (scale,) if scale is not None else usual:
        scene = garden_scene(project, worked, catalogue, year=when[0], month=when[1], scale=n, to_scale=True)
        for name in papers:
            for size in _ways(name):
                if _holds(size, scene):
                    return scene, size
    wide, high = _millimetres(scene)
    raise GardenError(
        f"the plan at 1 : {scene.scale:g} is {wide:.0f} by {high:.0f} mm and does not fit on {' or '.join(papers)} "
        "beside its schedule; choose a larger sheet or a smaller scale"
    )


def _ways(name: str) -> tuple[SheetSize, SheetSize]:
    long, short = PAPERS[name]
    return SheetSize(name=name, wide=long, high=short), SheetSize(name=name, wide=short, high=long)


def _millimetres(scene: Scene) -> tuple[float, float]:
    low_x, low_y, high_x, high_y = scene.bounds
    return on_paper(high_x - low_x, scene.scale), on_paper(high_y - low_y, scene.scale)


def _holds(size: SheetSize, scene: Scene) -> bool:
    wide, high = _millimetres(scene)
    return wide <= size.wide - 3 * MARGIN - COLUMN and high <= size.high - 2 * MARGIN


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
    wide, high = _millimetres(scene)
    room = size.wide - 3 * MARGIN - COLUMN
    pen.scene(scene, left=MARGIN + (room - wide) / 2, top=size.high - MARGIN - (size.high - 2 * MARGIN - high) / 2)
    column = size.wide - MARGIN - COLUMN
    _border(pen, size, column)
    _title_block(pen, project, size, scale=scene.scale, title=title)
    lines = _lines(project, folder)
    left_over = _schedule(pen, lines, at=(column + 3, size.high - MARGIN - 6), low=MARGIN + BLOCK + 4)
    while left_over:
        canvas.showPage()
        pen = Pen(canvas)
        _border(pen, size, None)
        left_over = _schedule(pen, left_over, at=(MARGIN + 4, size.high - MARGIN - 6), low=MARGIN + 4)
    canvas.save()
    return out.getvalue()


def _border(pen: Pen, size: SheetSize, column: float | None) -> None:
    low, right, top = MARGIN, size.wide - MARGIN, size.high - MARGIN
    corners = [(low, low), (right, low), (right, top), (low, top)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        pen.rule(a, b, width_mm=0.5)
    if column is not None:
        pen.rule((column, low), (column, top), width_mm=0.3)
        pen.rule((column, low + BLOCK), (right, low + BLOCK), width_mm=0.3)


def _title_block(pen: Pen, project: Project, size: SheetSize, *, scale: float, title: str) -> None:
    x, y, wide = size.wide - MARGIN - COLUMN + 3, MARGIN + BLOCK - 7, COLUMN - 6
    pen.text((x, y), project.name, size_mm=5.0, bold=True, width=wide)
    pen.text((x, y - 6), title, size_mm=2.8, width=wide)
    rows = [("for", project.client), ("design", project.designer), ("place", project.site.place.name)]
    if project.planting.plants:
        rows.append(("planting", str(project.planting.first_year)))
    y -= 11.5
    for word, said in rows:
        if said:
            pen.text((x, y), word, size_mm=LETTERS, colour=style.SOFT_INK)
            pen.text((x + 14, y), said, size_mm=LETTERS, width=wide - 14)
            y -= 3.6
    pen.text(
        (x, MARGIN + 19.6), f"scale {NAMED_SCALES[scale]} on {size.name} paper", size_mm=3.0, bold=True, width=wide
    )
    notes = [
        "Print at 100 %, not fitted to the page. Check all dimensions on site.",
        f"Before building, {LOCAL_CODE}.",
        UTILITIES[0].upper() + UTILITIES[1:] + ".",
    ]
    if project.invented:
        notes.insert(0, "Invented demonstration garden: no such place, people or survey.")
    wrapped = [line for note in notes for line in textwrap.wrap(note, NOTE_LETTERS)]
    for number, line in enumerate(wrapped):
        pen.text((x, MARGIN + 15.2 - 2.8 * number), line, size_mm=1.9, colour=style.SOFT_INK, width=wide)


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
