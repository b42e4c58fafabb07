"""One part of a page: one question with its controls, its picture and its words; a page is a few of these together."""

from collections.abc import Callable

from gardenkit.garden import Garden
from gardenkit.notebook.board import Board
from gardenkit.notebook.controls import Message
from gardenkit.notebook.page import Page
from gardenkit.project import Project


class Part:
    """A part of a page: it makes its widgets in ``build``, fills them in ``refresh``, and saves through its page.

    Its handlers are plain methods, as a page's are; what goes wrong is said at the top of the page. A part that needs
    more of its page says what kind it is: ``page: "PathsPage"``.
    """

    page: Page

    def __init__(self, page: Page) -> None:
        self.page = page
        self.build()

    def build(self) -> None:
        """Make the widgets, once."""
        raise NotImplementedError

    def refresh(self) -> None:
        """Show the garden as it stands; nothing for a part that only asks."""

    @property
    def garden(self) -> Garden:
        """The garden as it stands, with all that is worked out from it."""
        return self.page.garden

    @property
    def project(self) -> Project:
        """The garden as it stands."""
        return self.page.project

    @property
    def message(self) -> Message:
        """Where the page says what was done and what is wrong."""
        return self.page.message

    def attempt(self, action: Callable[..., object], *arguments: object) -> bool:
        """Run a handler as the page does: what goes wrong is said there."""
        return self.page.attempt(action, *arguments)

    def edit(self, label: str, change: Callable[[Project], Project], *, gesture: str = "") -> bool:
        """Save a change; on a problem say it and show the garden as it still is."""
        return self.page.edit(label, change, gesture=gesture)

    def boards(self) -> tuple[Board, ...]:
        """Return the live plans of the part."""
        return tuple(value for value in vars(self).values() if isinstance(value, Board))
