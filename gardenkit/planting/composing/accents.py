"""Upright accents in narrow beds: single tall plants at an even beat along the walk, where no shrub has room behind."""

from collections.abc import Iterable, Sequence

import numpy as np

from gardenkit.planting.composing.apart import by_kind, uncrowded
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.composing.kinds import Kind
from gardenkit.planting.composing.woody import Placed, Room
from gardenkit.sources import HOUSE, Figure

NARROW = Figure(1.5, "m", f"{HOUSE}: a bed no deeper than this has no room for a shrub behind its front")
BEAT = Figure(2.4, "m", f"{HOUSE}: from one accent to the next in a narrow bed")
HIGH = (0.75, 2.2)  # m: an accent stands above its neighbours, and does not hide the wall. House values.
UPRIGHT = ("upright", "spire", "columnar", "fountain", "rosette")  # forms that draw the eye. House value.
BEHIND = 0.45  # of the depth of the bed: an accent stands no nearer the walk. House value.
BEST = 0.8  # of the depth: where an accent stands if it can, with nothing low behind it. House value.


def accent_kinds(kinds: Iterable[Kind]) -> list[Kind]:
    """Return the kinds of a palette that stand as accents, those that like to stand singly first, then the tallest."""
    low, high = HIGH
    fit = [
        k
        for k in kinds
        if k.part == "drift" and low <= k.species.height <= high and k.species.spread <= NARROW
        if k.species.form in UPRIGHT or k.species.layer == "grass" or k.species.role == "framework"
    ]
    return sorted(fit, key=lambda k: (k.together[0] > 1, -k.species.height, k.species.botanical))


def accents(kinds: Sequence[Kind], ground: Ground, there: Sequence[Placed], beat: float, *, room: Room) -> list[Placed]:
    """Return accents in the narrow parts of beds, the kinds in turn, each about ``beat`` metres from the one before."""
    narrow = _narrow(ground)
    found, standing = list[Placed](), by_kind(there)
    if not kinds or not narrow.any():
        return found
    rooms = {kind: room(kind) & narrow & uncrowded(kind, ground.points, standing) for kind in kinds}
    for bed in np.unique(ground.bed[narrow]):
        here = (ground.bed == bed) & np.logical_or.reduce(list(rooms.values()))
        last, turn = ground.points[ground.bed == bed].min(axis=0), len(found)
        while here.any():
            squares = np.flatnonzero(here)
            off = np.hypot(*(ground.points[squares] - last).T)
            nearest = off <= off.min() + 0.3
            at = int(squares[nearest][int(np.abs(ground.depth[squares[nearest]] - BEST).argmin())])
            kind = next(k for k in (*kinds[turn % len(kinds) :], *kinds) if rooms[k][at])
            last, turn = ground.points[at], turn + 1
            found.append(Placed(kind=kind, at=(float(last[0]), float(last[1])), stage="accent"))
            here[ground.near_to(last, beat)] = False
    return found


# ---- helpers


def _narrow(ground: Ground) -> Mask:
    """Return the back of all places where the bed is narrow."""
    return np.asarray((ground.local_width <= float(NARROW)) & (ground.depth >= BEHIND) & (ground.depth <= 0.95))
