"""The register of advice: everything that the rules say about one garden, gathered in one place, each finding once."""

from typing import TYPE_CHECKING

from gardenkit.brief import wants
from gardenkit.findings import Finding, worst_first
from gardenkit.planting.bloom import bloom_findings
from gardenkit.project import advice as planting_advice
from gardenkit.project import area_rules
from gardenkit.project.season import shift_of
from gardenkit.schedules import cost, irrigation, quantities
from gardenkit.site.climate import climate_findings
from gardenkit.site.soil import soil_findings

if TYPE_CHECKING:
    from gardenkit.garden import Garden


def advice(garden: "Garden") -> tuple[Finding, ...]:
    """Return every finding about a garden, the most serious first (its kinds: ``garden.cautions``)."""
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
    found += cost.cost_findings(garden.costs, project.brief.budget)
    return worst_first(dict.fromkeys(found))
