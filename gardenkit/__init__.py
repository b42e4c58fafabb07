"""gardenkit: a design workbook for people who design home gardens.

A whole garden by script, too: ``import gardenkit as gk``; ``gk.help()`` says what there is. Nothing is loaded before
it is used.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

__version__ = "0.1.0"

_MAKING = ("area", "bed", "boundary", "edit", "fill", "house", "new", "open", "opening")
_MAKING_TOO = ("path", "place", "plant", "seat", "stones", "support")
_TELLING = ("advice", "client_copy", "help", "plan", "sun")
_HOMES = dict.fromkeys((*_MAKING, *_MAKING_TOO), "making")
_HOMES.update(dict.fromkeys(_TELLING, "telling"))
__all__ = sorted(_HOMES)  # noqa: PLE0605 - one list of names, not two


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"gardenkit has no {name!r}; it has: {', '.join(__all__)}")
    return getattr(import_module(f"gardenkit.front.{_HOMES[name]}"), name)


def __dir__() -> list[str]:
    return [*globals(), *__all__]
