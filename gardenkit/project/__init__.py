"""One garden, all of it: the brief, the site, the structure and the planting, as the designer said them."""

import attrs

from gardenkit.brief.brief import Brief
from gardenkit.planting.journal import Journal
from gardenkit.planting.planting import Planting
from gardenkit.project import references, soundness
from gardenkit.project.handing_over import Handover
from gardenkit.project.property_areas import PropertyArea
from gardenkit.site import site as site_records
from gardenkit.site.site import Site
from gardenkit.structure import structure as structure_records
from gardenkit.structure.kinds import check_kinds, fence_kind
from gardenkit.structure.structure import Structure
from gardenkit.tuples import lists_as_tuples
from gardenkit.units import System


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Alternative:
    """Another structure for the same garden, kept under a name to be compared."""

    name: str
    structure: Structure


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Project:
    """A garden project. ``invented`` marks a demonstration garden; drawings and client copies then say so. ``areas`` of
    the property stand in the order in which they are worked on.
    """

    name: str
    client: str = ""
    designer: str = ""
    units: System = "imperial"
    invented: bool = False
    brief: Brief = Brief()
    site: Site = Site()
    structure: Structure = Structure()
    planting: Planting = Planting()
    alternatives: tuple[Alternative, ...] = ()
    areas: tuple[PropertyArea, ...] = ()
    handover: Handover = Handover()
    journal: Journal = Journal()


def check(project: Project, *, opening: bool = False) -> None:
    """Raise GardenError for the first thing in the project that cannot be; called before anything is saved.

    ``opening``: what an earlier gardenkit could save and pages can show is let through.
    """
    soundness.check(project)
    references.check(project, opening=opening)
    site_records.check(project.site)
    for fence in project.site.fences:
        fence_kind(fence)
    for structure in (project.structure, *(kept.structure for kept in project.alternatives)):
        structure_records.check(structure)
        check_kinds(structure)
