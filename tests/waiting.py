"""What browser tests wait for: a state of the page or of the saved garden, never a time."""

import time
from collections.abc import Callable
from typing import TypeVar

Found = TypeVar("Found")


def wait_until(check: Callable[[], Found], seconds: float = 30.0) -> Found:
    """Return what a check finds as soon as it finds something."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = check()
        if found:
            return found
        time.sleep(0.05)
    raise AssertionError(f"did not happen within {seconds} s")
