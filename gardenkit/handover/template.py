"""Full-size cutting templates: the outline of a stone over ordinary sheets, with overlap and register marks to join."""

import io
import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path

import attrs

from gardenkit.drawing import style
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point
from gardenkit.handover.paper import PAPERS, Issue, papers_of, saved
from gardenkit.handover.pdf import FACES, MM, Pen, embedded_letters
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.laying import cutting_caution
from gardenkit.units import show_weight

EDGE = Figure(12.0, "mm", f"printers leave the edge of a sheet white; {HOUSE}")
OVERLAP = Figure(15.0, "mm", f"glued over each other so far; {HOUSE}")
HEAD = 14.0  # mm at the top of each sheet for its words
CROSS = 4.0  # mm: half a register mark
CHECK = 100.0  # mm: the bar that is measured before cutting


@attrs.frozen(kw_only=True)
class Tile:
    """One sheet: its column and row (0 first, from the lower left) and where its lower left of paper lies on the stone,
    mm.
    """

    column: int
    row: int
    left: float
    low: float


def write(garden: Garden, target: Path, *, issue: Issue) -> int:
    """Write the templates of all stones cut to an outline; returns the size. Raises GardenError where there is none."""
    return saved(templates(garden, issue), target)


def templates(garden: Garden, issue: Issue) -> bytes:
    """Return the templates as one PDF, a stone after the other. Raises GardenError where no stone is cut to one."""
    stones = list(_stones(garden))
    if not stones:
        raise GardenError("no stone has an outline of its own; draw one over a path first")
    return _book(garden, stones, issue)


def stone_template(garden: Garden, path: str, number: int, issue: Issue) -> bytes:
    """Return the template of any one stone of a path as a PDF; ``number`` counts from 1, as the plan does. Raises
    GardenError for a stone that is not there.
    """
    laid = garden.layout.layings.get(path)
    found = {stone.number + 1: stone for stone in laid.stones} if laid is not None else {}
    if number not in found:
        there = f"it has stones 1 to {max(found)}" if found else "no stones lie in it"
        raise GardenError(f'there is no stone {number} in path "{path}"; {there}')
    stone = found[number]
    words = f"in {path}, about {show_weight(stone.weight, garden.units)}"
    return _book(garden, [(f"stone {number}", stone.outline, words)], issue)


def write_stone(garden: Garden, path: str, number: int) -> Path:
    """Write the template of any one stone of a path into the garden's folder; returns where it is."""
    target = garden.folder / f"stone_{number}_template.pdf"
    saved(stone_template(garden, path, number, Issue.of(garden.project)), target)
    return target


def sheet_of(garden: Garden) -> tuple[float, float]:
    """Return the width and height of an ordinary sheet where the garden lies, standing, mm."""
    long, short = PAPERS[papers_of(garden.project)[0]]
    return short, long


def millimetres(outline: Outline) -> list[tuple[float, float]]:
    """Return an outline in mm from the lower left corner of the box round it."""
    left, low = min(x for x, _ in outline), min(y for _, y in outline)
    return [(1000 * (x - left), 1000 * (y - low)) for x, y in outline]


def tiles_of(outline: Outline, wide: float, high: float) -> tuple[Tile, ...]:
    """Return the sheets that a stone's outline runs over, each lying over the one before by ``OVERLAP``."""
    points = millimetres(outline)
    inner = (wide - 2 * EDGE, high - 2 * EDGE - HEAD)
    steps = [side - OVERLAP for side in inner]
    across, up = (max(1, math.ceil((max(p[k] for p in points) - OVERLAP) / steps[k] - 1e-9)) for k in (0, 1))
    every = (Tile(column=i, row=j, left=i * steps[0], low=j * steps[1]) for j in range(up) for i in range(across))
    return tuple(tile for tile in every if _pieces(points, tile, inner))


# ---- helpers


def _book(garden: Garden, stones: Sequence[tuple[str, Outline, str]], issue: Issue) -> bytes:
    """Return the sheets of some stones, each with its name, outline and words, as one PDF."""
    from reportlab.pdfgen.canvas import Canvas

    wide, high = sheet_of(garden)
    out = io.BytesIO()
    embedded_letters()
    canvas = Canvas(out, invariant=True, lang="en", initialFontName=FACES[False, False])
    canvas.setTitle(f"{garden.project.name}: cutting templates, full size")
    for name, outline, words in stones:
        tiles = tiles_of(outline, wide, high)
        for tile in tiles:
            canvas.setPageSize((wide * MM, high * MM))
            _sheet(Pen(canvas), garden, outline, tile, tiles, (wide, high), f"{name}: {words}", issue)
            canvas.showPage()
    canvas.save()
    return out.getvalue()


def _stones(garden: Garden) -> Iterator[tuple[str, Outline, str]]:
    for path in garden.project.structure.paths:
        laid = garden.layout.layings.get(path.name)
        for number, one in enumerate(path.cut_stones):
            if laid is None or not laid.stones:
                continue
            weight = laid.stones[len(laid.stones) - len(path.cut_stones) + number].weight
            yield one.name, one.outline, f"in {path.name}, about {show_weight(weight, garden.units)}"


def _sheet(
    pen: Pen,
    garden: Garden,
    outline: Outline,
    tile: Tile,
    tiles: tuple[Tile, ...],
    size: tuple[float, float],
    words: str,
    issue: Issue,
) -> None:
    wide, high = size
    inner = (float(EDGE), float(EDGE), wide - EDGE, high - EDGE - HEAD)
    _outline(pen, outline, tile, inner)
    for x in (inner[0] + OVERLAP / 2, inner[2] - OVERLAP / 2):
        for y in (inner[1] + OVERLAP / 2, inner[3] - OVERLAP / 2):
            pen.rule((x - CROSS, y), (x + CROSS, y), width_mm=0.15)
            pen.rule((x, y - CROSS), (x, y + CROSS), width_mm=0.15)
    most = max(t.column for t in tiles) + 1, max(t.row for t in tiles) + 1
    place = f"sheet {tile.column + 1} of {most[0]} across, {tile.row + 1} of {most[1]} up"
    room = wide - 2 * EDGE
    pen.text((EDGE, high - EDGE - 3), f"{words}; {place}", size_mm=3.0, bold=True, width=room)
    said = f"full size: print at 100 %, the bar is 100 mm; lay crosses over crosses; {issue.date}, {issue.revision}"
    pen.text((EDGE, high - EDGE - 7), said, size_mm=2.5, colour=style.SOFT_INK, width=room)
    caution = garden.say(cutting_caution("stone").what)
    pen.text((EDGE, high - EDGE - 10.5), caution, size_mm=2.5, colour=style.SOFT_INK, width=room)
    bar = high - EDGE - HEAD + 1.0
    pen.rule((EDGE, bar), (EDGE + CHECK, bar), width_mm=0.4)
    for x in (EDGE, EDGE + CHECK):
        pen.rule((x, bar - 1), (x, bar + 1), width_mm=0.2)


def _outline(pen: Pen, outline: Outline, tile: Tile, inner: tuple[float, float, float, float]) -> None:
    """Draw the part of the outline that lies on a sheet, at full size, cut off at its printed edge."""
    left, low, right, high = inner
    for line in _pieces(millimetres(outline), tile, (right - left, high - low)):
        for (ax, ay), (bx, by) in pairwise(line):
            pen.rule((left + ax, low + ay), (left + bx, low + by), width_mm=0.35)


def _pieces(points: Sequence[Point], tile: Tile, inner: tuple[float, float]) -> tuple[Line, ...]:
    """Return the pieces of a closed outline on a sheet, mm from the lower left of what is printed on it."""
    moved = [(x - tile.left, y - tile.low) for x, y in points]
    frame = plane.region(((0.0, 0.0), (inner[0], 0.0), inner, (0.0, inner[1])))
    return plane.lines_within(plane.line([*moved, moved[0]]), frame)
