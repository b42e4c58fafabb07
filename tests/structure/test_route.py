"""Claims about where a path runs."""

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.structure.route import crossings, fork, least_radius, route
from gardenkit.structure.structure import HeldPoint, Path

PLOT = plane.region([(0, 0), (12, 0), (12, 20), (0, 20)])
TREES = [plane.circle(at, 0.2, sides=16) for at in ((5, 4), (7, 8), (3, 9), (9, 12), (5, 13), (6, 16))]
GATE, DOOR = (6.0, 0.0), (4.0, 20.0)


def path(**changes):
    return Path(name="Front", start="gate", end="door", **changes)


def run(obstacles=(), start=GATE, end=DOOR, ground=PLOT, **changes):
    return route(start, end, ground, obstacles, path(**changes))


def test_the_path_meets_gate_and_door_exactly():
    made = run(TREES)
    assert tuple(made.curve.points[0]) == GATE
    assert tuple(made.curve.points[-1]) == DOOR


def test_a_path_straight_up_an_empty_plot_without_bend_is_straight():
    made = run(start=(6, 0), end=(6, 20), curvature=0)
    assert made.length == pytest.approx(20.0, abs=1e-9)


@pytest.mark.parametrize("curvature", [0.0, 0.3, 0.6, 1.0])
@pytest.mark.parametrize("sway", [0, 1, 2, 3])
def test_the_path_keeps_its_distance_from_trees_and_walls(curvature, sway):
    made = run(TREES, curvature=curvature, sway=sway)
    assert made.clearance >= 0.3


@pytest.mark.parametrize("sway", [0, 1, 2, 3])
def test_the_path_never_turns_tighter_than_its_width_allows_or_says_so(sway):
    made = run(TREES, curvature=1.0, sway=sway)
    assert made.tightest_radius >= least_radius(0.9144) or any(f.topic == "bend" for f in made.findings)
    assert made.tightest_radius > 0.9144 / 2


def test_more_bend_makes_a_longer_path():
    lengths = [run(curvature=curvature).length for curvature in (0, 0.25, 0.5, 0.75, 1.0)]
    assert lengths == sorted(lengths)
    assert lengths[-1] > 1.03 * lengths[0]


def test_first_side_left_and_right_mirror_each_other_on_an_even_plot():
    left = run(start=(6, 0), end=(6, 20), first_side="left")
    right = run(start=(6, 0), end=(6, 20), first_side="right")
    assert left.curve.points[:, 0] - 6 == pytest.approx(6 - right.curve.points[:, 0], abs=1e-6)


def test_sway_counts_how_often_the_path_changes_side():
    for sway in (0, 1, 2, 3):
        x = run(start=(6, 0), end=(6, 20), curvature=0.5, sway=sway).curve.points[5:-5, 0] - 6
        x = x[np.abs(x) > 0.02]
        assert int((np.sign(x[1:]) != np.sign(x[:-1])).sum()) == sway


def test_the_path_leaves_gate_and_door_square():
    made = run(curvature=0.8, sway=1)
    leaving = made.curve.at(0.3)[0] - made.curve.points[0]
    arriving = made.curve.points[-1] - made.curve.at(made.length - 0.3)[0]
    for step in (leaving, arriving):
        assert math.degrees(math.atan2(abs(step[0]), step[1])) < 12


def test_a_given_direction_is_taken_at_a_start_away_from_walls():
    made = route((6, 10), (6, 20), PLOT, [], path(curvature=0), start_direction=90)
    step = made.curve.at(0.2)[0] - made.curve.points[0]
    assert step[0] > 0 and abs(math.degrees(math.atan2(step[1], step[0]))) < 15


def test_held_points_are_points_of_the_path_exactly():
    held = ((9.0, 5.0), (3.5, 14.0))
    made = run(TREES, held=tuple(HeldPoint(at=at) for at in held), curvature=0.6)
    for at in held:
        assert np.hypot(*(made.curve.points - at).T).min() < 1e-9


@pytest.mark.parametrize("twice", [(9.0, 5.0), GATE, DOOR], ids=["held twice", "on the gate", "on the door"])
def test_a_held_point_on_the_one_before_it_changes_nothing(twice):
    """Found by throwing 8,000 changed files at it: the line stood still there and had no direction."""
    held = tuple(HeldPoint(at=at) for at in ((9.0, 5.0), (3.5, 14.0)))
    given = {GATE: (HeldPoint(at=GATE), *held), DOOR: (*held, HeldPoint(at=DOOR))}.get(twice, (held[0], *held))
    found, expected = run(TREES, held=given).curve.points, run(TREES, held=held).curve.points
    assert np.array_equal(found, expected)


def test_a_held_point_near_a_tree_is_honoured_and_the_lost_distance_is_said():
    made = run(TREES, held=(HeldPoint(at=(5.75, 4.0)),), curvature=0)
    assert np.hypot(*(made.curve.points - (5.75, 4.0)).T).min() < 1e-9
    assert any(f.topic == "clearance" for f in made.findings)


def test_the_path_surface_stays_on_the_ground_and_off_the_trees():
    made = run(TREES, curvature=1.0)
    assert plane.area(plane.difference(made.region, PLOT)) < 1e-9
    assert plane.area(plane.intersection(made.region, plane.union(TREES))) < 1e-9


def test_the_way_round_a_wall_is_found_when_the_straight_line_is_blocked():
    wall = plane.region([(0, 9), (9, 9), (9, 9.3), (0, 9.3)])
    made = run([wall], curvature=0)
    assert made.curve.points[:, 0].max() > 9.7
    assert made.clearance >= 0.3


def test_a_path_that_cannot_fit_names_the_narrowest_place_and_what_it_needs():
    walls = [plane.region([(0, 9), (5, 9), (5, 10), (0, 10)]), plane.region([(6, 9), (12, 9), (12, 10), (6, 10)])]
    with pytest.raises(GardenError, match=r"narrowest place is (0\.99|1\.00) m at \(5\.\d+, (9|10)\.\d+\) m") as said:
        run(walls)
    assert "it needs 1.51 m" in str(said.value)


def test_a_closed_plot_says_there_is_no_way_through():
    with pytest.raises(GardenError, match="no way through"):
        run([plane.region([(-1, 9), (13, 9), (13, 10), (-1, 10)])])


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"start": (6, -3)}, "the start of path .* is outside the open ground"),
        ({"end": (5, 4)}, "the end of path .* is on an obstacle"),
        ({"start": DOOR}, "starts and ends at the same place"),
        ({"width": 0.0}, "give a width above 0"),
        ({"curvature": 1.5}, "give a curvature of 0 to 1"),
        ({"held": (HeldPoint(at=(50, 5)),)}, "held point 1"),
    ],
)
def test_impossible_paths_are_refused_in_one_sentence(changes, said):
    with pytest.raises(GardenError, match=said):
        run(TREES, **changes)


def test_a_gate_a_hand_off_the_boundary_still_works():
    made = run(TREES, start=(6.0, -0.08))
    assert tuple(made.curve.points[0]) == (6.0, -0.08)


def test_a_fork_leaves_square_to_the_first_path():
    first = run(start=(6, 0), end=(6, 20), curvature=0)
    at, direction = fork(first, 0.5, side="right")
    assert at == pytest.approx((6.0, 10.0), abs=1e-6)
    assert direction == pytest.approx(90.0, abs=1e-6)
    branch = route(at, (12, 12), PLOT, [], path(curvature=0), start_direction=direction)
    assert tuple(branch.curve.points[0]) == at


def test_two_straight_paths_cross_where_and_as_they_should():
    a = run(start=(6, 0), end=(6, 20), curvature=0)
    b = run(start=(0, 10), end=(12, 10), curvature=0)
    ((at, angle),) = crossings(a, b)
    assert at == pytest.approx((6, 10), abs=1e-9)
    assert angle == pytest.approx(90.0, abs=1e-9)


def test_the_same_path_twice_is_the_same():
    assert np.array_equal(run(TREES).curve.points, run(TREES).curve.points)


@pytest.mark.parametrize("curvature", [0.3, 1.0])
def test_bending_paths_cross_where_the_geometry_library_says(curvature):
    a, b = run(TREES, curvature=curvature), run(start=(0, 11), end=(12, 9), curvature=curvature)
    expected = [
        (p.x, p.y) for p in shapely.get_parts(shapely.intersection(*(LineString(r.curve.points) for r in (a, b))))
    ]
    assert len(expected) >= 1
    assert sorted(at for at, _ in crossings(a, b)) == pytest.approx(np.array(sorted(expected)), abs=1e-9)


def test_a_path_that_leaves_its_gate_aslant_fills_the_gate():
    ground = plane.region([(0, 0), (12, 0), (12, 10), (0, 10)])
    walk = Path(name="walk", start="gate", end="door", line="fair curves", width=1.0, curvature=0.8, sway=0)
    made = route((3, 0), (9, 10), ground, plane.NOWHERE, walk)
    assert abs(made.curve.tangents[0][0]) > 0.2, "it leaves aslant"
    for at in ((2.52, 0.001), (3.48, 0.001), (8.52, 9.999), (9.48, 9.999)):
        assert plane.distance(made.region, plane.point(at)) < 0.01
