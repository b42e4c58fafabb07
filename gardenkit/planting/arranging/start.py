"""A first place for everything: trees where crowns have room, climbers at their supports, the rest in close groups."""

import math
from collections.abc import Sequence
from itertools import pairwise

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.arranging.energy import HAIR, ILLEGAL, LONG, WIDE
from gardenkit.planting.arranging.ground import Cells, Mask, Whole, may_stand, nearness, sun_of
from gardenkit.planting.arranging.kinds import Kind, Settings, apart
from gardenkit.planting.composing.given import BedGround, Surroundings
from gardenkit.planting.species import Species
from gardenkit.planting.sun_need import hours_of
from gardenkit.site.sun_classes import DEFAULT
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure import supports as support_rules
from gardenkit.structure.structure import Support

NOT_BEST = Figure(0.25, "", f"{HOUSE}: cost of sun that a plant stands but does not like best")
HOURS_A_COST = Figure(2.0, "h", f"{HOUSE}: this much sun too little or too much costs 1")
LOW_SUN = Figure(0.4, "of the sun", f"{HOUSE}: comes in under a high crown from the side")
HALF_WIDTH = Figure(0.5, "of the bed's width", f"tallest plant at most half the bed's width; {COMMON}")
ALONG_PATH = Figure(0.5, "m", f"{HOUSE}: bedding further than this from the path costs more and more")
FOOT_REACH = Figure(0.75, "m", f"{HOUSE}: a climber is led no further than this to its support")
LOOSE = 1.6  # times its close width that a group may be across and still be set as one. House value.
FOOT_STEP = 0.3  # m between the places tried along a support; numerical choice


@attrs.define(eq=False, kw_only=True)
class Room:
    """Which squares are still open to each kind while plants are set one by one."""

    cells: Cells
    kinds: Sequence[Kind]
    need: FloatArray
    legal: Mask  # (k, c)
    blocked: Mask  # (k, c)

    def take(self, kind: int, at: FloatArray) -> None:
        """Close the squares too near to a plant just set."""
        radius = self.need[:, kind]
        near = self.cells.near(at, float(radius.max()))
        off = self.cells.points[near] - at
        d = np.hypot(off[:, 0], off[:, 1])
        self.blocked[:, near] |= d[None, :] < radius[:, None] - HAIR

    def free(self, kind: int) -> Mask:
        """Return the squares where one more plant of the kind may stand, apart as asked."""
        return np.asarray(self.legal[kind] & ~self.blocked[kind])

    def emptied(self) -> "Room":
        """Return the same room with nothing in it."""
        return attrs.evolve(self, blocked=np.zeros_like(self.blocked))


def room_for(kinds: Sequence[Kind], cells: Cells, surroundings: Surroundings, settings: Settings) -> Room:
    """Return the empty room of all beds."""
    near = nearness(cells, surroundings.around)
    legal = np.array([may_stand(kind, cells, near, settings) for kind in kinds], dtype=bool).reshape(-1, len(cells))
    need = np.array([[apart(a, b, settings) for b in kinds] for a in kinds]).reshape(len(kinds), len(kinds))
    return Room(cells=cells, kinds=kinds, need=need, legal=legal, blocked=np.zeros_like(legal))


def sun_misfit(species: Species, hours: FloatArray, *, setting: str = DEFAULT) -> FloatArray:
    """Return (n,) how ill each place's hours of sun suit a plant: 0 its best, 1 for two hours outside its range."""
    ranges = [hours_of(word, setting=setting) for word in species.sun_range]
    low, high = min(r[0] for r in ranges), max(r[1] for r in ranges)
    best_low, best_high = hours_of(species.sun_best, setting=setting)
    outside = np.maximum(low - hours, 0.0) + np.maximum(hours - high, 0.0)
    return np.asarray(outside / HOURS_A_COST + np.where((hours < best_low) | (hours > best_high), float(NOT_BEST), 0.0))


def shaded(cells: Cells, crowns: Sequence[tuple[FloatArray, Kind]]) -> Cells:
    """Return the squares with less sun under newly set crowns."""
    if cells.sun is None or not crowns:
        return cells
    sun = cells.sun.copy()
    for at, kind in crowns:
        light = kind.species.light_in_leaf if kind.species else 0.0
        sun[cells.near(at, kind.spread / 2)] *= LOW_SUN + (1 - LOW_SUN) * light
    return attrs.evolve(cells, sun=sun)


def costs(
    kinds: Sequence[Kind], room: Room, cells: Cells, beds: Sequence[BedGround], *, sun: float, place: float
) -> NDArray[np.float32]:
    """Return (k, c) what it costs to set each kind on each square: sun, front or back, width of bed.

    ILLEGAL where it may not stand.
    """
    rank = _ranks(kinds)
    widths = np.array([max(bed.width, 1e-6) for bed in beds])[cells.bed]
    table = np.zeros((len(kinds), len(cells)), dtype=np.float32)
    for k, kind in enumerate(kinds):
        cost = np.zeros(len(cells))
        hours = sun_of(kind, cells)
        if hours is not None and kind.species is not None:
            cost += sun * np.minimum(sun_misfit(kind.species, hours), 3.0)
        share = 0.3 if kind.role in ("carpet", "bulb") else 1.0
        cost += place * share * (cells.depth - rank[k]) ** 2
        if kind.role in ("bush", "herb"):
            cost += place * np.clip(kind.height / (HALF_WIDTH * widths) - 1.0, 0.0, 2.0)
        if kind.is_bedding:
            cost += place * np.clip(cells.path - ALONG_PATH, 0.0, 2.0)
        table[k] = np.where(room.legal[k], cost, ILLEGAL)
    return table


def tree_place(k: int, kind: Kind, room: Room, cells: Cells, *, sun: float) -> int | None:
    """Return the square for one tree: free, with most room for its crown, and sun; None when there is none."""
    free = np.flatnonzero(room.free(k))
    if not len(free):
        return None
    crowding = np.maximum(kind.spread / 2 - cells.edge[free], 0.0) / (kind.spread / 2)
    cost = 2.0 * crowding - 0.5 * np.minimum(cells.edge[free] / (kind.spread / 2), 1.5)
    hours = sun_of(kind, cells)
    if hours is not None and kind.species is not None:
        cost += sun * np.minimum(sun_misfit(kind.species, hours[free]), 3.0)
    return int(free[cost.argmin()])


def group_places(
    k: int,
    size: int,
    room: Room,
    cost: FloatArray,
    span: float,
    *,
    crowded: bool = False,
    start: FloatArray | None = None,
) -> list[int]:
    """Return squares for a group set close together from its cheapest free square on, taking the room as it goes.

    Fewer than ``size`` when there is no room; ``crowded`` then sets the rest too near others, for the search to sort
    out. ``start`` is where the group should begin, if not at the cheapest square.
    """
    cells, found = room.cells, list[int]()
    for _ in range(size):
        free = np.flatnonzero(room.free(k))
        middle = cells.points[found].mean(axis=0) if found else start
        if middle is not None and len(free):
            off = cells.points[free] - middle
            free, off = _within(free, off, LOOSE * span)
            axis = cells.axis[found[0]] if found else np.array([1.0, 0.0])
            u, v = off @ axis, off @ np.array([-axis[1], axis[0]])
            value = np.hypot(LONG * u, WIDE * v) / span + 0.3 * cost[free]
        else:
            value = cost[free]
        if len(free):
            spot = int(free[value.argmin()])
        elif crowded and room.legal[k].any():
            legal = np.flatnonzero(room.legal[k])
            spot = int(legal[cost[legal].argmin()]) if middle is None else _nearest(cells, legal, middle)
        else:
            break
        found.append(spot)
        room.take(k, cells.points[spot])
    return found


def support_place(
    k: int, kind: Kind, room: Room, supports: Sequence[Support], load: dict[str, int], *, sun: float
) -> tuple[int, Support] | None:
    """Return the square and the support for one climber or trained fruit, None when no support in reach holds it."""
    best: tuple[float, int, Support] | None = None
    free = room.free(k)
    hours = sun_of(kind, room.cells)
    for support in supports:
        if kind.species is None or not holds(support, kind.species):
            continue
        spots = np.unique([c for at in _along(support) for c in room.cells.near(at, float(FOOT_REACH))]).astype(int)
        spots = spots[free[spots]] if len(spots) else spots
        if not len(spots):
            continue
        away = plane.point_distances(room.cells.points[spots], plane.line(support.line))
        cost = away + 2.0 * load.get(support.name, 0) + abs(math.log(kind.height / support.height))
        if hours is not None:
            cost += sun * np.minimum(sun_misfit(kind.species, hours[spots]), 3.0)
        one = int(cost.argmin())
        if best is None or cost[one] < best[0] - 1e-9:
            best = (float(cost[one]), int(spots[one]), support)
    return None if best is None else (best[1], best[2])


def holds(support: Support, species: Species) -> bool:
    """Return whether a support suits the way a plant climbs, and its weight."""
    ways = ("trained",) if species.layer == "wall fruit" else species.climbs_by
    return support_rules.holds(ways, species.weight, support)


# ---- helpers


def _ranks(kinds: Sequence[Kind]) -> FloatArray:
    """Return where each kind belongs from 0 (lowest, front) to 1 (tallest, back)."""
    layered = sorted({kind.height for kind in kinds if kind.role in ("bush", "herb")}) or [1.0]
    places = np.arange(len(layered)) / max(1, len(layered) - 1)
    return np.interp([kind.height for kind in kinds], layered, places)


def _within(free: Whole, off: FloatArray, span: float) -> tuple[Whole, FloatArray]:
    near = off[:, 0] ** 2 + off[:, 1] ** 2 <= span * span
    return free[near], off[near]


def _nearest(cells: Cells, among: Whole, at: FloatArray) -> int:
    off = cells.points[among] - at
    return int(among[(off**2).sum(axis=1).argmin()])


def _along(support: Support) -> FloatArray:
    line = np.asarray(support.line, dtype=float)
    runs = [np.linspace(a, b, max(2, int(np.hypot(*(b - a)) / FOOT_STEP) + 1)) for a, b in pairwise(line)]
    return np.vstack(runs) if runs else line
