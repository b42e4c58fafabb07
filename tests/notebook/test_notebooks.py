"""Each garden has its own copy of the notebooks; an upgrade brings newer ones and loses nothing."""

import json
from itertools import pairwise
from pathlib import Path

import pytest

from gardenkit.notebook import gardens, workbook
from gardenkit.notebook.notebooks import notebooks_of

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def shipped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    source = tmp_path / "shipped"
    source.mkdir()
    (source / "00_start.ipynb").write_text("first")
    (source / "01_style.ipynb").write_text("style")
    monkeypatch.setattr(gardens, "workbook_folder", lambda: source)
    return source


def test_a_garden_gets_every_notebook_and_running_one_leaves_the_source_alone(tmp_path: Path, shipped: Path) -> None:
    target, told = notebooks_of(tmp_path / "garden")
    assert told == ""
    assert sorted(p.name for p in target.glob("*.ipynb")) == ["00_start.ipynb", "01_style.ipynb"]
    (target / "00_start.ipynb").write_text("first, with what it showed")
    again, told = notebooks_of(tmp_path / "garden")
    assert (again, told) == (target, "")
    assert (target / "00_start.ipynb").read_text() == "first, with what it showed"
    assert (shipped / "00_start.ipynb").read_text() == "first"


def test_an_upgrade_keeps_the_used_notebook_beside_the_newer_one(tmp_path: Path, shipped: Path) -> None:
    target, _ = notebooks_of(tmp_path / "garden")
    (target / "00_start.ipynb").write_text("used")
    for name in ("00_start.ipynb", "01_style.ipynb"):
        (shipped / name).write_text("newer")
    _, told = notebooks_of(tmp_path / "garden")
    old = list(target.glob("*-before-*.ipynb"))
    assert [p.read_text() for p in old] == ["used"]
    assert old[0].name in told
    assert (target / "00_start.ipynb").read_text() == (target / "01_style.ipynb").read_text() == "newer"
    (target / "00_start.ipynb").write_text("used again")
    (shipped / "00_start.ipynb").write_text("newest")
    notebooks_of(tmp_path / "garden")
    assert sorted(p.read_text() for p in target.glob("*-before-*.ipynb")) == ["used", "used again"]


def test_a_damaged_note_of_what_was_given_loses_no_work(tmp_path: Path, shipped: Path) -> None:
    target, _ = notebooks_of(tmp_path / "garden")
    (target / "00_start.ipynb").write_text("used")
    (target / ".given.json").write_text("{")
    notebooks_of(tmp_path / "garden")
    assert [p.read_text() for p in target.glob("*-before-*.ipynb")] == ["used"]


def notebooks() -> list[Path]:
    return sorted((ROOT / "workbook").glob("*.ipynb"))


@pytest.mark.parametrize("notebook", notebooks(), ids=lambda p: p.stem)
def test_a_notebook_opens_as_a_document(notebook: Path) -> None:
    """Code is folded away, short and without checks; nothing it showed is committed; the head says what to do after a
    restart.
    """
    cells = json.loads(notebook.read_text(encoding="utf-8"))["cells"]
    assert "Run > Run All Cells" in "".join(cells[0]["source"]) and "restart" in "".join(cells[0]["source"])
    for cell in cells:
        if cell["cell_type"] != "code":
            continue
        source = "".join(cell["source"])
        assert notebook.stem == "08_by_script" or cell["metadata"]["jupyter"]["source_hidden"] is True
        assert "assert" not in source
        assert len(source.strip().splitlines()) <= 5, source
        assert cell["outputs"] == [] and cell["execution_count"] is None


def test_every_notebook_ends_with_the_next_one_linked_by_its_heading() -> None:
    for path, after in pairwise(notebooks()):
        last, heading = (json.loads(p.read_text(encoding="utf-8"))["cells"][at] for p, at in ((path, -1), (after, 0)))
        title = "".join(heading["source"]).splitlines()[0].removeprefix("# ")
        assert last["cell_type"] == "markdown"
        assert f"Next: [{title}]({after.name}), " in "".join(last["source"])


def test_every_page_of_the_table_is_shown_by_one_notebook_and_the_other_way_round() -> None:
    import re

    cells = [cell for path in notebooks() for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]]
    code = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    calls = re.findall(r"workbook\.(?:page|desk)\(\s*garden,([^)]*)\)", code)
    named = [name for call in calls for name in re.findall(r'"(\w+)"', call)]
    assert sorted(named) == sorted(workbook.PAGES)
