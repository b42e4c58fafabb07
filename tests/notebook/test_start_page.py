"""The start page: opening a garden that is there already, and going back along the last steps."""

from pathlib import Path

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


def test_opening_a_page_writes_no_step(garden: Session) -> None:
    before = (garden.steps(), storage.load(garden.folder).stamp)
    StartPage(garden)._repr_mimebundle_()
    assert (garden.steps(), storage.load(garden.folder).stamp) == before
