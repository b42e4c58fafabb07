"""What a placed thing answers by its kind: the ground it covers, the room it wants, its bodies on the ground."""

import math
from collections.abc import Callable, Iterable
from functools import lru_cache

import attrs
import numpy as np

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Line, Outline, Region
from gardenkit.geometry.solid import OPAQUE, Hull, Solid, prism_edges
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds.rows import GroundHeight
from gardenkit.structure.kinds.thing_forms import Form, drum, placed
from gardenkit.structure.kinds.things import thing_kind
from gardenkit.structure.structure import Bed, Thing

GroundHeights = Callable[[FloatArray], FloatArray]
BELOW_RIM = 0.05  # m the soil of a raised bed lies below its walls' top. House value.
STANDING = 0.01  # m: what begins lower stands on the ground
SHADES_FROM = Figure(0.9, "m", f"lower things shade only their own feet, as low plants do; {HOUSE}")
LIGHT = {  # share of the sun that a material lets through
    "bar": Figure(1.0, "share", f"what glazing bars keep off is taken off the glass; {HOUSE}"),
    "glass": Figure(0.8, "share", f"clean single glass; {HOUSE}"),
    "cord": Figure(1.0, "share", f"a line casts no shade to speak of; {HOUSE}"),
}


def outline_of(thing: Thing, *, more: float = 0.0) -> Outline:
    """Return the ground that a thing covers, on the plan, with ``more`` metres all round (less where negative)."""
    if thing.line:
        half = max(0.01, thing.depth / 2 + more)
        strip = plane.grown(plane.line(thing.line), half, round_ends=False)
        return plane.moved(plane.turned(plane.corners(plane.pieces(strip)[0]), thing.facing), thing.at)
    x, y = max(0.01, thing.width / 2 + more), max(0.01, thing.depth / 2 + more)
    if thing_kind(thing.kind).rounded:
        body = drum((0.0, 0.0), x, (0.0, 1.0), "", across=y, sides=32)
    else:
        foot = ((-x, -y), (x, -y), (x, y), (-x, y))
        body = Form(foot=foot, head=foot, low=0.0, high=1.0, material="")
    return placed((body,), thing)[0].foot


def run_of(thing: Thing) -> Line:
    """Return the middle line of a thing on the plan, along its width or its own line."""
    own = thing.line or ((-thing.width / 2, 0.0), (thing.width / 2, 0.0))
    return plane.moved(plane.turned(own, thing.facing), thing.at)


def ground_of_thing(thing: Thing) -> Region:
    """Return the ground that a thing covers."""
    return plane.region(outline_of(thing))


def taken_by(thing: Thing) -> Region:
    """Return the ground that a thing takes from beds: all it covers, or where it is open below that of its feet."""
    if not thing_kind(thing.kind).open_below:
        return ground_of_thing(thing)
    return plane.union(plane.region(form.foot) for form in forms_of(thing) if form.low < STANDING)


def lit_by(thing: Thing, *, share: float = 1.0) -> Outline:
    """Return the outline of the ground that a lamp lights, or of the ``share`` of its reach; empty for other things."""
    lamp = thing_kind(thing.kind).lamp
    if lamp is None:
        return ()
    far = share * float(lamp.pool)
    if lamp.beam is not None:
        half = math.radians(lamp.beam / 2)
        rim = tuple((far * math.sin(t), far * math.cos(t)) for t in np.linspace(-half, half, 13).tolist())
        return plane.moved(plane.turned(((0.0, 0.0), *rim), thing.facing), thing.at)
    turns = np.linspace(0.0, math.pi if lamp.ahead else math.tau, 49)
    front = thing.depth / 2 if lamp.ahead else 0.0
    own = tuple((float(far * math.cos(t)), float(front + far * math.sin(t))) for t in turns[: 49 if lamp.ahead else 48])
    return plane.moved(plane.turned(own, thing.facing), thing.at)


def room_of(thing: Thing) -> Outline:
    """Return the outline of the room that a thing wants round it; empty where it wants none."""
    room = thing_kind(thing.kind).room
    return outline_of(thing, more=float(room)) if room else ()


def things_in(things: Iterable[Thing], year: float | None) -> tuple[Thing, ...]:
    """Return things as they are ``year`` years after the first season (None: as they are meant to be): hedges as high
    and as thick as they have grown, never more than they are kept.
    """
    return tuple(one if year is None else _grown(one, year) for one in things)


def _grown(thing: Thing, year: float) -> Thing:
    grows = thing_kind(thing.kind).grows
    if grows is None:
        return thing
    height = min(thing.height, grows.planted + max(0.0, year) * grows.a_year)
    share = 0.4 + 0.6 * height / thing.height if thing.height else 1.0
    return attrs.evolve(thing, height=height, depth=thing.depth * min(1.0, share))


def forms_of(thing: Thing) -> tuple[Form, ...]:
    """Return the bodies of a thing where they stand on the plan, heights above the ground there."""
    return placed(thing_kind(thing.kind).forms(thing), thing)


def thing_solids(thing: Thing, ground: GroundHeight) -> tuple[Solid, ...]:
    """Return the bodies by which a thing casts shade and hides a view; none of a low one."""
    if thing.height < SHADES_FROM:
        return ()
    base = ground(thing.at)
    found = []
    for form in forms_of(thing):
        share = LIGHT.get(form.material, 0.0)
        if share >= 1.0:
            continue
        low = np.column_stack((np.asarray(form.foot), np.full(len(form.foot), base + form.low)))
        high = np.column_stack((np.asarray(form.head), np.full(len(form.head), base + form.high)))
        light = tuple(float(share) for _ in OPAQUE)
        edges = prism_edges(len(form.foot))
        found.append(Hull(name=thing.name, vertices=np.vstack((low, high)), light=light, edges=edges))
    return tuple(found)


def raised_over(ground: GroundHeights, things: Iterable[Thing]) -> GroundHeights:
    """Return the height of the ground (n,) at places (n, 2), that of the soil within the walls of raised beds."""
    return _raised_over(ground, tuple(things))


@lru_cache(maxsize=16)
def _raised_over(ground: GroundHeights, things: tuple[Thing, ...]) -> GroundHeights:
    lifted = [
        (plane.region(outline_of(one, more=-thing_kind(one.kind).inside)), one)
        for one in things
        if thing_kind(one.kind).inside and not thing_kind(one.kind).sunk
    ]
    if not lifted:
        return ground

    def height(places: FloatArray) -> FloatArray:
        found = np.array(ground(places), dtype=float)
        for region, one in lifted:
            here = plane.inside(region, np.asarray(places, dtype=float))
            if here.any():
                middle = ground(np.array([one.at], dtype=float))[0]
                found[here] = middle + max(0.0, one.height - BELOW_RIM)
        return found

    return height


def beds_inside(things: Iterable[Thing]) -> tuple[Bed, ...]:
    """Return the beds that lie within the walls of things which hold soil, each under the thing's name."""
    return tuple(
        Bed(name=one.name, at=one.at, outline=outline_of(one, more=-thing_kind(one.kind).inside), purpose=one.purpose)
        for one in things
        if thing_kind(one.kind).inside
    )
