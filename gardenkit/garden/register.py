"""The register of advice: everything that the rules say about one garden, gathered in one place, each finding once."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

import attrs

from gardenkit.brief import wants
from gardenkit.findings import Finding, Remedy, Subject, worst_first
from gardenkit.garden.gathered import gathered
from gardenkit.garden.remedies import remedied
from gardenkit.garden.safety import safety_card
from gardenkit.planting.bloom import bloom_findings
from gardenkit.project import advice as planting_advice
from gardenkit.project import area_rules
from gardenkit.project.season import shift_of
from gardenkit.schedules import cost, irrigation, quantities
from gardenkit.site.climate import climate_findings
from gardenkit.site.soil import soil_findings

if TYPE_CHECKING:
    from gardenkit.garden import Garden

ON_THE_CARD = ("lifting", "cutting", "safety")  # topics of the work itself: said once, on the card of site safety


def advice(garden: "Garden") -> tuple[Finding, ...]:
    """Return the advice about a garden, alike findings as one line, the most serious first, remedies where known."""
    found = findings(garden)
    work = [one for one in found if one.topic in ON_THE_CARD]
    rest = [remedied(garden, _with_subject(garden, one)) for one in found if one.topic not in ON_THE_CARD]
    lines = gathered([*rest, *safety_card(garden, work)], lambda subject: _called(garden, subject))
    return tuple(_remedied_together(line) for line in lines)


def findings(garden: "Garden") -> tuple[Finding, ...]:
    """Return every finding about a garden by itself, each once, in the order of the checks."""
    project, site = garden.project, garden.project.site
    found = [Finding(where="structure", what=p, seriousness="stop", topic="structure") for p in garden.layout.problems]
    found += [*garden.layout.findings, *soil_findings(site.soil), *climate_findings(site.climate)]
    found += wants.findings(garden.wants)
    found += planting_advice.planting_findings(project, garden.catalogue)
    found += area_rules.tree_findings(site, garden.planted)
    if garden.kinds:
        found += bloom_findings(garden.bloom, wanted=(), shift=shift_of(site))
        eto = irrigation.reference(site.climate, latitude=site.place.latitude, elevation=site.place.elevation)
        found += irrigation.water_findings(garden.water, eto)
    found += quantities.quantity_findings(project)
    found += cost.cost_findings(garden.costs, project.brief.budget, covers=project.brief.budget_covers)
    return tuple(dict.fromkeys(found))


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
    found |= {f'{patch.kind} "{patch.name}"': (patch.kind, patch.name) for patch in structure.patches}
    return found | {species.botanical: ("kind", species.botanical) for species in garden.kinds}


# ---- helpers


def _with_subject(garden: "Garden", finding: Finding) -> Finding:
    """Return a finding with what it is about, read from the name it gives its place where the check did not say."""
    if finding.subject is not None:
        return finding
    subject = garden.names.get(finding.where) or garden.names.get(finding.where.split(", ")[0])
    return finding if subject is None else attrs.evolve(finding, subject=subject)


def _called(garden: "Garden", subject: Subject) -> str:
    kind, name = subject
    if kind == "plant":
        return garden.keys.get(garden.species_of.get(name, ""), name)
    return name


def _remedied_together(line: Finding) -> Finding:
    """Return a line of several findings with the remedies of all of them as one."""
    known = list(dict.fromkeys(one.remedy for one in line.members if one.remedy is not None))
    if not known or line.remedy is not None:
        return line
    steps = tuple(dict.fromkeys(step for remedy in known for step in remedy.steps))
    return attrs.evolve(line, remedy=Remedy(words="; ".join(r.words for r in known), steps=steps))
