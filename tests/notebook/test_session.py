"""An open garden in a notebook: edits are saved, told to all who watch, and taken over from another notebook."""

import asyncio
import time
from pathlib import Path

import attrs
import pytest

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.notebook import gardens
from gardenkit.notebook.session import Session, open_garden
from gardenkit.project import Project


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("GARDENKIT_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("GARDENKIT_GARDEN", raising=False)
    storage.create(tmp_path / "garden", Project(name="first"))
    return tmp_path / "garden"


def rename(name: str):
    return lambda project: attrs.evolve(project, name=name)


def test_everyone_who_watches_is_told_of_a_change_once(folder: Path) -> None:
    session, told = Session(folder), []
    session.watch(lambda project: told.append(project.name))
    session.edit("name", rename("second"))
    session.edit("name", rename("second"))
    assert told == ["second"]
    assert storage.load(folder).project.name == "second"


def test_a_second_notebook_sees_what_the_first_saved_and_adds_to_it(folder: Path) -> None:
    one, two = Session(folder), Session(folder)
    one.edit("name", rename("from one"))
    two.edit("client", lambda project: attrs.evolve(project, client="of two"))
    assert (two.project.name, two.project.client) == ("from one", "of two")
    assert one.refresh()
    assert one.project == two.project
    assert not one.refresh()


def test_undo_takes_back_the_last_change_whoever_made_it(folder: Path) -> None:
    one, two = Session(folder), Session(folder)
    one.edit("call it a", rename("a"))
    assert two.undo() == "call it a"
    assert two.project.name == "first"
    assert two.redo() == "call it a"


def test_the_garden_chosen_on_the_start_page_is_what_every_notebook_opens(folder: Path, tmp_path: Path) -> None:
    assert open_garden().folder.parent == gardens.home()
    gardens.choose(folder)
    assert open_garden().folder == folder
    gardens.forget_choice()
    assert open_garden().folder.parent == gardens.home()
    with pytest.raises(GardenError, match="there is no folder"):
        open_garden(tmp_path / "nowhere")


def test_the_variable_names_the_garden(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GARDENKIT_GARDEN", str(folder))
    assert open_garden().folder == folder


def test_a_working_copy_is_made_once_and_then_kept(folder: Path) -> None:
    copy = gardens.working_copy()
    assert folder != copy
    Session(copy).edit("name", rename("mine now"))
    assert storage.load(gardens.working_copy()).project.name == "mine now"
    assert not (copy / "client_copy.html").exists()


def test_an_unknown_example_names_the_nearest() -> None:
    with pytest.raises(GardenError, match='the nearest known is "fennel_street_corner"'):
        gardens.example("fennel_street")


def test_what_another_notebook_saves_arrives_within_a_second(folder: Path) -> None:
    one, two, told = Session(folder), Session(folder), []
    two.watch(lambda project: told.append(project.name))

    async def kernel() -> float:
        assert two.follow()
        one.edit("name", rename("from one"))
        begun = time.monotonic()
        while not told and time.monotonic() - begun < 5:
            await asyncio.sleep(0.02)
        return time.monotonic() - begun

    assert asyncio.run(kernel()) < 1
    assert told == ["from one"]


def test_nothing_looks_for_changes_where_no_loop_runs(folder: Path) -> None:
    assert not Session(folder).follow()


def test_undo_says_which_other_notebook_made_the_step(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    session = Session(folder)
    monkeypatch.setenv("JPY_SESSION_NAME", "somewhere/04_structure.ipynb")
    session.edit("call it a", rename("a"))
    monkeypatch.setenv("JPY_SESSION_NAME", "somewhere/05_layering.ipynb")
    session.edit("call it b", rename("b"))
    assert session.undo() == "call it b"
    assert session.undo() == "call it a (made in 04_structure.ipynb)"
    assert session.redo() == "call it a (made in 04_structure.ipynb)"
