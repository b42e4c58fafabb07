"""Each work that can hurt somebody puts its caution on the garden's one card, and no other does."""

from pathlib import Path

import pytest

from gardenkit.garden import Garden
from gardenkit.garden.safety import safety_card
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.site.site import Site
from gardenkit.structure.structure import GroundArea, Structure, Support

RING = ((0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0))
SQUARE = ((2.0, 2.0), (5.0, 2.0), (5.0, 5.0), (2.0, 5.0))
LINE = ((5.0, 3.0), (7.0, 3.0))


def patio(kind: str) -> Structure:
    return Structure(ground_areas=(GroundArea(name="patio", kind=kind, outline=SQUARE),))


def arch(height: float) -> Structure:
    return Structure(supports=(Support(name="arch", kind="arch", line=LINE, height=height),))


@pytest.mark.parametrize(
    ("structure", "plants", "cautions"),
    [
        (Structure(), (), set()),
        (Structure(), (Plant(number=1, species="Salvia nemorosa", at=(1, 3)),), {"digging"}),
        (patio("lawn"), (), {"digging"}),
        (patio("patio"), (), {"digging", "stone dust"}),
        (arch(1.8), (), {"digging", "treated wood"}),
        (arch(2.4), (), {"digging", "treated wood", "ladders"}),
    ],
    ids=["nothing", "a plant", "a lawn", "paving", "a low arch", "a high arch"],
)
def test_each_work_has_its_caution(
    structure: Structure, plants: tuple[Plant, ...], cautions: set[str], tmp_path: Path
) -> None:
    project = Project(name="plot", site=Site(boundary=RING), structure=structure, planting=Planting(plants=plants))
    said = [line.what for line in safety_card(Garden(project, tmp_path))]
    assert {name for line in said for name in line.partition("whole garden: ")[2].split(", ")} == cautions
    assert len(said) == bool(cautions)
