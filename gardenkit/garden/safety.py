"""Where the work itself can hurt someone: one card for the whole garden, said once, in the words of the place."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from gardenkit.findings import Finding
from gardenkit.planting.setbacks import DIG_SAFE
from gardenkit.site.country import usa_only
from gardenkit.sources import COMMON
from gardenkit.structure.kinds import ground_kind, surface_kind, thing_kind
from gardenkit.structure.laying import cutting_caution
from gardenkit.structure.safety import ladder_findings, treated_wood_findings

if TYPE_CHECKING:
    from gardenkit.garden import Garden

TOPIC = "safety"
WHERE = "work on site"
NAMES = {"lifting": "heavy stones", "cutting": "stone dust"}  # other cautions are called by their place
LADDER_FROM = 2.0  # m: what is higher is not reached from the ground. House value.
LADDER_PAST = 0.9  # m a ladder stands past what it leans on. House value.
MARKED = (
    "call 811 two to three business days ahead; lines past the meter (lights, irrigation, pool) are private and are "
    "not marked"
)


def safety_card(garden: "Garden", found: Iterable[Finding] = ()) -> tuple[Finding, ...]:
    """Return one card with every caution for the work this garden asks for, none where nothing is to be done.

    ``found`` are the cautions that the checks met with on their way (stones that are heavy to lift): they go in too.
    """
    members = (*_digging(garden), *_lifting(found), *_cutting(garden), *_building(garden))
    if not members:
        return ()
    named = ", ".join(dict.fromkeys(NAMES.get(one.topic, one.where) for one in members))
    return (
        Finding(
            where=WHERE,
            what=f"read before the work begins, here once for the whole garden: {named}",
            why="; ".join(dict.fromkeys(one.what for one in members)),
            source="; ".join(dict.fromkeys(one.source for one in members)),
            seriousness="caution",
            topic=TOPIC,
            rule="site safety",
            members=members,
        ),
    )


def _digging(garden: "Garden") -> list[Finding]:
    structure = garden.project.structure
    footed = any(thing_kind(one.kind).footed for one in structure.things)
    if not (
        garden.project.planting.plants
        or structure.paths
        or structure.ground_areas
        or structure.supports
        or structure.levels
        or footed
    ):
        return []
    what = usa_only(garden.project.site, MARKED, general=f"{DIG_SAFE}, and dig by hand beside the marks")
    return [_member("digging", what, COMMON)]


def _lifting(found: Iterable[Finding]) -> list[Finding]:
    return [one for one in found if one.topic == "lifting"]


def _cutting(garden: "Garden") -> list[Finding]:
    structure = garden.project.structure
    surfaces = [path.surface for path in structure.paths]
    surfaces += [built for p in structure.ground_areas if (built := ground_kind(p.kind).built_as)]
    cut = any(surface_kind(surface).stone in ("slabs", "field") for surface in surfaces)
    return [cutting_caution("stone")] if cut else []


def _building(garden: "Garden") -> list[Finding]:
    supports = garden.project.structure.supports
    found: list[Finding] = []
    if any(not support.against for support in supports):
        found += treated_wood_findings("treated wood")
    tallest = max((support.height for support in supports), default=0.0)
    if tallest > LADDER_FROM:
        found += ladder_findings("ladders", tallest + LADDER_PAST)
    return found


def _member(where: str, what: str, source: str) -> Finding:
    return Finding(where=where, what=what, source=source, seriousness="caution", topic=TOPIC)
