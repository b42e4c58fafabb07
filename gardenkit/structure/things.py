"""What a placed thing answers by its kind: the ground it covers, the room it wants, its bodies on the ground."""

from collections.abc import Iterable

import numpy as np

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Region
from gardenkit.geometry.solid import OPAQUE, Hull, Solid, prism_edges
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds.rows import GroundHeight
from gardenkit.structure.kinds.thing_forms import Form, drum, placed
from gardenkit.structure.kinds.things import thing_kind
from gardenkit.structure.structure import Bed, Thing

STANDING = 0.01  # m: what begins lower stands on the ground
SHADES_FROM = Figure(0.9, "m", f"lower things shade only their own feet, as low plants do; {HOUSE}")
LIGHT = {  # share of the sun that a material lets through
    "glass": Figure(0.8, "share", f"clean single glass; {HOUSE}"),
    "cord": Figure(1.0, "share", f"a line casts no shade to speak of; {HOUSE}"),
}


def outline_of(thing: Thing, *, more: float = 0.0) -> Outline:
    """Return the ground that a thing covers, on the plan, with ``more`` metres all round (less where negative)."""
    x, y = max(0.01, thing.width / 2 + more), max(0.01, thing.depth / 2 + more)
    if thing_kind(thing.kind).rounded:
        body = drum((0.0, 0.0), x, (0.0, 1.0), "", across=y, sides=32)
    else:
        foot = ((-x, -y), (x, -y), (x, y), (-x, y))
        body = Form(foot=foot, head=foot, low=0.0, high=1.0, material="")
    return placed((body,), thing)[0].foot


def ground_of_thing(thing: Thing) -> Region:
    """Return the ground that a thing covers."""
    return plane.region(outline_of(thing))


def taken_by(thing: Thing) -> Region:
    """Return the ground that a thing takes from beds: all it covers, or where it is open below that of its feet."""
    if not thing_kind(thing.kind).open_below:
        return ground_of_thing(thing)
    return plane.union(plane.region(form.foot) for form in forms_of(thing) if form.low < STANDING)


def room_of(thing: Thing) -> Outline:
    """Return the outline of the room that a thing wants round it; empty where it wants none."""
    room = thing_kind(thing.kind).room
    return outline_of(thing, more=float(room)) if room else ()


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


def beds_inside(things: Iterable[Thing]) -> tuple[Bed, ...]:
    """Return the beds that lie within the walls of things which hold soil, each under the thing's name."""
    return tuple(
        Bed(name=one.name, at=one.at, outline=outline_of(one, more=-thing_kind(one.kind).inside))
        for one in things
        if thing_kind(one.kind).inside
    )
