"""What keeps and takes up rain in a garden: cisterns and rain gardens, one row a kind."""

import math

from gardenkit.geometry.plane import Outline
from gardenkit.site.rainwater import HOUSE_CLEAR
from gardenkit.sources import HOUSE, MEMORY, Figure
from gardenkit.structure.kinds.placed import (
    BY_PLACE,
    DIG_FIRST,
    IRC_EXEMPT,
    LEVEL,
    SOIL_DRY,
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

BANK_PIECES = 24  # that a rain garden's bank is drawn in. House value.
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
    """Return a low bank, piece by piece, round a floor of soil as low as the ground; its height is how deep water may
    stand within the bank.
    """
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    rings = [_ellipse(x - share * BERM, y - share * BERM) for share in (0.0, 0.4, 0.6, 1.0)]
    outer, crest, brow, inner = rings
    bank = (
        Form(
            foot=(outer[k - 1], outer[k], inner[k], inner[k - 1]),
            head=(crest[k - 1], crest[k], brow[k], brow[k - 1]),
            low=0.0,
            high=h,
            material="turf",
        )
        for k in range(BANK_PIECES)
    )
    floor = Form(foot=inner, head=inner, low=0.0, high=0.01, material="soil")
    return (floor, *bank)


def _ellipse(x: float, y: float) -> Outline:
    turns = [2 * math.pi * k / BANK_PIECES for k in range(BANK_PIECES)]
    return tuple((max(0.05, x) * math.cos(t), max(0.05, y) * math.sin(t)) for t in turns)


def floor_of(thing: Thing) -> float:
    """Return the m2 of a rain garden's floor within its bank."""
    return math.pi * max(0.0, thing.width / 2 - BERM) * max(0.0, thing.depth / 2 - BERM)


def rain_garden_dug(thing: Thing) -> float:
    """Return the m3 dug out of a rain garden's floor for its soil mix."""
    return floor_of(thing) * 8 * INCH


def rain_garden_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return the soil mix of a rain garden's floor, a hand deep."""
    rule = "8 in of sandy planting soil over the floor"
    return (Counted(item="raised bed soil", amount=rain_garden_dug(thing), unit="m3", rule=rule, source=MEMORY),)


def rain_garden_weight(thing: Thing) -> Weighed:
    """Return the soil brought in, dry and with its water."""
    soil = rain_garden_dug(thing) * SOIL_DRY
    full = soil + 1000 * floor_of(thing) * thing.height
    return Weighed(empty=soil, full=full, heaviest=25.0, source=f"{SOIL_DRY.source}, by the barrow")


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
        dug=rain_garden_dug,
        work="built",
        rounded=True,
        footed=True,
        inside=float(BERM),
        sunk=True,
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
