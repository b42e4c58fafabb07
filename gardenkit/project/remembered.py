"""The last few results of slow sums, by everything they depend on."""

from collections.abc import Callable
from typing import Generic, TypeVar

Found = TypeVar("Found")


class Remembered(Generic[Found]):
    """At most ``most`` results; the one kept longest is let go first. A key holds all that its result depends on."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._found: dict[object, Found] = {}

    def known(self, key: object) -> Found | None:
        """Return the result for a key, None when it is not kept."""
        return self._found.get(key)

    def get(self, key: object, make: Callable[[], Found]) -> Found:
        """Return the result for a key, made when it is not known."""
        made = self.known(key)
        if made is None:  # two threads may both make it: twice the work, the same result
            made = make()
            while len(self._found) >= self.most:
                self._found.pop(next(iter(self._found)), None)
            self._found[key] = made
        return made
