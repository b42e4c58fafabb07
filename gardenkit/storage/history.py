"""The history of a garden: one line a change, each naming the change it follows, so undo and redo are walks along a
chain.
"""

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import attrs

from gardenkit.storage.files import replace_safely

HISTORY_FILE = "history.jsonl"
KEEP_STEPS = 2000  # changes kept when the history is tidied. House value.
TIDY_ABOVE = 4_000_000  # bytes
BLOCK = 65_536  # bytes read at a time from the end of the history

Change = tuple[tuple[str | int, ...], Any, Any]  # where, was, now


@attrs.frozen(kw_only=True)
class Step:
    """One change in the history: its number, the number it follows, the designer's words for it, and when (Unix
    seconds).
    """

    number: int
    follows: int
    label: str
    when: float
    gesture: str = ""
    changes: tuple[Change, ...] = ()


def append(folder: Path, step: Step) -> None:
    """Add one change to the history and wait until it is on disk."""
    path = folder / HISTORY_FILE
    if path.exists() and path.stat().st_size > TIDY_ABOVE:
        tidy(folder, step.follows)
    with path.open("ab+") as file:
        if file.tell() > 0:
            file.seek(-1, os.SEEK_END)
            if file.read(1) != b"\n":  # the last line was cut off by a crash: leave it alone on its own line
                file.write(b"\n")
        file.write(_line(step) + b"\n")
        file.flush()
        os.fsync(file.fileno())


def steps(folder: Path) -> tuple[Step, ...]:
    """Return every whole change in the history, oldest first; a line cut off by a crash is passed over."""
    return tuple(reversed(tuple(newest_first(folder))))


def newest_first(folder: Path) -> Iterator[Step]:
    """Yield changes from the newest back, reading the file from its end so that a long history costs nothing."""
    path = folder / HISTORY_FILE
    if not path.exists():
        return
    with path.open("rb") as file:
        position, rest = file.seek(0, os.SEEK_END), b""
        while position > 0:
            size = min(BLOCK, position)
            position -= size
            file.seek(position)
            first, *lines = (file.read(size) + rest).split(b"\n")
            rest = first
            for line in reversed(lines):
                step = _read(line)
                if step is not None:
                    yield step
        step = _read(rest)
        if step is not None:
            yield step


def last_number(folder: Path) -> int:
    """Return the highest change number ever given, 0 for an empty history."""
    return next((step.number for step in newest_first(folder)), 0)


def find(folder: Path, number: int) -> Step | None:
    """Return one change by its number."""
    return next((step for step in newest_first(folder) if step.number == number), None) if number else None


def next_after(folder: Path, at: int) -> Step | None:
    """Return the newest change that follows state ``at``."""
    return next((step for step in newest_first(folder) if step.follows == at), None)


def tidy(folder: Path, at: int) -> None:
    """Keep only the changes on the chain that leads to ``at``, at most KEEP_STEPS of them."""
    kept: list[Step] = []
    for step in newest_first(folder):
        if step.number == at and len(kept) < KEEP_STEPS:
            kept.append(step)
            at = step.follows
    replace_safely(folder / HISTORY_FILE, b"".join(_line(step) + b"\n" for step in reversed(kept)))


def differences(was: Any, now: Any, path: tuple[str | int, ...] = ()) -> Iterator[Change]:
    """Yield the smallest set of places where two pieces of plain data differ; lists of other length differ whole."""
    if was == now:
        return
    if isinstance(was, dict) and isinstance(now, dict) and was.keys() == now.keys():
        for key in was:
            yield from differences(was[key], now[key], (*path, key))
    elif isinstance(was, list) and isinstance(now, list) and len(was) == len(now):
        for i, (a, b) in enumerate(zip(was, now, strict=True)):
            yield from differences(a, b, (*path, i))
    else:
        yield path, was, now


def applied(data: dict[str, Any], changes: list[Change]) -> dict[str, Any]:
    """Return a copy of plain data with changes written into it."""
    copy: dict[str, Any] = json.loads(json.dumps(data))
    for path, _, now in changes:
        if not path:
            copy = now
            continue
        place: Any = copy
        for key in path[:-1]:
            place = place[key]
        place[path[-1]] = now
    return copy


def _line(step: Step) -> bytes:
    return json.dumps(attrs.asdict(step), ensure_ascii=False, separators=(",", ":")).encode("utf-8")


def _read(line: bytes) -> Step | None:
    try:
        data = json.loads(line)
        changes = tuple((tuple(path), was, now) for path, was, now in data.pop("changes"))
        return Step(**data, changes=changes)
    except (ValueError, TypeError, KeyError, AttributeError):
        return None  # a line that a crash cut off
