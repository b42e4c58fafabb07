"""Low in front and tall behind, square by square: what a plant would hide where it is set, and what would hide it."""

from collections.abc import Iterable

import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.composing.figures import ABOVE, AT_THE_BACK, LOOK, ONE_DEPTH
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.composing.kinds import Kind
from gardenkit.planting.composing.woody import Placed


class Order:
    """What stands before and behind every square of the ground, kept up to date as plants are set.

    It is counted as ``figures.tall_in_front`` does: a carpet beside or before a higher plant is its floor.
    """

    def __init__(self, ground: Ground, there: Iterable[Placed]) -> None:
        self.ground = ground
        self.before: FloatArray = np.zeros(len(ground))  # m: the tallest that hides a square
        self.behind: FloatArray = np.full(len(ground), np.inf)  # m: the lowest that a plant here would hide
        self.floor: Mask = np.zeros(len(ground), dtype=bool)  # a carpet here runs under or between higher plants
        each = [p for p in there if p.kind.part in ("drift", "carpet", "shrub")]
        for one in sorted(each, key=lambda p: p.kind.part == "carpet"):
            self.add(one)

    def add(self, one: Placed) -> None:
        """Count a plant in that stands there now."""
        away, square = self.ground.index.query(one.at)
        near = np.array(self.ground.near_to(one.at, LOOK), dtype=np.int64)
        if away > self.ground.step or not len(near):
            return
        height, carpet = one.kind.species.height, one.kind.part == "carpet"
        on = self.ground.front[near] - self.ground.front[square]
        if self.ground.depth[square] < AT_THE_BACK:
            hidden = near[on >= ONE_DEPTH]
            self.before[hidden] = np.maximum(self.before[hidden], height)
        if not (carpet and self.floor[square]):
            hiding = near[on <= -ONE_DEPTH]
            self.behind[hiding] = np.minimum(self.behind[hiding], height)
        if not carpet:
            self.floor[near[on <= ONE_DEPTH]] = True

    def fits(self, kind: Kind) -> Mask:
        """Return the squares on which a kind neither overtops what stands behind it nor is overtopped from before."""
        height, carpet = kind.species.height, kind.part == "carpet"
        seen = (self.before <= height + ABOVE) | (self.floor & carpet)
        return np.asarray(seen & ((self.ground.depth >= AT_THE_BACK) | (height <= self.behind + ABOVE)))

    def fits_at(self, kind: Kind, square: int) -> bool:
        """Whether a kind fits one square."""
        height, carpet = kind.species.height, kind.part == "carpet"
        if self.before[square] > height + ABOVE and not (carpet and self.floor[square]):
            return False
        return bool(self.ground.depth[square] >= AT_THE_BACK or height <= self.behind[square] + ABOVE)
