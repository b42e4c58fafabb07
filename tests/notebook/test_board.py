"""What a live plan tells the browser: in Bokeh's own form, checked against Bokeh's own serializer, in one message."""

import base64
import gzip
import json
import math
from typing import Any

import numpy as np
import pytest
from bokeh.core.serialization import Serializer
from bokeh.models import ColumnDataSource
from bokeh.plotting import figure

from gardenkit.notebook.board import Board


def unzipped(told: Any) -> Any:
    """Return a message with what is zipped in it as plain bytes: how tightly it was zipped says nothing."""
    if isinstance(told, dict) and told.get("type") == "bytes":
        return gzip.decompress(base64.b64decode(told["data"]))
    if isinstance(told, dict):
        return {key: unzipped(value) for key, value in told.items()}
    return [unzipped(value) for value in told] if isinstance(told, list) else told


@pytest.mark.parametrize(
    "data",
    [
        {"x": [1.0, np.float64(2.5), 3], "t": ["a", "ö</script>", None], "xs": [[[[1.0, 2.0]]], [], [[[3.0]]]]},
        {"x": np.arange(3.0), "t": [True, False, "π"], "xs": [np.asarray([1, math.nan], dtype=np.float32), [], []]},
        {"x": [math.nan, math.inf, 1.0], "t": ["", "", ""], "xs": [[], [], []]},
    ],
)
def test_new_columns_are_told_as_bokeh_itself_would(data: dict[str, Any]) -> None:
    plot, source = figure(), ColumnDataSource(data={"x": [0.0], "t": [""], "xs": [[]]})
    plot.multi_polygons(xs="xs", ys="xs", source=source)
    board = Board(plot, {}, lambda *_: None)
    sent: list[dict[str, str]] = []
    board.send = lambda content, buffers=None: sent.append(content)
    stock: list[Any] = []
    source.document.on_change(lambda event: stock.append(Serializer(deferred=False).encode([event])))
    source.data = data
    header, metadata, content = (json.loads(one["payload"]) for one in sent)
    assert header["msgtype"] == "PATCH-DOC"
    assert metadata == {}
    assert unzipped(content["events"]) == unzipped(json.loads(json.dumps(stock[0])))


def test_columns_that_changed_are_told_without_the_others() -> None:
    plot, source = figure(), ColumnDataSource(data={"x": [0.0, 1.0], "y": [2.0, 3.0], "t": ["a", "b"]})
    plot.scatter("x", "y", source=source)
    board = Board(plot, {}, lambda *_: None)
    sent: list[dict[str, str]] = []
    board.send = lambda content, buffers=None: sent.append(content)
    source.data.update({"y": [2.0, 4.0]})
    (event,) = json.loads(sent[2]["payload"])["events"]
    assert (event["kind"], event["cols"]) == ("ColumnDataChanged", ["y"])
    assert event["data"]["entries"] == [["y", [2.0, 4.0]]]


def test_any_other_change_of_a_plan_is_told_too() -> None:
    plot = figure(title="before")
    board = Board(plot, {}, lambda *_: None)
    sent: list[dict[str, str]] = []
    board.send = lambda content, buffers=None: sent.append(content)
    plot.title.text = "after"
    (event,) = json.loads(sent[2]["payload"])["events"]
    assert (event["kind"], event["attr"], event["new"]) == ("ModelChanged", "text", "after")
