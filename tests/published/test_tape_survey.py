"""Tape survey: printed and worked figures for ties, least squares, traverses, areas and tape corrections."""

import math

import pytest

from gardenkit.findings import GardenError
from gardenkit.site.adjustment import Adjusted, SideQuestion, advise, solve, two_tape_tie
from gardenkit.site.loci import cut_angle
from gardenkit.site.survey import Station, Survey, Tie
from gardenkit.site.traverse import (
    CLASSES,
    Course,
    area_by_coordinates,
    compass_rule,
    cross_sums,
    misclosure,
)

# Two-tape tie: x = (d1^2 - d2^2 + L^2) / 2L, y = sqrt(d1^2 - x^2); worked by hand.
TIES = [
    (14, 13, 15, "5.000000", "12.000000"),
    (24, 18, 18, "12.000000", "13.416408"),
    (30, 25, 17, "20.600000", "14.164745"),
    (40, 32.5, 21.25, "27.558594", "17.227127"),
]


@pytest.mark.parametrize(("length", "d1", "d2", "x", "y"), TIES)
def test_two_tapes_cross_where_worked(length, d1, d2, x, y):
    left, right = two_tape_tie(length, d1, d2, "left"), two_tape_tie(length, d1, d2, "right")
    assert (f"{left[0]:.6f}", f"{left[1]:.6f}") == (x, y)
    assert right == (left[0], -left[1])


def test_tie_that_cannot_meet_is_refused_with_what_is_missing():
    with pytest.raises(GardenError, match=r"cannot meet.*9 m is missing"):
        two_tape_tie(20, 5, 6, "left")


def test_tie_that_reaches_past_the_other_station_is_refused():
    with pytest.raises(GardenError, match=r"cannot meet.*reaches past"):
        two_tape_tie(20, 40, 10, "left")


def test_tie_without_a_side_asks_which():
    with pytest.raises(SideQuestion, match="left or on the right"):
        two_tape_tie(14, 13, 15)


def test_cut_angle_of_13_14_15_triangle():
    # cos = (13^2 + 15^2 - 14^2) / (2 x 13 x 15) = 198 / 390
    assert f"{cut_angle(14, 13, 15):.2f}" == f"{math.degrees(math.acos(198 / 390)):.2f}" == "59.49"


# Least squares with a redundant tie, equal weights; worked, tolerance 0.001.
THREE = (((0, 0), (20, 0), (20, 12)), (11.43, 15.79, 13.36))
FOUR = (((0, 0), (40, 0), (40, 30), (0, 30)), (25.60, 22.18, 24.80, 27.78))
ONE_TOO_LONG = (FOUR[0], (25.60, 22.18, 25.80, 27.78))
GARDEN_TAPE = 0.05  # the precision against which the last net must fail ("s0 ten times the tape precision")


def tied(net, precision=GARDEN_TAPE) -> Adjusted:
    controls, tapes = net
    stations = tuple(Station(name=n, at=(float(x), float(y))) for n, (x, y) in zip("ABCD", controls, strict=False))
    ties = tuple(Tie(a=n, b="P", distance=d) for n, d in zip("ABCD", tapes, strict=False))
    return solve(Survey(stations=stations, measures=ties, tape_precision=precision), errors="fit")


@pytest.mark.parametrize(
    ("net", "at", "residuals", "s0"),
    [
        (THREE, (7.00804, 9.00411), (-0.0201, 0.0171, -0.0271), 0.0378),
        (FOUR, (22.00422, 12.99686), (-0.0441, 0.0183, -0.0421, 0.0281), 0.0492),
        (ONE_TOO_LONG, (21.7179, 12.5130), (-0.535, -0.026, -0.501, 0.103), 0.524),
    ],
)
def test_redundant_ties_adjust_to_worked_point(net, at, residuals, s0):
    found = tied(net)
    assert found.at("P") == pytest.approx(at, abs=0.001)
    assert [r.residual for r in found.residuals] == pytest.approx(residuals, abs=0.001)
    assert found.s0 * GARDEN_TAPE == pytest.approx(s0, abs=0.001)


def test_standard_errors_of_the_four_tie_point():
    point = next(p for p in tied(FOUR).points if p.name == "P")
    assert (f"{point.sx:.4f}", f"{point.sy:.4f}") == ("0.0308", "0.0409")


def test_sound_nets_fit_and_the_wrong_one_does_not():
    assert [tied(net).fits for net in (THREE, FOUR, ONE_TOO_LONG)] == [True, True, False]
    assert tied(ONE_TOO_LONG).s0 == pytest.approx(10, abs=0.5)


@pytest.mark.parametrize("precision", [GARDEN_TAPE, 0.02])
def test_wrong_tape_is_named_though_its_residual_is_not_the_largest(precision):
    found = tied(ONE_TOO_LONG, precision)
    largest = max(found.residuals, key=lambda r: abs(r.residual))
    assert largest.label == "the tie from A to P"
    assert found.suspect is not None
    assert found.suspect.label == "the tie from C to P"
    assert found.suspect.misread == pytest.approx(1.0, abs=0.1)
    assert "the tie from C to P (measure 3)" in advise(found)[0].what


def test_one_spare_tie_cannot_tell_which_tape_is_wrong():
    found = tied((THREE[0], (11.43, 15.79, 14.36)))
    assert not found.fits
    assert found.suspect is None
    assert len(found.suspects) == 3
    assert "cannot tell" in found.suspects[0].reason
    assert "measure these again" in advise(found)[0].what


def test_exact_distances_give_no_residuals():
    found = tied((FOUR[0], (25.5539, 22.2036, 24.7588, 27.8029)))
    assert found.at("P") == pytest.approx((22, 13), abs=0.0001)


# Compass (Bowditch) rule, textbook loop of four courses; printed columns reproduce to 0.001.
LOOP = (
    Course(name="AB", length=80.40, bearing=76.0),  # N 76 E
    Course(name="BC", length=46.30, bearing=144.0),  # S 36 E
    Course(name="CD", length=72.80, bearing=241.0),  # S 61 W
    Course(name="DA", length=68.00, bearing=322.0),  # N 38 W
)
PRINTED = [  # lat, dep, adjusted lat, adjusted dep
    (19.451, 78.012, 19.3653, 78.1055),
    (-37.457, 27.214, -37.5063, 27.2678),
    (-35.294, -63.672, -35.3716, -63.5874),
    (53.585, -41.865, 53.5126, -41.7859),
]


def test_latitudes_and_departures_as_printed():
    for course, (lat, dep, _, _) in zip(LOOP, PRINTED, strict=True):
        assert (course.latitude, course.departure) == pytest.approx((lat, dep), abs=0.001)


def test_misclosure_of_the_loop():
    # printed from rounded columns: +0.285, -0.311, 0.422, 1:634; unrounded 0.2836, -0.3111, 0.421, 1:635
    miss = misclosure(LOOP)
    assert f"{miss.perimeter:.2f}" == "267.50"
    assert (f"{miss.latitude:.4f}", f"{miss.departure:.4f}") == ("0.2836", "-0.3111")
    assert (f"{miss.linear:.3f}", f"{miss.ratio:.0f}") == ("0.421", "635")


def test_adjusted_courses_as_printed():
    for (lat, dep), (_, _, printed_lat, printed_dep) in zip(compass_rule(LOOP).courses, PRINTED, strict=True):
        assert (lat, dep) == pytest.approx((printed_lat, printed_dep), abs=0.001)


def test_adjusted_points_as_printed():
    points = compass_rule(LOOP).points
    printed = [(0.0, 0.0), (78.105, 19.365), (105.373, -18.141), (41.786, -53.513)]
    for point, expected in zip(points, printed, strict=True):
        assert point == pytest.approx(expected, abs=0.001)


def test_area_of_the_printed_adjusted_courses():
    east, north, points = 0.0, 0.0, []
    for _, _, lat, dep in PRINTED:
        points.append((east, north))
        east, north = east + dep, north + lat
    assert f"{area_by_coordinates(points):.2f}" == "4169.13"


# J. Mahun, open surveying text, "Traverse Computations", ch. G.
MAHUN = [(500.000, 2000.000), (323.614, 1561.426), (526.996, 1488.321), (719.336, 1686.956)]  # north, east


def test_area_by_coordinates_as_printed():
    assert sorted(f"{s:,.1f}" for s in cross_sums(MAHUN)) == ["3,384,174.1", "3,590,045.6"]
    assert f"{area_by_coordinates(MAHUN):,.2f}" == "102,935.72"


@pytest.mark.parametrize("points", [MAHUN[::-1], [*MAHUN, MAHUN[0]], [(e, n) for n, e in MAHUN]])
def test_area_ignores_direction_and_a_repeated_closing_point(points):
    assert f"{area_by_coordinates(points):,.2f}" == "102,935.72"


def test_area_refuses_an_outline_that_crosses_itself():
    with pytest.raises(GardenError, match="crosses"):
        area_by_coordinates([(0, 0), (10, 10), (10, 0), (0, 10)])


def test_area_of_the_13_14_15_triangle():
    assert area_by_coordinates([(0, 0), (14, 0), (5, 12)]) == 84


# Acceptable misclosure: Washington WAC 332-130-090; Wisconsin minimum and first order from J. Mahun, ch. D.
@pytest.mark.parametrize(
    ("name", "ratio", "seconds"),
    [
        ("residential lot", 5_000, 30),
        ("city centre", 10_000, 10),
        ("property survey minimum", 3_000, None),
        ("historical first order", 100_000, None),
    ],
)
def test_acceptance_classes_as_printed(name, ratio, seconds):
    rule = next(c for c in CLASSES if c.name == name)
    assert (rule.ratio, rule.seconds) == (ratio, seconds)


def test_loop_passes_as_a_garden_survey_and_fails_as_a_property_survey():
    miss = misclosure(LOOP)
    assert [miss.accepted(rule) for rule in CLASSES] == [True, False, False, False, False]
    assert miss.finding().seriousness == "note"
    assert miss.finding(CLASSES[1]).seriousness == "warning"
