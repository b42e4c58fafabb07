"""The back garden of ``test_whole_garden_live.py`` by script: the same places, wants and planting, no browser."""

from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import Any

import gardenkit as gk
from gardenkit.brief.wants import Want
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import workbook
from gardenkit.notebook.session import Session
from gardenkit.project.edits import brief, planting, site, structure
from gardenkit.project.step_free import step_free_ways
from gardenkit.site.survey_table import read_table
from gardenkit.structure.structure import HeldPoint
from gardenkit.units import FOOT, length

Feet = tuple[float, float]
SQUARED = (1.949, 9.388)  # m: where a right angle puts the last corner of the stone, clicked at 5.5' and 31'
DOOR, GATE = 3 * FOOT, 3.5 * FOOT  # m: what a door and a gate measure where nobody says, drawn by a click


def spot(feet: Feet) -> Point:
    """Return a clicked place: plan metres to the millimetre."""
    x, y = feet
    return round(x * FOOT, 3), round(y * FOOT, 3)


def typed(*metres: float) -> tuple[str, ...]:
    """Return lengths as a script types them."""
    return tuple(f"{one} m" for one in metres)


def measure(folder: Path, taped: tuple[str, str], falls: dict[Feet, str]) -> Garden:
    """Return a new garden with its boundary from tape readings, its house, door, gate and ground heights."""
    garden = gk.new(folder, name="Back garden")
    readings, order = taped
    survey = read_table(readings, system="imperial").survey
    garden = gk.edit(garden, "survey", lambda p: site.set_survey(p, survey))
    at = {point.name: point.at for point in garden.survey.adjusted.points}
    outline = plane.outline([at[name] for name in order.split()], where="the boundary")
    garden = gk.edit(garden, "boundary", lambda p: site.set_boundary(p, outline))
    (left, low), (right, high) = spot((8, 0)), spot((40, 6))
    garden = gk.house(garden, "house", typed(left, low), typed(right, high))
    middle = spot((24, 6))[0]
    garden = gk.opening(garden, "door", "door", typed(middle + DOOR / 2, high), typed(middle - DOOR / 2, high))
    middle = spot((0, 30))[1]
    garden = gk.opening(garden, "gate", "gate", typed(0.0, middle + GATE / 2), typed(0.0, middle - GATE / 2))
    for feet, height in falls.items():
        metres = length(height or "0", bare="ft", signed=True)
        garden = gk.edit(garden, "height", partial(site.add_height, at=spot(feet), height=metres))
    return garden


def build(garden: Garden, placed: dict[str, list[Feet]], fall: float) -> Garden:
    """Return the garden with everything that is set down, a terrace, its path and the way without steps."""
    for kind, places in placed.items():
        for feet in places:
            garden = gk.edit(garden, kind, partial(structure.add_thing, kind=kind, at=spot(feet)))
    line = (spot((20, 44)), spot((34, 44)))  # clicked a foot lower: the last click goes onto a right angle
    garden = gk.edit(garden, "hedge", lambda p: structure.add_along(p, "beech hedge", line))
    garden = gk.area(garden, "patio", "patio", typed(*spot((18, 6))), typed(*spot((32, 18))))
    garden = gk.path(garden, "path", start="gate", end="patio", held=(HeldPoint(at=spot((14, 27))),))
    stone = (*(spot(feet) for feet in ((5, 28), (7, 28), (8, 30))), SQUARED)
    garden = gk.edit(garden, "stone", lambda p: structure.add_cut_stone(p, stone))
    garden = gk.edit(garden, "level", lambda p: structure.add_level(p, of="patio", fall=fall))
    (way, *_) = step_free_ways(garden.project, "gate", "patio")
    (path,) = (one for one in way.project.structure.paths if one.name == way.name)
    return gk.edit(garden, "way", lambda p: structure.take_way(p, path))


def plant(garden: Garden, wants: Iterable[str], bed: str, moved: dict[int, Point]) -> None:
    """Give a garden its wants and one bed composed from the first palette that is proposed, some plants moved."""
    for want in wants:
        garden = gk.edit(garden, "want", lambda p, text=want: brief.add_want(p, Want(text=text)))
    session = Session(garden.folder)
    palette: Any = workbook.page(session, "palette")
    palette.propose()
    palette.accept()
    arranged: Any = workbook.page(session, "arrange")
    arranged.bed.bar.value = bed
    arranged.arrange()
    arranged.use(0)
    for number, (x, y) in moved.items():
        session.edit("move", lambda p, number=number, x=x, y=y: planting.move_plant(p, number, to=(x, y)))
