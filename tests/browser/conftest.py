"""A real JupyterLab on a throw-away copy of an example garden, and a real headless Chromium to work it with."""

import contextlib
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from accessible import faults
from playwright.sync_api import Browser, Page, TimeoutError, sync_playwright  # noqa: A004
from waiting import wait_until

from gardenkit.notebook import command, gardens
from gardenkit.notebook.notebooks import notebooks_of

ROOT = Path(__file__).resolve().parents[2]
TOKEN = "test"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")

# Whether that many code cells, or every one, have the number of a finished run.
NUMBERED = """(wanted) => {
    const cells = [...document.querySelectorAll('.jp-CodeCell')];
    const ran = cells.filter(cell => [...cell.querySelectorAll('.jp-InputPrompt, .jp-OutputPrompt')]
        .some(prompt => /^\\[\\d+\\]:?$/.test(prompt.textContent.trim())));
    return cells.length > 0 && ran.length >= (wanted || cells.length) }"""

# Where on the page the handle of an id is, in pixels, or null.
LONGEST = "test_whole_garden_live.py"
PLACE = """(name) => { for (const doc of window.Bokeh?.documents ?? []) {
    const models = [...doc._all_models.values()];
    const source = models.find(m => m.type === 'ColumnDataSource' && m.name === 'handles');
    const index = source ? Array.from(source.data.id).indexOf(name) : -1;
    const figure = index < 0 ? null : window.Bokeh.index.find_one(models.find(m => m.type === 'Figure'));
    if (!figure) continue;
    const box = figure.canvas_view.el.getBoundingClientRect();
    return [box.left + figure.frame.x_scale.compute(source.data.x[index]),
            box.top + figure.frame.y_scale.compute(source.data.y[index])] } return null }"""
FRAME_CORNER = """() => { for (const doc of window.Bokeh?.documents ?? []) {
    const models = [...doc._all_models.values()];
    if (!models.some(m => m.name === 'handles')) continue;
    const figure = window.Bokeh.index.find_one(models.find(m => m.type === 'Figure'));
    const box = figure.canvas_view.el.getBoundingClientRect();
    return [box.left + figure.frame.bbox.left + 4, box.top + figure.frame.bbox.top + 4] } return [0, 0] }"""
STEADY = 5  # readings in a row, a tenth of a second apart


class Lab:
    """A server on a garden's own notebooks: where it listens, which garden it works on, and what it has printed."""

    def __init__(self, folder: Path) -> None:
        self.garden, self.log, self._folder = folder / "garden", folder / "lab.log", folder
        gardens.copy_garden(gardens.example("fennel_street_corner"), self.garden)
        self._notebooks, _ = notebooks_of(self.garden)  # the garden's own copy, as ``gardenkit open`` gives it
        command.settle_lab()
        self.token = TOKEN
        self._server: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start the server, and wait until it answers."""
        port = _free_port()
        self.address = f"http://127.0.0.1:{port}"
        options = [
            *command.LAB_OPTIONS,
            f"--port={port}",
            "--no-browser",
            f"--ServerApp.root_dir={self._notebooks}",
            "--allow-root",
            f"--IdentityProvider.token={TOKEN}",
        ]
        environment = os.environ | {
            "GARDENKIT_GARDEN": str(self.garden),
            "JUPYTER_CONFIG_DIR": str(self._folder / "config"),
            "PYTHONPATH": str(ROOT),
        }
        self._run([sys.executable, "-m", "jupyterlab", *options], environment)
        wait_until(self._answers, seconds=180)

    def start_by_command(self) -> str:
        """Start the server by ``gardenkit open``, as a designer does, at the address that the terminal then shows;
        returns all that it shows.
        """
        self.log = self._folder / "terminal.log"
        environment = os.environ | {"JUPYTER_CONFIG_DIR": str(self._folder / "config"), "PYTHONPATH": str(ROOT)}
        opened = [sys.executable, "-m", "gardenkit.notebook.command", "open", str(self.garden), "--no-browser"]
        self._run(opened, environment)
        shown = wait_until(
            lambda: re.search(r"(http://127[^/]*)/lab\S*\?token=(\w+)", self.log.read_text()), seconds=60
        )
        self.address, self.token = shown.groups()
        wait_until(self._answers, seconds=60)
        return self.log.read_text()

    def _run(self, arguments: list[str], environment: dict[str, str]) -> None:
        with self.log.open("a") as out:
            self._server = subprocess.Popen(arguments, stdout=out, stderr=out, env=environment, start_new_session=True)

    def stop(self) -> None:
        """Stop the server and its kernels; one in the middle of a long sum is not waited for.

        Not as Ctrl-C does: what a script starts in the background hears none.
        """
        if self._server is None:
            return
        for ending in (signal.SIGTERM, signal.SIGKILL):
            with contextlib.suppress(subprocess.TimeoutExpired, ProcessLookupError):
                os.killpg(self._server.pid, ending)
                self._server.wait(20)
                break

    def _answers(self) -> bool:
        assert self._server is not None and self._server.poll() is None, self.log.read_text()
        try:
            urllib.request.urlopen(f"{self.address}/api?token={self.token}", timeout=1)
        except OSError:
            return False
        return True


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the session of a whole garden: begun last, one core would wait for it for minutes."""
    items.sort(key=lambda item: item.path.name != LONGEST)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    found = next((path for name in NAMES if (path := shutil.which(name))), None)
    assert found, "the browser tests need Chromium or Chrome on this machine; install it, e.g. apt-get install chromium"
    with sync_playwright() as playwright:
        made = playwright.chromium.launch(executable_path=found, args=["--no-sandbox", "--disable-gpu"])
        yield made
        made.close()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@pytest.fixture
def lab(tmp_path: Path) -> Iterator[Lab]:
    made = Lab(tmp_path)
    try:
        made.start()
        yield made
    finally:
        made.stop()


class Notebook:
    """One notebook open in the browser."""

    def __init__(self, browser: Browser, lab: Lab, name: str) -> None:
        self.errors: list[str] = []
        self.page: Page = browser.new_page(viewport={"width": 1500, "height": 1000})
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.goto(f"{lab.address}/lab/tree/{name}.ipynb?token={lab.token}&reset")
        self.page.wait_for_selector(".jp-NotebookPanel .jp-Cell", timeout=90_000)
        self.page.wait_for_function(
            "document.querySelector('.jp-NotebookPanel-toolbar')?.innerText.includes('Python 3')", timeout=60_000
        )

    def run_all(self) -> None:
        """Run every cell and wait until each has its number; asked again while the kernel was not listening yet.

        A folded cell shows its number beside its result only, so both places are read.
        """
        self.page.wait_for_function(
            "document.querySelector('#jp-main-statusbar')?.innerText.includes('Idle')", timeout=60_000
        )
        started = "document.querySelector('#jp-main-statusbar')?.innerText.includes('Busy')"
        for _ in range(10):
            self.page.get_by_role("menuitem", name="Run", exact=True).click()
            self.page.get_by_text("Run All Cells", exact=True).click()
            try:
                self.page.wait_for_function(f"{started} || ({NUMBERED})(1)", timeout=3_000)
                break
            except TimeoutError:
                continue
        self.page.wait_for_function(f"({NUMBERED})()", timeout=90_000)
        # What a widget sends waits in line behind cells that still run: a designer, too, drags when the page is there.
        idle = "document.querySelector('#jp-main-statusbar')?.innerText.includes('Idle')"
        self.page.wait_for_function(idle, timeout=120_000)

    def step(self, title: str) -> None:
        """Turn the desk to another step, and wait until its opening sentences stand there in place of the last ones."""
        opening = self.page.locator(".gk-desk-step .gk-opening:visible").first
        before = opening.inner_text()
        self.page.locator(".gk-steps button", has_text=title).click()
        wait_until(lambda: opening.inner_text() != before, seconds=60)
        self.settle()

    def settle(self) -> None:
        """Wait until nothing more comes from the kernel and every plan is painted: a handle is where it is seen."""
        idle = "document.querySelector('#jp-main-statusbar')?.innerText.includes('Idle')"
        self.page.wait_for_function(idle, timeout=60_000)
        self.page.wait_for_function("(window.Bokeh?.documents ?? []).every(doc => doc.is_idle)", timeout=60_000)
        self.page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")

    def place_of_handle(self, name: str) -> list[float] | None:
        """Return where on the page the handle of that id is, in pixels, on whichever plan it is; None for none."""
        return self.page.evaluate(PLACE, name)

    def steady_place(self, name: str) -> list[float]:
        """Wait until the handle of that id stands still: the same place in several readings, and nothing to come."""
        last: list[list[float] | None] = []
        for _ in range(150):
            self.settle()
            last = [*last[1 - STEADY :], self.place_of_handle(name)]
            if len(last) == STEADY and last[0] is not None and all(one == last[0] for one in last):
                return last[0]
            self.page.wait_for_timeout(100)
        raise AssertionError(f"the handle {name} never stood still; last seen at {last}")

    def drag_handle(self, name: str, by: tuple[float, float], *, off_first: bool = False) -> list[str]:
        """Drag the handle of that id by so many pixels, once the plan stands still, ``off_first`` by way of the corner
        of what the plan shows, where there is no plot.

        Returns the measures that stood on the plan at that corner, where it went there, else at the end.

        The first move comes at once: a button held still for a quarter of a second is no drag to Bokeh. On a machine
        that was too slow for that nothing has moved under the pointer, and the hand tries again.
        """
        mouse = self.page.mouse
        _, y = self.steady_place(name)
        self.page.evaluate("far => { document.querySelector('.jp-WindowedPanel-outer').scrollTop += far }", y - 500)
        for _ in range(4):
            mouse.move(*self.steady_place(name))
            x, y = self.steady_place(name)
            mouse.move(x, y)
            mouse.down()
            said: list[str] = []
            off = [far - at for far, at in zip(self.page.evaluate(FRAME_CORNER), (x, y), strict=True)]
            for right, down in (off, by) if off_first else (by,):
                for share in (0.7, 1.0):
                    mouse.move(x + share * right, y + share * down)
                self.page.wait_for_timeout(100)
                said = said or self.column("measured", "text")
            moved = self.place_of_handle(name)
            mouse.up()
            if moved != [x, y]:
                return said
        raise AssertionError(f"the handle {name} did not follow the pointer")

    def faults(self) -> list[str]:
        """Return what axe-core finds seriously wrong with what the cells show."""
        return faults(self.page, ".jp-OutputArea-output")

    def text(self) -> str:
        """The words on the page."""
        return self.page.inner_text(".jp-Notebook")

    def column(self, source: str, column: str) -> list[object]:
        """One column of a Bokeh source on the page, by the source's name."""
        return self.page.evaluate(
            """([source, column]) => {
                 const plain = (key, value) => ArrayBuffer.isView(value) ? Array.from(value) : value;
                 for (const doc of window.Bokeh?.documents ?? []) for (const model of doc._all_models.values())
                   if (model.type === 'ColumnDataSource' && model.name === source) {
                     const values = Array.from(model.data[column]);
                     return JSON.parse(JSON.stringify(values, plain)) }
                 return null }""",
            [source, column],
        )


@pytest.fixture
def open_notebook(browser: Browser, lab: Lab) -> Iterator[object]:
    opened: list[Notebook] = []

    def opener(name: str) -> Notebook:
        opened.append(Notebook(browser, lab, name))
        return opened[-1]

    yield opener
    for notebook in opened:
        notebook.page.close()
