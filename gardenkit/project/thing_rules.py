"""What is to be said about placed things: where they stand, what they are too near to, weight, room to use."""

from collections.abc import Iterable, Mapping

from gardenkit.findings import LOCAL_CODE, Finding, Seriousness
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region, Shape
from gardenkit.planting.planting import Plant
from gardenkit.project.area_rules import LINE
from gardenkit.site.levels import Surface
from gardenkit.site.site import Site, root_circles
from gardenkit.site.tree_protection import root_rule
from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.placed import EASY_LIFT, Apart
from gardenkit.structure.standing_steps import climbing_findings
from gardenkit.structure.structure import Structure, Thing
from gardenkit.structure.things import ground_of_thing, room_of
from gardenkit.units import counted, listed, show_area, show_length, show_weight

OVERLAP = Figure(0.02, "m2", f"less is a touch, not an overlap; {HOUSE}")
MOST_NAMED = 6  # plants named by their numbers in one sentence. House value.
CARRIED = Figure(200.0, "kg", f"more is moved by machine or by people who do it for a living; {HOUSE}")


def thing_findings(
    site: Site, structure: Structure, surfaces: Mapping[str, Region], ground: Region, lie: Surface | None
) -> tuple[Finding, ...]:
    """Return what is to be said about every placed thing of a garden; ``lie`` is the ground's, as it is to be."""
    found: list[Finding] = []
    for thing in structure.things:
        where, region = f'{thing.kind} "{thing.name}"', ground_of_thing(thing)
        found += _stands(thing, where, region, site, surfaces, ground)
        found += _meets(thing, where, region, structure)
        found += _kept_clear(thing, where, region, site, structure)
        found += _roots(thing, where, region, site)
        found += _apart(thing, where, region, site)
        found += _heavy(thing, where)
    return (*found, *climbing_findings(structure, site.buildings, lie))


def planted_findings(structure: Structure, taken: Mapping[str, Region], plants: Iterable[Plant]) -> tuple[Finding, ...]:
    """Return which plants stand on the ground that a thing takes; ``taken`` is that ground by the thing's name."""
    standing, found = tuple(plants), []
    for thing in structure.things:
        under = [plant.number for plant in standing if plane.contains(taken[thing.name], plant.at)]
        if under:
            which = ", ".join(map(str, under[:MOST_NAMED])) + (" ..." if len(under) > MOST_NAMED else "")
            what = f"stands on {counted(len(under), 'plant')} ({which}); move it or them"
            found.append(_finding(thing, f'{thing.kind} "{thing.name}"', what, "warning"))
    return tuple(found)


# ---- where it stands


def _stands(
    thing: Thing, where: str, region: Region, site: Site, surfaces: Mapping[str, Region], ground: Region
) -> Iterable[Finding]:
    """Say what part of a thing lies past the boundary, in a house, or on a path."""
    if site.boundary:
        past = plane.area(plane.difference(region, plane.region(site.boundary)))
        if past > OVERLAP:
            yield _finding(
                thing, where, f"stands {show_area(past)} past the boundary; move it onto the plot", "warning"
            )
    for building in site.buildings:
        within = plane.area(plane.intersection(region, plane.region(building.outline)))
        if within > OVERLAP:
            yield _finding(thing, where, f"stands {show_area(within)} inside {building.name}; move it out", "warning")
    for found in site.obstacles:
        if plane.area(plane.intersection(region, plane.region(found.outline))) > OVERLAP:
            yield _finding(thing, where, f'stands where "{found.name}" is; move it clear of that', "warning")
    for name, path in surfaces.items():
        taken = plane.area(plane.intersection(region, path))
        if taken > OVERLAP:
            what = f'stands on path "{name}": it takes {show_area(taken)} of it; move it beside the path'
            yield _finding(thing, where, what, "warning", rule="thing on a path", beside=name)
    yield from _cramped(thing, where, region, site, ground)


def _cramped(thing: Thing, where: str, region: Region, site: Site, ground: Region) -> Iterable[Finding]:
    """Say where the room to use a thing is cut off by the boundary or a building."""
    outline, kind = room_of(thing), thing_kind(thing.kind)
    if not outline or not site.boundary:
        return
    wanted = plane.difference(plane.region(outline), region)
    lost = plane.area(plane.difference(wanted, ground)) / plane.area(wanted)
    if lost > 0.6:  # most sides shut: it cannot be used. House value.
        what = f"wants {show_length(kind.room)} round it to be used, and {lost:.0%} of that room is walled off"
        yield _finding(thing, where, what, "caution", source=kind.room.source, topic="room")


def _kept_clear(thing: Thing, where: str, region: Region, site: Site, structure: Structure) -> Iterable[Finding]:
    """Say what stands in the room of a thing that is kept clear all round: play equipment, a table with its chairs."""
    kind = thing_kind(thing.kind)
    if not kind.kept_clear:
        return
    room = plane.difference(plane.region(room_of(thing)), region)
    others: list[tuple[str, Shape]] = [(o.name, ground_of_thing(o)) for o in structure.things if o.name != thing.name]
    others += [(s.name, plane.region(s.outline)) for s in structure.seats]
    others += [(t.name, plane.circle(t.at, max(0.1, t.trunk_diameter / 2))) for t in site.trees if t.keep]
    others += [(b.name, plane.region(b.outline)) for b in site.buildings]
    others += [(f.name, plane.line(f.line)) for f in site.fences]
    others += [(s.name, plane.line(s.line)) for s in structure.supports]
    within = [name for name, shape in others if plane.meet(room, shape)]
    if within:
        what = (
            f"wants {show_length(kind.room)} clear all round, and {listed(within)} "
            f"{'stands' if len(within) == 1 else 'stand'} in it: move the one or the other"
        )
        yield _finding(thing, where, what, "caution", source=kind.room.source, topic="room")


def _meets(thing: Thing, where: str, region: Region, structure: Structure) -> Iterable[Finding]:
    """Say which other placed thing, and which pond, a thing stands in."""
    for other in structure.things:
        if other.name > thing.name and plane.area(plane.intersection(region, ground_of_thing(other))) > OVERLAP:
            what = f'overlaps {other.kind} "{other.name}"; move one of them'
            yield _finding(thing, where, what, "warning", beside=other.name)
    for ground_area in structure.ground_areas:
        wet = ground_area.kind == "pond" and plane.area(plane.intersection(region, plane.region(ground_area.outline)))
        if wet and wet > OVERLAP:
            yield _finding(thing, where, f'stands in the water of "{ground_area.name}"; move it out', "caution")


def _roots(thing: Thing, where: str, region: Region, site: Site) -> Iterable[Finding]:
    """Say whose root protection circle the base or posts of a thing would be dug into."""
    if not thing_kind(thing.kind).footed:
        return
    for tree, far in root_circles(site):
        if plane.area(plane.intersection(region, plane.circle(tree.at, far))) > OVERLAP:
            what = f"its base would be dug within {show_length(far)} of the stem of {tree.name}, among its roots"
            why = "no digging or footing there without an arborist"
            yield _finding(
                thing,
                where,
                what,
                "warning",
                why=why,
                source=root_rule(site.root_rule).source,
                topic="clearance",
                beside=tree.name,
            )


def _apart(thing: Thing, where: str, region: Region, site: Site) -> Iterable[Finding]:
    """Say what a thing stands too near to."""
    for rule in thing_kind(thing.kind).apart:
        for name, shape in _near(site, rule):
            far = plane.distance(region, shape)
            if far < rule.least - 1e-9:
                what = (
                    f"stands {show_length(far)} from {name}, wanted {show_length(rule.least)}: {rule.why}; {LOCAL_CODE}"
                )
                yield _finding(
                    thing, where, what, "warning", source=rule.least.source, topic="clearance", rule="thing too near"
                )


def _near(site: Site, rule: Apart) -> list[tuple[str, Shape]]:
    match rule.of:
        case "building":
            return [(b.name, plane.region(b.outline)) for b in site.buildings]
        case "boundary":
            edge = (*site.boundary, site.boundary[0]) if site.boundary else ()
            return [("the boundary", plane.line(edge))] if edge else []
        case "tree":
            return [(t.name, plane.circle(t.at, max(0.1, t.spread / 2))) for t in site.trees if t.keep]
    lines = [o for o in site.obstacles if any(word in o.name.casefold() for word in LINE)]
    return [(o.name, plane.region(o.outline)) for o in lines]


# ---- what it asks


def _heavy(thing: Thing, where: str) -> Iterable[Finding]:
    weighed = thing_kind(thing.kind).weight(thing)
    if weighed.heaviest > EASY_LIFT:
        how = (
            "by machine, or by people who do it for a living" if weighed.heaviest > CARRIED else "two people or a cart"
        )
        what = f"its heaviest piece weighs about {show_weight(weighed.heaviest)}: {how}"
        yield _finding(thing, where, what, "caution", source=f"{weighed.source}; {EASY_LIFT.source}", topic="lifting")


def _finding(
    thing: Thing,
    where: str,
    what: str,
    seriousness: Seriousness,
    *,
    why: str = "",
    source: str = PLAIN,
    topic: str = "structure",
    rule: str = "",
    beside: str = "",
) -> Finding:
    return Finding(
        where=where,
        what=what,
        why=why,
        source=source,
        seriousness=seriousness,
        at=thing.at,
        topic=topic,
        subject=("thing", thing.name),
        rule=rule,
        beside=beside,
    )
