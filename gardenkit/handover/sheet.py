"""The plan as it grows, on paper, true to scale: title block, scale bar, north arrow, plant keys and schedule."""

from collections.abc import Sequence
from pathlib import Path

from gardenkit.drawing import style
from gardenkit.drawing.faded import of_its_area, shown_area
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover.paper import (
    LETTERS,
    Issue,
    Leaf,
    SheetSize,
    centred,
    column,
    fitted,
    saved,
    wrapped_note,
    written,
)
from gardenkit.handover.pdf import Pen
from gardenkit.project.season import early_summer
from gardenkit.schedules.plants import PlantLine

ROW, NOTE_HIGH = 7.8, 24.0  # mm: one line of the schedule; room for a note above it
NUMBER = "L5"
GROWN = (
    "As it will stand in the month and year of the title, each plant as wide as it has grown by then. A figure after a "
    "key says how many stand together, a key alone is one plant. The list counts every plant of the garden, also those "
    "that will have been taken out."
)


def write(
    garden: Garden,
    target: Path,
    *,
    scale: float | None = None,
    paper: str = "",
    year: int = 10,
    month: int | None = None,
    issue: Issue | None = None,
) -> int:
    """Write the to-scale plan of a garden as a PDF; returns its size in bytes. See ``sheet``."""
    return saved(sheet(garden, scale=scale, paper=paper, year=year, month=month, issue=issue), target)


def sheet(
    garden: Garden,
    *,
    scale: float | None = None,
    paper: str = "",
    year: int = 10,
    month: int | None = None,
    issue: Issue | None = None,
) -> bytes:
    """Return the plan as a PDF at 1 : ``scale`` (48, 96, 50 or 100; the largest that fits by default).

    ``paper`` names a sheet of PAPERS; without it the smallest that holds the plan is taken. Raises GardenError when the
    plan does not fit, naming what would. Without a ``month`` it is the garden's early summer.
    """
    pages = leaves(garden, scale=scale, paper=paper, year=year, month=month)
    return written(garden.project, pages, issue or Issue.of(garden.project), title=pages[0].title)


def leaves(
    garden: Garden, *, scale: float | None = None, paper: str = "", year: int = 10, month: int | None = None
) -> tuple[Leaf, ...]:
    """Return the sheets of the plan as it grows: the plan with its schedule, and what found no room beside it."""
    if not garden.project.site.boundary:
        raise GardenError("the sheet needs the boundary; draw or measure it first")
    month = month or early_summer(garden.project.site)
    title = f"{of_its_area(garden, 'Planting plan')} as grown, {MONTHS[month - 1]} of year {year}"

    def draw(n: float) -> Scene:
        scene = garden_scene(
            garden.project,
            garden.layout,
            garden.catalogue,
            year=year,
            month=month,
            scale=n,
            to_scale=True,
            title=title,
            lit=False,
        )
        return shown_area(garden, scene)

    scene, size = fitted(draw, garden.project, scale=scale, paper=paper)
    return with_schedule(garden.schedule, scene, size, number=NUMBER, title=title, note=GROWN)


def with_schedule(
    lines: Sequence[PlantLine], scene: Scene, size: SheetSize, *, number: str, title: str, note: str = ""
) -> tuple[Leaf, ...]:
    """Return a plan with its plant list in the right column, and further sheets for what found no room there.

    A ``note`` stands above the list on each.
    """
    x, low, right, top = column(size)
    room = max(1, int((top - low - 8 - NOTE_HIGH * bool(note)) / ROW))

    def listed(pen: Pen, part: Sequence[PlantLine]) -> None:
        below = wrapped_note(pen, (x, top), note, wide=right - x) - 4 if note else top
        _schedule(pen, part, size, below)

    def plan(pen: Pen) -> None:
        centred(pen, scene, size)
        listed(pen, lines[:room])

    def rest(start: int) -> Leaf:
        return Leaf(
            number=f"{number}.{1 + start // room}",
            title="Plant list, continued",
            size=size,
            draw=lambda pen: listed(pen, lines[start : start + room]),
        )

    first = Leaf(number=number, title=title, size=size, draw=plan, scale=scene.scale)
    return (first, *(rest(start) for start in range(room, len(lines), room)))


def _schedule(pen: Pen, lines: Sequence[PlantLine], size: SheetSize, y: float) -> None:
    """Write lines of the plant list down the right column from ``y`` mm."""
    x, _, right, _ = column(size)
    wide = right - x
    if not lines:
        return
    pen.text((x, y), "Plant list", size_mm=3.4, bold=True)
    y -= 5.5
    for head, place, anchor in (("key", 0.0, "start"), ("qty", 20.0, "end"), ("plant, size", 23.0, "start")):
        pen.text((x + place, y), head, size_mm=LETTERS, colour=style.SOFT_INK, anchor=anchor)
    pen.rule((x, y - 1.2), (right, y - 1.2), width_mm=0.18)
    y -= 4.6
    for line in lines:
        pen.text((x, y), line.key, size_mm=LETTERS, bold=True, width=13.0)
        pen.text((x + 20, y), f"{line.count}", size_mm=LETTERS, anchor="end")
        pen.text((x + 23, y), line.species.botanical, size_mm=LETTERS, italic=True, width=wide - 23)
        apart = f"{line.species.common}, {line.size}"
        pen.text((x + 23, y - 3.4), apart, size_mm=LETTERS, colour=style.SOFT_INK, width=wide - 23)
        y -= ROW
