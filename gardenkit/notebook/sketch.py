"""What is seen on a live plan while something is drawn: the clicked points with their lengths, and a line from the last
of them to the pointer.
"""

from collections.abc import Sequence
from importlib.resources import files
from itertools import pairwise

from bokeh.models import ColumnDataSource, CustomJS, MultiLine, Scatter, Text
from bokeh.models import Line as Path

from gardenkit.drawing import style
from gardenkit.drawing.bokeh import LivePlan, put_on
from gardenkit.drawing.scene import Bounds
from gardenkit.geometry.plane import Line, Point
from gardenkit.units import System

MOST_LINES = 120  # of a grid, either way; a finer one would be grey. House value.


class Sketch:
    """The marks of drawing on one live plan; all of them are output only."""

    def __init__(self, plan: LivePlan) -> None:
        self._plan = plan
        spots: dict[str, list[object]] = {"x": [], "y": []}
        self.clicked = ColumnDataSource(data=dict(spots), name="clicked")
        self.rubber = ColumnDataSource(data=dict(spots), name="rubber", tags=["", ""])
        self.sides = ColumnDataSource(data=dict(spots), name="sides")
        self.words = ColumnDataSource(data={**spots, "text": []}, name="lengths")
        self.said = ColumnDataSource(data={**spots, "text": []}, name="said")
        self.grid = ColumnDataSource(data={"xs": [], "ys": []}, name="grid")
        self._draw()
        self._follow()

    def show(self, clicked: Line, line: Line, *, way: str, words: Sequence[tuple[Point, str]], units: System) -> None:
        """Show the clicks, the shape they make so far, and words at places of it; ``way`` is how the pointer is
        followed: a way of drawing, "line", or "" for nothing. What it says is in the garden's ``units`` of now.
        """
        self.rubber.update(tags=[way, units], data={"x": [], "y": []})
        self.said.data = {"x": [], "y": [], "text": []}
        self.clicked.data = {"x": [p[0] for p in clicked], "y": [p[1] for p in clicked]}
        self.sides.data = {"x": [p[0] for p in line], "y": [p[1] for p in line]}
        self.words.data = {
            "x": [at[0] for at, _ in words],
            "y": [at[1] for at, _ in words],
            "text": [text for _, text in words],
        }

    def show_grid(self, step: float) -> None:
        """Show a grid of a step in metres over the ground in the frame; 0, or too fine a one, shows none."""
        lines = _grid(self._plan.bounds, step) if step > 0 else []
        self.grid.data = {"xs": [[a[0], b[0]] for a, b in lines], "ys": [[a[1], b[1]] for a, b in lines]}

    def _draw(self) -> None:
        plot, ink = self._plan.figure, style.ALERT
        for source, glyph in (
            (self.grid, MultiLine(xs="xs", ys="ys", line_color="#8d8a7c", line_alpha=0.35, line_width=0.7)),
            (self.sides, Path(x="x", y="y", line_color=ink, line_width=2)),
            (self.rubber, Path(x="x", y="y", line_color=ink, line_width=1.4, line_dash=[6, 4])),
            (self.clicked, Scatter(x="x", y="y", size=8, fill_color="#ffffff", line_color=ink, line_width=2)),
        ):
            put_on(plot, source, glyph)
        for source, off in ((self.words, 0), (self.said, 14)):
            words = Text(
                x="x",
                y="y",
                text="text",
                text_color=ink,
                text_font_size="13px",
                text_align="center",
                text_baseline="middle",
                y_offset=-off,
                background_fill_color=style.PAPER,
                background_fill_alpha=0.85,
                padding=2,
            )
            put_on(plot, source, words)

    def _follow(self) -> None:
        lengths, code = (
            files("gardenkit.notebook").joinpath(name).read_text(encoding="utf-8")
            for name in ("lengths.js", "sketch.js")
        )
        seen = {"clicked": self.clicked, "rubber": self.rubber, "said": self.said}
        follow = CustomJS(args=seen, code=f"const units = rubber.tags[1];\n{lengths}\n{code}")
        self._plan.figure.js_on_event("mousemove", follow)


def middles(line: Line) -> list[Point]:
    """Return the middle of every side of a line."""
    return [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(line)]


def _grid(bounds: Bounds, step: float) -> list[tuple[Point, Point]]:
    low_x, low_y, high_x, high_y = bounds
    across, up = (
        range(int(low // step) + 1, int(high // step) + 1) for low, high in ((low_x, high_x), (low_y, high_y))
    )
    if max(len(across), len(up)) > MOST_LINES:
        return []
    standing = [((n * step, low_y), (n * step, high_y)) for n in across]
    return standing + [((low_x, n * step), (high_x, n * step)) for n in up]
