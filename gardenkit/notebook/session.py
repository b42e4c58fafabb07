"""The open garden of a notebook: edits are saved at once, can be undone, and everyone who watches is told."""

import asyncio
import contextlib
import os
import time
import weakref
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.notebook import gardens
from gardenkit.notebook.gardens import GARDEN_VARIABLE
from gardenkit.project import Project
from gardenkit.storage import Step, Stored

LOOK_AGAIN = 0.5  # s between two looks for what another notebook saved. House value.
Watcher = Callable[[Project], object]


class Session:
    """One garden open in one notebook. The records are the truth; widgets and plans only show them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._stored: Stored = storage.load(folder)
        self._garden = Garden(self._stored.project, folder)
        self._watchers: list[Watcher] = []
        self.last_saved_ms = 0.0
        self._following = False
        self.head: Any = None  # what shows the garden where a notebook shows the session

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

    @property
    def at(self) -> int:
        """The number of the step the garden stands at, 0 at the beginning."""
        return self._stored.at

    def steps(self) -> tuple[Step, ...]:
        """Return every change in the garden's history, oldest first."""
        return storage.steps(self.folder)

    def undo(self) -> str:
        """Go back one step; returns what was undone, and which other notebook had made it. Raises GardenError at the
        beginning.
        """
        number = storage.load(self.folder, known=self._stored).at
        self._stored, label = storage.undo(self.folder)
        self._tell()
        return self._made(label, number)

    def redo(self) -> str:
        """Go forward one step; returns what was done again, and which other notebook had made it. Raises GardenError
        when there is nothing to redo.
        """
        self._stored, label = storage.redo(self.folder)
        self._tell()
        return self._made(label, self.at)

    def jump(self, number: int) -> str:
        """Go to the state after any step, 0 for the beginning; returns its words. Raises GardenError when gone."""
        self._stored, label = storage.jump(self.folder, number)
        self._tell()
        return label

    def name_state(self, name: str) -> None:
        """Keep the garden as it stands now under a name; raises GardenError for no name, or one too long."""
        self._stored = storage.name_state(self.folder, name)

    def taken_back(self, number: int | None = None) -> tuple[Step, ...]:
        """Return the steps made in another notebook that going to a state, or one step back, would take back."""
        known = {step.number: step for step in self.steps()}
        at = storage.load(self.folder, known=self._stored).at
        stays = _chain(known, number) if number is not None else _chain(known, at)[1:]
        gone = [known[n] for n in _chain(known, at) if n not in stays and n in known]
        return tuple(step for step in gone if step.notebook and step.notebook != _notebook())

    def _made(self, label: str, number: int) -> str:
        """Return a step's words with the notebook that made it, when it was another one than this."""
        made = next((s.notebook for s in self.steps() if s.number == number and s.label == label), "")
        return f"{label} (made in {made})" if made and made != _notebook() else label

    def refresh(self) -> bool:
        """Take in what another notebook saved; returns whether anything was new."""
        before = self._stored
        self._stored = storage.load(self.folder, known=before)
        if self._stored.project == before.project:
            return False
        self._tell()
        return True

    def follow(self) -> bool:
        """Take in what others save, within a second, for as long as the session lives; returns whether anything will.

        It runs on the kernel's own loop, between two presses; where no loop runs (a script, a test) nothing happens.
        """
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            return False
        if not self._following:
            self._following = True
            loop.call_later(LOOK_AGAIN, _look, weakref.ref(self), loop)
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

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        return {"text/plain": repr(self)} if self.head is None else dict(self.head._repr_mimebundle_(**options))


def _look(held: "weakref.ref[Session]", loop: asyncio.AbstractEventLoop) -> None:
    """Take in what others saved, and look again a little later; a session that nothing shows any more is let go."""
    session = held()
    if session is None:
        return
    with contextlib.suppress(GardenError, OSError):  # half written or away for now; the next edit says so if it stays
        session.refresh()
    loop.call_later(LOOK_AGAIN, _look, held, loop)


def _chain(known: Mapping[int, Step], number: int) -> list[int]:
    """Return the numbers of the states that lead to one, itself first, the beginning (0) last."""
    found = [number]
    while found[-1] in known:
        found.append(known[found[-1]].follows)
    return found


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
