"""What is meant by a click on the plan: the small thing before the large one it lies on, and nothing beside all."""

import pytest

from gardenkit.findings import GardenError
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project.edits.site import shape_of
from gardenkit.project.pointing import area_at, plants_in_lasso, thing_at
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.structure.structure import GroundArea, Structure

HOUSE = Building(name="house", outline=((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)))
FENCE = Fence(name="fence", line=((0.0, 10.0), (12.0, 10.0)))
GATE = Opening(name="gate", kind="gate", start=(5.0, 10.0), end=(6.0, 10.0), on="fence")
TREE = ExistingTree(name="pear", at=(9.0, 6.0), height=5.0, spread=4.0)
SITE = Site(
    boundary=((-1.0, -1.0), (12.0, -1.0), (12.0, 10.0), (-1.0, 10.0)),
    buildings=(HOUSE,),
    fences=(FENCE,),
    openings=(GATE,),
    trees=(TREE,),
)


def test_a_click_means_what_lies_there_or_within_reach():
    assert thing_at(SITE, (3.0, 2.0)) == HOUSE
    assert thing_at(SITE, (2.0, 9.8)) == FENCE
    assert thing_at(SITE, (9.2, 6.1)) == TREE
    assert thing_at(SITE, (9.0, 3.0)) is None
    assert thing_at(SITE, (6.2, 2.0)) is None  # beside a wall is not in the house


def test_a_gate_in_a_fence_is_meant_before_the_fence():
    assert thing_at(SITE, (5.5, 10.1)) == GATE
    assert thing_at(SITE, (6.5, 10.1)) == FENCE


def test_a_lasso_takes_what_it_goes_round_though_it_crosses_itself():
    plants = tuple(Plant(number=n, species="Salvia nemorosa", at=(float(n), 1.0)) for n in range(1, 6))
    eight = ((0.5, 0.0), (2.5, 2.0), (2.5, 0.0), (0.5, 2.0))  # two triangles that meet at (1.5, 1.0)
    planting = Planting(plants=plants, last_number=5)
    assert plants_in_lasso(planting, eight, year=0) == {1, 2}
    assert plants_in_lasso(planting, ((2.5, 0.0), (5.5, 0.0), (5.5, 2.0), (3.5, 2.0)), year=0) == {3, 4, 5}
    with pytest.raises(GardenError, match="goes round no ground"):
        plants_in_lasso(planting, ((1.0, 1.0), (1.0, 1.0)), year=0)


def test_of_two_areas_the_one_laid_last_is_meant():
    lawn = GroundArea(name="lawn", kind="lawn", outline=((0.0, 0.0), (8.0, 0.0), (8.0, 8.0), (0.0, 8.0)))
    terrace = GroundArea(name="terrace", kind="patio", outline=((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0)))
    laid = Structure(ground_areas=(lawn, terrace))
    assert area_at(laid, (1.0, 1.0)) == terrace
    assert area_at(laid, (5.0, 5.0)) == lawn
    assert area_at(laid, (9.0, 9.0)) is None


def test_what_a_thing_takes_of_the_plan():
    assert shape_of(HOUSE).area == 24.0
    assert shape_of(FENCE).length == 12.0
    assert tuple(shape_of(TREE).coords) == ((9.0, 6.0),)
