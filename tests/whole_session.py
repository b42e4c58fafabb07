"""The rest of a session in the browser: wants, planting, a kernel and a server begun again, and the client edition.

A picture of the window is kept of every stage, in ``.pictures`` beside this folder, to be looked at.
"""

import json
import re
from pathlib import Path
from typing import Any

from waiting import wait_until

from gardenkit.findings import GardenError
from gardenkit.project import Project
from gardenkit.project.edits.planting import move_group
from gardenkit.storage import load

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
PICTURES = Path(__file__).resolve().parents[1] / ".pictures"
ROOM = 0.4  # m that a plant is dragged at most
WRONG = ".gk-problem:visible, .jp-RenderedText[data-mime-type*=stderr]:visible"
# Whatever says at any time that something is wrong, also when it has gone again.
WATCH = """() => { window.gkWrong = [];
    new MutationObserver(changes => { for (const { addedNodes } of changes) for (const node of addedNodes) {
        if (!node.querySelectorAll) continue;
        const told = '.gk-problem, .jp-RenderedText[data-mime-type*=stderr]';
        for (const one of node.matches(told) ? [node] : node.querySelectorAll(told)) gkWrong.push(one.innerText) }
    }).observe(document.body, { childList: true, subtree: true }) }"""
SHOWN = "document.querySelector('#jp-main-statusbar')?.innerText"


def saved(garden: Path) -> dict[str, Any]:
    """Return the garden as its project file holds it."""
    return dict(json.loads((garden / "garden.json").read_text(encoding="utf-8")))


def planted(garden: Path) -> int:
    """Return how many plants the project file holds."""
    return len(saved(garden)["planting"]["plants"])


def press(notebook, name: str) -> None:
    notebook.page.locator(f".gk-button-{name}:visible").first.click()


def watched(notebook):
    """Return a notebook that keeps whatever it says is wrong."""
    notebook.page.set_viewport_size({"width": 1280, "height": 800})
    notebook.page.evaluate(WATCH)
    return notebook


def told_wrong(notebook) -> list[str]:
    """Return what a notebook has said is wrong since it was asked last."""
    return list(notebook.page.evaluate("gkWrong.splice(0)"))


def keep(page, name: str) -> None:
    """Keep a picture of the window, the desk of a notebook from its top."""
    PICTURES.mkdir(exist_ok=True)
    page.evaluate("document.querySelector('.gk-desk')?.scrollIntoView()")
    page.screenshot(path=PICTURES / f"{name}.png")


def nothing_is_wrong(notebook, name: str) -> None:
    """No page says or has said that something is wrong, none shows a traceback, nothing failed in the browser; keeps a
    picture of it.
    """
    keep(notebook.page, name)
    wrong = told_wrong(notebook)
    assert wrong == [], wrong
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
    nothing_is_wrong(notebook, "04_wants")


def plant(notebook, garden: Path, bed: str) -> dict[int, list[float]]:
    """Choose a palette, compose one bed, use a proposal, take it back, use it again and move one plant by hand; returns
    which was moved, and to where.
    """
    page = notebook.page
    notebook.run_all()
    notebook.step("A palette")
    press(notebook, "propose")
    wait_until(lambda: "nothing is saved before you accept one" in notebook.text(), seconds=120)
    keep(page, "05_palette")
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
    nothing_is_wrong(notebook, "06_composed")
    moved = move_by_hand(notebook, garden)
    nothing_is_wrong(notebook, "07_moved_by_hand")
    return moved


def places(garden: Path) -> dict[int, list[float]]:
    """Return where each plant stands."""
    return {plant["number"]: plant["at"] for plant in saved(garden)["planting"]["plants"]}


def has_room(project: Project, number: int, at: list[float]) -> bool:
    """Return whether a plant may stand that far to the right, left, up and down of its place."""
    try:
        for right, up in ((ROOM, 0), (-ROOM, 0), (0, ROOM), (0, -ROOM)):
            move_group(project, number, to=(at[0] + right, at[1] + up))
    except GardenError:
        return False
    return True


def move_by_hand(notebook, garden: Path) -> dict[int, list[float]]:
    """Drag the first plant that has room all round a little; returns its number and where it stands then."""
    before, project = places(garden), load(garden).project
    number = next(n for n in sorted(before) if has_room(project, n, before[n]))
    notebook.step("The planting plan")
    listed = notebook.page.locator(".gk-choice-plant select:visible")
    label = re.compile(rf"^{number}\b")
    listed.select_option(label=listed.locator("option", has_text=label).first.inner_text())
    notebook.drag_handle(str(number), (9, 4))
    moved = wait_until(lambda: {n: at for n, at in places(garden).items() if at != before[n]})
    assert list(moved) == [number]
    notebook.settle()
    return moved


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
    keep(page, "08_warnings")
    page.locator(".gk-field-reason input:visible").fill("agreed on the ground with the client")
    press(notebook, "accept")
    wait_until(lambda: waiting.count() == 0)
    assert len(saved(garden)["handover"]["accepted"]) == many
    notebook.settle()
    copy = garden / "client_copy.html"
    press(notebook, "client-copy")
    wait_until(copy.exists, seconds=180)
    wait_until(lambda: "written:" in notebook.text(), seconds=60)
    nothing_is_wrong(notebook, "09_client_edition_written")
    return copy


def write_all_of_it(notebook, garden: Path) -> list[Path]:
    """Write every document and the notebooks as pages to read; returns the files."""
    press(notebook, "bundle-notebooks")
    wait_until(lambda: "written: all documents" in notebook.text(), seconds=600)
    nothing_is_wrong(notebook, "11_all_written")
    return sorted(path for path in (garden / "documents").rglob("*") if path.is_file())


def read_offline(page, copy: Path, name: str) -> str:
    """Return the words of a document opened with no network; what it asks for or what goes wrong in it is none."""
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda error: asked.append(str(error)))
    page.context.set_offline(True)
    page.goto(copy.as_uri())
    page.wait_for_load_state("load")
    keep(page, name)
    words = str(page.inner_text("body"))
    assert [one for one in asked if not one.startswith(("file:", "data:", "blob:"))] == []
    return words
