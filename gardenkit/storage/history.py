"""The history of a garden in one SQLite file beside the project file: every step, and now and then a whole state.

A step holds what changed and which state it follows, so undo, redo and recovery are walks along a chain; a snapshot
holds a whole state and is what recovery begins from. Both carry a checksum. The file is written under the garden's own
lock, in one transaction an edit. What tidying costs is spread over the edits: each takes away at most a few old steps.
"""

import hashlib
import json
import sqlite3
import time
import zlib
from collections.abc import Iterable, Iterator
from pathlib import Path
from types import TracebackType
from typing import Any

import attrs

from gardenkit.storage.changes import Change
from gardenkit.storage.files import DiskError, StorageError

HISTORY_FILE = "history.sqlite"
FORM = 1  # of the tables below
CAP = 24_000_000  # bytes of steps and snapshots above which the oldest steps go. House value.
BITE = 32  # steps taken away at most with one edit. House value.
LEAST_STEPS = 50  # kept whatever they weigh. House value.
BETWEEN_SNAPSHOTS = 200  # steps: what recovery makes again at most. House value.
DAY = 86_400.0  # s
KEPT_SNAPSHOTS = 12  # besides those of named states. House value.
WAIT = 5.0  # s for a program that reads the history file meanwhile. House value.
HIGHEST = 2**53  # the largest number a step can have

_TABLES = """
CREATE TABLE steps(number INTEGER PRIMARY KEY, follows INTEGER NOT NULL, label TEXT NOT NULL, moment REAL NOT NULL,
  gesture TEXT NOT NULL, notebook TEXT NOT NULL, changes BLOB, state TEXT, checksum TEXT NOT NULL,
  superseded INTEGER NOT NULL DEFAULT 0);
CREATE INDEX following ON steps(follows);
CREATE INDEX leading_to ON steps(state);
CREATE INDEX replaced ON steps(number) WHERE superseded;
CREATE TABLE snapshots(number INTEGER PRIMARY KEY, moment REAL NOT NULL, state TEXT NOT NULL, data BLOB NOT NULL);
CREATE INDEX holding ON snapshots(state);
CREATE TABLE names(number INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
CREATE TABLE standing(one INTEGER PRIMARY KEY CHECK(one = 1), at INTEGER NOT NULL);
"""
_BROKEN = (sqlite3.Error, UnicodeDecodeError, OverflowError, zlib.error)  # what reading a damaged file may raise
_SURROUNDINGS = (  # the disk or another program is to blame, not the file
    sqlite3.SQLITE_PERM,
    sqlite3.SQLITE_BUSY,
    sqlite3.SQLITE_LOCKED,
    sqlite3.SQLITE_NOMEM,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_INTERRUPT,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_PROTOCOL,
    sqlite3.SQLITE_NOLFS,
)
_STEPS = """
SELECT steps.number, follows, label, moment, gesture, notebook, coalesce(name, '')
FROM steps LEFT JOIN names ON names.number = steps.number
"""


@attrs.frozen(kw_only=True)
class Step:
    """One change in the history: its number, the number it follows, the designer's words for it, and when (Unix
    seconds).

    ``notebook`` is the one that made it, ``name`` what the designer calls the state it leads to; ``gesture`` marks one
    continuous movement.
    """

    number: int
    follows: int
    label: str
    when: float
    gesture: str = ""
    notebook: str = ""
    name: str = ""


class DamagedHistoryError(Exception):
    """The history file is no readable database; caught in this package, which puts it aside."""


def mark(data: Any) -> str:
    """Return the checksum of plain data, the same however the file is laid out."""
    text = json.dumps(data, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:32]


class History:
    """The open history of one garden: ``with History(folder) as past``. All that is added is kept, or on an error none.

    Raises DamagedHistoryError when the file is no database, StorageError when it cannot be used.
    """

    def __init__(self, folder: Path, *, readonly: bool = False) -> None:
        self.path = folder / HISTORY_FILE
        self.readonly = readonly

    def __enter__(self) -> "History":
        try:
            self._open()
        except _BROKEN as error:
            raise self._trouble(error) from error
        return self

    def __exit__(self, kind: type | None, error: BaseException | None, _trace: TracebackType | None) -> None:
        try:
            self._base.execute("ROLLBACK" if kind else "COMMIT")
        except sqlite3.Error as failed:
            if not kind:
                raise self._trouble(failed) from failed
        finally:
            self._base.close()
        if isinstance(error, _BROKEN):
            raise self._trouble(error) from error

    def _open(self) -> None:
        how = "ro" if self.readonly else "rwc"
        self._base = sqlite3.connect(f"{self.path.absolute().as_uri()}?mode={how}", uri=True, timeout=WAIT)
        self._base.isolation_level = None
        try:
            self._begin()
        except BaseException:
            self._base.close()
            raise

    def _begin(self) -> None:
        base = self._base
        if self.readonly:
            base.execute("BEGIN")
            _look_over(base, self.path)
            self._form()
            return
        base.execute("PRAGMA auto_vacuum = INCREMENTAL")
        base.execute("PRAGMA journal_mode = DELETE")
        base.execute("PRAGMA synchronous = FULL")
        base.execute("BEGIN IMMEDIATE")
        _look_over(base, self.path)
        if self._form() == 0:
            for statement in _TABLES.split(";\n"):
                base.execute(statement)
            base.execute(f"PRAGMA user_version = {FORM}")

    def _form(self) -> int:
        form: int = self._base.execute("PRAGMA user_version").fetchone()[0]
        if form > FORM:
            raise StorageError(f"{self.path.name} was written by a newer gardenkit; update gardenkit and open it again")
        return form

    def _trouble(self, error: BaseException) -> Exception:
        code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_CORRUPT)
        if code & 0xFF not in _SURROUNDINGS or code == sqlite3.SQLITE_IOERR_SHORT_READ:
            return DamagedHistoryError(str(error))  # no database, a damaged one, or one without our tables
        return DiskError(
            f"the garden's {HISTORY_FILE} cannot be used ({error}); check the space on the disk, that you may write "
            "there and that no other program holds the file"
        )

    # --- where the garden stands

    @property
    def is_new(self) -> bool:
        """Whether nothing was ever written in it."""
        return self._one("SELECT 1 FROM standing") is None

    def head(self) -> int:
        """Return the number of the state the garden stood at last. Raises DamagedHistoryError."""
        found = (self._one("SELECT at FROM standing") or (0,))[0]
        if type(found) is not int:
            raise DamagedHistoryError("it does not say where the garden stands")
        return found

    def stand(self, at: int) -> None:
        """Remember the state the garden stands at."""
        self._base.execute("INSERT OR REPLACE INTO standing VALUES(1, ?)", (at,))

    def state_of(self, number: int) -> str | None:
        """Return the checksum of a state, None when it is not known."""
        found = self._one("SELECT state FROM steps WHERE number = ?", number)
        if found is None or found[0] is None:
            found = self._one("SELECT state FROM snapshots WHERE number = ?", number)
        return None if found is None else found[0]

    def number_of(self, state: str) -> int | None:
        """Return the newest state with this checksum, None when there never was one."""
        found = self._one(
            "SELECT max(number) FROM (SELECT number FROM steps WHERE state = ?1"
            " UNION SELECT number FROM snapshots WHERE state = ?1)",
            state,
        )
        return None if found is None else found[0]

    # --- steps

    def add(self, step: Step, changes: list[Change] | None, state: str | None) -> None:
        """Add a step; ``changes`` None for one that cannot be taken back because what was before is not known."""
        blob = None if changes is None else zlib.compress(_text(changes), 6)
        row = (step.number, step.follows, step.label, step.when, step.gesture, step.notebook, blob, state)
        self._base.execute("INSERT INTO steps VALUES(?,?,?,?,?,?,?,?,?,0)", (*row, _row_mark(row)))

    def stay(self, number: int) -> None:
        """Keep a step that a file stands at, even when its gesture was written on and then lost to a crash."""
        self._base.execute("UPDATE steps SET superseded = 0 WHERE superseded AND number = ?", (number,))

    def supersede(self, number: int) -> None:
        """Mark a step whose gesture went on: it goes with the next edit, when no file can stand at it any more."""
        self._base.execute("UPDATE steps SET superseded = 1 WHERE number = ?", (number,))

    def step(self, number: int) -> Step | None:
        """Return one step by its number."""
        return next(self._steps("WHERE steps.number = ?", number), None)

    def steps(self) -> tuple[Step, ...]:
        """Return every step, oldest first."""
        return tuple(self._steps("WHERE NOT superseded ORDER BY steps.number"))

    def next_after(self, at: int) -> Step | None:
        """Return the newest step that follows a state."""
        return next(self._steps("WHERE follows = ? AND NOT superseded ORDER BY steps.number DESC LIMIT 1", at), None)

    def changes(self, number: int) -> list[Change] | None:
        """Return what a step changed, None when it is missing, damaged, or cannot be taken back."""
        found = self._one(
            "SELECT number, follows, label, moment, gesture, notebook, changes, state, checksum FROM steps"
            " WHERE number = ?",
            number,
        )
        if found is None or found[6] is None or _row_mark(found[:-1]) != found[-1]:
            return None
        held: list[Change] = json.loads(zlib.decompress(found[6]))
        return held

    def chain(self, number: int) -> tuple[int, ...]:
        """Return the numbers of a state and of all it came from, newest first, as far as the history goes back."""
        rows = self._base.execute("SELECT number, follows FROM steps WHERE number <= ?", (number,))
        follows = {number: follows for number, follows in rows if type(follows) is int}
        found = [number]
        while (before := follows.get(found[-1])) is not None and before < found[-1]:
            found.append(before)
        return tuple(found)

    def roots(self) -> tuple[int, ...]:
        """Return the states that steps follow and that no step led to: the first, and where a lost history begins."""
        rows = self._base.execute("SELECT DISTINCT follows FROM steps WHERE follows NOT IN (SELECT number FROM steps)")
        return _numbers(rows)

    def last_number(self) -> int:
        """Return the highest number in the history, 0 when it is empty."""
        return int((self._one("SELECT max(number) FROM steps") or (0,))[0] or 0)

    def _steps(self, which: str, *values: Any) -> Iterator[Step]:
        rows = self._base.execute(_STEPS + which, values)
        for number, follows, label, when, gesture, notebook, name in rows:
            if [type(v) for v in (follows, label, when, gesture, notebook)] != [int, str, float, str, str]:
                raise DamagedHistoryError(f"step {number} is damaged")
            yield Step(
                number=number,
                follows=follows,
                label=label,
                when=when,
                gesture=gesture,
                notebook=notebook,
                name=name,
            )

    # --- whole states

    def keep_state(self, number: int, data: Any, state: str) -> None:
        """Keep a whole state, dated, that recovery can begin from."""
        row = (number, time.time(), state, zlib.compress(_text(data), 6))
        self._base.execute("INSERT OR REPLACE INTO snapshots VALUES(?,?,?,?)", row)

    def snapshot(self, number: int) -> Any:
        """Return a kept state, None when there is none of this number or it is damaged."""
        found = self._one("SELECT state, data FROM snapshots WHERE number = ?", number)
        if found is None:
            return None
        try:
            data = json.loads(zlib.decompress(found[1]))
        except (zlib.error, ValueError):
            return None
        return data if mark(data) == found[0] else None

    def snapshots(self) -> tuple[int, ...]:
        """Return the numbers of the states that are kept whole, newest first."""
        return _numbers(self._base.execute("SELECT number FROM snapshots ORDER BY number DESC"))

    def is_due(self, number: int) -> bool:
        """Return whether it is time to keep a whole state: many steps, or a day, since the last."""
        found = self._one("SELECT number, moment FROM snapshots ORDER BY number DESC LIMIT 1")
        return found is None or number - found[0] >= BETWEEN_SNAPSHOTS or time.time() - found[1] >= DAY

    def name(self, number: int, name: str) -> None:
        """Call a state by a name; a name given before moves to it."""
        self._base.execute("DELETE FROM names WHERE name = ? OR number = ?", (name, number))
        self._base.execute("INSERT INTO names VALUES(?, ?)", (number, name))

    def names(self) -> dict[str, int]:
        """Return the named states."""
        return dict(self._base.execute("SELECT name, number FROM names ORDER BY number"))

    # --- tidying

    def tidy(self, at: int) -> None:
        """Take away what a gesture left and, above the cap, a few of the oldest steps; never what leads to ``at``."""
        base = self._base
        base.execute("DELETE FROM steps WHERE superseded AND number != ?", (at,))
        base.execute(
            "DELETE FROM snapshots WHERE number NOT IN (SELECT number FROM names) AND number NOT IN"
            " (SELECT number FROM snapshots ORDER BY number DESC LIMIT ?)",
            (KEPT_SNAPSHOTS,),
        )
        if self.weight() <= CAP:
            return
        newest_to_go = min(self.last_number() - LEAST_STEPS, at - 1)
        base.execute(
            "DELETE FROM steps WHERE number IN (SELECT number FROM steps WHERE number <= ? ORDER BY number LIMIT ?)",
            (newest_to_go, BITE),
        )
        base.execute("PRAGMA incremental_vacuum(64)").fetchall()

    def weight(self) -> int:
        """Return how many bytes the steps and snapshots take."""
        pages, free, size = (
            int(self._base.execute(f"PRAGMA {what}").fetchone()[0])
            for what in ("page_count", "freelist_count", "page_size")
        )
        return (pages - free) * size

    def _one(self, asked: str, *values: Any) -> Any:
        return self._base.execute(asked, values).fetchone()


def _look_over(base: sqlite3.Connection, path: Path) -> None:
    """Find what SQLite itself lets pass: a last page cut in the middle, and what acts by itself in a foreign file.

    Raises DamagedHistoryError.
    """
    size: int = base.execute("PRAGMA page_size").fetchone()[0]
    if path.stat().st_size % size:
        raise DamagedHistoryError("its last page is cut")
    if base.execute("SELECT 1 FROM sqlite_master WHERE type IN ('trigger', 'view')").fetchone() is not None:
        raise DamagedHistoryError("it holds what no gardenkit put there")


def _numbers(rows: Iterable[tuple[Any]]) -> tuple[int, ...]:
    found = tuple(row[0] for row in rows)
    if any(type(number) is not int for number in found):  # SQLite reads a page of zeros as a row of nothing
        raise DamagedHistoryError("a state in it has no number")
    return found


def _text(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode("utf-8")


def _row_mark(row: tuple[Any, ...]) -> str:
    return hashlib.sha256(repr(row).encode("utf-8")).hexdigest()[:32]
