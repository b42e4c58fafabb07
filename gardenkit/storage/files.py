"""Writing files so that a crash never leaves half of one, and the lock that keeps two notebooks apart."""

import contextlib
import errno
import os
import threading
import time
from pathlib import Path

from filelock import FileLock, Timeout

from gardenkit.findings import GardenError

WAIT_FOR_LOCK = 10.0  # s. House value.
POLL = 0.002  # s between two looks whether it is free: at 0.05, who edits on and on keeps the others out. House value.


class StorageError(GardenError):
    """A garden folder or project file that cannot be used; the message says what, where and what to do."""


class DiskError(StorageError):
    """What disk, lock or history refused, not what was typed: a page keeps saying it until it is dismissed."""


def trouble(error: OSError) -> str:
    """Return one sentence for a file or folder that the computer would not read or write."""
    place = f'"{error.filename}"' if error.filename else "a file of the garden"
    reason = (error.strerror or str(error)).lower()
    return f"{place} cannot be used ({reason}); check the name, the space on the disk and that you may write there"


def replace_safely(path: Path, content: bytes, *, durable: bool = True) -> None:
    """Write a file so that a reader, or a crash, ever sees only the old content or the new, never a part."""
    if not path.name or path.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    settle(prepared(path, content, durable=durable), path, durable=durable)


def prepared(path: Path, content: bytes, *, durable: bool = True) -> Path:
    """Write content, whole and on the disk, under another name beside ``path``; on failure nothing is left there."""
    temporary = path.with_name(f".{path.name}.{os.getpid()}-{threading.get_ident()}.tmp")
    try:
        with temporary.open("wb") as file:
            file.write(content)
            file.flush()
            if durable:
                os.fsync(file.fileno())
    except BaseException:
        discard(temporary)
        raise
    return temporary


def settle(temporary: Path, path: Path, *, durable: bool = True) -> None:
    """Put a prepared file in the place of ``path``.

    From then on the new content stands, so a folder that cannot be told to the disk is no failure.
    """
    try:
        for attempt in range(20):
            try:
                temporary.replace(path)
                break
            except PermissionError:  # Windows: another program has the file open for a moment
                if os.name == "posix" or attempt == 19:
                    raise
                time.sleep(0.05)
    except BaseException:
        discard(temporary)
        raise
    if durable and os.name == "posix":
        with contextlib.suppress(OSError):
            handle = os.open(path.parent, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


def sweep(path: Path) -> None:
    """Take away what a killed process prepared for ``path``; only under the lock that all who write it hold."""
    for left in path.parent.glob(f".{path.name}.*.tmp"):
        discard(left)


def discard(temporary: Path) -> None:
    """Take away a prepared file that is not wanted after all."""
    with contextlib.suppress(OSError):
        temporary.unlink(missing_ok=True)


def stamp(path: Path) -> tuple[int, ...]:
    """Return what tells one writing of a file from the next: times (ns), size and number on disk; () when there is
    none.
    """
    try:
        found = path.stat()
    except OSError:
        return ()
    return (found.st_mtime_ns, found.st_ctime_ns, found.st_size, found.st_ino)


class Locked:
    """Hold the garden's lock for one edit."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.lock = FileLock(folder / ".garden.lock", timeout=WAIT_FOR_LOCK)

    def __enter__(self) -> None:
        try:
            if not self.folder.is_dir():  # the lock would make it
                raise DiskError(f"there is no folder {self.folder}; put it back, or open the garden where it is")
            self.lock.acquire(poll_interval=POLL)
        except Timeout as error:
            raise DiskError(
                f"{self.folder} is held by another notebook for over {WAIT_FOR_LOCK:.0f} s; "
                "close it there, then try again"
            ) from error
        except OSError as error:
            raise DiskError(trouble(error)) from error

    def __exit__(self, _kind: object, error: BaseException | None, _trace: object) -> None:
        with contextlib.suppress(OSError):  # what was to be written is written or refused already
            self.lock.release()
        if isinstance(error, OSError):
            raise DiskError(trouble(error)) from error
        if isinstance(error, UnicodeEncodeError):
            raise StorageError(
                f"{error.object[error.start : error.end]!r} is no character that can be saved; type it anew"
            ) from error
