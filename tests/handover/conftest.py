"""The example garden, its contents worked out once, and a small plain garden."""

from pathlib import Path

import pytest

from gardenkit import storage
from gardenkit.garden import Garden
from gardenkit.handover.booklet import page
from gardenkit.handover.contents import Contents, contents
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, Site
from gardenkit.structure.structure import Bed, Structure
from gardenkit.structure.structure import Path as GardenPath

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "fennel_street_corner"


@pytest.fixture(scope="session")
def example_folder() -> Path:
    return EXAMPLE


@pytest.fixture(scope="session")
def example(example_folder: Path) -> Project:
    return storage.load(example_folder).project


@pytest.fixture(scope="session")
def told(example: Project, example_folder: Path) -> Contents:
    return contents(Garden(example, example_folder))


@pytest.fixture(scope="session")
def html(told: Contents) -> str:
    return page(told, edition="office")


@pytest.fixture
def plain_garden() -> Project:
    """A plot of 12 by 10 m with a house across the top, no place on earth, no climate."""
    return Project(
        name="Plain",
        units="metric",
        site=Site(
            boundary=((0, 0), (12, 0), (12, 10), (0, 10)),
            buildings=(Building(name="house", outline=((0, 8), (12, 8), (12, 10), (0, 10))),),
            openings=(
                Opening(name="gate", kind="gate", start=(5.5, 0), end=(6.5, 0)),
                Opening(name="door", kind="door", start=(5.5, 8), end=(6.5, 8), on="house"),
            ),
        ),
        structure=Structure(
            paths=(GardenPath(name="walk", start="gate", end="door", curvature=0.0, surface="gravel"),),
            beds=(Bed(name="West", at=(1, 4)),),
        ),
        planting=Planting(plants=(Plant(number=1, species="Salvia nemorosa", at=(1, 3)),)),
    )
