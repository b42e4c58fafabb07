"""Settings for every test: at home hypothesis looks for new cases each time, in CI it tries the same ones again.

``--often N`` makes the fault, mutation and typing suites N times as long: CI takes 1, a release the figures below.
"""

import os

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile("home", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("ci" if os.environ.get("CI") else "home")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--often", type=int, default=1, help="repeat the fault, mutation and typing suites this often")


@pytest.fixture
def often(request: pytest.FixtureRequest) -> int:
    """How many times as long as in CI a suite shall run."""
    count: int = request.config.getoption("--often")
    return count
