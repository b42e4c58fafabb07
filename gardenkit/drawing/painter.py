"""Paints several views of a garden in a second process beside this one: what draws a page goes on meanwhile."""

import gc
import os
import pickle
import subprocess
import sys
import threading
from collections import deque
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib import import_module
from types import TracebackType
from typing import Any, BinaryIO, Self, cast

import attrs

from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.painted.picture import FINE, HALF, Quality
from gardenkit.drawing.painted_view import Moment, Prospect, painted_scene
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.view import FOUR_SEASONS, GAP, Lookout, two_by_two
from gardenkit.drawing.view_camera import ANGLE
from gardenkit.planting.catalogue import Catalogue
from gardenkit.progress import Tell, quiet
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.season import local_months

RARELY = (200_000, 50, 100)  # what Python counts between two looks for cycles; its own is 700, 10, 10. House value.
WORTH_IT = 150  # plants: the views of fewer are painted sooner than a second process has started. House value.
WIDE = 240.0  # mm: of a picture, or of two beside each other with the gap between them


@attrs.frozen(kw_only=True)
class Ask:
    """One view to paint: from where, when, how wide in mm, how finely, under what title."""

    at: Lookout
    when: Moment
    title: str
    width: float = WIDE
    quality: Quality = FINE


def seasons_asked(project: Project, *, at: Lookout, year: int) -> list[Ask]:
    """Return the views of the four seasons of a garden, for ``two_by_two``."""
    return [
        Ask(
            at=at,
            when=Moment(year=year, month=month),
            title=f"{MONTHS[month - 1]}, year {year}",
            width=(WIDE - GAP) / 2,
            quality=HALF,
        )
        for month in local_months(project.site, FOUR_SEASONS)
    ]


def painted_seasons(of: Prospect, *, at: Lookout, year: int, title: str = "", tell: Tell = quiet) -> Scene:
    """Return the painted view in the four seasons of this garden as one drawing, two beside each other."""
    asked = seasons_asked(of.project, at=at, year=year)
    found = []
    for number, one in enumerate(asked):
        tell(number / len(asked), f"painting the view: {one.title} ...")
        found.append(painted(of, one))
    return two_by_two(found, title or f"{of.project.name}, year {year}")


def painted(of: Prospect, one: Ask) -> Scene:
    """Return one view painted here. Raises GardenError for an angle, month or eye height that cannot be."""
    return painted_scene(of, at=one.at, when=one.when, width=one.width, title=one.title, quality=one.quality)


class Painter:
    """Views of a garden, painted by a second process where that pays, and finished by both together.

    The second process starts at once, and gets ready while this one lays the garden out and finds out what to ``ask``
    for. What it does not bring, for whatever reason, is painted here: the pictures are the same.
    """

    def __init__(self, project: Project, catalogue: Catalogue, *, angle: float = ANGLE) -> None:
        self._garden = project, catalogue, angle
        self._of: Prospect | None = None
        self._sent = b""
        self._asked: list[Ask] = []
        self._left: deque[int] = deque()  # the other takes from the left, this one from the right
        self._told = threading.Event()  # what is asked for
        self._made: dict[int, Scene] = {}
        self._other: subprocess.Popen[bytes] | None = None
        self._asking: threading.Thread | None = None
        if (os.cpu_count() or 1) > 1 and len(project.planting.plants) >= WORTH_IT:
            self._begin()

    def ask(self, worked: Layout, asked: Sequence[Ask]) -> None:
        """Say once which views of the garden as it is laid out are wanted."""
        project, catalogue, angle = self._garden
        self._of = Prospect(project=project, worked=worked, catalogue=catalogue, angle=angle)
        self._asked = list(asked)
        self._sent = pickle.dumps(self._of) if self._other else b""  # here: what is laid out may grow while it is sent
        self._left.extend(range(len(self._asked)))
        self._told.set()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End the second process, whatever it is at."""
        self._left.clear()
        self._told.set()
        if self._other is not None and self._asking is not None:
            self._other.kill()
            self._asking.join()
            self._other.wait()

    def paint(self, tell: Tell = quiet) -> None:
        """Paint here until the other has the last views in hand. Raises what ``tell`` raises to stop the work."""
        while self._of is not None and (number := self._next(last=True)) is not None:
            tell(len(self._made) / len(self._asked), f"painting the view: {self._asked[number].title} ...")
            self._made[number] = painted(self._of, self._asked[number])

    def pictures(self, tell: Tell = quiet) -> list[Scene]:
        """Return every view in the order asked. Raises what ``tell`` raises to stop the work."""
        self.paint(tell)
        if self._of is None:
            return []
        if self._asking is not None and len(self._made) < len(self._asked):
            tell(len(self._made) / len(self._asked), "painting the last view ...")
            self._asking.join()
        for number, one in enumerate(self._asked):
            if number not in self._made:
                self._made[number] = painted(self._of, one)
        return [self._made[number] for number in range(len(self._asked))]

    def _begin(self) -> None:
        """Start the second process, which finds our modules where this one does."""
        work = f"import sys; sys.path[:] = {sys.path!r}; from {__name__} import {serve.__name__} as s; s()"
        pipe = subprocess.PIPE
        try:
            self._other = subprocess.Popen(
                [sys.executable, "-c", work], stdin=pipe, stdout=pipe, stderr=subprocess.DEVNULL
            )
        except OSError:
            return
        self._asking = threading.Thread(target=self._ask, args=(self._other,), name="gardenkit-painter", daemon=True)
        self._asking.start()

    def _ask(self, other: "subprocess.Popen[bytes]") -> None:
        """Send the garden, then one view after the other, until none is left or the other has ended."""
        to, back = cast(BinaryIO, other.stdin), cast(BinaryIO, other.stdout)
        try:
            with to, back:
                self._told.wait()
                to.write(self._sent)
                to.flush()
                while (number := self._next(last=False)) is not None:
                    _send(to, self._asked[number])
                    self._made[number] = pickle.load(back)  # noqa: S301 - from our own process
        except (OSError, EOFError, pickle.UnpicklingError):
            return

    def _next(self, *, last: bool) -> int | None:
        try:
            return self._left.pop() if last else self._left.popleft()
        except IndexError:
            return None


@contextmanager
def rarely_swept() -> Iterator[None]:
    """Let Python look less often for objects that hold each other: while a document is made nearly all that is made
    stays, and looking through it again and again took a twentieth of the time.
    """
    usual = gc.get_threshold()
    gc.set_threshold(*RARELY)
    try:
        yield
    finally:
        gc.set_threshold(*usual)


def serve() -> None:
    """Be the second process: get ready, read a garden as it is laid out, then paint each view asked for until no more
    come.
    """
    back = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a library prints goes nowhere
    gc.set_threshold(*RARELY)
    for loops in ("canvas", "light", "water"):  # a picture needs them
        import_module(f"gardenkit.drawing.painted.{loops}")
    try:
        of = pickle.load(sys.stdin.buffer)  # noqa: S301 - from our own process
        while True:
            _send(back, painted(of, pickle.load(sys.stdin.buffer)))  # noqa: S301 - from our own process
    except EOFError:
        return


def _send(to: BinaryIO, what: Any) -> None:
    pickle.dump(what, to)
    to.flush()
