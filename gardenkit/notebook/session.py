"""The open garden of a notebook: edits are saved at once, can be undone, and everyone who watches is told."""

import os
import time
from collections.abc import Callable
from pathlib import Path

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.notebook import gardens
from gardenkit.notebook.gardens import GARDEN_VARIABLE
from gardenkit.project import Project
from gardenkit.storage import Stored

Watcher = Callable[[Project], object]


class Session:
    """One garden open in one notebook. The records are the truth; widgets and plans only show them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._stored: Stored = storage.load(folder)
        self._garden = Garden(self._stored.project, folder)
        self._watchers: list[Watcher] = []
        self.last_saved_ms = 0.0

    @property
    def garden(self) -> Garden:
        """The garden as it stands, with all that is worked out from it; the same one until something changes."""
        if self._garden.project is not self._stored.project or self._garden.folder != self.folder:
            self._garden = Garden(self._stored.project, self.folder)
        return self._garden

    @property
    def project(self) -> Project:
        """The garden as this notebook last saw it."""
        return self._stored.project

    def edit(self, label: str, change: Callable[[Project], Project], *, gesture: str = "") -> Project:
        """Change the garden and save it, on the newest state even when another notebook saved meanwhile.

        ``gesture`` marks a continuous movement, undone as one step. Raises GardenError; then nothing has changed.
        """
        before = self._stored
        begun = time.perf_counter()
        self._stored = storage.edit(self.folder, label, change, gesture=gesture, notebook=_notebook(), known=before)
        self.last_saved_ms = 1000 * (time.perf_counter() - begun)
        if self._stored.project != before.project:
            self._tell()
        return self.project

    def undo(self) -> str:
        """Go back one step; returns what was undone. Raises GardenError at the beginning."""
        self._stored, label = storage.undo(self.folder)
        self._tell()
        return label

    def redo(self) -> str:
        """Go forward one step; returns what was done again. Raises GardenError when there is nothing to redo."""
        self._stored, label = storage.redo(self.folder)
        self._tell()
        return label

    def refresh(self) -> bool:
        """Take in what another notebook saved; returns whether anything was new."""
        before = self._stored
        self._stored = storage.load(self.folder, known=before)
        if self._stored.project == before.project:
            return False
        self._tell()
        return True

    def turn_to(self, folder: Path) -> None:
        """Leave this garden and open another; raises GardenError, and stays, when there is none there."""
        self._stored, self.folder = storage.load(folder), folder
        self._tell()

    def watch(self, watcher: Watcher) -> None:
        """Call ``watcher`` with the project after every change."""
        self._watchers.append(watcher)

    def announce(self) -> None:
        """Tell everyone who watches that something beside the project changed, such as the garden's own plants."""
        self._garden = Garden(self._stored.project, self.folder)
        self._tell()

    def _tell(self) -> None:
        for watcher in tuple(self._watchers):
            watcher(self.project)

    def __repr__(self) -> str:
        return f'the garden "{self.project.name}"'


def _notebook() -> str:
    """Return the name of the notebook this kernel runs for, as the lab tells it; empty outside a lab."""
    return Path(os.environ.get("JPY_SESSION_NAME", "")).name


def open_garden(folder: str | Path | None = None) -> Session:
    """Open the garden named by ``folder``, else the one chosen on the start page, else that of the variable
    GARDENKIT_GARDEN,
    else a working copy of the first example.

    Raises GardenError when there is no garden there.
    """
    if folder is not None:
        chosen = Path(folder)
    elif GARDEN_VARIABLE in os.environ:
        chosen = gardens.chosen() or Path(os.environ[GARDEN_VARIABLE])
    else:
        chosen = gardens.chosen() or gardens.working_copy()
    if not chosen.is_dir():
        raise GardenError(f"there is no folder {chosen}; check the name, or make a garden with: gardenkit new FOLDER")
    return Session(chosen)
