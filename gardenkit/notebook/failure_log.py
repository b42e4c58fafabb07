"""The log of what went wrong on the pages, in the garden's own folder, so that it can be reported later."""

import contextlib
import datetime as dt
import traceback
from pathlib import Path

from gardenkit import __version__

LOG_FILE = "failures.log"
LARGEST = 500_000  # bytes; above, the older half goes. House value.


def add(folder: Path, page: str, said: str, error: Exception) -> None:
    """Add a failure with its time, page, sentence and traceback; a log that cannot be written is left alone."""
    now = dt.datetime.now().astimezone().isoformat(timespec="seconds")
    lines = "".join(traceback.format_exception(error))
    entry = f"{now} gardenkit {__version__} {page}: {said}\n{lines}\n"
    path = folder / LOG_FILE
    with contextlib.suppress(OSError):
        if path.exists() and path.stat().st_size > LARGEST:
            path.write_bytes(path.read_bytes()[LARGEST // 2 :])
        with path.open("a", encoding="utf-8", errors="replace") as log:
            log.write(entry)
