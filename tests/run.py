"""Every check of the project, one after another; ends with a non-zero code when any of them fails.

Run it through ``python -m gardenkit.start test``. Arguments go to pytest instead of running everything.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PYTHON = sys.executable
PYTEST = [PYTHON, "-m", "pytest", "-q"]
NOTEBOOKS = [*PYTEST, "-n", "2", "--dist", "loadfile", "--nbval-lax", "--nbval-cell-timeout=180", "workbook"]
EMPTY = "empty garden"
# In kernels on one example and on nothing at all; tests/notebook/test_workbook_checks.py runs them on every example.
GARDENS = ("fennel_street_corner", EMPTY)
CHECKS: tuple[tuple[str, list[str]], ...] = (
    ("format", [PYTHON, "-m", "ruff", "format", "--check", "."]),
    ("lint", [PYTHON, "-m", "ruff", "check", "."]),
    ("types", [PYTHON, "-m", "mypy"]),
    ("imports", [PYTHON, "-c", "from importlinter.cli import lint_imports_command as run; run()"]),
    ("house", [PYTHON, "tests/house.py"]),
    *((f"notebooks {name}", NOTEBOOKS) for name in GARDENS),
    ("examples in the docstrings", [*PYTEST, "--doctest-modules", "gardenkit"]),
    # Ratios of speed want the machine for themselves; the rest shares its cores, a browser waits more than it works.
    ("benchmarks", [*PYTEST, "-s", "-m", "benchmark", "tests/benchmarks", "tests/browser"]),
    ("browser", [*PYTEST, "-n", "2", "-m", "browser and not benchmark", "tests/browser"]),
    ("tests", [*PYTEST, "-n", "auto", "-m", "not browser and not benchmark", "tests"]),
)


def main(arguments: list[str]) -> int:
    """Run every check, or only pytest when arguments are given; returns the first bad exit code."""
    if arguments:
        return subprocess.run([PYTHON, "-m", "pytest", *arguments], cwd=ROOT, check=False).returncode
    worst, lines = 0, []
    for name, command in CHECKS:
        begun = time.monotonic()
        sys.stdout.write(f"\n=== {name}\n")
        sys.stdout.flush()
        # Every check gets a home of its own, so that nobody's gardens are read or written.
        with tempfile.TemporaryDirectory(prefix="gardenkit-") as home:
            code = subprocess.run(command, cwd=ROOT, env=surroundings(name, home), check=False).returncode
        lines.append(f"{name:32} {'ok' if code == 0 else f'FAILED ({code})':12} {time.monotonic() - begun:6.1f} s")
        worst = worst or code
    sys.stdout.write("\n" + "\n".join(lines) + "\n")
    return worst


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
