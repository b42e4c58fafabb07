"""Moves plants about until the arrangement is as good as it gets, fast: the compiled search.

Importing this file imports Numba. The counting is that of ``arranging.energy``; a test compares the two.
"""

from collections.abc import Callable
from typing import TypeVar, cast

import numba
import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.arranging.energy import Setup, State, Whole

Func = TypeVar("Func", bound=Callable[..., object])
Part = tuple[int, int]  # from and to in Setup.members
Shift = tuple[float, float]  # metres
ONE, SHIFT, JUMP = 0.45, 0.80, 0.92  # shares of the draws: one plant, a group shifted, a group anywhere; rest: two swap


def _compiled(function: Func) -> Func:
    """Compile a function without the interpreter lock, kept on disk where any cache folder can be written."""
    try:
        return cast(Func, numba.njit(nogil=True, cache=True, error_model="numpy")(function))
    except RuntimeError:  # no cache folder can be written
        return cast(Func, numba.njit(nogil=True, error_model="numpy")(function))


@_compiled
def plant_energy(s: Setup, t: State, i: int) -> float:
    """Return what plant i costs where it stands: its square and its pairs with all others."""
    k, g = s.kind[i], s.group[i]
    total = float(s.unary[k, t.cell[i]]) if s.movable[i] else 0.0
    x, y = t.at[i, 0], t.at[i, 1]
    for j in range(len(s.kind)):
        if j == i:
            continue
        dx, dy = x - t.at[j, 0], y - t.at[j, 1]
        d = np.sqrt(dx * dx + dy * dy)
        other = s.kind[j]
        need = s.need[k, other] - s.hair
        if d < need:
            total += s.weights[0] * (s.touching + (need - d) / max(need, s.hair))
        if s.group[j] == g:
            lx, ly = t.axis[i, 0] + t.axis[j, 0], t.axis[i, 1] + t.axis[j, 1]
            size = max(np.sqrt(lx * lx + ly * ly), 1e-9)
            u, v = (dx * lx + dy * ly) / size, (dy * lx - dx * ly) / size
            far = (s.long * s.long * u * u + s.wide * s.wide * v * v) / (s.span[g] * s.span[g])
            total += s.weights[1] * far / s.sizes[g]
            continue
        if other == k and d < s.repeat[k]:
            total += s.weights[2] * (1.0 - d / s.repeat[k]) / np.sqrt(s.sizes[g] * s.sizes[s.group[j]])
        if d >= s.reach:
            continue
        near = (1.0 - d / s.reach) * s.low[k] * s.low[other]
        total += s.weights[3] * s.clash[k, other] * near
        if t.bed[i] != t.bed[j]:
            continue
        gap, ours, theirs = t.depth[j] - t.depth[i], s.height[k], s.height[other]
        if gap > s.in_front and ours > s.level * theirs:
            total += s.weights[4] * near * min(ours / theirs - 1.0, 1.0)
        elif gap < -s.in_front and theirs > s.level * ours:
            total += s.weights[4] * near * min(theirs / ours - 1.0, 1.0)
    return float(total)


@_compiled
def _lean(t: State) -> float:
    total = 0.0
    for w in range(len(t.lean)):
        total += abs(t.lean[w])
    return total


@_compiled
def _cell_at(s: Setup, x: float, y: float) -> int:
    row, column = int(np.floor((y - s.bottom) / s.size)), int(np.floor((x - s.left) / s.size))
    if row < 0 or column < 0 or row >= s.sheet.shape[0] or column >= s.sheet.shape[1]:
        return -1
    return int(s.sheet[row, column])


@_compiled
def _put(s: Setup, t: State, i: int, cell: int) -> None:
    mass = s.mass[s.kind[i]]
    if t.way[i] >= 0:
        t.lean[t.way[i]] -= t.side[i] * mass
    t.at[i, 0], t.at[i, 1] = s.points[cell, 0], s.points[cell, 1]
    t.cell[i], t.bed[i], t.depth[i] = cell, s.cell_bed[cell], s.cell_depth[cell]
    t.axis[i, 0], t.axis[i, 1] = s.cell_axis[cell, 0], s.cell_axis[cell, 1]
    t.way[i], t.side[i] = s.cell_way[cell], s.cell_side[cell]
    if t.way[i] >= 0:
        t.lean[t.way[i]] += t.side[i] * mass


@_compiled
def _move(s: Setup, t: State, i: int, cell: int) -> float:
    """Put plant i on a square and return by how much the objective changed."""
    before = plant_energy(s, t, i) + s.weights[5] * _lean(t)
    _put(s, t, i, cell)
    return float(plant_energy(s, t, i) + s.weights[5] * _lean(t) - before)


@_compiled
def _aim(s: Setup, t: State, part: Part, shift: Shift, cells: Whole) -> bool:
    """Write the squares that a group comes to when shifted; False when one of its plants may not stand there."""
    for m in range(part[0], part[1]):
        i = s.members[m]
        cell = _cell_at(s, t.at[i, 0] + shift[0], t.at[i, 1] + shift[1])
        if cell < 0 or s.unary[s.kind[i], cell] >= s.illegal:
            return False
        cells[m] = cell
    return True


@_compiled
def _go(s: Setup, t: State, part: Part, cells: Whole, kept: Whole) -> float:
    """Move a group to its squares, keeping where it stood; return by how much the objective changed."""
    change = 0.0
    for m in range(part[0], part[1]):
        kept[m] = t.cell[s.members[m]]
        change += _move(s, t, s.members[m], cells[m])
    return change


@_compiled
def _back(s: Setup, t: State, part: Part, kept: Whole) -> None:
    for m in range(part[0], part[1]):
        _put(s, t, s.members[m], kept[m])


@_compiled
def _part(s: Setup, i: int, alone: bool) -> Part:
    """Return the run of members that is plant i's group, or plant i alone."""
    first, last = s.first[s.group[i]], s.first[s.group[i] + 1]
    if alone:
        for m in range(first, last):
            if s.members[m] == i:
                return m, m + 1
    return first, last


@_compiled
def _shift(s: Setup, t: State, draw: FloatArray, radius: float, pair: Part) -> Shift:
    """Return where a draw would shift the first plant: a little, to any square, or to where the second stands."""
    i, j = pair
    if draw[0] < SHIFT:
        return (2.0 * draw[2] - 1.0) * radius, (2.0 * draw[3] - 1.0) * radius
    if draw[0] < JUMP:
        cell = min(int(draw[2] * len(s.points)), len(s.points) - 1)
        return s.points[cell, 0] - t.at[i, 0], s.points[cell, 1] - t.at[i, 1]
    return t.at[j, 0] - t.at[i, 0], t.at[j, 1] - t.at[i, 1]


@_compiled
def anneal(s: Setup, t: State, draws: FloatArray, warm: FloatArray, radius: FloatArray) -> float:
    """Try one move for each row of ``draws`` (m, 6), numbers from 0 to 1, at warmth and radius (m,); return the change.

    ``t`` is changed in place. A row's numbers are: sort of move, plant, two for where to, acceptance, second plant.
    """
    movers = np.flatnonzero(s.movable)
    cells, kept = np.empty(len(s.members), np.int64), np.empty(len(s.members), np.int64)
    total, many = 0.0, len(movers)
    for row in range(len(draws) if many else 0):
        draw = draws[row]
        i, j = movers[min(int(draw[1] * many), many - 1)], movers[min(int(draw[5] * many), many - 1)]
        swap = draw[0] >= JUMP
        if swap and s.group[i] == s.group[j]:
            continue
        shift = _shift(s, t, draw, radius[row], (i, j))
        part = _part(s, i, draw[0] < ONE)
        other = _part(s, j, False) if swap else (0, 0)
        if not (_aim(s, t, part, shift, cells) and _aim(s, t, other, (-shift[0], -shift[1]), cells)):
            continue
        change = _go(s, t, part, cells, kept) + _go(s, t, other, cells, kept)
        if change <= 0.0 or draw[4] < np.exp(-change / max(warm[row], 1e-12)):
            total += change
        else:
            _back(s, t, part, kept)
            _back(s, t, other, kept)
    return total


@_compiled
def whole_energy(s: Setup, t: State) -> float:
    """Return the whole objective; each pair counted once."""
    total = s.weights[5] * _lean(t)
    for i in range(len(s.kind)):
        own = float(s.unary[s.kind[i], t.cell[i]]) if s.movable[i] else 0.0
        total += own + (plant_energy(s, t, i) - own) / 2.0
    return float(total)
