"""What every edit of a list of named records needs: a new name, a record put in the place of another, one taken out."""

from collections.abc import Callable, Iterable, Sequence
from typing import Protocol, TypeVar

from gardenkit.findings import GardenError, nearest


class Named(Protocol):
    """A record with a name."""

    @property
    def name(self) -> str:
        """What the designer calls it."""
        ...


Record = TypeVar("Record", bound=Named)


def by_name(items: Iterable[Record], name: str, what: str) -> Record:
    """Return the record called ``name``; raises GardenError naming the nearest known one."""
    every = list(items)
    for item in every:
        if item.name == name:
            return item
    raise GardenError(f'there is no {what} called "{name}"{nearest(name, [i.name for i in every])}; choose another')


def new_name(typed: str, known: Iterable[str], what: str) -> str:
    """Return a typed name; raises GardenError for an empty one, one that is taken, or what is no text."""
    if not isinstance(typed, str):
        raise GardenError(f"{typed!r} is not a name; give the {what} a name in words")
    name = " ".join(typed.split())
    if not name:
        raise GardenError(f"type a name for the {what} first")
    if name in set(known):
        raise GardenError(f'there is already something called "{name}"; give the {what} another name')
    return name


def free_name(wanted: str, known: Iterable[str]) -> str:
    """Return a name that is not taken: the wanted one, or with the first free number."""
    taken = set(known)
    return next(name for name in (wanted, *(f"{wanted} {n}" for n in range(2, 9999))) if name not in taken)


def put(items: Sequence[Record], name: str, new: Record) -> tuple[Record, ...]:
    """Return the records with the one called ``name`` replaced."""
    return tuple(new if item.name == name else item for item in items)


def without(items: Sequence[Record], name: str) -> tuple[Record, ...]:
    """Return the records without the one called ``name``."""
    return tuple(item for item in items if item.name != name)


def renamed(old: str, new: str) -> Callable[[str], str]:
    """Return a function that gives every mention of ``old`` its new name and leaves others alone."""
    return lambda name: new if name == old else name
