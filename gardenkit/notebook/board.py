"""The live plan on a notebook page: it shows scenes, and tells the kernel when something on it was dragged."""

import base64
import gzip
import json
import sys
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from importlib.resources import files
from typing import Any

import numpy as np
from bokeh.core.serialization import Deserializer, Serialized, Serializer
from bokeh.document import Document
from bokeh.document.events import ColumnDataChangedEvent, ColumnsPatchedEvent, DocumentPatchedEvent
from bokeh.document.json import PatchJson
from bokeh.models import ColumnDataSource, CustomJS, LayoutDOM
from bokeh.protocol.messages.patch_doc import patch_doc
from bokeh.resources import INLINE
from IPython.display import Javascript, display
from jupyter_bokeh.widgets import BokehModel

NEEDED = ("bokeh", "bokeh-widgets")  # of BokehJS: no tables, no WebGL, no server
REMEMBERED = 16  # states of an editable source that are known again when the browser sends them back
Edited = Callable[[str, dict[str, list[Any]]], None]


class Board(BokehModel):
    """A Bokeh figure as a widget whose sources are output only, except the ones declared editable.

    The stock widget takes back whatever the browser echoes and calls every callback twice (jupyter_bokeh issue 159).
    This one
    takes in only the whole ``data`` of an editable source, once, and calls ``edited(name, data)`` a single time. What
    the kernel itself sent earlier and the browser sends back late is no edit: it would undo an undo.
    It rests on private methods of jupyter_bokeh 4.1.0, which is pinned; the browser tests watch over it.
    """

    def __init__(self, figure: LayoutDOM, editable: Mapping[str, ColumnDataSource], edited: Edited) -> None:
        self._editable = {source.id: name for name, source in editable.items()}
        self._edited = edited
        self._taking_in = False
        self._gathered: list[DocumentPatchedEvent] | None = None
        self._sent = {source.id: deque([_plain(source.data)], maxlen=REMEMBERED) for source in editable.values()}
        for source in editable.values():
            source.on_change("data", self._note_sent(source.id))
        keys = CustomJS(code=files("gardenkit.notebook").joinpath("keys.js").read_text(encoding="utf-8"))
        for event in ("mouseenter", "mouseleave"):
            figure.js_on_event(event, keys)
        super().__init__(figure)

    def _sync_model(self, _: BokehModel, content: dict[str, Any], buffers: list[Any]) -> None:
        if content.pop("event", "") != "jsevent" or self._document is None:
            return
        if content.get("kind") != "MessageSent" and content.get("model", {}).get("id") not in self._editable:
            return  # read no further: what a plan shows can be a megabyte
        event = Deserializer(list(self._document.models), setter=self).deserialize(
            Serialized(content=content, buffers=buffers)
        )
        if event.get("kind") == "MessageSent" and event.get("msg_type") == "bokeh_event":
            self._document.callbacks.trigger_event(event["msg_data"])  # a click, where the plan listens for one
            return
        if event.get("kind") != "ModelChanged" or event.get("attr") != "data":
            return
        source = event["model"]
        name = self._editable.get(source.id)
        if name is None:
            return
        descriptor = source.lookup("data")
        new = descriptor.property.prepare_value(source, "data", event["new"])
        if _plain(new) in self._sent[source.id]:
            return
        self._taking_in = True
        try:
            descriptor._set(source, source.data, new, setter=self)
        finally:
            self._taking_in = False
        self._edited(name, {key: list(column) for key, column in source.data.items()})

    def _note_sent(self, source_id: str) -> Callable[[str, object, Mapping[str, Any]], None]:
        def note(attr: str, old: object, new: Mapping[str, Any]) -> None:
            del attr, old
            if not self._taking_in:
                self._sent[source_id].append(_plain(new))

        return note

    def _document_patched(self, event: DocumentPatchedEvent) -> None:
        """Tell the browser of a change, its numbers inside the one message about it.

        The stock widget sends two messages more for every list of corners: seventy for one step of a bend.
        """
        if event.setter is self or self._document is None:
            return
        if self._gathered is None:
            self._tell([event])
        else:
            self._gathered.append(event)

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
            if gathered and self._document is not None:
                self._tell(gathered)

    def _tell(self, events: Sequence[DocumentPatchedEvent]) -> None:
        models = self._document.models
        serializer = Serializer(references=models.synced_references, deferred=False)
        message = patch_doc(patch_doc.create_header(), {}, PatchJson(events=[]))
        told = [_columns(event, serializer) or _other(event, serializer) for event in events]
        models.flush_synced(lambda model: not serializer.has_ref(model))
        content = f'{{"events": [{", ".join(told)}]}}'
        for fragment in (message.header_json, message.metadata_json, content):
            self.send({"msg": "patch", "payload": fragment})

    def update_from_model(self, model: LayoutDOM) -> None:
        """Hold the figure. What the browser gets is written once, when the plan is shown, and not already now."""
        self._model = model
        if model.document is None:
            Document().add_root(model)
        self._document.on_change_dispatch_to(self)

    def renew(self) -> None:
        """Make what a page shows next the plan as it stands now; a stock widget would show it as it was first made."""
        self.render_bundle = self._model_to_traits(self._model)

    def close(self) -> None:
        """Let go of the figure, once: a widget is closed again when it is forgotten."""
        if self.comm is not None:
            super().close()

    def __repr__(self) -> str:
        return "a live plan"


def _other(event: DocumentPatchedEvent, serializer: Serializer) -> str:
    """Return a change as Bokeh itself tells it."""
    return json.dumps(serializer.encode(event), allow_nan=False)


def _columns(event: DocumentPatchedEvent, serializer: Serializer) -> str | None:
    """Return new columns or rows of a source as Bokeh's message has them, of columns all or those that changed; None
    for other changes and for numbers that JSON has no word for.

    Bokeh's own serializer looks at every number by itself, which for 800 plants takes longer than drawing them.
    """
    told: dict[str, Any]
    if isinstance(event, ColumnsPatchedEvent):
        told = {"patches": _map(event.patches)}
    elif isinstance(event, ColumnDataChangedEvent):
        data = event.data if event.data is not None else event.model.data
        names = data if event.cols is None else event.cols
        told = {"data": _map({name: data[name] for name in names}), "cols": event.cols}
    else:
        return None

    def encoded(value: object) -> Any:
        return _array(value) or serializer.encode(value)

    told = {"kind": event.kind, "model": event.model.ref, "attr": event.attr, **told}
    try:
        return json.dumps(told, default=encoded, allow_nan=False)
    except ValueError:
        return None


def _map(entries: Mapping[str, Any]) -> dict[str, Any]:
    return {"type": "map", "entries": list(entries.items())}


def _array(value: object) -> dict[str, Any] | None:
    """Return numbers in single precision as Bokeh's message has them, None for anything else.

    BokehJS wants them zipped; left as they are within the zip they are ready in a third of the time, and hundreds of
    short lists of corners would hardly become shorter.
    """
    if not isinstance(value, np.ndarray) or value.dtype != np.float32:
        return None
    zipped = gzip.compress(np.ascontiguousarray(value).tobytes(), compresslevel=0, mtime=1)
    data = {"type": "bytes", "data": base64.b64encode(zipped).decode("ascii")}
    return {"type": "ndarray", "array": data, "shape": list(value.shape), "dtype": "float32", "order": sys.byteorder}


def _plain(data: Mapping[str, Any]) -> dict[str, list[Any]]:
    return {key: list(column) for key, column in data.items()}


def load_bokeh() -> None:
    """Put BokehJS on the page, from the installed package: works with no network. Run once at the top of a notebook."""
    # JupyterLab runs scripts inside a function; BokehJS wants to be run as the page itself.
    scripts = "\n".join(
        script for name, script in zip(INLINE.components, INLINE.js_raw, strict=False) if name in NEEDED
    )
    display(Javascript(f"if (!window.Bokeh) {{ (function () {{ {scripts} }}).call(window); }}"))
    display(Javascript(files("gardenkit.notebook").joinpath("labels.js").read_text(encoding="utf-8")))
