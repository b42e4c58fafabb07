"""How near the sun map is to its floor: the same light multiplied and added up, with every shadow known beforehand."""

from concurrent.futures import ThreadPoolExecutor
from os import cpu_count

import attrs
import numpy as np
import pytest
from numpy.typing import NDArray
from test_bench_sun import LOT, TABLE, ground_map, lot, numpy_rays, ray_hits, some_steps
from turns import least, told

from gardenkit.geometry.solid import Solid
from gardenkit.site.sun_kernel import compiled

pytestmark = pytest.mark.benchmark
EVERY = 24  # of the steps: their shadows are found once and filled again and again, until as many are filled
MOST = 5.0
LANES = 16


@attrs.frozen(kw_only=True, eq=False)
class Shadows:
    """Runs of shadow (n, 3): row, first and last cell; the light let through (n); ``starts`` of each step's."""

    runs: NDArray[np.int64]
    through: NDArray[np.float32]
    starts: NDArray[np.int64]


def shadows(solids: list[Solid], steps: NDArray[np.int64]) -> Shadows:
    x, y = LOT.x[None, :], LOT.y[:, None]
    runs, through, starts = [], [], [0]
    for way, month in zip(TABLE.towards_sun()[steps], TABLE.month[steps], strict=True):
        for solid in solids:
            hit = ray_hits(x, y, solid, way)
            rows = np.flatnonzero(hit.any(axis=1))
            first, last = hit[rows].argmax(axis=1), LOT.columns - 1 - hit[rows, ::-1].argmax(axis=1)
            runs.append(np.column_stack((rows, first, last)))
            through.append(np.full(len(rows), solid.light[month - 1], dtype=np.float32))
        starts.append(sum(len(one) for one in runs))
    return Shadows(runs=np.vstack(runs), through=np.concatenate(through), starts=np.array(starts))


@compiled
def filled(
    runs: NDArray[np.int64],
    through: NDArray[np.float32],
    starts: NDArray[np.int64],
    order: NDArray[np.int64],
    hours: NDArray[np.float32],
    rows: int,
    columns: int,
) -> NDArray[np.float32]:
    """Return the hours lost over steps in an order: whole blocks of cells at a time, as a processor takes them."""
    blocks, one = (columns + LANES - 1) // LANES, np.float32(1.0)
    light, lost = np.ones(rows * blocks * LANES, np.float32), np.zeros(rows * blocks * LANES, np.float32)
    ramp = np.arange(blocks * LANES).astype(np.float32)
    low, high = np.full(rows, blocks), np.full(rows, -1)
    for step in order:
        for i in range(starts[step], starts[step + 1]):
            row, share = runs[i, 0], through[i]
            block, end = runs[i, 1] >> 4, runs[i, 2] >> 4
            low[row], high[row] = min(low[row], block), max(high[row], end)
            begin = np.uint64((row * blocks + block) << 4)
            first, last = np.float32(runs[i, 1] - (block << 4)), np.float32(runs[i, 2] - (block << 4))
            for lane in range(np.uint64((end - block + 1) << 4)):
                light[begin + lane] *= share if (ramp[lane] >= first) & (ramp[lane] <= last) else one
        for row in range(rows):
            if high[row] >= low[row]:
                from_cell, to_cell = (row * blocks + low[row]) << 4, (row * blocks + high[row] + 1) << 4
                for cell in range(np.uint64(from_cell), np.uint64(to_cell)):
                    lost[cell] += hours[step] * (one - light[cell])
                    light[cell] = one
            low[row], high[row] = blocks, -1
    return lost.reshape(rows, blocks * LANES)[:, :columns]


def test_sun_map_takes_at_most_five_times_its_floor(capsys: pytest.CaptureFixture[str]) -> None:
    solids = lot()
    steps, _ = some_steps(EVERY)
    found, hours = shadows(solids, steps), TABLE.hours[steps].astype(np.float32)
    held = (found.runs, found.through, found.starts)
    once = filled(*held, np.arange(len(steps)), hours, LOT.rows, LOT.columns)
    assert np.abs(once - numpy_rays(solids, steps)().sum(axis=0)).max() < 0.01
    months = np.array_split(np.arange(len(TABLE)) % len(steps), 12)

    def floor() -> None:
        with ThreadPoolExecutor(cpu_count()) as threads:
            list(threads.map(lambda order: filled(*held, order, hours, LOT.rows, LOT.columns), months))

    ours, least_of_all = least(
        lambda: ground_map(solids), floor, rounds=15, warm=True, kept=lambda took: took[0] <= MOST * took[1]
    )
    with capsys.disabled():
        told("sun map of the standard lot, of its shadows filled and added up", f"{ours / least_of_all:.1f} x", "5")
    assert ours <= MOST * least_of_all
