"""The garden folder: one readable project file, replaced safely, with a history that undo reads even after a restart.

``garden.json`` holds what the designer said. ``history.sqlite`` holds every change as a step: what it was, what it
became, and which state it follows. Every edit is made on the newest state under a lock, so two notebooks on one garden
never overwrite each other. A step is safely on disk before the project file is replaced.
"""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from gardenkit import project as projects
from gardenkit.findings import nearest
from gardenkit.project import Project
from gardenkit.storage import garden_file, states
from gardenkit.storage.files import Locked, StorageError, settle, stamp, trouble
from gardenkit.storage.garden_file import COPY_FILE, PROJECT_FILE, Stored, as_project, laid_ready, opened, whole
from gardenkit.storage.history import HISTORY_FILE, DamagedHistoryError, History, Step, mark
from gardenkit.storage.records import FORMAT, read_back
from gardenkit.storage.work import Reached, add, free_name, written

__all__ = [
    "HISTORY_FILE",
    "JOURNAL_FOLDER",
    "OWN_PLANTS_FILE",
    "PICTURES_FOLDER",
    "PROJECT_FILE",
    "SITE_PHOTOS_FOLDER",
    "Step",
    "StorageError",
    "Stored",
    "create",
    "edit",
    "is_garden",
    "jump",
    "load",
    "name_state",
    "recover",
    "redo",
    "steps",
    "undo",
]

OWN_PLANTS_FILE = "plants.csv"
PICTURES_FOLDER = "pictures"  # reference pictures of the brief
SITE_PHOTOS_FOLDER = "site_photos"  # photos and scans of the ground itself
JOURNAL_FOLDER = "journal"  # photos of the garden as it grows
LONGEST_NAME = 80  # letters of the name of a state. House value.
Found = TypeVar("Found")


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
        if (folder / COPY_FILE).exists() or (folder / HISTORY_FILE).exists():
            raise StorageError(
                f"{folder} holds the history of a garden whose {PROJECT_FILE} is missing; "
                "bring it back with gardenkit recover, or choose another folder"
            )
        projects.check(project)
        project, data = read_back(project, None)
        (folder / PICTURES_FOLDER).mkdir(exist_ok=True)
        data = {"format": FORMAT} | data
        now = garden_file.put_in_place(folder, laid_ready(folder, data, 0))
        return Stored(project=project, at=0, stamp=now, data=data)


def is_garden(folder: Path) -> bool:
    """Return whether the folder holds a project file."""
    return (folder / PROJECT_FILE).is_file()


def load(folder: Path, *, known: Stored | None = None) -> Stored:
    """Return the project as it stands; ``known`` is returned unread when the file has not changed since.

    Raises StorageError for a missing, damaged or newer file.
    """
    path = folder / PROJECT_FILE
    if known is not None and known.stamp and known.stamp == stamp(path):
        return known
    return opened(path)


def edit(
    folder: Path,
    label: str,
    change: Callable[[Project], Project],
    *,
    gesture: str = "",
    notebook: str = "",
    known: Stored | None = None,
) -> Stored:
    """Apply ``change`` to the newest state of the garden and save it; nothing is saved when it raises, changes
    nothing, or could not be read again.

    ``gesture`` names a continuous movement (a slider, a drag): its moves within two seconds are one step of undo.
    ``notebook`` is kept with the step.
    """
    with Locked(folder):
        current = load(folder, known=known)
        changed = change(current.project)
        if changed == current.project:
            return current
        projects.check(changed)
        changed, data = read_back(changed, current.project)
        now = {"format": FORMAT} | data
        step = Step(number=0, follows=0, label=label, when=time.time(), gesture=gesture, notebook=notebook)

        def way(past: History, at: int, was: Any) -> Reached:
            return Reached(number=add(past, step, at, was, now), data=now, project=changed, written=now)

        return written(folder, current, way)[0]


def undo(folder: Path) -> tuple[Stored, str]:
    """Go back one step; returns the state and the label of what was undone. Raises StorageError at the beginning."""

    def back(past: History, at: int, was: Any) -> Reached:
        step = past.step(at)
        if step is None and at == 0:
            raise StorageError("there is nothing to undo: this is the first state of the garden")
        data = states.before(past, at, was)
        return _reached(step.follows if step else 0, data, step.label if step else "")

    with Locked(folder):
        return written(folder, load(folder), back)


def redo(folder: Path) -> tuple[Stored, str]:
    """Go forward to the newest step that follows this state. Raises StorageError when there is none."""

    def forth(past: History, at: int, was: Any) -> Reached:
        step = past.next_after(at)
        if step is None:
            raise StorageError("there is nothing to redo")
        return _reached(step.number, _state(past, step.number, at, was), step.label)

    with Locked(folder):
        return written(folder, load(folder), forth)


def jump(folder: Path, to: int | str) -> tuple[Stored, str]:
    """Go to any state of the history, by its number or its name; returns it and what it is called.

    Raises StorageError when there is no such state, or what leads to it is missing.
    """

    def go(past: History, at: int, was: Any) -> Reached:
        names = past.names()
        if isinstance(to, str) and to not in names:
            raise StorageError(f'no state of the garden is called "{to}"{nearest(to, names)}')
        number = names[to] if isinstance(to, str) else to
        step = past.step(number)
        label = to if isinstance(to, str) else step.label if step else "the first state"
        return _reached(number, _state(past, number, at, was), label)

    with Locked(folder):
        return written(folder, load(folder), go)


def name_state(folder: Path, name: str) -> Stored:
    """Call the state the garden stands at by a name, and keep it whole for as long as the history lasts.

    Raises StorageError for an empty or overlong name.
    """
    given = " ".join(name.split())
    if not given or len(given) > LONGEST_NAME or not given.isprintable():
        raise StorageError(f'"{given[:LONGEST_NAME]}" cannot name a state; give 1 to {LONGEST_NAME} letters')
    with Locked(folder):
        current = load(folder)

        def here(past: History, at: int, was: Any) -> Reached:
            past.keep_state(at, was, mark(was))
            past.name(at, given)
            return Reached(number=at, data=was, project=current.project)

        return written(folder, current, here)[0]


def steps(folder: Path) -> tuple[Step, ...]:
    """Return every change in the garden's history, oldest first; none when it is missing, damaged or cannot be read."""
    try:
        return _read(folder, History.steps) or ()
    except StorageError:
        return ()


def recover(folder: Path) -> Path:
    """Put aside a damaged project file and rebuild it from the last good state; returns where the damaged one went.

    That is the newest good state on the way to where the garden stood last, from the history or from the copy of the
    file before. Raises StorageError when the file is whole, there is nothing to rebuild from, or another program holds
    the history, which may know a newer state than the file before.
    """
    path = folder / PROJECT_FILE
    if not folder.is_dir():
        raise StorageError(f"there is no folder {folder}; check the name")
    with Locked(folder):
        if _is_whole(folder):
            raise StorageError(f"{path} is whole: there is nothing to rebuild; to go back to an earlier state, undo")
        found = _last_good(folder)
        temporary = laid_ready(folder, whole(found.project), found.at)
        aside = free_name(folder / f"{PROJECT_FILE}.damaged-{int(time.time())}")
        if path.exists():
            path.replace(aside)
        settle(temporary, path)
        return aside


def _last_good(folder: Path) -> Stored:
    """Return the newest good state on the way to where the garden stood, from the history or the file before."""
    copy, reason = None, None
    try:
        copy = opened(folder / COPY_FILE)
    except StorageError as error:
        reason = error
    best, way = _read(folder, _from_history) or (None, ())
    if best is not None and (copy is None or copy.at <= best.at or copy.at not in way):
        return best
    if copy is None:
        raise StorageError(
            f"{folder} has no earlier copy of {PROJECT_FILE} that is whole; restore the folder from your own backup"
        ) from reason
    return copy


def _from_history(past: History) -> tuple[Stored | None, tuple[int, ...]]:
    way = past.chain(past.head())
    for number, data in states.good_states(past):
        try:
            return Stored(project=as_project(data, where=HISTORY_FILE), at=number, data=data), way
        except StorageError:
            continue
    return None, way


def _read(folder: Path, asked: Callable[[History], Found]) -> Found | None:
    """Return what the history answers, None when it is missing or damaged.

    Raises StorageError when it cannot be used.
    """
    if not (folder / HISTORY_FILE).is_file():
        return None
    trouble_with_it: StorageError | None = None
    for readonly in (True, False):  # a writing that was cut off is put right only by one who may write
        try:
            with History(folder, readonly=readonly) as past:
                return asked(past)
        except DamagedHistoryError:
            return None
        except StorageError as error:
            trouble_with_it = error
    if trouble_with_it is not None:
        raise trouble_with_it
    return None


def _is_whole(folder: Path) -> bool:
    try:
        load(folder)
    except StorageError:
        return False
    return True


def _state(past: History, number: int, at: int, was: Any) -> Any:
    if number != at and past.step(number) is None and number not in past.snapshots() and number not in past.roots():
        raise StorageError(f"there is no state {number} in the history of the garden")
    data = states.state(past, number, known={at: was})
    if data is None:
        raise StorageError(f"{states.MISSING}: what leads to this state is not in the history any more")
    return data


def _reached(number: int, data: Any, label: str) -> Reached:
    return Reached(
        number=number, data=data, project=as_project(data, where=f"the state before or after {label!r}"), label=label
    )
