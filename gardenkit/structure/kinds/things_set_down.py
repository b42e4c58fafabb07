"""Things set down in a garden to sit at or to look at: benches, tables, statues, pots, boulders, one row a kind."""

import math

from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.structure.kinds.bodies_set_down import (
    BASIN_DEEP,
    BRUSHED,
    CHAIR,
    PUSHED_BACK,
    WINTERED,
    WIPED,
    bench,
    bird_bath,
    boulder_parts,
    boulder_weight,
    boulders,
    fire_bowl,
    pot,
    pot_litres,
    pot_parts,
    pot_weight,
    statue,
    sundial,
    table_and_chairs,
    table_parts,
    table_weight,
)
from gardenkit.structure.kinds.placed import (
    FIFTEEN_FEET,
    LEVEL,
    LIFT,
    Apart,
    Asked,
    Size,
    ThingKind,
    by_width,
    one,
    solid,
)
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.units import FOOT

CODE_FIRE = "IFC 307.4.2, second-hand: 25 ft, or 15 ft in an approved container"
ROWS = (
    ThingKind(
        name="bench",
        words="a slatted seat with a back",
        usual=Size(width=1.5, depth=0.6, height=0.85),
        forms=bench,
        counts=one("bench"),
        weight=by_width(23.0),
        work="set down",
        room=Figure(0.6, "m", f"knees and feet before a seat; {HOUSE}"),
        cautions=(LEVEL,),
        care=(WIPED,),
    ),
    ThingKind(
        name="table and chairs",
        words="a table with chairs, and room to push them back",
        usual=Size(width=2.48, depth=1.58, height=0.85),
        forms=table_and_chairs,
        counts=table_parts,
        weight=table_weight,
        work="set down",
        room=Figure(PUSHED_BACK - CHAIR * 0.75, "m", PUSHED_BACK.source),
        cautions=(Warned(what="stand it on a level floor; a parasol needs a weighted foot", source=COMMON),),
        care=(WIPED, WINTERED),
    ),
    ThingKind(
        name="statue",
        words="a figure on a plinth, to look at from afar",
        usual=Size(width=0.45, depth=0.45, height=1.4),
        forms=statue,
        counts=one("statue"),
        weight=solid(0.25),
        work="set down",
        footed=True,
        permits=(Asked(what="ask about anything over 6 ft high near the boundary", source=MEMORY, above=6 * FOOT),),
        cautions=(
            LIFT,
            Warned(what="pin it to its plinth, and the plinth to a footing: a child may pull on it", source=COMMON),
        ),
        care=(BRUSHED,),
    ),
    ThingKind(
        name="sundial",
        words="a dial on a column, in the open sun",
        usual=Size(width=0.4, depth=0.4, height=1.0),
        forms=sundial,
        counts=one("sundial"),
        weight=solid(0.15),
        work="set down",
        rounded=True,
        cautions=(LIFT, Warned(what="blunt the gnomon's tip: it is at the height of a child's eye", source=COMMON)),
        care=(BRUSHED,),
    ),
    ThingKind(
        name="bird bath",
        words="a shallow basin of water on a foot",
        usual=Size(width=0.5, depth=0.5, height=0.75),
        forms=bird_bath,
        counts=one("bird bath"),
        weight=solid(0.11),
        work="set down",
        rounded=True,
        litres=lambda thing: 1000 * math.pi * (0.85 * thing.width / 2) ** 2 * BASIN_DEEP / 2,
        cautions=(LEVEL, Warned(what="stand it where no cat can hide within a leap, about 6 ft", source=MEMORY)),
        care=(
            Care(
                months=tuple(range(1, 13)), task="scrub and refill the bird bath", how="weekly; every other day in heat"
            ),
        ),
    ),
    ThingKind(
        name="pot",
        words="a pot or planter with its own soil",
        usual=Size(width=0.5, depth=0.5, height=0.5),
        forms=pot,
        counts=pot_parts,
        weight=pot_weight,
        work="set down",
        rounded=True,
        litres=pot_litres,
        cautions=(
            Warned(what="ask what a balcony, roof or deck carries before it stands there, full and wet", source=COMMON),
            LIFT,
        ),
        care=(Care(months=(5, 6, 7, 8, 9), task="water pots", how="daily in heat, until it runs out below"), WINTERED),
    ),
    ThingKind(
        name="boulder group",
        words="three stones of one kind, part in the ground",
        usual=Size(width=1.6, depth=1.1, height=0.6),
        forms=boulders,
        counts=boulder_parts,
        weight=boulder_weight,
        work="built",
        open_below=True,
        footed=True,
        permits=(Asked(what="ask before boulders go on a slope or over a pipe or cable", source=COMMON),),
        cautions=(
            Warned(
                what="boulders are moved by machine or by people who do it for a living; keep clear below",
                source=COMMON,
            ),
        ),
        care=(Care(months=(4,), task="check that boulders lie firm"),),
    ),
    ThingKind(
        name="fire bowl",
        words="a ring for a small open fire",
        usual=Size(width=0.9, depth=0.9, height=0.4),
        forms=fire_bowl,
        counts=one("fire bowl"),
        weight=solid(0.35),
        work="set down",
        rounded=True,
        room=Figure(1.5, "m", f"chairs stand back from the heat; {HOUSE}"),
        apart=(
            Apart(of="building", least=Figure(FIFTEEN_FEET, "m", CODE_FIRE), why="fire spreads by sparks"),
            Apart(of="boundary", least=Figure(FIFTEEN_FEET, "m", f"as from a building; {HOUSE}"), why="fences burn"),
            Apart(
                of="tree", least=Figure(FIFTEEN_FEET, "m", f"as from a building; {HOUSE}"), why="crowns catch sparks"
            ),
        ),
        permits=(
            Asked(
                what="ask the fire office whether open fires are allowed, and when",
                source="IFC 307, second-hand; towns differ",
            ),
        ),
        cautions=(
            Warned(what="never leave a fire alone; keep water or sand beside it and children back", source=COMMON),
            Warned(what="no river stones round a fire: wet stone can burst", source=COMMON),
        ),
        care=(Care(months=(4, 10), task="clear the ashes and check the fire bowl for cracks"),),
    ),
)
