"""What the page of beds shows: the measures of beds and areas as tables, handles to drag, marks on the plan."""

import math

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.scene import Disc, Label, Mark, Stroke
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line
from gardenkit.notebook import controls
from gardenkit.notebook.grips import grips
from gardenkit.project import Project
from gardenkit.project.bed_measures import (
    AreaMeasures,
    BedMeasures,
    area_measures,
    bed_measures,
    narrow_places,
    tree_rooms,
)
from gardenkit.project.edits.records import by_name
from gardenkit.project.edits.shaped import line_of, rectangle_of
from gardenkit.project.edits.structure.areas import MOST_CORNERS
from gardenkit.project.sunlight import SunMap
from gardenkit.structure.beds import BedShape
from gardenkit.structure.patio import ROUND_TABLE, area_for_people
from gardenkit.units import System, show_area, show_length

TOPICS = ("bed", "crops", "reach", "patio")  # the share of advice that belongs to beds and areas
DRAGS = ("corners of the bed", "paved or lawn area", "dividing lines")
ROOM_BETWEEN = 0.6  # m: a shorter side has no handle to add a corner. House value.


def tables(garden: Garden, sun: SunMap | None) -> str:
    """Return the measures of every bed, and of every paved or lawn area."""
    units = garden.units
    season = "April to September" if garden.project.site.place.latitude >= 0 else "October to March"
    of_beds = ("bed", "area", "perimeter", "edging", "bed depth", "reach from path", "slope")
    rows = [_bed_row(m, units) for m in bed_measures(garden.project, garden.layout, sun=sun)]
    beds = controls.table_html((*of_beds, f"sun, {season}", "soil", "room for"), rows)
    ground_areas = [
        (
            m.name,
            m.kind,
            show_area(m.area, units),
            show_length(m.perimeter, units),
            "" if m.people is None else f"about {m.people}",
            "" if m.people is None else _table_on(m, units),
        )
        for m in area_measures(garden.project, garden.layout)
    ]
    each = show_area(area_for_people(1), units)
    of_areas = ("paved or lawn area", "", "area", "perimeter", f"people at {each} each", "round table")
    ground = controls.table_html(of_areas, ground_areas)
    return beds + (f'<div style="height:10px"></div>{ground}' if ground_areas else "")


def _table_on(floor: AreaMeasures, units: System) -> str:
    if floor.table is None:
        return "no room to walk round one"
    across, seats = floor.table
    return f"up to {show_length(across, units)} across, {seats} seats, {show_length(ROUND_TABLE, units)} clear round it"


def _bed_row(m: BedMeasures, units: System) -> tuple[str, ...]:
    bed = m.bed
    return (
        bed.name,
        show_area(bed.area, units),
        show_length(bed.perimeter, units),
        show_length(bed.edging, units),
        show_length(bed.depth, units),
        show_length(m.reach, units) if m.reach is not None else "nowhere to stand",
        f"{m.slope.percent:.1f} %" if m.slope else "not measured",
        f"{m.sun[0]:.1f} to {m.sun[1]:.1f} h" if m.sun else "not worked out",
        m.soil,
        f"a crown {show_length(m.crown, units)} across" if m.crown is not None else "shrubs",
    )


def handles(
    project: Project, cut: Line, *, bed: str, area: str, dragging: str, square: bool = False
) -> tuple[Handle, ...]:
    """Return what can be taken hold of: the line of a split, and what was chosen to be dragged; ``square``: the corners
    of a rectangle keep their right angles.
    """
    structure = project.structure
    found = [Handle(id=f"line:{i}", kind="path", at=p, tip="end of the line to split along") for i, p in enumerate(cut)]
    if dragging == DRAGS[1] and area:
        found += _area_handles(project, area, square=square)
    elif dragging == DRAGS[2]:
        found += [
            Handle(id=f"cut:{n}:{i}", kind="path", at=p, tip="dividing line")
            for n, line in enumerate(structure.cuts)
            for i, p in enumerate(line)
        ]
    elif bed and not cut:
        found += _corner_handles(project, bed, square=square)
    return tuple(found)


def _area_handles(project: Project, name: str, *, square: bool) -> list[Handle]:
    area = by_name(project.structure.ground_areas, name, "paved or lawn area")
    centre = plane.centre(plane.region(area.outline))
    found = [Handle(id="whole:", kind="seat", at=centre, tip=f"move {area.name}")]
    kept = square and rectangle_of(project, "area", name) is not None
    if len(area.outline) <= MOST_CORNERS and not kept:
        found += [Handle(id=f"ground_area:{i}", kind="path", at=p, tip="corner") for i, p in enumerate(area.outline)]
    return [*found, *grips(project, "area", name, sized=kept)]


def _corner_handles(project: Project, name: str, *, square: bool) -> list[Handle]:
    outline = line_of(project, "bed", name)
    if not outline:
        return []
    kept = square and rectangle_of(project, "bed", name) is not None
    whole = () if kept else enumerate(outline)
    found = [Handle(id=f"corner:{i}", kind="path", at=p, tip="corner") for i, p in whole]
    found += grips(project, "bed", name, sized=kept)
    for i, a in enumerate(outline):
        b = outline[(i + 1) % len(outline)]
        if math.dist(a, b) > ROOM_BETWEEN:
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            found.append(Handle(id=f"between:{i}", kind="stone", at=middle, tip="drag to add a corner"))
    return found


def marks(garden: Garden, cut: Line, *, bed: str, rounds: bool, narrow: bool) -> tuple[Mark, ...]:
    """Return the chosen bed outlined, room for crowns, narrow places, and the line to split along."""
    found: list[Mark] = []
    if cut:
        found.append(Stroke(points=cut, colour="#9a2f14", width_mm=0.5, dash=(2.0, 1.0), layer="overlay"))
    for shape in garden.beds:
        if shape.name == bed:
            found += [
                Stroke(points=(*ring, ring[0]), colour="#b5521b", width_mm=0.6, layer="overlay", tip=shape.name)
                for ring in plane.rings(shape.region)
            ]
        found += _crowns(shape, garden.units) if rounds else []
        found += [
            Disc(at=at, radius=0.05, fill="#6a3d7c", layer="overlay", tip="narrow: upright growers only")
            for at in (narrow_places(shape) if narrow else ())
        ]
    return tuple(found)


def _crowns(bed: BedShape, units: System) -> list[Mark]:
    """Return the largest space for a tree crown of a bed and every other that a small tree's crown fits in."""
    found: list[Mark] = []
    rooms, green = tree_rooms(bed), "#2f6b3a"
    for circle in rooms or bed.pockets[:1]:
        across, at = show_length(2 * circle.radius, units), circle.at
        tip = f"room for a crown {across} across"
        found.append(Disc(at=at, radius=circle.radius, fill=green, stroke=green, alpha=0.12, layer="planting", tip=tip))
        if rooms:
            below = (at[0], at[1] - 0.5 * circle.radius)
            found.append(Label(at=below, text=across, size_mm=2.0, colour="#24512c", layer="overlay"))
    return found
