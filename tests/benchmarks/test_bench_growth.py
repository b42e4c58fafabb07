"""What a garden costs grows no faster than the garden: plants, beds, paths and trees doubled twice, all at once.

Seconds of CPU of three made-up gardens measured turn about in one run, nothing remembered between, least of several.
"""

import functools
import gc
import time
from collections.abc import Callable, Sequence
from itertools import pairwise
from pathlib import Path

import pytest
from large_garden import large_garden
from turns import PATIENCE
from turns import told as say

from gardenkit import storage
from gardenkit.drawing.garden import garden_scene
from gardenkit.garden import Garden
from gardenkit.handover import booklet
from gardenkit.notebook import workbook
from gardenkit.notebook.session import Session
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project.remembered import Remembered

pytestmark = pytest.mark.benchmark
ROOMS, ACROSS = 3, 3  # in one row, in two and in four: a sixth of an acre, a third, and two thirds
DOUBLED = (1, 2, 4)
MOST = 2.3  # times the cost for twice the garden
QUICK, SLOW, ONCE = 3, 2, 1  # rounds of what takes tenths of a second, of what takes seconds, of what takes ten
FEW_ROOMS = 1  # of the garden whose client copy is made: some seconds, which a larger one would take a minute for


def forget() -> None:
    """Let go of everything that is remembered between two asks."""
    for thing in gc.get_objects():
        if isinstance(thing, functools._lru_cache_wrapper) and thing.__module__.startswith("gardenkit"):
            thing.cache_clear()
        elif isinstance(thing, Remembered):
            thing._found.clear()
    load_catalogue()


def kept(place: Path, rooms: int) -> tuple[Path, ...]:
    """Return the folders of a garden of so many rooms, of one of twice as many and of one of four times as many."""
    folders = tuple(place / f"rooms_{times * rooms}" for times in DOUBLED)
    for folder, times in zip(folders, DOUBLED, strict=True):
        storage.create(folder, large_garden(times * rooms, across=min(ACROSS, max(2, rooms))))
    return folders


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, ...]:
    return kept(tmp_path_factory.mktemp("growth"), ROOMS)


def laid(garden: Garden) -> object:
    return garden.layout


def told(garden: Garden) -> object:
    return garden.advice


def drawn(garden: Garden) -> object:
    return garden_scene(garden.project, garden.layout, garden.catalogue, year=10)


def opened(garden: Garden) -> object:
    return workbook.page(Session(garden.folder), "structure")


def copied(garden: Garden) -> object:
    return booklet.render(garden, edition="office")  # with everything, and warnings may be open


@pytest.mark.parametrize(
    ("ready", "work", "rounds"),
    [((), laid, QUICK), ((laid, Garden.sun), told, SLOW), ((laid,), drawn, QUICK), ((laid, told), opened, SLOW)],
    ids=["layout", "findings", "scene", "page"],
)
def test_twice_the_garden_costs_little_more_than_twice(
    folders: tuple[Path, ...],
    ready: tuple[Callable[[Garden], object], ...],
    work: Callable[[Garden], object],
    rounds: int,
) -> None:
    assert growth(folders, ready, work, rounds) <= MOST


def test_the_client_copy_of_twice_the_garden_costs_little_more_than_twice(tmp_path: Path) -> None:
    assert growth(kept(tmp_path, FEW_ROOMS), (), copied, ONCE) <= MOST


def growth(
    folders: tuple[Path, ...],
    ready: tuple[Callable[[Garden], object], ...],
    work: Callable[[Garden], object],
    rounds: int,
) -> float:
    """Return the most that the least cost of a work grows by when the garden doubles, once and once more.

    A busy machine adds to some rounds and takes from none, so that the least of more rounds is nearer to the truth.
    """
    least = [float("inf")] * len(folders)
    for done in range(PATIENCE * rounds):
        if done >= rounds and worst(least) <= MOST:
            break
        for i in reversed(
            range(len(folders))
        ):  # what is loaded or compiled first is never taken for the smallest's cost
            forget()
            garden = Garden.open(folders[i])
            for before in ready:
                before(garden)
            least[i] = min(least[i], cost_of(work, garden))
    times = " and ".join(f"{more / less:.2f}" for less, more in pairwise(least))
    say(
        f"a garden doubled and doubled again, {work.__name__}, of half of it ({least[0]:.2f} s)",
        f"{times} x",
        f"{MOST}",
    )
    return worst(least)


def worst(costs: Sequence[float]) -> float:
    """Return the most that costs grow by from one to the next."""
    return max(more / less for less, more in pairwise(costs))


def cost_of(work: Callable[[Garden], object], garden: Garden) -> float:
    """Return the seconds of CPU of a work, without the collector of garbage, as Python's own timeit measures: its
    rounds cost by all that is alive in the process, other benchmarks' things too, and not by this garden.
    """
    gc.collect()
    gc.disable()
    try:
        begun = time.process_time()
        work(garden)
        return time.process_time() - begun
    finally:
        gc.enable()
