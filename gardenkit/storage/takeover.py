"""The history of an earlier gardenkit, ``history.jsonl``, taken over once into the history of today."""

import contextlib
import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from gardenkit.storage.changes import Change
from gardenkit.storage.history import HIGHEST, History, Step

OLD_FILE = "history.jsonl"
TAKEN = "history.jsonl.taken-over"


def take_over(folder: Path, past: History) -> None:
    """Add every whole line of an old history; a line that a crash cut off is passed over."""
    path = folder / OLD_FILE
    if not path.is_file():
        return
    found: dict[int, tuple[Step, list[Change]]] = {}
    with path.open("rb") as file:
        for line in file:
            for step, changes in _read(line):
                found[step.number] = (step, changes)
    for _, (step, changes) in sorted(found.items()):
        past.add(step, changes, None)


def put_aside(folder: Path) -> None:
    """Give an old history that was taken over another name; when that fails it stays, and is not taken over again."""
    path = folder / OLD_FILE
    with contextlib.suppress(OSError):
        if path.is_file():
            path.replace(folder / TAKEN)


def _read(line: bytes) -> Iterator[tuple[Step, list[Change]]]:
    try:
        data: dict[str, Any] = json.loads(line)
        changes: list[Change] = [["=", list(place), was, now] for place, was, now in data["changes"]]
        number, follows = data["number"], data["follows"]
        when, label, gesture = float(data["when"]), str(data["label"]), str(data.get("gesture", ""))
    except (ValueError, TypeError, KeyError, RecursionError, OverflowError):
        return
    if type(number) is int and type(follows) is int and 0 <= follows < number <= HIGHEST and math.isfinite(when):
        yield Step(number=number, follows=follows, label=label, when=when, gesture=gesture), changes
