"""Settings for every test: at home hypothesis looks for new cases each time, in CI it tries the same ones again.

``--often N`` makes the fault, mutation, typing and route suites N times as long: CI takes 1, a release these figures.
"""

import gc
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copytree
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from gardenkit.notebook.session import Session
    from gardenkit.project import Project

settings.register_profile("home", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("ci" if os.environ.get("CI") else "home")

gc.set_threshold(50_000, 20, 10)  # a tenth of the tests' time went into looking for cycles at the usual 700


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--often", type=int, default=1, help="repeat the fault, mutation, typing and route suites this often"
    )


@pytest.fixture(scope="session", autouse=True)
def _painted_small() -> Iterator[None]:
    from paintings import small

    with small():
        yield


@pytest.fixture(scope="module", autouse=True)
def _widgets_put_away() -> Iterator[None]:
    """Close the widgets of a module's tests: each is kept in a list of ipywidgets, and its page and garden with it.

    A worker grew to 2.7 GB.
    """
    yield
    widgets = sys.modules.get("ipywidgets")
    if widgets is not None and widgets.widgets.widget._instances:
        widgets.Widget.close_all()
        gc.collect()


@pytest.fixture
def often(request: pytest.FixtureRequest) -> int:
    """How many times as long as in CI a suite shall run."""
    count: int = request.config.getoption("--often")
    return count


@pytest.fixture(scope="session")
def changed_example(tmp_path_factory: pytest.TempPathFactory) -> "Callable[..., Session]":
    """A copy of an example garden with one edit made, open: most tests of words need only a few of its plants."""
    from gardenkit import storage
    from gardenkit.notebook.session import Session

    def opened(name: str, label: str, change: "Callable[[Project], Project]") -> Session:
        folder = tmp_path_factory.mktemp("example") / name
        copytree(Path(__file__).resolve().parents[1] / "examples" / name, folder)
        storage.edit(folder, label, change)
        return Session(folder)

    return opened
