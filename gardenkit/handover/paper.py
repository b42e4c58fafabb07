"""Sheets of paper: their sizes, what fits on them at a scale, the border and the title block every drawing carries."""

import datetime as dt
import io
import textwrap
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.furniture import NAMED_SCALES, scale_bar
from gardenkit.drawing.scene import Area, Bounds, Scene, on_ground, on_paper, plain
from gardenkit.findings import LOCAL_CODE, GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.handover.pdf import FACES, MM, Pen, embedded_letters
from gardenkit.project import Project
from gardenkit.project.handing_over import check_revision
from gardenkit.schedules.phases import UTILITIES
from gardenkit.site.country import country_of
from gardenkit.storage.files import replace_safely
from gardenkit.units import System

PAPERS: Mapping[str, tuple[float, float]] = {  # mm, long side across: ANSI/ASME Y14.1, ARCH sizes; ISO 216 A series
    "letter": (279.4, 215.9),
    "tabloid": (431.8, 279.4),
    "arch B": (457.2, 304.8),
    "ANSI C": (558.8, 431.8),
    "arch C": (609.6, 457.2),
    "ANSI D": (863.6, 558.8),
    "arch D": (914.4, 609.6),
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "A0": (1189.0, 841.0),
}
ISO_PAPERS = tuple(name for name in PAPERS if name.startswith("A") and name[1:].isdigit())
AMERICAN_PAPERS = tuple(name for name in PAPERS if name not in ISO_PAPERS)  # smallest first, as ISO_PAPERS
AMERICAN = ("US", "CA", "MX", "CL", "CO", "CR", "DO", "GT", "PA", "PH", "PR", "SV", "VE")  # letter paper: Unicode CLDR
MARGIN, COLUMN, BLOCK = 9.0, 92.0, 86.0  # mm: edge of the sheet, width of the right column, height of the title block
NOTE_LETTERS = 64  # letters in a line of the notes
BAR_HIGH = 10.0  # mm that a scale bar takes with its figures
USUAL_SCALES: Mapping[System, tuple[float, float]] = {"imperial": (48.0, 96.0), "metric": (50.0, 100.0)}  # 1 : n
LETTERS = 2.5  # mm: the smallest letters on a sheet


@attrs.frozen(kw_only=True)
class SheetSize:
    """A sheet of paper in mm, lying or standing."""

    name: str
    wide: float
    high: float


@attrs.frozen(kw_only=True)
class Issue:
    """When a drawing leaves the office, and which revision it is: up to eight letters or figures, as A or P02."""

    date: dt.date = attrs.field(factory=dt.date.today)
    revision: str = attrs.field(default="A")

    @revision.validator
    def _short(self, _: object, value: str) -> None:
        check_revision(value)

    @classmethod
    def of(cls, project: Project) -> "Issue":
        """Return the issue that a garden's documents carry: its date, or today, and its revision."""
        said = project.handover
        today = cls(revision=said.revision)
        return today if said.issued is None else attrs.evolve(today, date=said.issued)


@attrs.frozen(kw_only=True)
class Leaf:
    """One sheet of a set: its number and title, the scale's n of 1 : n (0 for none, ``at_scale`` says it where it is
    no usual one of plans), and what draws it inside the border.
    """

    number: str
    title: str
    size: SheetSize
    draw: Callable[[Pen], None]
    scale: float = 0.0
    at_scale: str = ""


def papers_of(project: Project) -> tuple[str, ...]:
    """Return the sheets usual where a garden lies, smallest first; by its units while its country is not known."""
    country = country_of(project.site.place.timezone)
    american = project.units == "imperial" if country is None else country in AMERICAN
    return AMERICAN_PAPERS if american else ISO_PAPERS


def fitted(
    draw: Callable[[float], Scene], project: Project, *, scale: float | None, paper: str
) -> tuple[Scene, SheetSize]:
    """Return a drawing at the largest usual scale (or the one asked for) with the smallest sheet that holds it.

    ``draw`` makes the scene at 1 : n. Raises GardenError for an unknown sheet or scale, or when nothing holds it.
    """
    if paper and paper not in PAPERS:
        raise GardenError(f'there is no sheet "{paper}"{nearest(paper, PAPERS)}; use one of {", ".join(PAPERS)}')
    if scale is not None and scale not in NAMED_SCALES:
        known = ", ".join(f"{n:g} ({words})" for n, words in NAMED_SCALES.items())
        raise GardenError(f"there is no sheet scale 1 : {scale:g}; use one of {known}")
    papers = (paper,) if paper else papers_of(project)
    for n in (scale,) if scale is not None else USUAL_SCALES[project.units]:
        scene = draw(n)
        for ground in (reach(scene), scene.bounds):  # rather with the crowns of old trees whole
            for size in (size for name in papers for size in ways(name)):
                if holds(size, scene, ground):
                    return scene, size
    wide, high = millimetres(scene, scene.bounds)
    raise GardenError(
        f"the plan at 1 : {scene.scale:g} is {wide:.0f} by {high:.0f} mm and does not fit on {' or '.join(papers)} "
        "beside its schedule; choose a larger sheet or a smaller scale"
    )


def ways(name: str) -> tuple[SheetSize, SheetSize]:
    """Return a sheet of PAPERS lying and standing."""
    long, short = PAPERS[name]
    return SheetSize(name=name, wide=long, high=short), SheetSize(name=name, wide=short, high=long)


def reach(scene: Scene) -> Bounds:
    """Return the ground that a drawing takes on paper: its own, and that of crowns which reach over its edge."""
    boxes = [scene.bounds]
    for mark in plain(scene.unnamed):
        if mark.layer == "canopy" and isinstance(mark, Area):
            boxes += [plane.bounds(plane.region(ring)) for ring in mark.rings]
    low_x, low_y, high_x, high_y = zip(*boxes, strict=True)
    return min(low_x), min(low_y), max(high_x), max(high_y)


def millimetres(scene: Scene, ground: Bounds | None = None) -> tuple[float, float]:
    """Return how wide and high a drawing is on paper, mm, with its crowns; or other ``ground`` at its scale."""
    low_x, low_y, high_x, high_y = reach(scene) if ground is None else ground
    return on_paper(high_x - low_x, scene.scale), on_paper(high_y - low_y, scene.scale)


def holds(size: SheetSize, scene: Scene, ground: Bounds | None = None) -> bool:
    """Return whether a sheet holds a drawing, or only some ``ground`` of it, beside its right column."""
    wide, high = millimetres(scene, ground)
    return wide <= size.wide - 3 * MARGIN - COLUMN and high <= size.high - 2 * MARGIN


def frame(size: SheetSize) -> Bounds:
    """Return the ground of a sheet that a drawing may fill: inside the border, left of the right column; mm."""
    return MARGIN, MARGIN, size.wide - MARGIN - COLUMN, size.high - MARGIN


def column(size: SheetSize) -> tuple[float, float, float, float]:
    """Return the right column above the title block, mm: left, low, right, top of what may be written."""
    right = size.wide - MARGIN
    return right - COLUMN + 3, MARGIN + BLOCK + 4, right - 3, size.high - MARGIN - 7


def centred(pen: Pen, scene: Scene, size: SheetSize, *, left: bool = False) -> None:
    """Draw a scene in the middle of its sheet's frame, or at its ``left``; crowns that find no room are cut there."""
    ground = whole if holds(size, scene, whole := reach(scene)) else scene.bounds
    wide, high = millimetres(scene, ground)
    low_x, low_y, high_x, high_y = frame(size)
    x = low_x + 2 if left else (low_x + high_x - wide) / 2
    before, above = scene.bounds[0] - ground[0], ground[3] - scene.bounds[3]
    top = (low_y + high_y + high) / 2 - on_paper(above, scene.scale)
    pen.scene(scene, left=x + on_paper(before, scene.scale), top=top, within=frame(size))


def measured_by(pen: Pen, size: SheetSize, *, units: System, scale: float) -> None:
    """Draw a scale bar at the foot of the right column: on sheets of several drawings at one scale."""
    x, low, right, _ = column(size)
    marks = scale_bar((0.0, 0.0), units=units, scale=scale, to_scale=False)
    bounds = (0.0, -on_ground(BAR_HIGH / 2, scale), on_ground(right - x, scale), on_ground(BAR_HIGH / 2, scale))
    bar = Scene(marks=marks, bounds=bounds, title="", description="", scale=scale, paper=None)
    pen.scene(bar, left=x, top=low + BAR_HIGH)


def border(pen: Pen, size: SheetSize) -> None:
    """Draw the sheet's border, and the lines of its right column and title block."""
    low, right, top = MARGIN, size.wide - MARGIN, size.high - MARGIN
    corners = [(low, low), (right, low), (right, top), (low, top)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        pen.rule(a, b, width_mm=0.5)
    edge = right - COLUMN
    pen.rule((edge, low), (edge, top), width_mm=0.3)
    pen.rule((edge, low + BLOCK), (right, low + BLOCK), width_mm=0.3)


def title_block(pen: Pen, project: Project, leaf: Leaf, issue: Issue) -> None:
    """Write the title block in the lower right corner: garden, drawing, number, for whom, scale, date, cautions."""
    x, y, wide = leaf.size.wide - MARGIN - COLUMN + 3, MARGIN + BLOCK - 7, COLUMN - 6
    pen.text((x, y), project.name, size_mm=5.0, bold=True, width=wide)
    pen.text((x, y - 6), leaf.title, size_mm=3.0, width=wide - 16)
    pen.text((x + wide, y - 6), leaf.number, size_mm=5.0, bold=True, anchor="end")
    office = ", ".join(part for part in (project.designer, project.handover.company) if part)
    rows = [("for", project.client), ("design", office), ("place", project.site.place.name)]
    if project.planting.plants:
        rows.append(("planting", str(project.planting.first_year)))
    rows.append(("date", f"{issue.date.isoformat()}, revision {issue.revision}"))
    y -= 12
    for word, said in rows:
        if said:
            pen.text((x, y), word, size_mm=LETTERS, colour=style.SOFT_INK)
            pen.text((x + 16, y), said, size_mm=LETTERS, width=wide - 16)
            y -= 4.0
    named = leaf.at_scale or NAMED_SCALES.get(leaf.scale, "")
    scale = f"scale {named}" if named else "not to scale"
    pen.text((x, MARGIN + 39.5), f"{scale}, on {leaf.size.name} paper", size_mm=3.2, bold=True, width=wide)
    notes = [
        "Print at 100 %, not fitted to the page. Check all dimensions on site.",
        f"Before building, {LOCAL_CODE}.",
        UTILITIES[0].upper() + UTILITIES[1:] + ".",
    ]
    if project.invented:
        notes.insert(0, "Invented demonstration garden: no such place, people or survey.")
    for number, line in enumerate(line for note in notes for line in textwrap.wrap(note, NOTE_LETTERS)):
        pen.text((x, MARGIN + 34.0 - 3.5 * number), line, size_mm=LETTERS, colour=style.SOFT_INK, width=wide)


def written(project: Project, leaves: Sequence[Leaf], issue: Issue, *, title: str) -> bytes:
    """Return sheets as one PDF; the same sheets with the same issue give the same bytes."""
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    embedded_letters()
    canvas = Canvas(out, invariant=True, lang="en", initialFontName=FACES[False, False])
    canvas.setTitle(f"{project.name}: {title}")
    canvas.setAuthor(project.designer)
    canvas.setSubject("; ".join(f"{leaf.number} {leaf.title}" for leaf in leaves)[:500])
    for leaf in leaves:
        canvas.setPageSize((leaf.size.wide * MM, leaf.size.high * MM))
        pen = Pen(canvas)
        leaf.draw(pen)
        border(pen, leaf.size)
        title_block(pen, project, leaf, issue)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def saved(content: bytes, target: Path) -> int:
    """Write a document in one piece; returns its size in bytes."""
    target.parent.mkdir(parents=True, exist_ok=True)
    replace_safely(target, content)
    return len(content)


def wrapped_note(pen: Pen, at: tuple[float, float], words: str, *, wide: float) -> float:
    """Write a note in lines of the smallest letters from ``at`` downwards; returns the y below it, mm."""
    x, y = at
    for line in wrapped(words, wide):
        pen.text((x, y), line, size_mm=LETTERS, colour=style.SOFT_INK, width=wide)
        y -= 3.6
    return y


def wrapped(words: str, wide: float) -> list[str]:
    """Return a note in the lines that so many mm hold in the smallest letters."""
    together = words.replace("' ", "'\N{NO-BREAK SPACE}")  # feet stay with their inches
    return textwrap.wrap(together, max(10, int(wide / (LETTERS * 0.56))))
