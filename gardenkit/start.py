"""Set up gardenkit in a fresh copy and start it: nothing but Python itself is needed to run this file.

``python -m gardenkit.start`` makes the virtual environment ``.venv``, installs gardenkit into it and opens the
workbook on an example garden. ``python -m gardenkit.start test`` makes ``.venv-test`` and runs every check. Both are
safe to run again: an environment that is up to date is used as it is.
"""

from __future__ import annotations  # so that a Python that is too old comes as far as the sentence that says so

import contextlib
import hashlib
import itertools
import os
import subprocess
import sys
import venv
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
OLDEST = (3, 11)
USAGE = "usage: python -m gardenkit.start [open [FOLDER] | test [pytest arguments]]"


class NoPipError(Exception):
    """This Python cannot make an environment with an installer in it."""


class FailedError(Exception):
    """Installing ended with an error, which pip has said."""


def environment(name: str, extra: str) -> Path:
    """Return the Python of a virtual environment in the project folder, made and filled when it is not up to date."""
    folder = ROOT / name
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    wanted = hashlib.sha256((ROOT / "pyproject.toml").read_bytes() + sys.version.encode()).hexdigest()
    mark = folder / "gardenkit-installed"
    if not (python.exists() and mark.exists() and mark.read_text(encoding="utf-8") == wanted):
        if find_spec("ensurepip") is None:
            raise NoPipError
        sys.stderr.write(f"gardenkit: setting up {name} (a few minutes, once)\n")
        venv.create(folder, with_pip=True, clear=True)
        install([str(python), "-m", "pip", "install", "--quiet", "--editable", f"{ROOT}{extra}"])
        mark.write_text(wanted, encoding="utf-8")
    return python


def install(command: list[str], between: float = 60) -> None:
    """Run the installer, saying each minute that it still works: a slow network takes it long."""
    with subprocess.Popen(command) as pip:
        for minutes in itertools.count(1):
            try:
                code = pip.wait(between)
                break
            except subprocess.TimeoutExpired:
                sys.stderr.write(f"gardenkit: still installing, {minutes} min so far\n")
    if code:
        raise FailedError(f"pip ended with {code}")


def waited_for(command: list[str], folder: Path | None = None) -> int:
    """Run a command to its end and return its exit code. Ctrl-C reaches it too, and it is given the time to close; the
    third one ends it.
    """
    with subprocess.Popen(command, cwd=folder) as running:
        for _ in range(3):
            with contextlib.suppress(KeyboardInterrupt):
                return running.wait()
        running.kill()
    return 130


def main(arguments: list[str]) -> int:
    """Run one of the two commands; returns the exit code."""
    if sys.version_info < OLDEST:
        found = ".".join(map(str, sys.version_info[:3]))
        sys.stderr.write(f"gardenkit needs Python {OLDEST[0]}.{OLDEST[1]} or newer; this is {found}\n")
        return 2
    task, rest = (arguments[0], arguments[1:]) if arguments else ("open", [])
    try:
        if task == "open":
            python = environment(".venv", "")
            return waited_for([str(python), "-m", "gardenkit.notebook.command", "open", *rest])
        if task == "test":
            python = environment(".venv-test", "[test]")
            return waited_for([str(python), "-m", "tests.run", *rest], ROOT)
    except NoPipError:
        sys.stderr.write(
            "gardenkit: this Python lacks ensurepip, which setting up needs; install it (Debian and Ubuntu: "
            f"sudo apt install python{sys.version_info[0]}.{sys.version_info[1]}-venv), then run the command again\n"
        )
        return 1
    except (FailedError, subprocess.CalledProcessError) as error:
        sys.stderr.write(f"gardenkit: setting up failed ({error}); see the lines above, then run the command again\n")
        return 1
    except KeyboardInterrupt:
        return 130
    sys.stderr.write(USAGE + "\n")
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
