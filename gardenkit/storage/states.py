"""Where a garden stands in its history, and any earlier state made again from the nearest one that is kept whole."""

import time
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from gardenkit.findings import GardenError
from gardenkit.storage.changes import applied, differences, unmade
from gardenkit.storage.files import StorageError
from gardenkit.storage.history import History, Step, mark

OUTSIDE = "changed outside gardenkit"
STARTS_TRIED = 3  # whole states from which a lost one is made again, the nearest first. House value.
MISSING = "earlier steps are missing"


def taken_in(
    past: History, at: int, raw: Any, rewritten: Callable[[], Any], renewed: Callable[[Any], Any]
) -> tuple[int, Any]:
    """Return the number and the plain data of the state a project file holds.

    ``at`` is what the file says, ``raw`` what stands in it, ``rewritten`` the same as gardenkit would write it;
    ``renewed`` writes old data as gardenkit would today. A file that another program or a sync service changed becomes
    a step, so that undo leads back to what was before.
    """
    made = mark(raw)
    if past.state_of(at) == made:
        return at, raw
    now = rewritten()
    if past.state_of(at) is None and past.step(at) is not None:  # a step taken over from an older history
        return at, now
    for data, found in ((raw, made), (now, mark(now))):
        number = past.number_of(found)
        if number is not None:
            return number, data
    known = state(past, at)
    if known is not None and _same(known, now, renewed):  # the state an earlier gardenkit wrote, in today's words
        return at, known
    return _outside(past, at, now)


def _same(known: Any, now: Any, renewed: Callable[[Any], Any]) -> bool:
    try:
        return bool(renewed(known) == now)
    except GardenError:
        return False


def _outside(past: History, at: int, now: Any) -> tuple[int, Any]:
    follows = at if past.state_of(at) is not None else past.head()
    before = state(past, follows)
    number, made = max(past.last_number(), past.head(), at) + 1, mark(now)
    lost = "" if before is not None else f"; {MISSING}"
    changes = None if before is None else list(differences(before, now))
    past.add(Step(number=number, follows=follows, label=OUTSIDE + lost, when=time.time()), changes, made)
    past.keep_state(number, now, made)
    return number, now


def state(past: History, number: int, *, known: Mapping[int, Any] | None = None) -> Any:
    """Return the plain data of a state, None when what it needs is missing or damaged.

    ``known`` holds states that need not be made, by their numbers.
    """
    if known and number in known:
        return known[number]
    target = past.chain(number)
    starts = [*(known or {}), *past.snapshots()]
    for start in sorted(starts, key=lambda n: abs(n - number))[:STARTS_TRIED]:
        path = _path(past, start, target)
        if path is None:
            continue
        data = known[start] if known and start in known else past.snapshot(start)
        made = None if data is None else _walked(past, data, *path)
        wanted = past.state_of(number)
        if made is not None and wanted in (None, mark(made)):
            return made
    return None


def _path(past: History, start: int, target: tuple[int, ...]) -> tuple[list[int], list[int]] | None:
    """Return the steps to unmake and then those to make from state ``start`` to the first of ``target``."""
    source = past.chain(start)
    meeting = next((number for number in target if number in set(source)), None)
    if meeting is None:
        return None
    return list(source[: source.index(meeting)]), list(reversed(target[: target.index(meeting)]))


def _walked(past: History, data: Any, back: list[int], forth: list[int]) -> Any:
    for number in [*back, *forth]:
        changes = past.changes(number)
        if changes is None:
            return None
        try:
            data = applied(data, unmade(changes) if number in back else changes)
        except ValueError:
            return None
    return data


def good_states(past: History) -> Iterator[tuple[int, Any]]:
    """Yield the states that lead to where the garden stood, the newest good one first; a damaged step ends the walk."""
    for number in past.chain(past.head()):
        data = state(past, number)
        if data is not None:
            yield number, data


def before(past: History, number: int, data: Any) -> Any:
    """Return the state before a step. Raises StorageError when it is missing."""
    step = past.step(number)
    if step is None or past.changes(number) is None:
        raise StorageError(f"{MISSING}: the garden can be taken no further back")
    made = _walked(past, data, [number], [])
    wanted = past.state_of(step.follows)
    if made is None or wanted not in (None, mark(made)):
        made = state(past, step.follows)
    if made is None:
        raise StorageError(f"{MISSING}: what was before this step is damaged")
    return made
