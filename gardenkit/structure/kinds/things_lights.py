"""Garden lights on a low-voltage cable: path, step, wall, seat and tree lights, one row a kind.

The height of a lamp is how high it is mounted; each shines warm or cool.
"""

from functools import partial

from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.kinds.placed import BY_PLACE, Asked, Lamp, Size, ThingKind, Weighed, one
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.structure.kinds.thing_forms import Form, box, drum
from gardenkit.structure.structure import Thing
from gardenkit.units import FOOT

LUMENS = "engineerfix.com: path lights 50 to 100 lumens, steps and busy paths 100 to 200"
POOL = Figure(5.5 * FOOT, "m", "askthelightingpro.com: an 18 in path light lights 5 to 6 ft round it")
EVERY = Figure(7 * FOOT, "m", "engineerfix.com: path lights 6 to 8 ft apart")
TREE_BEAM = Figure(38.0, "degrees", f"the usual flood of a spotlight, sold as 10 to 60 degrees wide; {COMMON}")
TREE_REACH = Figure(3.0, "m", f"on the plan, of a beam that goes up into a crown; {HOUSE}")
MAINS = Warned(
    what="low voltage only; sockets, mains and the transformer's supply are an electrician's work", source=COMMON
)
GLARE = Warned(what="shield the lamp so that it shines neither into eyes nor into a neighbour's window", source=COMMON)
DARK_SKY = Asked(what="ask whether the town limits garden lights, their hours and their colour", source=BY_PLACE)
ELECTRICIAN = Asked(what="ask whether the socket the transformer hangs on wants a permit", source=BY_PLACE)
LAMP_CARE = (
    Care(months=(10,), task="wipe the lamps, clear leaves from them and reset the clock"),
    Care(months=(4,), task="check cable joints and cut plants clear of the lamps"),
)


def bollard(thing: Thing) -> tuple[Form, ...]:
    """Return a slim post with its lamp under a hood."""
    r, h = thing.width / 2, thing.height
    return (
        drum((0.0, 0.0), 0.35 * r, (0.0, 0.78 * h), "metal", sides=8),
        drum((0.0, 0.0), 0.6 * r, (0.78 * h, 0.9 * h), "lamp", sides=10),
        drum((0.0, 0.0), r, (0.9 * h, h), "metal", head=0.4 * r, sides=10),
    )


def lantern(thing: Thing) -> tuple[Form, ...]:
    """Return a lamp on a wall: a plate behind it, the lamp, its hood; it hangs as high as it is."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    return (
        box((-0.5 * x, 0.5 * x), (-y, -0.7 * y), (h - 0.32, h), "metal"),
        box((-0.6 * x, 0.6 * x), (-0.7 * y, 0.6 * y), (h - 0.28, h - 0.06), "lamp"),
        box((-x, x), (-0.7 * y, y), (h - 0.06, h), "metal"),
    )


def spike(thing: Thing) -> tuple[Form, ...]:
    """Return a spotlight on a spike that shines upwards."""
    r, h = thing.width / 2, thing.height
    return (
        drum((0.0, 0.0), 0.3 * r, (0.0, 0.4 * h), "metal", sides=8),
        drum((0.0, 0.0), 0.6 * r, (0.4 * h, h - 0.01), "metal", head=r, sides=10),
        drum((0.0, 0.0), 0.85 * r, (h - 0.01, h), "lamp", sides=10),
    )


def recessed(thing: Thing) -> tuple[Form, ...]:
    """Return a lamp let into a riser or the front of a seat: a frame with its lens, shining forwards and down."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    low = max(0.02, h - 0.08)
    return (
        box((-x, x), (-y, 0.5 * y), (low, h), "metal"),
        box((-0.9 * x, 0.9 * x), (0.5 * y, y), (low + 0.1 * (h - low), h - 0.3 * (h - low)), "lamp"),
    )


def _weighs(kg: float) -> Weighed:
    return Weighed(empty=kg, full=kg, heaviest=kg, source=HOUSE)


def _lamp(watts: float, lumens: Figure, pool: Figure, *, ahead: bool = False, beam: Figure | None = None) -> Lamp:
    return Lamp(watts=Figure(watts, "W", HOUSE), lumens=lumens, pool=pool, ahead=ahead, beam=beam)


_light = partial(ThingKind, work="set down", permits=(DARK_SKY, ELECTRICIAN), care=LAMP_CARE)
ROWS = (
    _light(
        name="path light",
        words="a low lamp beside a path",
        usual=Size(width=0.16, depth=0.16, height=0.46),
        forms=bollard,
        counts=one("path light"),
        weight=lambda thing: _weighs(1.2),
        rounded=True,
        lamp=_lamp(3.0, Figure(100.0, "lm", LUMENS), POOL),
        cautions=(MAINS, GLARE),
    ),
    _light(
        name="step light",
        words="a lamp let into a riser or a low wall, that lights the tread before it",
        usual=Size(width=0.2, depth=0.06, height=0.15),
        forms=recessed,
        counts=one("step light"),
        weight=lambda thing: _weighs(0.6),
        open_below=True,
        lamp=_lamp(3.0, Figure(100.0, "lm", LUMENS), Figure(1.2, "m", HOUSE), ahead=True),
        cautions=(MAINS, GLARE, Warned(what="light every step of a flight alike, or one is missed", source=COMMON)),
    ),
    _light(
        name="wall light",
        words="a hooded lamp on a wall or a post, as high as the head",
        usual=Size(width=0.2, depth=0.2, height=1.8),
        forms=lantern,
        counts=one("wall light"),
        weight=lambda thing: _weighs(1.5),
        open_below=True,
        lamp=_lamp(5.0, Figure(200.0, "lm", LUMENS), Figure(2.4, "m", HOUSE), ahead=True),
        cautions=(MAINS, GLARE),
    ),
    _light(
        name="seat light",
        words="a strip of light under the front of a seat",
        usual=Size(width=1.2, depth=0.05, height=0.4),
        forms=recessed,
        counts=one("seat light"),
        weight=lambda thing: _weighs(0.8),
        open_below=True,
        lamp=_lamp(4.0, Figure(150.0, "lm", HOUSE), Figure(1.2, "m", HOUSE), ahead=True),
        cautions=(MAINS, GLARE),
    ),
    _light(
        name="tree light",
        words="a spotlight on a spike that shines up into a tree, the way it faces",
        usual=Size(width=0.14, depth=0.14, height=0.25),
        forms=spike,
        counts=one("tree light"),
        weight=lambda thing: _weighs(0.8),
        rounded=True,
        lamp=_lamp(6.0, Figure(400.0, "lm", HOUSE), TREE_REACH, beam=TREE_BEAM),
        cautions=(MAINS, GLARE, Warned(what="no trench for its cable within a tree's root circle", source=COMMON)),
    ),
)
