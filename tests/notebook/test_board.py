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

from gardenkit.drawing.scene import Area, Disc, Scene
from gardenkit.notebook.board import Board
from gardenkit.notebook.one_plan import OnePlan


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


def test_rows_that_changed_are_told_as_bokeh_itself_would() -> None:
    plot, source = figure(), ColumnDataSource(data={"xs": [[[[1.0]]], [[[2.0]]]], "t": ["a", "b"]})
    plot.multi_polygons(xs="xs", ys="xs", source=source)
    sent = told_by(Board(plot, {}, lambda *_: None))
    stock: list[Any] = []
    source.document.on_change(lambda event: stock.append(Serializer(deferred=False).encode([event])))
    source.patch({"xs": [(1, [[[3.0, 4.0]]])], "t": [(slice(0, 2), ["c", "d"])]})
    assert json.loads(sent[2]["payload"])["events"] == json.loads(json.dumps(stock[0]))


def test_all_that_changes_at_once_is_told_in_one_message_in_its_order() -> None:
    plot = figure(title="before")
    one, other = ColumnDataSource(data={"x": [0.0]}), ColumnDataSource(data={"x": [0.0]})
    for source in (one, other):
        plot.scatter("x", "x", source=source)
    board = Board(plot, {}, lambda *_: None)
    sent = told_by(board)
    with board.at_once():
        other.data = {"x": [1.0]}
        with board.at_once():
            plot.title.text = "after"
        one.patch({"x": [(0, 2.0)]})
        assert sent == []
    assert len(sent) == 3  # the head, what is said about it, the changes
    events = json.loads(sent[2]["payload"])["events"]
    assert [event["kind"] for event in events] == ["ColumnDataChanged", "ModelChanged", "ColumnsPatched"]
    assert [event["model"]["id"] for event in events] == [other.id, plot.title.id, one.id]
    plot.title.text = "alone"
    assert len(sent) == 6


def test_a_step_of_a_plan_is_one_message() -> None:
    def scene(x: float) -> Scene:
        marks = (
            Area(rings=(((x, 0), (x + 1, 0), (x, 1)),), fill="#ffffff", layer="ground"),
            Disc(at=(x, 2.0), radius=0.2, fill="#ffffff", layer="planting"),
        )
        return Scene(marks=marks, bounds=(0, 0, 9, 9), title="", description="")

    one = OnePlan()
    one.step(scene(1.0), width_px=300, most_height_px=300)
    sent = told_by(one.board)
    assert set(one.live.update(scene(2.0))) == {"ground_areas", "planting_dots"}
    assert len(sent) == 3 and len(json.loads(sent[2]["payload"])["events"]) == 2


def told_by(board: Board) -> list[dict[str, str]]:
    """Return what a board will have sent, as it sends it."""
    sent: list[dict[str, str]] = []
    board.send = lambda content, buffers=None: sent.append(content)
    return sent
