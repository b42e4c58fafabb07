"""A flight of steps that stands by itself: down from a door, a deck or a terrace, where no path goes."""

import math

from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure.kinds.placed import BY_PLACE, DIG_FIRST, LIFT, STONE, Asked, Counted, Size, ThingKind, Weighed
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.structure.kinds.surfaces import COMPACTING, WALK_BASE
from gardenkit.structure.kinds.thing_forms import Form, box
from gardenkit.structure.steps import CODES, Steps, steps_within
from gardenkit.structure.structure import Thing
from gardenkit.units import FOOT, INCH, in_both

LAST = Figure(2 * INCH, "m", f"the last riser stands before what the steps lead to, 2 in thick; {HOUSE}")
RULES = CODES["IRC 2021"]
RAIL_HIGH = (RULES.rail_low + RULES.rail_high) / 2  # m over the front edges of the treads
RAIL, POST = 0.05, 0.04  # m: how thick a handrail and its posts are. House values.
POSTS_APART = 6 * FOOT  # at most. House value.


def steps_of(thing: Thing) -> Steps:
    """Return the steps that climb the height of a flight in its depth, by the stair rule."""
    return steps_within(
        thing.height, max(0.01, thing.depth - LAST), width=thing.width, landing=max(RULES.least_landing, thing.width)
    )


def flight(thing: Thing) -> tuple[Form, ...]:
    """Return a flight that one comes to from its front: a block to each tread, the last riser, and its handrail at
    the right of who comes down.
    """
    made, x, y = steps_of(thing), thing.width / 2, thing.depth / 2
    if not made.treads:
        return (box((-x, x), (-y, y), (0.0, made.rise), "stone"),)
    fronts = [y - k * made.tread for k in range(made.risers)]
    treads = [
        box((-x, x), (fronts[k + 1], fronts[k]), (0.0, (k + 1) * made.riser), "stone") for k in range(made.treads)
    ]
    head = box((-x, x), (-y, fronts[-1]), (0.0, made.rise), "stone")
    if not thing.handrail:
        return (*treads, head)
    over = (made.riser + RAIL_HIGH, made.rise + RAIL_HIGH)  # the front edges of the first tread and of the last
    return (*treads, head, *handrail(x, (fronts[0], fronts[-1]), over))


def handrail(x: float, ends: tuple[float, float], heights: tuple[float, float]) -> tuple[Form, ...]:
    """Return a handrail just outside ``x``, on posts at its foot, its head and between: from the first to the second of
    two values of y, and of heights above the ground there.
    """
    run, rise = ends[0] - ends[1], heights[1] - heights[0]
    half = RAIL / 2 * math.hypot(run, rise) / rise  # of its level cut
    near, far = sorted((x, x + math.copysign(RAIL, x)))
    foot, head = (((near, y - half), (far, y - half), (far, y + half), (near, y + half)) for y in ends)
    rail = Form(foot=foot, head=head, low=heights[0], high=heights[1], material="metal")
    bays = math.ceil(run / POSTS_APART - 1e-9)
    posts = [
        box(
            ((near + far - POST) / 2, (near + far + POST) / 2),
            (ends[0] - share * run - POST / 2, ends[0] - share * run + POST / 2),
            (0.0, heights[0] + share * rise),
            "metal",
        )
        for share in (k / bays for k in range(bays + 1))
    ]
    return (rail, *posts)


def flight_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return the steps, the stone that fills below the upper ones, and the handrail."""
    made = steps_of(thing)
    each = f"{made.counted}: {in_both(made.rise)} in risers of {in_both(made.riser)}, treads of {in_both(made.tread)}"
    found = [Counted(item="steps", amount=made.risers * thing.width, unit="m", rule=each, source=LAST.source)]
    below = made.treads * (made.treads - 1) / 2 * made.riser * made.tread * thing.width
    if below > 0:
        rule = "fills below the second step and those above it, and 10 % more for compacting"
        amount = below * (1 + COMPACTING)
        found.append(Counted(item="crushed stone", amount=amount, unit="m3", rule=rule, source=COMPACTING.source))
    if thing.handrail and made.treads:
        rule = f"along one side: a run of {made.run:.2f} m and a rise of {made.rise:.2f} m"
        found.append(Counted(item="handrail", amount=made.rail, unit="m", rule=rule, source=PLAIN))
    return tuple(found)


def flight_weight(thing: Thing) -> Weighed:
    """Return a block of stone a riser high to each tread."""
    made = steps_of(thing)
    block = thing.width * (made.tread or thing.depth) * made.riser * STONE
    mass = block * max(1, made.treads)
    return Weighed(empty=mass, full=mass, heaviest=block, source=f"a block of stone to each tread; {STONE.source}")


ROWS = (
    ThingKind(
        name="flight of steps",
        words="steps that stand by themselves, down from a door, a deck or a terrace",
        usual=Size(width=5 * FOOT, depth=0.78, height=0.45),
        forms=flight,
        counts=flight_parts,
        weight=flight_weight,
        work="built",
        footed=True,
        base=WALK_BASE,
        steps=steps_of,
        permits=(
            Asked(
                what="steps at a door want a permit and a landing in many towns; ask also for handrail, guard, and how "
                "deep their footing goes for frost",
                source=BY_PLACE,
            ),
        ),
        cautions=(
            Warned(
                what="people fall on steps: all risers of one flight alike, within 3/8 in, treads firm and not "
                "slippery when wet, a light by night; a handrail from 4 risers, or as the local code says",
                source=RULES.source,
            ),
            LIFT,
            DIG_FIRST,
        ),
        care=(
            Care(months=(4,), task="check that steps lie firm and even, and their handrail", how="after frost"),
            Care(months=(10, 11), task="clear steps of leaves, moss and ice", how="weekly while leaves fall"),
        ),
    ),
)
