"""A small invented garden with a lawn, a gravel path and a few plants, for the schedules."""

import attrs
import pytest

from gardenkit.planting.catalogue import Catalogue, load_catalogue
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.project.layout import Layout, layout
from gardenkit.site.climate import Climate
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site import Building, Site
from gardenkit.site.soil import Soil
from gardenkit.structure.structure import Bed, GroundArea, Path, Structure, Support

SITE = Site(
    place=Place(name="Nowhere (invented)", latitude=42.0, longitude=-72.0, elevation=50.0, timezone="America/New_York"),
    boundary=((0, 0), (12, 0), (12, 10), (0, 10)),
    buildings=(Building(name="house", outline=((0, 8), (12, 8), (12, 10), (0, 10))),),
    openings=(
        Opening(name="gate", kind="gate", start=(5.5, 0), end=(6.5, 0)),
        Opening(name="door", kind="door", start=(5.5, 8), end=(6.5, 8), on="house"),
    ),
    soil=Soil(sand_percent=40, silt_percent=40, clay_percent=20),
    climate=Climate(
        zone="6a",
        tmin=(-8, -7, -3, 3, 9, 14, 17, 16, 12, 6, 1, -5),
        tmax=(0, 2, 8, 15, 21, 26, 29, 27, 23, 16, 9, 2),
        rain=(80,) * 12,
    ),
)
STRUCTURE = Structure(
    paths=(Path(name="walk", start="gate", end="door", width=1.0, curvature=0.0, surface="gravel"),),
    beds=(Bed(name="West", at=(1, 4), edging="brick"), Bed(name="East", at=(11, 4))),
    ground_areas=(GroundArea(name="lawn", kind="lawn", outline=((7, 1), (9, 1), (9, 3), (7, 3))),),
    supports=(Support(name="arch", kind="arch", line=((5.2, 0.3), (6.8, 0.3)), height=2.4, depth=0.6),),
)
PLANTING = Planting(
    plants=(
        Plant(number=1, species="Salvia nemorosa", at=(1, 3)),
        Plant(number=2, species="Salvia nemorosa", at=(1.5, 3)),
        Plant(number=3, species="Cercis canadensis", at=(2.5, 5.5)),
        Plant(number=4, species="Nepeta × faassenii", at=(10.5, 3)),
    )
)


@pytest.fixture
def small_garden() -> Project:
    return Project(name="Small", invented=True, site=SITE, structure=STRUCTURE, planting=PLANTING)


@pytest.fixture
def bare_garden(small_garden: Project) -> Project:
    return attrs.evolve(small_garden, planting=Planting())


@pytest.fixture
def worked(small_garden: Project) -> Layout:
    return layout(small_garden)


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()
