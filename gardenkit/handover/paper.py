"""Sheets of paper: their sizes, what fits on them at a scale, the border and the title block every drawing carries."""

import textwrap
from collections.abc import Callable, Mapping

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.furniture import NAMED_SCALES
from gardenkit.drawing.scene import Scene, on_paper
from gardenkit.findings import LOCAL_CODE, GardenError, nearest
from gardenkit.handover.pdf import Pen
from gardenkit.project import Project
from gardenkit.schedules.phases import UTILITIES

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
NOTE_LETTERS = 78  # letters in a line of the notes
LETTERS = 2.2  # mm: letters of the title block


@attrs.frozen(kw_only=True)
class SheetSize:
    """A sheet of paper in mm, lying or standing."""

    name: str
    wide: float
    high: float


def fitted(
    draw: Callable[[float], Scene], *, imperial: bool, scale: float | None, paper: str
) -> tuple[Scene, SheetSize]:
    """Return a drawing at the largest usual scale (or the one asked for) with the smallest sheet that holds it.

    ``draw`` makes the scene at 1 : n. Raises GardenError for an unknown sheet or scale, or when nothing holds it.
    """
    if paper and paper not in PAPERS:
        raise GardenError(f'there is no sheet "{paper}"{nearest(paper, PAPERS)}; use one of {", ".join(PAPERS)}')
    if scale is not None and scale not in NAMED_SCALES:
        known = ", ".join(f"{n:g} ({words})" for n, words in NAMED_SCALES.items())
        raise GardenError(f"there is no sheet scale 1 : {scale:g}; use one of {known}")
    usual = (48.0, 96.0) if imperial else (50.0, 100.0)
    papers = (paper,) if paper else IMPERIAL_PAPERS if imperial else METRIC_PAPERS
    for n in (scale,) if scale is not None else usual:
        scene = draw(n)
        for name in papers:
            for size in ways(name):
                if holds(size, scene):
                    return scene, size
    wide, high = millimetres(scene)
    raise GardenError(
        f"the plan at 1 : {scene.scale:g} is {wide:.0f} by {high:.0f} mm and does not fit on {' or '.join(papers)} "
        "beside its schedule; choose a larger sheet or a smaller scale"
    )


def ways(name: str) -> tuple[SheetSize, SheetSize]:
    """Return a sheet of PAPERS lying and standing."""
    long, short = PAPERS[name]
    return SheetSize(name=name, wide=long, high=short), SheetSize(name=name, wide=short, high=long)


def millimetres(scene: Scene) -> tuple[float, float]:
    """Return how wide and high a drawing is on paper, mm."""
    low_x, low_y, high_x, high_y = scene.bounds
    return on_paper(high_x - low_x, scene.scale), on_paper(high_y - low_y, scene.scale)


def holds(size: SheetSize, scene: Scene) -> bool:
    """Return whether a sheet holds a drawing beside its right column."""
    wide, high = millimetres(scene)
    return wide <= size.wide - 3 * MARGIN - COLUMN and high <= size.high - 2 * MARGIN


def border(pen: Pen, size: SheetSize, column: float | None) -> None:
    """Draw the sheet's border, and the line of its right column at ``column`` mm."""
    low, right, top = MARGIN, size.wide - MARGIN, size.high - MARGIN
    corners = [(low, low), (right, low), (right, top), (low, top)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        pen.rule(a, b, width_mm=0.5)
    if column is not None:
        pen.rule((column, low), (column, top), width_mm=0.3)
        pen.rule((column, low + BLOCK), (right, low + BLOCK), width_mm=0.3)


def title_block(pen: Pen, project: Project, size: SheetSize, *, scale: float, title: str) -> None:
    """Write the title block in the lower right corner: the garden, the drawing, for whom, scale and cautions."""
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
