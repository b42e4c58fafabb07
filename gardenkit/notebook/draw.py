"""Drawing on a live plan: what is drawn is chosen from a list, corners are clicked, a double click or Done ends."""

import html
import math
from collections.abc import Callable, Sequence

import ipywidgets as w

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.geometry.sketching import WHOLE, Way, lengths_of, outline_of
from gardenkit.geometry.snapping import Snap, snapped
from gardenkit.notebook import controls
from gardenkit.notebook.chosen import Chosen
from gardenkit.notebook.one_plan import StepPlan
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.notebook.sketch import middles
from gardenkit.project.edits import drawn
from gardenkit.project.edits.drawn import Drawable
from gardenkit.project.pointing import pointed_at
from gardenkit.units import counted, length, show_area, show_length

NOTHING = "nothing: a click chooses"
WAYS: tuple[tuple[str, Way], ...] = (
    ("by its corners", "corners"),
    ("a rectangle: two opposite corners", "rectangle"),
    ("a rectangle: a side, then how deep", "side and depth"),
    ("a curve through the clicks", "curve"),
)
CLICK_PX = 7  # screen pixels from a click to what is meant by it. House value.
REACH_PX = 12  # screen pixels from a click to a corner or edge that it is put onto. House value.
GRID = {"imperial": "1'", "metric": "0.5 m"}
NEXT = "Click on; a double click or Done ends"


class Draw(Part):
    """The list of what can be drawn and, while something is, its snapping, its measures so far, Done and Cancel.

    ``made`` is called with the word and the name of what was drawn; ``choose`` with a click while nothing is. ``own``
    is what only this page draws, offered first. What the page does not choose itself (its words are ``chooses``;
    ``keeps`` says of a point that the page means it all the same) shows its fields here; None: nothing else is drawn.
    """

    def __init__(
        self,
        page: Page,
        plan: StepPlan,
        words: Sequence[str],
        *,
        made: Callable[[str, str], object],
        choose: Callable[[Point], object] = lambda _: None,
        own: Sequence[Drawable] = (),
        chooses: Sequence[str] | None = None,
        keeps: Callable[[Point], bool] = lambda _: False,
    ) -> None:
        self._chooses, self._keeps = chooses, keeps
        self.plan, self._made, self._choose = plan, made, choose
        self._own = {one.word: one for one in own}
        self._words = (*self._own, *words)
        self.clicked: Line = ()
        super().__init__(page)

    def build(self) -> None:
        """Make the widgets, once."""
        units = self.project.units
        options = [(NOTHING, ""), *((word, word) for word in self._words)]
        self.what = controls.choice("Draw on the plan", "", options, self.begin, name="draw")
        self.way = controls.choice("Drawn as", WAYS[0][1], WAYS, lambda _: self.again(), name="draw-way")
        self.corners = controls.tick("Put onto corners", True, lambda _: None)
        self.edges = controls.tick("Put onto edges", True, lambda _: None)
        self.square = controls.tick("Right angles", True, lambda _: None)
        self.grid = controls.tick("Put onto a grid of", False, lambda _: self.again())
        self.step = controls.field("", GRID[units], lambda _: self.again(), name="draw-grid")
        self.typed = controls.field("Next point, typed", "", self.take_typed, name="draw-point", hint="x, y")
        self.said = w.HTML()
        buttons = [
            self._button("Done", self.done, "Enter", "draw-done"),
            self._button("Point back", self.back, "Backspace", "draw-back"),
            self._button("Cancel", self.let_go, "Escape", "draw-cancel"),
        ]
        row = controls.row(*buttons)
        ticks = [controls.row(self.corners, self.edges), self.square, controls.row(self.grid, self.step)]
        self.open = w.VBox([self.way, *ticks, self.typed, row, self.said], layout=w.Layout(display="none"))
        self.chosen = Chosen(self.page, self.plan)
        self.widget = w.VBox([self.what, self.open, self.chosen.widget], layout=w.Layout(width="100%"))
        self.sketch = self.plan.sketch()
        self.plan.on_click(self.click)
        self.plan.on_double_click(self.end_at)
        self.plan.on_leave(self.let_go)

    @property
    def drawing(self) -> str:
        """The word of what is being drawn; empty while nothing is."""
        return str(self.what.bar.value or "")

    # ---- handlers

    @handler
    def begin(self, what: str) -> None:
        """Begin to draw something, or nothing any more."""
        self.what.show(what)
        self.clicked = ()
        self.open.layout.display = "" if what else "none"
        self.way.layout.display = "" if what and self._form == "outline" else "none"
        self.plan.hide_handles(hidden=bool(what))
        self._show()

    @handler
    def again(self) -> None:
        """Show what is drawn after its way or the grid was changed."""
        self._show()

    @handler
    def click(self, at: Point) -> None:
        """Take a click on the plan: a point of what is drawn, or the choice of what stands there."""
        if not self.drawing:
            self._choose_at(at)
            return
        if self.clicked and math.dist(self.clicked[-1], at) <= CLICK_PX * self.plan.metres_per_px:
            return  # on the last point again, as before a double click there
        put = snapped(at, drawn.snap_targets(self.project), before=self.clicked, by=self._snap())
        self._take(put.at, put.to)

    @handler
    def end_at(self, at: Point) -> None:
        """Take a double click: the end where the last click was; two quick clicks at two places are two clicks."""
        if not self.drawing:
            return
        if not self.clicked or math.dist(self.clicked[-1], at) > 2 * self._snap().reach:
            put = snapped(at, drawn.snap_targets(self.project), before=self.clicked, by=self._snap())
            self._take(put.at, put.to)
        elif self._form != "spot":
            self._finish()

    @handler
    def take_typed(self, typed: str) -> None:
        """Take a next point typed by its place."""
        if typed.strip() and self.drawing:
            self.typed.show("")
            self._take(forms.point(typed, self.project.units, f"the {self.drawing}"), "")

    @handler
    def back(self) -> None:
        """Take the last point back."""
        self.clicked = self.clicked[:-1]
        self._show()

    @handler
    def done(self) -> None:
        """End what is drawn and put it on record."""
        self._finish()

    @handler
    def let_go(self) -> None:
        """Let go of what is drawn; nothing is put on record."""
        self.begin("")

    # ---- helpers

    def _choose_at(self, at: Point) -> None:
        """Let the page choose what is its own; of another thing show the fields."""
        found = None
        if self._chooses is not None and not self._keeps(at):
            found = pointed_at(self.project, at, reach=CLICK_PX * self.plan.metres_per_px, own=self._chooses)
        if found is None or found.word in (self._chooses or ()):
            self.chosen.let_go()
            self._choose(at)
        else:
            self.chosen.show(found)

    @property
    def _form(self) -> str:
        return self._thing(self.drawing).form if self.drawing else ""

    def _thing(self, word: str) -> Drawable:
        return self._own.get(word) or drawn.drawable(word)

    @property
    def _way(self) -> Way:
        way: Way = self.way.bar.value if self._form == "outline" else "corners"
        return way

    def _button(self, text: str, pressed: Callable[[], object], key: str, name: str) -> w.Button:
        made = controls.button(
            text, pressed, tip=f"{text} ({key}, with the pointer on the plan)", name=name, width="32%"
        )
        made.add_class(f"gk-key-{key}")
        return made

    def _snap(self) -> Snap:
        on = {"corners": self.corners.bar.value, "edges": self.edges.bar.value, "square": self.square.bar.value}
        reach = REACH_PX * self.plan.metres_per_px
        return Snap(**on, grid=bool(self.grid.bar.value), step=self._step(), reach=reach)

    def _step(self) -> float:
        units = self.project.units
        return length(str(self.step.bar.value), bare=forms.bare_unit(units), where="the grid") or 0.0

    def _take(self, at: Point, to: str) -> None:
        first = self.clicked[:1]
        closes = self._form == "outline" and len(self.clicked) > 2 and at in first
        if not closes and at not in self.clicked[-1:]:
            self.clicked = (*self.clicked, at)
        whole = WHOLE.get(self._way, 0) if self._form == "outline" else {"spot": 1}.get(self._form, 0)
        if closes or len(self.clicked) == whole:
            self._finish()
        else:
            self._show(to)

    def _finish(self) -> None:
        what, line = self.drawing, self._line()
        if self._form == "tape":
            self.message.say(self._measured(line))
            self.begin("")
            return
        before = self.project
        if self.edit(f"draw {what}", lambda p: drawn.draw_thing(p, self._thing(what), line)):
            self.begin("")
            name = drawn.drawn_name(before, self.project, self._thing(what))
            self.message.say(f"drawn: {what}{f' ({name})' if name not in ('', what) else ''}")
            self._made(what, name)
        elif self._form == "spot":
            self.clicked = ()
            self._show()

    def _line(self) -> Line:
        return outline_of(self.clicked, self._way) if self._form == "outline" else self.clicked

    def _show(self, to: str = "") -> None:
        line, closed = self._line(), self._form == "outline"
        around = (*line, line[0]) if closed and len(line) > 2 else line
        follows = "" if not self.drawing or self._form == "spot" else (self._way if closed else "line")
        sides = () if self._way == "curve" else lengths_of(line, closed=closed)
        units = self.project.units
        words = [(at, show_length(far, units)) for at, far in zip(middles(around), sides, strict=False)]
        self.sketch.show(self.clicked, around, way=follows, words=words, units=units)
        self.sketch.show_grid(self._step() if self.drawing and self.grid.bar.value else 0.0)
        told = (
            f"{self._measured(line)}{f' (put onto: {to})' if to else ''}. {NEXT}" if self.clicked else "Click the plan"
        )
        self.said.value = f'<div class="gk-label" role="status">{html.escape(told)}</div>' if self.drawing else ""

    def _measured(self, line: Line) -> str:
        """Return the length of what is clicked, and the area that it encloses, in words."""
        units, closed = self.project.units, self._form == "outline"
        sides = lengths_of(line, closed=closed)
        parts = [counted(len(self.clicked), "point")]
        if sides:
            parts.append(f"{show_length(sum(sides), units)} {'round' if closed and len(line) > 2 else 'long'}")
        if closed and len(line) > 2:
            parts.append(show_area(plane.area(plane.region(line)), units))
        return f"{self.drawing}: {', '.join(parts)}"
