"""One writing of a garden: the step into the history and the new project file beside the old, both or neither."""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import attrs

from gardenkit.project import Project
from gardenkit.storage import states, takeover
from gardenkit.storage.changes import applied, differences, unmade
from gardenkit.storage.files import DiskError, StorageError, discard
from gardenkit.storage.garden_file import PROJECT_FILE, Stored, laid_ready, put_in_place, renewed, whole
from gardenkit.storage.history import HIGHEST, HISTORY_FILE, DamagedHistoryError, History, Step, mark

SAME_GESTURE = 2.0  # s: slider moves closer together than this are one step of undo. House value.
TRIES = 3  # to write: once more after a misreading, and once with a new history


@attrs.frozen(kw_only=True)
class Reached:
    """Where a writing leads: the number of the state, its data in the history, the project, what was done in words."""

    number: int
    data: dict[str, Any]
    project: Project
    label: str = ""
    written: dict[str, Any] | None = None  # the data of the project file, where it is known already


Way = Callable[[History, int, Any], Reached]  # the history, where the garden stands: number and data


def written(folder: Path, current: Stored, way: Way) -> tuple[Stored, str]:
    """Write where ``way`` leads from the current state; under the garden's lock. Nothing is written when it raises."""
    reached, temporary = _tried(folder, current, way)
    try:
        now = put_in_place(folder, temporary)
    except BaseException:
        discard(temporary)
        raise
    takeover.put_aside(folder)
    stored = Stored(project=reached.project, at=reached.number, stamp=now, data=reached.data)
    return stored, reached.label


def _tried(folder: Path, current: Stored, way: Way) -> tuple[Reached, Path]:
    """Write; a history found damaged twice (a disk may misread once) is put aside, and a new one begun."""
    for attempt in range(TRIES):
        try:
            return _in_history(folder, current, way)
        except DamagedHistoryError as error:
            if attempt == TRIES - 1:
                raise DiskError(f"the garden's {HISTORY_FILE} cannot be used ({error}); check the disk") from error
            if attempt == TRIES - 2:
                _put_history_aside(folder)
    raise AssertionError("every attempt returns or raises")


def _in_history(folder: Path, current: Stored, way: Way) -> tuple[Reached, Path]:
    temporary: Path | None = None
    try:
        with History(folder) as past:
            at, was = _standing(past, folder, current)
            reached = way(past, at, was)
            past.stand(reached.number)
            past.tidy(at)
            temporary = laid_ready(folder, reached.written or whole(reached.project), reached.number)
    except BaseException:
        if temporary is not None:
            discard(temporary)
        raise
    return reached, temporary


def _standing(past: History, folder: Path, current: Stored) -> tuple[int, Any]:
    """Return the number and plain data of the state the garden stands at, as the history knows it."""
    if past.is_new:
        now = whole(current.project)
        takeover.take_over(folder, past)
        past.keep_state(current.at, now, mark(now))
        return current.at, now
    at, was = states.taken_in(past, current.at, current.data, lambda: whole(current.project), renewed)
    past.stay(at)
    return at, was


def _put_history_aside(folder: Path) -> None:
    """Give a damaged history another name; the next writing begins a new one."""
    path = folder / HISTORY_FILE
    path.replace(free_name(folder / f"history.damaged-{int(time.time())}.sqlite"))
    journal = folder / f"{HISTORY_FILE}-journal"
    if journal.exists():
        journal.replace(free_name(folder / f"history.damaged-{int(time.time())}.sqlite-journal"))


def free_name(path: Path) -> Path:
    """Return the path, with a number added when something has that name already."""
    number, free = 1, path
    while free.exists():
        number += 1
        free = path.with_name(f"{path.stem}-{number}{path.suffix}")
    return free


def add(past: History, step: Step, at: int, was: Any, now: Any) -> int:
    """Add a step that follows ``at``, joined to the one before when a gesture goes on; returns its number."""
    follows, found = at, list(differences(was, now))
    last = past.step(at) if step.gesture else None
    if last is not None and _goes_on(past, last, step):
        earlier = past.changes(at)
        if earlier is not None:
            follows = last.follows
            found = list(differences(applied(was, unmade(earlier)), now))
            past.supersede(at)
    number, state = max(at, past.last_number()) + 1, mark(now)
    if number > HIGHEST:
        raise StorageError(
            f'the garden counts {HIGHEST} steps, more than can be told apart; put "at": 0 into {PROJECT_FILE} and take '
            f"{HISTORY_FILE} out of the folder"
        )
    past.add(attrs.evolve(step, number=number, follows=follows), found, state)
    if past.is_due(number):
        past.keep_state(number, now, state)
    return number


def _goes_on(past: History, last: Step, step: Step) -> bool:
    same = (last.gesture, last.notebook) == (step.gesture, step.notebook)
    return same and 0 <= step.when - last.when < SAME_GESTURE and not last.name and past.next_after(last.number) is None
