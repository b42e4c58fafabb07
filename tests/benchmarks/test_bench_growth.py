"""What a garden costs grows no faster than the garden: plants, beds, paths and trees twice, all at once.

Seconds of CPU of two made-up gardens measured turn about in one run, nothing remembered between, least of several.
"""

import functools
import gc
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from gardenkit import storage
from gardenkit.drawing.garden import garden_scene
from gardenkit.garden import Garden
from gardenkit.notebook import workbook
from gardenkit.notebook.session import Session
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project.remembered import Remembered

sys.path.insert(0, str(Path(__file__).parent))
from large_garden import large_garden

pytestmark = pytest.mark.benchmark
ROOMS, ACROSS = 6, 3  # in two rows, and twice as many in four: a third of an acre and two thirds
MOST = 2.8  # times the cost for twice the garden. Wanted 2.3; measured 1.4 to 2.4, findings and layout the most
QUICK, SLOW = 7, 2  # rounds of what takes tenths of a second, and of what takes seconds


def forget() -> None:
    """Let go of everything that is remembered between two asks."""
    for thing in gc.get_objects():
        if isinstance(thing, functools._lru_cache_wrapper) and thing.__module__.startswith("gardenkit"):
            thing.cache_clear()
        elif isinstance(thing, Remembered):
            thing._found.clear()
    load_catalogue()


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    made = []
    for rooms in (ROOMS, 2 * ROOMS):
        folder = tmp_path_factory.mktemp("growth") / f"rooms_{rooms}"
        storage.create(folder, large_garden(rooms, across=ACROSS))
        made.append(folder)
    return made[0], made[1]


def laid(garden: Garden) -> object:
    return garden.layout


def told(garden: Garden) -> object:
    return garden.advice


def drawn(garden: Garden) -> object:
    return garden_scene(garden.project, garden.layout, garden.catalogue, year=10)


def opened(garden: Garden) -> object:
    return workbook.page(Session(garden.folder), "structure")


@pytest.mark.parametrize(
    ("ready", "work", "rounds"),
    [((), laid, QUICK), ((laid, Garden.sun), told, SLOW), ((laid,), drawn, QUICK), ((laid, told), opened, SLOW)],
    ids=["layout", "findings", "scene", "page"],
)
def test_twice_the_garden_costs_little_more_than_twice(
    folders: tuple[Path, Path],
    ready: tuple[Callable[[Garden], object], ...],
    work: Callable[[Garden], object],
    rounds: int,
) -> None:
    least = [float("inf"), float("inf")]
    for _ in range(rounds):
        for i, folder in enumerate(folders):
            forget()
            garden = Garden.open(folder)
            for before in ready:
                before(garden)
            begun = time.process_time()
            work(garden)
            least[i] = min(least[i], time.process_time() - begun)
    print(f"\n{work.__name__}: {least[0]:.2f} s, twice the garden {least[1]:.2f} s, {least[1] / least[0]:.2f} x")
    assert least[1] <= MOST * least[0]
