"""What a row of the table of placed things says, and the figures that rows are made of: sizes, pieces, weights."""

from collections.abc import Callable
from typing import Literal

import attrs

from gardenkit.findings import LOCAL_CODE
from gardenkit.sources import COMMON, HOUSE, MEMORY, PLAIN, Figure
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.structure.kinds.thing_forms import Forms
from gardenkit.structure.steps import Steps
from gardenkit.structure.structure import Thing
from gardenkit.units import CUBIC_FOOT, FOOT, INCH, POUND

STONE = Figure(2643.0, "kg/m3", "stone suppliers' estimating value, 165 lb/cu ft")
SOFTWOOD = Figure(500.0, "kg/m3", f"sawn softwood, air dry; {MEMORY}")
MOIST_COMPOST = Figure(
    1200 * POUND / (27 * CUBIC_FOOT),
    "kg/m3",
    "finished compost 1,200 lb/cu yd (woodmaterialsyard.com, of the US Composting Council)",
)
POTTING_WET = Figure(960.0, "kg/m3", "potting mix, wet: 60 lb/cu ft, second-hand (40 to 60 lb/cu ft)")
GRAVEL = Figure(2000 * POUND / (20 * CUBIC_FOOT), "kg/m3", "stone supplier's how-to: 1 ton = 20 cu ft")
SOIL_DRY = Figure(
    100 * POUND / CUBIC_FOOT, "kg/m3", "garden soil, dry: 100 lb/cu ft, second-hand (seaint list archive, 2003)"
)
SOIL_WET = Figure(2000.0, "kg/m3", "garden soil, soaked: 125 lb/cu ft, second-hand (seaint list archive, 2003)")
IRC_EXEMPT = "IRC 2021 R105.2, second-hand; towns differ"
BY_PLACE = "local code differs from town to town"

LIGHTS = {  # the colours of light a lamp is bought in, kelvin
    "warm": Figure(2700.0, "K", f"warm white lamps are sold as 2,700 to 3,000 K; {COMMON}"),
    "cool": Figure(4000.0, "K", f"cool white lamps are sold as 4,000 K and more; {COMMON}"),
}

Unit = Literal["m3", "m2", "m", "each", "kg"]
Work = Literal["built", "planted", "set down"]
Nearby = Literal["building", "boundary", "tree", "overhead line"]


@attrs.frozen(kw_only=True)
class Size:
    """Width, depth and height that a new one begins with, metres."""

    width: float
    depth: float
    height: float


@attrs.frozen(kw_only=True)
class Counted:
    """What a thing takes of one item: ``amount`` in ``unit``, the rule it is counted by and its source."""

    item: str
    amount: float
    unit: Unit = "each"
    rule: str = "bought or made by the piece"
    source: str = PLAIN


@attrs.frozen(kw_only=True)
class Weighed:
    """What a thing weighs in kilograms: as it is carried in pieces or whole (``heaviest`` piece), and ``full`` of what
    it holds.
    """

    empty: float
    full: float
    heaviest: float
    source: str


@attrs.frozen(kw_only=True)
class Asked:
    """A permit to ask about, with its source, where what is built is higher (of water: deeper) than ``above`` m or
    covers more than ``over`` m2.
    """

    what: str
    source: str
    above: float = 0.0
    over: float = 0.0

    def asks(self, height: float, ground: float) -> bool:
        """Return whether what stands so high on so much ground is large enough to ask for."""
        return height > self.above - 1e-9 and ground > self.over - 1e-9

    @property
    def said(self) -> str:
        """What is said of it: the permit, and whom to ask."""
        return f"{self.what}; {LOCAL_CODE}"


@attrs.frozen(kw_only=True)
class Apart:
    """How far a kind stands from something: ``least`` metres, why, and the source."""

    of: Nearby
    least: Figure
    why: str


@attrs.frozen(kw_only=True)
class Lamp:
    """What a light takes and gives: watts at 12 V, lumens, and how far the ground is lit, in metres: all round it, or
    only ``ahead``, where it shines from a wall, a riser or a seat, or in a ``beam`` so many degrees wide, where it is
    aimed.
    """

    watts: Figure
    lumens: Figure
    pool: Figure
    ahead: bool = False
    beam: Figure | None = None

    def shown(self, light: str) -> str:
        """Return its lumens and the colour of its light in words."""
        return f"{self.lumens:g} lumens, {light} white, about {LIGHTS[light]:,.0f} K"


@attrs.frozen(kw_only=True)
class Grows:
    """How high a kind is when it is ``planted``, and how much it grows ``a_year`` until it is as high as kept, m."""

    planted: Figure
    a_year: Figure


Counts = Callable[[Thing], tuple[Counted, ...]]
Weights = Callable[[Thing], Weighed]


@attrs.frozen(kw_only=True)
class ThingKind:
    """One kind of placed thing.

    ``forms`` are its bodies, from which plan, elevation, view and shade are drawn; ``work`` is when it comes: built
    before the plants, planted with them, or set down after them. ``footed`` things have a base or posts in the ground;
    ``base`` is how deep one of crushed stone is, where it stands on no base of its own already.
    ``room`` is kept free all round to use it, of everything that stands where it is ``kept_clear``; ``rounded`` things
    cover an ellipse, others a rectangle; one that is ``open_below`` takes only the ground its feet stand on. A thing
    with ``inside`` holds soil: within walls so thick it is a bed of its name, raised to their top or, ``sunk``, as low
    as the ground. One that is ``lined`` may run along a line, and what ``grows`` is planted small. ``litres`` is what
    it holds, of what is ``potted`` its mix, ``dug`` the m3 of soil dug out for it; one that ``takes_rain`` stands at a
    downpipe, people gather on one that is ``sat_on``, work from one that is ``stood_on``, go up one that has
    ``steps`` or that ``slopes`` over so many metres.
    """

    name: str
    words: str
    usual: Size
    forms: Forms
    counts: Counts
    weight: Weights
    work: Work
    footed: bool = False
    base: Figure | None = None
    rounded: bool = False
    open_below: bool = False
    room: Figure = Figure(0.0, "m", PLAIN)
    kept_clear: bool = False
    inside: float = 0.0
    sunk: bool = False
    litres: Callable[[Thing], float] | None = None
    potted: bool = False
    dug: Callable[[Thing], float] | None = None
    takes_rain: bool = False
    sat_on: bool = False
    stood_on: bool = False
    steps: Callable[[Thing], Steps] | None = None
    slopes: Callable[[Thing], float] | None = None
    lamp: Lamp | None = None
    grows: Grows | None = None
    lined: bool = False
    apart: tuple[Apart, ...] = ()
    permits: tuple[Asked, ...] = ()
    cautions: tuple[Warned, ...]
    care: tuple[Care, ...]


# ---- figures that several rows share


def one(item: str) -> Counts:
    """Return the counting of what is bought by the piece."""
    return lambda thing: (Counted(item=item, amount=1),)


def by_ground(item: str, rule: str) -> Counts:
    """Return the counting of what is built by the area it covers."""

    def counted(thing: Thing) -> tuple[Counted, ...]:
        return (Counted(item=item, amount=thing.width * thing.depth, unit="m2", rule=rule),)

    return counted


def solid(share: float, density: Figure = STONE) -> Weights:
    """Return the weight of what fills a ``share`` of the box round it (a house value) in one piece."""

    def weighed(thing: Thing) -> Weighed:
        mass = share * thing.width * thing.depth * thing.height * density
        return Weighed(
            empty=mass, full=mass, heaviest=mass, source=f"{share:.0%} of its box ({HOUSE}) at {density.source}"
        )

    return weighed


def by_width(kg: float, *, pieces: int = 1) -> Weights:
    """Return the weight of what weighs so much a metre of its width (a house value), carried in so many pieces."""

    def weighed(thing: Thing) -> Weighed:
        mass = kg * thing.width
        return Weighed(empty=mass, full=mass, heaviest=mass / pieces, source=f"{kg:g} kg a metre of width; {HOUSE}")

    return weighed


def by_area(kg: float, *, heaviest: float) -> Weights:
    """Return the weight of what weighs so much a square metre of ground; ``heaviest`` kg is its largest piece."""

    def weighed(thing: Thing) -> Weighed:
        mass = kg * thing.width * thing.depth
        said = f"{kg:g} kg a square metre of ground, heaviest piece {heaviest:g} kg; {HOUSE}"
        return Weighed(empty=mass, full=mass, heaviest=min(mass, heaviest), source=said)

    return weighed


# ---- what several rows say alike

SHED_SIZE = Asked(
    what="a shed or greenhouse over 200 sq ft usually wants a permit, in many towns from 100 or 120 sq ft; ask how "
    "near to the boundary it may stand",
    source=IRC_EXEMPT,
)
BOUNDARY = Asked(what="ask how near to the boundary it may be built, and how high", source=BY_PLACE)
LIFT = Warned(what="heavy: move it with a cart or a second person, gloves and boots on", source=COMMON)
LEVEL = Warned(what="set it on a firm, level base so that it cannot tip onto a child", source=COMMON)
DIG_FIRST = Warned(what="ask what lies below before digging a hole or a base", source=COMMON)
ANCHOR = Warned(what="anchor it against wind as its maker says", source=COMMON)
GLASS = Warned(what="use toughened glass or plastic where children play; wear gloves to glaze it", source=COMMON)
TREATED = Warned(what="wear a dust mask and gloves to cut treated wood, and never burn the offcuts", source=COMMON)
FOUR_FEET, TEN_FEET, FIFTEEN_FEET = 4 * FOOT, 10 * FOOT, 15 * FOOT
SIT = Figure(18 * INCH, "m", f"a seat is 17 to 18 in high; {COMMON}")
EASY_LIFT = Figure(51 * POUND, "kg", "NIOSH publication 94-110, 51 lb")
