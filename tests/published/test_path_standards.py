"""Path widths, slopes and turns against the figures printed in extension bulletins and the accessibility standards."""

import math

import pytest

from gardenkit.structure.path_rules import (
    BETTER_TWO,
    CROSS_SLOPE,
    DEEP_GATE,
    GATE,
    HEADROOM,
    PASSING,
    PASSING_EVERY,
    WIDTHS,
    cart_sweep,
    longest_at,
    passes,
    slope_allowed,
)
from gardenkit.units import FOOT, INCH

# Rutgers Cooperative Extension, Maletta, "Garden Paths", 2004: primary walk 48 in min, 60 better; secondary 30-36.
# University of Illinois Extension, Mason, "Designing Paths", 2004: garden path 24 in.
# 2010 ADA Standards 403.5.1: 36 in.


@pytest.mark.parametrize(
    ("use", "inches"),
    [
        ("two abreast", 48),
        ("one person", 30),
        ("garden path", 24),
        ("wheelchair", 36),
        ("riding mower", 50),
        ("inspection", 18),
    ],
)
def test_least_widths_are_the_printed_inches(use, inches):
    assert pytest.approx(inches) == WIDTHS[use] / INCH
    assert WIDTHS[use].source


def test_48_inches_passes_two_abreast_and_47_9_does_not():
    assert "two abreast" in passes(48 * INCH)
    assert "two abreast" not in passes(47.9 * INCH)


def test_30_inches_passes_one_person():
    assert "one person" in passes(30 * INCH)
    assert "one person" not in passes(29.9 * INCH)


def test_24_inches_is_a_garden_path_only():
    assert passes(24 * INCH) == ("garden path", "inspection")


def test_illinois_wall_strip_and_house_bed():
    assert pytest.approx(60) == BETTER_TWO / INCH


def test_2010_ada_clear_widths_passing_and_turning():
    assert pytest.approx(60) == PASSING / INCH  # 403.5.3
    assert pytest.approx(200) == PASSING_EVERY / FOOT  # 403.5.3
    assert pytest.approx(32) == GATE / INCH  # 404.2.3
    assert pytest.approx(36) == DEEP_GATE / INCH  # 404.2.3, deeper than 24 in
    assert pytest.approx(80) == HEADROOM / INCH  # 307.4


def test_accessible_route_1_in_20_and_cross_slope_1_in_48():  # 2010 ADA Standards 403.3
    assert slope_allowed(100 / 20, 1000.0)
    assert not slope_allowed(100 / 20 + 0.01, 0.1)
    assert pytest.approx(2.0833, abs=5e-5) == CROSS_SLOPE


def test_ramp_1_in_12_rises_30_inches_in_30_feet():  # 2010 ADA Standards 405.2, 405.6
    assert longest_at(100 / 12, by="ramp") == pytest.approx(30 * FOOT)
    assert longest_at(6.25, by="ramp") == pytest.approx(40 * FOOT)  # 1:16, 30 in
    assert not slope_allowed(8.34, 0.1, by="ramp")


@pytest.mark.parametrize(("one_in", "feet"), [(12, 200), (10, 30), (8, 10)])
def test_trail_slopes_1017_7_1(one_in, feet):  # US Access Board, outdoor developed areas
    assert longest_at(100 / one_in, by="trail") == pytest.approx(feet * FOOT)
    assert slope_allowed(100 / one_in, feet * FOOT, by="trail")
    assert not slope_allowed(100 / one_in, feet * FOOT + 0.01, by="trail")


def test_trail_1_in_20_may_run_any_length_and_nothing_is_steeper_than_1_in_8():
    assert longest_at(5.0, by="trail") == math.inf
    assert longest_at(12.51, by="trail") == 0


@pytest.mark.parametrize(("one_in", "feet"), [(12, 50), (10, 30)])
def test_recreation_access_1016_7_1(one_in, feet):
    assert longest_at(100 / one_in, by="recreation access") == pytest.approx(feet * FOOT)
    assert longest_at(10.01, by="recreation access") == 0


def test_a_27_inch_cart_sweeps_43_202_inches_round_a_36_inch_radius():  # plain geometry: sqrt((36+27)^2+48^2)-36
    swept = cart_sweep(36 * INCH, 27 * INCH, 48 * INCH)
    assert swept / INCH == pytest.approx(43.202, abs=5e-4)
    assert swept > 36 * INCH
