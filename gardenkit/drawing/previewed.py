"""What an edit would change, laid over the plan as it stands: shown before a remedy is taken."""

import math
from collections.abc import Iterable

from gardenkit.drawing.plan_ground import region_rings
from gardenkit.drawing.scene import Area, Disc, Mark, Stroke, on_ground
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.structure.flights import riser_ends

INK, WIDTH_MM, DASH = "#1d5f8a", 0.5, (1.4, 0.8)  # blue: neither a plant's nor a warning's. House values.
SIZE_MM = 1.6  # half of a cross, radius of a ring. House value.
SAME_GROUND = 1e-3  # m2 by which two outlines may differ and still be one; numerical choice


def preview_marks(before: Project, after: Project, *, scale: float) -> tuple[Mark, ...]:
    """Return an arrow for every plant that would move, a cross for one that would go, a ring for one that would come or
    be another kind, the dashed edge of every path and area that would change, and the risers of new steps.
    """
    size = on_ground(SIZE_MM, scale)
    marks: list[Mark] = [
        Area(rings=region_rings(region), stroke=INK, width_mm=WIDTH_MM, dash=DASH, layer="overlay", tip=name)
        for name, region in _new_ground(before, after)
    ]
    marks += _risers(before, after)
    old = {plant.number: plant for plant in before.planting.plants}
    new = {plant.number: plant for plant in after.planting.plants}
    for number in sorted({*old, *new}):
        marks += _of_plant(old.get(number), new.get(number), size)
    return tuple(marks)


# ---- helpers


def _of_plant(old: Plant | None, new: Plant | None, size: float) -> list[Mark]:
    if new is None:
        return _cross(old.at, size, f"take out {old.species}") if old is not None else []
    if old is None:
        return [_ring(new.at, size, f"plant {new.species}")]
    marks: list[Mark] = []
    if old.at != new.at:
        marks += [*_arrow(old.at, new.at, size, f"move {new.species}"), _ring(new.at, size, f"move {new.species}")]
    if old.species != new.species:
        marks.append(_ring(new.at, size, f"{new.species} in place of {old.species}"))
    return marks


def _new_ground(before: Project, after: Project) -> Iterable[tuple[str, Region]]:
    """Yield what would have another outline, by name."""
    was, will = _ground(before), _ground(after)
    for name, region in will.items():
        known = was.get(name)
        if (
            known is None
            or max(plane.area(plane.difference(*p)) for p in ((region, known), (known, region))) > SAME_GROUND
        ):
            yield name, region


def _ground(project: Project) -> dict[str, Region]:
    if not project.site.boundary:
        return {}
    worked = layout(project)
    found = {f'path "{name}"': route.region for name, route in worked.routes.items()}
    return found | {f'{p.kind} "{p.name}"': plane.region(p.outline) for p in project.structure.ground_areas}


def _risers(before: Project, after: Project) -> Iterable[Mark]:
    """Yield the risers of every flight of steps that is not there yet."""
    if not after.site.boundary:
        return
    was, worked = {p.name: p.flights for p in before.structure.paths}, layout(after)
    for name, flights in worked.flights.items():
        for one in flights:
            if one.flight not in was.get(name, ()):
                for line in riser_ends(one, worked.routes[name]):
                    yield Stroke(points=line, colour=INK, width_mm=WIDTH_MM, layer="overlay", tip=f'steps in "{name}"')


def _ring(at: Point, size: float, tip: str) -> Disc:
    return Disc(at=at, radius=size, stroke=INK, width_mm=WIDTH_MM, layer="overlay", tip=tip)


def _cross(at: Point, size: float, tip: str) -> list[Mark]:
    (x, y), s = at, size
    lines = (((x - s, y - s), (x + s, y + s)), ((x - s, y + s), (x + s, y - s)))
    return [Stroke(points=line, colour=INK, width_mm=WIDTH_MM, layer="overlay", tip=tip) for line in lines]


def _arrow(start: Point, end: Point, size: float, tip: str) -> list[Mark]:
    turn = math.atan2(end[1] - start[1], end[0] - start[0])
    barbs = tuple((end[0] - size * math.cos(turn + by), end[1] - size * math.sin(turn + by)) for by in (-0.5, 0.5))
    lines = ((start, end), (barbs[0], end, barbs[1]))
    return [Stroke(points=line, colour=INK, width_mm=WIDTH_MM, layer="overlay", tip=tip) for line in lines]
