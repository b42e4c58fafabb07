"""Speed of saving: an edit costs the same however long the history, and little more than writing the garden as text.

Ratios of two things timed in one run, turn about, least of several.
"""

import json
import os
import time
from pathlib import Path

import attrs
import pytest
from turns import least, told

from gardenkit import storage
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.storage.changes import differences
from gardenkit.storage.garden_file import whole
from gardenkit.storage.history import BITE, CAP, History, Step, mark

pytestmark = pytest.mark.benchmark

PLANTS, FEW, MANY = 2000, 10, 10_000
ROUNDS = 9
HEAVY = 1400  # bytes, written as letters, that make a history of so many steps heavier than its cap


def add_plant(project: Project) -> Project:
    planting, number = project.planting, project.planting.last_number + 1
    plant = Plant(number=number, species="Salvia nemorosa", at=(1.25, number / 1000))
    return attrs.evolve(project, planting=attrs.evolve(planting, plants=(*planting.plants, plant), last_number=number))


class Edited:
    """A garden of 2,000 plants with so many steps behind it, each ``weight`` heavier, edited once a call."""

    def __init__(self, folder: Path, steps: int, *, weight: int = 5) -> None:
        plants = tuple(Plant(number=i, species="Salvia nemorosa", at=(i % 50, i // 50)) for i in range(PLANTS))
        project = Project(name="large", planting=Planting(plants=plants, last_number=PLANTS))
        self.folder = folder
        self.known = storage.create(folder, project)
        self()
        before = attrs.evolve(project, name="before")
        changes = list(differences(whole(add_plant(before)), whole(before)))
        with History(folder) as past:  # steps as they would have come in, in one go
            for number in range(2, steps):
                step = Step(number=number, follows=number - 1, label=os.urandom(weight).hex(), when=time.time())
                past.add(step, changes, f"state {number}")
        self()

    def __call__(self) -> None:
        self.known = storage.edit(self.folder, "plant", add_plant, known=self.known)


def test_an_edit_after_ten_thousand_steps_costs_what_it_costs_after_ten(tmp_path: Path) -> None:
    few, many = Edited(tmp_path / "few", FEW), Edited(tmp_path / "many", MANY)
    early, late = least(few, many, rounds=ROUNDS, warm=True, kept=lambda found: found[1] < 1.5 * found[0])
    size = (tmp_path / "many" / storage.HISTORY_FILE).stat().st_size
    matter = f"an edit of {PLANTS} plants after {MANY} steps, of one after {FEW} ({1000 * early:.0f} ms)"
    told(matter, f"{late / early:.2f} x", "1.5")
    told(f"history of {MANY} steps, a step", f"{size / MANY:.0f} bytes", "2000")
    assert len(storage.steps(tmp_path / "many")) >= MANY
    assert late < 1.5 * early
    assert size / MANY < 2000


def test_an_edit_that_takes_old_steps_away_costs_what_another_costs(tmp_path: Path) -> None:
    few, full = Edited(tmp_path / "few", FEW), Edited(tmp_path / "full", MANY, weight=HEAVY)
    path = tmp_path / "full"
    assert (path / storage.HISTORY_FILE).stat().st_size > CAP
    before = len(storage.steps(path))
    early, late = least(few, full, rounds=ROUNDS, warm=True, kept=lambda found: found[1] < 1.5 * found[0])
    gone = before - len(storage.steps(path))
    told(f"an edit that takes up to {BITE} old steps away, of one that takes none", f"{late / early:.2f} x", "1.5")
    assert gone > ROUNDS
    assert late < 1.5 * early


def test_an_edit_costs_little_more_than_writing_the_garden_as_plain_json_twice(tmp_path: Path) -> None:
    garden = Edited(tmp_path / "garden", FEW)
    data = whole(garden.known.project)

    def by_hand() -> None:  # what saving needs at least: the text twice (file and copy), its checksum, read once again
        for name in ("a", "b"):
            with (tmp_path / name).open("w", encoding="utf-8") as file:
                json.dump(data, file, indent=1)
                file.flush()
                os.fsync(file.fileno())
        mark(json.loads((tmp_path / "a").read_text(encoding="utf-8")))

    edit, plain = least(garden, by_hand, rounds=ROUNDS, warm=True, kept=lambda found: found[0] < 2 * found[1])
    told("an edit, of plain JSON written twice and read once", f"{edit / plain:.2f} x", "2")
    assert edit < 2 * plain
