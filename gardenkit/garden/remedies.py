"""What would mend a finding, worked out as an edit of the garden: the plant moved clear, the path widened, and so on.

A remedy is offered only where it truly mends: it is tried on the garden first.
"""

import math
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

import attrs

from gardenkit.findings import Argument, Finding, GardenError, Remedy, Step
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region, Shape
from gardenkit.planting.places import stand_in
from gardenkit.planting.suitability import Spot
from gardenkit.project import Project, advice, edits
from gardenkit.project.edits import structure as structure_edits
from gardenkit.project.edits.records import by_name
from gardenkit.project.flight_places import flights_for, takes_steps
from gardenkit.project.layout import layout, propose
from gardenkit.schedules.rainwater import TOO_SMALL, enlarged
from gardenkit.site.site import Site
from gardenkit.structure.flights import TOO_SHORT, built
from gardenkit.structure.meander import Meander
from gardenkit.structure.path_rules import TOO_STEEP
from gardenkit.structure.ramp_runs import NO_RAILS
from gardenkit.structure.standing_steps import RAMP_RUN, STEPS_RISE, STEPS_RUN
from gardenkit.structure.structure import Structure
from gardenkit.units import show_length

if TYPE_CHECKING:
    from gardenkit.garden import Garden

Worked = Callable[["Garden", Finding], Remedy | None]
CLEAR = 0.02  # m further than the rule asks for, so that rounding does not bring it back. House value.
TAKEN = ("planting.remove_plants", "planting.swap_plants")  # edits that a garden with the plants always takes
TRIES = 4  # widths tried for one path. House value.
LONGER, STRETCH = 40, 0.05  # a flight is lengthened at both ends by so many steps of so many metres. House value.
FARTHEST = 3.0  # m: a plant that must go further is a question of design, not of a nudge. House value.


def remedied(garden: "Garden", finding: Finding) -> Finding:
    """Return a finding with its remedy where one can be worked out and the garden takes it, else as it is."""
    work = REMEDIES.get(finding.rule)
    if work is None or finding.remedy is not None:
        return finding
    try:
        remedy = work(garden, finding)
        if remedy is None or not _mends(garden.project, remedy):
            return finding
    except GardenError:
        return finding
    return attrs.evolve(finding, remedy=remedy)


def _mends(project: Project, remedy: Remedy) -> bool:
    """Return whether a garden takes a remedy and is another then. Raises GardenError where it refuses.

    What was looked up already, an unlocked plant that goes or makes room for another kind, is not tried again: there
    may be hundreds.
    """
    return all(step.edit in TAKEN for step in remedy.steps) or edits.apply(project, remedy) != project


def one_edit(words: str, edit: str, **arguments: Argument) -> Remedy:
    """Return a remedy of one edit."""
    return Remedy(words=words, steps=(Step(edit=edit, arguments=tuple(arguments.items())),))


# ---- plants


def _move_clear(garden: "Garden", finding: Finding) -> Remedy | None:
    """Return the nearest place in the plant's own bed that is far enough from what it is too near to."""
    if finding.subject is None or finding.at is None or finding.wanted is None:
        return None
    plant = garden.plant_called.get(finding.subject[1])
    shape = _beside(garden, finding.beside)
    bed = _nearest_bed(garden, finding.at)
    if plant is None or plant.locked or shape is None or bed is None:
        return None
    room = plane.difference(bed, plane.grown(shape, finding.wanted + CLEAR))
    if room.is_empty:
        return None
    x, y = plane.nearest_on(room, finding.at)
    to: Point = (round(x, 3), round(y, 3))
    far = math.dist(to, finding.at)
    if far > FARTHEST or not _clear_of_paths(garden, to):
        return None
    words = f"move plant {plant.number} {show_length(far, garden.units)} clear of {finding.beside}"
    return one_edit(words, "planting.move_plant", number=plant.number, to=to)


def _swap(garden: "Garden", finding: Finding) -> Remedy | None:
    """Return the swap of a plant for the kind most like it that suits its place, one of the palette before others."""
    return _swapped(garden, finding, lambda spot: spot)


def _swapped(garden: "Garden", finding: Finding, wanted: Callable[[Spot], Spot]) -> Remedy | None:
    if finding.subject is None:
        return None
    plant = garden.plant_called.get(finding.subject[1])
    if plant is None or plant.locked:
        return None
    spot, palette = wanted(garden.plant_spots[finding.subject[1]]), garden.project.planting.palette
    other = stand_in(garden.catalogue[plant.species], spot, garden.catalogue, first=palette)
    if other is None:
        return None
    words = f"swap {plant.species} for {other.botanical} there"
    return one_edit(words, "planting.swap_plants", numbers=plant.number, species=other.botanical)


def _swap_for_later(garden: "Garden", finding: Finding) -> Remedy | None:
    """Return the swap for a kind that takes the sun of the place both as it is and as it will be in year ten."""
    return _swapped(garden, finding, lambda spot: attrs.evolve(spot, sun_hours_year10=finding.wanted))


def _thin(garden: "Garden", finding: Finding) -> Remedy | None:
    """Return the taking out of one of two plants that stand too close: the one that mends most in the garden."""
    if finding.subject is None:
        return None
    mine, other = int(finding.subject[1]), garden.number_of.get(finding.beside)
    number = next((n for n in (mine, other) if n in garden.to_thin), None)
    if number is None:
        return None
    return one_edit(
        f"take out plant {number}, {garden.species_of[str(number)]}", "planting.remove_plants", numbers=number
    )


def _beside(garden: "Garden", name: str) -> Shape | None:
    around = advice.around(garden.project, garden.layout)
    shapes: dict[str, Shape] = {**dict(around.walls), **dict(around.paths)}
    shapes |= {glass.name: plane.line(glass.line) for glass in around.windows}
    shapes |= {thing: region for thing, region, _ in around.keep_clear}
    return shapes.get(name)


def _nearest_bed(garden: "Garden", at: Point) -> Region | None:
    here = garden.layout.bed_at(at)
    if here is not None:
        return here.region
    regions = [bed.region for bed in garden.beds if bed.area > 0]
    return min(regions, key=lambda region: plane.distance(region, plane.point(at)), default=None)


def _clear_of_paths(garden: "Garden", at: Point) -> bool:
    return all(not plane.contains(route.region, at) for route in garden.layout.routes.values())


# ---- paths


def _widen(garden: "Garden", finding: Finding) -> Remedy | None:
    if finding.subject is None or finding.wanted is None:
        return None
    return _to_width(garden, finding.subject[1], finding.wanted)


def _to_width(garden: "Garden", name: str, wanted: float) -> Remedy:
    width = math.ceil(wanted * 1000) / 1000
    words = f'widen path "{name}" to {show_length(width, garden.units)}'
    return one_edit(words, "structure.change_path", name=name, width=width)


def _rail(garden: "Garden", finding: Finding) -> Remedy:
    return one_edit("build handrails up both sides", "structure.change_path", name=finding.beside, handrails=True)


def _widen_for_barrow(garden: "Garden", finding: Finding) -> Remedy | None:
    """Return the width at which a barrow keeps to the path, tried: a wider path bends a little otherwise."""
    wanted, subject = finding.wanted, finding.subject
    for _ in range(TRIES):
        if wanted is None or subject is None:
            return None
        remedy = _to_width(garden, subject[1], wanted)
        found = layout(edits.apply(garden.project, remedy)).findings
        wanted = next((f.wanted for f in found if (f.rule, f.where) == (finding.rule, finding.where)), None)
        if wanted is None:
            return remedy
        wanted += CLEAR
    return None


def _narrow_to_gate(garden: "Garden", finding: Finding) -> Remedy | None:
    if finding.wanted is None:
        return None
    width = math.floor(finding.wanted * 1000) / 1000
    words = f'narrow path "{finding.beside}" to {show_length(width, garden.units)}, as wide as {finding.where}'
    return one_edit(words, "structure.change_path", name=finding.beside, width=width)


def _not_steep(garden: "Garden", finding: Finding) -> Remedy | None:
    """Return the route with the gentlest slope, where it brings the path within its rule, else steps that do."""
    if finding.subject is None:
        return None
    name = finding.subject[1]
    return _gentler(garden, name) or _steps(garden, name)


def _longer_flight(garden: "Garden", finding: Finding) -> Remedy | None:
    """Return the shortest stretch about a flight that its steps and landings fit in, where path and other flights
    leave it.
    """
    if finding.subject is None:
        return None
    name, number = finding.subject[1], int(finding.where.rpartition(" ")[2]) - 1
    path, flight = by_name(garden.project.structure.paths, name, "path"), garden.layout.flights[name][number]
    route = garden.layout.routes[name]
    length = route.length
    others = [(f.start * length, f.end * length) for i, f in enumerate(path.flights) if i != number]
    low = max((end for _, end in others if end <= flight.start + CLEAR), default=0.0)
    high = min((start for start, _ in others if start >= flight.end - CLEAR), default=length)
    for more in range(1, LONGER + 1):
        start, end = max(low, flight.start - more * STRETCH), min(high, flight.end + more * STRETCH)
        start, end = round(start, 3), round(end, 3)
        longer = attrs.evolve(flight.flight, start=start / length, end=end / length)
        if built(attrs.evolve(path, flights=(longer,)), route, garden.layout.lie)[0].fits:
            words = f"give flight {number + 1} of {name} {show_length(end - start, garden.units)} of the path"
            return one_edit(words, "structure.change_flight", name=name, index=number, start=start, end=end)
    return None


def _steps(garden: "Garden", name: str) -> Remedy | None:
    """Return flights of steps over the steep stretches of a path, where its use allows steps."""
    path = by_name(garden.project.structure.paths, name, "path")
    route, ground = garden.layout.routes[name], garden.ground_to_be
    if ground is None or not takes_steps(path):
        return None
    stretches = flights_for(path, route, ground)
    if not stretches:
        return None
    made = [
        Step(edit="structure.add_flight", arguments=(("name", name), ("start", start), ("end", end)))
        for start, end in stretches
    ]
    flights = "a flight of steps" if len(made) == 1 else f"{len(made)} flights of steps"
    where = " and ".join(f"at {show_length(start, garden.units)}" for start, _ in stretches)
    return Remedy(words=f'put {flights} into path "{name}", {where} along it', steps=tuple(made))


def _gentler(garden: "Garden", name: str) -> Remedy | None:
    way = _gentlest(garden.project.site, _alone(garden.project.structure, name), name)
    if way is None:
        return None
    longer = show_length(way.length - garden.layout.routes[name].length, garden.units)
    steepest = f"{way.steepest:.1f} % at most" if way.steepest is not None else "gentler"
    words = f'let path "{name}" run the gentlest way, {steepest} and {longer} longer'
    path = way.path
    arguments: dict[str, Argument] = {
        "curvature": path.curvature,
        "sway": path.sway,
        "first_side": path.first_side,
        "line": path.line,
    }
    return one_edit(words, "structure.use_route", name=name, **arguments)


def _alone(structure: Structure, name: str) -> Structure:
    """Return only what decides how steep a path can be: it unbent, what it joins, and the places it goes between.

    So a slider of another path, or of its own bends, does not ask for all the ways again.
    """
    called, needed = {p.name: p for p in structure.paths}, [name]
    for one in needed:  # grows while paths join paths
        needed += [end for end in (called[one].start, called[one].end) if end in called and end not in needed]
    kept = tuple(
        attrs.evolve(p, curvature=0.0, sway=1, first_side="left", line="fair curves", held_stones=())
        if p.name == name
        else p
        for p in structure.paths
        if p.name in needed
    )
    return attrs.evolve(structure, paths=kept, beds=(), cuts=(), supports=())


@lru_cache(maxsize=16)
def _gentlest(site: Site, structure: Structure, name: str) -> Meander | None:
    """Return the gentlest way a path can wander, None where it is still too steep: it is tried; remembered."""
    project = Project(name="", site=site, structure=structure)
    for way in propose(project, name, goals=("gentlest slope",)):
        path = way.path
        tried = structure_edits.use_route(
            project, name, curvature=path.curvature, sway=path.sway, first_side=path.first_side, line=path.line
        )
        place = f'path "{name}"'
        if all((f.rule, f.where) != (TOO_STEEP, place) for f in layout(tried).findings):
            return way
    return None


def _pave(garden: "Garden", finding: Finding) -> Remedy | None:
    del garden
    if finding.subject is None:
        return None
    name = finding.subject[1]
    return one_edit(f'pave path "{name}"', "structure.change_path", name=name, surface="paving")


def _close_joints(garden: "Garden", finding: Finding) -> Remedy | None:
    if finding.subject is None or finding.wanted is None:
        return None
    name = finding.subject[1]
    words = f'lay the stones of "{name}" with joints of {show_length(finding.wanted, garden.units, small=True)}'
    return one_edit(words, "structure.lay_stones", name=name, joint=finding.wanted)


# ---- supports


def _raise(garden: "Garden", finding: Finding) -> Remedy | None:
    if finding.subject is None or finding.wanted is None:
        return None
    name, height = finding.subject[1], math.ceil(finding.wanted * 100) / 100
    words = f'raise "{name}" to {show_length(height, garden.units)}'
    return one_edit(words, "structure.change_support", name=name, height=height)


def _enlarge(garden: "Garden", finding: Finding) -> Remedy | None:
    if finding.subject is None:
        return None
    name = finding.subject[1]
    width, depth = enlarged(garden.project, by_name(garden.project.structure.things, name, "placed thing"))
    words = f'make "{name}" {show_length(width, garden.units)} by {show_length(depth, garden.units)}'
    return one_edit(words, "structure.change_thing", name=name, width=width, depth=depth)


def _resize_steps(garden: "Garden", finding: Finding) -> Remedy | None:
    if finding.subject is None or finding.wanted is None:
        return None
    field, way = ("height", "high") if finding.rule == STEPS_RISE else ("depth", "deep from front to back")
    name, size = finding.subject[1], math.ceil(finding.wanted * 100 - 1e-6) / 100
    words = f'make "{name}" {show_length(size, garden.units)} {way}'
    return one_edit(words, "structure.change_thing", name=name, **{field: size})


REMEDIES: Mapping[str, Worked] = {
    "setback wall": _move_clear,
    "setback window": _move_clear,
    "setback path": _move_clear,
    "setback keep clear": _move_clear,
    "setback neighbours": _thin,
    "crowding": _thin,
    "over path": _move_clear,
    "over window": _move_clear,
    "loses sun": _swap_for_later,
    "suits sun": _swap,
    "suits winter": _swap,
    "suits refused": _swap,
    "path width": _widen,
    "barrow sweep": _widen_for_barrow,
    "gate narrows path": _narrow_to_gate,
    NO_RAILS: _rail,
    TOO_STEEP: _not_steep,
    TOO_SHORT: _longer_flight,
    "carries wheels": _pave,
    "joints": _close_joints,
    "arch height": _raise,
    TOO_SMALL: _enlarge,
    STEPS_RUN: _resize_steps,
    STEPS_RISE: _resize_steps,
    RAMP_RUN: _resize_steps,
}
