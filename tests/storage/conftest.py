"""A small garden of our own invention to store, harm and bring back."""

from collections.abc import Callable
from pathlib import Path

import attrs
import pytest

from gardenkit import storage
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.site.site import Site

PLOT = ((0.0, 0.0), (120.0, 0.0), (120.0, 180.0), (0.0, 180.0))


def rename(name: str) -> Callable[[Project], Project]:
    return lambda project: attrs.evolve(project, name=name)


def planted(count: int) -> Project:
    plants = tuple(Plant(number=i, species="Salvia nemorosa", at=(i % 50 * 2.3, i // 50 * 2.1)) for i in range(count))
    return Project(name="first", site=Site(boundary=PLOT), planting=Planting(plants=plants, last_number=count))


def add_plant(project: Project) -> Project:
    planting, number = project.planting, project.planting.last_number + 1
    plant = Plant(number=number, species="Salvia nemorosa", at=(1.25, number / 1000))
    return attrs.evolve(project, planting=attrs.evolve(planting, plants=(*planting.plants, plant), last_number=number))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    garden = tmp_path / "garden"
    storage.create(garden, planted(3))
    return garden
