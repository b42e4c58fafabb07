"""Paving is painted in the bond it is laid in: the same units in the same places as on the plan."""

import numpy as np
import pytest

from gardenkit.drawing.painted.ground import LAID_FROM, how_laid, materials
from gardenkit.drawing.painted.light import unit_at
from gardenkit.drawing.textures import bond_marks
from gardenkit.drawing.view import view_scene
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project.layout import layout
from gardenkit.structure.kinds import BONDS, bond_kind, laid_in
from tests.structure.test_bonds import SLANTED, paved


@pytest.mark.parametrize("name", BONDS)
def test_the_painted_units_are_those_that_are_laid(name: str) -> None:
    joint, how, laid = float(bond_kind(name).joint), how_laid(SLANTED, name), laid_in(SLANTED, name).whole
    for outline in laid[:: max(1, len(laid) // 40)]:
        unit = np.array(outline)
        middle = unit.mean(axis=0)
        seen = [unit_at(how, *(middle + share * (corner - middle))) for corner in unit for share in (0.0, 0.5, 0.9)]
        assert len({number for _, number in seen}) == 1, "one unit all over"
        assert min(edge for edge, _ in seen) > joint / 2
        sides = (unit + np.roll(unit, -1, axis=0)) / 2
        clear = [unit_at(how, *side)[0] for side in sides]
        assert np.median(clear) == pytest.approx(joint / 2, abs=0.15 * joint)


def test_every_paved_area_and_path_is_painted_in_its_own_bond_and_colour() -> None:
    project = paved("brick, herringbone")
    made = materials(project, layout(project), ())
    assert set(np.unique(made.kinds)) >= {LAID_FROM, LAID_FROM + 1}
    assert made.laid.shape == (2, 12) and (made.laid[:, 0] == 2).all()
    red, green, blue = made.units[0]
    assert red > 1.3 * green > 1.3 * blue * 0.9, "bricks are red"


def test_the_drawn_view_shows_the_joints_of_the_bond() -> None:
    def joints(bond: str) -> int:
        project = paved(bond)
        seen = view_scene(project, layout(project), Catalogue(()), eye=(6.0, 0.5), towards=0.0, year=0, month=6)
        return sum(len(getattr(mark, "lines", ())) for mark in seen.marks)

    assert joints("brick, basket weave") > 3 * joints("")


def test_paving_on_the_plan_has_the_colour_of_its_units() -> None:
    inks = {bond_marks(SLANTED, name, scale=20)[0].colour for name in BONDS}  # type: ignore[union-attr]
    assert len(inks) == len({kind.unit for kind in BONDS.values()}) == 3
    assert not plane.region(laid_in(SLANTED, "slabs, stack bond").whole[0]).is_empty
