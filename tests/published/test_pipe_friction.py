"""Friction in plastic pipe: a published table, the same formula in the units of its source, and outlets one by one."""

import math

import pytest

from gardenkit.schedules.water_pressure import DRIPLINE, EXPONENT, friction, outlets_share
from gardenkit.units import FOOT, INCH, PSI, US_GALLON, show_pressure

GPM = 60 * US_GALLON  # L/h


@pytest.mark.parametrize(
    ("inside", "gpm", "lost"),
    [
        (1.049, 5, 1.52),
        (1.049, 8, 3.63),
        (1.049, 10, 5.50),
        (1.380, 10, 1.46),
        (1.380, 20, 5.23),
        (1.610, 10, 0.70),
        (1.610, 20, 2.46),
        (2.067, 10, 0.21),
        (2.067, 50, 3.98),
    ],
)
def test_schedule_40_pipe_loses_what_the_code_of_illinois_prints(inside: float, gpm: float, lost: float) -> None:
    """Ill. Admin. Code 77, part 906, appendix A, exhibit I: feet in 100 ft, C = 150; insides of 1 to 2 in pipe."""
    assert friction(100.0, gpm * GPM, inside * INCH) == pytest.approx(lost, abs=0.02)


def test_metres_and_feet_give_the_same() -> None:
    """EPANET 2 users manual, table 3.1: 4.727 C^-1.852 d^-4.871 L q^1.852 in feet and cubic feet a second."""
    for length, inside, litres in ((30.0, 0.0209, 500.0), (9.0, 0.0138, 70.0)):
        cubic_feet = litres / 3.6e6 / FOOT**3
        feet = 4.727 * 150**-1.852 * (inside / FOOT) ** -4.871 * (length / FOOT) * cubic_feet**1.852
        assert friction(length, litres, inside) == pytest.approx(feet * FOOT, rel=0.003)


@pytest.mark.parametrize("count", [2, 5, 10, 40, 100])
def test_a_row_loses_what_its_pieces_lose_one_by_one(count: int) -> None:
    """The flow is smaller by one emitter from piece to piece; Christiansen's share is of the loss at the whole flow."""
    pieces = sum(friction(0.3, 2.0 * (count - k), float(DRIPLINE)) for k in range(count))
    whole = friction(0.3 * count, 2.0 * count, float(DRIPLINE)) * outlets_share(count)
    assert whole == pytest.approx(pieces, rel=0.01)
    assert 1 / (EXPONENT + 1) < outlets_share(count) < 1


def test_a_psi_is_2_31_feet_of_water() -> None:
    assert pytest.approx(2.307, abs=0.001) == PSI / FOOT
    assert show_pressure(25 * PSI) == "25 psi"
    assert show_pressure(10.0, "metric") == "0.98 bar"
    assert math.isclose(friction(0.0, 100.0, 0.02), 0.0)
