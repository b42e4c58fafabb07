"""Beds changed by hand: whatever is cut or joined, no ground is lost and none is counted twice."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.structure.bed_edits import corners_of, crossing_line, cut_in_two, dividing_cut, fewer_corners, joined
from gardenkit.structure.beds import divided
from gardenkit.structure.structure import Bed, Structure

PLOT = plane.region([(0, 0), (10, 0), (10, 8), (0, 8)])
WALK = plane.region([(4.5, 0), (5.5, 0), (6.0, 8), (5.0, 8)])


def left_and_right():
    return divided(PLOT, [WALK], Structure(beds=(Bed(name="left", at=(1, 1)), Bed(name="right", at=(9, 1))))).beds


def test_the_line_put_across_a_bed_is_its_shorter_way_and_ends_outside_it() -> None:
    left, _ = left_and_right()
    a, b = crossing_line(left)
    assert not plane.contains(left.region, a) and not plane.contains(left.region, b)
    assert math.dist(a, b) == pytest.approx(4.75 + 2 * 0.3, abs=0.3)  # the bed is 4.5 to 5 m across, 8 m long


@given(y1=st.floats(0.5, 7.5), y2=st.floats(0.5, 7.5))
@settings(max_examples=40, deadline=None)
def test_two_halves_make_up_the_bed_exactly(y1: float, y2: float) -> None:
    left, right = left_and_right()
    line = dividing_cut(left.region, ((-0.5, y1), (5.8, y2)), others=[right.region])
    first, second = cut_in_two(left.region, line)
    assert plane.area(first) + plane.area(second) == pytest.approx(left.area, abs=1e-9)
    assert plane.area(first) >= plane.area(second) > 0
    assert plane.area(plane.intersection(first, second)) < 1e-9


@given(y=st.floats(0.5, 7.5))
@settings(max_examples=20, deadline=None)
def test_a_dividing_line_runs_over_the_path_but_not_into_the_next_bed(y: float) -> None:
    left, right = left_and_right()
    line = dividing_cut(left.region, ((-0.5, y), (5.0, y)), others=[right.region])
    assert plane.common_line(WALK, line).length > 0.9
    assert plane.common_line(right.region, line).length < 1e-3


def test_a_line_beside_the_bed_or_short_of_its_edges_is_refused() -> None:
    left, _ = left_and_right()
    with pytest.raises(GardenError, match="does not lie across"):
        dividing_cut(left.region, ((8, 1), (9, 1)))
    with pytest.raises(GardenError, match="from edge to edge"):
        cut_in_two(left.region, ((1, 2), (2, 2)))


def test_corners_reach_into_the_path_but_not_into_the_neighbour() -> None:
    left, right = left_and_right()
    outline = plane.region(corners_of(left.region, others=[right.region]))
    assert plane.area(plane.difference(left.region, outline)) < 1e-6
    assert plane.area(plane.intersection(right.region, outline)) < 1e-6
    assert plane.area(plane.intersection(WALK, outline)) > 1.0


def test_beds_apart_are_not_joined_and_neighbours_are() -> None:
    left, right = left_and_right()
    with pytest.raises(GardenError, match="do not touch"):
        joined(left, right)
    cut = Structure(beds=(Bed(name="a", at=(1, 1)), Bed(name="b", at=(1, 7))), cuts=(((-1, 4), (5.2, 4)),))
    a, b = (bed for bed in divided(PLOT, [WALK], cut).beds if bed.name in "ab")
    both = plane.intersection(plane.region(joined(a, b)), plane.difference(PLOT, WALK))
    assert plane.area(both) == pytest.approx(a.area + b.area, abs=0.02)


def test_a_round_lawn_keeps_its_size_with_few_corners() -> None:
    circle = plane.circle((0, 0), 2.0, sides=60)
    few = fewer_corners(plane.corners(circle), most=14)
    assert len(few) <= 14
    assert plane.area(plane.region(few)) == pytest.approx(math.pi * 4, rel=0.06)
