"""Where pictures come onto a page: dropped anywhere on it, pasted while the pointer is over it, or chosen as files."""

from collections.abc import Callable, Sequence
from importlib.resources import files
from typing import Any

import anywidget
import traitlets

WORDS = "Drop pictures on this page, paste them here (Ctrl+V), or click to choose files: JPEG, PNG, WebP, HEIC."
ACCEPT = "image/jpeg,image/png,image/webp,image/heic,image/heif,.heic,.heif"
MOST = 250_000_000  # bytes that are held of pictures that have not come in whole yet. House value.
Taken = Callable[[Sequence[dict[str, Any]]], object]  # name and content of each picture


class PinUp(anywidget.AnyWidget):
    """The place on a page that takes pictures in; ``took`` is called with all of one gesture, ``chose`` with the file
    of a picture of the page (an element with ``data-picture``) that was clicked.
    """

    _esm = files("gardenkit.notebook").joinpath("pin_up.js").read_text(encoding="utf-8")
    words = traitlets.Unicode(WORDS).tag(sync=True)
    accept = traitlets.Unicode(ACCEPT).tag(sync=True)

    def __init__(self, took: Taken, chose: Callable[[str], object]) -> None:
        super().__init__()
        self._took, self._chose = took, chose
        self._parts: list[bytes] = []
        self._whole: list[dict[str, Any]] = []
        self.on_msg(self._heard)

    def _heard(self, _: object, told: dict[str, Any], buffers: Sequence[Any]) -> None:
        if told.get("kind") == "chosen":
            self._chose(str(told.get("name", "")))
        elif told.get("kind") == "part":
            self._take(told, b"".join(bytes(part) for part in buffers))

    def _take(self, told: dict[str, Any], part: bytes) -> None:
        if sum(map(len, self._parts)) < MOST:
            self._parts.append(part)
        if not told.get("last"):
            return
        self._whole.append({"name": str(told.get("name", "picture")), "content": b"".join(self._parts)})
        self._parts = []
        if told.get("end"):
            whole, self._whole = self._whole, []
            self._took(whole)
