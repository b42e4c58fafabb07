"""The sheets that show the garden from the side: across it in two years, and every support as it is built."""

from collections.abc import Sequence

from gardenkit.drawing.built_sides import support_scene
from gardenkit.drawing.drawing_set import LOOKED
from gardenkit.drawing.from_the_side import first_line, side_scene
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.painted_view import Moment, prospect
from gardenkit.drawing.scene import Scene, on_ground
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry.plane import Line, Point
from gardenkit.handover.paper import Leaf, SheetSize, column, frame, measured_by, millimetres, wrapped_note
from gardenkit.handover.pdf import Pen
from gardenkit.project.season import early_summer
from gardenkit.units import show_length

TITLE = "Elevations"
DEPTH = 6.0  # m that are seen beyond the line. House value.
YEARS = (5, 15)  # that the garden is shown from the side in. House value.
EDGE, GAP = 3.0, 6.0  # mm from the border, and between two drawings. House values.
ACROSS = (
    "Across the garden: what stands at the line {name} to {name} of L3 and up to {depth} beyond it, looked at the way "
    "its arrows point, plants as they are in the year named, on the ground as it will be, which is cut at the line. "
    "What is built further off stands behind, pale. Heights are above the levels' zero. Letters below are keys of the "
    "plant list beside L4."
)
SUPPORTS = "Supports: square on, as long as their line; their parts and posts are on L3 and in the details."

Ends = tuple[Point, Point]
Cell = tuple[int, float, float, Scene]  # page, left and top in mm, what


def leaves(garden: Garden, size: SheetSize, scale: float, number: str) -> tuple[Leaf, ...]:
    """Return the sheets of elevations, as many as they take; none where nothing is planted and no support stands."""
    across = _across(garden, size, scale)
    supports = [support_scene(one, units=garden.units, scale=scale) for one in garden.project.structure.supports]
    cells = _placed([*across, *supports], size)
    told = [ACROSS.format(name=LOOKED, depth=show_length(DEPTH, garden.units))] if across else []
    told += [SUPPORTS] if supports else []

    def draw(pen: Pen, page: int) -> None:
        for on, left, top, scene in cells:
            if on == page:
                pen.scene(scene, left=left, top=top, within=frame(size))
        x, _, right, y = column(size)
        for note in told:
            y = wrapped_note(pen, (x, y), note, wide=right - x) - 2
        measured_by(pen, size, units=garden.units, scale=scale)

    return tuple(
        Leaf(
            number=number if page == 0 else f"{number}.{page + 1}",
            title=TITLE,
            size=size,
            draw=lambda pen, page=page: draw(pen, page),  # type: ignore[misc]
            scale=scale,
        )
        for page in sorted({page for page, *_ in cells})
    )


def line_on_plan(garden: Garden) -> Line:
    """Return the line that the garden is looked at from the side; empty where nothing is planted."""
    if not garden.project.planting.plants or not garden.project.site.boundary:
        return ()
    return first_line(garden.project.site)


def _across(garden: Garden, size: SheetSize, scale: float) -> list[Scene]:
    line, month = line_on_plan(garden), early_summer(garden.project.site)
    if not line:
        return []
    left, _, right, _ = frame(size)
    room = right - left - 2 * EDGE
    found: list[Scene] = []
    for year in YEARS:
        title = f"{LOOKED} to {LOOKED}, {MONTHS[month - 1]}, year {year}"
        try:
            found.append(_fitting(garden, (line[0], line[-1]), room, scale, year=year, month=month, title=title))
        except GardenError:  # a line that meets no ground
            return []
    return found


def _fitting(garden: Garden, ends: Ends, room: float, scale: float, *, year: int, month: int, title: str) -> Scene:
    """Return the garden from the side: beside a person where ``room`` mm hold both, else less of what is beyond the
    boundary.
    """

    def seen(line: Ends, *, person: bool) -> Scene:
        return side_scene(
            prospect(garden),
            Moment(year=year, month=month),
            line=line,
            depth=DEPTH,
            title=title,
            scale=scale,
            person=person,
        )

    for person in (True, False):
        scene = seen(ends, person=person)
        over = on_ground(millimetres(scene)[0] - room, scale)
        if over <= 0:
            return scene
    (ax, ay), (bx, by) = ends
    return seen(((ax + over / 2, ay), (bx - over / 2, by)), person=False)


def _placed(scenes: Sequence[Scene], size: SheetSize) -> list[Cell]:
    """Return where each drawing goes: from the left, row under row, then on the next sheet."""
    left, low, right, high = frame(size)
    page, x, top, row = 0, left + EDGE, high - EDGE, 0.0
    cells: list[Cell] = []
    for scene in scenes:
        wide, tall = millimetres(scene)
        if x + wide > right - EDGE and x > left + EDGE:
            x, top, row = left + EDGE, top - row - GAP, 0.0
        if top - tall < low + EDGE and top < high - EDGE:
            page, x, top, row = page + 1, left + EDGE, high - EDGE, 0.0
        cells.append((page, x, top, scene))
        x, row = x + wide + GAP, max(row, tall)
    return cells
