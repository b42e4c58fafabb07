"""The live plan: circles stay circles, sources stay the same objects, only what changed is sent."""

import math
from collections.abc import Callable

import attrs
import pytest
from bokeh.document import Document
from bokeh.document.events import ColumnsPatchedEvent, DocumentPatchedEvent
from bokeh.models import HoverTool, PointDrawTool
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.drawing.bokeh import Handle, LivePlan, frame, moved_handles, scene_data
from gardenkit.drawing.labels import label_box, overlaps
from gardenkit.drawing.plan import PIXEL_MM, PathDrawn, plan_scene, screen_scale
from gardenkit.drawing.scene import Area, Hatch, Label, Scene
from gardenkit.geometry import plane

HANDLES = (Handle(id="gate path/0", kind="path", at=(13.0, 5.0)), Handle(id="plant/7", kind="plant", at=(8.0, 1.0)))


@pytest.fixture
def scene(garden) -> Scene:  # type: ignore[no-untyped-def]
    return plan_scene(title="Live", scale=96.0, to_scale=False, **garden.parts())


@pytest.fixture
def live(scene: Scene) -> LivePlan:
    return LivePlan(scene, handles=HANDLES)


@given(st.floats(2, 200), st.floats(2, 200), st.integers(200, 1600), st.integers(200, 1600))
def test_a_metre_is_as_many_pixels_across_as_up(wide: float, high: float, width: int, height: int) -> None:
    px, py, (x0, y0, x1, y1) = frame((3.0, -4.0, 3.0 + wide, -4.0 + high), width_px=width, most_height_px=height)
    assert px / (x1 - x0) == pytest.approx(py / (y1 - y0), rel=1e-12)
    assert px <= width
    assert py <= height
    assert x0 <= 3.0 + 1e-9
    assert y1 >= -4.0 + high - 1e-9


def test_the_figure_is_isotropic(live: LivePlan) -> None:
    plot = live.figure
    across = plot.frame_width / (plot.x_range.end - plot.x_range.start)
    up = plot.frame_height / (plot.y_range.end - plot.y_range.start)
    assert across == pytest.approx(up, rel=1e-12)


def test_an_update_keeps_every_source_the_same_object(live: LivePlan, scene: Scene) -> None:
    before = {name: id(source) for name, source in live.sources.items()}
    live.update(scene.with_marks(scene.marks[:40]))
    assert {name: id(source) for name, source in live.sources.items()} == before


def test_showing_the_same_scene_again_sends_nothing(live: LivePlan, garden) -> None:  # type: ignore[no-untyped-def]
    again = plan_scene(title="Live", scale=96.0, to_scale=False, **garden.parts())
    assert live.update(again) == ()


def test_moving_the_path_sends_neither_house_nor_plants(live: LivePlan, garden) -> None:  # type: ignore[no-untyped-def]
    region = plane.grown(plane.line([(15.6, 0.0), (12.0, 6.0), (7.5, 9.9)]), 0.45, round_ends=False)
    path = PathDrawn(name="gate path", region=region)
    moved = plan_scene(title="Live", scale=96.0, to_scale=False, **{**garden.parts(), "paths": (path,)})
    sent = live.update(moved)
    assert "ground_areas" in sent
    assert not [name for name in sent if name.startswith(("planting", "structure"))]


def test_hatches_that_differ_are_sent_and_the_same_ones_are_not(live: LivePlan, scene: Scene) -> None:
    def hatched(end: float, words: str) -> Scene:
        lines = (((1.0, 1.0), (2.0, end)), ((3.0, 1.0), (4.0, 2.0)))
        marks = (Hatch(lines=lines, colour="#333333", layer="overlay"), Label(at=(1.0, 1.0), text=words))
        return scene.with_marks((*scene.marks, *marks))

    live.update(hatched(2.0, "one"))
    assert live.update(hatched(2.0, "two")) == () and "two" in live.sources["texts"].data["text"]
    assert [name.endswith("lines") for name in live.update(hatched(2.5, "two"))] == [True]


def test_each_source_is_sent_in_one_piece(live: LivePlan, scene: Scene) -> None:
    times: dict[str, int] = {}

    def count(name: str) -> None:
        times[name] = times.get(name, 0) + 1

    for name, source in live.sources.items():
        source.on_change("data", lambda _a, _o, _n, name=name: count(name))
    sent = live.update(scene.with_marks(scene.marks[::2]))
    later = {name for name in times if name == "texts" or name.endswith("_tips")}
    assert set(times.values()) == {1} and set(times) - later == set(sent)


def test_the_words_follow_once_the_hand_is_still(live: LivePlan, garden) -> None:  # type: ignore[no-untyped-def]
    parts = garden.parts()
    grown = [attrs.evolve(one, spread=2.0 * one.spread, key=f"{one.key}2") for one in parts["plants"]]
    other = plan_scene(title="Live", scale=96.0, to_scale=False, **{**parts, "plants": grown})
    waiting: list[Callable[[], object]] = []
    live.later = waiting.append
    before = dict(live.sources["texts"].data)
    sent = live.update(other)
    assert "planting_areas" in sent and "texts" not in sent and live.sources["texts"].data == before
    (follow,) = waiting
    follow()
    fresh = LivePlan(other)
    assert {name: dict(source.data) for name, source in live.sources.items()} == {
        name: dict(source.data) for name, source in fresh.sources.items()
    }


def told_by(live: LivePlan, scene: Scene) -> list[DocumentPatchedEvent]:
    """Return what a plan in a document tells of another scene."""
    told: list[DocumentPatchedEvent] = []
    document = Document()
    document.add_root(live.figure)
    document.on_change(told.append)
    live.update(scene)
    return told


def test_another_colour_of_one_thing_sends_one_row(live: LivePlan, scene: Scene) -> None:
    at = next(i for i, mark in enumerate(scene.marks) if isinstance(mark, Area) and mark.fill and not mark.dash)
    other = attrs.evolve(scene.marks[at], fill="#123456")
    (event,) = told_by(live, scene.with_marks((*scene.marks[:at], other, *scene.marks[at + 1 :])))
    assert isinstance(event, ColumnsPatchedEvent) and list(event.patches) == ["fill_color"]
    (row,) = event.patches["fill_color"]
    assert row[1] == "#123456" and event.model.data["fill_color"][row[0]] == "#123456"


def test_other_colours_of_all_send_the_colours_alone(live: LivePlan, scene: Scene) -> None:
    paler = [
        attrs.evolve(mark, fill="#123456") if isinstance(mark, Area) and mark.fill else mark for mark in scene.marks
    ]
    told = told_by(live, scene.with_marks(paler))
    assert told and all(set(event.cols) == {"fill_color"} for event in told)
    for event in told:
        assert len({len(column) for column in event.model.data.values()}) == 1


def test_columns_of_a_source_are_equally_long(scene: Scene) -> None:
    for data in scene_data(scene.marks).values():
        assert len({len(column) for column in data.values()}) == 1


def test_there_are_few_sources_whatever_is_drawn(live: LivePlan) -> None:
    assert len(live.sources) == 17


def test_a_plan_of_sixty_plants_stays_light(scene: Scene) -> None:
    data = scene_data(scene.marks)
    corners = sum(
        len(ring) for name in data if name.endswith("areas") for xs in data[name]["xs"] for p in xs for ring in p
    )
    line_points = sum(len(xs) for name in data if name.endswith("lines") for xs in data[name]["xs"])
    assert corners < 4_000
    assert line_points < 12_000


def test_holes_stay_holes_and_islands_stay_areas() -> None:
    def box(a: float, b: float) -> tuple[tuple[float, float], ...]:
        return ((a, a), (b, a), (b, b), (a, b))

    rings = (box(0, 9), box(1, 8), box(2, 7), box(20, 25))
    scene = Scene(marks=(Area(rings=rings, fill="#ffffff"),), bounds=(0, 0, 30, 30), title="", description="")
    (polygons,) = scene_data(scene.marks)["ground_areas"]["xs"]
    assert sorted(len(polygon) for polygon in polygons) == [1, 1, 2]
    assert next(p for p in polygons if len(p) == 2) == [[0, 9, 9, 0], [1, 8, 8, 1]]


def test_handles_can_be_dragged_but_not_added(live: LivePlan) -> None:
    (tool,) = [t for t in live.figure.tools if isinstance(t, PointDrawTool)]
    assert tool.add is False
    assert [r.data_source for r in tool.renderers] == [live.handles]
    assert live.figure.toolbar.active_tap is tool


def test_zoom_and_pan_start_switched_off_and_no_maker_mark_shows(live: LivePlan) -> None:
    assert live.figure.toolbar.active_scroll is None
    assert live.figure.toolbar.active_drag is None
    assert live.figure.toolbar.logo is None


def test_a_dragged_handle_is_told_by_its_name(live: LivePlan) -> None:
    assert live.dragged() == ()
    data = dict(live.handles.data)
    live.handles.data = {**data, "x": [13.4, 8.0], "y": [5.0, 1.001]}
    assert live.dragged() == (("gate path/0", (13.4, 5.0)),)
    live.set_handles(HANDLES)
    assert live.dragged() == ()
    assert live.handles.data["x"] == [13.0, 8.0]


def test_deleted_and_unknown_points_move_nothing() -> None:
    data = {"id": ["", "plant/7"], "x": [1.0, math.nan], "y": [1.0, 2.0]}
    assert moved_handles(data, HANDLES) == ()


def test_pointing_at_a_plant_names_it(live: LivePlan) -> None:
    assert any(tip.startswith("Salvia nemorosa (SAL)") for tip in live.sources["planting_tips"].data["tip"])
    (hover,) = [t for t in live.figure.tools if isinstance(t, HoverTool)]
    assert hover.tooltips == "@tip"
    assert all(all(tips) for name, s in live.sources.items() if name.endswith("tips") for tips in [s.data["tip"]])


def test_letters_keep_their_size_on_a_screen(garden) -> None:  # type: ignore[no-untyped-def]
    scale = screen_scale(garden.site, width_px=760)
    scene = plan_scene(title="Live", scale=scale, to_scale=False, **garden.parts())
    live = LivePlan(scene, width_px=760, most_height_px=2000)
    metre_px = live.figure.frame_width / (live.bounds[2] - live.bounds[0])
    assert metre_px == pytest.approx(1000 / scale * 96 / 25.4, rel=0.02)
    sizes = [float(size.removesuffix("px")) for size in live.sources["texts"].data["text_font_size"]]
    assert min(sizes) >= 8


def frame_of(live: LivePlan, wide: float, share: float = 1.0) -> dict[str, list[float]]:
    """Return what a window says that shows a share of the plan's ground in some pixels."""
    low, high = live.bounds[0], live.bounds[2]
    return {"wide": [wide], "low_x": [low], "high_x": [low + share * (high - low)]}


def boxes_on_screen(live: LivePlan, per_px: float) -> list[tuple[float, float, float, float]]:
    """Return the box of every word that the browser is told, in metres, from the columns alone."""
    told = live.sources["texts"].data
    scale = per_px * 1000 / PIXEL_MM
    across = {"left": "start", "center": "middle", "right": "end"}
    labels = [
        Label(
            at=(x, y),
            text=text,
            size_mm=float(size[:-2]) * PIXEL_MM,
            anchor=across[side],
            bold="bold" in face,
            turn=-math.degrees(turn),
        )
        for x, y, text, size, side, face, turn in zip(
            *(told[c] for c in ("x", "y", "text", "text_font_size", "text_align", "text_font_style", "angle")),
            strict=True,
        )
    ]
    return [label_box(label, scale) for label in labels]


@pytest.mark.parametrize(("wide", "share"), [(200, 1.0), (420, 1.0), (1300, 1.0), (420, 0.2)])
def test_words_never_lie_on_one_another_however_large_the_plan_is_shown(
    live: LivePlan, wide: float, share: float
) -> None:
    live.take_frame(frame_of(live, wide, share))
    per_px = share * (live.bounds[2] - live.bounds[0]) / wide
    assert live.metres_per_px == pytest.approx(per_px)
    boxes = boxes_on_screen(live, per_px)
    assert boxes
    assert [(a, b) for i, a in enumerate(boxes) for b in boxes[:i] if overlaps(a, b)] == []


def test_a_small_plan_has_fewer_words_and_a_plan_zoomed_into_has_more(live: LivePlan) -> None:
    def words(wide: float, share: float = 1.0) -> int:
        live.take_frame(frame_of(live, wide, share))
        return len(live.sources["texts"].data["text"])

    assert words(150) < words(500) <= words(500, 0.2)


def test_a_frame_that_is_none_and_one_that_hardly_changed_send_nothing(live: LivePlan) -> None:
    live.take_frame(frame_of(live, 400))
    for told in ({}, {"wide": [], "low_x": [], "high_x": []}, frame_of(live, math.nan), frame_of(live, 0)):
        assert live.take_frame(told) == ()
    assert live.take_frame(frame_of(live, 404)) == ()
