"""What is done a moment later, when the hand is still, in place of at every change."""

import asyncio
import os
from collections.abc import Callable

AT_ONCE = "GARDENKIT_AT_ONCE"  # variable that is set where a notebook is run to be read: nothing is left for later
WAIT = 0.7  # s a page waits after a change made elsewhere before it redraws. House value.


class Later:
    """One thing to be done when the hand has been still for a moment; asked again, it waits again.

    Where no loop runs (a script, a test), or a notebook is run to be read, it is done at once.
    """

    def __init__(self, *, wait: float | None = None) -> None:
        self._wait = WAIT if wait is None else wait
        self._timer: asyncio.TimerHandle | None = None
        self._action: Callable[[], object] | None = None

    def do(self, action: Callable[[], object]) -> None:
        """Do it a moment later, in place of what was to be done before."""
        self.forget()
        self._action = action
        if AT_ONCE in os.environ:
            self.now()
            return
        try:
            self._timer = asyncio.get_running_loop().call_later(self._wait, self.now)
        except RuntimeError:
            self.now()

    def now(self) -> None:
        """Do it at once, if it is still to be done."""
        action = self._action
        self.forget()
        if action is not None:
            action()

    @property
    def waits(self) -> bool:
        """Whether something is still to be done."""
        return self._action is not None

    def forget(self) -> None:
        """Leave it undone."""
        if self._timer is not None:
            self._timer.cancel()
        self._timer = self._action = None
