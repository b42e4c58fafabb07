"""The garden folder keeps everything: through crashes, two notebooks, restarts and damaged files."""

import json
import os
import random
import signal
import subprocess
import sys
import textwrap
import threading
import time
from pathlib import Path

import attrs
import pytest

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.site.heights import SpotHeight
from gardenkit.site.openings import Opening
from gardenkit.site.site import Site
from gardenkit.storage import StorageError, records
from gardenkit.structure.structure import Path as GardenPath
from gardenkit.structure.structure import Seat, Structure

PLOT = ((0.0, 0.0), (12.0, 0.0), (12.0, 18.0), (0.0, 18.0))


def rename(name: str):
    return lambda project: attrs.evolve(project, name=name)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    garden = tmp_path / "garden"
    storage.create(
        garden,
        Project(
            name="first",
            site=Site(boundary=PLOT),
            structure=Structure(
                paths=(GardenPath(name="walk", start="gate", end="door"),),
                seats=(Seat(name="gate", at=(6.0, 1.0)), Seat(name="door", at=(6.0, 12.0))),
            ),
        ),
    )
    return garden


def test_a_project_reads_back_as_it_was_written(folder: Path) -> None:
    plants = tuple(Plant(number=i, species="Salvia nemorosa", at=(i / 3, 2.0)) for i in range(5))
    kept = storage.edit(folder, "plant", lambda p: attrs.evolve(p, planting=Planting(plants=plants))).project
    again = storage.load(folder).project
    assert again.planting.plants[1].at == pytest.approx((1 / 3, 2.0), abs=1e-6)
    assert attrs.evolve(again, planting=kept.planting) == kept


def test_the_project_file_is_readable_text(folder: Path) -> None:
    data = json.loads((folder / storage.PROJECT_FILE).read_text(encoding="utf-8"))
    assert data["format"] == records.FORMAT
    assert data["structure"]["paths"][0]["name"] == "walk"
    assert data["site"]["boundary"][1] == [12.0, 0.0]


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -float("inf")])
def test_a_number_that_json_has_no_word_for_is_never_written(number: float) -> None:
    for record in ({"height": number}, {"at": [0.0, number]}, {"spots": [{"at": [0.0, number]}]}):
        with pytest.raises(ValueError, match="not JSON compliant"):
            records.readable(record)


def test_undo_and_redo_survive_a_restart(folder: Path) -> None:
    for name in ("second", "third"):
        storage.edit(folder, f"call it {name}", rename(name))
    stored, label = storage.undo(folder)
    assert (stored.project.name, label) == ("second", "call it third")
    code = (
        "import sys; from pathlib import Path; from gardenkit import storage; f = Path(sys.argv[1]);"
        "print(storage.undo(f)[0].project.name, storage.redo(f)[0].project.name, storage.redo(f)[0].project.name)"
    )
    out = subprocess.run([sys.executable, "-c", code, str(folder)], capture_output=True, text=True, check=True)
    assert out.stdout.split() == ["first", "second", "third"]


def test_a_new_change_after_undo_starts_a_new_line_and_keeps_the_old_one_in_the_history(folder: Path) -> None:
    storage.edit(folder, "a", rename("a"))
    storage.undo(folder)
    storage.edit(folder, "b", rename("b"))
    assert storage.undo(folder)[0].project.name == "first"
    assert storage.redo(folder)[0].project.name == "b"
    assert [step.label for step in storage.steps(folder)] == ["a", "b"]


def test_there_is_nothing_to_undo_at_the_beginning(folder: Path) -> None:
    with pytest.raises(StorageError, match="nothing to undo"):
        storage.undo(folder)
    with pytest.raises(StorageError, match="nothing to redo"):
        storage.redo(folder)


def test_a_drag_is_one_step_of_undo(folder: Path) -> None:
    storage.edit(folder, "name", rename("before"))
    for curvature in (0.5, 0.6, 0.7):

        def turn(project: Project, curvature: float = curvature) -> Project:
            path = attrs.evolve(project.structure.paths[0], curvature=curvature)
            return attrs.evolve(project, structure=attrs.evolve(project.structure, paths=(path,)))

        storage.edit(folder, "bend the path", turn, gesture="bend")
    assert storage.load(folder).project.structure.paths[0].curvature == 0.7
    undone, label = storage.undo(folder)
    assert (undone.project.structure.paths[0].curvature, undone.project.name, label) == (0.4, "before", "bend the path")
    assert storage.redo(folder)[0].project.structure.paths[0].curvature == 0.7


def test_a_refused_change_leaves_the_files_untouched(folder: Path) -> None:
    before = {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file()}
    gate = Opening(name="side gate", kind="gate", start=(3.0, 5.0), end=(4.0, 5.0))
    with pytest.raises(GardenError, match=r'gate "side gate" is 3\.50 m from the boundary'):
        storage.edit(folder, "gate", lambda p: attrs.evolve(p, site=attrs.evolve(p.site, openings=(gate,))))
    bow_tie = ((0.0, 0.0), (5.0, 5.0), (5.0, 0.0), (0.0, 5.0))
    with pytest.raises(GardenError, match="the boundary crosses or touches itself"):
        storage.edit(folder, "edge", lambda p: attrs.evolve(p, site=attrs.evolve(p.site, boundary=bow_tie)))
    assert {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file()} == before


def test_two_notebooks_on_one_garden_never_overwrite_each_other(folder: Path) -> None:
    def add_many(start: int) -> None:
        known = None
        for i in range(start, start + 25):

            def add(project: Project, i: int = i) -> Project:
                plant = Plant(number=i, species="Salvia nemorosa", at=(0.0, float(i)))
                return attrs.evolve(
                    project, planting=attrs.evolve(project.planting, plants=(*project.planting.plants, plant))
                )

            known = storage.edit(folder, f"plant {i}", add, known=known)

    threads = [threading.Thread(target=add_many, args=(start,)) for start in (0, 100)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    numbers = sorted(plant.number for plant in storage.load(folder).project.planting.plants)
    assert numbers == [*range(25), *range(100, 125)]


# A process that has read the package begins a worker at each line: a worker begun from nothing takes a second more.
WORKERS = textwrap.dedent("""
    import os, sys, attrs
    from pathlib import Path
    from gardenkit import storage
    folder = Path(sys.argv[1])
    def say(what):
        sys.stdout.write(f"{what}\\n"); sys.stdout.flush()
    def drag():
        n = len(storage.steps(folder))
        say("ready")
        while True:
            n += 1
            name = f"name {n}"
            storage.edit(folder, name, lambda p: attrs.evolve(p, name=name))
            say(n)
    for _ in sys.stdin:
        worker = os.fork()
        if worker == 0:
            drag()
        say(f"worker {worker}")
        os.waitpid(worker, 0)
        say("gone")
""")


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL exists on POSIX only")
def test_killing_the_kernel_fifty_times_loses_at_most_the_last_gesture(folder: Path) -> None:
    chance = random.Random(50)
    command = [sys.executable, "-c", WORKERS, str(folder)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as workers:
        assert workers.stdin is not None and workers.stdout is not None
        for _ in range(50):
            workers.stdin.write("begin\n")
            workers.stdin.flush()
            said: list[str] = []
            while not ("ready" in said and any(line.startswith("worker") for line in said)):
                said.append(workers.stdout.readline().strip())
            number = next(line for line in said if line.startswith("worker")).removeprefix("worker ")
            time.sleep(chance.uniform(0.0, 0.03))
            os.kill(int(number), signal.SIGKILL)
            said += iter(lambda: workers.stdout.readline().strip(), "gone")
            finished = [int(line) for line in said if line.isdigit()]
            opened = storage.load(folder)
            if finished:  # every gesture that was reported saved is there; one more may be
                assert int(opened.project.name.removeprefix("name ")) >= finished[-1]
            storage.edit(folder, "still works", rename(f"name {len(storage.steps(folder)) + 1}"))
            assert storage.undo(folder)[0].project == opened.project
            storage.redo(folder)
        workers.stdin.close()


def one_section(text: str, name: str, value: object) -> str:
    return json.dumps(json.loads(text) | {name: value})


@pytest.mark.parametrize(
    ("harm", "message"),
    [
        (lambda text: text[: len(text) // 2], "damaged at line"),
        (lambda _: "[]", "names no format number"),
        (
            lambda text: text.replace('"curvature": 0.4', '"curvature": "wavy"'),
            r"damaged at structure\.paths\[0\]\.curvature",
        ),
        (lambda text: text.replace('"width": 0.9144', '"breadth": 0.9144'), r"damaged at structure\.paths\[0\]"),
        (lambda text: text.replace(f'"format": {records.FORMAT}', '"format": 99'), "written by a newer gardenkit"),
        (
            lambda text: text.replace('"curvature": 0.4', '"curvature": 0.4, "curvature": 0.5'),
            'damaged: "curvature" stands twice in one record',
        ),
        (lambda text: text.rstrip()[:-1] + ', "brief": {}}', 'damaged: "brief" stands twice'),
        (
            lambda text: text.replace('"curvature": 0.4', f'"curvature": {"9" * 400}'),
            "a finite number, found one of very many",
        ),
        (
            lambda text: text.replace('"curvature": 0.4', f'"curvature": {"9" * 5000}'),
            "a number in it has too many digits",
        ),
        (
            lambda text: text.replace('"curvature": 0.4', f'"curvature": {"[" * 900}{"]" * 900}'),
            r"expected a number, found '\[{40}'",
        ),
        (lambda _: "[" * 100_000, "lists within lists without end"),
        (lambda text: one_section(text, "structure", []), "damaged at structure: expected a record, fields with"),
        (lambda text: one_section(text, "site", None), "damaged at site: expected a record, fields with their names"),
        (lambda text: one_section(text, "areas", 3), "damaged at areas: expected a list; restore"),
        (lambda text: one_section(text, "site", {"boundary": [[1.0]]}), r"site\.boundary\[0\]: expected more values"),
        (lambda text: one_section(text, "site", {"boundary": [[1, 2, 3]]}), r"boundary\[0\]: expected fewer values"),
        (lambda text: text.replace('"at": 1', '"at": "one"'), '"at" must be a whole number'),
    ],
)
def test_a_damaged_or_newer_file_is_named_and_left_alone(folder: Path, harm, message: str) -> None:
    storage.edit(folder, "a", rename("a"))
    path = folder / storage.PROJECT_FILE
    harmed = harm(path.read_text(encoding="utf-8"))
    path.write_text(harmed, encoding="utf-8")
    with pytest.raises(StorageError, match=message) as caught:
        storage.load(folder)
    assert "\n" not in str(caught.value)
    with pytest.raises(StorageError):
        storage.edit(folder, "b", rename("b"))
    assert path.read_text(encoding="utf-8") == harmed


def test_a_damaged_file_is_rebuilt_from_its_copy_and_the_history(folder: Path) -> None:
    for name in ("a", "b", "c"):
        storage.edit(folder, name, rename(name))
    path = folder / storage.PROJECT_FILE
    path.write_text("{", encoding="utf-8")
    aside = storage.recover(folder)
    assert storage.load(folder).project.name == "c"
    assert aside.read_text(encoding="utf-8") == "{"
    assert storage.undo(folder)[0].project.name == "b"


def test_an_old_format_is_upgraded_step_by_step(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = folder / storage.PROJECT_FILE
    data = json.loads(path.read_text(encoding="utf-8"))
    data["format"] = -1
    data["title"] = data.pop("name")
    path.write_text(json.dumps(data), encoding="utf-8")
    monkeypatch.setitem(records.UPGRADES, -1, lambda d: d)
    monkeypatch.setitem(
        records.UPGRADES, 0, lambda d: {k: v for k, v in d.items() if k != "title"} | {"name": d["title"]}
    )
    assert storage.load(folder).project.name == "first"


def test_a_folder_without_a_garden_is_named(tmp_path: Path) -> None:
    with pytest.raises(StorageError, match="holds no garden"):
        storage.load(tmp_path)


def test_a_garden_is_never_made_over_another(folder: Path) -> None:
    with pytest.raises(StorageError, match="already holds a garden"):
        storage.create(folder, Project(name="other"))
    assert storage.load(folder).project.name == "first"


def test_one_place_with_two_heights_is_refused_before_it_is_saved(folder: Path) -> None:
    twice = (SpotHeight(at=(1.0, 1.0), height=0.0), SpotHeight(at=(1.0, 1.0), height=0.5))
    with pytest.raises(GardenError, match="has two heights"):
        storage.edit(folder, "heights", lambda p: attrs.evolve(p, site=attrs.evolve(p.site, heights=twice)))
    assert storage.load(folder).project.site.heights == ()


@pytest.mark.skipif(os.name != "posix", reason="a folder is told to the disk on POSIX only")
def test_the_project_file_is_on_the_disk_before_it_takes_its_place_and_its_folder_after(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[tuple[str, int]] = []
    to_disk, replace = os.fsync, Path.replace

    def told(handle: int) -> None:
        done.append(("told to the disk", os.fstat(handle).st_ino))
        to_disk(handle)

    def placed(self: Path, target: Path) -> Path:
        done.append((target.name, self.stat().st_ino))
        return replace(self, target)

    monkeypatch.setattr(os, "fsync", told)
    monkeypatch.setattr(Path, "replace", placed)
    storage.edit(folder, "new", rename("new"))
    inode = (folder / storage.PROJECT_FILE).stat().st_ino
    assert done.index(("told to the disk", inode)) < done.index((storage.PROJECT_FILE, inode))
    after = done[done.index((storage.PROJECT_FILE, inode)) :]
    assert ("told to the disk", folder.stat().st_ino) in after
