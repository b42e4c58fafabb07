"""2010 ADA Standards 405 (ramps) and the Access Board's outdoor slopes, with ramps worked out from them."""

import pytest

from gardenkit.structure.ramps import ramp, ramp_findings, trail_findings
from gardenkit.units import FOOT, INCH

RAMPS = [  # rise in, runs, ramp ft, middle landings, overall ft, handrails; 405.2, 405.6, 405.7, 405.8
    (6, 1, 6, 0, 16, False),
    (6.5, 1, 6.5, 0, 16.5, True),
    (18, 1, 18, 0, 28, True),
    (30, 1, 30, 0, 40, True),
    (45, 2, 45, 1, 60, True),
    (61, 3, 61, 2, 81, True),
]


@pytest.mark.parametrize(("rise", "runs", "feet", "middle", "overall", "rails"), RAMPS)
def test_ramps_at_one_in_twelve(rise, runs, feet, middle, overall, rails) -> None:
    made = ramp(rise * INCH)
    assert (made.runs, made.middle_landings, made.handrails) == (runs, middle, rails)
    assert (made.length / FOOT, made.overall / FOOT) == pytest.approx((feet, overall), abs=1e-9)


def test_irc_ramps_away_from_the_exit_door_may_be_one_in_eight() -> None:
    """IRC R311.8 (from memory): 1:12 at the required exit door, 1:8 others; landings 36 in."""
    assert ramp(24 * INCH, rule="IRC other").length / FOOT == pytest.approx(16, abs=1e-9)
    assert ramp(24 * INCH, rule="IRC exit door").overall / FOOT == pytest.approx(24 + 6, abs=1e-9)


@pytest.mark.parametrize(("width", "warned"), [(36, False), (35.9, True)])
def test_ramp_clear_width_36_in(width: float, warned: bool) -> None:
    """405.5."""
    found = ramp_findings("ramp", ramp(6 * INCH), width=width * INCH)
    assert any(f.seriousness == "warning" for f in found) is warned


def test_curved_ramps_are_treated_as_not_complying() -> None:
    """Advisory to 405.7."""
    found = ramp_findings("ramp", ramp(6 * INCH), width=1.0, curved=True)
    assert [f.source for f in found if f.seriousness == "warning"] == ["2010 ADA Standards, advisory to 405.7"]


TRAILS = [  # slope 1:n, feet, allowed; Access Board 1017.7.1
    (20, 1000, True),
    (12, 200, True),
    (12, 201, False),
    (10, 30, True),
    (10, 31, False),
    (8, 10, True),
    (8, 11, False),
    (7.9, 1, False),
]


@pytest.mark.parametrize(("per", "feet", "allowed"), TRAILS)
def test_trail_slopes(per: float, feet: float, allowed: bool) -> None:
    rest = (1000 * FOOT, 0.0)
    assert (trail_findings("path", [rest, (feet * FOOT, 1 / per), rest]) == ()) is allowed


def test_at_most_30_percent_of_a_trail_is_steeper_than_one_in_twelve() -> None:
    """1017.7.1."""
    pieces = [(30 * FOOT, 1 / 10), (70 * FOOT, 0.0)]
    assert trail_findings("path", pieces) == ()
    assert len(trail_findings("path", [(30 * FOOT, 1 / 10), (69 * FOOT, 0.0)])) == 1


@pytest.mark.parametrize(("per", "feet", "allowed"), [(12, 50, True), (12, 51, False), (10, 30, True), (9.9, 1, False)])
def test_outdoor_access_routes(per: float, feet: float, allowed: bool) -> None:
    """1016.7.1."""
    assert (trail_findings("path", [(feet * FOOT, 1 / per)], rule="outdoor access route") == ()) is allowed


def test_trail_one_in_eight_is_12_5_percent() -> None:
    """Printed "1:8 (12 %)" elsewhere; exactly 12.5 %, still allowed for 10 ft."""
    assert trail_findings("path", [(10 * FOOT, 0.125), (100 * FOOT, 0.0)]) == ()
