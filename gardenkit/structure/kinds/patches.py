"""Paved or lawn areas, gravel places, ponds, bases, one row a kind: what it takes, how it is drawn, cautions, care."""

from typing import Literal

import attrs

from gardenkit.sources import COMMON, MEMORY, Figure
from gardenkit.structure.kinds.rows import Care, Ground, Warned, look_up
from gardenkit.structure.kinds.surfaces import DUST, LIFT, ROLLS, WALK_BASE


@attrs.frozen(kw_only=True)
class PatchKind:
    """One kind of area. It is built up like the path surface ``built_as``, or on a bare ``base`` of crushed stone, or
    is counted by its area as ``item`` with ``rule``. Its fall is judged as a patio's or a lawn's (``falls``).
    ``sat_on`` where people gather, ``water`` where one could drown.
    """

    name: str
    words: str
    ground: Ground
    built_as: str = ""
    base: Figure | None = None
    item: str = ""
    rule: str = ""
    falls: Literal["", "patio", "lawn"] = ""
    sat_on: bool = False
    water: bool = False
    cautions: tuple[Warned, ...]
    care: tuple[Care, ...]


DROWN = Warned(
    what="open water: a small child can drown in 2 in (5 cm); ask which fence or cover your code wants", source=MEMORY
)
FALL = Warned(what="let it fall away from the house, 2 % or more", source="ICPI, Construction Tolerances")
MOWER = Warned(what="clear stones before mowing; keep children off while the mower runs", source=COMMON)
UTILITIES = Warned(what="ask what lies below before digging a base", source=COMMON)

_ROWS = (
    PatchKind(
        name="lawn",
        words="mown grass",
        ground=Ground(plan="lawn", texture="grass", view="turf", grain="turf"),
        item="lawn",
        rule="ground to be grass",
        falls="lawn",
        cautions=(MOWER,),
        care=(
            Care(months=(4, 5, 6, 7, 8, 9, 10), task="mow and edge the lawn"),
            Care(months=(9,), task="rake, aerate and overseed the lawn"),
        ),
    ),
    PatchKind(
        name="patio",
        words="a paved place to sit",
        ground=Ground(plan="patio", texture="paving", view="patio", heavy=True, joints=True),
        built_as="paving",
        falls="patio",
        sat_on=True,
        cautions=(LIFT, DUST, FALL),
        care=(Care(months=(5,), task="sweep sand into the joints of the paving"),),
    ),
    PatchKind(
        name="gravel",
        words="a place of loose stone between edges",
        ground=Ground(plan="gravel", texture="gravel", view="gravel", grain="gravel"),
        built_as="gravel",
        cautions=(ROLLS,),
        care=(Care(months=(4,), task="rake and top up the gravel"),),
    ),
    PatchKind(
        name="pond",
        words="open water",
        ground=Ground(plan="pond", texture="water", view="pond", heavy=True, inner_line=True),
        item="pond",
        rule="water surface",
        water=True,
        cautions=(DROWN,),
        care=(Care(months=(10, 11), task="net leaves and cut back plants at the pond"),),
    ),
    PatchKind(
        name="shed base",
        words="crushed stone under a shed",
        ground=Ground(plan="shed base", view="shed base"),
        base=WALK_BASE,
        cautions=(UTILITIES,),
        care=(Care(months=(4,), task="check that the base drains and lies level"),),
    ),
)
PATCHES: dict[str, PatchKind] = {row.name: row for row in _ROWS}


def patch_kind(name: str) -> PatchKind:
    """Return a kind of paved or lawn area; raises GardenError naming the nearest known one."""
    return look_up(PATCHES, name, "paved or lawn area")
