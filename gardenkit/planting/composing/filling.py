"""Plants inside a drift: a turned hexagonal lattice, loosened until every plant has its like share of the drift."""

import math
from collections.abc import Sequence

import numpy as np

from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.composing.apart import own_apart
from gardenkit.planting.composing.drifts import Drift
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.composing.kinds import Kind
from gardenkit.sources import COMMON, HOUSE, Figure

ODD_UP_TO = 8  # groups of three, five and seven; common practice
LOOSENED = 3  # times every plant is moved to the middle of its share. House value.
JITTER = Figure(0.1, "of the on-centre distance", f"{HOUSE}; that no rows show is {COMMON}")


def filled(drift: Drift, kind: Kind, ground: Ground, room: Mask, rng: np.random.Generator) -> list[Point]:
    """Return where the plants of one drift stand; at least one where the kind has any room in it."""
    squares = drift.squares[room[drift.squares]]
    if not len(squares):
        return []
    points = ground.points[squares]
    number = _number((len(drift.squares) + len(squares)) / 2 * ground.square, kind)
    places = _lattice(points, drift.along, kind.apart, number, rng)
    for _ in range(LOOSENED):
        mine = _nearest(points, places)
        places = np.stack([points[mine == i].mean(axis=0) if (mine == i).any() else p for i, p in enumerate(places)])
    places = places + rng.uniform(-1, 1, places.shape) * float(JITTER) * kind.apart
    kept: list[Point] = []
    for place in places:
        x, y = _inside(points, place, ground.step)
        if all(math.dist((x, y), other) >= own_apart(kind) for other in kept):
            kept.append((x, y))
    return kept


def gathered(places: Sequence[Point], closed: float, rng: np.random.Generator) -> list[Point]:
    """Return the places of a drift that are kept where the style leaves ground open (``closed`` below 1): those round
    one of them, so that a group stays one and the open ground lies between groups.
    """
    if closed >= 1.0 or len(places) < 2:
        return list(places)
    kept = max(1, round(closed * len(places)))
    middle = places[int(rng.integers(len(places)))]
    return sorted(places, key=lambda at: math.dist(at, middle))[:kept]


# ---- helpers


def _inside(points: FloatArray, place: FloatArray, step: float) -> Point:
    """Return a place as it is where it lies in one of the squares, else the middle of the nearest."""
    nearest = points[int(((points - place) ** 2).sum(axis=1).argmin())]
    x, y = place if np.abs(nearest - place).max() <= step / 2 else nearest
    return round(float(x), 3), round(float(y), 3)


def _number(area: float, kind: Kind) -> int:
    """Return how many plants a drift takes: its area by the room of one, odd while they can be counted at a glance."""
    most = kind.together[1] if kind.together[1] <= 1 else 10_000
    number = max(1, min(round(area / kind.room_each), most))
    return number if number % 2 or number > ODD_UP_TO else number - 1


def _lattice(
    points: FloatArray, along: tuple[float, float], apart: float, number: int, rng: np.random.Generator
) -> FloatArray:
    """Return ``number`` starting places: a hexagonal lattice along the drift, thinned or topped up by chance."""
    u = np.array(along)
    v = np.array([-u[1], u[0]])
    at = np.column_stack((points @ u, points @ v))
    low = at.min(axis=0) + rng.uniform(0, apart, 2) - apart
    rows = np.arange(low[1], at[:, 1].max() + apart, apart * math.sqrt(3) / 2)
    grid = [(x, y) for r, y in enumerate(rows) for x in np.arange(low[0] + (r % 2) * apart / 2, at[:, 0].max(), apart)]
    inside = _snapped(at, np.array(grid), apart) if grid else []
    chosen = list(dict.fromkeys(inside))
    rng.shuffle(chosen)
    chosen = chosen[:number]
    while len(chosen) < min(number, len(points)):
        chosen.append(_farthest(points, chosen, rng))
    return np.asarray(points[chosen])


def _snapped(at: FloatArray, grid: FloatArray, apart: float) -> list[int]:
    off = ((at[None, :, :] - grid[:, None, :]) ** 2).sum(axis=2)
    near = off.argmin(axis=1)
    return [int(i) for i, d in zip(near, off.min(axis=1), strict=True) if d < (apart / 4) ** 2]


def _farthest(points: FloatArray, chosen: list[int], rng: np.random.Generator) -> int:
    if not chosen:
        return int(rng.integers(len(points)))
    off = ((points[:, None, :] - points[chosen][None, :, :]) ** 2).sum(axis=2).min(axis=1)
    return int(off.argmax())


def _nearest(points: FloatArray, places: FloatArray) -> np.ndarray:
    return np.asarray(((points[:, None, :] - places[None, :, :]) ** 2).sum(axis=2).argmin(axis=1))
