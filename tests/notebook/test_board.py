"""What a live plan tells the browser and hears from it: its numbers whole, in one message, and each drag once."""

import math
from typing import Any

import numpy as np
import pytest
from bokeh.models import ColumnDataSource
from bokeh.plotting import figure

from gardenkit.drawing.scene import Area, Disc, Scene
from gardenkit.notebook.board import Board
from gardenkit.notebook.one_plan import OnePlan

Told = tuple[dict[str, Any], list[bytes]]


def told_by(board: Board) -> list[Told]:
    """Return what a board will have sent, as it sends it."""
    sent: list[Told] = []
    board.send = lambda content, buffers=None: sent.append((content, list(buffers or ())))
    return sent


def column(told: Any, buffers: list[bytes]) -> list[Any]:
    """Return a column as the page puts it together again."""
    if isinstance(told, list):
        return told
    cells = np.frombuffer(buffers[told["at"]], dtype=told["kind"]).tolist()
    for lengths in told["lengths"]:
        ends = np.cumsum(lengths, dtype=int).tolist()
        cells = [cells[end - long : end] for end, long in zip(ends, lengths, strict=True)]
    return cells


@pytest.mark.parametrize(
    ("name", "cells"),
    [
        ("t", ["a", "ö</script>", ""]),
        ("x", [1.0, np.float64(2.5), 3]),
        ("x", np.arange(3.0)),
        ("xs", [[[[1.0, 2.0], [4.0]], [[0.5]]], [], [[[3.0]]]]),
        ("xs", [np.asarray([1.5, 2.0], dtype=np.float32), [], [3.0]]),
        ("line_dash", [[], [4, 2], []]),
    ],
)
def test_new_columns_come_whole(name: str, cells: Any) -> None:
    plot, source = figure(), ColumnDataSource(data={name: [0.0]})
    plot.scatter(name, name, source=source)
    sent = told_by(Board(plot, {}, lambda *_: None))
    source.data = {name: cells}
    ((content, buffers),) = sent
    ((event,), kind) = content["events"], content["kind"]
    assert (kind, event["id"], event["whole"]) == ("changed", source.id, True)
    plain = [cell.tolist() if isinstance(cell, np.ndarray) else cell for cell in cells]
    assert column(event["columns"][name]["cells"], buffers) == plain


def test_numbers_without_a_word_in_json_come_too() -> None:
    plot, source = figure(), ColumnDataSource(data={"x": [0.0]})
    plot.scatter("x", "x", source=source)
    sent = told_by(Board(plot, {}, lambda *_: None))
    source.data = {"x": [math.nan, math.inf, 1.0]}
    ((content, buffers),) = sent
    gap, far, one = column(content["events"][0]["columns"]["x"]["cells"], buffers)
    assert math.isnan(gap) and (far, one) == (math.inf, 1.0)


def test_columns_that_changed_are_told_without_the_others() -> None:
    plot, source = figure(), ColumnDataSource(data={"x": [0.0, 1.0], "y": [2.0, 3.0], "t": ["a", "b"]})
    plot.scatter("x", "y", source=source)
    sent = told_by(Board(plot, {}, lambda *_: None))
    source.data.update({"y": [2.0, 4.0]})
    ((content, buffers),) = sent
    (event,) = content["events"]
    assert (list(event["columns"]), event["whole"]) == (["y"], False)
    assert column(event["columns"]["y"]["cells"], buffers) == [2.0, 4.0]


def test_any_other_change_of_a_plan_is_told_as_bokeh_tells_it() -> None:
    plot = figure(title="before")
    sent = told_by(Board(plot, {}, lambda *_: None))
    plot.title.text = "after"
    ((content, buffers),) = sent
    (event,) = content["events"]
    assert (event["kind"], event["attr"], event["new"], buffers) == ("ModelChanged", "text", "after", [])


def test_cells_that_only_bokeh_has_a_word_for_are_told_as_bokeh_tells_them() -> None:
    plot, source = figure(), ColumnDataSource(data={"x": [0.0], "t": [None]})
    plot.scatter("x", "x", source=source)
    sent = told_by(Board(plot, {}, lambda *_: None))
    source.data = {"x": [1.0], "t": [{"deep": 1}]}
    ((content, buffers),) = sent
    assert content["events"][0]["kind"] == "ColumnDataChanged" and buffers == []


def test_only_the_rows_that_changed_are_told() -> None:
    plot, source = figure(), ColumnDataSource(data={"xs": [[[[1.0]]], [[[2.0]]]], "t": ["a", "b"]})
    plot.multi_polygons(xs="xs", ys="xs", source=source)
    sent = told_by(Board(plot, {}, lambda *_: None))
    source.patch({"xs": [(1, [[[3.0, 4.0]]])], "t": [(0, "c")]})
    ((content, buffers),) = sent
    columns = content["events"][0]["columns"]
    assert columns["t"] == {"rows": [0], "cells": ["c"]}
    assert columns["xs"]["rows"] == [1] and column(columns["xs"]["cells"], buffers) == [[[[3.0, 4.0]]]]


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
    ((content, buffers),) = sent
    events = content["events"]
    assert [event.get("id") or event["model"]["id"] for event in events] == [other.id, plot.title.id, one.id]
    assert [column(events[n]["columns"]["x"]["cells"], buffers) for n in (0, 2)] == [[1.0], [2.0]]
    plot.title.text = "alone"
    assert len(sent) == 2


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
    assert len(sent) == 1 and len(sent[0][0]["events"]) == 2


def test_a_page_that_shows_a_plan_gets_it_as_it_stands_and_the_library_that_draws_it() -> None:
    plot = figure(title="before")
    board = Board(plot, {}, lambda *_: None)
    sent = told_by(board)
    plot.title.text = "as it stands"
    board._heard(board, {"kind": "show", "view": "one of two"}, [])
    board._heard(board, {"kind": "library"}, [])
    (_, (whole, _), (kind, (library,))) = sent
    assert (whole["kind"], whole["view"], kind) == ("whole", "one of two", {"kind": "library"})
    assert "as it stands" in whole["plan"] and b"Bokeh" in library


def test_what_was_dragged_is_heard_once_and_no_other_source_is() -> None:
    plot = figure()
    handles, drawn = ColumnDataSource(data={"x": [0.0]}), ColumnDataSource(data={"x": [0.0]})
    for source in (handles, drawn):
        plot.scatter("x", "x", source=source)
    heard: list[tuple[str, dict[str, list[Any]]]] = []
    board = Board(plot, {"handles": handles}, lambda name, data: heard.append((name, data)))
    sent = told_by(board)
    for x in (0.0, 1.5, None):  # a click tells what was not moved
        board._heard(board, {"kind": "edited", "id": handles.id, "data": {"x": [x]}}, [])
    assert [name for name, _ in heard] == ["handles"] * 2
    assert heard[0][1] == {"x": [1.5]} and math.isnan(heard[1][1]["x"][0])
    assert board.editable == [handles.id] and sent == []  # the browser knows what it told
