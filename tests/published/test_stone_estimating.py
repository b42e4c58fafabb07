"""Stone, gravel and base quantities against suppliers' charts, the paving trade's tolerances and plain arithmetic."""

import pytest

from gardenkit.geometry import plane
from gardenkit.structure.build_up import (
    TON,
    gravel_tons,
    layers_for,
    take_off,
)
from gardenkit.structure.kinds.placed import GRAVEL
from gardenkit.structure.kinds.surfaces import BEDDING, WALK_BASE, overdig
from gardenkit.structure.laying import LIFT, Laying, weight_of
from gardenkit.structure.structure import StoneChoice
from gardenkit.units import CUBIC_FOOT, CUBIC_YARD, FOOT, INCH, POUND, SQUARE_FOOT

PCF = POUND / CUBIC_FOOT  # lb per cu ft in kg/m3


# Stone supplier's chart: 1 ton of gravel = 20 cu ft. Printed at 5 in: 50 sq ft; exact: 48
@pytest.mark.parametrize(("inches", "square_feet"), [(2, 120), (3, 80), (4, 60), (5, 48), (6, 40)])
def test_one_ton_of_gravel_covers(inches, square_feet):
    assert gravel_tons(square_feet * SQUARE_FOOT, inches * INCH) == pytest.approx(1.0)


def test_the_gravel_chart_implies_100_pounds_per_cubic_foot():
    assert pytest.approx(100) == GRAVEL / PCF
    assert pytest.approx(1.35) == CUBIC_YARD * GRAVEL / TON


def test_stone_weights_at_165_pounds_per_cubic_foot_two_inches_thick():  # plain arithmetic
    choice = StoneChoice(thickness=2 * INCH, density=165 * PCF)
    squares = {12: 27.5, 16: 48.9, 18: 61.9, 24: 110.0}
    for side, pounds in squares.items():
        assert weight_of((side * INCH) ** 2, choice) / POUND == pytest.approx(pounds, abs=0.051)
    assert weight_of(3.14159265 * (9 * INCH) ** 2, choice) / POUND == pytest.approx(48.6, abs=0.051)


def test_18_inch_square_stones_and_up_are_over_the_niosh_load_constant_and_16_are_not():  # NIOSH 94-110: 51 lb
    choice = StoneChoice(thickness=2 * INCH, density=165 * PCF)
    assert pytest.approx(51) == LIFT / POUND
    assert weight_of((16 * INCH) ** 2, choice) < LIFT < weight_of((18 * INCH) ** 2, choice)


def test_icpi_walk_layers():  # ICPI, Construction Tolerances and Recommendations
    layers = layers_for("paving")
    assert layers.base / INCH == pytest.approx(4)
    assert layers.bedding / INCH == pytest.approx(1)
    assert layers.overdig / INCH == pytest.approx(6)
    assert layers_for("paving", drive=True).base / INCH == pytest.approx(6)
    assert overdig(8 * INCH) / INCH == pytest.approx(8)
    assert pytest.approx(4) == WALK_BASE / INCH
    assert pytest.approx(1) == BEDDING / INCH


# 11 x 11 ft x 4 in = 40.33 cu ft = 1.494 cu yd; sand 8.333 cu ft = 0.309 cu yd
def test_ten_foot_patio_base_and_sand():
    patio = plane.region([(0, 0), (10 * FOOT, 0), (10 * FOOT, 10 * FOOT), (0, 10 * FOOT)])
    taken = take_off(patio, "paving", Laying(), StoneChoice())
    square_corners = 121 * SQUARE_FOOT
    rounded_off = (4 - 3.14159265) * (0.5 * FOOT) ** 2  # the dug edge is rounded at the corners, the printed one square
    assert taken.base_area == pytest.approx(square_corners - rounded_off, rel=1e-4)
    assert square_corners * layers_for("paving").base / CUBIC_YARD == pytest.approx(1.494, abs=5e-4)
    assert taken.bedding / CUBIC_FOOT == pytest.approx(8.333, abs=5e-4)
    assert taken.bedding / CUBIC_YARD == pytest.approx(0.309, abs=5e-4)
