"""The live plan on a notebook page: it shows scenes, and tells the kernel when something on it was dragged."""

import json
import math
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from importlib.resources import files
from itertools import chain
from typing import Any

import anywidget
import numpy as np
import traitlets
from bokeh.core.json_encoder import serialize_json
from bokeh.core.serialization import Deserializer, Serializer
from bokeh.document import Document
from bokeh.document.events import (
    ColumnDataChangedEvent,
    ColumnsPatchedEvent,
    DocumentChangedEvent,
    DocumentPatchedEvent,
)
from bokeh.models import ColumnDataSource, CustomJS, LayoutDOM
from bokeh.resources import INLINE
from IPython.display import Javascript, display

from gardenkit.geometry.plane import FloatArray

NEEDED = ("bokeh", "bokeh-widgets")  # of BokehJS: no tables, no WebGL, no server
REMEMBERED = 16  # states of an editable source that are known again when the browser tells them late
CORNERS = ("xs", "ys")  # columns whose numbers lie in lists, or in lists of these: they are told as one flat array
Edited = Callable[[str, dict[str, list[Any]]], None]
Buffers = list[bytes]


class Board(anywidget.AnyWidget):
    """A Bokeh figure as a widget whose sources are output only, except the ones declared editable.

    The page asks for the figure as it stands whenever it shows it, and hears of every change after that once, what
    changes together in one message, its numbers as they lie in memory. What was dragged on an editable source comes
    back as ``edited(name, data)``; nothing else comes back but clicks.
    """

    _esm = files("gardenkit.notebook").joinpath("board.js").read_text(encoding="utf-8")
    editable = traitlets.List(traitlets.Unicode()).tag(sync=True)

    def __init__(self, figure: LayoutDOM, editable: Mapping[str, ColumnDataSource], edited: Edited) -> None:
        super().__init__(editable=[source.id for source in editable.values()])
        self.figure = figure
        self._sources = {source.id: (name, source) for name, source in editable.items()}
        self._edited = edited
        self._taking_in = False
        self._gathered: list[DocumentPatchedEvent] | None = None
        self._sent = {source.id: deque([_plain(source.data)], maxlen=REMEMBERED) for source in editable.values()}
        for source in editable.values():
            source.on_change("data", self._note_sent(source.id))
        keys = CustomJS(code=files("gardenkit.notebook").joinpath("keys.js").read_text(encoding="utf-8"))
        for event in ("mouseenter", "mouseleave"):
            figure.js_on_event(event, keys)
        if figure.document is None:
            Document().add_root(figure)
        self._document = figure.document
        self._document.on_change(self._changed)
        self.on_msg(self._heard)

    def whole(self) -> str:
        """Return the figure as it stands now, in Bokeh's own form."""
        return str(serialize_json(self._document.to_json(deferred=False)))

    @contextmanager
    def at_once(self) -> Iterator[None]:
        """Tell the browser of all that changes meanwhile in one message, in the order it changed."""
        if self._gathered is not None:
            yield
            return
        gathered = self._gathered = []
        try:
            yield
        finally:
            self._gathered = None
            if gathered:
                self._tell(gathered)

    def close(self) -> None:
        """Let go of the figure, once: a widget is closed again when it is forgotten."""
        if self.comm is not None:
            self._document.remove_on_change(self._changed)
            super().close()

    def _heard(self, _: object, told: Mapping[str, Any], buffers: Sequence[Any]) -> None:
        del buffers
        match told.get("kind"):
            case "library":
                self.send({"kind": "library"}, [_library()])
            case "show":
                self.send({"kind": "whole", "view": told.get("view"), "plan": self.whole()})
            case "event":
                event = Deserializer(list(self._document.models)).deserialize(told["event"])
                self._document.callbacks.trigger_event(event)  # a click, where the plan listens for one
            case "edited":
                self._take(str(told.get("id")), told["data"])

    def _take(self, source_id: str, data: Mapping[str, Sequence[Any]]) -> None:
        name, source = self._sources[source_id]
        new = {key: [math.nan if cell is None else cell for cell in column] for key, column in data.items()}
        if new in self._sent[source_id]:
            return
        self._taking_in = True
        try:
            source.set_from_json("data", new, setter=self)
        finally:
            self._taking_in = False
        self._edited(name, new)

    def _note_sent(self, source_id: str) -> Callable[[str, object, Mapping[str, Any]], None]:
        def note(attr: str, old: object, new: Mapping[str, Any]) -> None:
            del attr, old
            if not self._taking_in:
                self._sent[source_id].append(_plain(new))

        return note

    def _changed(self, event: DocumentChangedEvent) -> None:
        if not isinstance(event, DocumentPatchedEvent) or event.setter is self:
            return
        if self._gathered is None:
            self._tell([event])
        else:
            self._gathered.append(event)

    def _tell(self, events: Sequence[DocumentPatchedEvent]) -> None:
        models = self._document.models
        serializer = Serializer(references=models.synced_references, deferred=False)
        buffers: Buffers = []
        told = [_columns(event, buffers) or json.loads(serialize_json(serializer.encode(event))) for event in events]
        models.flush_synced(lambda model: not serializer.has_ref(model))
        self.send({"kind": "changed", "events": told}, buffers)

    def __repr__(self) -> str:
        return "a live plan"


def _columns(event: DocumentPatchedEvent, buffers: Buffers) -> dict[str, Any] | None:
    """Return new columns or rows of a source, of columns all or those that changed, their numbers in ``buffers``; None
    for other changes, and for cells that only Bokeh has a word for.
    """
    columns: dict[str, Any]
    packed = len(buffers)
    try:
        if isinstance(event, ColumnsPatchedEvent):
            columns = {name: _rows(name, patches, buffers) for name, patches in event.patches.items()}
        elif isinstance(event, ColumnDataChangedEvent):
            data = event.data if event.data is not None else event.model.data
            names = data if event.cols is None else event.cols
            columns = {name: {"cells": _cells(name, data[name], buffers)} for name in names}
        else:
            return None
    except (TypeError, ValueError):
        del buffers[packed:]
        return None
    return {"id": event.model.id, "columns": columns, "whole": getattr(event, "cols", ()) is None}


def _rows(name: str, patches: Sequence[tuple[Any, Any]], buffers: Buffers) -> dict[str, Any]:
    rows = [row for row, _ in patches]
    if not all(isinstance(row, int) for row in rows):
        raise TypeError("a piece of a column, or of a picture")
    return {"rows": rows, "cells": _cells(name, [cell for _, cell in patches], buffers)}


def _cells(name: str, cells: Sequence[Any], buffers: Buffers) -> Any:
    """Return the cells of a column: words as they are, numbers as their place in ``buffers``, and, where they lie in
    lists, how long these are, from the innermost. Raises TypeError for anything else.
    """
    kinds = set(map(type, cells))
    if kinds <= {str}:
        return list(cells)
    if all(issubclass(kind, (int, float)) and kind is not bool for kind in kinds):
        return _told(np.asarray(cells, dtype=np.float64), [], buffers)
    if name in CORNERS:
        return _nested(cells, buffers)
    if all(isinstance(cell, list) and all(isinstance(one, int) for one in cell) for cell in cells):
        return list(cells)  # dashes
    raise TypeError(f"cells of {name} that are neither words nor numbers")


def _nested(cells: Sequence[Any], buffers: Buffers) -> dict[str, Any]:
    lengths: list[list[int]] = []
    while len(cells) and not isinstance(cells[0], (int, float)):
        lengths.insert(0, list(map(len, cells)))
        if np.ndarray in set(map(type, cells)):  # lines: there is nothing in them but numbers
            return _told(np.concatenate(cells).astype(np.float32, copy=False), lengths, buffers)
        cells = list(chain.from_iterable(cells))
    return _told(np.asarray(cells, dtype=np.float32), lengths, buffers)


def _told(numbers: FloatArray, lengths: list[list[int]], buffers: Buffers) -> dict[str, Any]:
    buffers.append(numbers.tobytes())
    return {"at": len(buffers) - 1, "kind": numbers.dtype.str[1:], "lengths": lengths}


def _plain(data: Mapping[str, Any]) -> dict[str, list[Any]]:
    return {key: list(column) for key, column in data.items()}


def _library() -> bytes:
    """Return BokehJS from the installed package: works with no network."""
    scripts = zip(INLINE.components, INLINE.js_raw, strict=False)
    return "\n".join(script for name, script in scripts if name in NEEDED).encode("utf-8")


def tie_labels() -> None:
    """Let the page tie the words above its fields to them. Run once at the top of a notebook."""
    display(Javascript(files("gardenkit.notebook").joinpath("labels.js").read_text(encoding="utf-8")))
