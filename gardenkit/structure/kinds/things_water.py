"""What keeps and takes up rain in a garden: cisterns and rain gardens, one row a kind."""

import math

from gardenkit.site.rainwater import HOUSE_CLEAR
from gardenkit.sources import HOUSE, MEMORY, Figure
from gardenkit.structure.kinds.placed import (
    BY_PLACE,
    DIG_FIRST,
    IRC_EXEMPT,
    LEVEL,
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
from gardenkit.structure.kinds.things_of_use import CLEANED, EMPTIED, LIDDED, NOT_TO_DRINK
from gardenkit.structure.structure import Thing
from gardenkit.units import INCH

BERM = Figure(0.3, "m", f"a low bank round a rain garden; {HOUSE}")


def cistern(thing: Thing) -> tuple[Form, ...]:
    """Return a boxy tank on a plinth with its lid."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    return (
        box((-x, x), (-y, y), (0.0, 0.15), "stone"),
        box((-0.97 * x, 0.97 * x), (-0.97 * y, 0.97 * y), (0.15, h - 0.06), "green plastic"),
        drum((0.0, 0.0), 0.25 * x, (h - 0.06, h), "dark plastic"),
    )


def cistern_litres(thing: Thing) -> float:
    """Return the litres of a tank inside its walls, above its plinth."""
    return 1000 * 0.9 * thing.width * thing.depth * max(0.0, thing.height - 0.2)


def cistern_weight(thing: Thing) -> Weighed:
    """Return a tank empty (a twentieth of its water) and full."""
    litres = cistern_litres(thing)
    empty = litres / 20
    return Weighed(empty=empty, full=empty + litres, heaviest=empty, source=f"1 kg a litre; empty a twentieth, {HOUSE}")


def rain_garden(thing: Thing) -> tuple[Form, ...]:
    """Return a low bank round a floor of soil; its height is how deep water may stand within the bank."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    inner = max(0.05, x - BERM)
    return (
        drum((0.0, 0.0), x, (0.0, h), "leaves", across=y, head=max(0.05, x - BERM / 2), sides=24),
        drum((0.0, 0.0), inner, (h - 0.01, h), "soil", across=max(0.05, y - BERM), sides=24),
    )


def floor_of(thing: Thing) -> float:
    """Return the m2 of a rain garden's floor within its bank."""
    return math.pi * max(0.0, thing.width / 2 - BERM) * max(0.0, thing.depth / 2 - BERM)


def rain_garden_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return the soil mix of a rain garden's floor, a hand deep."""
    rule = "8 in of sandy planting soil over the floor"
    return (Counted(item="raised bed soil", amount=floor_of(thing) * 8 * INCH, unit="m3", rule=rule, source=MEMORY),)


def rain_garden_weight(thing: Thing) -> Weighed:
    """Return the soil brought in, dry and with its water."""
    soil = floor_of(thing) * 8 * INCH * 1600.0
    full = soil + 1000 * floor_of(thing) * thing.height
    return Weighed(empty=soil, full=full, heaviest=25.0, source=f"soil 1,600 kg/m3 dry, by the barrow; {MEMORY}")


ROWS = (
    ThingKind(
        name="cistern",
        words="a tank that keeps the rain of a roof",
        usual=Size(width=1.2, depth=1.0, height=1.2),
        forms=cistern,
        counts=one("cistern"),
        weight=cistern_weight,
        work="built",
        footed=True,
        litres=cistern_litres,
        takes_rain=True,
        permits=(
            Asked(what="ask whether rain may be kept, and where the overflow may run", source=BY_PLACE),
            Asked(what="a tank over 5,000 gal, or twice as high as wide, wants a permit", source=IRC_EXEMPT, above=2.0),
        ),
        cautions=(LIDDED, NOT_TO_DRINK, LEVEL),
        care=(CLEANED, EMPTIED),
    ),
    ThingKind(
        name="rain garden",
        words="a planted hollow within a low bank that takes a roof's rain",
        usual=Size(width=4.6, depth=3.4, height=0.15),
        forms=rain_garden,
        counts=rain_garden_parts,
        weight=rain_garden_weight,
        work="built",
        rounded=True,
        footed=True,
        inside=float(BERM),
        takes_rain=True,
        apart=(Apart(of="building", least=HOUSE_CLEAR, why="no water to the cellar or the footings"),),
        permits=(Asked(what="ask whether roof water may be led into the ground here", source=BY_PLACE),),
        cautions=(
            DIG_FIRST,
            Warned(
                what="a hole must drain within a day before one is built: fill it, come back after 24 h",
                source="Wisconsin manual, second-hand",
            ),
            Warned(what="standing water: a small child can drown in 2 in (5 cm)", source=MEMORY),
        ),
        care=(
            Care(months=(3,), task="cut back the rain garden and clear its inlet"),
            Care(months=(6, 9), task="see that the rain garden drains within a day of rain"),
        ),
    ),
)
