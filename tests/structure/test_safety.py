"""Cautions for the work: worse lifts never raise the limit, and every hazard is named."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.structure.clearances import clearance_findings
from gardenkit.structure.patio import patio_findings, seats_at
from gardenkit.structure.safety import (
    Lift,
    frequency_multiplier,
    lifting_index,
    multipliers,
    recommended_weight,
)
from gardenkit.structure.walls import retaining_findings
from gardenkit.units import FOOT, INCH, POUND, SQUARE_FOOT

LIFTS = st.builds(
    Lift,
    out=st.floats(0.1, 0.62),
    from_height=st.floats(0.0, 1.7),
    to_height=st.floats(0.0, 1.7),
    turn=st.floats(0, 135),
    grip=st.sampled_from(["good", "fair", "poor"]),
    lifts_a_minute=st.floats(0.1, 12),
)


@settings(max_examples=150, deadline=None)
@given(LIFTS)
def test_no_multiplier_passes_one_and_no_limit_passes_51_lb(lift: Lift) -> None:
    assert all(0 <= m <= 1 for m in multipliers(lift).values())
    assert 0 <= recommended_weight(lift) <= 51 * POUND + 1e-9


@settings(max_examples=100, deadline=None)
@given(LIFTS, st.floats(0.0, 0.1), st.floats(1, 60))
def test_reaching_further_out_never_helps(lift: Lift, further: float, weight: float) -> None:
    out = min(lift.out + further, 0.63)
    worse = Lift(
        **{a: getattr(lift, a) for a in ("from_height", "to_height", "turn", "grip", "lifts_a_minute")}, out=out
    )
    assert recommended_weight(worse) <= recommended_weight(lift) + 1e-12
    assert lifting_index(weight, worse) >= lifting_index(weight, lift) - 1e-12


def test_more_lifts_a_minute_and_longer_work_lower_the_limit() -> None:
    rates = [frequency_multiplier(r) for r in (0.1, 0.3, 1, 2.5, 5, 8, 9)]
    assert rates == sorted(rates, reverse=True)
    assert rates[-1] == 0.0
    assert frequency_multiplier(1, "up to 8 h") < frequency_multiplier(1, "up to 2 h") < frequency_multiplier(1)


def test_a_lift_outside_the_equation_is_refused() -> None:
    with pytest.raises(GardenError, match="outside the equation"):
        multipliers(Lift(out=30 * INCH, from_height=0.5, to_height=1))


def test_unknown_things_name_the_nearest() -> None:
    with pytest.raises(GardenError, match='nearest known is "gas meter"'):
        clearance_findings("trellis", "gas metre", 1.0)


@pytest.mark.parametrize(
    ("feet", "surcharge", "words"),
    [(3, False, ""), (3.5, False, "geogrid"), (4.1, False, "engineer"), (2, True, "engineer")],
)
def test_retaining_walls_want_grid_then_an_engineer(feet: float, surcharge: bool, words: str) -> None:
    """Contractor guide: geogrid usually above 3 ft, engineered above 4 ft."""
    found = retaining_findings("wall", feet * FOOT, surcharge=surcharge)
    text = " ".join(f.what for f in found[1:])
    assert (words in text) if words else not text


def test_patio_furniture_adds_up() -> None:
    """Contractor, 2018: table for four 65, grill 30, six sq ft per foot of seat wall."""
    assert seats_at(8 * FOOT) == 4
    assert len(patio_findings("patio", area=99 * SQUARE_FOOT, width=9 * FOOT, people=4)) == 2
    assert patio_findings("patio", area=100 * SQUARE_FOOT, width=10 * FOOT, people=4) == ()
