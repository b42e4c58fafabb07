"""The stages of a composition in a designer's order: each can be shown, and held while the later ones are redone."""

from collections.abc import Mapping, Sequence

import attrs
import numpy as np

from gardenkit.planting.composing.drifts import Division, neighbours
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.planting import Plant

# A stage in the designer's words -> what the composer calls its plants. The order is common practice.
STAGES: Mapping[str, tuple[str, ...]] = {
    "anchors": ("kept", "anchor", "climber", "screen"),
    "masses and hedges": ("hedge", "mass"),
    "signature and accents": ("signature", "accent"),
    "drifts": ("drift",),
    "edge": ("edge", "line"),
    "ground layer": ("ground",),
    "yearly layer": ("filler", "bulbs"),
}
ORDER = tuple(STAGES)
_NUMBER = {one: number for number, names in enumerate(STAGES.values(), start=1) for one in names}


def number_of(stage: str) -> int:
    """Return which stage, from 1, a plant's stage belongs to."""
    return _NUMBER[stage]


@attrs.frozen(eq=False, kw_only=True)
class Held:
    """The stages of a composition up to the number ``upto`` (1 to 7) that stand while the later ones are redone: their
    ``plants``, the stage of each, and the drifts with the kind of each; ``signature`` the kinds that come back.
    """

    upto: int
    plants: tuple[Plant, ...]
    stage_of: tuple[str, ...]
    division: Division
    labels: tuple[str, ...]
    signature: tuple[str, ...]

    def stands(self, drift: int) -> bool:
        """Whether a drift is of a stage that is held."""
        if self.division.drifts[drift].is_edge:
            return self.upto >= _NUMBER["edge"]
        signature = self.labels[drift] in self.signature
        return self.upto >= _NUMBER["signature" if signature else "drift"]


def held_ground(held: Held, ground: Ground) -> Mask:
    """Return the squares of the drifts that are held."""
    found = np.zeros(len(ground), dtype=bool)
    for d, drift in enumerate(held.division.drifts):
        if held.labels and held.stands(d):
            found[drift.squares] = True
    return found


def with_held(
    division: Division, labels: Sequence[str], held: Held, ground: Ground
) -> tuple[Division, tuple[str, ...]]:
    """Return a division of the free ground and its labels with the drifts that are held."""
    owner, drifts, names = division.owner.copy(), list(division.drifts), list(labels)
    for d, drift in enumerate(held.division.drifts):
        squares = drift.squares[owner[drift.squares] < 0]
        if held.labels and held.stands(d) and len(squares):
            owner[squares] = len(drifts)
            drifts.append(attrs.evolve(drift, squares=squares, area=len(squares) * ground.square))
            names.append(held.labels[d])
    beside = neighbours(ground, owner) if drifts else ()
    return Division(drifts=tuple(drifts), owner=owner, beside=beside), tuple(names)
