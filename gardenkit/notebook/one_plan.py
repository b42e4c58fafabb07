"""One live plan that several steps of a notebook take turns on: what it draws and what a click on it means is the
step's whose turn it is.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from typing import Any

import attrs
import ipywidgets as w
from bokeh.models import ColumnDataSource, Renderer, Tool

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.scene import Bounds, Mark, Scene
from gardenkit.geometry.plane import Line, Point
from gardenkit.notebook.board import Board, Edited
from gardenkit.notebook.dragged import Dragged
from gardenkit.notebook.later import Later
from gardenkit.notebook.session import Session
from gardenkit.notebook.sketch import Sketch

TIPS_LATER = 0.4  # s after which what the pointer is told follows what is drawn. House value.


class OnePlan:
    """The plan of a desk, or of one page that stands alone; it is made when the first step asks for it.

    ``shared``: the desk shows the board, in the width there is; a page alone shows it itself.
    """

    def __init__(self, *, shared: bool = False) -> None:
        self.shared = shared
        self.turn: StepPlan | None = None
        self.latest: StepPlan | None = None  # the step that asked last
        self._live: LivePlan | None = None
        self._sketch: Sketch | None = None
        self._has_box = False
        self._measures: Dragged | None = None
        self._telling = Later()
        self.drawn: Callable[[], object] = lambda: None  # called when something else is drawn

    @property
    def live(self) -> LivePlan:
        """The figure and its sources. Raises LookupError before a step has asked for the plan."""
        if self._live is None:
            raise LookupError("no step has asked for the plan yet")
        return self._live

    @cached_property
    def board(self) -> Board:
        """The plan as a widget; what is dragged on it goes to the step whose turn it is."""
        made = Board(self.live.figure, {"handles": self.live.handles, "frame": self.live.frame}, self._edited)
        self.live.at_once, self.live.later = made.at_once, Later(wait=TIPS_LATER).do
        return made

    def step(self, scene: Scene, *, width_px: int, most_height_px: int, handles: Sequence[Handle] = ()) -> "StepPlan":
        """Return a step's hold on the plan; the size as LivePlan's. A page alone has its turn at once."""
        if self._live is None:
            held = () if self.shared else handles
            self._live = LivePlan(
                scene, width_px=width_px, most_height_px=most_height_px, handles=held, fills=self.shared
            )
            self._live.on_click(lambda at: self._tell("clicked", at))
            self._live.on_double_click(lambda at: self._tell("clicked twice", at))
        made = StepPlan(self, scene, handles)
        if not self.shared:
            self.turn = made
        self.latest = made
        return made

    def sketch(self) -> Sketch:
        """Return the marks of drawing, which all steps share."""
        if self._sketch is None:
            self._sketch = Sketch(self.live)
        return self._sketch

    def measure(self, session: Session) -> None:
        """Show measures while a handle is dragged; what lies about is told anew when the hand has been still."""
        if self._measures is None:
            measures = self._measures = Dragged(self.live, session)
            session.watch(lambda _: self._telling.do(measures.tell))

    def box(self, words: str) -> None:
        """Add the box and the lasso that choose several to the tools, once; ``words`` end before "a box"."""
        if not self._has_box:
            self._has_box = True
            self.live.on_box(lambda a, b: self._tell("boxed", a, b), words=f"{words} a box")
            self.live.on_lasso(lambda line: self._tell("lassoed", *line), words=f"{words} a lasso")

    def give(self, step: "StepPlan | None") -> None:
        """Let a step have the plan, or none; the one that had it lets go of what was being drawn."""
        if self.turn is step:
            return
        if self.turn is not None:
            self.turn.hear("left")
            self.turn.show_own(shown=False)
        self.turn = step
        if step is not None:
            step.show_own(shown=True)
            step.show_again()

    def _tell(self, what: str, *points: Point) -> None:
        if self.turn is not None:
            self.turn.hear(what, *points)

    def _edited(self, name: str, data: Mapping[str, list[Any]]) -> None:
        if name == "frame":
            self.live.take_frame(data)
            return
        if self.turn is not None:
            self.turn.take(name, dict(data))


class StepPlan:
    """A step's hold on the plan: what it draws is shown while it has its turn, and kept for then otherwise."""

    def __init__(self, one: OnePlan, scene: Scene, handles: Sequence[Handle]) -> None:
        self.one = one
        self._scene, self._held, self._hidden = scene, tuple(handles), False
        self._lit: dict[object, tuple[Mark, ...]] = {}
        self._hearing: dict[str, list[Callable[..., object]]] = {}
        self._own: list[Renderer | Tool] = []
        self._edited: Edited = lambda *_: None

    @property
    def on_top(self) -> bool:
        """Whether it is this step's turn."""
        return self.one.turn is self

    @property
    def figure(self) -> Any:
        """The Bokeh figure."""
        return self.one.live.figure

    @property
    def sources(self) -> dict[str, ColumnDataSource]:
        """What the plan draws."""
        return self.one.live.sources

    @property
    def handles(self) -> ColumnDataSource:
        """The points that can be dragged."""
        return self.one.live.handles

    @property
    def bounds(self) -> Bounds:
        """The ground in the frame."""
        return self.one.live.bounds

    @property
    def metres_per_px(self) -> float:
        """How much ground one screen pixel is."""
        return self.one.live.metres_per_px

    def board(self, edited: Edited) -> w.Widget:
        """Return what a page shows as its plan: nothing where a desk shows it; ``edited`` hears of what is dragged."""
        self._edited = edited
        return w.Box(layout=w.Layout(display="none")) if self.one.shared else self.one.board

    def sketch(self) -> Sketch:
        """Return the marks of drawing on the plan."""
        return self.one.sketch()

    def update(self, scene: Scene) -> tuple[str, ...]:
        """Draw another scene; returns the names of the sources that had to be sent, none while it waits its turn."""
        self._scene = scene
        if not self.on_top:
            return ()
        sent = self.one.live.update(self._with_lit())
        self.one.drawn()
        return sent

    def light(self, part: object, marks: Sequence[Mark]) -> None:
        """Draw a part's marks over whatever the step draws, until it gives others: they show what is chosen."""
        if self._lit.get(part, ()) != tuple(marks):
            self._lit[part] = tuple(marks)
            self.update(self._scene)

    def _with_lit(self) -> Scene:
        lit = tuple(mark for marks in self._lit.values() for mark in marks)
        return attrs.evolve(self._scene, marks=(*self._scene.unnamed, *lit)) if lit else self._scene

    def reframe(self, scene: Scene) -> None:
        """Fit the frame to another piece of ground."""
        if self.on_top:
            self.one.live.reframe(scene)

    def set_handles(self, handles: Sequence[Handle]) -> None:
        """Put the draggable points where the records say they are, also after a drag that was refused."""
        self._held = tuple(handles)
        if self.on_top:
            self.one.live.set_handles(handles)

    def hide_handles(self, *, hidden: bool) -> None:
        """Take the draggable points off the plan while something is drawn."""
        self._hidden = hidden
        if self.on_top:
            self.one.live.hide_handles(hidden=hidden)

    def on_click(self, take: Callable[[Point], object]) -> None:
        """Hand the plan point (metres) of every click to ``take``."""
        self._hear("clicked", take)

    def on_double_click(self, take: Callable[[Point], object]) -> None:
        """Hand the plan point (metres) of every double click to ``take``; the first of its two clicks is a click."""
        self._hear("clicked twice", take)

    def on_several(self, box: Callable[[Point, Point], object], lasso: Callable[[Line], object], *, words: str) -> None:
        """Hand two opposite corners (metres) of every box, and the outline of every lasso, to who chooses by them."""
        self._hear("boxed", box)
        self._hear("lassoed", lambda *line: lasso(line))
        self.one.box(words)

    def on_leave(self, act: Callable[[], object]) -> None:
        """Call ``act`` when another step gets the plan."""
        self._hear("left", act)

    def only_here(self, drawn: Renderer) -> None:
        """Show what a step adds to the figure while it is the step's turn only."""
        self._own.append(drawn)
        drawn.visible = self.on_top

    # ---- for the plan

    def hear(self, what: str, *points: Point) -> None:
        """Tell those who listen."""
        for take in self._hearing.get(what, ()):
            take(*points)

    def take(self, name: str, data: dict[str, list[Any]]) -> None:
        """Take in what was dragged."""
        self._edited(name, data)

    def show_own(self, *, shown: bool) -> None:
        """Show or hide what is this step's only."""
        for one in self._own:
            one.visible = shown

    def show_again(self) -> None:
        """Draw what the step drew last."""
        live = self.one.live
        live.reframe(self._scene)
        live.update(self._with_lit())
        live.hide_handles(hidden=self._hidden)
        live.set_handles(self._held)
        self.one.drawn()

    def _hear(self, what: str, take: Callable[..., object]) -> None:
        self._hearing.setdefault(what, []).append(take)
