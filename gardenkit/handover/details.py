"""The sheet of sections and details: how each thing of this garden is built, cut through at a scale one can measure."""

from collections.abc import Iterator, Mapping

import attrs

from gardenkit.drawing.built_details import (
    head_cut,
    pond_cut,
    post_cut,
    raised_bed_cut,
    stepping_cut,
    steps_cut,
    surface_cut,
    wall_cut,
)
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.section_cut import Cut, cut_scene, finely, said
from gardenkit.findings import LOCAL_CODE, GardenError
from gardenkit.garden import Garden
from gardenkit.handover.listed import LINE
from gardenkit.handover.paper import (
    BAR_HIGH,
    Leaf,
    SheetSize,
    column,
    frame,
    measured_by,
    millimetres,
    wrapped,
    wrapped_note,
)
from gardenkit.handover.pdf import Pen
from gardenkit.structure.kinds import ground_kind, parts_list, surface_kind, thing_kind
from gardenkit.structure.kinds.bodies_of_use import BOARD
from gardenkit.structure.kinds.frames import OVERHANG, RAFTER_SPACING
from gardenkit.structure.kinds.ground_areas import SHELF_DEEP, SHELF_WIDE
from gardenkit.structure.kinds.support_parts import Part, PostChoice, post_of, posts_of
from gardenkit.structure.pond import OVERLAP
from gardenkit.structure.steps import Steps
from gardenkit.structure.structure import StoneChoice, Support
from gardenkit.structure.walls import SEGMENTAL_ENGINEER
from gardenkit.units import System, as_built

TITLE = "Sections and details"
SCALES: Mapping[System, tuple[tuple[float, str], ...]] = {  # the largest taken at which every detail fits its sheet
    "imperial": ((12.0, '1" = 1\'-0"'), (16.0, '3/4" = 1\'-0"'), (24.0, '1/2" = 1\'-0"'), (48.0, '1/4" = 1\'-0"')),
    "metric": ((10.0, "1 : 10"), (20.0, "1 : 20"), (25.0, "1 : 25"), (50.0, "1 : 50")),
}
GAP, HEAD = 9.0, 8.0  # mm between two details, and for the title over one. House values.
LISTED = 8.0  # mm for the heading of what is built where
BELOW_TOP = 0.05  # m that the soil of a raised bed stays below its top, as it is drawn everywhere
NOTES = (
    "Depths are those the quantities are counted by. Where ground is soft, wet or freezes deep, ask for more. Posts, "
    "steps, walls that hold ground and whatever carries people are for a builder or engineer to size; "
    f"{LOCAL_CODE}. Cut stone wet, with eye, ear and breathing protection."
)


@attrs.frozen(kw_only=True)
class Detail:
    """One detail: what it is, where in the garden it is built, and its cut."""

    title: str
    where: tuple[str, ...]
    scene: Scene


def details(garden: Garden, scale: float) -> tuple[Detail, ...]:
    """Return the details that a garden is built by at 1 : ``scale``, alike ones once with every place they are for."""
    found: dict[str, tuple[Cut, list[str]]] = {}
    for title, where, cut in (*_paths(garden, scale), *_standing(garden, scale), *_walls(garden, scale)):
        found.setdefault(title, (cut, []))[1].append(where)
    return tuple(
        Detail(title=title, where=tuple(dict.fromkeys(where)), scene=cut_scene(cut, title=title, scale=scale))
        for title, (cut, where) in found.items()
    )


def leaves(garden: Garden, size: SheetSize, *, number: str) -> tuple[Leaf, ...]:
    """Return the sheets of details on one size of paper, as many as they take; none where nothing is built."""
    last, name = SCALES[garden.units][-1]
    scale, at_scale, found = next(
        ((n, words, found) for n, words in SCALES[garden.units] if _fit(found := details(garden, n), size)),
        (last, name, details(garden, last)),
    )
    cells = _placed(found, size)
    pages = sorted({page for page, *_ in cells})

    def draw(pen: Pen, page: int) -> None:
        _draw(pen, [cell for cell in cells if cell[0] == page], size)
        measured_by(pen, size, units=garden.units, scale=scale)

    def leaf(page: int) -> Leaf:
        return Leaf(
            number=number if page == 0 else f"{number}.{page + 1}",
            title=TITLE,
            size=size,
            draw=lambda pen: draw(pen, page),
            at_scale=at_scale,
        )

    return tuple(leaf(page) for page in pages)


# ---- which details there are


def _paths(garden: Garden, scale: float) -> Iterator[tuple[str, str, Cut]]:
    units = garden.units
    for path in garden.project.structure.paths:
        laid = garden.layout.layings.get(path.name)
        if laid is None:
            continue
        thick = path.stones.thickness
        if surface_kind(path.surface).stone == "single" and laid.stones:
            along = sorted(stone.along for stone in laid.stones)[len(laid.stones) // 2]
            gap = (path.stones.gap_low + path.stones.gap_high) / 2
            cut = stepping_cut(along=along, gap=gap, thickness=thick, units=units, scale=scale)
            yield f"{path.surface} of {path.name}", path.name, cut
        elif surface_kind(path.surface).stone != "single":
            cut = surface_cut(path.surface, width=path.width, thickness=thick, units=units, scale=scale)
            yield f"{path.surface} path", path.name, cut
        for flight in garden.layout.flights.get(path.name, ()):
            if flight.steps is not None:
                title = _steps_title(flight.steps, units)
                yield title, f"{path.name}, flight {flight.number}", steps_cut(flight.steps, units=units, scale=scale)
    for ground_area in garden.project.structure.ground_areas:
        kind = ground_kind(ground_area.kind)
        if kind.built_as:
            thick = StoneChoice().thickness
            cut = surface_cut(kind.built_as, width=9.0, thickness=thick, units=units, scale=scale)
            title = ground_area.kind if ground_area.kind == kind.built_as else f"{ground_area.kind}, {kind.built_as}"
            yield title, ground_area.name, cut
        if kind.water:
            yield (
                "pond edge",
                ground_area.name,
                pond_cut(
                    deep=ground_area.depth or float(kind.deep or 0.0),
                    shelf=min(as_built(SHELF_DEEP, units), (ground_area.depth or float(kind.deep or 0.0)) / 2),
                    shelf_wide=as_built(SHELF_WIDE, units),
                    overlap=as_built(OVERLAP, units),
                    units=units,
                    scale=scale,
                ),
            )


def _standing(garden: Garden, scale: float) -> Iterator[tuple[str, str, Cut]]:
    structure, units = garden.project.structure, garden.units
    choice = posts_of(structure, units)
    for support in structure.supports:
        try:
            parts = {part.name: part for part in parts_list(support, posts=choice)}
        except GardenError:  # said in 04_structure
            continue
        if "post" in parts:
            cut = post_cut(post_of(support, choice), choice, units=units, scale=scale)
            tall = said(support.height, units)
            yield f"post for {tall} above ground", support.name, cut
        yield from _head(support, parts, choice, scale)
    for thing in structure.things:
        climbs = thing_kind(thing.kind).steps
        if climbs is not None and (made := climbs(thing)).treads:
            yield _steps_title(made, units), thing.name, steps_cut(made, units=units, scale=scale)
        if thing_kind(thing.kind).name == "raised bed":
            filled = max(0.02, thing.height - BELOW_TOP)
            cut = raised_bed_cut(
                width=min(thing.width, thing.depth),
                height=thing.height,
                wall=as_built(BOARD, units),
                soil_deep=filled,
                units=units,
                scale=scale,
            )
            yield f"raised bed {thing.name}", thing.name, cut


def _steps_title(steps: Steps, units: System) -> str:
    return f"steps, {steps.risers} risers of {finely(steps.riser, units)}"


def _head(
    support: Support, parts: Mapping[str, Part], choice: PostChoice, scale: float
) -> Iterator[tuple[str, str, Cut]]:
    """Yield the cut through the beams and rafters of a frame overhead; none where the table does not size them."""
    beam, rafter = (part.size if (part := parts.get(name)) else None for name in ("beam board", "rafter"))
    if beam is None or rafter is None:
        return
    over, every, units = choice.built(OVERHANG), choice.built(RAFTER_SPACING), choice.units
    cut = head_cut(across=choice.across, beam=beam, rafter=rafter, over=over, every=every, units=units, scale=scale)
    yield f"beams {beam.said(units)}, rafters {rafter.said(units)}", support.name, cut


def _walls(garden: Garden, scale: float) -> Iterator[tuple[str, str, Cut]]:
    """Yield each wall that holds the new ground, cut where it shows most."""
    walls = garden.earth.walls if garden.earth is not None else ()
    for name in dict.fromkeys(wall.name for wall in walls):
        highest = max(wall.highest for wall in walls if wall.name == name)
        tall = said(highest, garden.units)
        engineer = ", for an engineer" if highest > SEGMENTAL_ENGINEER else ""
        yield f"wall showing {tall}{engineer}", name, wall_cut(highest, units=garden.units, scale=scale)


# ---- on paper

Cell = tuple[int, float, float, int, Detail]  # page, left and top in mm, number, what


def _fit(found: tuple[Detail, ...], size: SheetSize) -> bool:
    """Return whether every detail has room on a sheet of its own."""
    low_x, low_y, high_x, high_y = frame(size)
    room = high_x - low_x - 4, high_y - low_y - 4 - HEAD
    return all(wide <= room[0] and high <= room[1] for wide, high in (millimetres(one.scene) for one in found))


def _placed(found: tuple[Detail, ...], size: SheetSize) -> list[Cell]:
    """Return where each detail goes: from the left, row under row, then on the next sheet, which also begins where the
    right column has no room to say what else is built where.
    """
    low_x, low_y, high_x, high_y = frame(size)
    left, low, right, y = column(size)
    room = listing = y - low - LINE * len(wrapped(NOTES, right - left)) - LISTED - BAR_HIGH
    cells: list[Cell] = []
    page, x, top, row = 0, low_x + 4, high_y - 4, 0.0
    for number, detail in enumerate(found, 1):
        wide, high = millimetres(detail.scene)
        if x + wide > high_x and x > low_x + 4:
            x, top, row = low_x + 4, top - row - GAP, 0.0
        listing -= LINE * len(wrapped(_listed(number, detail), right - left)) + 1.5
        if cells and ((top - high - HEAD < low_y and top < high_y - 4) or listing < 0):
            page, x, top, row = page + 1, low_x + 4, high_y - 4, 0.0
            listing = room - LINE * len(wrapped(_listed(number, detail), right - left)) - 1.5
        cells.append((page, x, top, number, detail))
        x, row = x + wide + GAP, max(row, high + HEAD)
    return cells


def _draw(pen: Pen, cells: list[Cell], size: SheetSize) -> None:
    x, _, right, y = column(size)
    y = wrapped_note(pen, (x, y), NOTES, wide=right - x) - 3
    pen.text((x, y), "Where each is built", size_mm=3.4, bold=True)
    y -= 4
    for _, left, top, number, detail in cells:
        pen.text((left, top - 4), f"{number}  {detail.title}", size_mm=3.4, bold=True)
        pen.scene(detail.scene, left=left, top=top - HEAD)
        y = wrapped_note(pen, (x, y - 1.5), _listed(number, detail), wide=right - x)


def _listed(number: int, detail: Detail) -> str:
    return f"{number}  {detail.title}: {', '.join(detail.where)}"
