"""Things put by typed places and steps, several plants in a row, and distances to what is near, on a plain plot."""

import math

import pytest

from gardenkit.findings import GardenError
from gardenkit.geometry.rows import on_a_line, spread_evenly
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project
from gardenkit.project.edits import drawn, planting, structure
from gardenkit.project.edits.moved import MOVES, place_of, put_at
from gardenkit.project.nearness import near

SAGE = load_catalogue()["Salvia nemorosa"]
OUTLINE = ((14.0, 12.0), (18.0, 12.0), (18.0, 16.0), (14.0, 16.0))
NAMES = {
    "plant": "1",
    "seat": "seat",
    "thing": "bird bath",
    "support": "trellis",
    "area": "patio",
    "bed": "New bed",
    "level": "level",
    "note": "note",
    "stone": "walk:3",
}


@pytest.fixture
def plot() -> Project:
    made = drawn.draw(Project(name="moving"), "boundary", ((0.0, 0.0), (20.0, 0.0), (20.0, 30.0), (0.0, 30.0)))
    made = drawn.draw(made, "house", ((4.0, 1.0), (14.0, 1.0), (14.0, 8.0), (4.0, 8.0)))
    made = drawn.draw(made, "seat", ((15.0, 26.0),))
    made = drawn.draw(made, "bird bath", ((1.5, 12.0),))
    made = drawn.draw(made, "trellis", ((4.0, 20.0), (6.0, 20.0)))
    made = drawn.draw(made, "patio", OUTLINE)
    made = drawn.draw(made, "bed", ((1.0, 22.0), (4.0, 22.0), (4.0, 26.0), (1.0, 26.0)))
    made = drawn.draw(made, "level area", ((8.0, 22.0), (11.0, 22.0), (11.0, 25.0), (8.0, 25.0)))
    made = drawn.draw(made, "note", ((5.0, 15.0), (8.0, 17.0)))
    return planting.add_plants(made, SAGE, [(6.0, 12.0), (7.1, 12.3), (10.0, 16.0)])


def holding(plot: Project, sort: str) -> Project:
    """Return the plot with a path where a stone of it is asked for."""
    return structure.add_path(plot, "walk", start="seat", end="patio") if sort == "stone" else plot


@pytest.mark.parametrize("sort", MOVES)
def test_whatever_is_put_at_a_place_is_there_and_can_be_put_back(plot: Project, sort) -> None:
    plot = holding(plot, sort)
    was = place_of(plot, sort, NAMES[sort])
    moved = put_at(plot, sort, NAMES[sort], (was[0] + 0.5, was[1] - 0.25))
    assert place_of(moved, sort, NAMES[sort]) == pytest.approx((was[0] + 0.5, was[1] - 0.25), abs=0.001)
    assert place_of(put_at(moved, sort, NAMES[sort], was), sort, NAMES[sort]) == pytest.approx(was, abs=0.001)


@pytest.mark.parametrize("sort", sorted(set(MOVES) - {"note"}))  # what is written may stand beside the plot
def test_what_would_lie_off_the_plot_is_refused_in_one_sentence(plot: Project, sort) -> None:
    with pytest.raises(GardenError, match="outside the boundary"):
        put_at(holding(plot, sort), sort, NAMES[sort], (60.0, 12.0))


def test_a_bed_that_the_paths_leave_says_what_to_do_first(plot: Project) -> None:
    left = structure.reset_bed(plot, "New bed")
    name = next(b.name for b in structure.every_bed(left) if not b.outline)
    with pytest.raises(GardenError, match="draw its corners first"):
        put_at(left, "bed", name, (5.0, 15.0))


def test_a_plant_is_so_far_from_wall_boundary_and_neighbour_as_a_ruler_says(plot: Project) -> None:
    """From (6, 12): the wall at y = 8, the boundary at x = 0, the neighbour at (7.1, 12.3)."""
    found = {one.what: one.metres for one in near(plot, "plant", "1")}
    assert found == pytest.approx(
        {"house": 4.0, "the boundary": 6.0, "plant 2 (Salvia nemorosa)": math.hypot(1.1, 0.3)}
    )


def test_a_patio_is_measured_from_its_edge(plot: Project) -> None:
    """Its corner (14, 12) is 4 m above the house's corner (14, 8); its side is 2 m off the boundary at x = 20."""
    found = {one.what: one.metres for one in near(plot, "area", "patio")}
    assert found == pytest.approx({"house": 4.0, "the boundary": 2.0, "trellis": math.hypot(8.0, 4.0)})


# ---- several plants


def spots(project: Project) -> list[tuple[float, float]]:
    return [p.at for p in project.planting.plants]


def test_plants_in_a_line_lie_on_it_each_at_its_foot(plot: Project) -> None:
    """The foot of (7.1, 12.3) on the line from (6, 12) along (1, 1): half the sum of 1.1 and 0.3 along each axis."""
    made = planting.align_plants(plot, (1, 2, 3))
    assert spots(made)[1] == pytest.approx((6.7, 12.7), abs=0.001)
    assert (spots(made)[0], spots(made)[2]) == ((6.0, 12.0), (10.0, 16.0))


def test_plants_spread_evenly_have_equal_distances_along() -> None:
    even = spread_evenly([(0.0, 0.0), (9.0, 0.0), (1.0, 0.5), (2.0, 0.0)])
    assert [tuple(round(v, 9) for v in p) for p in even] == [(0.0, 0.0), (9.0, 0.0), (3.0, 0.5), (6.0, 0.0)]


def test_spots_all_at_one_place_stay_there() -> None:
    assert on_a_line([(2.0, 3.0)] * 3) == spread_evenly([(2.0, 3.0)] * 3) == ((2.0, 3.0),) * 3


def test_several_move_together_or_not_at_all(plot: Project) -> None:
    made = planting.move_plants(plot, (1, 3), by=(0.5, -1.0))
    assert spots(made) == [(6.5, 11.0), (7.1, 12.3), (10.5, 15.0)]
    with pytest.raises(GardenError, match="inside house"):
        planting.move_plants(plot, (1, 3), by=(0.0, -5.0))
    locked = planting.lock_plants(plot, 3)
    with pytest.raises(GardenError, match=r"plant 3.*locked"):
        planting.move_plants(locked, (1, 3), by=(0.5, -1.0))


def test_copies_get_new_numbers_and_stand_off_the_plants_they_are_of(plot: Project) -> None:
    made = planting.duplicate_plants(plot, (1, 2), by=(0.0, 2.0))
    assert [(p.number, p.at) for p in made.planting.plants[3:]] == [(4, (6.0, 14.0)), (5, (7.1, 14.3))]
    assert made.planting.plants[:3] == plot.planting.plants
    assert planting.remove_plants(made, (4, 5)).planting.plants == plot.planting.plants


def test_two_plants_are_not_enough_to_be_put_in_a_line(plot: Project) -> None:
    with pytest.raises(GardenError, match="it takes 3"):
        planting.align_plants(plot, (1, 2))
