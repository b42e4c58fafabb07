"""Lists that are given where a record wants a tuple: taken, so that records can be kept and looked up."""

import typing
from collections.abc import Sequence
from typing import Any

import attrs


def taken(value: Any) -> Any:
    """Return a list, and every list in it, as tuples; anything else as it is.

    >>> taken([[0, 0], (4, 0), [4, 3]])
    ((0, 0), (4, 0), (4, 3))
    """
    if isinstance(value, list) or (type(value) is tuple and list in set(map(type, value))):
        return tuple(taken(part) for part in value)
    return value


def lists_as_tuples(_: type, fields: Sequence["attrs.Attribute[Any]"]) -> list["attrs.Attribute[Any]"]:
    """Let every field of a record that wants a tuple take lists: the ``field_transformer`` of ``attrs.frozen``."""
    return [field.evolve(converter=taken) if _wants_tuple(field) else field for field in fields]


def _wants_tuple(field: "attrs.Attribute[Any]") -> bool:
    if field.converter is not None:
        return False
    return any(typing.get_origin(part) is tuple for part in (field.type, *typing.get_args(field.type)))
