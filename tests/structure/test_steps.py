"""Steps and ramps of any height keep their own sums, and bad input is refused in one sentence."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.findings import LOCAL_CODE, GardenError
from gardenkit.structure.ramps import ramp, ramp_findings, trail_findings
from gardenkit.structure.steps import BANDS, step_findings, steps
from gardenkit.units import INCH


@settings(max_examples=100, deadline=None)
@given(st.floats(0.05, 6.0), st.floats(0.10, 0.19), st.sampled_from(sorted(BANDS)))
def test_risers_make_up_the_rise_and_the_stride_stays_in_its_band(rise: float, most: float, band: str) -> None:
    made = steps(rise, most_riser=most, band=band)
    low, high, _source = BANDS[band]
    assert made.riser * made.risers == pytest.approx(rise)
    assert made.riser <= most + 1e-9
    assert made.risers == 1 or rise / (made.risers - 1) > most - 1e-9
    assert low * INCH - 1e-9 <= made.two_risers_and_tread <= high * INCH + 1e-9
    assert made.overall == pytest.approx(made.run + 2 * made.landing)


@settings(max_examples=100, deadline=None)
@given(st.floats(0.02, 4.0))
def test_ramp_runs_never_rise_above_30_inches(rise: float) -> None:
    made = ramp(rise)
    assert rise / made.runs <= 30 * INCH + 1e-9
    assert made.length == pytest.approx(12 * rise)
    assert made.overall == pytest.approx(made.length + (made.runs + 1) * 60 * INCH)


def test_every_finding_defers_to_the_local_office() -> None:
    flight = step_findings("steps", steps(1.5, width=0.6), headroom=1.9, at_door=True)
    slope = ramp_findings("ramp", ramp(1.5), width=0.6, cross_slope=0.05, curved=True)
    trail = trail_findings("path", [(50.0, 0.2)])
    assert len(flight) >= 5
    assert all(LOCAL_CODE in f.what for f in (*flight, *slope, *trail))


def test_a_single_step_is_cautioned() -> None:
    assert any("easily missed" in f.what for f in step_findings("step", steps(0.12)))


def test_a_good_flight_of_three_low_steps_brings_no_warning() -> None:
    found = step_findings("steps", steps(15 * INCH, most_riser=5 * INCH, width=60 * INCH))
    assert [f for f in found if f.seriousness in {"warning", "caution"}] == []


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: steps(0), "give both above 0"),
        (lambda: steps(1, band="26-28"), 'no step band "26-28"'),
        (lambda: steps(1, code="IRC 2022"), 'nearest known is "IRC 2021"'),
        (lambda: steps(1, two_risers_and_tread=0.5), "outside the band"),
        (lambda: ramp(-1), "give a rise above 0"),
        (lambda: ramp(1, slope=0.2), "steepest by ADA 2010"),
        (lambda: trail_findings("path", [(0.0, 0.1)]), "no length"),
    ],
)
def test_bad_input_is_refused(call, words) -> None:
    with pytest.raises(GardenError, match=words):
        call()
