"""The rest of a session in the browser: wants, planting, a kernel and a server begun again, and the client edition."""

import json
from pathlib import Path
from typing import Any

from waiting import wait_until

WANTS = (
    "a place to eat outside",
    "a way without steps",
    "two raised beds",
    "rain kept in the garden",
    "compost out of sight",
    "water from the roof",
    "light along the path",
    "something for bees",
    "green in winter",
    "a statue to look at",
    "room to turn a wheelchair",
    "a hedge against the wind",
    "scent by the terrace",
    "little to mow",
    "a path that is not straight",
)
WRONG = ".gk-problem:visible, .jp-RenderedText[data-mime-type*=stderr]:visible"
SHOWN = "document.querySelector('#jp-main-statusbar')?.innerText"


def saved(garden: Path) -> dict[str, Any]:
    """Return the garden as its project file holds it."""
    return dict(json.loads((garden / "garden.json").read_text(encoding="utf-8")))


def planted(garden: Path) -> int:
    """Return how many plants the project file holds."""
    return len(saved(garden)["planting"]["plants"])


def press(notebook, name: str) -> None:
    notebook.page.locator(f".gk-button-{name}:visible").first.click()


def nothing_is_wrong(notebook) -> None:
    """No page says that something is wrong, none shows a traceback, and nothing failed in the browser."""
    assert notebook.page.locator(WRONG).all_inner_texts() == []
    assert "Traceback" not in notebook.text() and "made a mistake" not in notebook.text()
    assert notebook.errors == []


def ask_for_it_all(notebook, garden: Path) -> None:
    """Write every want in the client's own words."""
    notebook.run_all()
    typed = notebook.page.locator(".gk-field-want-text input:visible, .gk-field-want-text textarea:visible").first
    for number, want in enumerate(WANTS, start=1):
        typed.fill(want)
        press(notebook, "add-want")
        wait_until(lambda number=number: len(saved(garden)["brief"]["wants"]) == number)
        notebook.settle()  # the form is emptied after the want is saved
    nothing_is_wrong(notebook)


def plant(notebook, garden: Path, bed: str) -> int:
    """Choose a palette, compose one bed, use a proposal, take it back and use it again; returns how many stand."""
    page = notebook.page
    notebook.run_all()
    notebook.step("A palette")
    press(notebook, "propose")
    wait_until(lambda: "nothing is saved before you accept one" in notebook.text(), seconds=120)
    press(notebook, "accept-palette")
    wait_until(lambda: saved(garden)["planting"]["palette"])
    notebook.step("Composing the beds")
    page.locator(".gk-choice-arrange-bed select:visible").select_option(label=bed)
    press(notebook, "arrange")
    wait_until(lambda: "nothing is saved before you use one" in notebook.text(), seconds=120)
    press(notebook, "use-A")
    many = wait_until(lambda: planted(garden))
    press(notebook, "undo")
    wait_until(lambda: not planted(garden))
    press(notebook, "redo")
    wait_until(lambda: planted(garden) == many)
    nothing_is_wrong(notebook)
    return many


def begin_the_kernel_again(notebook) -> None:
    """Restart the kernel of the notebook that is open and run it whole: it goes on where the garden was left."""
    page = notebook.page
    page.get_by_role("menuitem", name="Kernel", exact=True).click()
    page.get_by_text("Restart Kernel and Run All Cells…", exact=True).click()
    page.locator(".jp-Dialog button", has_text="Restart").last.click()
    page.wait_for_function(f"{SHOWN}.includes('Busy')", timeout=60_000)
    page.wait_for_function(f"{SHOWN}.includes('Idle')", timeout=120_000)
    wait_until(lambda: page.locator(".gk-steps:visible").count(), seconds=60)
    notebook.settle()
    # What a widget of the ended kernel still says while the lab connects anew: the lab's own words, seen by nobody.
    notebook.errors = [error for error in notebook.errors if error != "Cannot send"]


def hand_over(notebook, garden: Path) -> Path:
    """Accept the warnings that are open, for one reason, write the client edition, and return its file."""
    page = notebook.page
    notebook.run_all()
    page.wait_for_selector(".gk-button-client-copy:visible")
    notebook.settle()
    waiting = page.locator(".gk-open-warnings input:visible")
    many = waiting.count()
    assert many > 1
    for box in waiting.all():
        box.check()
    page.locator(".gk-field-reason input:visible").fill("agreed on the ground with the client")
    press(notebook, "accept")
    wait_until(lambda: waiting.count() == 0)
    assert len(saved(garden)["handover"]["accepted"]) == many
    notebook.settle()
    copy = garden / "client_copy.html"
    press(notebook, "client-copy")
    wait_until(copy.exists, seconds=180)
    wait_until(lambda: "written:" in notebook.text(), seconds=60)
    nothing_is_wrong(notebook)
    return copy


def write_all_of_it(notebook, garden: Path) -> list[Path]:
    """Write every document and the notebooks as pages to read; returns the files."""
    press(notebook, "bundle-notebooks")
    wait_until(lambda: "written: all documents" in notebook.text(), seconds=600)
    nothing_is_wrong(notebook)
    return sorted(path for path in (garden / "documents").rglob("*") if path.is_file())


def read_offline(page, copy: Path) -> str:
    """Return the words of a document opened with no network; what it asks for or what goes wrong in it is none."""
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda error: asked.append(str(error)))
    page.context.set_offline(True)
    page.goto(copy.as_uri())
    page.wait_for_load_state("load")
    words = str(page.inner_text("body"))
    assert [one for one in asked if not one.startswith(("file:", "data:", "blob:"))] == []
    return words
