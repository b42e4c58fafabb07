"""The start page: opening a garden that is there already, and going back along the last steps."""

import html
import re
from pathlib import Path

import pytest

from gardenkit import storage
from gardenkit.notebook import gardens
from gardenkit.notebook.pages.start import StartPage
from gardenkit.notebook.session import Session
from gardenkit.project import Project


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
    assert not page.go_back()
    for name in ("one", "two", "three"):
        page.name.bar.value = name
    first = empty.steps()[0].number
    page.last.bar.value = first
    assert page.go_back()
    assert page.project.name == "one"
    page.last.bar.value = first + 2
    assert page.go_back()
    assert page.project.name == "three"
    page.last.bar.value = 0
    assert page.go_back()
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
        assert f'gardenkit open "{folder}"' in says(page)
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
