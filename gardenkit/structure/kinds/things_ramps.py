"""A ramp that stands by itself: a floor of boards that slopes up to a door, a deck or a terrace."""

import math

from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds.bodies_of_use import BOARDED, deck_parts
from gardenkit.structure.kinds.placed import BY_PLACE, DIG_FIRST, TREATED, Asked, Counted, Size, ThingKind
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.structure.kinds.thing_forms import Form
from gardenkit.structure.kinds.things_steps import handrail
from gardenkit.structure.ramps import ADA, RAIL_HIGH, RAIL_ON
from gardenkit.structure.structure import Thing
from gardenkit.units import INCH

EDGE = Figure(2 * INCH, "m", f"its last board lies level; {HOUSE}")


def run_of_ramp(thing: Thing) -> float:
    """Return the level length of a ramp's slope."""
    return max(0.01, thing.depth - EDGE)


def sloping(thing: Thing) -> tuple[Form, ...]:
    """Return a wedge that one comes to from its front, with its handrails on both sides."""
    x, y, run = thing.width / 2, thing.depth / 2, run_of_ramp(thing)
    foot = ((-x, -y), (x, -y), (x, y), (-x, y))
    head = ((-x, -y), (x, -y), (x, y - run), (-x, y - run))
    body = Form(foot=foot, head=head, low=0.0, high=thing.height, material="timber")
    ends, heights = (y, y - run), (RAIL_HIGH, thing.height + RAIL_HIGH)
    rails = (*handrail(x, ends, heights), *handrail(-x, ends, heights)) if thing.handrail else ()
    return (body, *rails)


def ramp_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return the boards of a ramp, the concrete of its posts, its handrails."""
    found = deck_parts(thing)
    if not thing.handrail:
        return found
    each = math.hypot(run_of_ramp(thing), thing.height) + 2 * RAIL_ON
    rule = f"along both sides, {RAIL_ON:.2f} m further at both ends"
    return (*found, Counted(item="handrail", amount=2 * each, unit="m", rule=rule, source=RAIL_ON.source))


ROWS = (
    ThingKind(
        name="ramp",
        words="a floor of boards that slopes up to a door, a deck or a terrace",
        usual=Size(width=1.2, depth=1.86, height=0.15),
        forms=sloping,
        counts=ramp_parts,
        weight=BOARDED,
        work="built",
        footed=True,
        slopes=run_of_ramp,
        permits=(
            Asked(
                what="a ramp at a door wants a permit in many towns; ask also for its slope, landings and handrails",
                source=BY_PLACE,
            ),
        ),
        cautions=(
            Warned(
                what="wheels run off a ramp: a kerb or rail along both edges, a level landing 5 ft long at foot and "
                "head, boards across the slope and not slippery when wet",
                source=f"{ADA} 405.7, 405.9, second-hand",
            ),
            TREATED,
            DIG_FIRST,
        ),
        care=(
            Care(months=(4,), task="scrub the ramp and check its boards, screws and handrails"),
            Care(months=(10, 11), task="clear the ramp of leaves, moss and ice", how="weekly while leaves fall"),
        ),
    ),
)
