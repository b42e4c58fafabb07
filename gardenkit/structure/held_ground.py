"""Where new ground meets the old: how high each retaining wall stands, where banks lie and how far they run out."""

import math

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Line, Point, Region
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.new_ground import Flat, NewGround, edges_of

LOWEST_WALL = Figure(0.10, "m", f"a lower step at an edge is taken up by an edging; {HOUSE}")
LOWEST_BANK = 0.03  # m: less is blended in by the rake. House value.
MET = 0.005  # m: a bank ends where it is this near to the ground as found. House value.
FARTHEST = 4.0  # times its length on level ground that a bank is followed. House value.
BEYOND = 0.03  # m outside the edge where the ground beyond a wall is read. House value.


@attrs.frozen(kw_only=True)
class HeldWall:
    """A retaining wall along a line: its heights in metres along it; ``fills``: its area stands higher than beyond."""

    name: str
    line: Line
    heights: tuple[float, ...]
    fills: bool

    @property
    def length(self) -> float:
        """Metres along it."""
        return sum(math.dist(a, b) for a, b in zip(self.line, self.line[1:], strict=False))

    @property
    def face(self) -> float:
        """Square metres of wall that show."""
        pieces = zip(self.line, self.line[1:], self.heights, self.heights[1:], strict=False)
        return sum(math.dist(a, b) * (low + high) / 2 for a, b, low, high in pieces)

    @property
    def highest(self) -> float:
        """Metres that it shows at most."""
        return max(self.heights)


@attrs.frozen(kw_only=True)
class Bank:
    """A fall line of a bank, from the ``top`` to the ``foot``; ``rise`` in metres between them."""

    top: Point
    foot: Point
    rise: float


def walls(ground: NewGround) -> tuple[HeldWall, ...]:
    """Return the retaining walls at the edges of level areas that have walls, each stretch of one side by itself."""
    found: list[HeldWall] = []
    for one in ground.shapes:
        if isinstance(one, Flat) and one.corners and one.bank is None:
            found += _walls(ground, one)
    return tuple(found)


def banks(ground: NewGround) -> tuple[Bank, ...]:
    """Return fall lines every 0.25 m along the banks of areas and paths that have any."""
    found: list[Bank] = []
    for one in ground.shapes:
        if one.bank is None:
            continue
        for ring in edges_of(one, (0.02,)):
            if len(ring) > 2:  # round a spot the contours say it
                found += _banks(ground, ring, one.bank, plane.region(ring.tolist()))
    return tuple(found)


# ---- helpers


def _walls(ground: NewGround, one: Flat) -> list[HeldWall]:
    (edge,), (past,) = edges_of(one), [plane.grown(one.region, BEYOND)]
    ring = np.array(plane.rings(past)[0], dtype=float)
    beyond = np.array([plane.nearest_on(plane.line([*ring.tolist(), ring[0].tolist()]), p) for p in edge])
    rise = one.level(edge) - ground.at(beyond)
    found: list[HeldWall] = []
    for side in (1.0, -1.0):
        found += [
            HeldWall(
                name=one.name,
                line=tuple((float(x), float(y)) for x, y in edge[run]),
                heights=tuple(float(h) for h in side * rise[run]),
                fills=side > 0,
            )
            for run in _runs(side * rise >= LOWEST_WALL)
        ]
    return found


def _runs(high: NDArray[np.bool_]) -> list[list[int]]:
    """Return the stretches of a closed edge that are high, as numbers of its points in order."""
    count = len(high)
    if high.all():
        return [[*range(count), 0]]
    start = int(np.argmin(high))
    found: list[list[int]] = [[]]
    for k in range(start, start + count):
        if high[k % count]:
            found[-1].append(k % count)
        elif found[-1]:
            found.append([])
    return [run for run in found if len(run) > 1]


def _banks(ground: NewGround, ring: FloatArray, steep: float, own: Region) -> list[Bank]:
    ahead = np.roll(ring, -1, axis=0) - np.roll(ring, 1, axis=0)
    outs = np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.maximum(np.linalg.norm(ahead, axis=1), 1e-9)[:, None]
    if plane.inside(own, ring[:1] + 0.05 * outs[:1])[0]:
        outs = -outs
    made = ground.at(ring)
    rises = made - ground.found(ring)
    high = np.abs(rises) >= LOWEST_BANK
    starts, outs, made, rises = ring[high], outs[high], made[high], rises[high]
    share = np.linspace(0.0, 1.0, 61)[1:]
    ways = starts[:, None, :] + (share * (np.abs(rises) * steep * FARTHEST)[:, None])[:, :, None] * outs[:, None, :]
    flat = ways.reshape(-1, 2)
    levels = ground.at(flat).reshape(ways.shape[:2])
    met = np.abs(levels - ground.found(flat).reshape(levels.shape)) < MET
    found = []
    for k in np.flatnonzero(met.any(axis=1)):
        j = int(met[k].argmax())
        start, foot = (float(starts[k][0]), float(starts[k][1])), (float(ways[k, j][0]), float(ways[k, j][1]))
        drop = float(made[k] - levels[k, j])
        top, low = (start, foot) if drop >= 0 else (foot, start)
        found.append(Bank(top=top, foot=low, rise=abs(drop)))
    return found
