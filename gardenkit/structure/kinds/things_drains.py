"""What takes water off the ground: gully, channel drain and soakaway, one row a kind."""

from functools import partial

from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.kinds.placed import (
    BY_PLACE,
    DIG_FIRST,
    GRAVEL,
    Apart,
    Asked,
    Counted,
    Size,
    ThingKind,
    Weighed,
    one,
)
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.structure.kinds.thing_forms import Form, box, drum
from gardenkit.structure.structure import Thing

SOAKAWAY_DEEP = Figure(1.0, "m", f"a pit of stone below its lid, shallow enough to be dug by hand; {HOUSE}")
SOAKAWAY_CLEAR = Figure(5.0, "m", "5 m from a building or road (CNC Building Control, how to size a soakaway)")
SOAKAWAY_EDGE = Figure(2.5, "m", "preferably 2.5 m from a boundary (CNC Building Control, how to size a soakaway)")
OUTLET = Asked(what="ask where ground water may be led: a street drain or a neighbour may not take it", source=BY_PLACE)
GRATED = Warned(what="a grate that no heel, stick or wheel catches in, level with the ground", source=COMMON)
CLEARED = (Care(months=(4, 10, 11), task="lift the grates, clear leaves and silt from the drains"),)
LID = 0.15  # m: half of a soakaway's lid. House value.


def grate(thing: Thing) -> tuple[Form, ...]:
    """Return a frame with its grate, level with the ground but for the rim that is drawn."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    return (
        box((-x, x), (-y, y), (0.0, 0.5 * h), "pale stone"),
        box((-0.9 * x, 0.9 * x), (-0.8 * y, 0.8 * y), (0.5 * h, h), "metal", boards=6),
    )


def soakaway(thing: Thing) -> tuple[Form, ...]:
    """Return what shows of a pit of stone: turf or gravel over it, and its lid."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    return (
        box((-x, x), (-y, y), (0.0, 0.5 * h), "gravel"),
        drum((0.0, 0.0), LID, (0.5 * h, h), "metal"),
    )


def channel_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return a channel by its length."""
    return (Counted(item="channel drain", amount=thing.width, unit="m", rule="by its length, with its grate"),)


def soakaway_dug(thing: Thing) -> float:
    """Return the m3 of the pit."""
    return thing.width * thing.depth * SOAKAWAY_DEEP


def soakaway_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return the stone of the pit."""
    rule = "a pit filled with stone, 40 in (1 m) deep"
    stone = soakaway_dug(thing)
    return (Counted(item="crushed stone", amount=stone, unit="m3", rule=rule, source=SOAKAWAY_DEEP.source),)


def drain_weight(thing: Thing) -> Weighed:
    """Return the weight of grate and channel, carried a metre at a time."""
    mass = 18.0 * max(thing.width, 0.3)
    return Weighed(empty=mass, full=mass, heaviest=min(mass, 18.0), source=f"18 kg a metre; {HOUSE}")


def pit_weight(thing: Thing) -> Weighed:
    """Return the weight of a pit's stone, brought by the barrow."""
    mass = soakaway_dug(thing) * GRAVEL
    return Weighed(empty=mass, full=mass, heaviest=25.0, source=f"{GRAVEL.source}, by the barrow")


_drain = partial(ThingKind, work="built", footed=True, permits=(OUTLET,), care=CLEARED)
ROWS = (
    _drain(
        name="gully",
        words="a trapped grate that takes the water of the ground round it to a pipe",
        usual=Size(width=0.3, depth=0.3, height=0.04),
        forms=grate,
        counts=one("gully"),
        weight=drain_weight,
        cautions=(DIG_FIRST, GRATED),
    ),
    _drain(
        name="channel drain",
        words="a channel under a grate along the low edge of paving",
        usual=Size(width=3.0, depth=0.13, height=0.04),
        forms=grate,
        counts=channel_parts,
        weight=drain_weight,
        cautions=(DIG_FIRST, GRATED),
    ),
    _drain(
        name="soakaway",
        words="a pit of stone that lets water into the ground",
        usual=Size(width=1.0, depth=1.0, height=0.04),
        forms=soakaway,
        counts=soakaway_parts,
        weight=pit_weight,
        dug=soakaway_dug,
        takes_rain=True,
        apart=(
            Apart(of="building", least=SOAKAWAY_CLEAR, why="water in the ground loosens footings"),
            Apart(of="boundary", least=SOAKAWAY_EDGE, why="its water would reach the neighbour"),
        ),
        cautions=(
            DIG_FIRST,
            Warned(what="no one in a pit that is not held; fill it the day it is dug", source=COMMON),
            Warned(what="test first that a filled hole drains within a day", source="Wisconsin manual, second-hand"),
        ),
    ),
)
