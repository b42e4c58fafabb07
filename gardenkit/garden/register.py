"""The register of advice: everything that the rules say about one garden, gathered in one place, each finding once."""

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, NamedTuple

import attrs

from gardenkit.brief import wants
from gardenkit.findings import Finding, Remedy, Subject, worst_first
from gardenkit.garden.contradictions import contradictions
from gardenkit.garden.gathered import gathered
from gardenkit.garden.measured import measured_findings
from gardenkit.garden.remedies import remedied
from gardenkit.garden.safety import TOPIC, safety_card
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Shape
from gardenkit.planting import places
from gardenkit.planting.bloom import bloom_findings
from gardenkit.planting.places import place_findings
from gardenkit.project import advice as planting_advice
from gardenkit.project import area_rules, crops, level_rules, note_rules, root_rules, thing_rules
from gardenkit.project.edits.site import shape_of, things
from gardenkit.project.season import shift_of
from gardenkit.schedules import cost, irrigation, lighting, quantities, rainwater, water_pressure
from gardenkit.site.climate import climate_findings
from gardenkit.site.missing import missing_findings
from gardenkit.site.soil import soil_findings
from gardenkit.structure.things import ground_of_thing

if TYPE_CHECKING:
    from gardenkit.garden import Garden

ON_THE_CARD = ("lifting", "cutting", TOPIC)  # topics of the work itself: said once, on the card of site safety
SAID = 3  # remedies told one by one before the rest is counted. House value.
STRUCTURE = (  # topics of the bones
    *(
        "access",
        "bend",
        "bed",
        "building",
        "clearance",
        "cutting",
        "gap",
        "levels",
        "lifting",
        "light",
        "pace",
        "patio",
    ),
    *("permit", "posts", "reach", "room", "safety", "screening", "slope", "steps", "stone", "structure", "supports"),
    *("surface", "training", "view", "water", "width"),
)


class Check(NamedTuple):
    """A check of the register: the topics that it can speak of, and what it finds in a garden."""

    topics: frozenset[str]
    of: Callable[["Garden"], Iterable[Finding]]


def said(garden: "Garden", topics: Iterable[str] = ()) -> tuple[Finding, ...]:
    """Return what the rules say about a garden, alike findings as one line, the most serious first.

    With ``topics`` only what is about them, and only the checks that can speak of them are made.
    """
    asked = frozenset(topics)
    found = findings(garden, asked | frozenset(ON_THE_CARD) if TOPIC in asked else asked)
    work = [one for one in found if one.topic in ON_THE_CARD]
    rest = share((one for one in found if one.topic not in ON_THE_CARD), asked)
    told = [_with_subject(garden, one) for one in rest]
    card = safety_card(garden, work) if not asked or TOPIC in asked else ()
    return gathered([*told, *card], lambda subject: called(garden, subject))


def advice(garden: "Garden", lines: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return lines of what the rules say, each with its remedy where one is known."""
    return tuple(_mended(garden, line) for line in lines)


def findings(garden: "Garden", topics: Iterable[str] = ()) -> tuple[Finding, ...]:
    """Return every finding about a garden by itself, each once, in the order of the checks.

    With ``topics`` only those of the checks that can speak of one of them.
    """
    asked = frozenset(topics)
    made = [found for check in CHECKS if not asked or asked & check.topics for found in check.of(garden)]
    return tuple(dict.fromkeys(made))


def share(lines: Iterable[Finding], topics: Iterable[str]) -> tuple[Finding, ...]:
    """Return the part of the advice that is about some topics, all of it when none is named."""
    asked = set(topics)
    return tuple(line for line in lines if not asked or line.topic in asked)


def worst(lines: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings each once, the worst first."""
    return worst_first(dict.fromkeys(lines))


def names(garden: "Garden") -> Mapping[str, Subject]:
    """Return what each place that the checks name is: its kind and its name."""
    structure, site = garden.project.structure, garden.project.site
    found: dict[str, Subject] = {o.name: (o.kind, o.name) for o in site.openings}
    found |= {s.name: ("support", s.name) for s in structure.supports}
    for kind, named in (("path", structure.paths), ("bed", garden.beds), ("seat", structure.seats)):
        for one in named:
            found.setdefault(one.name, (kind, one.name))
            found[f'{kind} "{one.name}"'] = (kind, one.name)
    found |= {
        f'{ground_area.kind} "{ground_area.name}"': (ground_area.kind, ground_area.name)
        for ground_area in structure.ground_areas
    }
    for thing in structure.things:
        found.setdefault(thing.name, ("thing", thing.name))
        found[f'{thing.kind} "{thing.name}"'] = ("thing", thing.name)
    found |= {f'level "{level.name}"': ("level", level.name) for level in structure.levels}
    return found | {species.botanical: ("kind", species.botanical) for species in garden.kinds}


def spots(garden: "Garden", line: Finding) -> tuple[Point, ...]:
    """Return where on the plan (metres) a line of advice is seen: its own places, else the middle of what it names."""
    middles = (_middle(garden, one) for one in line.members or (line,))
    return line.spots or tuple(dict.fromkeys(at for at in middles if at is not None))


def _middle(garden: "Garden", finding: Finding) -> Point | None:
    """Return the middle of the path, support, seat, opening, area, bed or building that a finding is about."""
    structure, site, worked = garden.project.structure, garden.project.site, garden.layout
    name = finding.subject[1] if finding.subject else finding.where
    if name in worked.routes:
        curve = worked.routes[name].curve.points
        return float(curve[len(curve) // 2][0]), float(curve[len(curve) // 2][1])
    shapes: dict[str, Shape] = {one.name: shape_of(one) for one in things(site)}
    shapes |= {bed.name: bed.region for bed in garden.beds}
    shapes |= {s.name: plane.line(s.line) for s in structure.supports}
    shapes |= {p.name: plane.region(p.outline) for p in structure.ground_areas}
    shapes |= {level.name: plane.point(level.at) for level in structure.levels}
    shapes |= {s.name: plane.point(s.at) for s in structure.seats}
    shapes |= {t.name: ground_of_thing(t) for t in structure.things}
    shape = shapes.get(name)
    return None if shape is None or shape.is_empty else plane.centre(shape)


# ---- the checks, in the order in which they are said


def _missing(garden: "Garden") -> Iterable[Finding]:
    return missing_findings(garden.project.site)


def _structure(garden: "Garden") -> Iterable[Finding]:
    problems = garden.layout.problems
    stops = [Finding(where="structure", what=p, seriousness="stop", topic="structure") for p in problems]
    return (*stops, *garden.layout.findings)


def _planted(garden: "Garden") -> Iterable[Finding]:
    project = garden.project
    return thing_rules.planted_findings(project.structure, garden.layout.things, project.planting.plants)


def _levels(garden: "Garden") -> Iterable[Finding]:
    site, structure = garden.project.site, garden.project.structure
    found = root_rules.root_findings(site, structure, garden.layout)
    found += note_rules.note_findings(site, structure, garden.layout)
    return (*level_rules.level_findings(garden.project, garden.layout), *found)


def _soil(garden: "Garden") -> Iterable[Finding]:
    return soil_findings(garden.project.site.soil)


def _climate(garden: "Garden") -> Iterable[Finding]:
    return climate_findings(garden.project.site.climate)


def _wants(garden: "Garden") -> Iterable[Finding]:
    return (*contradictions(garden), *wants.findings(garden.wants))


def _diary(garden: "Garden") -> Iterable[Finding]:
    return garden.diary.findings if garden.diary is not None else ()


def _planting(garden: "Garden") -> Iterable[Finding]:
    return planting_advice.planting_findings(garden.project, garden.catalogue)


def _crops(garden: "Garden") -> Iterable[Finding]:
    yield from crops.purpose_findings(garden.layout, garden.planted)
    if garden.project.planting.crops:
        yield from crops.crop_findings(garden.project, garden.layout, garden.catalogue)
        yield from crops.sun_findings(garden.project, garden.layout, garden.catalogue, garden.sun_if_known())


def _climbers(garden: "Garden") -> Iterable[Finding]:
    return planting_advice.climber_findings(garden.project, garden.planted)


def _places(garden: "Garden") -> Iterable[Finding]:
    return place_findings((one, garden.plant_spots[str(one[0].number)]) for one in garden.planted)


def _trees(garden: "Garden") -> Iterable[Finding]:
    return area_rules.tree_findings(garden.project.site, garden.planted)


def _bloom(garden: "Garden") -> Iterable[Finding]:
    return bloom_findings(garden.bloom, wanted=(), shift=shift_of(garden.project.site)) if garden.kinds else ()


def _water(garden: "Garden") -> Iterable[Finding]:
    if not (garden.kinds or garden.project.planting.crops):
        return ()
    asked = water_pressure.zone_pressures(garden.project, garden.layout, garden.water)
    said = irrigation.water_findings(garden.water, garden.reference_water)
    return (*said, *water_pressure.pressure_findings(asked))


def _rain(garden: "Garden") -> Iterable[Finding]:
    return rainwater.rain_findings(garden.project, garden.water)


def _lights(garden: "Garden") -> Iterable[Finding]:
    return lighting.light_findings(garden.project)


def _quantities(garden: "Garden") -> Iterable[Finding]:
    return quantities.quantity_findings(garden.project)


def _cost(garden: "Garden") -> Iterable[Finding]:
    brief = garden.project.brief
    return cost.cost_findings(garden.costs, brief.budget, covers=brief.budget_covers, currency=brief.currency)


def _check(topics: str | tuple[str, ...], of: Callable[["Garden"], Iterable[Finding]]) -> Check:
    return Check(frozenset(topics.split() if isinstance(topics, str) else topics), of)


CHECKS = (
    _check("site", _missing),
    _check("survey levels", measured_findings),
    _check(STRUCTURE, _structure),
    _check("structure", _planted),
    _check("levels permit clearance", _levels),
    _check("soil", _soil),
    _check("hardiness frost", _climate),
    _check("sun", _diary),
    _check("wants", _wants),
    _check("balance bloom colour crowding diversity layering setback", _planting),
    _check("supports", _climbers),
    _check(places.TOPIC, _places),
    _check(crops.TOPIC, _crops),
    _check("clearance setback", _trees),
    _check("bloom", _bloom),
    _check("water", _water),
    _check(rainwater.TOPIC, _rain),
    _check(lighting.TOPIC, _lights),
    _check("cost mulch supports", _quantities),
    _check("cost", _cost),
)


# ---- helpers


def _with_subject(garden: "Garden", finding: Finding) -> Finding:
    """Return a finding with what it is about, read from the name it gives its place where the check did not say."""
    if finding.subject is not None:
        return finding
    subject = garden.names.get(finding.where) or garden.names.get(finding.where.split(", ")[0])
    return finding if subject is None else attrs.evolve(finding, subject=subject)


def called(garden: "Garden", subject: Subject) -> str:
    """Return what a subject is called in a list of alike findings: a plant's key, a path's name."""
    kind, name = subject
    if kind == "plant":
        return garden.keys.get(garden.species_of.get(name, ""), name)
    return name


def _mended(garden: "Garden", line: Finding) -> Finding:
    """Return a line with its remedy, one of several findings with the remedies of all of them as one."""
    if not line.members:
        return remedied(garden, line)
    line = attrs.evolve(line, members=tuple(remedied(garden, one) for one in line.members))
    known = list(dict.fromkeys(one.remedy for one in line.members if one.remedy is not None))
    if not known or line.remedy is not None:
        return line
    steps = tuple(dict.fromkeys(step for remedy in known for step in remedy.steps))
    said = list(dict.fromkeys(remedy.words for remedy in known))
    more = f"; and {len(said) - SAID} more alike" if len(said) > SAID else ""
    words = "; ".join(said[:SAID]) + more
    return attrs.evolve(line, remedy=Remedy(words=words, steps=steps))
