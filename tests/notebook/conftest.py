"""Throw-away gardens to open pages on: a copy of the first example, and an empty one."""

from pathlib import Path

import pytest

from gardenkit import storage
from gardenkit.notebook import gardens
from gardenkit.notebook.session import Session
from gardenkit.project import Project


@pytest.fixture
def garden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    monkeypatch.setenv("GARDENKIT_HOME", str(tmp_path / "home"))
    gardens.copy_garden(gardens.example("fennel_street_corner"), tmp_path / "garden")
    return Session(tmp_path / "garden")


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    monkeypatch.setenv("GARDENKIT_HOME", str(tmp_path / "home"))
    storage.create(tmp_path / "empty", Project(name="empty"))
    return Session(tmp_path / "empty")
