"""The line at the head of every notebook: which garden is open, and how far its wants are met as the design stands."""

import ipywidgets as w

from gardenkit.brief.wants import told
from gardenkit.garden import Garden
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import beside, raiser
from gardenkit.notebook.later import Later
from gardenkit.notebook.page import Page

CALM = 3.0  # s without a change before the wants are judged again: a drag elsewhere goes first. House value.


class Head(Page):
    """One line; the wants are judged beside the page, so that no cell and no slider waits for them."""

    def build(self) -> None:
        """Make the line, once."""
        self.told = ""
        self.judged_of: Garden | None = None
        self.line = w.HTML()
        self.calm = Later(wait=CALM)
        self.widget = w.VBox([self.message, self.line])

    def refresh(self) -> None:
        """Say which garden is open, and judge its wants anew."""
        self._show()
        self._judge()

    def watched(self) -> None:
        """Judge the wants again when the garden has been left alone for a while."""
        self.calm.do(lambda: self.attempt(self.refresh))

    def summary(self) -> str:
        """Return the line in words, as far as it is known."""
        return f"{self.session!r}: {self.told}" if self.told else repr(self.session)

    def _judge(self) -> None:
        garden = self.garden
        if garden is self.judged_of:
            return
        beside(
            lambda _: told(garden.wants),
            done=lambda words: self._take(garden, words),
            failed=lambda error: self.attempt(raiser(error)),
        )

    def _take(self, garden: Garden, words: str) -> None:
        if garden is self.garden:
            self.told, self.judged_of = words, garden
            self._show()

    def _show(self) -> None:
        self.line.value = controls.label(self.summary()).value
