"""Notebooks without a kernel: what a saved page still shows, and every notebook as an offline file without code."""

import asyncio
import html
import re
import shutil
import tempfile
from pathlib import Path

import html5lib
import pytest
from hostile import HOSTILE, garden_of

from gardenkit.findings import GardenError
from gardenkit.notebook import controls, gardens, rendered, workbook
from gardenkit.notebook import page as pages
from gardenkit.notebook.command import main
from gardenkit.notebook.desk import Desk
from gardenkit.notebook.later import AT_ONCE, Later
from gardenkit.notebook.pages.beds import BedsPage
from gardenkit.notebook.pages.care import CarePage
from gardenkit.notebook.pages.climbs import ClimbsPage
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.pages.traverse import TraversePage
from gardenkit.notebook.pages.wants import WantsPage
from gardenkit.notebook.session import Session
from gardenkit.notebook.steps import STEPS
from gardenkit.notebook.still import to_read
from gardenkit.notebook.workbook import PAGES
from gardenkit.project.edits import brief

LOADS = re.compile(
    r"""(?:src|href)\s*=\s*["']?\s*(?:https?:)?//|<script|@import|url\(\s*["']?http""", re.I
)  # HTML Standard


def test_a_page_still_shows_its_plan_and_tables_without_its_controls(few: Session) -> None:
    page = BedsPage(few)
    shown = page.still()
    assert shown.count("<svg") == 1 and "<table" in shown
    for bed in few.garden.beds:
        assert html.escape(bed.name) in shown
    for line in page.advice.rows[:2]:
        assert f"<li>{html.escape(line.description)}" in shown
    assert not re.search(r"<(input|button|select|textarea)\b", shown)
    assert not LOADS.search(shown)
    assert "<svg" in LayeringPage(few).still() and "<table" in WantsPage(few).still()
    assert page.failures == []


def test_no_name_from_the_garden_makes_an_element_of_any_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What every page shows is what a rendered notebook holds; html5lib parses it as browsers do."""
    monkeypatch.setenv(AT_ONCE, "yes")
    session = Session(garden_of(HOSTILE, tmp_path / "garden").folder)
    for name in PAGES:
        page = workbook.page(session, name)
        tree = html5lib.parse(page.still(), namespaceHTMLElements=False)
        made = [(str(one.tag), dict(one.attrib)) for one in tree.iter() if isinstance(one.tag, str)]
        assert not {tag for tag, _ in made} & {"script", "iframe", "object", "form", "input"}, name
        assert not [key for _, held in made for key in held if key.startswith("on")], name
        assert all(held["src"].startswith("data:") for tag, held in made if tag == "img"), name
        assert page.failures == []


def test_code_scripts_and_live_views_are_left_out_and_words_stay() -> None:
    cells = [
        {"cell_type": "markdown", "source": "# The ground\n\n*After a restart run\nall of it.*\n\nMeasure *twice*."},
        {
            "cell_type": "code",
            "source": "secret = 1",
            "outputs": [
                {"data": {"application/javascript": "alert(1)", "text/plain": "<Javascript>"}},
                {"data": {"application/vnd.jupyter.widget-view+json": {}, "image/svg+xml": "<svg>a</svg>"}},
                {"data": {"text/html": ["<div>", "still</div>"], "text/plain": "<HTML object>"}},
                {"data": {"image/svg+xml": "<svg>b</svg>"}},
                {"output_type": "stream", "text": "12 < 13"},
            ],
        },
    ]
    head = {"data": {"application/vnd.jupyter.widget-view+json": {}, "text/plain": "the garden: 3 of 4 wants met"}}
    cells.append({"cell_type": "code", "source": "garden", "outputs": [head]})
    said = {"output_type": "execute_result", "data": {"text/plain": "'Client copy of Ann\\'s <garden>'"}}
    cells.append({"cell_type": "code", "source": "client.summary()", "outputs": [said]})
    made = rendered.sheet("03", cells)
    assert made.title == "The ground"
    assert "<em>twice</em>" in made.body and "<div>still</div>" in made.body and "12 &lt; 13" in made.body
    assert made.body.count("<svg>") == 1 and "3 of 4 wants met" in made.body
    assert "<p>Client copy of Ann&#x27;s &lt;garden&gt;</p>" in made.body
    assert "restart" not in made.body and "all of it" not in made.body
    assert "secret" not in made.body and "alert" not in made.body


def test_what_a_notebook_shows_is_kept_beside_the_live_page(few: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    """JupyterLab shows it where the live view after it has no kernel any more."""
    shown: list[object] = []
    monkeypatch.setattr(pages, "display", lambda one, **_: shown.append(one))
    monkeypatch.setattr(pages, "get_ipython", lambda: True)
    live = BedsPage(few)._repr_mimebundle_()
    (kept,) = shown
    assert "application/vnd.jupyter.widget-view+json" in live
    assert kept.data.startswith('<div class="gk-still">') and "<svg" in kept.data
    named = re.findall(r'id="([dk][0-9a-f]{10}[td])"', kept.data)
    assert named and all(name.startswith("k") for name in named)  # the live page beside it has the same drawings
    assert ".gk-still{display:none}" in controls.STYLE  # which stands in every live page


@pytest.fixture
def two(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workbook of two notebooks: a kernel takes some seconds, and all of them run in the browser tests."""
    folder = tmp_path / "book"
    folder.mkdir()
    for name in ("00_start", "02_wants_list"):
        shutil.copy(gardens.workbook_folder() / f"{name}.ipynb", folder)
    monkeypatch.setattr(gardens, "workbook_folder", lambda: folder)
    return folder


def test_the_command_writes_offline_notebooks_and_leaves_the_garden_alone(
    few: Session, two: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    few.edit("name", lambda p: brief.set_cover(p, name="Rendered <garden>"))
    before = {p: p.read_bytes() for p in few.folder.iterdir() if p.is_file()}
    assert main(["render", str(few.folder), "--notebooks", "--to", str(tmp_path / "out")]) == 0
    start, wants = sorted((tmp_path / "out").iterdir())
    assert (start.name, wants.name) == ("00_start.html", "02_wants_list.html")
    text = start.read_text(encoding="utf-8")
    assert "<svg" in text and 'href="02_wants_list.html"' in text and "<title>Rendered &lt;garden&gt;" in text
    assert "<table" in wants.read_text(encoding="utf-8")
    for path in (start, wants):
        body = path.read_text(encoding="utf-8")
        assert not LOADS.search(body) and "workbook.open_garden" not in body
        assert tempfile.gettempdir() not in body and "Shift+Enter" not in body  # for whoever has only the page
    assert {p: p.read_bytes() for p in few.folder.iterdir() if p.is_file()} == before


def test_a_notebook_that_fails_is_named(few: Session, two: Path, tmp_path: Path) -> None:
    path = two / "00_start.ipynb"
    path.write_text(path.read_text(encoding="utf-8").replace('\\"start\\"', '\\"begin\\"'), encoding="utf-8")
    with pytest.raises(GardenError, match="00_start"):
        rendered.write(few.folder, tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_what_tells_a_hand_what_to_do_is_left_out_where_nothing_runs(few: Session) -> None:
    words = "Click a plant to choose it: it is ringed. A plant that is not listed as toxic is not thereby safe."
    assert to_read(words) == "A plant that is not listed as toxic is not thereby safe."
    assert to_read("or drag the round handle on the plan") == ""
    assert to_read("No pictures yet: drop, paste or choose some. A wall sets the tone.") == (
        "No pictures yet. A wall sets the tone."
    )
    assert "digging have the buried lines marked" in to_read(STEPS["ground"].opening)
    desk = Desk(
        few,
        {
            "climbs": lambda held, one: ClimbsPage(held, on=one),
            "traverse": lambda held, one: TraversePage(held, on=one),
        },
    )
    desk.open("traverse")
    assert desk.still().count("<h2") == 1  # no traverse was walked
    tables = CarePage(few).still()
    assert all(f"<h3>{name}</h3>" in tables for name in ("cost", "order of work"))
    shown = ClimbsPage(few).still()
    assert "Drag the two round handles" not in shown and "<table" in shown


def test_a_notebook_that_is_run_to_be_read_waits_for_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[str] = []

    async def kernel() -> None:
        Later().do(lambda: done.append("a table"))

    asyncio.run(kernel())
    assert done == []
    monkeypatch.setenv(AT_ONCE, "1")
    asyncio.run(kernel())
    assert done == ["a table"]
