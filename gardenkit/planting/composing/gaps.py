"""Places for more of one kind where the ground of a planting is bare: divisions, and what is left over."""

from collections.abc import Sequence

import numpy as np

from gardenkit.geometry.plane import Point
from gardenkit.planting.composing.apart import by_kind, uncrowded
from gardenkit.planting.composing.carpet import BARE_SHARES, STEM, widest_first
from gardenkit.planting.composing.figures import covered
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.composing.kinds import Kind
from gardenkit.planting.composing.woody import Placed


def places_in_gaps(
    kind: Kind, ground: Ground, room: Mask, there: Sequence[Placed], *, year: int, most: int
) -> list[Point]:
    """Return at most so many places for plants of a kind set in a ``year``: where the ground is bare then, the widest
    gaps first, each where it has ``room`` and crowds nothing that stands then or comes later.
    """
    stay = [one for one in there if one.until is None or one.until >= year]
    bare = ~covered(ground, stay, year)
    standing = by_kind(stay)
    ok = room & uncrowded(kind, ground.points, {other: at for other, at in standing.items() if other is not kind})
    ok &= ~ground.within(np.array([one.at for one in stay]).reshape(-1, 2), STEM)
    if kind in standing:
        ok &= ~ground.within(standing[kind], kind.apart)
    found: list[Point] = []
    for i in widest_first(ground, bare, np.random.default_rng(year)):
        if len(found) == most:
            break
        at = ground.points[i]
        if not (bare[i] and ok[i]) or bare[ground.near_to(at, kind.species.spread / 2)].mean() < BARE_SHARES[-1]:
            continue
        found.append((round(float(at[0]), 3), round(float(at[1]), 3)))
        bare[ground.near_to(at, kind.species.spread / 2)] = False
        ok[ground.near_to(at, kind.apart)] = False
    return found
