"""Every check of the project, one after another; stops with a non-zero code when any of them fails.

Run it through ``python -m gardenkit.start test``. Arguments go to pytest instead of running everything.
"""

import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PYTHON = sys.executable
CHECKS: tuple[tuple[str, list[str]], ...] = (
    ("format", [PYTHON, "-m", "ruff", "format", "--check", "."]),
    ("lint", [PYTHON, "-m", "ruff", "check", "."]),
    ("types", [PYTHON, "-m", "mypy"]),
    ("imports", [PYTHON, "-c", "from importlinter.cli import lint_imports_command as run; run()"]),
    ("notebooks", [PYTHON, "-m", "pytest", "-q", "--nbval-lax", "--nbval-cell-timeout=120", "workbook"]),
    ("tests", [PYTHON, "-m", "pytest", "-q", "tests"]),
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
        code = subprocess.run(command, cwd=ROOT, check=False).returncode
        lines.append(f"{name:10} {'ok' if code == 0 else f'FAILED ({code})':12} {time.monotonic() - begun:6.1f} s")
        worst = worst or code
    sys.stdout.write("\n" + "\n".join(lines) + "\n")
    return worst


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
