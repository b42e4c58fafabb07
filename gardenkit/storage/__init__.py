"""The garden folder: one readable project file, replaced safely, with a history that undo reads even after a restart.

``garden.json`` holds what the designer said. ``history.jsonl`` holds every change as one line: what it was, what it
became,
and which change it follows. Every edit is made on the newest state under a lock, so two notebooks on one garden never
overwrite each other. A line is safely on disk before the project file is replaced.
"""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import attrs

from gardenkit import __version__
from gardenkit import project as projects
from gardenkit.findings import GardenError
from gardenkit.project import Project
from gardenkit.storage import history
from gardenkit.storage.files import Locked, StorageError, replace_safely, stamp, trouble
from gardenkit.storage.history import HISTORY_FILE, Step
from gardenkit.storage.records import FORMAT, from_data, parsed, readable, to_data

__all__ = ["StorageError", "Stored", "create", "edit", "is_garden", "load", "recover", "redo", "steps", "undo"]

PROJECT_FILE = "garden.json"
OWN_PLANTS_FILE = "plants.csv"
PICTURES_FOLDER = "pictures"
SAME_GESTURE = 2.0  # s: slider moves closer together than this are one step of undo. House value.


@attrs.frozen(kw_only=True)
class Stored:
    """A project as it stands on disk: ``at`` is the number of the change it stands at, 0 for the first state."""

    project: Project
    at: int
    stamp: tuple[int, int] = (0, 0)  # modification time (ns) and size of the project file it was read from
    data: dict[str, Any] | None = attrs.field(default=None, eq=False, repr=False)  # the project as it was written


def create(folder: Path, project: Project) -> Stored:
    """Make a garden folder with a new project file. Raises StorageError when it already holds a garden."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StorageError(trouble(error)) from error
    except ValueError as error:
        raise StorageError(f"no folder can be called {str(folder)!r} ({error}); choose another name") from error
    with Locked(folder):
        if (folder / PROJECT_FILE).exists():
            raise StorageError(f"{folder} already holds a garden; open it, or choose another folder")
        projects.check(project)
        (folder / PICTURES_FOLDER).mkdir(exist_ok=True)
        (folder / HISTORY_FILE).write_text("", encoding="utf-8")
        return _write(folder, project, 0)


def is_garden(folder: Path) -> bool:
    """Return whether the folder holds a project file."""
    return (folder / PROJECT_FILE).is_file()


def load(folder: Path, *, known: Stored | None = None) -> Stored:
    """Return the project as it stands; ``known`` is returned unread when the file has not changed since.

    Raises StorageError for a missing, damaged or newer file.
    """
    path = folder / PROJECT_FILE
    now = stamp(path)
    if known is not None and known.stamp == now:
        return known
    data, at = _opened(path)
    project = from_data(data, where=path.name)
    try:
        projects.check(project)
    except GardenError as error:
        raise StorageError(
            f"{path.name} holds what cannot be: {error}; or restore it with gardenkit recover"
        ) from error
    return Stored(project=project, at=at, stamp=now)


def edit(
    folder: Path, label: str, change: Callable[[Project], Project], *, gesture: str = "", known: Stored | None = None
) -> Stored:
    """Apply ``change`` to the newest state of the garden and save it; nothing is saved when it raises or changes
    nothing.

    ``gesture`` names a continuous movement (a slider, a drag): its moves within two seconds are one step of undo.
    """
    with Locked(folder):
        current = load(folder, known=known)
        changed = change(current.project)
        if changed == current.project:
            return current
        projects.check(changed)
        was, now = current.data or to_data(current.project), to_data(changed)
        last = history.find(folder, current.at) if gesture else None
        follows = current.at
        differences = tuple(history.differences(was, now))
        if last is not None and last.gesture == gesture and time.time() - last.when < SAME_GESTURE:
            follows = last.follows
            before = history.applied(was, [(path, new, old) for path, old, new in reversed(last.changes)])
            differences = tuple(history.differences(before, now))
        number = max(current.at, history.last_number(folder)) + 1
        step = Step(number=number, follows=follows, label=label, when=time.time(), gesture=gesture, changes=differences)
        history.append(folder, step)
        return _write(folder, changed, number, now)


def undo(folder: Path) -> tuple[Stored, str]:
    """Go back one step; returns the state and the label of what was undone. Raises StorageError at the beginning."""
    with Locked(folder):
        current = load(folder)
        step = history.find(folder, current.at)
        if step is None:
            raise StorageError("there is nothing to undo: this is the first state of the garden")
        back = [(path, now, was) for path, was, now in reversed(step.changes)]
        data = history.applied(to_data(current.project), back)
        return _write(folder, from_data(data, where=HISTORY_FILE), step.follows), step.label


def redo(folder: Path) -> tuple[Stored, str]:
    """Go forward to the newest step that follows this state. Raises StorageError when there is none."""
    with Locked(folder):
        current = load(folder)
        step = history.next_after(folder, current.at)
        if step is None:
            raise StorageError("there is nothing to redo")
        data = history.applied(to_data(current.project), list(step.changes))
        return _write(folder, from_data(data, where=HISTORY_FILE), step.number), step.label


def steps(folder: Path) -> tuple[Step, ...]:
    """Return every change in the garden's history, oldest first."""
    return history.steps(folder)


def recover(folder: Path) -> Path:
    """Put aside a damaged project file and rebuild it from its last good copy; returns where the damaged one went.

    Raises StorageError when the file is whole, or there is no copy to rebuild from.
    """
    path, copy = folder / PROJECT_FILE, folder / f"{PROJECT_FILE}.before"
    if _is_whole(folder):
        raise StorageError(f"{path} is whole: there is nothing to rebuild; to go back to an earlier state, undo")
    with Locked(folder):
        if not copy.exists():
            raise StorageError(
                f"{folder} has no earlier copy of {PROJECT_FILE}; restore the folder from your own backup"
            )
        data, at = _opened(copy)
        while (step := history.next_after(folder, at)) is not None:
            data, at = history.applied(data, list(step.changes)), step.number
        project = from_data(data, where=copy.name)
        aside = folder / f"{PROJECT_FILE}.damaged-{int(time.time())}"
        if path.exists():
            path.replace(aside)
        _write(folder, project, at)
        return aside


def _is_whole(folder: Path) -> bool:
    try:
        load(folder)
    except StorageError:
        return False
    return True


def _opened(path: Path) -> tuple[dict[str, Any], int]:
    try:
        data = parsed(path.read_text(encoding="utf-8-sig"), path)
    except FileNotFoundError as error:
        raise StorageError(
            f"{path.parent} holds no garden ({PROJECT_FILE} is missing); open another folder or make a new garden"
        ) from error
    except NotADirectoryError as error:
        raise StorageError(f"{path.parent} is a file, not a garden folder; name the folder that holds it") from error
    except OSError as error:
        raise StorageError(trouble(error)) from error
    except UnicodeDecodeError as error:
        raise StorageError(f"{path.name} cannot be read ({error}); restore it with gardenkit recover") from error
    at = data.pop("at", 0)
    data.pop("format")
    data.pop("written_by", None)
    if type(at) is not int or at < 0:
        raise StorageError(f'{path.name}: "at" must be a whole number, not {at!r}; restore it with gardenkit recover')
    return data, at


def _write(folder: Path, project: Project, at: int, known: dict[str, Any] | None = None) -> Stored:
    path = folder / PROJECT_FILE
    held = known or to_data(project)
    data = {"format": FORMAT, "written_by": f"gardenkit {__version__}", "at": at} | held
    text = readable(data) + "\n"
    if path.exists():
        replace_safely(folder / f"{PROJECT_FILE}.before", path.read_bytes(), durable=False)
    replace_safely(path, text.encode("utf-8"))
    return Stored(project=project, at=at, stamp=stamp(path), data=held)
