"""Stepping stones: one to each pace, every gap measured on the stones' own outlines and brought into your range."""

import itertools
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import outlines
from gardenkit.geometry.outlines import Pairs, Shapes
from gardenkit.geometry.plane import FloatArray
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.laying import SMALLEST, Laying
from gardenkit.structure.route import Route
from gardenkit.structure.stone_rows import Row, finished, unit_outlines
from gardenkit.structure.stone_sizes import paired, sized
from gardenkit.structure.structure import Flight, HeldStone, StoneChoice

EDGE = Figure(0.02, "m", HOUSE)  # stones stay this far inside the path's edge
TWIST = 5.0  # degrees a stone is turned at random either way; house value
SHIFT = 0.03  # m a stone is moved sideways at random either way; house value
ROUNDS = 14  # most times the gaps are measured and mended; numerical choice
REACHED = 2e-3  # m: a gap this near its aim is left alone; numerical choice
SHORTEST, LONGEST = 0.18, 0.62  # half a stone's length as a share of the pace, at least and at most; house value
NARROWED = 0.9  # two rows may use stones this much narrower than asked; house value
SPREAD = 3  # stones on each side that make room for one moved by hand; house value


@attrs.frozen(kw_only=True)
class _Grid:
    """How the stones share the path: ``paces`` of ``pace`` metres, ``usable`` width, mean ``gap``, two rows or one."""

    paces: int
    pace: float
    usable: float
    gap: float
    two: bool
    across: float


@attrs.frozen(eq=False, kw_only=True)
class _Links:
    """Neighbours: pairs ``in_row`` with their gap ``aims`` in metres, pairs ``facing`` between two rows, aiming at
    ``middle``.
    """

    in_row: Pairs
    facing: Pairs
    aims: FloatArray
    middle: float


def stepping_stones(
    route: Route,
    choice: StoneChoice,
    held: Sequence[HeldStone] = (),
    flights: Sequence[Flight] = (),
    *,
    joined: Sequence[float] = (),
) -> Laying:
    """Return stepping stones along a route: round(length / pace) paces of equal length, one stone in the middle of
    each; with a ``spread`` of sizes in one row, larger ones at ends, turns and where paths are ``joined`` (m along it).
    Elsewhere a share of ``pairs`` is two smaller stones side by side; the second ones are numbered after all others.

    On a path wide enough for two stones and a gap the stones lie in two rows, each beside the gap of the other. Gap
    aims are drawn at random inside ``gap_low`` to ``gap_high``; each stone's front and back are moved until the
    measured gaps meet them. Stones in ``held`` stay where they were put and their neighbours make room; in
    ``flights`` of steps none are laid. Same seed, same stones. Raises GardenError for a choice that leaves no room for
    a stone.
    """
    _check(choice, route)
    stones, links = _first_places(route, choice, held, joined)
    shapes = _mended(stones, links, choice, route)
    laid = finished(stones, shapes, np.vstack((links.in_row, links.facing)), choice, route, flights)
    gone = [h for h in held if not 0 <= h.number < len(stones.number)]
    what, where = "is pinned but the path has fewer stones now; unpin it or shorten the pace", route.name
    lost = tuple(
        Finding(where=f'path "{where}", stone {h.number + 1}', what=what, at=h.at, seriousness="caution", topic="stone")
        for h in gone
    )
    return attrs.evolve(laid, findings=lost + laid.findings) if lost else laid


def _check(choice: StoneChoice, route: Route) -> None:
    where = f'path "{route.name}"'
    if not 0 <= choice.gap_low <= choice.gap_high:
        raise GardenError(
            f"the stone gap of {where} runs from {choice.gap_low:.3f} to {choice.gap_high:.3f} m; "
            f"give a least gap of 0 or more and a widest gap above it"
        )
    if choice.pace - choice.gap_low < SMALLEST / 2:
        raise GardenError(
            f"the pace of {where} is {choice.pace:.2f} m with gaps of at least {choice.gap_low:.2f} m, "
            f"which leaves no stone; lengthen the pace or narrow the gap"
        )
    if min(choice.across, choice.thickness, choice.density) <= 0:
        raise GardenError(f"the stones of {where} need a size, thickness and density above 0")


def _first_places(
    route: Route, choice: StoneChoice, held: Sequence[HeldStone], joined: Sequence[float]
) -> tuple[Row, _Links]:
    """Return the stones in their first places and which of them are neighbours."""
    grid = _grid(route, choice)
    count = 2 * grid.paces - 1 if grid.two else grid.paces
    place = np.arange(count)
    row = place % 2 if grid.two else np.zeros(count, dtype=int)
    s = np.asarray((0.5 * place + 0.5 if grid.two else place + 0.5) * grid.pace, dtype=np.float64)
    dice = np.random.default_rng(choice.seed).random((count, 12))
    wide = np.full(count, grid.across) if grid.two else grid.across * (1 - choice.variation * dice[:, 0])
    length = np.full(count, max(grid.pace - grid.gap, 0.4 * grid.pace))
    if choice.spread > 0 and not grid.two:
        s, length, wide = sized(route, choice, (float(length[0]), grid.gap, grid.usable), count, joined)
    aside = (2 * dice[:, 1] - 1) * np.minimum(SHIFT, np.maximum(0.0, grid.usable - wide) / 2)
    if grid.two:
        aside = np.where(row == 0, 1, -1) * (grid.across + grid.gap) / 2
    each = (grid.usable - grid.gap) / 2
    double = paired(route, choice, s, joined) if choice.pairs > 0 and not grid.two and each >= SMALLEST else []
    if double:
        place, row = np.append(place, double), np.append(row, np.ones(len(double), dtype=int))
        s, length, wide, aside = (np.append(values, values[double]) for values in (s, length, wide, aside))
        dice = np.vstack((dice, np.random.default_rng((choice.seed, count)).random((len(double), 12))))
        both = [*double, *range(count, len(place))]
        wide[both], aside[both] = each, np.where(row[both] == 0, 1, -1) * (each + grid.gap) / 2
    stones = Row(
        number=np.arange(len(place)),
        place=place,
        row=row,
        at=route.curve.beside(s, aside),
        forward=route.curve.direction(s),
        turn=(2 * dice[:, 2] - 1) * TWIST,
        unit=unit_outlines(dice[:, 4:]),
        held=np.zeros(len(place), dtype=bool),
        half=np.column_stack((length / 2, length / 2, wide / 2, wide / 2)),
    )
    _put_held(stones, held, route, np.column_stack((s, aside)), stride=2 if grid.two else 1)
    stones.forward = _turned(stones.forward, stones.turn)
    in_row, facing = _neighbours(count, double, two=grid.two)
    aims = choice.gap_low + (0.2 + 0.6 * dice[:, 3]) * (choice.gap_high - choice.gap_low)
    return stones, _Links(in_row=in_row, facing=facing, aims=aims[place[in_row].min(axis=1)], middle=grid.gap)


def _neighbours(count: int, double: Sequence[int], *, two: bool) -> tuple[Pairs, Pairs]:
    """Return which stones follow each other, and which lie beside each other: in two rows, or two in one place."""
    jump, number = 2 if two else 1, range(count)
    follow = list(zip(number, number[jump:], strict=False))
    for second, k in enumerate(double, count):
        follow += [(k - 1, second), (second, k + 1)]
    beside = itertools.pairwise(number) if two else zip(double, itertools.count(count), strict=False)
    return np.asarray(follow, dtype=np.intp).reshape(-1, 2), np.asarray(list(beside), dtype=np.intp).reshape(-1, 2)


def _grid(route: Route, choice: StoneChoice) -> _Grid:
    """Return how many paces the path has, and whether it is wide enough for two rows and the gap between them."""
    paces = max(1, round(route.length / choice.pace))
    usable = route.width - 2 * EDGE
    gap = (choice.gap_low + choice.gap_high) / 2
    two = usable >= 2 * NARROWED * choice.across + gap and paces > 2
    across = min(choice.across, (usable - gap) / 2 if two else usable)
    return _Grid(paces=paces, pace=route.length / paces, usable=usable, gap=gap, two=two, across=across)


def _put_held(stones: Row, held: Sequence[HeldStone], route: Route, places: FloatArray, *, stride: int) -> None:
    """Put the held stones where they belong and let the nearest stones of the same row shift part of the way.

    ``places`` (n, 2) are lengths along and offsets beside the middle line.
    """
    s, aside = places[:, 0], places[:, 1]
    move = np.zeros((len(s), 2))
    chosen = [h for h in held if 0 <= h.number < len(s)]
    for h in chosen:
        stones.held[h.number] = True
        move[h.number] = np.asarray(h.at) - stones.at[h.number]
    fixed = np.flatnonzero(stones.held)
    for i in range(len(s)):
        away = np.abs(stones.place[fixed] - stones.place[i])
        same = fixed[away % stride == 0]
        if not len(same) or stones.held[i]:
            continue
        near = int(same[away[away % stride == 0].argmin()])
        share = 1 - abs(int(stones.place[near] - stones.place[i])) / stride / SPREAD
        if share > 0:
            forward = route.curve.direction(s[near])[0]
            s[i] = np.clip(s[i] + share * float(move[near] @ forward), 0.0, route.length)
    free = ~stones.held
    stones.at[free] = route.curve.beside(s[free], aside[free])
    stones.forward[free] = route.curve.direction(s[free])
    for h in chosen:
        stones.at[h.number] = h.at
        nearest = int(np.linalg.norm(route.curve.points - np.asarray(h.at), axis=1).argmin())
        stones.forward[h.number] = route.curve.tangents[nearest]
        stones.turn[h.number] = h.turn


def _mended(stones: Row, links: _Links, choice: StoneChoice, route: Route) -> Shapes:
    """Move fronts, backs and inner sides until gaps meet their aims and stones lie in the path; return the outlines."""
    pace = route.length / max(1, round(route.length / choice.pace))
    least, most = SHORTEST * pace, LONGEST * pace
    free = ~stones.held
    i, j = links.in_row.T
    giving = np.maximum(1, free[i].astype(int) + free[j])
    last = stones.place.max()
    first_or_last = (stones.place < 2) | (stones.place > last - 2)
    landing = (choice.spread > 0) & ((stones.place == 0) | (stones.place == last))  # cut to fit
    shapes = outlines.from_corners(stones.corners())
    for _ in range(ROUNDS):
        error = (outlines.gaps(shapes[i], shapes[j]) - links.aims) / giving
        stones.half[i, 0] = np.where(free[i], np.clip(stones.half[i, 0] + error, least, most), stones.half[i, 0])
        stones.half[j, 1] = np.where(free[j], np.clip(stones.half[j, 1] + error, least, most), stones.half[j, 1])
        worst = max(float(np.abs(error).max(initial=0.0)), _widen(stones, links, shapes, free))
        out = free & ~landing & ~outlines.inside(shapes, route.region)
        stones.half[out, 2:] *= 0.96
        stones.half[out & first_or_last, :2] *= 0.97
        shapes = outlines.from_corners(stones.corners())
        if worst < REACHED and not out.any():
            break
    return shapes


def _widen(stones: Row, links: _Links, shapes: Shapes, free: NDArray[np.bool_]) -> float:
    """Move the inner sides of two rows by half the mean error of the gaps each faces; return the largest mean error."""
    if not len(links.facing):
        return 0.0
    off = outlines.gaps(shapes[links.facing[:, 0]], shapes[links.facing[:, 1]]) - links.middle
    total, count = np.zeros(len(free)), np.zeros(len(free))
    for side in (0, 1):
        np.add.at(total, links.facing[:, side], off)
        np.add.at(count, links.facing[:, side], 1)
    mean, inner = total / np.maximum(count, 1), np.where(stones.row == 0, 3, 2)
    at = np.flatnonzero(free)
    now = stones.half[at, inner[at]]
    stones.half[at, inner[at]] = np.clip(now + 0.5 * mean[at], 0.6 * now, 1.4 * now)
    return float(np.abs(mean[at]).max(initial=0.0))


def _turned(forward: FloatArray, degrees: FloatArray) -> FloatArray:
    angle = -np.radians(degrees)
    c, s = np.cos(angle), np.sin(angle)
    return np.column_stack((c * forward[:, 0] - s * forward[:, 1], s * forward[:, 0] + c * forward[:, 1]))
