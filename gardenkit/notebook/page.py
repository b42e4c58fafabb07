"""What every workbook page has in common: it shows the garden, takes edits, says what went wrong in one sentence."""

import html
import re
from collections.abc import Callable, Sequence
from functools import wraps
from typing import Any, Concatenate, ParamSpec

import ipywidgets as w
from IPython.core.getipython import get_ipython
from IPython.display import HTML, display

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry.plane import Point
from gardenkit.notebook import failure_log
from gardenkit.notebook.board import Board
from gardenkit.notebook.controls import STYLE, Message, button, row
from gardenkit.notebook.later import Later
from gardenkit.notebook.one_plan import OnePlan, StepPlan
from gardenkit.notebook.session import Session
from gardenkit.notebook.still import LONGEST, still
from gardenkit.project import Project
from gardenkit.storage.files import DiskError, trouble
from gardenkit.units import LengthError

Some = ParamSpec("Some")


def handler(method: Callable[Concatenate[Any, Some], object]) -> Callable[Concatenate[Any, Some], bool]:
    """Let a widget call a page's method: what goes wrong is said on the page; returns whether it went well."""

    @wraps(method)
    def run(self: Any, *arguments: Some.args, **named: Some.kwargs) -> bool:
        return bool(self.attempt(lambda: method(self, *arguments, **named)))

    return run  # type: ignore[return-value]  # wraps() keeps the name of self, Callable does not


class Page:
    """A page of the workbook. Subclasses build ``widget`` and fill it in ``refresh``; handlers are plain methods.

    Every handler runs through ``attempt``: a GardenError becomes one sentence on the page, anything unexpected too,
    and is
    kept in ``failures`` where tests look, because widgets would swallow it.
    """

    widget: w.Widget
    _acting = False
    _resting = False  # while another step of the notebook is open
    _behind = False  # whether something changed while it rested
    _warned: tuple[int, ...] = ()  # the steps of other notebooks that were asked about last

    def __init__(self, session: Session, *, on: OnePlan | None = None) -> None:
        """Build the page; ``on``: the plan of the desk that it is a step of."""
        self.session = session
        self._on = on
        self._catching_up = Later()
        self.keep_anew: Callable[[], object] = lambda: None  # a desk keeps what the page shows in the notebook
        self.message = Message()
        self.failures: list[Exception] = []
        self.undo_button = button("Undo", self.undo, tip="take back the last change", name="undo", width="48%")
        self.redo_button = button("Redo", self.redo, tip="do it again", name="redo", width="48%")
        self.built = self.attempt(self.build)
        if not self.built:
            self.widget = w.VBox([w.HTML(STYLE), self.message])
            return
        self.attempt(self.refresh)
        session.watch(lambda _: self.attempt(self.watched))

    @property
    def garden(self) -> Garden:
        """The garden as it stands, with all that is worked out from it."""
        return self.session.garden

    @property
    def project(self) -> Project:
        """The garden as it stands."""
        return self.session.project

    def build(self) -> None:
        """Make the widgets, once."""
        raise NotImplementedError

    def refresh(self) -> None:
        """Show the garden as it stands; called after every change."""
        raise NotImplementedError

    def watched(self) -> None:
        """Show a change made on this page at once, one made elsewhere when the hand has been still for a moment.

        So a slider answers as fast with ten pages in the notebook as with one. Where no loop runs all is shown at once.
        """
        if self._resting:
            self._behind = True
        elif self._acting:
            self._catching_up.forget()
            self.refresh()
        else:
            self._catching_up.do(lambda: self.attempt(self.refresh))

    def rest(self) -> None:
        """Show nothing new until it wakes: another step of the notebook is open."""
        self._behind = self._behind or self._catching_up.waits
        self._catching_up.forget()
        self._resting = True

    def wake(self) -> None:
        """Show the garden as it stands, where it changed meanwhile."""
        self._resting = False
        behind, self._behind = self._behind, False
        if behind:
            self.attempt(self.refresh)

    def live_plan(
        self, scene: Scene, *, width_px: int, most_height_px: int, handles: Sequence[Handle] = ()
    ) -> StepPlan:
        """Return the page's hold on the live plan: its own, or the one of the desk it is a step of."""
        on = self._on or OnePlan()
        made = on.step(scene, width_px=width_px, most_height_px=most_height_px, handles=handles)
        on.measure(self.session)
        return made

    def _act(self, change: Callable[[], object]) -> bool:
        """Make a change by this page, which is the one to show it at once."""
        self._acting = True
        try:
            return self.attempt(change)
        finally:
            self._acting = False

    def attempt(self, action: Callable[..., object], *arguments: Any) -> bool:
        """Run a handler; returns whether it went well. What went wrong is said on the page.

        What the designer gave wrongly is said until something goes well; a failure of the disk or of gardenkit stays
        until it is dismissed, and is written into the garden's log.
        """
        before = self.session.project
        try:
            action(*arguments)
        except DiskError as error:
            self._fail(f"{self._in_words(error)}. {self._saved(before)}", error)
            return False
        except GardenError as error:
            self.message.problem(self._in_words(error))
            return False
        except OSError as error:
            self._fail(f"{trouble(error)}. {self._saved(before)}", error)
            return False
        except Exception as error:  # noqa: BLE001 - the outermost boundary: no traceback may reach a page
            self.failures.append(error)
            self._fail(
                f"gardenkit made a mistake here ({type(error).__name__}: {error}). {self._saved(before)}; "
                "press Undo or go on, and please report this sentence",
                error,
            )
            return False
        return True

    def _in_words(self, error: GardenError) -> str:
        """Return what is wrong in the garden's units; what was typed is said again as it was, and so is how to type."""
        if isinstance(error, LengthError):
            return str(error)
        parts = re.split(r'("[^"]*")', str(error))
        return "".join(part if number % 2 else self.garden.say(part) for number, part in enumerate(parts))

    def _saved(self, before: Project) -> str:
        """Return what was and was not saved, in words."""
        if self.session.project == before:
            return "Nothing of this was saved: your garden is as it was before"
        return "The change to the garden was saved; what should have followed it was not done"

    def _fail(self, text: str, error: Exception) -> None:
        self.message.failure(text)
        failure_log.add(self.session.folder, type(self).__name__, text, error)

    def edit(self, label: str, change: Callable[[Project], Project], *, gesture: str = "") -> bool:
        """Save a change; on a problem say it and show the garden as it still is."""
        done = self._act(lambda: self.session.edit(label, change, gesture=gesture))
        if done:
            self.message.say("")
        else:
            said = self.message.value
            self.attempt(self.refresh)
            self.message.value = said
        return done

    def undo(self) -> bool:
        """Take back the last change, and say what it was; one that another notebook made is asked about first."""

        def back() -> None:
            self.ask_first(None)
            self.message.say(f"undone: {self.session.undo()}")

        return self._act(back)

    def ask_first(self, number: int | None, *, again: str = "press again") -> None:
        """Raise GardenError, once, where going to a state (None: a step back) takes back work of another notebook;
        ``again`` says how it is asked for once more.
        """
        gone = self.session.taken_back(number)
        asked, self._warned = self._warned, tuple(step.number for step in gone)
        if gone and asked != self._warned:
            notebooks = " and ".join(sorted({step.notebook.removesuffix(".ipynb") for step in gone}))
            what = f'"{gone[0].label}"' if len(gone) == 1 else f'{len(gone)} steps, the last "{gone[0].label}"'
            raise GardenError(f"this takes back {what}, made in {notebooks}; {again} to take it back all the same")

    def redo(self) -> bool:
        """Do the last undone change again, and say what it was and which other notebook made it."""
        return self._act(lambda: self.message.say(f"done again: {self.session.redo()}"))

    def undo_row(self) -> w.HBox:
        """Return the undo and redo buttons side by side."""
        return row(self.undo_button, self.redo_button)

    def scene(self) -> Scene | None:
        """Return the page's drawing for places without widgets, None when it has none."""
        return None

    def chosen_spots(self) -> Sequence[Point]:
        """Return where what is chosen on the page lies on the plan (metres), nothing where nothing is."""
        return ()

    @property
    def is_blank(self) -> bool:
        """Whether nothing is on record that the page could tell a reader."""
        return False

    def summary(self) -> str:
        """Return the page in words, for places without widgets and for readers who do not see the drawing."""
        return repr(self)

    def boards(self) -> tuple[Board, ...]:
        """Return the live plans of the page and of its parts."""
        own = tuple(value for value in vars(self).values() if isinstance(value, Board))
        parts = [value for value in vars(self).values() if callable(getattr(value, "boards", None))]
        return (*own, *(board for part in parts for board in part.boards()))

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        self.session.follow()
        self._catching_up.now()
        bundle: dict[str, Any] = dict(self.widget._repr_mimebundle_(**options) or {})
        bundle["text/plain"] = repr(self)
        if self.built:
            self.attempt(self._tell, bundle)
            if get_ipython() is not None and (shown := self.still(bundle.get("image/svg+xml", ""))):
                display(HTML(shown))  # stands before the live page, and is hidden while that is there
        return bundle

    def still(self, drawing: str | None = None) -> str:
        """Return what the page shows now as plain HTML, empty when it cannot be told; ``drawing`` its plan as SVG,
        where that is drawn already.
        """
        found: list[str] = []
        self.attempt(lambda: found.append(still(self.widget, self._drawing() if drawing is None else drawing)))
        return found[0] if found and len(found[0]) <= LONGEST else ""

    def _drawing(self) -> str:
        scene = self.scene()
        return "" if scene is None else svg(scene)

    def _tell(self, bundle: dict[str, Any]) -> None:
        bundle["text/plain"] = self.summary()
        drawing = self._drawing()
        if drawing:
            bundle["image/svg+xml"] = drawing

    def __repr__(self) -> str:
        return f"{type(self).__name__} of {self.project.name}"


def escaped(text: object) -> str:
    """Return project text safe to stand in HTML."""
    return html.escape(str(text), quote=True)
