"""Every check of the project, one after another; ends with a non-zero code when any of them fails.

Run it through ``python -m gardenkit.start test``. Arguments go to pytest instead of running everything.
"""

import os
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PYTHON = sys.executable
PYTEST = [PYTHON, "-m", "pytest", "-q"]
NOTEBOOKS = [*PYTEST, "-n", "2", "--dist", "loadfile", "--nbval-lax", "--nbval-cell-timeout=180", "workbook"]
EMPTY = "empty garden"
# In kernels on one example and on nothing at all; tests/notebook/test_workbook_checks.py runs them on every example.
GARDENS = ("lantern_lane_strip", EMPTY)
READ = (  # by reading the code, mostly on one core each: two at a time
    ("types", [PYTHON, "-m", "mypy"]),
    ("format", [PYTHON, "-m", "ruff", "format", "--check", "."]),
    ("lint", [PYTHON, "-m", "ruff", "check", "."]),
    ("imports", [PYTHON, "-c", "from importlinter.cli import lint_imports_command as run; run()"]),
    ("house", [PYTHON, "tests/house.py"]),
    ("examples in the docstrings", [*PYTEST, "--doctest-modules", "gardenkit"]),
)
RUN = (  # one after another, each with the machine for itself
    *((f"notebooks {name}", NOTEBOOKS) for name in GARDENS),
    # Ratios of speed want the machine for themselves; the rest shares its cores, a browser waits more than it works.
    ("benchmarks", [*PYTEST, "-s", "-m", "benchmark", "tests/benchmarks", "tests/browser"]),
    ("browser", [*PYTEST, "-n", "2", "-m", "browser and not benchmark", "tests/browser"]),
    # Else the last files, which are slow ones, keep one core busy for minutes while the other waits.
    ("tests", [*PYTEST, "-n", "auto", "--dist", "worksteal", "-m", "not browser and not benchmark", "tests"]),
)


def main(arguments: list[str]) -> int:
    """Run every check, or only pytest when arguments are given; returns the first bad exit code."""
    if arguments:
        return subprocess.run([PYTHON, "-m", "pytest", *arguments], cwd=ROOT, check=False).returncode
    ends = []
    with ThreadPoolExecutor(2) as two:
        ends += two.map(lambda check: ended(*check, shown=False), READ)
    ends += [ended(*check, shown=True) for check in RUN]
    sys.stdout.write("\n" + "\n".join(line for _, line in ends) + "\n")
    return next((code for code, _ in ends if code), 0)


def ended(name: str, command: list[str], *, shown: bool) -> tuple[int, str]:
    """Run one check and return its exit code and its line of the last table; not ``shown``, its words come at once."""
    begun = time.monotonic()
    if shown:
        said(name)
    # Every check gets a home of its own, so that nobody's gardens are read or written.
    with tempfile.TemporaryDirectory(prefix="gardenkit-") as home:
        output = None if shown else subprocess.PIPE
        done = subprocess.run(
            command,
            cwd=ROOT,
            env=surroundings(name, home),
            check=False,
            stdout=output,
            stderr=output and subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        )
    if not shown:
        said(name, done.stdout)
    code = done.returncode
    return code, f"{name:32} {'ok' if code == 0 else f'FAILED ({code})':12} {time.monotonic() - begun:6.1f} s"


def said(name: str, words: str = "") -> None:
    """Write the head of a check, and what it said, in one piece."""
    sys.stdout.write(f"\n=== {name}\n{words}")
    sys.stdout.flush()


def surroundings(name: str, home: str) -> dict[str, str]:
    """Return the environment of one check: the notebooks open a fresh copy of the garden they are named after."""
    found = {key: value for key, value in os.environ.items() if not key.startswith("GARDENKIT_")}
    found["GARDENKIT_HOME"] = home
    example = name.removeprefix("notebooks ")
    if example != name:
        garden = Path(home) / example
        begun = ["new"] if example == EMPTY else ["examples", "--copy", example]
        command = [PYTHON, "-m", "gardenkit.notebook.command", *begun, str(garden)]
        subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
        found["GARDENKIT_GARDEN"] = str(garden)
    return found


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
