"""How far long work has come, told on the way, and how it is stopped: by whoever listens, at the next word."""

from collections.abc import Callable

from gardenkit.findings import GardenError

Tell = Callable[[float, str], None]  # share done 0 to 1, and a few words


class StoppedError(GardenError):
    """The work was stopped on the way, as was asked; what was to be written is as it was before."""


def quiet(share: float, words: str) -> None:
    """Tell nobody."""


def part(tell: Tell, start: float, end: float) -> Tell:
    """Return what tells of a part of the work: its own 0 to 1 is ``start`` to ``end`` of the whole."""
    return lambda share, words: tell(start + (end - start) * share, words)


def until(stopped: Callable[[], bool], tell: Tell, *, what: str, done: str = "written") -> Tell:
    """Return what tells on, and raises StoppedError at the next word once ``stopped`` says so: ``what`` was not
    ``done``.
    """

    def told(share: float, words: str) -> None:
        if stopped():
            raise StoppedError(f"stopped as you asked: {what} was not {done}; what was there before is as it was")
        tell(share, words)

    return told
