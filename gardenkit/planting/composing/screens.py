"""Screens: evergreens where they hide most of a path or a place from where it is seen, as a want may ask."""

from collections.abc import Sequence

import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.composing.given import Screen, Surroundings
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.composing.kinds import Kind, may_stand
from gardenkit.planting.composing.woody import OVERLAP, Placed
from gardenkit.planting.growth import size
from gardenkit.sources import HOUSE, Figure

JUDGED = 5  # year at which a screen must hide; the want is measured then. House value.
LEAST_HIGH = Figure(0.9, "m", f"{HOUSE}: what is lower hides nothing, as sight lines are drawn")
MOST = 5  # shrubs planted for one screen
LEAST_GAIN = 0.01  # of the path that one more shrub must hide. House value.
ENOUGH = 1.5  # times the share of the path asked for: a screen is thinner in some month. House value.
SURE = 0.8  # of a crown's outline, squared: what passes nearer to its edge is not counted as hidden. House value.


def screens(kinds: Sequence[Kind], ground: Ground, surroundings: Surroundings, there: Sequence[Placed]) -> list[Placed]:
    """Return shrubs that hide a path from its start also in winter, each where it hides most of what still shows."""
    found: list[Placed] = []
    high = [k for k in kinds if k.part == "shrub" and size(k.species, JUDGED).height >= LEAST_HIGH]
    rooms = {k: may_stand(k, ground, surroundings) for k in high} if surroundings.screens else {}
    for screen in surroundings.screens:
        shown = np.ones(len(screen.points))
        for _ in range(MOST):
            tried = [_best(k, screen, shown, ground, room, [*there, *found]) for k, room in rooms.items()]
            gain, best = max(tried, key=lambda one: one[0], default=(0.0, None))
            if best is None or gain < LEAST_GAIN * len(shown) or 1 - shown.mean() >= ENOUGH * screen.hidden:
                break
            found.append(best)
            shown = shown * np.where(_hides(best.kind, np.array([best.at]), screen)[0], _light(best.kind), 1.0)
    return found


# ---- helpers


def _best(
    kind: Kind, screen: Screen, shown: FloatArray, ground: Ground, room: Mask, there: Sequence[Placed]
) -> tuple[float, Placed | None]:
    """Return how many points of the path one of a kind would hide at its best place in winter, and that plant."""
    ok = room.copy()
    for other in there:
        if other.kind.part in ("shrub", "tree"):
            reach = other.kind.species.spread if other.kind.part == "shrub" else 1.0
            ok &= ~ground.within(other.at, float(OVERLAP) * (reach + kind.species.spread) / 2)
    places = np.flatnonzero(ok)
    if not len(places):
        return 0.0, None
    hidden = (1 - _light(kind)) * (_hides(kind, ground.points[places], screen) * shown[None, :]).sum(axis=1)
    at = ground.points[places[int((hidden + 0.2 * ground.depth[places]).argmax())]]
    return float(hidden.max()), Placed(kind=kind, at=(float(at[0]), float(at[1])), stage="screen")


def _light(kind: Kind) -> float:
    """Return the share seen through a kind in winter."""
    return kind.species.light_in_leaf if kind.species.is_evergreen else kind.species.light_bare


def _hides(kind: Kind, places: FloatArray, screen: Screen) -> Mask:
    """Return (places, points) whether a plant's crown, taken as a rounded body, hides a point of the path."""
    grown = size(kind.species, JUDGED)
    eye = np.asarray(screen.eye)
    run = screen.points - eye
    long = np.maximum(np.hypot(run[:, 0], run[:, 1]), 1e-6)
    ahead = run[:, :2] / long[:, None]
    off = places - eye[:2]
    near = off @ ahead.T
    aside = np.abs(off[:, :1] * ahead[:, 1][None, :] - off[:, 1:] * ahead[:, 0][None, :])
    sight = eye[2] + near / long[None, :] * run[None, :, 2] - screen.level(places)[:, None]
    half, radius = grown.height / 2, grown.spread / 2
    inside = (aside / radius) ** 2 + ((sight - half) / half) ** 2 < SURE
    return np.asarray(inside & (near > radius) & (near < long[None, :]))
