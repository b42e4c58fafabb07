"""Quick fillers in the room that slow shrubs will need: planted with them, taken out when their crowns arrive."""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from gardenkit.planting.composing.apart import by_kind, least_apart, own_apart, uncrowded
from gardenkit.planting.composing.figures import covered
from gardenkit.planting.composing.given import Aims
from gardenkit.planting.composing.ground import Ground, Mask, blue_noise, tree_of
from gardenkit.planting.composing.kinds import Kind, sun_misfit
from gardenkit.planting.composing.order import Order
from gardenkit.planting.composing.woody import Placed
from gardenkit.sources import HOUSE, Figure

SEEN = 2  # years: what is bare then is worth a filler. House value.
LAST_YEARS = (7, 6, 5, 4, 3)  # in which a filler may be taken out, the latest that its neighbours allow. House values.
TALLEST = Figure(0.75, "m", f"{HOUSE}: a filler stays below the shrubs it stands between")
FRONT = Figure(0.35, "m", f"{HOUSE}: the tallest filler at the very front; further back it may be taller")
BARE_SHARE = 0.6  # of the circle a filler will take that must be bare for it to be set. House value.
COLONY = Figure(2.0, "m", f"{HOUSE}: one kind of filler runs about this far before another takes over")


def quick(kinds: Iterable[Kind]) -> list[Kind]:
    """Return the kinds of a palette that fill for a few years: its fillers, else its low herbs that grow fast."""
    low = [k for k in kinds if k.part == "drift" and k.is_herb and k.species.height <= TALLEST]
    fillers = [k for k in low if k.species.role == "filler"]
    return fillers or [k for k in low if k.species.growth == "fast"] or low


def fillers(
    kinds: Sequence[Kind],
    ground: Ground,
    rooms: Mapping[Kind, Mask],
    there: Sequence[Placed],
    aims: Aims,
    rng: np.random.Generator,
) -> list[Placed]:
    """Return short-lived company on what is still bare in the second year between woody plants, each with the last
    year in which it crowds nothing that stays. Ground that the style leaves open stays open.
    """
    if not kinds or not any(p.kind.part == "shrub" for p in there):
        return []
    bare = ~covered(ground, there, SEEN)
    colony = _colonies(kinds, ground, rng)
    standing, found, order = by_kind(there), list[Placed](), Order(ground, there)
    open_ = {
        (kind, year): rooms[kind] & _low_enough(kind, ground) & uncrowded(kind, ground.points, standing, year=year)
        for kind in kinds
        for year in LAST_YEARS
    }
    for i in rng.permutation(np.flatnonzero(bare)).tolist():
        own = (kinds[int(colony[i])], *kinds)
        fits = next(((k, y) for k in own for y in LAST_YEARS if open_[k, y][i] and order.fits_at(k, i)), None)
        if not bare[i] or fits is None:
            continue
        if 1 - bare.mean() >= aims.closed:
            break
        kind, year = fits
        at = ground.points[i]
        if bare[ground.near_to(at, kind.species.spread / 2)].mean() < BARE_SHARE:
            continue
        found.append(Placed(kind=kind, at=(float(at[0]), float(at[1])), stage="filler", until=year))
        order.add(found[-1])
        bare[ground.near_to(at, kind.apart / 2)] = False
        for (other, last), mask in open_.items():
            apart = own_apart(kind) if other is kind else least_apart(other, kind, year=last)
            mask[ground.near_to(at, apart)] = False
    return found


# ---- helpers


def _low_enough(kind: Kind, ground: Ground) -> Mask:
    """Return the squares where a kind stands no taller before what is behind it than a filler may."""
    return np.asarray(kind.species.height <= float(FRONT) + (float(TALLEST) - float(FRONT)) * ground.depth)


def _colonies(kinds: Sequence[Kind], ground: Ground, rng: np.random.Generator) -> np.ndarray:
    """Return which kind each square takes, in patches, each of a kind that likes the light there."""
    seeds = np.array(blue_noise(ground.points, float(COLONY), rng))
    cost = 0.6 * rng.random((len(seeds), len(kinds)))
    cost += np.outer(ground.dry[seeds], [0.6 * (not k.bears_dry) for k in kinds])
    if ground.hours is not None:
        cost += np.stack([sun_misfit(k.species, ground.hours[seeds]) for k in kinds], axis=1)
    return np.asarray(cost.argmin(axis=1)[tree_of(ground.points[seeds]).query(ground.points)[1]])
