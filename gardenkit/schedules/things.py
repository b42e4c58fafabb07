"""What placed things take, piece by piece, with what each weighs empty and full, and the base that some stand on."""

from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.schedules.dug_out import dug_lines
from gardenkit.schedules.lines import Line
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import ground_kind, surface_kind, thing_kind
from gardenkit.structure.kinds.surfaces import COMPACTING, overdig
from gardenkit.structure.structure import GroundArea, Thing
from gardenkit.structure.things import ground_of_thing
from gardenkit.units import System, as_built, in_both, show_weight

ON_A_BASE = Figure(0.9, "share", f"of its ground that lies on paving or a base: no other is laid below it; {HOUSE}")


def thing_lines(project: Project) -> tuple[Line, ...]:
    """Return the lines of the take-off for placed things; the first line of each says its weight."""
    found: list[Line] = []
    for thing in project.structure.things:
        kind = thing_kind(thing.kind)
        weighed = kind.weight(thing)
        said = f"about {show_weight(weighed.empty)}"
        if weighed.full > 1.1 * weighed.empty:
            said += f", full {show_weight(weighed.full)}"
        if kind.lamp is not None:
            said = f"{kind.lamp.shown(thing.light)}, {said}"
        for number, part in enumerate(kind.counts(thing)):
            found.append(
                Line(
                    item=part.item,
                    where=thing.name,
                    amount=part.amount,
                    unit=part.unit,
                    area=part.amount if part.unit == "m2" else 0.0,
                    rule=f"{part.rule}; {said}" if number == 0 else part.rule,
                    source=f"{part.source}; weight: {weighed.source}" if number == 0 else part.source,
                )
            )
        if kind.dug is not None:
            found += dug_lines(thing.name, kind.dug(thing), "the hole that is filled again as said")
        found += _base_lines(thing, project.structure.ground_areas, project.units)
    return tuple(found)


def _base_lines(thing: Thing, ground_areas: tuple[GroundArea, ...], units: System) -> tuple[Line, ...]:
    """Return the base of crushed stone below a thing, a little larger than it; none where paving or a base lies
    already.
    """
    usual, ground = thing_kind(thing.kind).base, ground_of_thing(thing)
    if usual is None:
        return ()
    laid = plane.union(plane.region(ground_area.outline) for ground_area in ground_areas if _is_base(ground_area))
    if plane.area(plane.intersection(ground, laid)) >= ON_A_BASE * plane.area(ground):
        return ()
    deep, past = as_built(usual, units), as_built(overdig(usual), units)
    area = plane.area(plane.grown(ground, past))
    rule = f"a base {in_both(deep)} deep, {in_both(past)} past its walls, and 10 % more for compacting"
    base = Line(
        item="crushed stone",
        where=thing.name,
        amount=area * deep * (1 + COMPACTING),
        unit="m3",
        area=area,
        rule=rule,
        source=usual.source,
    )
    return (base, *dug_lines(thing.name, area * deep, "for its base"))


def _is_base(ground_area: GroundArea) -> bool:
    kind = ground_kind(ground_area.kind)
    return kind.base is not None or bool(kind.built_as and surface_kind(kind.built_as).layers.base > 0)
