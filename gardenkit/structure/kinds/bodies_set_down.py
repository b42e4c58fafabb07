"""The bodies, pieces and weights of what is set down: benches, tables, statues, pots, boulders."""

import math
from itertools import pairwise

from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.kinds.placed import (
    POTTING_WET,
    SIT,
    SOFTWOOD,
    STONE,
    Counted,
    Weighed,
)
from gardenkit.structure.kinds.rows import Care
from gardenkit.structure.kinds.thing_forms import ROUND, Form, box, drum, legs, moved, walls
from gardenkit.structure.structure import Thing
from gardenkit.units import INCH

TABLE_HIGH = Figure(29 * INCH, "m", f"a table is 28 to 30 in high; {COMMON}")
CHAIR = 0.45  # m square. House value.
CHAIR_KG = 6.0  # kg. House value.
EDGE_A_CHAIR = Figure(24 * INCH, "m", "designer's guide: 24 in of table edge a seat")
PUSHED_BACK = Figure(36 * INCH, "m", "designer's guide: 36 in clear round a table to rise and pass")
POT_WALL = 0.02  # m. House value.
PLANTER_WALL, PLANTER_FOOT = 0.025, 0.04  # m: how thick its boards are, how high it stands. House values.
PLANTER_BOARD, PLANTER_RIM = 0.12, 0.04  # m: boards about so high, soil so far below their top. House values.
THICK = Figure(2 * INCH, "m", "hardscape supplier: stepping stones 2 to 3 in thick")
BASIN_DEEP = Figure(2 * INCH, "m", f"a bird bath is no deeper than 2 in; {COMMON}")
# Of a boulder, from its foot up: the share of its height, of its width, and how far it leans over. House values.
STONE_PROFILE = ((0.0, 0.94, 0.0), (0.4, 0.97, -0.02), (0.72, 0.8, 0.07), (0.92, 0.56, 0.16), (1.0, 0.34, 0.2))
STONE_SIDES = 8
PLINTH = 0.28  # of a statue's height. House value.
# Of a draped figure, from its feet up: the share of its height, of half its width and of half its depth. House values.
FIGURE = (
    (0.0, 0.62, 0.5),
    (0.1, 0.6, 0.52),
    (0.34, 0.44, 0.4),
    (0.52, 0.37, 0.32),
    (0.59, 0.33, 0.27),
    (0.68, 0.42, 0.34),
    (0.76, 0.5, 0.3),
    (0.795, 0.44, 0.25),
    (0.82, 0.17, 0.16),
    (0.85, 0.15, 0.16),
    (0.875, 0.21, 0.22),
    (0.92, 0.25, 0.27),
    (0.96, 0.22, 0.24),
    (0.985, 0.14, 0.15),
    (1.0, 0.04, 0.05),
)
WIPED = Care(months=(4,), task="wash and oil garden furniture", how="a dry day")
WINTERED = Care(months=(11,), task="cover or bring in what frost harms", how="empty what holds water", frost=True)
BRUSHED = Care(months=(4,), task="brush moss off stone and check that it stands firm")


def bench(thing: Thing) -> tuple[Form, ...]:
    """Return a slatted seat with a back on four legs."""
    x, y = thing.width / 2, thing.depth / 2
    seat = min(float(SIT), 0.6 * thing.height)
    return (
        *legs(x, y, seat - 0.04, "timber"),
        box((-x, x), (-y + 0.05, y), (seat - 0.04, seat), "timber", boards=4),
        *_back(x, y, seat, thing.height),
    )


def _back(x: float, y: float, low: float, high: float) -> tuple[Form, ...]:
    """Return the slatted back of a bench between two posts."""
    posts = [
        box((u * x - (u > 0) * 0.06, u * x + (u < 0) * 0.06), (-y, -y + 0.06), (low, high), "timber") for u in (-1, 1)
    ]
    first, every = low + 0.08, (high - low - 0.08) / 3
    slats = [
        box((-x + 0.06, x - 0.06), (-y + 0.01, -y + 0.04), (first + k * every, first + (k + 0.68) * every), "timber")
        for k in range(3)
    ]
    return (*posts, *slats)


def chairs_at(thing: Thing) -> int:
    """Return how many chairs stand round a table: 24 in of its edge each, none at the corners' expense."""
    long, short = _table(thing)
    return 2 * int(long / EDGE_A_CHAIR + 1e-9) + 2 * int(short / EDGE_A_CHAIR / 1.5 + 1e-9)


def _table(thing: Thing) -> tuple[float, float]:
    """Return the length and width of the table that a set of this size has between its chairs pushed in."""
    under = 2 * CHAIR * 0.75
    return max(0.6, thing.width - under), max(0.6, thing.depth - under)


def table_and_chairs(thing: Thing) -> tuple[Form, ...]:
    """Return a table on legs with chairs pushed half in on all sides that hold one."""
    long, wide = _table(thing)
    x, y, top = long / 2, wide / 2, min(float(TABLE_HIGH), thing.height)
    found = [
        *legs(x - 0.08, y - 0.08, top - 0.04, "timber"),
        box((-x, x), (-y, y), (top - 0.04, top), "timber", boards=6),
    ]
    sides = int(long / EDGE_A_CHAIR + 1e-9)
    ends = int(wide / EDGE_A_CHAIR / 1.5 + 1e-9)
    for turn, count, far in ((0.0, sides, y), (180.0, sides, y), (90.0, ends, x), (270.0, ends, x)):
        for k in range(count):
            along = (k - (count - 1) / 2) * EDGE_A_CHAIR
            found += moved(_chair(along, far, thing.height), (0.0, 0.0), turn=turn)
    return tuple(found)


def _chair(along: float, far: float, high: float) -> tuple[Form, ...]:
    half, front = CHAIR / 2, far - CHAIR * 0.25
    seat = min(float(SIT), high - 0.2)
    return (
        *moved(legs(half, half, seat - 0.03, "metal", thick=0.03), (along, front + half)),
        box((along - half, along + half), (front, front + CHAIR), (seat - 0.03, seat), "timber", boards=3),
        box((along - half, along + half), (front + CHAIR - 0.03, front + CHAIR), (seat, high), "timber"),
    )


def table_weight(thing: Thing) -> Weighed:
    """Return 25 kg a square metre of table and 6 kg a chair."""
    long, wide = _table(thing)
    table = 25.0 * long * wide
    mass = table + CHAIR_KG * chairs_at(thing)
    return Weighed(empty=mass, full=mass, heaviest=table, source=f"25 kg a m2 of table, 6 kg a chair; {HOUSE}")


def table_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return a table and its chairs."""
    return (
        Counted(item="garden table", amount=1),
        Counted(
            item="garden chair",
            amount=chairs_at(thing),
            rule="one each 24 in of table edge",
            source=EDGE_A_CHAIR.source,
        ),
    )


def statue(thing: Thing) -> tuple[Form, ...]:
    """Return a draped figure on a plinth with base and cap: robe, waist, shoulders and head in one outline."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    stand = PLINTH * h
    return (
        box((-x, x), (-y, y), (0.0, 0.14 * stand), "stone"),
        box((-0.84 * x, 0.84 * x), (-0.84 * y, 0.84 * y), (0.14 * stand, 0.86 * stand), "stone"),
        box((-x, x), (-y, y), (0.86 * stand, stand), "stone"),
        *(
            _oval((wide * x, deep * y), (above * x, back * y), (stand + low * (h - stand), stand + top * (h - stand)))
            for (low, wide, deep), (top, above, back) in pairwise(FIGURE)
        ),
    )


def _oval(foot: tuple[float, float], head: tuple[float, float], z: tuple[float, float]) -> Form:
    """Return a body between two ellipses, of their half widths to the right and ahead."""
    turns = [2 * math.pi * k / ROUND for k in range(ROUND)]
    rings = [tuple((a * math.cos(t), b * math.sin(t)) for t in turns) for a, b in (foot, head)]
    return Form(foot=rings[0], head=rings[1], low=z[0], high=z[1], material="pale stone")


def sundial(thing: Thing) -> tuple[Form, ...]:
    """Return a waisted column with a round plate and its gnomon."""
    r, h = thing.width / 2, thing.height
    return (
        box((-r, r), (-r, r), (0.0, 0.08 * h), "stone"),
        drum((0.0, 0.0), 0.7 * r, (0.08 * h, 0.85 * h), "pale stone", head=0.45 * r),
        drum((0.0, 0.0), 0.9 * r, (0.85 * h, 0.94 * h), "stone"),
        box((-0.02, 0.02), (-0.5 * r, 0.5 * r), (0.94 * h, h), "metal", taper=0.5),
    )


def bird_bath(thing: Thing) -> tuple[Form, ...]:
    """Return a wide basin with water on a foot."""
    r, h = thing.width / 2, thing.height
    return (
        drum((0.0, 0.0), 0.6 * r, (0.0, 0.1 * h), "stone"),
        drum((0.0, 0.0), 0.32 * r, (0.1 * h, 0.82 * h), "pale stone", head=0.28 * r),
        drum((0.0, 0.0), 0.4 * r, (0.82 * h, h - 0.005), "stone", head=r),
        drum((0.0, 0.0), 0.85 * r, (h - 0.005, h), "water"),
    )


def pot(thing: Thing) -> tuple[Form, ...]:
    """Return a pot that widens upwards, with its soil."""
    r, h = thing.width / 2, thing.height
    return (
        drum((0.0, 0.0), 0.72 * r, (0.0, 0.88 * h), "terracotta", head=0.95 * r),
        drum((0.0, 0.0), r, (0.88 * h, h - 0.005), "terracotta"),
        drum((0.0, 0.0), 0.86 * r, (h - 0.005, h), "soil"),
    )


def pot_litres(thing: Thing) -> float:
    """Return the litres of a pot inside its wall, as a cylinder (the usual way pots are reckoned)."""
    r, h = thing.width / 2 - POT_WALL, max(0.0, thing.height - POT_WALL)
    return 1000 * math.pi * max(0.0, r) ** 2 * h


def pot_weight(thing: Thing) -> Weighed:
    """Return a pot empty and full of wet mix."""
    shell = 1900.0 * POT_WALL * math.pi * thing.width * (thing.height + thing.width / 4)
    full = shell + pot_litres(thing) / 1000 * POTTING_WET
    said = f"fired clay 1.9 kg a litre, walls 2 cm; {HOUSE}; {POTTING_WET.source}"
    return Weighed(empty=shell, full=full, heaviest=full, source=said)


def pot_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return a pot and what fills it."""
    rule = "the inside of the pot as a cylinder"
    return (
        Counted(item="pot", amount=1),
        Counted(item="potting mix", amount=pot_litres(thing) / 1000, unit="m3", rule=rule),
    )


def planter(thing: Thing) -> tuple[Form, ...]:
    """Return a box of boards on four feet, with its soil."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    inner = (x - PLANTER_WALL, y - PLANTER_WALL)
    return (
        *legs(x, y, PLANTER_FOOT, "dark timber", thick=2 * PLANTER_WALL),
        box((-inner[0], inner[0]), (-inner[1], inner[1]), (PLANTER_FOOT, h - PLANTER_RIM), "soil"),
        *walls(thing, PLANTER_WALL, "timber", low=PLANTER_FOOT, course=PLANTER_BOARD),
    )


def planter_litres(thing: Thing) -> float:
    """Return the litres inside the walls of a planter, from its floor to its top."""
    wide, deep = (max(0.0, side - 2 * PLANTER_WALL) for side in (thing.width, thing.depth))
    return 1000 * wide * deep * max(0.0, thing.height - PLANTER_FOOT - PLANTER_WALL)


def planter_weight(thing: Thing) -> Weighed:
    """Return a planter empty, and full of wet mix."""
    boards = 2 * (thing.width + thing.depth) * (thing.height - PLANTER_FOOT) + thing.width * thing.depth
    shell = boards * PLANTER_WALL * SOFTWOOD
    full = shell + planter_litres(thing) / 1000 * POTTING_WET
    return Weighed(empty=shell, full=full, heaviest=full, source=f"{SOFTWOOD.source}; {POTTING_WET.source}")


def planter_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return a planter and what fills it."""
    return (
        Counted(item="planter", amount=1),
        Counted(item="potting mix", amount=planter_litres(thing) / 1000, unit="m3", rule="the inside of the planter"),
    )


def boulders(thing: Thing) -> tuple[Form, ...]:
    """Return three stones of a group, the largest highest, each sunk a little."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    return (
        *_stone((-0.35 * x, 0.15 * y), 0.62 * x, 0.8 * y, h, 0.4),
        *_stone((0.55 * x, -0.1 * y), 0.42 * x, 0.66 * y, 0.62 * h, 1.3),
        *_stone((0.0, -0.66 * y), 0.32 * x, 0.33 * y, 0.4 * h, 2.2),
    )


def _stone(at: tuple[float, float], along: float, across: float, high: float, turn: float) -> tuple[Form, ...]:
    def ring(share: float, shift: float) -> tuple[tuple[float, float], ...]:
        found = []
        for k in range(STONE_SIDES):
            t = 2 * math.pi * (k + 0.28 * math.sin(2.7 * k + 5.0 * turn)) / STONE_SIDES + turn
            r = share * (1 + 0.05 * math.sin(2.0 * t + turn) + 0.03 * math.sin(5.0 * t))
            found.append((at[0] + r * along * math.cos(t) + shift * along, at[1] + r * across * math.sin(t)))
        return tuple(found)

    return tuple(
        Form(foot=ring(*wide), head=ring(*above), low=low * high, high=top * high, material="stone")
        for (low, *wide), (top, *above) in pairwise(STONE_PROFILE)
    )


def foot_stone(thing: Thing) -> tuple[Form, ...]:
    """Return a flat stone, level with the soil but for its upper edge."""
    return (drum((0.0, 0.0), thing.width / 2, (0.0, thing.height), "stone", across=thing.depth / 2),)


def foot_stone_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return its stone by weight, as stepping stones are bought."""
    rule = f"a flat stone {THICK / INCH:.2g} in thick, bedded on screenings"
    return (Counted(item="stones", amount=_flat(thing), unit="kg", rule=rule, source=STONE.source),)


def foot_stone_weight(thing: Thing) -> Weighed:
    """Return the weight of a flat stone."""
    mass = _flat(thing)
    return Weighed(empty=mass, full=mass, heaviest=mass, source=STONE.source)


def _flat(thing: Thing) -> float:
    return math.pi / 4 * thing.width * thing.depth * THICK * STONE


def boulder_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return three boulders."""
    return (
        Counted(item="boulder", amount=3, rule="three of a kind, a third of the largest in the ground", source=HOUSE),
    )


def boulder_weight(thing: Thing) -> Weighed:
    """Return the group at 45 % of its box, the largest 55 % of that."""
    mass = 0.45 * thing.width * thing.depth * thing.height * STONE
    return Weighed(empty=mass, full=mass, heaviest=0.55 * mass, source=f"45 % of their box ({HOUSE}) at {STONE.source}")


def fire_bowl(thing: Thing) -> tuple[Form, ...]:
    """Return a ring of stone with its embers."""
    r, h = thing.width / 2, thing.height
    return (
        drum((0.0, 0.0), r, (0.0, h - 0.01), "stone", head=0.96 * r),
        drum((0.0, 0.0), 0.7 * r, (h - 0.01, h), "embers"),
    )
