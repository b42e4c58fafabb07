"""How deep posts go by the printed rules, holes and bags of concrete, vineyard wire figures."""

import math

import pytest

from gardenkit.structure.posts import BAG_YIELD, bag_of, hole_diameter, hole_volume, post, post_findings
from gardenkit.structure.training import tension_for, wire_findings
from gardenkit.units import CUBIC_FOOT, CUBIC_YARD, FOOT, INCH, POUND

DEPTHS = [  # above ground in, rule, frost in -> buried, post length
    (72, "one third of total", 0, 36, 108),
    (72, "one third of above ground", 0, 24, 96),
    (72, "one quarter of total", 0, 24, 96),
    (36, "one third of total", 0, 18, 54),
    (72, "one third of total", 42, 54, 126),
    (72, "frost and 6 in", 42, 48, 120),
]


@pytest.mark.parametrize(("above", "rule", "frost", "buried", "length"), DEPTHS)
def test_post_depths(above, rule, frost, buried, length) -> None:
    """Repair columnist: a third of the total and 12 in below frost; building column: a third of the height above
    ground.
    """
    made = post(above * INCH, rule=rule, frost_depth=frost * INCH)
    assert (made.buried / INCH, made.length / INCH) == pytest.approx((buried, length), abs=1e-9)


def test_loose_sand_asks_half_more() -> None:
    """Building column: + 50 % in loose sand."""
    assert post(1.8, rule="one third of above ground", loose_sand=True).buried == pytest.approx(0.9, abs=1e-12)


def test_the_two_third_rules_differ_by_a_foot_for_a_six_foot_fence() -> None:
    shallow = post(72 * INCH, rule="one third of above ground")
    assert any(
        '"one third of total" would go 36 in deep instead of 24 in' in f.what for f in post_findings("f", shallow)
    )


def test_hole_of_10_by_30_in_round_a_4_by_4_post() -> None:
    """(pi 25 30 - 12.25 30) / 1728 = 1.15086 cu ft = 1.918 bags of 80 lb -> 2."""
    volume = hole_volume(10 * INCH, 30 * INCH, post_across=3.5 * INCH)
    assert round(volume / CUBIC_FOOT, 5) == 1.15086
    assert round(volume / BAG_YIELD[80], 3) == 1.918
    assert bag_of("imperial").fill(volume) == 2


def test_round_form_of_8_by_36_in() -> None:
    """Maker: about 1 cu ft, two 80 lb bags; exactly 1.0472 cu ft, 1.745 bags."""
    volume = hole_volume(8 * INCH, 36 * INCH)
    assert (round(volume / CUBIC_FOOT, 4), round(volume / BAG_YIELD[80], 3)) == (1.0472, 1.745)
    assert bag_of("imperial").fill(volume) == 2


def test_pier_of_6_in_radius_and_33_in_depth() -> None:
    """Construction reference prints 2.15 cu ft; exactly 2.1598, 8 bags of 40 lb or 4 of 80 lb."""
    volume = hole_volume(12 * INCH, 33 * INCH)
    assert round(volume / CUBIC_FOOT, 4) == 2.1598
    assert (bag_of("imperial", 40).fill(volume), bag_of("imperial", 80).fill(volume)) == (8, 4)


@pytest.mark.parametrize(("pounds", "count"), [(40, 90), (50, 72), (60, 60), (80, 45)])
def test_bags_in_a_cubic_yard(pounds: int, count: int) -> None:
    """From the maker's 0.15 cu ft per 20 lb."""
    assert bag_of("imperial", pounds).fill(CUBIC_YARD) == count


def test_hole_is_three_times_the_post_for_concrete_and_twice_for_earth() -> None:
    """Repair columnist."""
    assert hole_diameter(4 * INCH) == pytest.approx(12 * INCH)
    assert hole_diameter(4 * INCH, concrete=False) == pytest.approx(8 * INCH)


def test_two_inches_of_sag_would_take_2100_lb() -> None:
    assert tension_for(20 * FOOT, sag=2 * INCH) / POUND == pytest.approx(2100, abs=1e-6)
    assert wire_findings("vine", 20 * FOOT)[0].seriousness == "caution"
    assert wire_findings("vine", math.sqrt(250 / 2100) * 20 * FOOT * 0.999) == ()


def test_georgia_post_is_three_eighths_in_the_ground() -> None:
    """8 ft posts set 3 ft deep: 37.5 %, deeper than a third of the total."""
    assert post(5 * FOOT).buried < 3 * FOOT
