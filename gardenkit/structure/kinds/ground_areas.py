"""Paved or lawn areas, gravel places, ponds, bases, one row a kind: what it takes, how it is drawn, cautions, care."""

from typing import Literal

import attrs

from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.structure.kinds.placed import BY_PLACE, IRC_EXEMPT, Asked
from gardenkit.structure.kinds.rows import Care, Ground, Warned, look_up
from gardenkit.structure.kinds.surfaces import DUST, LIFT, ROLLS, WALK_BASE
from gardenkit.structure.pond import USUAL_DEPTH
from gardenkit.units import INCH

SHELF_DEEP, SHELF_WIDE = Figure(9 * INCH, "m", HOUSE), Figure(12 * INCH, "m", HOUSE)  # for plants at the edge


@attrs.frozen(kw_only=True)
class GroundKind:
    """One kind of area. It is built up like the path surface ``built_as``, or on a bare ``base`` of crushed stone, or
    is counted by its area as ``item`` with ``rule``, or by
    the kilograms ``sown`` a square metre. Its fall is judged as a patio's or a lawn's (``falls``).
    ``sat_on`` where people gather, ``water`` where one could drown, ``deep`` metres of it where nothing is said.
    """

    name: str
    words: str
    ground: Ground
    built_as: str = ""
    base: Figure | None = None
    item: str = ""
    rule: str = ""
    sown: Figure | None = None
    deep: Figure | None = None
    falls: Literal["", "patio", "lawn"] = ""
    sat_on: bool = False
    water: bool = False
    cautions: tuple[Warned, ...]
    care: tuple[Care, ...]
    permits: tuple[Asked, ...] = ()


POOL = Asked(
    what="water 24 in (0.61 m) deep or more may count as a pool: ask about a permit and a fence", source=IRC_EXEMPT
)
SHED = Asked(what="ask which permit the shed on it wants, and how near to the boundary it may stand", source=BY_PLACE)
DROWN = Warned(
    what="open water: a small child can drown in 2 in (5 cm); ask which fence or cover your code wants", source=MEMORY
)
FALL = Warned(what="let it fall away from the house, 2 % or more", source="ICPI, Construction Tolerances")
MOWER = Warned(what="clear stones before mowing; keep children off while the mower runs", source=COMMON)
UTILITIES = Warned(what="ask what lies below before digging a base", source=COMMON)

MEADOW_SEED = Figure(
    0.004, "kg a m2", "meadowmania.co.uk, wild flower seed rates: 4 g a square metre, most advice 3 to 5"
)
RILL_DEPTH = Figure(0.15, "m", f"6 in of water in a rill; {HOUSE}")
TICKS = Warned(what="wear long trousers in long grass and look for ticks after it", source=COMMON)


def _meadow(name: str, words: str, look: str, cuts: tuple[Care, ...]) -> GroundKind:
    sown = Care(months=(9,), task="sow bare places of the meadow", how="rake, sow, tread in; never feed it")
    return GroundKind(
        name=name,
        words=words,
        ground=Ground(plan=look, texture=look, view=look, grain=look),
        item="meadow seed",
        rule="wild flowers with grasses on bare, poor ground",
        sown=MEADOW_SEED,
        falls="lawn",
        cautions=(MOWER, TICKS),
        care=(*cuts, sown),
    )


_ROWS = (
    GroundKind(
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
            Care(months=(10, 11), task="rake the leaves off the lawn", how="where trees stand near"),
        ),
    ),
    GroundKind(
        name="patio",
        words="a paved place to sit",
        ground=Ground(plan="patio", texture="paving", view="patio", heavy=True, joints=True),
        built_as="paving",
        falls="patio",
        sat_on=True,
        cautions=(LIFT, DUST, FALL),
        care=(Care(months=(5,), task="sweep sand into the joints of the paving"),),
    ),
    GroundKind(
        name="gravel",
        words="a place of loose stone between edges",
        ground=Ground(plan="gravel", texture="gravel", view="gravel", grain="gravel"),
        built_as="gravel",
        cautions=(ROLLS,),
        care=(Care(months=(4,), task="rake and top up the gravel"),),
    ),
    GroundKind(
        name="pond",
        words="open water",
        ground=Ground(plan="pond", texture="water", view="pond", heavy=True, inner_line=True),
        item="pond",
        rule="liner over the floor, the sides and the edge",
        water=True,
        deep=USUAL_DEPTH,
        permits=(POOL,),
        cautions=(DROWN,),
        care=(
            Care(
                months=(5,), task="thin and divide what grows in the pond", how="leave it by the edge for a day first"
            ),
            Care(
                months=(6, 7, 8), task="top up the pond and skim algae off", how="with rain water where there is some"
            ),
            Care(months=(10, 11), task="net leaves and cut back plants at the pond"),
        ),
    ),
    GroundKind(
        name="rill",
        words="a narrow channel of water that runs from one end to the other",
        ground=Ground(plan="pond", texture="water", view="pond", heavy=True),
        item="pond",
        rule="liner over the floor, the sides and the edge",
        water=True,
        deep=RILL_DEPTH,
        cautions=(DROWN,),
        care=(
            Care(months=(4,), task="clean the rill and start its pump", how="after the last hard frost"),
            Care(months=(11,), task="empty the rill and bring its pump in", how="before hard frost", frost=True),
        ),
    ),
    _meadow(
        "meadow mown once",
        "grass and wild flowers, cut in late summer",
        "meadow",
        (Care(months=(8, 9), task="cut the meadow and take the hay off", how="when most has seeded; on a dry day"),),
    ),
    _meadow(
        "meadow mown twice",
        "grass and wild flowers, cut in early summer and in autumn",
        "short meadow",
        (
            Care(months=(6,), task="cut the meadow and take the hay off", how="after the first flowers"),
            Care(months=(10,), task="cut the meadow again and take the hay off", how="before winter"),
        ),
    ),
    GroundKind(
        name="shed base",
        words="crushed stone under a shed",
        ground=Ground(plan="shed base", view="shed base"),
        base=WALK_BASE,
        permits=(SHED,),
        cautions=(UTILITIES,),
        care=(Care(months=(4,), task="check that the base drains and lies level"),),
    ),
)
GROUND_AREAS: dict[str, GroundKind] = {row.name: row for row in _ROWS}


def ground_kind(name: str) -> GroundKind:
    """Return a kind of paved or lawn area; raises GardenError naming the nearest known one."""
    return look_up(GROUND_AREAS, name, "paved or lawn area")
