"""The live plan on the screen: the drawing as on paper, redrawn while a slider moves, with points one can drag.

A few sources hold the whole drawing; an update sends only the bands that changed. The frame is in exact proportion to
the ground, so a circle is a circle.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from importlib.resources import files
from typing import Any

import numpy as np
from bokeh.core.properties import value
from bokeh.events import DoubleTap, SelectionGeometry, Tap
from bokeh.models import (
    BoxSelectTool,
    Circle,
    ColumnDataSource,
    CustomJS,
    Glyph,
    GlyphRenderer,
    HoverTool,
    LassoSelectTool,
    MultiLine,
    MultiPolygons,
    PointDrawTool,
    Range1d,
    Scatter,
    Text,
)
from bokeh.plotting import figure

from gardenkit.drawing import style
from gardenkit.drawing.columns import (
    BAND_ORDER,
    COLUMNS,
    TEXTS,
    Data,
    Handle,
    band_data,
    banded,
    handle_data,
    moved_handles,
    scene_data,
)
from gardenkit.drawing.faded import faded
from gardenkit.drawing.labels import on_screen, placed_words
from gardenkit.drawing.plan import PIXEL_MM
from gardenkit.drawing.scene import Bounds, Mark, Scene
from gardenkit.geometry.plane import Line, Point, Region

__all__ = ["Handle", "LivePlan", "frame", "moved_handles", "scene_data"]

WIDTH_PX, MOST_HEIGHT_PX = 760, 820
# Painted on a canvas of its own, so that the ground stays as it is painted while what stands on it changes.
OVER: Mapping[str, Any] = {"level": "overlay"}
FRAME = ("wide", "low_x", "high_x")  # of the plan as the window shows it: pixels, metres
LEAST_CHANGE = 0.02  # of the scale, as a share, from which words are placed anew. House value.
FEW_ROWS = 0.25  # of a source, as a share: more that changed are sent as whole columns. House value.
PLACED = ("x", "y", "xs", "ys", "radius", "text")  # what of a row says where it is, not how it looks
SCREEN_FONT = "Helvetica, Arial, sans-serif"


class LivePlan:
    """A Bokeh figure of a scene with its sources, kept the same objects through every update.

    ``fills``: the plan takes the place there is and shows more ground where its proportion is another; without it the
    frame is of a size in pixels. ``figure`` is what the page shows. ``sources`` maps "ground_areas", "ground_lines",
    ... "texts" to their data and is output only. ``handles`` is the one source the designer may edit. ``bounds`` is the
    ground in the frame.
    """

    def __init__(
        self,
        scene: Scene,
        *,
        width_px: int = WIDTH_PX,
        most_height_px: int = MOST_HEIGHT_PX,
        handles: Sequence[Handle] = (),
        hover: bool = True,
        fills: bool = False,
    ) -> None:
        self._most = (width_px, most_height_px)
        wide, high, self.bounds = frame(scene.bounds, width_px=width_px, most_height_px=most_height_px)
        self._scene, self._scale = scene, scene.scale
        self._per_px: float | None = None  # m of ground in a screen pixel, once the window has said it
        self._groups: frozenset[str] = frozenset()  # what is hidden
        self._alone: tuple[str, Region] | None = None  # the one piece of ground that does not fade
        self._words = placed_words(scene, scene.scale, frozenset())
        self._shown = banded(scene.marks)
        self._held = tuple(handles)
        self._hidden = False
        self.sources = {
            key: ColumnDataSource(data=data, name=key)
            for name, marks in self._shown.items()
            for key, data in band_data(name, marks).items()
        }
        self.handles = ColumnDataSource(data=handle_data(handles), name="handles")
        self.frame = ColumnDataSource(data={column: [] for column in FRAME}, name="frame")
        self._fills = fills
        self.at_once: Callable[[], AbstractContextManager[None]] = nullcontext  # who shows it may tell all in one
        self.later: Callable[[Callable[[], object]], object] = lambda do: do()  # words and tips once the hand is still
        self._tips: dict[str, Data] = {}  # that are not told yet
        self._asked = 0  # how often another piece of ground was asked for
        self.figure = _figure(self.bounds, wide, high, scene)
        if fills:
            _fill(self.figure, self.bounds)
        _tell_frame(self.figure, self.frame)
        self._draw(hover)

    def update(self, scene: Scene) -> tuple[str, ...]:
        """Show another scene of the same ground; returns the names of the sources drawn that had to be sent at once.

        All that is written on it, and what the pointer is told, follow ``later``.
        """
        self._scene = scene
        drawn = self._show(self._words, written=False)
        self.later(self._redraw)
        return drawn

    def _redraw(self) -> tuple[str, ...]:
        """Place the words anew and let what the pointer is told follow; returns the names of the sources drawn that had
        to be sent.
        """
        self._words = placed_words(self._scene, self._scale, self._groups)
        drawn = self._show(self._words, written=True)
        tips, self._tips = self._tips, {}
        with self.at_once():
            self._put_all(tips)
        return drawn

    def _show(self, words: tuple[Mark, ...], *, written: bool) -> tuple[str, ...]:
        shown = banded(self._marks(words))
        changed = {
            name: marks for name, marks in shown.items() if marks != self._shown[name] and (written or name != TEXTS)
        }
        self._shown |= changed
        columns = {key: data for name, marks in changed.items() for key, data in band_data(name, marks).items()}
        self._tips |= {key: data for key, data in columns.items() if key.endswith("_tips")}
        with self.at_once():
            return self._put_all({key: data for key, data in columns.items() if key not in self._tips})

    def _put_all(self, columns: Mapping[str, Data]) -> tuple[str, ...]:
        return tuple(key for key, data in columns.items() if _put(self.sources[key], data))

    @property
    def marks(self) -> tuple[Mark, ...]:
        """What is shown of the scene, as large as the window shows it."""
        return self._marks(self._words)

    def _marks(self, words: tuple[Mark, ...]) -> tuple[Mark, ...]:
        marks = on_screen(self._scene, self._scale, hidden=self._groups, words=words)
        if self._alone is None:
            return marks
        name, ground = self._alone
        return faded(self._scene.with_marks(marks), ground, name=name).marks

    def hide(self, groups: Iterable[str]) -> tuple[str, ...]:
        """Leave groups of marks out (``legend.GROUPS``) until others are named; returns what had to be sent."""
        self._groups = frozenset(groups)
        return self._redraw()

    def show_alone(self, name: str, ground: Region | None) -> tuple[str, ...]:
        """Let all but one named piece of ground fade, or nothing; returns what had to be sent."""
        self._alone = None if ground is None else (name, ground)
        return self._redraw()

    def reframe(self, scene: Scene) -> None:
        """Fit the frame to another piece of ground, keeping its width in pixels and the proportions exact."""
        plot = self.figure
        wide, high, bounds = frame(scene.bounds, width_px=self._most[0], most_height_px=self._most[1])
        if bounds == self.bounds:
            return
        self.bounds = bounds
        if self._fills:
            self.look_at(bounds)
            return
        plot.update(frame_width=wide, frame_height=high)
        plot.x_range.update(start=bounds[0], end=bounds[2])
        plot.y_range.update(start=bounds[1], end=bounds[3])

    def look_at(self, bounds: Bounds) -> None:
        """Fit a plan that fills its place to a piece of ground (metres), also when it was asked for before."""
        self._asked += 1
        self.figure.tags = [*bounds, self._asked]

    def take_frame(self, data: Mapping[str, Sequence[float]]) -> tuple[str, ...]:
        """Take in how many pixels wide the window shows the plan, and which ground: the words are placed for that.

        Returns the names of the sources that had to be sent. What is no frame, as while a window opens, says nothing.
        """
        found = [float(data[column][0]) for column in FRAME if len(data.get(column, ()))]
        if len(found) < len(FRAME) or not all(map(math.isfinite, found)) or found[0] <= 0 or found[2] <= found[1]:
            return ()
        self._per_px = (found[2] - found[1]) / found[0]
        scale = self._per_px * 1000.0 / PIXEL_MM
        if abs(math.log(scale / self._scale)) < LEAST_CHANGE:
            return ()
        self._scale = scale
        return self._redraw()

    def set_handles(self, handles: Sequence[Handle]) -> None:
        """Put the draggable points where the records say they are, also after a drag that was refused."""
        self._held = tuple(handles)
        data = handle_data(() if self._hidden else handles)
        if any(list(self.handles.data.get(column, ())) != values for column, values in data.items()):
            self.handles.data = data

    def hide_handles(self, *, hidden: bool) -> None:
        """Take the draggable points off the plan while something is drawn, where a click would take hold of one."""
        self._hidden = hidden
        self.set_handles(self._held)

    @property
    def metres_per_px(self) -> float:
        """How much ground one screen pixel is, as the window shows the plan now."""
        if self._per_px is not None:
            return self._per_px
        wide, _, _ = frame(self.bounds, width_px=self._most[0], most_height_px=self._most[1])
        return (self.bounds[2] - self.bounds[0]) / wide

    def on_double_click(self, take: Callable[[Point], object]) -> None:
        """Hand the plan point (metres) of every double click to ``take``; the first of its two clicks is a click."""
        self.figure.on_event(DoubleTap, lambda event: take((float(event.x), float(event.y))))

    def on_box(self, take: Callable[[Point, Point], object], *, words: str) -> None:
        """Add a box to the tools over the plan; two opposite corners (metres) of every one drawn go to ``take``."""

        def drawn(event: SelectionGeometry) -> None:
            box = event.geometry or {}
            if event.final and box.get("type") == "rect":
                take((float(box["x0"]), float(box["y0"])), (float(box["x1"]), float(box["y1"])))

        self.figure.add_tools(BoxSelectTool(renderers=[], description=words))
        self.figure.on_event(SelectionGeometry, drawn)

    def on_lasso(self, take: Callable[[Line], object], *, words: str) -> None:
        """Add a lasso to the tools over the plan; the outline (metres) of every one drawn goes to ``take``."""

        def drawn(event: SelectionGeometry) -> None:
            lasso = event.geometry or {}
            if event.final and lasso.get("type") == "poly":
                take(tuple((float(x), float(y)) for x, y in zip(lasso["x"], lasso["y"], strict=True)))

        self.figure.add_tools(LassoSelectTool(renderers=[], continuous=False, description=words))
        self.figure.on_event(SelectionGeometry, drawn)

    def on_click(self, take: Callable[[Point], object]) -> None:
        """Hand the plan point (metres) of every click to ``take``."""
        self.figure.on_event(Tap, lambda event: take((float(event.x), float(event.y))))

    def dragged(self) -> tuple[tuple[str, tuple[float, float]], ...]:
        """Return (id, new place) of every handle the designer has moved since they were last set."""
        return moved_handles(self.handles.data, self._held)

    def _draw(self, hover: bool) -> None:
        for band in BAND_ORDER:
            _draw_band(self.figure, self.sources, band)
        words = Text(text_font=value(SCREEN_FONT), text_baseline="middle", padding=1, border_radius=3, **_fields(TEXTS))
        put_on(self.figure, self.sources[TEXTS], words)
        unseen = MultiPolygons(xs="xs", ys="ys", fill_alpha=0.0, line_alpha=0.0)
        under = MultiPolygons(xs="xs", ys="ys", fill_alpha=0.0, line_color=style.EYE, line_alpha=0.9)
        tips = [
            put_on(self.figure, self.sources[f"{band}_tips"], unseen, hover_glyph=under, visible=False)
            for band in BAND_ORDER
        ]
        _shown_under_pointer(self.figure, tips)
        grip = Scatter(
            x="x",
            y="y",
            size="size",
            marker="marker",
            fill_color="fill_color",
            line_color="#ffffff",
            line_width=1.5,
        )
        chosen = grip.clone(line_color=style.INK)
        grips = put_on(self.figure, self.handles, grip, selection_glyph=chosen, nonselection_glyph=grip)
        drag = PointDrawTool(renderers=[grips], add=False, description="Drag the handles")
        self.figure.add_tools(drag)
        self.figure.toolbar.active_tap = drag
        if hover:
            tool = HoverTool(renderers=[grips, *tips], tooltips="@tip", description="Name what is under the pointer")
            self.figure.add_tools(tool)


def frame(bounds: Bounds, *, width_px: int, most_height_px: int) -> tuple[int, int, Bounds]:
    """Return frame width and height in pixels, and bounds widened by under a pixel so both directions match exactly."""
    low_x, low_y, high_x, high_y = bounds
    per_px = max((high_x - low_x) / width_px, (high_y - low_y) / most_height_px)
    wide, high = math.ceil((high_x - low_x) / per_px - 1e-9), math.ceil((high_y - low_y) / per_px - 1e-9)
    more_x, more_y = (wide * per_px - (high_x - low_x)) / 2, (high * per_px - (high_y - low_y)) / 2
    return wide, high, (low_x - more_x, low_y - more_y, high_x + more_x, high_y + more_y)


def _put(source: ColumnDataSource, data: Data) -> bool:
    """Give a source other data, where it is other: of as many rows as before only the rows, or the columns, that
    changed.
    """
    old = source.data
    if any(len(column) != len(old[name]) for name, column in data.items()):
        source.data = data
        return True
    rows = {
        name: [
            (i, new)
            for i, (new, was) in enumerate(zip(column, old[name], strict=True))
            if new is not was and not _alike(new, was)
        ]
        for name, column in data.items()
    }
    changed = {name: patches for name, patches in rows.items() if patches}
    if not changed:
        return False
    if all(len(patches) <= FEW_ROWS * len(old[name]) for name, patches in changed.items()):
        source.patch(changed)
    else:
        source.data.update({name: data[name] for name in changed})
    return True


def _draw_band(plot: Any, sources: Mapping[str, ColumnDataSource], band: str) -> None:
    """Draw a band of the scene, each kind of mark; only the ground itself is not painted apart."""
    level = "glyph" if band == BAND_ORDER[0] else OVER["level"]
    for kind, glyph in (
        ("areas", MultiPolygons(**_fields("areas"))),
        ("lines", MultiLine(line_cap="round", line_join="round", **_fields("lines"))),
        ("dots", Circle(**_fields("dots"))),
    ):
        put_on(plot, sources[f"{band}_{kind}"], glyph, level=level)


def put_on(plot: Any, source: ColumnDataSource, glyph: Glyph, **more: Any) -> GlyphRenderer:
    """Show the rows of a source on a figure, painted apart from the ground; ``more`` says what of it is otherwise.

    Nothing of it is selected or muted, which spares the browser working out, row by row, how it would look then, and
    us four models of five: a figure's own methods make one for each of these.
    """
    bare = type(glyph)(**{name: getattr(glyph, name) for name in PLACED if name in glyph.properties()})
    usual = {"selection_glyph": bare, "nonselection_glyph": bare, "muted_glyph": bare, **OVER}
    shown: GlyphRenderer = plot.add_glyph(source, glyph, **(usual | more))
    return shown


def _shown_under_pointer(plot: Any, tips: Sequence[Any]) -> None:
    """Let what only answers the pointer be drawn while the pointer is on the plan: the browser works out all that is
    drawn anew with every change.
    """
    where = "Bokeh.index.find_one(one)?.map_data()"  # on the screen: the pointer asks before the next painting
    for event, code in (("mouseenter", f"{where}; one.visible = true"), ("mouseleave", "one.visible = false")):
        plot.js_on_event(event, CustomJS(args={"tips": list(tips)}, code=f"for (const one of tips) {{ {code} }}"))


def _alike(one: Any, other: Any) -> bool:
    """Return whether two columns, or two tables of them, hold the same; numbers packed in arrays are compared whole."""
    if one is other:
        return True
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(_alike(one[name], other[name]) for name in one)
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        return isinstance(one, type(other)) and np.array_equal(one, other, equal_nan=True)
    try:
        return bool(one == other)
    except ValueError:  # lists with arrays in them
        return len(one) == len(other) and all(map(_alike, one, other))


def _figure(bounds: Bounds, wide: int, high: int, scene: Scene) -> Any:
    paper = scene.paper or style.PAPER
    plot = figure(
        frame_width=wide,
        frame_height=high,
        x_range=Range1d(bounds[0], bounds[2]),
        y_range=Range1d(bounds[1], bounds[3]),
        tools="pan,wheel_zoom,reset,save",
        toolbar_location="above",
        background_fill_color=paper,
        border_fill_color=paper,
        outline_line_color=None,
        min_border=6,
    )
    plot.axis.visible = False
    plot.grid.visible = False
    plot.toolbar.logo = None
    plot.toolbar.active_drag = None
    plot.toolbar.active_scroll = None
    return plot


def _fill(plot: Any, bounds: Bounds) -> None:
    """Let a figure take the place there is, undistorted: the browser fits the ground into the frame it gets."""
    plot.update(frame_width=None, frame_height=None, sizing_mode="stretch_both", tags=[*bounds, 0])
    fit = CustomJS(args={"plot": plot}, code=files("gardenkit.drawing").joinpath("fit.js").read_text(encoding="utf-8"))
    for changed in ("inner_width", "inner_height", "tags"):
        plot.js_on_change(changed, fit)


def _tell_frame(plot: Any, told: ColumnDataSource) -> None:
    """Let the browser tell which ground it shows in how many pixels, a moment after the last change."""
    code = files("gardenkit.drawing").joinpath("frame.js").read_text(encoding="utf-8")
    tell = CustomJS(args={"plot": plot, "told": told}, code=code)
    plot.js_on_change("inner_width", tell)
    for end in ("start", "end"):
        plot.x_range.js_on_change(end, tell)


def _fields(kind: str) -> dict[str, str]:
    return {column: column for column in COLUMNS[kind]}
