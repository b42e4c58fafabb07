"""Paving is true to its bond: none over another, joints of the stated width, nothing left bare, and it is counted."""

import attrs
import numpy as np
import pytest

from gardenkit.drawing.textures import bond_marks
from gardenkit.findings import GardenError
from gardenkit.geometry import outlines, plane
from gardenkit.geometry.bonds import FAN
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.layout import layout
from gardenkit.project.references import check
from gardenkit.schedules.quantities import ground_area_lines, path_lines
from gardenkit.site.site import Site
from gardenkit.structure.kinds import BONDS, bond_kind, laid_in
from gardenkit.structure.structure import GroundArea, Path, Seat, Structure
from gardenkit.units import FOOT

SLANTED = plane.region(plane.turned([(0, 0), (3.1, 0), (3.1, 1.7), (1.2, 2.2), (0, 1.9)], 23))
TERRACE = plane.region([(0, 0), (10 * FOOT, 0), (10 * FOOT, 10 * FOOT), (0, 10 * FOOT)])


@pytest.mark.parametrize("name", [name for name in BONDS if name != "setts, in fans"])
def test_units_lie_clear_of_each_other_by_their_joint_and_fill_the_ground(name):
    bond, found = bond_kind(name), laid_in(SLANTED, name)
    whole = [plane.region(outline) for outline in found.whole]
    assert {round(plane.area(one), 6) for one in whole} == {round(bond.long * bond.wide, 6)}
    assert plane.area(plane.union(whole)) == pytest.approx(sum(map(plane.area, whole))), "none over another"
    middle = whole[int(np.argmin([plane.distance(plane.point(plane.centre(SLANTED)), one) for one in whole]))]
    clear = [plane.distance(middle, one) for one in whole if one is not middle]
    assert min(clear) == pytest.approx(bond.joint, abs=1e-6)
    assert sum(c < bond.joint + 1e-6 for c in clear) >= 4, "on every side"
    pieces = plane.union([*whole, *(plane.region(outline) for outline in found.cut)])
    assert plane.area(plane.difference(pieces, SLANTED)) < 1e-6, "cut at the edges"
    bare = plane.difference(plane.grown(SLANTED, -0.1), plane.grown(pieces, bond.joint / 2 + 1e-4))
    assert plane.area(bare) < 0.02 * plane.area(SLANTED)


@pytest.mark.parametrize("name", [name for name in BONDS if name.startswith("brick")])
def test_four_by_eight_inch_bricks_are_four_and_a_half_to_the_square_foot(name):
    """Published: 4 x 8 in pavers take 4.5 to the sq ft, 450 for a patio of 10 by 10 ft before waste."""
    assert bond_kind(name).each * FOOT**2 == pytest.approx(4.5)
    found = laid_in(TERRACE, name)
    assert 450 <= found.pieces <= 1.12 * 450, "a cut piece takes a whole brick"


def test_setts_and_slabs_by_the_square_metre():
    assert bond_kind("setts, in courses").each * FOOT**2 == pytest.approx(9.0)
    assert len(laid_in(TERRACE, "setts, in courses").whole) <= 900
    assert bond_kind("slabs, stack bond").each * FOOT**2 == pytest.approx(1 / 3)


def test_setts_in_fans_lie_in_arcs_clear_of_each_other_and_are_as_many_as_cover_the_ground():
    """Sixteen setts of 3 in to the sq ft, joints included; those where two arcs meet are trimmed."""
    bond, found = bond_kind("setts, in fans"), laid_in(TERRACE, "setts, in fans")
    assert bond.each * FOOT**2 == pytest.approx(16.0)
    assert found.pieces == pytest.approx(1600, rel=0.12)
    shapes = outlines.from_outlines([*found.whole, *found.cut])
    assert outlines.close_pairs(shapes, 0.4 * bond.joint)[1].size == 0, "none nearer than its joint, narrow at the arc"
    chord = FAN * (bond.long + bond.joint)
    crowns = [max(y for _, y in one) for one in found.whole]
    assert len({round(y, 4) for y in crowns}) > 3 * chord / bond.wide, "rows bend: crowns stand at many heights"


def test_herringbone_never_has_a_straight_joint_longer_than_a_brick_and_a_half():
    bond, found = bond_kind("brick, herringbone"), laid_in(TERRACE, "brick, herringbone")
    module = bond.wide + bond.joint
    corners = np.array([min(outline) for outline in found.whole])
    lying = np.array([np.ptp([p[0] for p in outline]) > bond.wide + 0.01 for outline in found.whole])
    for axis, these in ((1, lying), (0, ~lying)):
        spots = {tuple(spot) for spot in np.round(corners[these] / module, 3).tolist()}
        on = {(x + 2 * (axis == 1), y + 2 * (axis == 0)) for x, y in spots}
        assert not {(round(x, 3), round(y, 3)) for x, y in on} & spots, "no brick end to end with another"


def paved(bond: str) -> Project:
    seats = (Seat(name="bench", at=(4.0, 1.0)), Seat(name="far bench", at=(4.0, 9.0)))
    path = Path(name="Walk", start="bench", end="far bench", surface="paving", bond=bond)
    ground_area = GroundArea(name="terrace", kind="patio", outline=((5, 2), (7.5, 2), (7.5, 5), (5, 5)), bond=bond)
    outline = ((0.0, 0.0), (8.0, 0.0), (8.0, 10.0), (0.0, 10.0))
    return Project(
        name="p",
        site=Site(boundary=outline),
        structure=Structure(seats=seats, paths=(path,), ground_areas=(ground_area,)),
    )


def test_path_and_terrace_are_counted_with_their_cuts_and_weighed_as_laid():
    project = paved("brick, herringbone")
    worked, bond = layout(project), bond_kind("brick, herringbone")
    (walk,) = [line for line in path_lines(project.structure.paths[0], worked) if line.item == "paving"]
    (terrace,) = [
        line
        for line in ground_area_lines(project.structure.ground_areas[0], worked.ground_areas["terrace"])
        if line.item == "paving"
    ]
    for line, region in ((walk, worked.surfaces["Walk"]), (terrace, worked.ground_areas["terrace"])):
        laid = laid_in(region, bond.name)
        assert line.count == pytest.approx(1.05 * laid.pieces, abs=1)
        assert line.count > bond.each * plane.area(region)
        assert line.amount == pytest.approx(laid.area * bond.thick * bond.density)
        assert f"{len(laid.whole)} whole and {len(laid.cut)} cut" in line.rule
    plain = path_lines(attrs.evolve(project.structure.paths[0], bond=""), worked)
    assert "paving" in [line.item for line in plain] and not any(line.count for line in plain)


def test_a_bond_is_drawn_in_one_stroke_of_the_pen_at_near_scale_only():
    (near,) = bond_marks(TERRACE, "brick, running bond", scale=50)
    laid = laid_in(TERRACE, "brick, running bond")
    assert len(near.lines) == laid.pieces
    assert bond_marks(TERRACE, "brick, running bond", scale=200) == ()
    assert bond_marks(TERRACE, "slabs, stack bond", scale=200) != ()


def test_a_bond_that_is_none_is_refused():
    with pytest.raises(GardenError, match='no bond of paving "brick, hering bone"'):
        check(edits.change_path(paved(""), "Walk", bond="brick, hering bone"))
