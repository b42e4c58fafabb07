"""Nothing is lost when the computer fails: every system call of the writing path, kills, cuts, clocks, processes.

CI takes a sample. ``pytest tests/storage --often 26`` takes every call of an edit and of an undo in
turn, with three errors and kills each: some thousand faults and as many kills.
"""

import multiprocessing
import random
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import attrs
import pytest

from gardenkit import storage
from gardenkit.brief.wants import Want
from gardenkit.findings import GardenError
from gardenkit.project import Project
from gardenkit.storage import StorageError
from gardenkit.storage.files import DiskError

from . import faults
from .conftest import rename

pytestmark = pytest.mark.skipif(not faults.CAN_TRACE, reason="needs Linux and strace (.ci/run installs it)")
ERRORS = ("EIO", "ENOSPC", "EACCES")
FAULTS_A_TIME = 20  # system calls that fail, and kills, of each work in the short form
CUTS_A_TIME = 25
WORKS: dict[
    str, tuple[Callable[[Path], object], str]
] = {  # what is done while calls fail, and the name that the garden has afterwards
    "edit": (lambda garden: storage.edit(garden, "new", rename("new")), "new"),
    "undo": (storage.undo, "b"),
}


@pytest.fixture
def garden(folder: Path) -> Path:
    """A garden with some history, its folder warm."""
    for word in "abc":
        storage.edit(folder, word, rename(word))
    return folder


def places(garden: Path, tmp_path: Path, work: faults.Work) -> list[tuple[str, int]]:
    """Return every system call of ``work`` as (name, which one), in the order a shuffled list gives."""
    counts = faults.counted(work, tmp_path / "report")
    assert counts["fsync"] + counts["fdatasync"] >= 3  # the step, its journal, the project file
    assert counts["rename"] >= 1
    found = [(call, n) for call in faults.CALLS for n in range(1, counts[call] + 1)]
    random.Random(9).shuffle(found)
    return found


def sampled(found: list[tuple[str, int]], most: int) -> Iterator[tuple[str, int, str]]:
    """Yield (call, which one, error): each call once with one error, then again with the next."""
    for i in range(min(most, len(ERRORS) * len(found))):
        call, n = found[i % len(found)]
        yield call, n, ERRORS[(i + i // len(found)) % len(ERRORS)]


def stands_well(garden: Path, old: Project, new: Project) -> bool:
    """Assert the garden opens at the old or the new state, goes on, and leaves nothing behind; returns if it is new."""
    stands = storage.load(garden).project
    assert stands in (old, new), stands.name
    storage.edit(garden, "after", rename("after"))
    assert storage.load(garden).project == attrs.evolve(stands, name="after")
    assert storage.undo(garden)[0].project == stands
    assert not list(garden.glob(".*.tmp"))
    assert not list(garden.glob("*-journal"))
    assert not list(garden.glob("*damaged*"))
    return stands == new


def back_to(garden: Path, kept: dict[str, bytes]) -> None:
    for path in garden.iterdir():
        if path.is_file():
            path.unlink()
    for name, content in kept.items():
        (garden / name).write_bytes(content)


@pytest.mark.parametrize("what", WORKS)
def test_every_system_call_failing_in_turn_loses_nothing(what: str, garden: Path, tmp_path: Path, often: int) -> None:
    old = storage.load(garden).project
    done, name = WORKS[what]
    new = attrs.evolve(old, name=name)
    kept = {path.name: path.read_bytes() for path in garden.iterdir() if path.is_file()}
    report = tmp_path / "report"

    def work() -> None:
        done(garden)

    for call, n, error in sampled(places(garden, tmp_path, work), FAULTS_A_TIME * often):
        back_to(garden, kept)
        code = faults.run(work, report, "-e", f"trace={call}", "-e", f"inject={call}:error={error}:when={n}")
        where = f"{call} {n} {error}: {report.read_text() if code else ''}"
        assert code in (faults.WENT_WELL, faults.SAID), where
        if code == faults.SAID:
            assert "\n" not in report.read_text(), where
        is_new = stands_well(garden, old, new)
        assert is_new == (code == faults.WENT_WELL), where


@pytest.mark.parametrize("what", WORKS)
def test_a_kill_at_any_system_call_loses_nothing(what: str, garden: Path, tmp_path: Path, often: int) -> None:
    old = storage.load(garden).project
    done, name = WORKS[what]
    new = attrs.evolve(old, name=name)
    kept = {path.name: path.read_bytes() for path in garden.iterdir() if path.is_file()}

    def work() -> None:
        done(garden)

    killed = 0
    most = FAULTS_A_TIME * often
    for call, n, _ in sampled(places(garden, tmp_path, work), most):
        back_to(garden, kept)
        code = faults.run(work, tmp_path / "r", "-e", f"trace={call}", "-e", f"inject={call}:signal=KILL:when={n}")
        assert code in (-9, faults.WENT_WELL), (call, n, code)  # the last of some calls comes only now and then
        killed += code == -9
        is_new = stands_well(garden, old, new)
        assert is_new or code == -9, (call, n)
    assert killed > 0.8 * min(most, FAULTS_A_TIME)


def test_a_project_file_cut_anywhere_is_brought_back_whole(garden: Path, often: int) -> None:
    path = garden / storage.PROJECT_FILE
    whole, project = path.read_bytes(), storage.load(garden).project
    chance = random.Random(3)
    for _ in range(CUTS_A_TIME * often):
        path.write_bytes(whole[: chance.randrange(len(whole) - 2)])
        with pytest.raises(StorageError) as caught:
            storage.load(garden)
        assert "\n" not in str(caught.value)
        storage.recover(garden)
        assert storage.load(garden).project == project
        assert path.read_bytes() == whole


def test_a_history_with_bytes_changed_anywhere_never_gives_a_wrong_state(garden: Path, often: int) -> None:
    path = garden / storage.HISTORY_FILE
    whole, file = path.read_bytes(), (garden / storage.PROJECT_FILE).read_bytes()
    chance = random.Random(4)
    for _ in range(CUTS_A_TIME * often):
        harmed = bytearray(whole)
        for _ in range(chance.choice((1, 20, 400))):
            harmed[chance.randrange(len(harmed))] = chance.randrange(256)
        (garden / storage.PROJECT_FILE).write_bytes(file)
        path.write_bytes(bytes(harmed))
        for word in ("c", "b", "a", "first"):
            assert storage.load(garden).project.name == word
            try:
                storage.undo(garden)
            except GardenError:
                break
        storage.edit(garden, "on", rename("on"))
        assert storage.load(garden).project.name == "on"
        for left in garden.glob("history.damaged*"):
            left.unlink()


def test_a_clock_that_jumps_about_loses_no_step(garden: Path, monkeypatch: pytest.MonkeyPatch, often: int) -> None:
    chance, now = random.Random(5), time.time()
    names = ["c"]
    for i in range(30 * often):
        now += chance.choice((-86_400.0, -3.0, 5.0, 86_400.0))
        monkeypatch.setattr(time, "time", lambda now=now: now)
        storage.edit(garden, f"{i}", rename(f"n{i}"), gesture="drag")
        names.append(f"n{i}")
    for word in reversed(names[:-1]):
        assert storage.undo(garden)[0].project.name == word


def with_want(project: Project, text: str) -> Project:
    wants = (*project.brief.wants, Want(text=text))
    return attrs.evolve(project, brief=attrs.evolve(project.brief, wants=wants))


PATIENCE = 6  # times a refused edit is made again, as a designer would


def _many(folder: Path, start: int, count: int) -> None:
    known = None
    for i in range(start, start + count):
        for tries in range(PATIENCE):
            try:
                known = storage.edit(folder, f"{i}", lambda p, i=i: with_want(p, str(i)), known=known)
                break
            except DiskError:  # the others held the garden too long; nothing was written, as the count shows
                if tries + 1 == PATIENCE:
                    raise


def test_eight_processes_lose_no_edit(garden: Path, often: int) -> None:
    count = 5 * often
    fork = multiprocessing.get_context("fork")
    workers = [fork.Process(target=_many, args=(garden, 1000 * k, count)) for k in range(8)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert [worker.exitcode for worker in workers] == [0] * 8
    found = sorted(int(want.text) for want in storage.load(garden).project.brief.wants)
    assert found == [1000 * k + i for k in range(8) for i in range(count)]
    steps = storage.steps(garden)
    assert [step.follows for step in steps] == [step.number - 1 for step in steps]
