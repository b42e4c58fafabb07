"""What a notebook of several steps shows: one live plan, always in view, and beside it the step that is worked on."""

import html
import os
from collections.abc import Callable
from typing import Any

import ipywidgets as w
from IPython.core.getipython import get_ipython
from IPython.display import HTML, DisplayHandle, display

from gardenkit.notebook.controls import STYLE
from gardenkit.notebook.later import AT_ONCE
from gardenkit.notebook.one_plan import OnePlan, StepPlan
from gardenkit.notebook.page import Page
from gardenkit.notebook.plan_bar import NOTHING, NOTHING_HERE, PlanBar
from gardenkit.notebook.session import Session
from gardenkit.notebook.steps import STEPS
from gardenkit.notebook.still import to_read

Maker = Callable[[Session, OnePlan], Page]
OPENING = '<div class="gk-opening-now" role="status">Opening ...</div>'


class Desk:
    """The steps of a notebook in the order of the work; each is built when it is first opened.

    ``makers`` builds the page of each step by its name. What is shown without a kernel stands beside it: every step
    that was opened, or all of them where no lab runs the notebook.
    """

    def __init__(self, session: Session, makers: dict[str, Maker]) -> None:
        self.session, self._makers = session, makers
        self.one = OnePlan(shared=True)
        self.pages: dict[str, Page] = {}
        self._plans: dict[str, StepPlan | None] = {}
        self._told: DisplayHandle | None = None
        titles = [(STEPS[name].title, name) for name in makers]
        self.choice = w.ToggleButtons(options=titles, value=titles[0][1], style={"button_width": "auto"})
        self.choice.add_class("gk-steps")
        self.choice.observe(lambda change: self.open(change["new"]), "value")
        self.holders = {name: w.VBox(layout=w.Layout(width="100%")) for name in makers}
        self.stack = w.Stack(list(self.holders.values()), selected_index=0)
        self.plan, self.step = _box("gk-desk-plan"), _box("gk-desk-step", self.stack)
        self.bar = PlanBar(self.one, lambda: self.page, nothing=NOTHING_HERE if "ground" in makers else NOTHING)
        session.watch(lambda _: self.page.attempt(self._follow))
        self.row = w.HBox([self.plan, self.step])
        self.row.add_class("gk-desk-row")
        self.widget = w.VBox([w.HTML(STYLE), self.choice, self.row])
        for name in ("gk-page", "gk-desk"):
            self.widget.add_class(name)
        self.name = titles[0][1]
        self.open(self.name)

    @property
    def names(self) -> tuple[str, ...]:
        """The steps, in the order of the work."""
        return tuple(self._makers)

    @property
    def page(self) -> Page:
        """The page of the step that is open."""
        return self.pages[self.name]

    @property
    def failures(self) -> list[Exception]:
        """What went wrong unexpectedly on any page."""
        return [failure for page in self.pages.values() for failure in page.failures]

    def open(self, name: str) -> Page:
        """Turn to a step; it is built now when it was not opened before."""
        if name != self.name:
            self.page.rest()
        self.name = name
        new = name not in self.pages
        if new:
            self._announce(name)
            self._build(name)
        self._give(self._plans[name], pictures=STEPS[name].pictures)
        self.page.wake()
        self.stack.selected_index = self.names.index(name)
        self.choice.value = name
        if new:
            self._keep()
        return self.page

    def _keep(self) -> None:
        """Keep in the notebook what the steps show now, where it is kept."""
        if self._told is not None:
            self._told.update(HTML(self.still()))

    def still(self) -> str:
        """Return every step that was opened and has something to tell as plain HTML, one below the other."""
        built = [name for name in self._makers if name in self.pages and not self.pages[name].is_blank]
        return "\n".join(f"{_words(name, heading=True)}{self.pages[name].still()}" for name in built)

    def summary(self) -> str:
        """Return the steps that were opened, in words."""
        built = [name for name in self._makers if name in self.pages]
        return "\n\n".join(f"{STEPS[name].title}\n{self.pages[name].summary()}" for name in built)

    def _announce(self, name: str) -> None:
        """Show what is being opened: the browser draws it while the kernel is still at work on the page."""
        self.holders[name].children = (w.HTML(_words(name)), w.HTML(OPENING))
        self.stack.selected_index = self.names.index(name)

    def _build(self, name: str) -> None:
        self.one.latest = None
        page = self._makers[name](self.session, self.one)
        self.pages[name], self._plans[name] = page, self.one.latest
        page.keep_anew = self._keep
        self.holders[name].children = (w.HTML(_words(name)), page.widget)

    def _give(self, plan: StepPlan | None, *, pictures: bool) -> None:
        self.one.give(plan)
        if plan is not None and not self.plan.children:
            self.one.board.layout = w.Layout(width="100%", height="100%")
            self.plan.children = (self.bar.nothing, _box("gk-desk-board", self.one.board), self.bar.widget)
        if plan is not None:
            self.bar.refresh()
        self._make_room()
        for sign, on in (("gk-desk-alone", plan is None), ("gk-desk-pictures", pictures)):
            (self.row.add_class if on else self.row.remove_class)(sign)

    def _follow(self) -> None:
        self.bar.refresh()
        self._make_room()

    def _make_room(self) -> None:
        """Give the plan less of a narrow page while nothing can stand on it: its ground is drawn elsewhere."""
        bare = "ground" not in self._makers and not self.session.project.site.boundary
        (self.row.add_class if bare else self.row.remove_class)("gk-desk-bare")

    def _open_all(self) -> None:
        first = self.name
        for name in self._makers:
            self.open(name)
        self.open(first)

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        self.session.follow()
        if get_ipython() is not None and ("JPY_SESSION_NAME" not in os.environ or AT_ONCE in os.environ):
            self._open_all()  # no lab: nobody will open them
        bundle: dict[str, Any] = dict(self.widget._repr_mimebundle_(**options) or {})
        bundle["text/plain"] = self.summary()
        if get_ipython() is not None:
            self._told = display(HTML(self.still()), display_id=True)  # hidden while the live desk is there
        return bundle

    def __repr__(self) -> str:
        return f"{self.page!r} and {len(self._makers) - 1} more steps"


def _words(name: str, *, heading: bool = False) -> str:
    step = STEPS[name]
    if not heading:
        return f'<p class="gk-opening">{html.escape(step.opening)}</p>'
    told = f'<p class="gk-opening gk-still">{html.escape(words)}</p>' if (words := to_read(step.opening)) else ""
    return f'<h2 class="gk-still">{html.escape(step.title)}</h2>{told}'


def _box(name: str, *children: w.Widget) -> w.Box:
    made = w.Box(list(children))
    made.add_class(name)
    return made
