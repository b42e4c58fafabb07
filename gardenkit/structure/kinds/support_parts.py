"""What goes into a support: posts, rails, rafters, wires, bolts and bags of concrete, by its line and height.

Each builder takes a support, how its posts are set, and the trained form of an espalier, and returns the parts.
"""

import math

import attrs

from gardenkit.findings import GardenError
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.kinds.frames import (
    CROSSMEMBER_SPACING,
    POST_ACROSS,
    RAFTER_SPACING,
    arch_frame,
    length_of,
    roof_frame,
)
from gardenkit.structure.kinds.timber_sizes import ASK, BEAMS, CONFIRM, HABIT, JOISTS, LATH, RAIL, TimberSize
from gardenkit.structure.posts import Bag, Post, bag_of, count_posts, hole_diameter, hole_volume, post
from gardenkit.structure.structure import Structure, Support
from gardenkit.structure.training import EYE_BOLT_SPACING, FREE_POST_SPACING, trained
from gardenkit.units import FOOT, INCH, System, as_built

PANEL_SPACING = Figure(8 * FOOT, "m", f"fence and screen posts 8 ft apart; {HOUSE}")
WIRE_SPACING = Figure(15 * INCH, "m", f"wires every 15 in; {COMMON}")
TALL_FENCE = Figure(6 * FOOT, "m", f"three rails from 6 ft high, two below; {HOUSE}")
RUNG_SPACING = Figure(12 * INCH, "m", f"rungs of an obelisk a foot apart; {HOUSE}")
LEG_FOOT = Figure(12 * INCH, "m", f"an obelisk's legs pushed a foot into the ground; {HOUSE}")
TRELLIS_FOOT_GAP = Figure(12 * INCH, "m", f"bottom of the trellis above the ground; {COMMON}")


@attrs.frozen(kw_only=True)
class Part:
    """One line of a parts list: how many, how long each in metres (0 where length means nothing), the section of what
    is timber, and where the count comes from.
    """

    name: str
    count: float
    length: float = 0.0
    unit: str = "pieces"
    note: str = ""
    size: TimberSize | None = None

    def called(self, units: System) -> str:
        """Return its name with its section."""
        return f"{self.name}, {self.size.said(units)}" if self.size else self.name


@attrs.frozen(kw_only=True)
class PostChoice:
    """How posts are set and by which units supports are built: depth rule, frost depth in metres, thickness, bag of
    concrete, gravel under the foot in metres.
    """

    rule: str = "one third of total"
    frost_depth: float = 0.0
    loose_sand: bool = False
    across: float = float(POST_ACROSS)
    gravel: float = 0.0
    units: System = "imperial"

    @property
    def bag(self) -> Bag:
        """The bag of concrete mix that is bought."""
        return bag_of(self.units)

    def built(self, metres: float) -> float:
        """Return a measure of a table in inches as it is built here."""
        return as_built(metres, self.units)


DEFAULT_POSTS = PostChoice()


def posts_of(structure: Structure, units: System) -> PostChoice:
    """Return how posts are set in a garden: by its post rule and below its recorded frost depth, everywhere alike."""
    across = as_built(POST_ACROSS, units)
    return PostChoice(rule=structure.post_rule, frost_depth=structure.frost_depth, across=across, units=units)


def post_of(support: Support, posts: PostChoice = DEFAULT_POSTS) -> Post:
    """Return one post of a support: how far it goes in and how long it is."""
    return post(support.height, rule=posts.rule, frost_depth=posts.frost_depth, loose_sand=posts.loose_sand)


# ---- what each is built of


def roofed(support: Support, posts: PostChoice, form: str) -> tuple[Part, ...]:
    """Return a roofed frame: posts on both sides, two beams, rafters."""
    frame = roof_frame(support, posts.units)
    beam, rafter, over = frame.beam, frame.rafter, 2 * frame.over
    pair = f"one on either side of the posts, bolted; {CONFIRM}: {BEAMS if beam else 'beyond the table'}; {ASK}"
    across = f"{CONFIRM}: {RAFTER_SPACING.source}; {JOISTS if rafter else 'beyond the table'}; {ASK}"
    return (
        *_set_posts(support, 2 * (frame.bays + 1), posts),
        Part(name="beam board", count=4, length=frame.long + over, note=pair, size=beam),
        Part(name="rafter", count=frame.rafters, length=frame.deep + over, note=across, size=rafter),
    )


def arch(support: Support, posts: PostChoice, form: str) -> tuple[Part, ...]:
    """Return an arch: four posts, two lattice sides, rails over the top."""
    frame = arch_frame(support, posts.units)
    return (
        *_set_posts(support, 4, posts),
        Part(name="top rail", count=2, length=frame.long, note=HABIT, size=frame.beam),
        Part(name="side lattice", count=2, length=support.height, note=f"{frame.deep:.2f} m wide each"),
        Part(name="cross rail over the top", count=frame.rafters, length=frame.deep, note=HABIT, size=frame.rafter),
    )


def lattice(support: Support, posts: PostChoice, form: str) -> tuple[Part, ...]:
    """Return laths on crossmembers: battens on a wall, or posts where it stands free."""
    length = length_of(support)
    tall = support.height - posts.built(TRELLIS_FOOT_GAP)
    if not tall > 0:
        raise GardenError(
            f'support "{support.name}" is {support.height:g} m high, too low for a lattice 12 in off the ground'
        )
    every = posts.built(CROSSMEMBER_SPACING)
    rows = math.floor(tall / every + 1e-9) + 1
    panel = Part(name="lattice", count=round(tall * length, 3), unit="m2", note=CROSSMEMBER_SPACING.source)
    rails = Part(name="crossmember", count=rows, length=length, note=HABIT, size=LATH)
    if support.against:
        battens = Part(
            name="batten on the wall",
            count=count_posts(length, every),
            length=tall,
            note=f"1 to 4 in stand-off; {HABIT}",
            size=LATH,
        )
        return (battens, rails, panel)
    return (*_set_posts(support, count_posts(length, posts.built(PANEL_SPACING)), posts), rails, panel)


def boarded(support: Support, posts: PostChoice, form: str) -> tuple[Part, ...]:
    """Return posts, rails and boards; what is left open takes no boards."""
    length = length_of(support)
    count = count_posts(length, posts.built(PANEL_SPACING))
    bays = count - 1
    rails = 3 if support.height >= posts.built(TALL_FENCE) - 1e-9 else 2
    told = f"{TALL_FENCE.source}; {HABIT}"
    infill = support.height * length * (1.0 - support.openness)
    return (
        *_set_posts(support, count, posts),
        Part(name="rail", count=rails * bays, length=length / bays, note=told, size=RAIL),
        Part(name="infill boards", count=round(infill, 3), unit="m2", note=f"{100 * support.openness:.0f} % left open"),
    )


def wired(support: Support, posts: PostChoice, form: str) -> tuple[Part, ...]:
    """Return level wires one above the other."""
    return _wires(support, length_of(support), wires_at(support.height, posts.units), posts, "wire rope 1/8 in")


def trained_wires(support: Support, posts: PostChoice, form: str) -> tuple[Part, ...]:
    """Return the wires of a trained form at its own heights. Raises GardenError for a form not known."""
    length = length_of(support)
    made = trained(length, support.height, form=form)
    return _wires(support, length, made.wires, posts, f"wire, {made.form.gauge}")


def tapered(support: Support, posts: PostChoice, form: str) -> tuple[Part, ...]:
    """Return an obelisk: four legs from the corners of a square base to one point, with rungs between them."""
    wide, tall = length_of(support), support.height
    every, foot = posts.built(RUNG_SPACING), posts.built(LEG_FOOT)
    rows = math.floor(tall / every - 1e-9)
    rungs = math.fsum(4 * wide * (1 - k * every / tall) for k in range(1, rows + 1))
    leg = math.hypot(tall, wide / math.sqrt(2)) + foot
    pushed = f"{foot:.2f} m of each in the ground: {LEG_FOOT.source}"
    apart = f"{4 * rows} pieces; {RUNG_SPACING.source}"
    return (
        Part(name="leg", count=4, length=leg, note=pushed, size=LATH),
        Part(name="rung", count=round(rungs, 3), unit="m", note=apart, size=LATH),
        Part(name="finial", count=1),
    )


def _wires(
    support: Support, length: float, heights: tuple[float, ...], posts: PostChoice, wire: str
) -> tuple[Part, ...]:
    rows = len(heights)
    wires = (
        Part(name=wire, count=round(rows * length, 3), unit="m", note=f"at {', '.join(f'{z:.2f}' for z in heights)} m"),
        Part(name="turnbuckle", count=rows),
    )
    if support.against:
        bolts = count_posts(length, posts.built(EYE_BOLT_SPACING)) * rows
        return (*wires, Part(name="eye bolt", count=bolts, note=EYE_BOLT_SPACING.source))
    count = count_posts(length, posts.built(FREE_POST_SPACING))
    told = f"end posts braced; {COMMON}; {HABIT}"
    through = Part(name="eye bolt", count=count * rows, note=f"one a wire through each post; {COMMON}")
    braces = Part(name="end brace", count=2, length=support.height, note=told, size=RAIL)
    return (*_set_posts(support, count, posts), braces, *wires, through)


def wires_at(height: float, units: System = "imperial") -> tuple[float, ...]:
    """Return how high each wire of plain wires up to ``height`` runs, metres."""
    every = as_built(WIRE_SPACING, units)
    count = max(1, math.floor(height / every + 1e-9))
    return tuple(every * (k + 1) for k in range(count))


def _set_posts(support: Support, count: int, posts: PostChoice) -> tuple[Part, ...]:
    one = post_of(support, posts)
    hole = hole_diameter(posts.across)
    concrete = count * hole_volume(hole, one.buried, post_across=posts.across, gravel=posts.gravel)
    return (
        Part(name="post", count=count, length=one.length, note=f"{one.buried:.2f} m in the ground: {one.source}"),
        Part(name="concrete", count=posts.bag.fill(concrete), unit="bags", note=f"holes {hole:.2f} m wide"),
    )
