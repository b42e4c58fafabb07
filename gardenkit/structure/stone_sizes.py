"""Stones of natural sizes: a few large ones where one stops or turns, the others as a quarry sends them."""

from collections.abc import Sequence

import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.route import Route
from gardenkit.structure.structure import StoneChoice

USUAL_SPREAD = Figure(0.35, "of the logarithm of areas", HOUSE)  # a new path: two thirds within 0.7 to 1.4 times
USUAL_PAIRS = Figure(0.1, "of the stones", HOUSE)  # a new path: now and then two smaller ones lie side by side
CUT_OFF = Figure(1.5, "spreads", HOUSE)  # stones further off are left on the pallet
LONGER = (
    0.25  # share of a stone's larger area that goes along the path, the rest over it: paces stay even. House value.
)
LANDING = Figure(
    1.6, "times a stone's area", HOUSE
)  # where one stops: at a gate or door, a junction, the sharpest turn
TURNS = 6.0  # m: a radius under this has a landing where it is least; house value


def sized(
    route: Route, choice: StoneChoice, usual: tuple[float, float, float], count: int, joined: Sequence[float]
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return where the middles of ``count`` stones are along the route, how long and how wide each is, metres (n,).

    ``usual`` is the length of a stone, the gap, and the width there is. Areas are log-normal about the usual one,
    ``choice.spread`` wide, the landing stones larger; lengths fill the route. Same seed, same stones.
    """
    usual_length, gap, usable = usual
    share = _shares(choice, count)
    at = (np.arange(count) + 0.5) * route.length / count
    share[_landings(route, at, joined)] = LANDING
    length = usual_length * share**LONGER
    wide = np.minimum(choice.across * share ** (1 - LONGER), usable)
    length *= (route.length - count * gap) / length.sum()
    ends = np.cumsum(length + gap)
    return ends - (length + gap) / 2, length, wide


def paired(route: Route, choice: StoneChoice, at: FloatArray, joined: Sequence[float]) -> list[int]:
    """Return which of the stones at the lengths ``at`` (n,) along a route are two side by side, in the order chosen:
    with a larger share of ``choice.pairs`` the first ones stay.

    None is where one stops, joins or turns, and no two follow each other.
    """
    bends = np.interp(at, route.curve.along, np.abs(route.curve.curvature()))
    never = {*_landings(route, at, joined), *np.flatnonzero(bends > 1 / TURNS).tolist()}
    order = np.random.default_rng((choice.seed, len(at), 2)).permutation(len(at)).tolist()
    found: list[int] = []
    for k in order:
        if len(found) >= round(choice.pairs * len(at)):
            break
        if k not in never and not {k - 1, k + 1} & set(found):
            found.append(k)
    return found


def _shares(choice: StoneChoice, count: int) -> FloatArray:
    """Return the areas of stones over the usual one (n,)."""
    dice = np.random.default_rng((choice.seed, count))
    drawn = dice.standard_normal(40 * count + 40)
    return np.asarray(np.exp(choice.spread * drawn[np.abs(drawn) <= CUT_OFF][:count]))


def _landings(route: Route, at: FloatArray, joined: Sequence[float]) -> list[int]:
    """Return which of the stones at the lengths ``at`` (n,) are where one stops or turns."""
    bends = np.abs(route.curve.curvature())
    bends[[0, -1]] = 0.0
    sharp = [float(route.curve.along[int(bends.argmax())])] if bends.max() > 1 / TURNS else []
    return sorted({0, len(at) - 1, *(int(np.abs(at - one).argmin()) for one in (*joined, *sharp))})
