"""The ground that is open to drifts: none under what is kept, beside stems, behind a hedge, or in held stages."""

from collections.abc import Iterable, Sequence

from gardenkit.planting.composing.carpet import CLOSED_BY
from gardenkit.planting.composing.figures import covered
from gardenkit.planting.composing.formal import Mirror
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.composing.order import Order
from gardenkit.planting.composing.stages import Held, held_ground
from gardenkit.planting.composing.woody import Placed
from gardenkit.site.site import ExistingTree

CORE = 0.36  # of a shrub's spread: nothing is drifted nearer to its stem than this. House value.
BEYOND_BARK = 0.2  # m from the trunk of a tree that is there, likewise. House value.


def free_ground(
    ground: Ground, there: Sequence[Placed], trees: Iterable[ExistingTree], mirror: Mirror | None, held: Held | None
) -> Mask:
    """Return the squares still open to drifts; of mirrored beds one half."""
    free = ~covered(ground, [p for p in there if p.stage == "kept"], CLOSED_BY)
    if mirror is not None:
        free &= mirror.half
    if held is not None:
        free &= ~held_ground(held, ground)
    for tree in trees:
        free &= ~ground.within(tree.at, tree.trunk_diameter / 2 + BEYOND_BARK)
    free &= Order(ground, [p for p in there if p.stage == "hedge"]).before == 0.0  # nobody sees what grows behind it
    for one in there:
        part, spread = one.kind.part, one.kind.species.spread
        core = {"shrub": CORE * spread, "tree": 0.3, "climber": 0.15, "bulb": 0.0}.get(part, one.kind.apart / 2)
        if one.stage == "line":  # nothing is drifted between it and the walk
            core = float(ground.front[ground.index.query(one.at)[1]]) + ground.step
        free &= ~ground.within(one.at, core)
    return free
