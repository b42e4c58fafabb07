"""Moves plants about until the arrangement is as good as it gets: the search, compiled or in plain NumPy."""

from collections.abc import Callable
from importlib.util import find_spec
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.arranging.energy import ILLEGAL, Setup, State, Whole, energy, move, moved_energy

Engine = Literal["auto", "compiled", "plain"]
Progress = Callable[[float, float], None]  # share done 0 to 1, objective so far (lower is better)
Stop = Callable[[], bool]
MOVES = 300_000  # compiled tries for up to about 300 plants. House value: no gain seen beyond.
CHUNKS = 40  # times the designer hears of progress and may stop
WARM, COLD = 1.0, 0.005  # of the objective: a change for the worse this big is still taken now and then. House values.
FAR, NEAR = 3.0, 0.15  # m: longest shift at the start and at the end. House values.
PRESS = 4.0  # by how much standing too near weighs more at the end. House value.
PLAIN_SHARE = 150  # compiled tries that one plain step, which looks at many places at once, stands for. House value.
PLACES, JUMPS = 20, 4  # places looked at in one plain step: shifts, and anywhere. House values.


@attrs.frozen(kw_only=True)
class Searched:
    """Which engine searched and whether it ran to its end."""

    engine: str
    is_complete: bool


def search(
    setup: Setup,
    state: State,
    *,
    seed: int,
    moves: int = MOVES,
    engine: Engine = "auto",
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> Searched:
    """Improve ``state`` in place by simulated annealing; one engine with one seed always gives the same plan.

    ``progress`` is told the share done and the objective after each of 40 parts; ``stop`` is asked as often. Raises
    GardenError for ``engine="compiled"`` where Numba is missing.
    """
    used = _engine(engine)
    random = np.random.default_rng(seed)
    for part in range(CHUNKS):
        if stop is not None and stop():
            return Searched(engine=used, is_complete=False)
        here = np.linspace(part, part + 1, max(1, moves // CHUNKS), endpoint=False) / CHUNKS
        pressed = setup._replace(weights=setup.weights * np.array([1 + (PRESS - 1) * part / CHUNKS, 1, 1, 1, 1, 1]))
        warm, radius = WARM * (COLD / WARM) ** here, FAR * (NEAR / FAR) ** here
        if used == "compiled":
            from gardenkit.planting.arranging import kernel

            kernel.anneal(pressed, state, random.random((len(here), 6)), warm, radius)
        else:
            _plain_part(pressed, state, random, warm[::PLAIN_SHARE], radius[::PLAIN_SHARE])
        if progress is not None:
            now = kernel.whole_energy(setup, state) if used == "compiled" else energy(setup, state)
            progress((part + 1) / CHUNKS, now)
    return Searched(engine=used, is_complete=True)


# ---- helpers


def _engine(wanted: Engine) -> str:
    if wanted == "plain":
        return "plain"
    if find_spec("numba") is not None:
        return "compiled"
    if wanted == "compiled":
        raise GardenError("the compiled search needs Numba, which is not installed; leave engine at auto")
    return "plain"


def _plain_part(s: Setup, t: State, random: np.random.Generator, warm: FloatArray, radius: FloatArray) -> None:
    """Move one plant or one group for each step to one of several places, the better the likelier."""
    movers = np.flatnonzero(s.movable)
    if not len(movers):
        return
    for heat, far in zip(warm, radius, strict=True):
        i = int(movers[random.integers(len(movers))])
        group = s.members[s.first[s.group[i]] : s.first[s.group[i] + 1]]
        those = np.array([i]) if random.random() < 0.5 else group
        shifts = (2.0 * random.random((PLACES, 2)) - 1.0) * far
        anywhere = s.points[random.integers(len(s.points), size=JUMPS)] - t.at[i]
        cells = _aims(s, t, those, np.vstack((np.zeros((1, 2)), shifts, anywhere)))
        cells = cells[:, (cells >= 0).all(axis=0)]
        alone = len(those) == 1
        costs = [moved_energy(s, t, int(p), c, outside_group=not alone) for p, c in zip(those, cells, strict=True)]
        best = int((np.sum(costs, axis=0) - heat * random.gumbel(size=cells.shape[1])).argmin())
        for p, c in zip(those, cells[:, best], strict=True):
            move(s, t, int(p), int(c))


def _aims(s: Setup, t: State, those: Whole, shifts: FloatArray) -> Whole:
    """Return (plants, places) the squares that plants come to when shifted, -1 where one may not stand."""
    to = t.at[those][:, None, :] + shifts[None, :, :]
    row = np.floor((to[..., 1] - s.bottom) / s.size).astype(int)
    column = np.floor((to[..., 0] - s.left) / s.size).astype(int)
    inside = (row >= 0) & (column >= 0) & (row < s.sheet.shape[0]) & (column < s.sheet.shape[1])
    cells = np.where(inside, s.sheet[np.where(inside, row, 0), np.where(inside, column, 0)], -1)
    legal = s.unary[s.kind[those][:, None], np.maximum(cells, 0)] < ILLEGAL
    found = np.where(legal, cells, -1)
    found[:, 0] = t.cell[those]  # staying is always possible
    return np.asarray(found)
