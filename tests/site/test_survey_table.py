import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.site.adjustment import solve
from gardenkit.site.survey import (
    Angle,
    Bearing,
    Offset,
    RightAngle,
    Running,
    Side,
    SlopeTie,
    Station,
    Survey,
    Tie,
)
from gardenkit.site.survey_table import read_table, table_text
from gardenkit.units import FOOT, INCH, System


def survey_from_table(text: str, *, system: System = "imperial") -> Survey:
    found = read_table(text, system=system)
    assert not found.problems
    return found.survey


TYPED = """kind,from,to,point,value,second,precision
# the house corners
station,A,,,0,0
station,B,,,40',0
tie,A,P,,12' 6"
tie,B,P,,30 ft 2 1/2 in,,1"

offset,A,B,Q,10,left 3' 6"
offset,A,B,R,10,2m R
running,A,B,door edge,7' 3"
angle,A,B,S,300.5
bearing,A,B,,N 76 E,,2
right angle,A,B,T
slope,A,U,,20,-1' 6"
side,A,B,P,left
"""


def test_typed_table_gives_every_kind_in_feet_and_inches():
    found = survey_from_table(TYPED)
    assert found.stations == (Station(name="A", at=(0.0, 0.0)), Station(name="B", at=(40 * FOOT, 0.0)))
    tie, precise, left, right, running, angle, bearing, square, slope = found.measures
    assert tie == Tie(a="A", b="P", distance=3.81)  # 12.5 times 0.3048 m, the exact foot
    assert precise == Tie(a="B", b="P", distance=9.2075, precision=INCH)
    assert isinstance(left, Offset)
    assert isinstance(right, Offset)
    assert (left.along, left.off, right.off) == pytest.approx((10 * FOOT, 3.5 * FOOT, -2.0))
    assert running == Running(start="A", end="B", point="door edge", running=pytest.approx(7.25 * FOOT))
    assert angle == Angle(at="A", a="B", b="S", angle=300.5)
    assert bearing == Bearing(a="A", b="B", degrees=76.0, precision=2.0)
    assert square == RightAngle(corner="A", a="B", b="T")
    assert slope == SlopeTie(a="A", b="U", slope_distance=20 * FOOT, rise=pytest.approx(-1.5 * FOOT))
    assert found.sides == (Side(start="A", end="B", point="P", side="left"),)


def test_paste_from_a_spreadsheet_reads_the_same():
    pasted = TYPED.replace(",", "\t").replace("12' 6\"", '"12\' 6"""').replace("\n", "\r\n")
    assert survey_from_table(pasted) == survey_from_table(TYPED)


def test_bare_lengths_take_the_units_of_the_garden():
    line = "tie,A,B,,12.5"
    feet, metres = (survey_from_table(line, system=s).measures[0] for s in ("imperial", "metric"))
    assert (feet.distance, metres.distance) == (3.81, 12.5)


def test_other_headings_in_another_order_are_understood():
    found = survey_from_table("Type;Distance;From;To\nwall;3,25 m;A;B\n", system="metric")
    assert found.measures == (Tie(a="A", b="B", distance=3.25),)


def test_table_without_headings_is_read_in_the_standard_order():
    assert survey_from_table("tie\tA\tB\t\t3.2 m").measures == (Tie(a="A", b="B", distance=3.2),)


def test_typed_garden_solves():
    text = "station,A,,,0,0\nstation,B,,,20 m,0\ntie,A,P,,12 m\ntie,B,P,,16 m\nside,A,B,P,left"
    assert solve(survey_from_table(text)).at("P") == pytest.approx((7.2, 9.6))


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("tye,A,B,,3", 'line 2, column "kind".*"tye".*nearest known is "tie"'),
        ("tie,A,,,3", 'line 2, column "to" is empty'),
        ("tie,A,B,,twelve", '"twelve" for line 2, column "value"'),
        ("tie,A,B,,", 'line 2, column "value" is empty'),
        ("tie,A,B,,0", 'line 2, column "value" is 0'),
        ("tie,A,B,,-3", "below zero"),
        ("tie,A,B,,9000", "check the unit"),
        ("tie,A,B,,3,,0", 'column "precision" is 0'),
        ("tie,A,B,,3,1,2,5", "line 2 has 8 cells for 7 columns"),
        (",A,B,,3", 'line 2, column "kind" has no kind'),
        ("offset,A,B,P,3", 'line 2, column "second" is empty'),
        ("offset,A,B,P,3,left", 'line 2, column "second"'),
        ("slope,A,B,,3,4", "rise is as long as the tape"),
        ("bearing,A,B,,N 95 E", "bearing.*line 2"),
        ("bearing,A,B,,", 'line 2, column "value" is empty; type degrees'),
        ("angle,A,B,C,north", "line 2"),
        ("angle,A,B,C,30,,wide", '"wide" for the degrees in line 2, column "precision"'),
        ("side,A,B,P,up", 'is "up"; type left or right'),
        ("station,A,,,3", 'line 2, column "second" is empty'),
    ],
)
def test_bad_row_gives_one_sentence_with_line_and_column(row, words):
    found = read_table(f"kind,from,to,point,value,second,precision\n{row}\ntie,C,D,,4\n", system="metric")
    assert len(found.problems) == 1
    assert "\n" not in found.problems[0]
    assert found.survey.measures == (Tie(a="C", b="D", distance=4.0),)
    assert re.search(words, found.problems[0])


def test_every_bad_row_is_reported():
    found = read_table("tie,A,B,,x\ntie,A,B,,3\ntie,,B,,3\n")
    assert ["line 1" in found.problems[0], "line 3" in found.problems[1]] == [True, True]
    assert len(found.survey.measures) == 1


def test_unknown_heading_and_empty_table_are_said():
    assert 'column "lenght"' in read_table("kind,from,to,lenght\ntie,A,B,3").problems[0]
    assert 'nearest known is "length"' in read_table("kind,from,to,lenght\ntie,A,B,3").problems[0]
    assert "lacks a column" in read_table("from,to,length\nA,B,3").problems[0]
    assert "empty" in read_table(" \n\n").problems[0]


def test_station_given_twice_is_refused():
    assert 'station "A" is already there' in read_table("station,A\nstation,A").problems[0]


@pytest.mark.parametrize("mark", ["\t", ",", ";"])
@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_table_written_reads_back_the_same(system, mark):
    survey = survey_from_table(TYPED)
    for reader in ("imperial", "metric"):
        assert survey_from_table(table_text(survey, system=system, mark=mark), system=reader) == survey


def test_written_table_shows_feet_and_inches():
    assert "tie\tA\tP\t\t12' 6\"\n" in table_text(survey_from_table(TYPED))


NAME = st.text("ABCxyz 12,;'\"", min_size=1, max_size=6).map(str.strip).filter(bool)
LENGTH = st.floats(0.001, 1999)
SIGNED = st.floats(-1999, 1999)
MAYBE = st.none() | st.floats(0.0001, 2)
MEASURE = st.one_of(
    st.builds(Tie, a=NAME, b=NAME, distance=LENGTH, precision=MAYBE),
    st.builds(Offset, start=NAME, end=NAME, point=NAME, along=SIGNED, off=SIGNED, precision=MAYBE),
    st.builds(Running, start=NAME, end=NAME, point=NAME, running=LENGTH, precision=MAYBE),
    st.builds(Angle, at=NAME, a=NAME, b=NAME, angle=st.floats(0, 359.99), precision=MAYBE),
    st.builds(Bearing, a=NAME, b=NAME, degrees=st.floats(0, 359.99), precision=MAYBE),
    st.builds(RightAngle, corner=NAME, a=NAME, b=NAME, precision=MAYBE),
    st.builds(SlopeTie, a=NAME, b=NAME, slope_distance=st.just(5.0), rise=st.floats(-4.9, 4.9), precision=MAYBE),
)


@settings(max_examples=80, deadline=None)
@given(st.lists(MEASURE, max_size=5), st.sampled_from(["imperial", "metric"]), st.sampled_from("\t,;"))
def test_any_survey_round_trips_to_the_last_digit(measures, system, mark):
    survey = Survey(
        stations=(Station(name="A", at=(math.pi, -1 / 3)), Station(name="B")),
        measures=tuple(measures),
        tape_precision=0.01,
        declination=-7.5,
    )
    assert survey_from_table(table_text(survey, system=system, mark=mark), system="metric") == survey


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("tie\tA\tB\tX\t3 m", "point"),
        ("bearing\tA\tB\tC\t30", "point"),
        ("right angle\tA\tB\tC\t5", "value"),
        ("station\tA\tB\t\t1\t2", "to"),
        ("side\tA\tB\tC\tleft\t3", "second"),
        ("declination\tA\t\t\t5", "from"),
        ("angle\tA\tB\tC\t30\t5", "second"),
    ],
)
def test_a_filled_cell_that_its_row_does_not_use_is_refused(row: str, column: str) -> None:
    (said,) = read_table(row, system="metric").problems
    assert f'line 1, column "{column}" holds' in said
    assert "does not use" in said
