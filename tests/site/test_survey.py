import math

import cattrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.site.adjustment import SideQuestion, advise, better_tie, leave_one_out, solve
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
    check,
    names,
)
from gardenkit.site.suspects import slip

A, B = Station(name="A", at=(0.0, 0.0)), Station(name="B", at=(20.0, 0.0))
GARDEN = {"A": (0.0, 0.0), "B": (20.0, 0.0), "C": (19.0, 12.0), "D": (-1.0, 11.0), "E": (7.0, 5.0), "F": (12.0, 8.0)}
LEFT_E = Side(start="A", end="B", point="E", side="left")


def tapes(pairs, points=GARDEN, wrong=None):
    wrong = wrong or {}
    return tuple(Tie(a=a, b=b, distance=math.dist(points[a], points[b]) + wrong.get(a + b, 0.0)) for a, b in pairs)


def held(*measures, **options):
    return Survey(stations=(A, B), measures=measures, **options)


def at_left(*measures, point="P"):
    return held(*measures, sides=(Side(start="A", end="B", point=point, side="left"),))


# What is measured goes where it should


def test_tie_and_side_note_place_a_point_left_or_right():
    ties = (Tie(a="A", b="P", distance=12.0), Tie(a="B", b="P", distance=16.0))
    left = solve(at_left(*ties)).at("P")
    right = solve(held(*ties, sides=(Side(start="A", end="B", point="P", side="right"),))).at("P")
    assert left == pytest.approx((7.2, 9.6))
    assert right == pytest.approx((7.2, -9.6))


def test_mirror_without_a_note_is_asked_naming_point_and_line():
    with pytest.raises(SideQuestion, match='"P": standing at A and looking to B') as asked:
        solve(held(Tie(a="A", b="P", distance=12.0), Tie(a="B", b="P", distance=16.0)))
    assert asked.value.questions == (("P", "A", "B"),)


def test_all_open_sides_are_asked_at_once():
    ties = [Tie(a=s, b=p, distance=12.0) for p in ("P", "Q", "R") for s in ("A", "B")]
    with pytest.raises(SideQuestion) as asked:
        solve(held(*ties))
    assert [q[0] for q in asked.value.questions] == ["P", "Q", "R"]


def test_third_tie_settles_the_side():
    c = Station(name="C", at=(10.0, 15.0))
    p = (7.2, 9.6)
    ties = tuple(Tie(a=s.name, b="P", distance=math.dist(s.at, p)) for s in (A, B, c))
    assert solve(Survey(stations=(A, B, c), measures=ties)).at("P") == pytest.approx(p)


def test_how_well_the_tapes_agree_is_said_in_metres():
    exact = solve(
        held(
            *tapes(["AC", "BC", "AD", "BD", "CD"]),
            sides=tuple(Side(start="A", end="B", point=point, side="left") for point in "CD"),
        )
    )
    assert exact.tape_error == pytest.approx(0.0, abs=1e-9)
    # both ends of AB are held, so a tape 3 cm too long there stays 3 cm off, and C's two ties are true
    held_both = solve(at_left(Tie(a="A", b="B", distance=20.03), *tapes(["AC", "BC"]), point="C"))
    assert held_both.tape_error == pytest.approx(math.sqrt(0.03**2 / 3))


def test_offset_lies_left_of_the_baseline_and_minus_right():
    found = solve(
        held(
            Offset(start="A", end="B", point="P", along=5.0, off=3.0),
            Offset(start="B", end="A", point="Q", along=5.0, off=3.0),
            Offset(start="A", end="B", point="R", along=5.0, off=-3.0),
        )
    )
    assert found.at("P") == pytest.approx((5, 3))
    assert found.at("Q") == pytest.approx((15, -3))
    assert found.at("R") == pytest.approx((5, -3))


def test_running_measures_lie_on_the_wall():
    found = solve(held(*(Running(start="A", end="B", point=p, running=r) for p, r in (("d1", 3.2), ("d2", 4.1)))))
    assert found.at("d1") == pytest.approx((3.2, 0))
    assert found.at("d2") == pytest.approx((4.1, 0))


def test_running_measure_to_the_far_end_is_the_wall_length():
    survey = Survey(
        measures=(
            Running(start="A", end="B", point="door", running=4.0),
            Running(start="A", end="B", point="B", running=9.0),
        )
    )
    found = solve(survey)
    assert found.at("B") == pytest.approx((9, 0))
    assert found.at("door") == pytest.approx((4, 0))


def test_angle_turns_clockwise():
    found = solve(held(Angle(at="A", a="B", b="P", angle=300.0), Tie(a="A", b="P", distance=10.0)))
    assert found.at("P") == pytest.approx((5.0, 10 * math.sin(math.radians(60))))


def test_right_angle_and_a_length_leave_two_sides():
    measures = (RightAngle(corner="B", a="A", b="P"), Tie(a="B", b="P", distance=6.0))
    with pytest.raises(SideQuestion):
        solve(held(*measures))
    assert solve(at_left(*measures)).at("P") == pytest.approx((20, 6))


def test_slope_tape_is_brought_level():
    measures = (SlopeTie(a="A", b="P", slope_distance=13.0, rise=5.0), Tie(a="B", b="P", distance=16.0))
    assert solve(at_left(*measures)).at("P") == pytest.approx((7.2, 9.6))


def test_bearings_find_where_the_plan_points():
    measures = (
        Bearing(a="A", b="B", degrees=80.0),
        Bearing(a="A", b="P", degrees=35.0),
        Bearing(a="B", b="P", degrees=305.0),
    )
    found = solve(held(*measures, declination=10.0))
    assert found.y_bearing == pytest.approx(0.0, abs=1e-9)
    assert found.at("P") == pytest.approx((10, 10))


def test_given_north_turns_a_free_plan():
    survey = Survey(measures=(Tie(a="A", b="B", distance=10.0), Bearing(a="A", b="B", degrees=120.0)))
    assert solve(survey, y_bearing=30.0).at("B") == pytest.approx((10, 0), abs=1e-9)
    assert solve(survey, y_bearing=120.0).at("B") == pytest.approx((0, 10), abs=1e-9)


def test_free_net_starts_at_its_first_point_along_x():
    survey = Survey(measures=tapes(["AB", "BC", "CD", "DA", "AC", "BD", "EA", "EB", "EC"]), sides=(LEFT_E,))
    found = solve(survey)
    for name in "ABCDE":
        assert found.at(name) == pytest.approx(GARDEN[name], abs=1e-9)
    assert (found.spare, found.fits, found.suspects) == (2, True, ())


def test_free_net_without_a_note_asks_for_one_side_only():
    with pytest.raises(SideQuestion) as asked:
        solve(Survey(measures=tapes(["AB", "BC", "CD", "DA", "AC", "BD"])))
    assert len(asked.value.questions) == 1


def test_net_that_no_two_tapes_reach_is_solved_or_told_apart():
    stations = tuple(Station(name=n, at=at) for n, at in (("A", (0.0, 0.0)), ("B", (20.0, 0.0)), ("C", (10.0, 15.0))))
    at = dict(zip("ABCXYZ", ((0, 0), (20, 0), (10, 15), (6, 5), (12, 4), (9, 9)), strict=True))
    bare = tapes(["XY", "YZ", "ZX", "AX", "BY", "CZ"], at)
    with pytest.raises(GardenError, match=r"also measure|left"):
        solve(Survey(stations=stations, measures=bare))
    found = solve(Survey(stations=stations, measures=bare + tapes(["YC", "XB"], at)))
    for name in "XYZ":
        assert found.at(name) == pytest.approx(at[name], abs=1e-6)


# What cannot be is refused


@pytest.mark.parametrize(
    ("measures", "words"),
    [
        ((Tie(a="A", b="P", distance=5.0), Tie(a="B", b="P", distance=6.0)), "cannot meet: 5 m from A.*9 m is missing"),
        ((Tie(a="A", b="P", distance=40.0), Tie(a="B", b="P", distance=10.0)), "reaches past B"),
        ((Tie(a="A", b="P", distance=10.0), Tie(a="B", b="P", distance=10.0)), '"P" free to move'),
        ((Tie(a="A", b="P", distance=5.0),), 'nothing fixes "P"'),
        ((Tie(a="A", b="Bo", distance=5.0), Tie(a="A", b="Bow", distance=5.0)), 'nothing fixes "Bo".*nearest known'),
        ((Tie(a="A", b="A", distance=5.0),), "same point twice"),
        ((Tie(a="A", b="P", distance=0.0),), "above 0"),
        ((Tie(a="A", b="P", distance=math.inf),), "not a number"),
        ((SlopeTie(a="A", b="P", slope_distance=3.0, rise=-3.0),), "cannot be"),
        ((Bearing(a="A", b="P", degrees=400.0),), "0 to 360"),
        ((Tie(a="A", b="P", distance=5.0, precision=0.0),), "precision"),
        ((), "no measures yet"),
    ],
)
def test_impossible_surveys_are_refused_in_one_sentence(measures, words):
    with pytest.raises(GardenError, match=words) as refused:
        solve(held(*measures))
    assert "\n" not in str(refused.value)


def test_two_stations_of_one_name_or_place_are_refused():
    with pytest.raises(GardenError, match="two stations are called"):
        check(Survey(stations=(A, A)))
    with pytest.raises(GardenError, match="same coordinates"):
        check(Survey(stations=(A, Station(name="B", at=(0.0, 0.0)))))


def test_side_note_for_an_unknown_point_names_the_nearest():
    survey = held(*tapes(["AE", "BE"]), sides=(Side(start="A", end="B", point="EE", side="left"),))
    with pytest.raises(GardenError, match='names "EE"; the nearest known is "E"'):
        solve(survey)


def test_side_note_against_the_tapes_is_refused():
    survey = Survey(
        stations=(A, B, Station(name="C", at=(19.0, 12.0))),
        measures=tapes(["AE", "BE", "CE"]),
        sides=(Side(start="A", end="B", point="E", side="right"),),
    )
    with pytest.raises(GardenError, match='contradict the note that "E" is on the right looking from A to B'):
        solve(survey)


def test_point_close_to_the_line_of_its_stations_is_asked_about_not_guessed():
    points = {"A": (0.0, 0.0), "B": (20.0, 0.0), "C": (11.0, 0.03), "P": (7.0, 1.5)}  # A, B, C nearly in a line
    stations = tuple(Station(name=n, at=points[n]) for n in "ABC")
    with pytest.raises(SideQuestion):
        solve(Survey(stations=stations, measures=tapes(["AP", "BP"], points)))
    with pytest.raises(SideQuestion, match='"P"'):
        solve(Survey(stations=stations, measures=tapes(["AP", "BP", "CP"], points)))


def test_tapes_a_little_short_still_meet_when_a_third_one_checks():
    stations = (A, B, Station(name="C", at=(10.0, 15.0)))
    ties = (Tie(a="A", b="P", distance=9.99), Tie(a="B", b="P", distance=10.0), Tie(a="C", b="P", distance=14.9))
    assert solve(Survey(stations=stations, measures=ties)).at("P") == pytest.approx((10.0, 0.1), abs=0.05)


# How sure it is, and what to measure next


FULL = ["AB", "BC", "CD", "DA", "AC", "BD", "EA", "EB", "EC", "ED", "FA", "FB", "FC", "FD", "EF"]


@pytest.mark.parametrize("bad", FULL)
def test_one_foot_slip_is_the_first_suspect_of_a_free_net(bad):
    found = solve(Survey(measures=tapes(FULL, wrong={bad: 0.3048}), sides=(LEFT_E,)))
    assert not found.fits
    first = found.suspects[0]
    assert first.label == f"the tie from {bad[0]} to {bad[1]}"
    assert first.misread == pytest.approx(0.3048, abs=1e-6)
    assert "one foot too long" in first.reason
    assert first.label in advise(found)[0].what
    assert advise(found)[0].seriousness == "warning"


@pytest.mark.parametrize("bad", ["EA", "EC", "ED", "FA", "FC", "FD", "EF"])
def test_one_foot_slip_is_named_alone_where_four_stations_are_known(bad):
    stations = tuple(Station(name=n, at=GARDEN[n]) for n in "ABCD")
    found = solve(Survey(stations=stations, measures=tapes(FULL[6:], wrong={bad: -0.3048})))
    assert found.suspect is not None
    assert found.suspect.label == f"the tie from {bad[0]} to {bad[1]}"
    assert found.suspect.misread == pytest.approx(-0.3048, abs=1e-6)


def test_two_tapes_in_one_line_cannot_be_told_apart_and_both_are_named():
    stations = tuple(Station(name=n, at=GARDEN[n]) for n in "ABCD")  # E lies nearly on the line from B to D
    found = solve(Survey(stations=stations, measures=tapes(FULL[6:], wrong={"EB": -0.3048})))
    assert found.suspect is None
    assert [s.label for s in found.suspects] == ["the tie from E to B", "the tie from E to D"]
    assert "cannot tell which" in advise(found)[0].what


def test_tape_between_two_known_stations_that_disagrees_is_named():
    found = solve(held(Tie(a="A", b="B", distance=20.4)))
    assert found.suspect is not None
    assert found.suspect.misread == pytest.approx(0.4)
    assert "coordinates of its stations" in found.suspect.reason


def test_redundancy_numbers_add_up_to_the_spare_readings():
    found = solve(Survey(measures=tapes(FULL), sides=(LEFT_E,)))
    assert found.spare == 15 - 9
    assert sum(r.redundancy for r in found.residuals) == pytest.approx(found.spare)


def test_leaving_one_out_of_a_sound_net_changes_nothing():
    assert all(one.fits for one in leave_one_out(solve(Survey(measures=tapes(FULL), sides=(LEFT_E,)))))


def test_unchecked_point_gets_a_concrete_tie():
    found = solve(
        at_left(*tapes(["AE", "BE"]), *(Offset(start="A", end="B", point="F", along=12.0, off=8.0),), point="E")
    )
    told = [f for f in advise(found, system="metric") if f.where == "survey point E"]
    assert "nothing checks this point; also measure E to F, about 5.83 m" in told[0].what
    assert told[0].at == found.at("E")


def test_weak_cut_is_reported_and_the_proposed_tie_mends_it():
    stations = (A, B, Station(name="C", at=(9.0, 20.0)))
    p = (10.0, 2.0)
    ties = tuple(Tie(a=s.name, b="P", distance=math.dist(s.at, p)) for s in (A, B))
    side = (Side(start="A", end="B", point="P", side="left"),)
    weak = solve(Survey(stations=stations, measures=ties, sides=side))
    told = next(f for f in advise(weak) if "cross at only" in f.what)
    assert "157 degrees" in told.what
    better = better_tie(weak, "P")
    assert better is not None
    assert better[0] == "C"
    more = Tie(a="C", b="P", distance=math.dist((9.0, 20.0), p))
    mended = solve(Survey(stations=stations, measures=(*ties, more), sides=side))
    assert not [f for f in advise(mended) if "cross at only" in f.what]
    assert next(q.long for q in mended.points if q.name == "P") == pytest.approx(better[2], rel=1e-6)


def test_ellipse_of_two_square_tapes_is_a_circle_of_the_tape_precision():
    survey = at_left(Tie(a="A", b="P", distance=200**0.5), Tie(a="B", b="P", distance=200**0.5))
    point = next(p for p in solve(survey).points if p.name == "P")
    assert (point.long, point.short) == pytest.approx((0.02, 0.02))


def test_ellipse_of_a_weak_cut_points_across_the_baseline():
    survey = at_left(Tie(a="A", b="P", distance=math.hypot(10, 2)), Tie(a="B", b="P", distance=math.hypot(10, 2)))
    point = next(p for p in solve(survey).points if p.name == "P")
    assert point.long > 3 * point.short
    assert min(point.turned, 180 - point.turned) == pytest.approx(0, abs=1e-6)


def test_precise_tape_counts_more():
    stations = (Station(name="A", at=(0.0, 0.0)), Station(name="B", at=(10.0, 0.0)), Station(name="C", at=(0.0, 10.0)))
    ties = (
        Tie(a="A", b="P", distance=5.1, precision=0.001),
        Tie(a="B", b="P", distance=math.hypot(7, 4)),
        Tie(a="C", b="P", distance=math.hypot(3, 6)),
    )
    found = solve(Survey(stations=stations, measures=ties))
    assert abs(found.residuals[0].residual) < 0.001
    assert max(abs(r.residual) for r in found.residuals[1:]) > 0.01


@pytest.mark.parametrize(
    ("misread", "words"), [(0.30, "one foot too long"), (-1.01, "one metre too short"), (0.026, "one inch"), (0.55, "")]
)
def test_usual_slips_are_recognised(misread, words):
    assert words in slip(misread)
    assert bool(slip(misread)) is bool(words)


# Records


def test_empty_survey_is_the_default_and_names_come_in_order():
    assert Survey().measures == ()
    assert names(held(*tapes(["CD", "AC"]))) == ("A", "B", "C", "D")


def test_unknown_point_names_the_nearest():
    with pytest.raises(GardenError, match='no point "PP"; the nearest known is "P"'):
        solve(at_left(Tie(a="A", b="P", distance=12.0), Tie(a="B", b="P", distance=16.0))).at("PP")


def test_every_kind_of_measure_survives_saving_and_opening():
    survey = held(
        *tapes(["AB"]),
        SlopeTie(a="A", b="P", slope_distance=3.0, rise=0.2),
        Offset(start="A", end="B", point="P", along=1.0, off=-2.0),
        Running(start="A", end="B", point="W", running=2.0, precision=0.01),
        Angle(at="A", a="B", b="P", angle=30.0),
        Bearing(a="A", b="B", degrees=12.0),
        RightAngle(corner="A", a="B", b="P"),
        sides=(Side(start="A", end="B", point="P", side="left"),),
    )
    for omit in (True, False):
        converter = cattrs.Converter(omit_if_default=omit)
        assert converter.structure(converter.unstructure(survey), Survey) == survey
