"""Work that takes more than a moment: a bar that fills, a button that stops it, a page that stays alive meanwhile."""

import asyncio
import os
import threading
from collections.abc import Callable
from typing import TypeVar

import ipywidgets as w

from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.later import AT_ONCE
from gardenkit.notebook.page import Page, escaped
from gardenkit.progress import Tell, quiet

Stopped = Callable[[], bool]
Found = TypeVar("Found")
KEEP_BEST = "end the search and keep the best so far"
LEAST_STEP = 0.02  # share of the work between two moves of the bar


def beside(
    work: Callable[[Tell], Found],
    *,
    done: Callable[[Found], object],
    failed: Callable[[Exception], object],
    tell: Tell = quiet,
) -> None:
    """Do work beside the page and hand what it finds, or what went wrong, to the notebook's own thread.

    Only that thread touches widgets. Where no loop runs (a script, a test) all is done at once.
    """
    try:
        loop = asyncio.get_running_loop() if AT_ONCE not in os.environ else None
    except RuntimeError:
        loop = None
    if loop is None:
        _worked(work, tell, done, failed, lambda action, *arguments: action(*arguments))
        return
    later = loop.call_soon_threadsafe

    def said(share: float, words: str) -> None:
        later(tell, share, words)

    threading.Thread(target=_worked, args=(work, said, done, failed, later), name="gardenkit-job", daemon=True).start()


def _worked(
    work: Callable[[Tell], Found],
    tell: Tell,
    done: Callable[[Found], object],
    failed: Callable[[Exception], object],
    call: Callable[..., object],
) -> None:
    try:
        found = work(tell)
    except Exception as error:  # noqa: BLE001 - handed to the page, which says it in one sentence
        call(failed, error)
    else:
        call(done, found)


class Job:
    """One piece of work at a time, shown by ``widget``: the words, the bar and, if it can be stopped, a button.

    In a notebook the work runs beside the page, so that sliders and the Stop button answer; only the notebook's own
    thread touches widgets. Elsewhere (tests, headless runs) it simply runs.
    """

    def __init__(self, page: Page, *, can_stop: bool = False, name: str = "job", tip: str = KEEP_BEST) -> None:
        self._page = page
        self._asked_to_stop = threading.Event()
        self._running = False
        self._shown = 0.0
        self.bar = w.FloatProgress(value=0, min=0, max=1, layout=w.Layout(width="96%"))
        self.words = w.HTML()
        self.stop_button = controls.button("Stop", self.stop, tip=tip, name=f"stop-{name}", width="96%")
        self.stop_button.disabled = True
        self.widget = w.VBox([self.words, self.bar, *([self.stop_button] if can_stop else [])])
        self.widget.layout.display = "none"
        self.bar.add_class(f"gk-bar-{name}")

    @property
    def is_running(self) -> bool:
        """Whether work is under way."""
        return self._running

    def stop(self) -> None:
        """Ask the work to end early with what it has."""
        self._asked_to_stop.set()

    def start(
        self,
        words: str,
        work: Callable[[Tell, Stopped], Found],
        done: Callable[[Found], object],
        failed: Callable[[], object] = lambda: None,
    ) -> None:
        """Do ``work(tell, stopped)`` and hand what it finds to ``done``; ``failed`` follows what went wrong.

        Raises GardenError while earlier work runs.
        """
        if self._running:
            raise GardenError("the work before this is not finished; wait for the bar, or press Stop")
        self._asked_to_stop.clear()
        self._show(words)
        beside(
            lambda tell: work(tell, self._asked_to_stop.is_set),
            tell=self._move,
            done=lambda found: self._end(lambda: done(found)),
            failed=lambda error: self._failed(error, failed),
        )

    # --- helpers

    def _show(self, words: str) -> None:
        self._running, self._shown = True, 0.0
        self.words.value = f'<div class="gk-label">{escaped(words)}</div>'
        self.bar.value, self.stop_button.disabled = 0.0, False
        self.widget.layout.display = ""

    def _hide(self) -> None:
        self._running = False
        self.words.value, self.stop_button.disabled = "", True
        self.widget.layout.display = "none"

    def _move(self, share: float, said: str) -> None:
        if not self._running or not (share >= 1 or abs(share - self._shown) >= LEAST_STEP):
            return
        self._shown = self.bar.value = share
        if said:
            self.words.value = f'<div class="gk-label">{escaped(said)}</div>'

    def _failed(self, error: Exception, after: Callable[[], object]) -> None:
        self._end(raiser(error))
        self._page.attempt(after)

    def _end(self, then: Callable[[], object]) -> None:
        self._hide()
        self._page.attempt(then)


def raiser(error: Exception) -> Callable[[], object]:
    """Return what raises an error again: for a page that says it in one sentence."""

    def again() -> object:
        raise error

    return again
