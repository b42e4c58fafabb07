"""The history in SQLite: what it stores, how it is read after harm, and what it never does."""

import contextlib
import json
import sqlite3
import time
from pathlib import Path

import attrs
import pytest

from gardenkit import storage
from gardenkit.brief.brief import Brief
from gardenkit.brief.wants import Want
from gardenkit.project import Project
from gardenkit.storage import StorageError, history, records, work

from .conftest import add_plant, planted, rename


def name(folder: Path) -> str:
    return storage.load(folder).project.name


def labels(folder: Path) -> list[str]:
    return [step.label for step in storage.steps(folder)]


def rename_in_the_file(folder: Path, new: str) -> None:
    path = folder / storage.PROJECT_FILE
    data = json.loads(path.read_text(encoding="utf-8"))
    path.write_text(json.dumps(data | {"name": new}), encoding="utf-8")


def sql(folder: Path, *statements: str) -> None:
    base = sqlite3.connect(folder / storage.HISTORY_FILE)
    for statement in statements:
        base.execute(statement)
    base.commit()
    base.close()


def test_a_plant_added_to_two_thousand_takes_under_two_kilobytes(tmp_path: Path) -> None:
    storage.create(tmp_path, planted(2000))
    storage.edit(tmp_path, "first", add_plant)
    before = (tmp_path / storage.HISTORY_FILE).stat().st_size
    for _ in range(20):
        storage.edit(tmp_path, "plant", add_plant)
    grown = (tmp_path / storage.HISTORY_FILE).stat().st_size - before
    assert grown / 20 < 1000, f"{grown / 20:.0f} bytes a plant"


def test_a_step_carries_its_words_its_time_its_gesture_and_its_notebook(folder: Path) -> None:
    began = time.time()
    storage.edit(folder, "call it a", rename("a"), gesture="type", notebook="2 Brief.ipynb")
    (step,) = storage.steps(folder)
    assert (step.label, step.gesture, step.notebook, step.number, step.follows) == (
        "call it a",
        "type",
        "2 Brief.ipynb",
        1,
        0,
    )
    assert began <= step.when <= time.time()


def test_moves_of_two_notebooks_are_never_one_gesture(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"), gesture="drag", notebook="one")
    storage.edit(folder, "b", rename("b"), gesture="drag", notebook="two")
    assert labels(folder) == ["a", "b"]


def test_a_gesture_leaves_one_step(folder: Path) -> None:
    for i in range(20):
        storage.edit(folder, f"drag {i}", rename(f"n{i}"), gesture="drag")
    assert labels(folder) == ["drag 19"]
    assert storage.undo(folder)[0].project.name == "first"
    assert storage.redo(folder)[0].project.name == "n19"


def test_a_gesture_after_undo_keeps_what_can_be_redone(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"), gesture="drag")
    storage.edit(folder, "b", rename("b"))
    storage.undo(folder)
    storage.edit(folder, "c", rename("c"), gesture="drag")
    assert labels(folder) == ["a", "b", "c"]


def test_a_clock_set_back_merges_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    storage.edit(folder, "a", rename("a"), gesture="drag")
    now = time.time()
    monkeypatch.setattr(time, "time", lambda: now - 3600)
    storage.edit(folder, "b", rename("b"), gesture="drag")
    assert labels(folder) == ["a", "b"]
    assert storage.undo(folder)[0].project.name == "a"


def test_any_state_can_be_gone_to_by_its_number_or_its_name(folder: Path) -> None:
    for word in "abcd":
        storage.edit(folder, word, rename(word))
    assert storage.jump(folder, 1)[0].project.name == "a"
    storage.name_state(folder, "as agreed in spring")
    storage.edit(folder, "other way", rename("e"))
    assert storage.jump(folder, 4)[0].project.name == "d"
    assert storage.jump(folder, 0)[0].project.name == "first"
    stored, label = storage.jump(folder, "as agreed in spring")
    assert (stored.project.name, label) == ("a", "as agreed in spring")
    assert [step.name for step in storage.steps(folder)] == ["as agreed in spring", "", "", "", ""]
    with pytest.raises(StorageError, match='no state of the garden is called "as agreed"; the nearest known is'):
        storage.jump(folder, "as agreed")
    with pytest.raises(StorageError, match="no state 77"):
        storage.jump(folder, 77)
    with pytest.raises(StorageError, match="cannot name a state"):
        storage.name_state(folder, "  ")


def test_a_file_changed_by_another_program_is_a_step_that_can_be_undone(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    rename_in_the_file(folder, "by hand")
    storage.edit(folder, "units", lambda p: attrs.evolve(p, units="metric"))
    assert labels(folder) == ["a", "changed outside gardenkit", "units"]
    assert storage.undo(folder)[0].project == attrs.evolve(planted(3), name="by hand")
    assert storage.undo(folder)[0].project.name == "a"
    assert storage.undo(folder)[0].project.name == "first"


def test_undo_right_after_a_change_from_outside_takes_that_back(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    rename_in_the_file(folder, "by hand")
    stored, label = storage.undo(folder)
    assert (stored.project.name, label) == ("a", "changed outside gardenkit")
    assert storage.redo(folder)[0].project.name == "by hand"


def test_an_older_file_brought_back_by_a_sync_service_is_known_again(folder: Path) -> None:
    path = folder / storage.PROJECT_FILE
    storage.edit(folder, "a", rename("a"))
    older = path.read_bytes()
    storage.edit(folder, "b", rename("b"))
    path.write_bytes(older)
    assert storage.redo(folder)[0].project.name == "b"
    assert labels(folder) == ["a", "b"]


def test_a_file_laid_out_anew_with_nothing_changed_is_no_step(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    path = folder / storage.PROJECT_FILE
    text = path.read_text(encoding="utf-8").replace("120.0", "120")  # 120 for 120.0, as other programs write it
    path.write_text(json.dumps(json.loads(text), indent=7).replace("\n", "\r\n"), encoding="utf-8")
    storage.edit(folder, "b", rename("b"))
    assert labels(folder) == ["a", "b"]
    assert storage.undo(folder)[0].project.name == "a"


def test_a_file_from_another_computer_with_a_number_never_given_here_is_taken_in(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    path = folder / storage.PROJECT_FILE
    data = json.loads(path.read_text(encoding="utf-8")) | {"at": 41, "name": "from the other computer"}
    path.write_text(json.dumps(data), encoding="utf-8")
    storage.edit(folder, "b", rename("b"))
    assert [storage.undo(folder)[0].project.name for _ in range(3)] == ["from the other computer", "a", "first"]


def test_a_file_with_the_highest_number_there_can_be_stays_readable(folder: Path) -> None:
    path = folder / storage.PROJECT_FILE
    data = json.loads(path.read_text(encoding="utf-8"))
    path.write_text(json.dumps(data | {"at": history.HIGHEST}), encoding="utf-8")
    with pytest.raises(StorageError, match='put "at": 0 into'):
        storage.edit(folder, "rename", rename("another"))
    assert storage.load(folder).project.name == data["name"]


def test_a_lost_history_says_that_earlier_steps_are_missing(folder: Path) -> None:
    for word in "ab":
        storage.edit(folder, word, rename(word))
    (folder / storage.HISTORY_FILE).unlink()
    with pytest.raises(StorageError, match="earlier steps are missing"):
        storage.undo(folder)
    storage.edit(folder, "c", rename("c"))
    assert storage.undo(folder)[0].project.name == "b"
    with pytest.raises(StorageError, match="earlier steps are missing"):
        storage.undo(folder)
    assert name(folder) == "b"


@pytest.mark.parametrize("share", [0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.999])
def test_a_cut_history_is_put_aside_or_still_read_and_edits_go_on(folder: Path, share: float) -> None:
    for i in range(40):
        storage.edit(folder, f"{i}", rename(f"n{i}"))
    path = folder / storage.HISTORY_FILE
    path.write_bytes(path.read_bytes()[: int(share * path.stat().st_size)])
    storage.edit(folder, "after", rename("after"))
    assert name(folder) == "after"
    assert storage.undo(folder)[0].project.name == "n39"
    assert name(folder) == "n39"


@pytest.mark.parametrize("bytes_lost", [1, 100, 4000])
def test_a_history_whose_last_page_is_cut_never_takes_the_garden_back_to_its_first_state(
    folder: Path, bytes_lost: int
) -> None:
    """SQLite reads such a file, and where the garden stands, which is on its last page, as the first state."""
    for word in "abcd":
        storage.edit(folder, word, rename(word))
    path = folder / storage.HISTORY_FILE
    path.write_bytes(path.read_bytes()[:-bytes_lost])
    storage.edit(folder, "e", rename("e"))
    (folder / storage.PROJECT_FILE).write_text("{", encoding="utf-8")
    storage.recover(folder)
    assert name(folder) == "e"


def test_what_acts_by_itself_in_a_history_from_elsewhere_is_put_aside(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    sql(folder, "CREATE TRIGGER harm AFTER INSERT ON steps BEGIN DELETE FROM steps; END")
    storage.edit(folder, "b", rename("b"))
    assert list(folder.glob("history.damaged-*.sqlite"))
    assert storage.undo(folder)[0].project.name == "a"


def test_a_history_whose_states_lost_their_numbers_is_put_aside(folder: Path) -> None:
    for word in "ab":
        storage.edit(folder, word, rename(word))
    rename_in_the_file(folder, "elsewhere")
    sql(
        folder,
        "DROP TABLE snapshots",
        "CREATE TABLE snapshots(number, moment, state, data)",
        "INSERT INTO snapshots VALUES(NULL, NULL, NULL, NULL)",
    )
    storage.edit(folder, "c", rename("c"))
    assert storage.undo(folder)[0].project.name == "elsewhere"
    assert list(folder.glob("history.damaged-*.sqlite"))


def test_recover_takes_no_older_state_while_another_program_holds_the_history(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for word in "abc":
        storage.edit(folder, word, rename(word))
    (folder / storage.PROJECT_FILE).write_text("{", encoding="utf-8")
    monkeypatch.setattr(history, "WAIT", 0.01)
    with contextlib.closing(sqlite3.connect(folder / storage.HISTORY_FILE)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(StorageError, match="no other program holds the file"):
            storage.recover(folder)
        assert storage.steps(folder) == ()
    storage.recover(folder)
    assert name(folder) == "c"


def test_a_history_that_is_no_database_is_kept_under_another_name(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    (folder / storage.HISTORY_FILE).write_bytes(b"a poem" * 1000)
    assert storage.steps(folder) == ()
    storage.edit(folder, "b", rename("b"))
    (aside,) = folder.glob("history.damaged-*.sqlite")
    assert aside.read_bytes() == b"a poem" * 1000
    assert labels(folder) == ["b"]


def test_a_damaged_step_is_never_applied(folder: Path) -> None:
    for word in "abc":
        storage.edit(folder, word, rename(word))
    sql(folder, "UPDATE steps SET changes = (SELECT changes FROM steps WHERE number = 1) WHERE number = 3")
    with pytest.raises(StorageError, match="earlier steps are missing"):
        storage.undo(folder)
    assert name(folder) == "c"


def test_recover_stops_at_the_last_good_step(folder: Path) -> None:
    for word in "abcdef":
        storage.edit(folder, word, rename(word))
    sql(folder, "UPDATE steps SET changes = x'00' WHERE number = 5")
    (folder / storage.PROJECT_FILE).write_text("{", encoding="utf-8")
    (folder / "garden.json.before").write_text("{", encoding="utf-8")
    storage.recover(folder)
    assert name(folder) == "d"
    assert storage.undo(folder)[0].project.name == "c"


def test_recover_never_jumps_past_an_undo(folder: Path) -> None:
    for word in "abc":
        storage.edit(folder, word, rename(word))
    storage.undo(folder)
    (folder / storage.PROJECT_FILE).write_text("", encoding="utf-8")
    storage.recover(folder)
    assert name(folder) == "b"
    assert storage.redo(folder)[0].project.name == "c"


def test_recover_never_circles(folder: Path) -> None:
    for word in "abc":
        storage.edit(folder, word, rename(word))
    sql(folder, "UPDATE steps SET follows = 3 WHERE number = 1", "DELETE FROM snapshots")
    for file in (storage.PROJECT_FILE, "garden.json.before"):
        (folder / file).write_text("", encoding="utf-8")
    with pytest.raises(StorageError, match="no earlier copy of garden"):
        storage.recover(folder)


def test_recover_does_without_a_history(folder: Path) -> None:
    for word in "abc":
        storage.edit(folder, word, rename(word))
    (folder / storage.HISTORY_FILE).unlink()
    (folder / storage.PROJECT_FILE).unlink()
    storage.recover(folder)
    assert name(folder) == "b"


def test_recover_does_with_the_history_alone(folder: Path) -> None:
    for word in "abc":
        storage.edit(folder, word, rename(word))
    for file in (storage.PROJECT_FILE, "garden.json.before"):
        (folder / file).unlink()
    with pytest.raises(StorageError, match="bring it back with gardenkit recover"):
        storage.create(folder, Project(name="new"))
    storage.recover(folder)
    assert name(folder) == "c"


def test_create_never_overwrites_what_is_left_of_a_garden(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    before = (folder / "garden.json.before").read_bytes()
    (folder / storage.HISTORY_FILE).unlink()
    (folder / storage.PROJECT_FILE).unlink()
    with pytest.raises(StorageError, match="holds the history of a garden"):
        storage.create(folder, Project(name="new"))
    assert (folder / "garden.json.before").read_bytes() == before


def test_a_history_of_an_earlier_gardenkit_is_taken_over_once(folder: Path) -> None:
    data = json.loads((folder / storage.PROJECT_FILE).read_text(encoding="utf-8"))
    (folder / storage.PROJECT_FILE).write_text(json.dumps(data | {"at": 3, "name": "c"}), encoding="utf-8")
    lines = [
        {
            "number": n,
            "follows": n - 1,
            "label": word,
            "when": 1000.0 * n,
            "gesture": "",
            "changes": [[["name"], was, word]],
        }
        for n, (was, word) in enumerate((("first", "a"), ("a", "b"), ("b", "c")), 1)
    ]
    old = "".join(json.dumps(line) + "\n" for line in lines) + '{"number": 4, "follows": 3, "lab'
    (folder / "history.jsonl").write_text(old, encoding="utf-8")
    storage.edit(folder, "d", rename("d"))
    assert labels(folder) == ["a", "b", "c", "d"]
    assert (folder / "history.jsonl.taken-over").read_text(encoding="utf-8") == old
    assert [storage.undo(folder)[0].project.name for _ in range(4)] == ["c", "b", "a", "first"]
    with pytest.raises(StorageError, match="nothing to undo"):
        storage.undo(folder)
    storage.edit(folder, "e", rename("e"))
    assert labels(folder) == ["a", "b", "c", "d", "e"]


def test_a_history_stays_under_its_cap_and_undo_still_works(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(history, "CAP", 48_000)
    monkeypatch.setattr(history, "LEAST_STEPS", 10)
    noise = [f"{i:05d}" * 80 for i in range(150)]
    for i, text in enumerate(noise):
        storage.edit(folder, f"{i}", lambda p, text=text: attrs.evolve(p, brief=Brief(wants=(Want(text=text),))))
    assert (folder / storage.HISTORY_FILE).stat().st_size < 1.5 * history.CAP
    assert storage.undo(folder)[0].project.brief.wants[0].text == noise[-2]
    assert 10 <= len(storage.steps(folder)) < 150
    for _ in range(len(storage.steps(folder)) - 1):
        storage.undo(folder)
    with pytest.raises(StorageError, match="earlier steps are missing"):
        storage.undo(folder)


def test_undo_leads_back_over_a_change_of_format(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    storage.edit(folder, "a", rename("a"))
    storage.edit(folder, "b", rename("b"))
    today = records.FORMAT
    for module in (records, storage, storage.garden_file):
        monkeypatch.setattr(module, "FORMAT", today + 1)
    monkeypatch.setitem(records.UPGRADES, today, lambda data: data | {"designer": "upgraded"})
    assert storage.load(folder).project.designer == "upgraded"
    storage.edit(folder, "c", rename("c"))
    states = [storage.undo(folder)[0].project for _ in range(3)]
    assert [(p.name, p.designer) for p in states] == [("b", "upgraded"), ("a", "upgraded"), ("first", "upgraded")]
    assert [storage.redo(folder)[0].project.name for _ in range(3)] == ["a", "b", "c"]
    assert labels(folder) == ["a", "b", "c"]


def test_a_history_of_a_newer_gardenkit_is_left_alone(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    sql(folder, f"PRAGMA user_version = {history.FORM + 1}")
    with pytest.raises(StorageError, match="written by a newer gardenkit"):
        storage.edit(folder, "b", rename("b"))
    assert name(folder) == "a"


def test_an_edit_leaves_no_file_behind(folder: Path) -> None:
    (folder / ".garden.json.999-1.tmp").write_text("left by a kill", encoding="utf-8")
    storage.edit(folder, "a", rename("a"))
    assert {path.name for path in folder.iterdir()} == {
        storage.PROJECT_FILE,
        "garden.json.before",
        storage.HISTORY_FILE,
        ".garden.lock",
        "pictures",
    }


def test_what_cannot_be_read_again_is_not_written(folder: Path) -> None:
    before = (folder / storage.PROJECT_FILE).read_bytes()
    for bad in (float("nan"), float("inf")):
        with pytest.raises(ValueError, match="declination of the survey"):
            storage.edit(
                folder,
                "declination",
                lambda p, bad=bad: attrs.evolve(
                    p, site=attrs.evolve(p.site, survey=attrs.evolve(p.site.survey, declination=bad))
                ),
            )
    with pytest.raises(ValueError, match="units"):
        storage.edit(folder, "units", lambda p: attrs.evolve(p, units="cubits"))
    assert (folder / storage.PROJECT_FILE).read_bytes() == before
    assert storage.steps(folder) == ()


def test_what_an_edit_returns_is_what_the_file_holds(folder: Path) -> None:
    stored = storage.edit(folder, "third", lambda p: attrs.evolve(p, planting=planted(9).planting))
    assert storage.load(folder).project == stored.project


def test_a_garden_on_a_read_only_disk_can_be_looked_at(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    uri = (folder / storage.HISTORY_FILE).as_uri()
    assert "?" not in uri
    for path in folder.iterdir():
        path.chmod(0o444 if path.is_file() else 0o555)
    folder.chmod(0o555)
    try:
        assert name(folder) == "a"
        assert labels(folder) == ["a"]
    finally:
        folder.chmod(0o755)


def test_the_moment_between_history_and_file_is_no_loss(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As if the power went after the step was kept and before the file was replaced."""
    for i in range(3):
        storage.edit(folder, f"drag {i}", rename(f"n{i}"), gesture="drag")

    def dark(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(work, "put_in_place", dark)
        with pytest.raises(KeyboardInterrupt):
            storage.edit(folder, "drag 3", rename("n3"), gesture="drag")
    assert name(folder) == "n2"
    storage.edit(folder, "after", rename("after"))
    assert [storage.undo(folder)[0].project.name for _ in range(2)] == ["n2", "first"]
