"""Published soakaways: storms, inflow, outflow, storage and emptying by BRE Digest 365, and a council's quick rule."""

import pytest

from gardenkit.site.soakaway import STORMS, Pit, balance, quick_volume, soaking, stretched

# Gyoury Self Partnership, 10613NA, February 2017 (scribd 430947366): 690 m2, r = 0.40, once in ten years, inflow in m3
INFLOW = (8.75, 10.69, 13.69, 17.11, 20.71, 24.41, 26.72, 29.64, 36.48, 42.30, 48.40)


def test_what_each_storm_brings_from_690_square_metres() -> None:
    assert [690 * rain / 1000 for _, rain in STORMS] == pytest.approx(INFLOW, abs=0.01)


def test_a_pit_of_2_by_1_5_by_1_5_metres() -> None:
    """Advanced Engineering Solutions, 14 May 2008 (scribd 121362036): 30 % voids, 44.6e-6 m/s, 75 m2."""
    pit, rate = Pit(length=2.0, width=1.5, deep=1.5, voids=0.30), 44.6e-6
    assert pit.sides == pytest.approx(5.250)
    assert pit.holds == pytest.approx(1.3, abs=0.051)  # printed cut, not rounded: 1.35
    assert pit.sides * rate * 24 * 3600 == pytest.approx(20.2, abs=0.05)
    assert 1.04 * 0.5 / (pit.sides * rate) == pytest.approx(37 * 60 + 1, abs=5)
    found = balance(pit, 75.0, rate)
    assert found.wanted == pytest.approx(1.0, abs=0.1)  # its own storms, of r = 0.35, ask for 1.0
    assert found.hours * 60 == pytest.approx(37, abs=3)


def test_a_council_s_pit_for_50_square_metres() -> None:
    """cncbuildingcontrol.gov.uk: 0.84 m3 of crates, 2.8 m3 filled with rubble."""
    assert quick_volume(50.0) * 0.30 == pytest.approx(0.84, abs=0.01)
    assert quick_volume(50.0) == pytest.approx(2.8, abs=0.03)


def test_a_pit_as_large_as_worked_out_just_holds_its_storm() -> None:
    pit, rate = Pit(length=1.0, width=1.0, deep=1.0), soaking(60.0)
    k = stretched(pit, 40.0, rate, hour=45.0)
    grown = Pit(length=k, width=k, deep=1.0)
    assert grown.holds == pytest.approx(balance(grown, 40.0, rate, hour=45.0).wanted, rel=1e-6)
    assert k > stretched(pit, 40.0, rate, hour=25.0) > stretched(pit, 40.0, 2 * rate, hour=25.0)
