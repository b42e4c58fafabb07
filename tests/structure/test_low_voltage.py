"""Garden lights on a cable, against published sums of voltage drop, loads and transformers."""

import pytest

from gardenkit.findings import GardenError
from gardenkit.structure.low_voltage import cable_for, drop_at_end, transformer_for
from gardenkit.units import FOOT


def test_all_load_at_the_end_of_80_ft_of_12_gauge() -> None:
    """2 x 80 x 6.667 x .001588 = 1.69 V, from the ohms a foot of starnursery.com: 80 W at 12 V."""
    assert drop_at_end([(80 * FOOT, 80.0)], 12) == pytest.approx(1.69, abs=0.005)


def test_a_load_spread_along_the_run_loses_about_half() -> None:
    """Trade constant 7,500 for 12 gauge with the load spread: 4 x 20 W over 80 ft: 6,400 / 7,500 = .85 V
    (deafaviation.com reprint). Many lamps spread evenly come to W x ft / (12 / R) = 0.847 V.
    """
    many = [(80 * FOOT * (k + 0.5) / 400, 0.2) for k in range(400)]
    assert drop_at_end(many, 12) == pytest.approx(0.847, abs=0.002)
    assert drop_at_end(many, 12) == pytest.approx(0.85, abs=0.005)


@pytest.mark.parametrize(
    ("gauge", "constant", "near"),
    [
        (10, 11_764, 0.0002),
        (12, 7_547, 0.0014),  # printed from .00159, while the same table gives .001588 ohm a foot
        (14, 4_752, 0.0002),
        (16, 2_988, 0.0002),
    ],
)
def test_the_constant_of_each_cable(gauge: int, constant: float, near: float) -> None:
    """12 / R with the load spread (starnursery.com): watts x feet / constant; with the load at the end twice that."""
    assert drop_at_end([(100 * FOOT, 60.0)], gauge) == pytest.approx(2 * 60 * 100 / constant, rel=near)


def test_lamps_take_80_percent_of_a_transformer() -> None:
    """100 W transformer -> 80 W -> 40 lights of 2 W (kingsoutdoorlighting.com)."""
    assert transformer_for(80.0) == 100
    assert transformer_for(80.5) == 150


def test_a_long_heavy_run_takes_a_thicker_cable_and_at_last_two_runs() -> None:
    assert cable_for([(10.0, 12.0)]).gauge == 16
    thick = cable_for([(25.0 + 2 * k, 12.0) for k in range(5)])
    assert thick.gauge < 16 and thick.drop <= 1.2
    with pytest.raises(GardenError, match="two runs"):
        cable_for([(120.0, 150.0)])
