"""Where a click is put, against plane geometry that can be checked by hand: 3-4-5 triangles, squares, whole grids."""

import math

import pytest

from gardenkit.geometry import plane
from gardenkit.geometry.sketching import lengths_of, outline_of
from gardenkit.geometry.snapping import Snap, Targets, snapped, targets_of

PLOT = ((0.0, 0.0), (20.0, 0.0), (20.0, 30.0), (0.0, 30.0))
THERE = targets_of([PLOT], [((4.0, 10.0), (8.0, 13.0))], [(15.0, 26.0)])
FREE = Snap(corners=False, edges=False, square=False)


def test_a_click_near_a_corner_is_put_onto_it_before_the_edge_beside_it() -> None:
    put = snapped((19.8, 0.15), THERE, by=Snap())
    assert (put.at, put.to) == ((20.0, 0.0), "corner")
    assert snapped((14.9, 26.1), THERE, by=Snap()).at == (15.0, 26.0)


def test_a_click_near_an_edge_is_put_onto_its_nearest_place() -> None:
    put = snapped((12.0, 0.2), THERE, by=Snap())
    assert (put.at, put.to) == ((12.0, 0.0), "edge")


@pytest.mark.parametrize("at", [(19.8, 0.15), (12.0, 0.2), (7.03, 7.04)])
def test_with_everything_switched_off_a_click_stays_where_it_was(at: tuple[float, float]) -> None:
    assert snapped(at, THERE, before=[(7.0, 2.0)], by=FREE).at == at


def test_a_side_a_little_off_the_level_is_made_level() -> None:
    put = snapped((10.0, 5.2), Targets(), before=[(5.0, 5.0)], by=Snap())
    assert put.to == "right angle" and put.at[1] == 5.0
    assert snapped((10.0, 7.0), Targets(), before=[(5.0, 5.0)], by=Snap()).to == ""  # 22 degrees off: meant so


def test_a_second_side_stands_square_to_the_first() -> None:
    before = [(0.0, 0.0), (4.0, 3.0)]  # the 3-4-5 triangle turned: square to it is (-3, 4)
    put = snapped((1.1, 7.2), Targets(), before=before, by=Snap())
    side, first = (put.at[0] - 4.0, put.at[1] - 3.0), (4.0, 3.0)
    assert put.to == "right angle"
    assert side[0] * first[0] + side[1] * first[1] == pytest.approx(0.0, abs=0.01)  # millimetres, times 5 m


def test_a_first_side_may_stand_square_to_the_edge_it_starts_on() -> None:
    start = (6.0, 11.5)  # the middle of the slanting line, which runs 4 over and 3 up
    put = snapped((4.4, 13.7), THERE, before=[start], by=Snap(corners=False))
    assert put.to == "right angle"
    assert (put.at[0] - 6.0) * 4 + (put.at[1] - 11.5) * 3 == pytest.approx(0.0, abs=0.01)


def test_four_free_clicks_round_a_rectangle_become_one() -> None:
    clicked: list[tuple[float, float]] = []
    for at in ((3.0, 3.0), (9.0, 3.3), (8.8, 7.1), (3.15, 7.0)):
        clicked.append(snapped(at, Targets(), before=clicked, by=Snap()).at)
    assert clicked[3] == (3.0, clicked[2][1])  # level with the first click, though clicked 15 cm off
    a, b, c, d = clicked
    assert math.dist(a, c) == pytest.approx(math.dist(b, d), abs=0.002)  # a rectangle has equal diagonals


def test_a_square_side_ends_on_an_edge_that_it_nearly_meets() -> None:
    put = snapped((19.85, 8.1), THERE, before=[(12.0, 8.0)], by=Snap())
    assert (put.at, put.to) == ((20.0, 8.0), "right angle")


def test_a_grid_takes_whole_steps_and_round_lengths_along_a_square_side() -> None:
    by = Snap(grid=True, step=0.25)
    assert snapped((7.1, 7.4), Targets(), by=by).at == (7.0, 7.5)
    put = snapped((9.06, 7.6), Targets(), before=[(7.1, 7.5)], by=by)
    assert put.at == (9.1, 7.5)  # 2 m from where it began, which is itself no place of the grid


@pytest.mark.parametrize(
    ("way", "clicked", "area"),
    [
        ("rectangle", ((1.0, 1.0), (5.0, 4.0)), 12.0),
        ("side and depth", ((0.0, 0.0), (4.0, 3.0), (-3.0, 4.0)), 25.0),  # a square on the side of 5 m
        ("side and depth", ((0.0, 0.0), (4.0, 3.0), (1.0, 7.0)), 25.0),  # as deep from anywhere along
        ("corners", ((0.0, 0.0), (3.0, 0.0), (3.0, 4.0)), 6.0),
    ],
)
def test_a_few_clicks_make_the_shape_that_was_meant(way, clicked, area) -> None:
    made = plane.outline(outline_of(clicked, way), where="the test")
    assert plane.area(plane.region(made)) == pytest.approx(area)


def test_a_curve_goes_through_every_click_and_half_way_where_four_point_weights_put_it() -> None:
    """Half way between two clicks the weights are -1/16, 9/16, 9/16, -1/16 (Dubuc, 1986, the four-point scheme)."""
    clicks = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
    made = outline_of(clicks, "curve")
    assert set(clicks) <= set(made)
    assert made[2] == pytest.approx((10 / 16, 10 / 16))


def test_lengths_are_those_of_the_sides_back_to_the_start() -> None:
    assert lengths_of(((0.0, 0.0), (3.0, 0.0), (3.0, 4.0)), closed=True) == (3.0, 4.0, 5.0)
    assert lengths_of(((0.0, 0.0), (3.0, 0.0), (3.0, 4.0)), closed=False) == (3.0, 4.0)
