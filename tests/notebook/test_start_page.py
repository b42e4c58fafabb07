"""The start page: opening a garden that is there already, and going back along the last steps."""

import html
import re
from pathlib import Path

import pytest

from gardenkit import storage
from gardenkit.notebook import controls, gardens
from gardenkit.notebook.notebooks import opened_by
from gardenkit.notebook.pages.start import StartPage
from gardenkit.notebook.session import Session
from gardenkit.project import Project
from gardenkit.project.edits import brief


def test_any_garden_opens_by_its_folder(empty: Session, tmp_path: Path) -> None:
    storage.create(tmp_path / "far" / "orchard", Project(name="orchard"))
    page = StartPage(empty)
    page.path.bar.value = str(tmp_path / "far")
    assert not page.open_typed()
    assert "there is no garden in" in page.message.value
    page.path.bar.value = str(tmp_path / "far" / "orchard")
    assert page.open_typed()
    assert page.project.name == "orchard"
    assert gardens.chosen() == tmp_path / "far" / "orchard"
    assert page.failures == []


def test_gardens_in_the_home_folder_are_listed_and_a_damaged_one_is_named(empty: Session) -> None:
    storage.create(gardens.home() / "meadow", Project(name="The meadow"))
    (gardens.home() / "broken").mkdir()
    (gardens.home() / "broken" / storage.PROJECT_FILE).write_text("{", encoding="utf-8")
    page = StartPage(empty)
    words = [text for text, _ in page.kept.bar.options]
    assert words == ["choose ...", "broken (cannot be read)", "The meadow (meadow)"]
    page.kept.bar.value = gardens.home() / "meadow"
    assert page.project.name == "The meadow"
    assert page.failures == []


def test_going_back_to_a_step_and_forward_again(empty: Session) -> None:
    page = StartPage(empty)
    assert not page.history.go_back()
    for name in ("one", "two", "three"):
        page.name.bar.value = name
    first = empty.steps()[0].number
    page.history.last.bar.value = first
    assert page.history.go_back()
    assert page.project.name == "one"
    page.history.last.bar.value = first + 2
    assert page.history.go_back()
    assert page.project.name == "three"
    page.history.last.bar.value = 0
    assert page.history.go_back()
    assert page.project.name == "empty"
    assert page.failures == []


def says(page: StartPage) -> str:
    """What the page says without its tags."""
    return html.unescape(re.sub("<[^>]*>", " ", page.steps.value))


def test_a_garden_begun_or_opened_on_the_page_gets_its_own_notebooks_and_the_page_says_where(
    empty: Session, tmp_path: Path
) -> None:
    page, shipped = StartPage(empty), {p.name for p in gardens.workbook_folder().glob("*.ipynb")}
    assert "gardenkit open" not in says(page)  # this one was opened by a test and has none
    storage.create(tmp_path / "far" / "orchard", Project(name="orchard"))
    page.path.bar.value, page.folder.bar.value = str(tmp_path / "far" / "orchard"), str(tmp_path / "new one")
    for press, folder in ((page.open_typed, tmp_path / "far" / "orchard"), (page.begin, tmp_path / "new one")):
        assert press()
        assert {p.name for p in (folder / "workbook").glob("*.ipynb")} == shipped
        assert f"its own notebooks are in {folder}/workbook; open them" in says(page)
        assert opened_by(folder) in says(page)
    assert page.failures == []


def test_notebooks_that_were_used_stay_when_their_garden_is_opened_on_the_page(
    empty: Session, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    storage.create(tmp_path / "orchard", Project(name="orchard"))
    page = StartPage(empty)
    page.path.bar.value = str(tmp_path / "orchard")
    assert page.open_typed()
    used = tmp_path / "orchard" / "workbook" / "00_start.ipynb"
    used.write_text("with what it showed", encoding="utf-8")
    assert page.open_typed()
    assert used.read_text(encoding="utf-8") == "with what it showed"
    monkeypatch.chdir(used.parent)  # as in the garden's own notebook
    page.refresh()
    assert "gardenkit open" not in says(page)


def test_a_garden_whose_folder_takes_no_notebooks_opens_all_the_same(empty: Session, tmp_path: Path) -> None:
    storage.create(tmp_path / "orchard", Project(name="orchard"))
    (tmp_path / "orchard" / "workbook").write_text("a file in the way", encoding="utf-8")
    page = StartPage(empty)
    page.path.bar.value = str(tmp_path / "orchard")
    assert page.open_typed()
    assert page.project.name == "orchard"
    assert "It has no notebooks of its own yet" in page.message.value
    assert page.failures == []


def test_opening_a_page_writes_no_step(garden: Session) -> None:
    before = (garden.steps(), storage.load(garden.folder).stamp)
    StartPage(garden)._repr_mimebundle_()
    assert (garden.steps(), storage.load(garden.folder).stamp) == before


def test_a_named_state_is_returned_to_and_stands_in_the_list_by_its_name(garden: Session) -> None:
    page = StartPage(garden)
    page.tell(client="Odile Marsh")
    page.history.name.bar.value = "first  idea"
    assert 'kept as "first idea"' in html.unescape(page.message.value)
    assert any('= "first idea"' in words for words, _ in controls.choices(page.history.last.bar))
    page.tell(client="Somebody Else")
    page.history.kept.bar.value = next(
        n for words, n in controls.choices(page.history.kept.bar) if words == "first idea"
    )
    assert garden.project.client == "Odile Marsh"
    page.history.name.bar.value = "x" * 500
    assert "cannot name a state" in page.message.value
    assert page.failures == []


def test_stepping_back_over_another_notebooks_work_is_asked_about_once(
    garden: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("JPY_SESSION_NAME", "/x/04_structure.ipynb")
    garden.edit("call it a", lambda p: brief.set_cover(p, name="a"))
    garden.edit("call it b", lambda p: brief.set_cover(p, name="b"))
    monkeypatch.setenv("JPY_SESSION_NAME", "/x/00_start.ipynb")
    page = StartPage(garden)
    page.tell(client="Odile Marsh")
    assert page.undo()  # one's own work is not asked about
    assert not page.undo()
    assert "call it b" in page.message.value and "made in 04_structure" in page.message.value
    assert page.project.name == "b"
    assert page.undo() and page.project.name == "a"
    assert page.redo()
    page.history.last.bar.value = 0
    assert not page.history.go_back() and "2 steps" in page.message.value
    assert page.history.go_back() and garden.at == 0
    assert page.failures == []


def test_a_named_state_that_takes_back_anothers_work_is_chosen_again_from_the_same_list(
    garden: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("JPY_SESSION_NAME", "/x/00_start.ipynb")
    page = StartPage(garden)
    page.tell(client="Odile Marsh")
    page.history.name.bar.value = "first idea"
    monkeypatch.setenv("JPY_SESSION_NAME", "/x/04_structure.ipynb")
    garden.edit("call it b", lambda p: brief.set_cover(p, name="b"))
    monkeypatch.setenv("JPY_SESSION_NAME", "/x/00_start.ipynb")
    kept = page.history.kept.bar
    state = next(n for words, n in controls.choices(kept) if words == "first idea")
    kept.value = state
    assert "choose it again" in page.message.value and garden.project.name == "b"
    assert kept.value is None  # a list tells nothing when what stands in it is chosen once more
    kept.value = state
    assert garden.project.name != "b" and page.failures == []
