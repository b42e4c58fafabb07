"""Where gardens are kept: the examples that come with gardenkit, working copies of them, and new empty gardens."""

import hashlib
import os
import shutil
from pathlib import Path

from gardenkit import storage
from gardenkit.findings import GardenError, nearest
from gardenkit.storage.files import replace_safely

PACKAGE = Path(__file__).resolve().parents[1]
HOME_VARIABLE = "GARDENKIT_HOME"
GARDEN_VARIABLE = "GARDENKIT_GARDEN"


def home() -> Path:
    """Return the folder where working copies are made: GARDENKIT_HOME, or ``gardenkit`` in the user's home folder."""
    return Path(os.environ[HOME_VARIABLE]) if HOME_VARIABLE in os.environ else Path.home() / "gardenkit"


def workbook_folder() -> Path:
    """Return the folder of the notebooks as they came with gardenkit: in a checkout or in an installed copy."""
    return _carried("workbook")


def examples() -> tuple[Path, ...]:
    """Return the folders of the example gardens, in order of name."""
    return tuple(sorted(p for p in _carried("examples").glob("*") if storage.is_garden(p)))


def _carried(name: str) -> Path:
    """Return what came with gardenkit: inside the package when installed from a wheel, beside it in a checkout.

    Raises GardenError when neither is there.
    """
    for folder in (PACKAGE / f"_{name}", PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise GardenError(f"this copy of gardenkit came without its {name} folder; install it again (see README.md)")


def example(name: str) -> Path:
    """Return one example garden's folder; raises GardenError naming the nearest known one."""
    for folder in examples():
        if folder.name == name:
            return folder
    names = [p.name for p in examples()]
    raise GardenError(f'there is no example "{name}"{nearest(name, names)}; the examples are: {", ".join(names)}')


def kept() -> tuple[Path, ...]:
    """Return the folders of the designer's own gardens in the home folder, in order of name."""
    return tuple(sorted(p for p in home().glob("*") if storage.is_garden(p)))


def at_home(typed: str) -> Path:
    """Return the folder a designer typed: whole, from ``~``, or by its name in the home folder."""
    folder = Path(typed.strip()).expanduser()
    return folder if folder.is_absolute() else home() / folder


def working_copy(name: str | None = None) -> Path:
    """Return a folder with the designer's own copy of an example (the first one by default), made if missing."""
    source = example(name) if name else examples()[0]
    target = home() / source.name
    if not storage.is_garden(target):
        copy_garden(source, target)
    return target


def copy_garden(source: Path, target: Path) -> None:
    """Copy what the designer said and the pictures, not the history or rendered pages."""
    if storage.is_garden(target):
        raise GardenError(f"{target} already holds a garden; choose another folder")
    storage.create(target, storage.load(source).project)
    if (source / storage.OWN_PLANTS_FILE).exists():
        shutil.copy2(source / storage.OWN_PLANTS_FILE, target / storage.OWN_PLANTS_FILE)
    for folder in (storage.PICTURES_FOLDER, storage.SITE_PHOTOS_FOLDER):
        if (source / folder).is_dir():
            shutil.copytree(source / folder, target / folder, dirs_exist_ok=True)


def choose(folder: Path) -> None:
    """Make a garden the one that every notebook of this lab opens from now on."""
    replace_safely(_desk(), str(folder.resolve()).encode("utf-8"))


def forget_choice() -> None:
    """Let the notebooks open the garden that the lab was started on again."""
    _desk().unlink(missing_ok=True)


def chosen() -> Path | None:
    """Return the garden chosen on the start page of this lab, None when none was or it is gone."""
    desk = _desk()
    if not desk.is_file():
        return None
    folder = Path(desk.read_text(encoding="utf-8"))
    return folder if storage.is_garden(folder) else None


def _desk() -> Path:
    """Return the note that remembers the choice, one for each garden a lab can be started on."""
    started = os.environ.get(GARDEN_VARIABLE, "")
    home().mkdir(parents=True, exist_ok=True)
    return home() / f".chosen-{hashlib.sha256(started.encode()).hexdigest()[:12]}"
