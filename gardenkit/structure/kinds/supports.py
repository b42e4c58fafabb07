"""Supports for plants, one row a kind: what it is, what it holds, how it is drawn, built, judged and looked after.

A new kind is one row here and, where no symbol in ``drawing`` suits it, a symbol; ``tests/structure/test_kinds.py``
asks every row for everything.
"""

from collections.abc import Iterable
from typing import Literal

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.geometry.solid import Solid, panel
from gardenkit.site.openings import Opening
from gardenkit.site.standing import openings_in, standing_pieces
from gardenkit.sources import COMMON
from gardenkit.structure.kinds import support_parts as built
from gardenkit.structure.kinds.frames import Frame, arch_frame, length_of, roof_frame
from gardenkit.structure.kinds.placed import IRC_EXEMPT, Asked
from gardenkit.structure.kinds.rows import (
    Bodies,
    Care,
    Drawn,
    GroundHeight,
    Hold,
    Parts,
    Sizes,
    Usual,
    Warned,
    look_up,
)
from gardenkit.structure.kinds.support_parts import DEFAULT_POSTS, Part, PostChoice
from gardenkit.structure.structure import Support
from gardenkit.structure.training import trained
from gardenkit.units import FOOT, INCH, System

CANOPY = 0.3  # m: thickness of what shades at the top of an arch, arbour or pergola. House value.
Stands = Literal["flat", "overhead", "round"]


@attrs.frozen(kw_only=True)
class SupportKind:
    """One kind of support. ``stands`` flat along its line, overhead (one walks or sits below it) or round a middle, up
    which plants go on all sides; a ``barrier`` runs along a line, is opened by gates, and often
    needs a permit; ``fixings`` is what to mind on a wall.
    """

    name: str
    words: str
    stands: Stands
    usual: Usual
    hold: Hold
    drawn: Drawn
    solids: Bodies
    parts: Parts
    cautions: tuple[Warned, ...]
    care: tuple[Care, ...]
    sizes: Sizes | None = None
    barrier: bool = False
    fixings: tuple[Warned, ...] = ()
    permits: tuple[Asked, ...] = ()


# ---- bodies


def sheets(support: Support, ground: GroundHeight) -> tuple[Solid, ...]:
    """Return an upright sheet along every stretch of the line, letting light through as its openness says."""
    return _sheets(support, ground, 0.0)


def canopy(support: Support, ground: GroundHeight) -> tuple[Solid, ...]:
    """Return the top of what stands on the two ends of its line: one looks and walks through below."""
    return _sheets(support, ground, support.height - CANOPY)


def cross(support: Support, ground: GroundHeight) -> tuple[Solid, ...]:
    """Return two upright sheets crossed in the middle, half as wide as the base: the mean width of what tapers."""
    (ax, ay), (bx, by) = support.line[0], support.line[-1]
    x, y, u, v = (ax + bx) / 2, (ay + by) / 2, (bx - ax) / 4, (by - ay) / 4
    foot = ground((x, y))
    ends = (((x - u, y - v), (x + u, y + v)), ((x + v, y - u), (x - v, y + u)))
    light = (support.openness,) * 12
    return tuple(panel(support.name, a, b, foot, foot + support.height, light=light) for a, b in ends)


def _sheets(support: Support, ground: GroundHeight, lift: float) -> tuple[Solid, ...]:
    made = []
    for a, b in zip(support.line, support.line[1:], strict=False):
        foot = min(ground(a), ground(b))
        light = (support.openness,) * 12
        made.append(panel(support.name, a, b, foot + lift, foot + support.height, light=light))
    return tuple(made)


# ---- the table

STRENGTH = Warned(
    what="sizes of timbers come from a table; a builder or engineer confirms them, above all before a heavy climber",
    source=COMMON,
)
ANCHORED = Warned(what="anchor the posts: a climber in full leaf catches the wind like a sail", source=COMMON)
ROOFED = Asked(
    what="over 200 sq ft, under a roof or fixed to the house it may want a permit; ask how near to the boundary it may "
    "stand",
    source=IRC_EXEMPT,
)
STEADY = Warned(what="push every leg in evenly and check it after storms; one in leaf topples in wind", source=COMMON)
EYES = Warned(what="cap the ends of wires and bolts at eye height", source=COMMON)
BOUNDARY = Warned(what="ask whose boundary it is, and the neighbour, before building on the line", source=COMMON)
CHECKED = Care(months=(3,), task="check posts, ties and wires", how="before they are covered")
PAINTED = Care(months=(9,), task="oil or paint the wood where it wants it", how="dry weather, every few years")
TIGHTENED = Care(months=(3,), task="tighten wires and turnbuckles", how="before growth")
FOOT_CLEAR = Warned(what="bottom 12 to 18 in above the ground", source=built.TRELLIS_FOOT_GAP.source)
DRILLED = Warned(
    what="eye bolts 1 to 2 in from a joint, one each 6 ft; wear eye protection and a dust mask to drill masonry",
    source=COMMON,
)
ENTRY = Sizes(
    words="at least 3 ft wide and 6 ft 8 in high, an entry arbour 4 ft by 8 ft",
    source=COMMON,
    low=80 * INCH,
    width=3 * FOOT,
    too_small=True,
)
PERGOLA_CLEAR = Sizes(
    words="usual clear height is 8 to 10 ft, to the lowest edge",
    source="pool-trade magazine",
    low=8 * FOOT,
    high=10 * FOOT,
)

# What each holds is our reading of the usual build of each kind; how climbers hold on: see ``structure.supports``.
_ROWS = (
    SupportKind(
        name="arbour",
        words="a roofed frame over a seat or an entrance",
        stands="overhead",
        usual=Usual(length=2.4, height=2.4, depth=1.2, openness=0.85),
        hold=Hold(heavy=True),
        drawn=Drawn(plan="frame", elevation="frame", view="frame"),
        solids=canopy,
        parts=built.roofed,
        sizes=ENTRY,
        permits=(ROOFED,),
        cautions=(STRENGTH, ANCHORED),
        care=(CHECKED, PAINTED),
    ),
    SupportKind(
        name="arch",
        words="two lattice sides joined over a path",
        stands="overhead",
        usual=Usual(length=1.5, height=2.4, depth=0.6, openness=0.85),
        hold=Hold(slender=True, mesh=True),
        drawn=Drawn(plan="frame", elevation="frame", view="frame"),
        solids=canopy,
        parts=built.arch,
        sizes=ENTRY,
        cautions=(ANCHORED,),
        care=(CHECKED, PAINTED),
    ),
    SupportKind(
        name="pergola",
        words="posts and beams that carry rafters over a walk or a terrace",
        stands="overhead",
        usual=Usual(length=3.6, height=2.6, depth=2.4, openness=0.8),
        hold=Hold(heavy=True),
        drawn=Drawn(plan="frame", elevation="frame", view="frame"),
        solids=canopy,
        parts=built.roofed,
        sizes=PERGOLA_CLEAR,
        permits=(ROOFED,),
        cautions=(STRENGTH, ANCHORED),
        care=(CHECKED, PAINTED),
    ),
    SupportKind(
        name="trellis",
        words="a panel of crossed laths",
        stands="flat",
        usual=Usual(length=1.8, height=1.8, openness=0.8),
        hold=Hold(slender=True, mesh=True),
        drawn=Drawn(plan="crossed ticks", elevation="raised lattice", view="lattice"),
        solids=sheets,
        parts=built.lattice,
        cautions=(ANCHORED,),
        care=(CHECKED, PAINTED),
        fixings=(FOOT_CLEAR,),
    ),
    SupportKind(
        name="wall wires",
        words="level wires between eye bolts or posts",
        stands="flat",
        usual=Usual(length=3.0, height=2.1, openness=0.95),
        hold=Hold(slender=True, trains=True),
        drawn=Drawn(plan="broken line", elevation="wires", view="wires"),
        solids=sheets,
        parts=built.wired,
        cautions=(EYES,),
        care=(CHECKED, TIGHTENED),
        fixings=(DRILLED,),
    ),
    SupportKind(
        name="espalier",
        words="wires at the heights of a trained form",
        stands="flat",
        usual=Usual(length=4.3, height=1.8, openness=0.9),
        hold=Hold(slender=True, trains=True),
        drawn=Drawn(plan="ticks", elevation="wires", view="wires"),
        solids=sheets,
        parts=built.trained_wires,
        cautions=(EYES,),
        care=(CHECKED, TIGHTENED),
        fixings=(DRILLED,),
    ),
    SupportKind(
        name="fence",
        words="posts, rails and boards",
        stands="flat",
        usual=Usual(length=4.0, height=1.5, openness=0.3),
        hold=Hold(solid=True, trains=True),
        drawn=Drawn(plan="run", elevation="lattice", view="boards"),
        solids=sheets,
        parts=built.boarded,
        barrier=True,
        cautions=(BOUNDARY, ANCHORED),
        care=(CHECKED, PAINTED),
    ),
    SupportKind(
        name="screen",
        words="a free-standing panel of laths that hides something",
        stands="flat",
        usual=Usual(length=2.4, height=1.8, openness=0.5),
        hold=Hold(slender=True, mesh=True),
        drawn=Drawn(plan="slatted", elevation="lattice", view="boards"),
        solids=sheets,
        parts=built.lattice,
        barrier=True,
        cautions=(ANCHORED,),
        care=(CHECKED, PAINTED),
    ),
    SupportKind(
        name="obelisk",
        words="four legs that meet in a point, for a climber in the middle of a bed",
        stands="round",
        usual=Usual(length=0.5, height=2.0, openness=0.85),
        hold=Hold(slender=True, mesh=True),
        drawn=Drawn(plan="tapered", elevation="tapered", view="tapered"),
        solids=cross,
        parts=built.tapered,
        cautions=(STEADY,),
        care=(Care(months=(3,), task="check that the legs stand firm", how="before growth"), PAINTED),
    ),
)
SUPPORTS: dict[str, SupportKind] = {row.name: row for row in _ROWS}


# ---- what a support answers by its kind


def support_kind(name: str) -> SupportKind:
    """Return a kind of support; raises GardenError naming the nearest known one."""
    return look_up(SUPPORTS, name, "support")


def is_overhead(support: Support) -> bool:
    """Return whether one walks or sits below a support."""
    return support_kind(support.kind).stands == "overhead"


def standing_supports(supports: Iterable[Support], openings: Iterable[Opening]) -> tuple[Support, ...]:
    """Return the supports as they stand: fences and screens cut at the gates in them, under their own names."""
    gates = tuple(openings)
    found: list[Support] = []
    for support in supports:
        if support_kind(support.kind).barrier and not support.against:
            within = openings_in(support.name, gates, elsewhere=(o.on for o in gates if o.on != support.name and o.on))
            found += [attrs.evolve(support, line=piece) for piece in standing_pieces(support.line, within)]
        else:
            found.append(support)
    return tuple(found)


def support_solids(support: Support, ground: GroundHeight) -> tuple[Solid, ...]:
    """Return a support's bodies on the ground."""
    return support_kind(support.kind).solids(support, ground)


def parts_list(
    support: Support,
    *,
    posts: PostChoice = DEFAULT_POSTS,
    form: str = "espalier",
    openings: Iterable[Opening] = (),
) -> tuple[Part, ...]:
    """Return the parts of a support; ``form`` is the trained form of an espalier; gates among ``openings`` in a fence
    take no boards. Raises GardenError for a line
    without length.

    Beams and rafters are sized by a published table; a builder or engineer decides.
    """
    made = support_kind(support.kind).parts
    found: dict[tuple[str, float, str, str], Part] = {}
    for piece in standing_supports((support,), openings):
        for part in made(piece, posts, form):
            key = (part.name, round(part.length, 4), part.unit, part.note)
            found[key] = attrs.evolve(part, count=part.count + (found[key].count if key in found else 0))
    return tuple(found.values())


def frame_of(support: Support, units: System = "imperial") -> Frame:
    """Return the timbers of an arbour, a pergola or an arch. Raises GardenError for a line without length."""
    made = support_kind(support.kind).parts
    return arch_frame(support, units) if made is built.arch else roof_frame(support, units)


def under_frame(support: Support, units: System = "imperial") -> Region:
    """Return the ground under the beams and rafters of an arbour, a pergola or an arch, to their very ends; nothing of
    what stands in a line or round a middle. Raises GardenError for a line without length.
    """
    if not is_overhead(support):
        return plane.NOWHERE
    frame = frame_of(support, units)
    first, last = support.line[0], support.line[-1]
    along, wide = plane.heading(first, last), frame.deep / 2 + frame.over
    ends = (plane.towards(first, along + 180, frame.over), plane.towards(last, along, frame.over))
    near, far = (tuple(plane.towards(end, along + side, wide) for end in ends) for side in (-90, 90))
    return plane.region((*near, *reversed(far)))


def wires_of(support: Support, units: System = "imperial") -> tuple[float, ...]:
    """Return how high each wire of a support runs, as it is bought, metres; none where it has none."""
    made = support_kind(support.kind).parts
    if made is built.wired:
        return built.wires_at(support.height, units)
    try:
        return trained(length_of(support), support.height).wires if made is built.trained_wires else ()
    except GardenError:  # said in 04_structure
        return ()
