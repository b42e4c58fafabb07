"""Largest circles and middle lines of shapes whose answer is known exactly."""

import math

import numpy as np
import pytest

from gardenkit.geometry import medial, plane
from gardenkit.structure.beds import beds
from gardenkit.structure.structure import Structure

EXACT = 1e-6


def largest(points, holes=()):
    (found,) = medial.circles(plane.region(points, holes), most=1, tolerance=EXACT)
    return found


@pytest.mark.parametrize(
    ("name", "points", "radius"),
    [
        ("rectangle 6 x 4", [(0, 0), (6, 0), (6, 4), (0, 4)], 2.0),
        ("triangle 3-4-5", [(0, 0), (4, 0), (0, 3)], 1.0),
        ("triangle 13-14-15", [(0, 0), (14, 0), (5, 12)], 4.0),
        ("hexagon side 2", plane.corners(plane.circle((0, 0), 2, sides=6)), math.sqrt(3)),
        ("L arms 2 legs 4", [(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)], 4 - 2 * math.sqrt(2)),
        ("L 10 and 5", [(0, 0), (10, 0), (10, 5), (5, 5), (5, 10), (0, 10)], 2.9289322),
        ("T", [(-1, 0), (1, 0), (1, 4), (4, 4), (4, 6), (-4, 6), (-4, 4), (-1, 4)], 1.25),
        ("square 10, shapely documentation", [(0, 0), (10, 0), (10, 10), (0, 10)], 5.0),
    ],
)
def test_radius_of_the_largest_circle(name, points, radius):
    assert largest(points).radius == pytest.approx(radius, abs=1e-5), name


def test_centres_where_they_are_the_only_ones():
    assert largest([(0, 0), (4, 0), (0, 3)]).at == pytest.approx((1, 1), abs=1e-3)
    corner = largest([(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)])
    assert corner.at == pytest.approx((1.1715729, 1.1715729), abs=1e-3)
    tee = [(-1, 0), (1, 0), (1, 4), (4, 4), (4, 6), (-4, 6), (-4, 4), (-1, 4)]
    assert largest(tee).at == pytest.approx((0, 4.75), abs=1e-2)


def test_a_square_bed_with_a_square_in_it_has_four_equal_corner_pockets():  # 8 - 4 sqrt2 = 2.3431458
    shape = plane.region([(0, 0), (10, 0), (10, 10), (0, 10)], [[(4, 4), (6, 4), (6, 6), (4, 6)]])
    found = medial.circles(shape, most=4, tolerance=EXACT)
    assert [c.radius for c in found] == pytest.approx([2.3431458] * 4, abs=5e-3)
    assert {(c.at[0] > 5, c.at[1] > 5) for c in found} == {(True, True), (True, False), (False, True), (False, False)}


def test_the_pocket_of_a_bed_is_its_largest_circle_to_five_centimetres():
    plot = plane.region([(0, 0), (10, 0), (10, 5), (5, 5), (5, 10), (0, 10)])
    (bed,) = beds(plot, [], Structure())
    assert bed.pockets[0].radius == pytest.approx(2.9289322, abs=0.05)
    assert bed.pockets[0].radius <= 2.9289322 + 1e-9


def test_the_spine_of_a_6_by_4_bed_is_two_metres_long_without_its_corner_spurs():
    # medial axis 2 + 8 sqrt2 = 13.3137085; the four spurs into the corners, 2 sqrt2 each, are cut off
    spine = medial.spine(plane.region([(0, 0), (6, 0), (6, 4), (0, 4)]), step=0.05)
    assert spine.length == pytest.approx(2.0, abs=0.15)
    assert spine.widths.max() == pytest.approx(4.0, abs=0.01)


def test_the_spine_of_an_ellipse_is_its_focal_stretch():  # a, b = 5, 3: +-(a^2 - b^2)/a = +-3.2
    t = np.linspace(0, 2 * math.pi, 721)[:-1]
    spine = medial.spine(plane.region(np.column_stack((5 * np.cos(t), 3 * np.sin(t)))), step=0.05)
    assert np.abs(spine.points[:, 0]).max() == pytest.approx(3.2, abs=0.1)
    assert np.abs(spine.points[:, 1]).max() < 0.05


def test_the_spine_of_a_ring_is_the_middle_circle():  # R, r = 5, 3: radius 4, width 2
    ring = plane.difference(plane.circle((0, 0), 5, sides=180), plane.circle((0, 0), 3, sides=180))
    spine = medial.spine(plane.pieces(ring)[0], step=0.1)
    away = np.hypot(spine.points[:, 0], spine.points[:, 1])
    assert away.min() == pytest.approx(4, abs=0.05) and away.max() == pytest.approx(4, abs=0.05)
    assert spine.widths == pytest.approx(np.full(len(spine.widths), 2.0), abs=0.05)
    assert spine.length == pytest.approx(8 * math.pi, rel=0.01)


def test_the_spine_of_an_l_runs_down_the_middle_of_both_legs():
    # (2.5, 7.5) and (7.5, 2.5) on the pruned axis of the L 10 and 5
    spine = medial.spine(plane.region([(0, 0), (10, 0), (10, 5), (5, 5), (5, 10), (0, 10)]), step=0.1)
    for at in ((2.5, 7.4), (7.4, 2.5)):
        assert np.hypot(*(spine.points - at).T).min() < 0.15
