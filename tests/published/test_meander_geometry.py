"""Lengths, radii and areas of curved paths, and the shortest way round a block, against their closed forms."""

import itertools
import math

import numpy as np
import pytest

from gardenkit.geometry import plane, ways
from gardenkit.geometry.curve import measured
from gardenkit.structure.build_up import take_off
from gardenkit.structure.laying import Laying
from gardenkit.structure.route import route
from gardenkit.structure.stepping import stepping_stones
from gardenkit.structure.structure import Path, StoneChoice
from gardenkit.units import FOOT, INCH


def sine(amplitude, wave, points=40001):
    x = np.linspace(0, wave, points)
    return np.column_stack((x, amplitude * np.sin(2 * math.pi * x / wave)))


@pytest.mark.parametrize(
    ("amplitude", "wave", "sinuosity"),
    [(1, 2 * math.pi, 1.2160067), (3, 30, 1.0923835), (1.5, 12, 1.1398386)],
)
def test_sinuosity_of_a_sine_path(amplitude, wave, sinuosity):  # 4 sqrt2 E(1/2) = 7.640395578 for the first
    curve = measured(sine(amplitude, wave))
    assert curve.length / wave == pytest.approx(sinuosity, abs=2e-4)


def test_length_of_one_wave_of_a_unit_sine():
    assert measured(sine(1, 2 * math.pi), step=0.001).length == pytest.approx(7.640395578, abs=1e-6)


@pytest.mark.parametrize(("amplitude", "wave", "radius"), [(3, 30, 7.599089), (1.5, 12, 2.431708)])
def test_tightest_radius_of_a_sine_is_at_its_crest(amplitude, wave, radius):  # lambda^2 / (4 pi^2 a)
    assert measured(sine(amplitude, wave)).tightest_radius() == pytest.approx(radius, rel=2e-3)


@pytest.mark.parametrize(("degrees", "sinuosity"), [(30, 1.0722405), (45, 1.1742162), (60, 1.3439560), (90, 2.1186386)])
def test_sinuosity_of_a_sine_generated_curve(degrees, sinuosity):  # 1/J0(w); Langbein & Leopold, USGS PP 422-H, 1966
    s = np.linspace(0, 10, 20001)
    theta = math.radians(degrees) * np.sin(2 * math.pi * s / 10)
    step = np.diff(s)[:, None] * np.column_stack((np.cos(theta[:-1]), np.sin(theta[:-1])))
    curve = measured(np.vstack(((0, 0), np.cumsum(step, axis=0))), step=0.005)
    assert curve.length / math.dist(curve.points[0], curve.points[-1]) == pytest.approx(sinuosity, abs=1e-5)


def arc(radius, degrees, points=4001):
    angle = np.linspace(0, math.radians(degrees), points)
    return radius * np.column_stack((np.cos(angle), np.sin(angle)))


def test_a_constant_width_arc_has_area_length_times_width():  # 90 deg, R=10, w=4: L 15.7079633, area 62.8318531
    strip = ways.strip(arc(10, 90), 4, within=0.0)
    assert plane.area(strip) == pytest.approx(62.8318531, rel=1e-3)


def test_both_edges_of_a_bent_path_are_twice_its_middle_line():  # outer + inner = 2 theta R, exactly 2 L
    strip = ways.strip(arc(10, 90), 4, within=0.0)
    assert plane.perimeter(strip) - 2 * 4 == pytest.approx(2 * 15.7079633, rel=1e-3)


def test_a_straight_strip_with_round_ends_has_perimeter_and_steiner_area():
    # L=10, w=3: area 30 + 2.25 pi = 37.0685835
    strip = plane.grown(plane.line([(0, 0), (10, 0)]), 1.5)
    assert plane.area(strip) == pytest.approx(37.0685835, rel=1e-3)


def test_ground_within_one_metre_of_a_3_4_5_triangle():  # Steiner: 6 + 12 + pi = 21.1415927
    assert plane.area(plane.grown(plane.region([(0, 0), (4, 0), (0, 3)]), 1)) == pytest.approx(21.1415927, rel=1e-3)


def test_the_shortest_way_round_a_block_is_2_sqrt20_plus_2():  # (0,5) to (10,5) round [4,6] x [3,7]
    free = plane.difference(
        plane.region([(-5, -5), (15, -5), (15, 15), (-5, 15)]), plane.region([(4, 3), (6, 3), (6, 7), (4, 7)])
    )
    way = ways.shortest(free, (0.0, 5.0), (10.0, 5.0))
    assert sum(math.dist(a, b) for a, b in itertools.pairwise(way)) == pytest.approx(10.944272, abs=1e-6)


# Whole stones along a straight run: our convention is round(L / pace) paces, one stone in the middle of each.
def test_240_inches_at_24_inch_pace_is_ten_stones():
    plot = plane.region([(0, 0), (4, 0), (4, 240 * INCH), (0, 240 * INCH)])
    path = Path(name="p", start="a", end="b", curvature=0)
    run = route((2, 0), (2, 240 * INCH), plot, [], path)
    laid = stepping_stones(run, StoneChoice(pace=24 * INCH))
    assert len(laid.stones) == 10
    assert laid.pace / INCH == pytest.approx(24, rel=0.02)


def test_24_inch_centres_leave_8_6_and_4_inches_for_16_18_and_20_inch_stones():
    # 24 in centre to centre (Rutgers 2004): the gap left is 24 less the stone
    plot = plane.region([(0, 0), (4, 0), (4, 240 * INCH), (0, 240 * INCH)])
    run = route((2, 0), (2, 240 * INCH), plot, [], Path(name="p", start="a", end="b", curvature=0))
    for stone, gap in ((16, 8), (18, 6), (20, 4)):
        choice = StoneChoice(pace=24 * INCH, gap_low=gap * INCH, gap_high=gap * INCH)
        laid = stepping_stones(run, choice)
        inner = [s.along / INCH for s in laid.stones[1:-1]]
        assert sum(inner) / len(inner) == pytest.approx(stone, abs=0.5)
        assert [g.clear / INCH for g in laid.gaps] == pytest.approx([gap] * 9, abs=0.12)


def test_two_feet_along_a_ten_foot_arc_is_a_chord_of_1_99667_feet():  # 2 x 10 x sin(0.1)
    curve = measured(arc(10 * FOOT, 90))
    a, b = curve.at(2 * FOOT)[0], curve.at(4 * FOOT)[0]
    assert math.dist(a, b) / FOOT == pytest.approx(1.99667, abs=2e-4)
    assert curve.length / FOOT == pytest.approx(15.708, abs=5e-4)
    assert math.floor(curve.length / (2 * FOOT) + 1e-9) + 1 == 8


def test_edging_of_a_bent_gravel_path_is_its_perimeter():
    strip = ways.strip(arc(10, 90), 4, within=0.0)
    assert take_off(strip, "gravel", Laying(), StoneChoice()).edging == pytest.approx(2 * 15.7079633 + 8, rel=1e-3)
