"""Throw-away gardens to open pages on: a copy of the first example, and an empty one."""

from pathlib import Path

import pytest

from gardenkit import storage
from gardenkit.notebook import gardens
from gardenkit.notebook.session import Session
from gardenkit.project import Project
from gardenkit.project.edits import handover, planting


@pytest.fixture
def garden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    monkeypatch.setenv("GARDENKIT_HOME", str(tmp_path / "home"))
    gardens.copy_garden(gardens.example("fennel_street_corner"), tmp_path / "garden")
    return Session(tmp_path / "garden")


FEW = 30  # plants: enough for every document to have something to say, and a tenth of the time of them all


@pytest.fixture
def few(garden: Session) -> Session:
    """The first example with its first plants only."""
    numbers = [p.number for p in garden.project.planting.plants[FEW:]]
    garden.edit("few plants", lambda p: planting.remove_plants(p, numbers))
    return garden


@pytest.fixture
def settled(few: Session) -> Session:
    """The same with every open warning accepted, as the client edition wants it."""
    for line in few.garden.open_warnings:
        few.edit(
            "accepted", lambda p, line=line: handover.accept(p, where=line.where, what=line.what, reason="few plants")
        )
    return few


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    monkeypatch.setenv("GARDENKIT_HOME", str(tmp_path / "home"))
    storage.create(tmp_path / "empty", Project(name="empty"))
    return Session(tmp_path / "empty")
