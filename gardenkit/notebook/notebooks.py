"""Each garden's own copy of the notebooks: run as often as you like, gardenkit's own stay as they came.

What a notebook shows when it is saved is part of the record of the work, so a newer gardenkit never writes over a
notebook that was used: the old one is kept under another name.
"""

import datetime
import hashlib
import json
import os
import shlex
import shutil
import subprocess
from pathlib import Path

from gardenkit.findings import GardenError
from gardenkit.notebook import gardens
from gardenkit.storage.files import replace_safely

FOLDER = "workbook"
GIVEN = ".given.json"  # notebook name: the hash it was given with


def notebooks_of(folder: Path) -> tuple[Path, str]:
    """Return the folder of a garden's own notebooks, brought up to date, and one sentence when newer ones came.

    Raises GardenError when gardenkit came without its notebooks.
    """
    source, target = gardens.workbook_folder(), folder / FOLDER
    target.mkdir(parents=True, exist_ok=True)
    given, kept, renewed = _given(target), [], 0
    for new in sorted(source.glob("*.ipynb")):
        own, stamp = target / new.name, _hash(new)
        if own.exists() and given.get(new.name) == stamp:
            continue
        if own.exists() and _hash(own) not in (stamp, given.get(new.name)):
            kept.append(_set_aside(own).name)
        renewed += own.exists()
        shutil.copyfile(new, own)
        given[new.name] = stamp
    replace_safely(target / GIVEN, json.dumps(given, indent=1, sort_keys=True).encode("utf-8"))
    return target, _told(renewed, kept)


def where_they_are(folder: Path) -> str:
    """Return in one sentence where a garden's own notebooks are and how they are opened; nothing while it has none."""
    own = folder.resolve() / FOLDER
    if not any(own.glob("*.ipynb")):
        return ""
    return f"its own notebooks are in {own}; open them in a terminal with: {opened_by(own.parent)}"


def opened_by(folder: Path) -> str:
    """Return the command that opens a garden as it is typed, its folder in quotes where the name asks for them."""
    words = ["gardenkit", "open", str(folder)]
    return subprocess.list2cmdline(words) if os.name == "nt" else shlex.join(words)


def _told(renewed: int, kept: list[str]) -> str:
    """Return what to say of notebooks that were renewed, nothing when none was."""
    if not renewed:
        return ""
    where = f"; yours, with what they show, are kept as {', '.join(kept)}" if kept else ""
    return f"this gardenkit has newer notebooks, and the garden has them now{where}"


def _set_aside(own: Path) -> Path:
    """Give a used notebook a name with today's date, the first that is free."""
    day = datetime.datetime.now(tz=datetime.UTC).date().isoformat()
    names = [f"{own.stem}-before-{day}{more}.ipynb" for more in ("", *(f"-{n}" for n in range(2, 1000)))]
    free = next((own.with_name(name) for name in names if not own.with_name(name).exists()), None)
    if free is None:
        raise GardenError(f"{own.parent} holds too many old notebooks of today; move some away and open again")
    return own.rename(free)


def _given(target: Path) -> dict[str, str]:
    """Return the hashes the notebooks were given with; none when the note is missing or cannot be read."""
    try:
        found = json.loads((target / GIVEN).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return {str(k): str(v) for k, v in found.items()} if isinstance(found, dict) else {}


def _hash(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()
