"""Outdoor step tables: pairs of tread and riser, worked flights, and where the codes differ."""

import pytest

from gardenkit.findings import LOCAL_CODE
from gardenkit.structure.steps import BANDS, in_band, needs_guard, needs_handrail, step_findings, steps
from gardenkit.units import INCH

CHART = [  # common-practice chart: tread, riser, 2R + T, inches
    (18, 4, 26),
    (18, 4.5, 27),
    (17, 4.5, 26),
    (17, 5, 27),
    (16, 5, 26),
    (16, 5.5, 27),
    (15, 5.5, 26),
    (15, 6, 27),
    (14, 6, 26),
    (14, 6.5, 27),
    (13, 6.5, 26),
    (13, 7, 27),
    (12, 7, 26),
    (12, 7.5, 27),
]
SECOND_CHART = [(19, 4, 27), (18, 4.5, 27), (16, 5, 26), (14, 6.5, 27), (13, 7, 27), (15, 6, 27)]
NOT_CONSTANT = [  # a table that keeps no constant sum: riser, tread, 2R + T
    (4, 23, 31),
    (4.5, 20.5, 29.5),
    (5, 18, 28),
    (5.5, 16, 27),
    (6, 14, 26),
    (6.5, 12.5, 25.5),
    (7, 11, 25),
    (7.5, 10, 25),
    (8, 9, 25),
    (8.5, 8.5, 25.5),
    (9, 8, 26),
    (9.5, 7.5, 26.5),
]
FLIGHTS = [  # total rise, most riser -> risers, riser, tread for 26 in, run, handrail (IRC R311.7: from 4 risers)
    (36, 6, 6, 6.000, 14.0, 70.0, True),
    (20, 7, 3, 6.667, 12.667, 25.33, False),
    (28, 7, 4, 7.000, 12.0, 36.0, True),
    (31, 7.75, 4, 7.750, 10.5, 31.5, True),
]


@pytest.mark.parametrize(("tread", "riser", "total"), CHART)
def test_every_pair_of_the_chart_gives_26_or_27(tread: float, riser: float, total: float) -> None:
    assert 2 * riser + tread == total
    assert in_band(riser * INCH, tread * INCH, band="26-27")


@pytest.mark.parametrize(("tread", "riser", "total"), SECOND_CHART)
def test_second_chart(tread: float, riser: float, total: float) -> None:
    assert 2 * riser + tread == total
    assert in_band(riser * INCH, tread * INCH, band="25-27")


@pytest.mark.parametrize(("riser", "tread", "total"), NOT_CONSTANT)
def test_table_without_a_constant_sum(riser: float, tread: float, total: float) -> None:
    assert 2 * riser + tread == total
    assert in_band(riser * INCH, tread * INCH, band="26-27") == (26 <= total <= 27)


@pytest.mark.parametrize(("rise", "most", "risers", "riser", "tread", "run", "rail"), FLIGHTS)
def test_flights(rise, most, risers, riser, tread, run, rail) -> None:
    made = steps(rise * INCH, most_riser=most * INCH, two_risers_and_tread=26 * INCH)
    assert (made.risers, made.treads) == (risers, risers - 1)
    assert (round(made.riser / INCH, 3), round(made.tread / INCH, 3)) == (riser, tread)
    assert round(made.run / INCH, 2) == run
    assert needs_handrail(made.risers) is rail


def test_a_4_in_riser_allows_treads_of_14_to_22_in_the_widest_band() -> None:
    """Construction for Landscape Architecture (handbook): 2R + T = 22 to 30."""
    assert [in_band(4 * INCH, t * INCH, band="22-30") for t in (13.9, 14, 22, 22.1)] == [False, True, True, False]


def test_four_published_bands_and_the_default() -> None:
    assert set(BANDS) == {"26-27", "25-27", "24-28", "22-30"}
    assert steps(30 * INCH).band == "26-27"


@pytest.mark.parametrize(("inches", "irc", "buxton"), [(29.9, False, False), (30.0, False, True), (30.1, True, True)])
def test_guard_at_exactly_30_inches(inches: float, irc: bool, buxton: bool) -> None:
    """IRC 2021: more than 30 in; code page of Buxton, Maine (buxton.me.us): 30 in or more."""
    assert needs_guard(inches * INCH, code="IRC 2021") is irc
    assert needs_guard(inches * INCH, code="Buxton") is buxton


@pytest.mark.parametrize(("riser", "tread"), [(8, 9), (8.5, 8.5), (9, 8), (9.5, 7.5)])
def test_last_four_pairs_break_the_irc(riser: float, tread: float) -> None:
    made = steps(
        4 * riser * INCH, most_riser=riser * INCH, band="22-30", two_risers_and_tread=(2 * riser + tread) * INCH
    )
    whats = [f.what for f in step_findings("steps", made)]
    assert any(w.startswith(("the riser is", "the tread is")) for w in whats)
    assert all(LOCAL_CODE in w for w in whats)


def test_a_flight_above_12_ft_7_in_gets_a_landing() -> None:
    """IRC 2021 R311.7.3: flight rise up to 12 ft 7 in."""
    assert steps(151 * INCH).middle_landings == 0
    assert steps(151.1 * INCH).middle_landings == 1
