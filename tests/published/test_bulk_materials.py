"""Mulch, soil and compost by the yard and the bag, edging, paving and flagstone, as printed or plain arithmetic."""

import math

import pytest

from gardenkit.geometry import plane
from gardenkit.schedules.lines import Line
from gardenkit.schedules.orders import Order, bulk, orders, whole_bags
from gardenkit.site.amendments import layer_volume
from gardenkit.structure.build_up import take_off
from gardenkit.structure.laying import Laying
from gardenkit.structure.structure import StoneChoice
from gardenkit.units import CUBIC_FOOT, CUBIC_YARD, FOOT, INCH, SQUARE_FOOT


def layer(feet: tuple[float, float], inches: float) -> float:
    return layer_volume(feet[0] * feet[1] * SQUARE_FOOT, inches * INCH)


@pytest.mark.parametrize(("inches", "square_feet"), [(1, 324), (2, 162), (3, 108), (4, 81), (5, 64.8)])
def test_a_yard_covers_as_the_suppliers_table_says(inches: float, square_feet: float) -> None:
    """324 / depth; agrees with a supplier's table."""
    assert layer_volume(square_feet * SQUARE_FOOT, inches * INCH) / CUBIC_YARD == pytest.approx(1, rel=1e-12)


def test_bags_in_a_cubic_yard() -> None:
    """9 of 3 cu ft; 13.5 of 2 cu ft, so 14 whole ones."""
    assert pytest.approx(9, rel=1e-12) == CUBIC_YARD / (3 * CUBIC_FOOT)
    assert pytest.approx(13.5, rel=1e-12) == CUBIC_YARD / (2 * CUBIC_FOOT)
    assert whole_bags(CUBIC_YARD, 3 * CUBIC_FOOT) == 9
    assert whole_bags(CUBIC_YARD, 2 * CUBIC_FOOT) == 14


def test_three_inches_over_one_square_foot_is_a_quarter_cubic_foot() -> None:
    assert layer((1, 1), 3) / CUBIC_FOOT == pytest.approx(0.25, rel=1e-12)


def test_8_by_10_foot_bed_a_foot_deep_orders_3_yards() -> None:
    """Univ. of Massachusetts Boston text: 2.96 cu yd, order 3."""
    volume = layer((8, 10), 12)
    assert round(volume / CUBIC_YARD, 3) == 2.963
    assert round(volume / CUBIC_YARD, 2) == 2.96
    assert bulk(volume) / CUBIC_YARD == pytest.approx(3.0, rel=1e-12)


@pytest.mark.parametrize(("inches", "square_feet"), [(9, 36), (12, 27)])
def test_a_yard_of_soil_covers(inches: float, square_feet: float) -> None:
    """Univ. of Massachusetts Boston text: 1 yd covers 36 sq ft at 9 in, 27 at 12 in."""
    assert layer_volume(square_feet * SQUARE_FOOT, inches * INCH) / CUBIC_YARD == pytest.approx(1, rel=1e-12)


@pytest.mark.parametrize(
    ("feet", "inches", "cubic_feet", "printed_yards", "places"),
    [
        ((10, 8), 6, 40, 1.5, 1),  # common practice, no source: about 1.5 cu yd
        ((5, 4), 24, 40, 1.48, 2),  # aggregate supplier
        ((10, 5), 12, 50, 1.9, 1),  # common practice, no source
    ],
)
def test_soil_for_small_beds(feet, inches: float, cubic_feet: float, printed_yards: float, places: int) -> None:
    volume = layer(feet, inches)
    assert volume / CUBIC_FOOT == pytest.approx(cubic_feet, rel=1e-12)
    assert round(volume / CUBIC_YARD, places) == printed_yards


def test_ten_percent_more_for_settling() -> None:
    """Aggregate supplier: 1.4815 + 10 % = 1.6296 cu yd."""
    assert round(layer((5, 4), 24) / CUBIC_YARD, 4) == 1.4815
    assert round(1.1 * layer((5, 4), 24) / CUBIC_YARD, 4) == 1.6296


def test_3_by_4_feet_three_inches_deep_is_three_cubic_feet() -> None:
    assert layer((3, 4), 3) / CUBIC_FOOT == pytest.approx(3.0, rel=1e-12)


def test_edging_of_a_curved_path_is_twice_its_middle_line() -> None:
    """Outer and inner arc of constant width: 2 theta R exactly."""
    radius, width, theta = 10 * FOOT, 3 * FOOT, math.pi / 2
    outer, inner = theta * (radius + width / 2), theta * (radius - width / 2)
    assert outer + inner == pytest.approx(2 * theta * radius, rel=1e-12)
    steps = [theta * k / 400 for k in range(401)]
    far = [((radius + width / 2) * math.cos(t), (radius + width / 2) * math.sin(t)) for t in steps]
    near = [((radius - width / 2) * math.cos(t), (radius - width / 2) * math.sin(t)) for t in reversed(steps)]
    found = take_off(plane.region([*far, *near]), "gravel", Laying(), StoneChoice())
    assert found.edging - 2 * width == pytest.approx(2 * theta * radius, rel=1e-5)


def test_450_pavers_of_4_by_8_inches_in_a_ten_foot_patio() -> None:
    """4.5 to the square foot without joints, before waste."""
    assert pytest.approx(450, rel=1e-12) == 100 * SQUARE_FOOT / (4 * INCH * 8 * INCH)


def test_an_order_of_mulch_offers_bulk_and_bags() -> None:
    """House rule: whole bags up, bulk to the next half yard. 2.963 cu yd is 80 cu ft: 40 bags of 2 cu ft, and 2.265 m3:
    46 bags of 50 L.
    """
    line = Line(item="mulch", where="bed", amount=layer((8, 10), 12), unit="m3")
    (order,) = orders([line])
    assert isinstance(order, Order)
    assert order.imperial == "3 cu yd, or 40 bags of 2 cu ft"
    assert order.metric == "2.5 m³, or 46 bags of 50 L"


def test_an_order_of_gravel_says_what_it_weighs() -> None:
    """Stone supplier's how-to: 1 ton = 20 cu ft; a bag of 80 lb is 0.8 cu ft. What is weighed is what is ordered."""
    (order,) = orders([Line(item="gravel", where="path", amount=40 * CUBIC_FOOT, unit="m3")])
    assert order.imperial == "1.5 cu yd, weighing about 2.0 US tons"  # 1.5 x 27 / 20
    assert order.metric == "1.5 m³, weighing about 2.4 t"
    assert 80 / 0.8 == 2000 / 20


def test_stone_is_ordered_with_a_tenth_more_for_cuts() -> None:
    """Guide to Estimating Stone: 10 % more of irregular flags for what is cut off; a US ton is 2,000 lb."""
    ton = 2000 * 0.45359237
    stone = Line(item="stones", where="Walk", amount=ton, unit="kg")
    (order,) = orders([stone])
    assert order.imperial == "1.1 US tons with 10 % for cuts"
    assert order.metric == "1 t with 10 % for cuts"
