"""New hedges, straight or along a line, one row a kind: plants a metre, in one row or two, how high they are kept.

The width of a hedge is its run, along its line where it has one, its depth how thick it is kept, its height how high.
"""

import math
from itertools import pairwise

import attrs

from gardenkit.geometry.plane import Line, Outline
from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.structure.kinds.placed import BY_PLACE, Asked, Counted, Grows, Size, ThingKind, Weighed
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.structure.kinds.thing_forms import Form, box
from gardenkit.structure.structure import Thing
from gardenkit.units import FOOT

BUNKERS = "bunkershillgardenshop.co.uk, hedging planting and spacing guide"
BATTER = Figure(0.75, "share", "intergardening.co.uk: the base of a hedge a third wider than its top")
PLANT_KG = Figure(0.4, "kg", f"a bare-rooted plant of 2 ft; {HOUSE}")
PLANT = Figure(0.6, "m", f"bare-rooted plants of 2 ft (60 cm); {HOUSE}")
LOW_PLANT, LOW = Figure(0.15, "m", f"box in a small pot; {HOUSE}"), 0.6
BEECH_YEAR = Figure(0.3, "m a year", "edensrestplants.co.uk, hornbeam: 20 to 40 cm a year")
PRIVET_YEAR = Figure(0.3, "m a year", "hopesgrovenurseries.co.uk: medium growth, privet among it, about 30 cm a year")
NATIVE_YEAR = Figure(0.4, "m a year", "glebefarmhedging.co.uk: most hedge plants 30 to 45 cm a year")
YEW_YEAR = Figure(0.2, "m a year", MEMORY)
BOX_YEAR = Figure(0.1, "m a year", MEMORY)
LEAVES = {
    "beech hedge": "beech leaves",
    "double beech hedge": "beech leaves",
    "box edging": "box leaves",
    "yew hedge": "yew leaves",
    "mixed native hedge": "mixed leaves",
}
SHARPEST = 0.35  # a corner sharper than this is cut off, not drawn out to a point. House value.
NESTS = Warned(what="look for nests before clipping from March to August; disturbing them is unlawful", source=BY_PLACE)
SHARED = Warned(what="ask whose boundary it is; plant at least half a grown hedge's depth inside it", source=COMMON)
TALL = Asked(
    what="ask how high a hedge may be at the front and the side: often 3 to 6 ft", source=BY_PLACE, above=3 * FOOT
)
FRONT = Asked(what="ask before planting where drivers must see past a corner", source=BY_PLACE)
POISON = Warned(
    what="yew, box, privet and laurel are poisonous to people and animals; no clippings where stock or dogs go",
    source=MEMORY,
)
FIRST_YEARS = Care(months=(5, 6, 7, 8), task="water the new hedge", how="weekly in its first two summers", years=2)


@attrs.frozen(kw_only=True)
class Planted:
    """How a hedge is set: plants a ``metre`` in all, in how many ``rows``, and how far these are apart in metres."""

    metre: float
    rows: int = 1
    apart: float = 0.0
    source: str = BUNKERS

    @property
    def spacing(self) -> float:
        """Metres from plant to plant in one row."""
        return self.rows / self.metre

    def count(self, run: float) -> int:
        """Return the plants of a run: the first and last stand half a spacing from its ends; the second row is
        staggered and has one fewer.

        >>> Planted(metre=3.0).count(2.0), Planted(metre=6.0, rows=2).count(6.0)
        (6, 35)
        """
        first = max(1, math.floor(run / self.spacing + 1e-6))
        return first if self.rows == 1 else 2 * first - 1


def leaves_of(thing: Thing) -> str:
    """Return the material of a hedge's body, by what it is of."""
    return LEAVES.get(thing.kind, "leaves")


def hedge(thing: Thing) -> tuple[Form, ...]:
    """Return a hedge wider below than above, a body for each stretch of its line, their ends cut along one joint."""
    if thing.line:
        return _along(thing)
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    lower = box((-x, x), (-y, y), (0.0, 0.5 * h), leaves_of(thing), taper=(1 + BATTER) / 2)
    top = (1 + BATTER) / 2
    upper = box((-top * x, top * x), (-top * y, top * y), (0.5 * h, h), leaves_of(thing), taper=BATTER / top)
    return (lower, upper)


def _along(thing: Thing) -> tuple[Form, ...]:
    """Return two bodies, the lower the wider, for each stretch of a hedge's line."""
    middle = (1 + BATTER) / 2
    sides = {
        share: (_beside(thing.line, share * thing.depth / 2), _beside(thing.line, -share * thing.depth / 2))
        for share in (1.0, middle, float(BATTER))
    }

    def quad(share: float, k: int) -> Outline:
        left, right = sides[share]
        return (left[k], left[k + 1], right[k + 1], right[k])

    half, top = 0.5 * thing.height, thing.height
    return tuple(
        Form(foot=quad(low, k), head=quad(high, k), low=z[0], high=z[1], material=leaves_of(thing))
        for k in range(len(thing.line) - 1)
        for low, high, z in ((1.0, middle, (0.0, half)), (middle, float(BATTER), (half, top)))
    )


def _beside(line: Line, off: float) -> Line:
    """Return a line ``off`` metres to the left of another, as many corners, each on the half angle of its joint."""
    ways = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(line)]
    found = []
    for k, (x, y) in enumerate(line):
        before, after = ways[max(k - 1, 0)], ways[min(k, len(ways) - 1)]
        turn = math.remainder(after - before, math.tau)
        way, far = before + turn / 2, off / max(math.cos(turn / 2), SHARPEST)
        found.append((x - far * math.sin(way), y + far * math.cos(way)))
    return tuple(found)


def _row(
    name: str, words: str, planted: Planted, usual: Size, clipped: tuple[int, ...], item: str, a_year: Figure
) -> ThingKind:
    grows = Grows(planted=LOW_PLANT if usual.height < LOW else PLANT, a_year=a_year)

    def counts(thing: Thing) -> tuple[Counted, ...]:
        rows = "one row" if planted.rows == 1 else f"two staggered rows {planted.apart:.2f} m apart"
        years = max(0, math.ceil((thing.height - grows.planted) / grows.a_year - 1e-6))
        rule = (
            f"{planted.metre:g} a metre in {rows}, half a spacing from the ends; kept {thing.height:.2f} m high, "
            f"which it reaches about {years} years after planting"
        )
        return (Counted(item=item, amount=planted.count(thing.width), rule=rule, source=planted.source),)

    def weight(thing: Thing) -> Weighed:
        mass = planted.count(thing.width) * PLANT_KG
        return Weighed(empty=mass, full=mass, heaviest=float(PLANT_KG), source=PLANT_KG.source)

    return ThingKind(
        name=name,
        words=words,
        usual=usual,
        forms=hedge,
        counts=counts,
        weight=weight,
        work="planted",
        footed=True,
        lined=True,
        grows=grows,
        permits=(TALL, FRONT),
        cautions=(SHARED, NESTS, POISON),
        care=(Care(months=clipped, task=f"clip the {name}", how="narrower at the top"), FIRST_YEARS),
    )


_TWO = Planted(metre=5.0, rows=2, apart=0.45)
ROWS = (
    _row(
        "beech hedge",
        "beech or hornbeam in one row",
        Planted(metre=3.0),
        Size(width=3.0, depth=0.6, height=1.8),
        (8,),
        "hedge plant",
        BEECH_YEAR,
    ),
    _row(
        "double beech hedge",
        "beech or hornbeam in two rows",
        _TWO,
        Size(width=3.0, depth=0.9, height=1.8),
        (8,),
        "hedge plant",
        BEECH_YEAR,
    ),
    _row(
        "privet hedge",
        "privet in one row",
        Planted(metre=3.0),
        Size(width=3.0, depth=0.6, height=1.5),
        (5, 8),
        "hedge plant",
        PRIVET_YEAR,
    ),
    _row(
        "box edging",
        "box or the like, kept low",
        Planted(metre=6.0),
        Size(width=3.0, depth=0.3, height=0.4),
        (6, 9),
        "small hedge plant",
        BOX_YEAR,
    ),
    _row(
        "yew hedge",
        "yew in one row",
        Planted(metre=1.5),
        Size(width=3.0, depth=0.7, height=1.8),
        (8,),
        "large hedge plant",
        YEW_YEAR,
    ),
    _row(
        "mixed native hedge",
        "native shrubs of several kinds in two rows",
        Planted(metre=5.0, rows=2, apart=0.4),
        Size(width=4.0, depth=1.2, height=2.0),
        (2,),
        "hedge plant",
        NATIVE_YEAR,
    ),
)
