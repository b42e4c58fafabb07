"""What differs between two states of a garden, item by item: a plant added is one plant, not the whole list twice.

A change is a short list: its kind, the place as keys from the top, then what it needs to be made and unmade.

``["=", place, was, now]`` a value; ``["+", place, now]`` and ``["-", place, was]`` a field that comes or goes;
``["~", place, index, removed, added]`` items of a list; ``["o", place, order]`` the same items in another order, new
item i being old item ``order[i]``.
"""

import json
from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher
from typing import Any

Place = tuple[str | int, ...]
Change = list[Any]
MOST_COMPARED = 4_000_000  # pairs of list items compared to find the smallest change; above, one block. House value.


def differences(was: Any, now: Any, place: Place = ()) -> Iterator[Change]:
    """Yield the changes that turn one piece of plain data into another, in the order they are to be made."""
    if was == now:
        return
    if isinstance(was, dict) and isinstance(now, dict):
        for key in [k for k in was if k not in now]:
            yield ["-", [*place, key], was[key]]
        for key, value in now.items():
            if key in was:
                yield from differences(was[key], value, (*place, key))
            else:
                yield ["+", [*place, key], value]
    elif isinstance(was, list) and isinstance(now, list):
        yield from _of_lists(was, now, place)
    else:
        yield ["=", list(place), was, now]


def _of_lists(was: list[Any], now: list[Any], place: Place) -> Iterator[Change]:
    same = min(len(was), len(now))
    head = next((i for i in range(same) if was[i] != now[i]), same)
    tail = next((i for i in range(same - head) if was[-1 - i] != now[-1 - i]), same - head)
    old, new = was[head : len(was) - tail], now[head : len(now) - tail]
    old_keys, new_keys = [_key(item) for item in old], [_key(item) for item in new]
    if len(old) > 1 and len(old) == len(new) and sorted(old_keys) == sorted(new_keys):
        yield ["o", list(place), [*range(head), *_order(old_keys, new_keys, head), *range(len(was) - tail, len(was))]]
        return
    for i1, i2, j1, j2 in _blocks(old_keys, new_keys):
        if i2 - i1 == j2 - j1:
            for k in range(i2 - i1):
                yield from differences(old[i1 + k], new[j1 + k], (*place, head + j1 + k))
        else:
            yield ["~", list(place), head + j1, old[i1:i2], new[j1:j2]]  # items before it already stand as they will


def _blocks(old: list[str], new: list[str]) -> list[tuple[int, int, int, int]]:
    if len(old) * len(new) > MOST_COMPARED and len(set(old)) < len(old):
        return [(0, len(old), 0, len(new))]
    found = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    return [(i1, i2, j1, j2) for kind, i1, i2, j1, j2 in found if kind != "equal"]


def _order(old: list[str], new: list[str], head: int) -> list[int]:
    places: dict[str, list[int]] = {}
    for i in range(len(old) - 1, -1, -1):
        places.setdefault(old[i], []).append(head + i)
    return [places[key].pop() for key in new]


def _key(item: Any) -> str:
    return json.dumps(item, sort_keys=True)


def unmade(changes: Iterable[Change]) -> list[Change]:
    """Return the changes that lead back, in the order they are to be made."""
    return [_unmade(change) for change in reversed(list(changes))]


def _unmade(change: Change) -> Change:
    kind, place, *rest = change
    if kind == "=":
        return ["=", place, rest[1], rest[0]]
    if kind in "+-":
        return ["-" if kind == "+" else "+", place, rest[0]]
    if kind == "~":
        return ["~", place, rest[0], rest[2], rest[1]]
    back = [0] * len(rest[0])
    for i, j in enumerate(rest[0]):
        back[j] = i
    return ["o", place, back]


def applied(data: Any, changes: Iterable[Change]) -> Any:
    """Return plain data with changes made in it; what they do not touch is shared with ``data``, which stays as it is.

    Raises ValueError when a change does not fit the data (a damaged or foreign history).
    """
    top = [data]
    own = {id(top)}
    for kind, place, *rest in changes:
        try:
            _make(top, own, kind, [0, *place], rest)
        except (KeyError, IndexError, TypeError) as error:
            raise ValueError(f"a change does not fit at {'.'.join(str(key) for key in place)}") from error
    return top[0]


def _make(top: list[Any], own: set[int], kind: str, place: list[Any], rest: list[Any]) -> None:
    holder: Any = top
    for key in place[:-1]:
        holder = _owned(holder, key, own)
    key = place[-1]
    if kind == "+":
        holder[key] = rest[0]
    elif kind == "-":
        del holder[key]
    elif kind == "=":
        if holder[key] != rest[0]:
            raise KeyError(key)
        holder[key] = rest[1]
    elif kind == "~":
        items, (at, removed, added) = _owned(holder, key, own), rest
        if items[at : at + len(removed)] != removed:
            raise IndexError(at)
        items[at : at + len(removed)] = added
    elif kind == "o":
        items = _owned(holder, key, own)
        items[:] = [items[i] for i in rest[0]]
    else:
        raise KeyError(kind)


def _owned(holder: Any, key: Any, own: set[int]) -> Any:
    """Return the container at ``key``, copied the first time so that the data it came from stays as it is."""
    inner = holder[key]
    if id(inner) not in own:
        inner = dict(inner) if isinstance(inner, dict) else list(inner)
        holder[key] = inner
        own.add(id(inner))
    return inner
