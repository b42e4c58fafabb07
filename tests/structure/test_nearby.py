"""What lies near what, asked of many at once, is what shapely says of each pair by itself."""

import numpy as np
from shapely.geometry import Point, box

from gardenkit.geometry import nearby

CHANCE = np.random.default_rng(9)
SHAPES = [box(x, y, x + wide, y + deep) for x, y, wide, deep in CHANCE.uniform((0, 0, 1, 1), (40, 40, 9, 9), (60, 4))]
SPOTS = CHANCE.uniform(-5, 55, (80, 2))


def test_each_pair_that_meets_is_found_and_no_other() -> None:
    rounds = [Point(x, y).buffer(3) for x, y in SPOTS]
    expected = [tuple(k for k, shape in enumerate(SHAPES) if shape.intersects(one)) for one in rounds]
    assert list(nearby.which_meet(rounds, SHAPES)) == expected
    assert nearby.which_meet(rounds[:2], []) == ((), ()) and nearby.which_meet([], SHAPES) == ()


def test_the_first_shape_that_holds_a_point_comes_first() -> None:
    spots = [*SPOTS.tolist(), SHAPES[7].exterior.coords[0]]
    expected = [next((k for k, shape in enumerate(SHAPES) if shape.intersects(Point(spot))), None) for spot in spots]
    assert nearby.finder(SHAPES)(spots) == expected
    assert nearby.finder([])(spots[:1]) == [None] and nearby.finder(SHAPES)([]) == []


def test_what_is_nearer_than_the_reach_is_measured_and_the_far_is_not() -> None:
    for shape in SHAPES[:9]:
        true = np.array([shape.distance(Point(spot)) for spot in SPOTS])
        found = nearby.near_distances(SPOTS, shape, 4.0)
        assert np.allclose(found[true <= 4.0], true[true <= 4.0])
        assert np.isinf(found[true > 4.0 * 2**0.5]).all()


def test_each_pair_within_reach_is_found_once_the_lower_number_first() -> None:
    apart = np.hypot(*(SPOTS[:, None, :] - SPOTS[None, :, :]).transpose(2, 0, 1))
    expected = [(i, j) for i in range(80) for j in range(i + 1, 80) if apart[i, j] <= 7.0]
    assert [tuple(pair) for pair in nearby.near_pairs(SPOTS, 7.0).tolist()] == expected
    assert nearby.near_pairs(np.array([[0.0, 0.0], [0.0, 3.0]]), 3.0).tolist() == [[0, 1]]  # at the reach, too
    assert all(nearby.near_pairs(SPOTS[:few], 7.0).shape == (0, 2) for few in (0, 1))
