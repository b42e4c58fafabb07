"""The table of all speeds at the end of a run of the benchmarks."""

import os
import platform

import pytest
from turns import ROWS


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if not ROWS:
        return
    terminalreporter.section(f"speed: {os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}")
    wide = [max(len(row[column]) for row in ROWS) for column in range(2)]
    for matter, figure, wanted in ROWS:
        terminalreporter.write_line(f"{matter:{wide[0]}}  {figure:>{wide[1]}}  {wanted}")
