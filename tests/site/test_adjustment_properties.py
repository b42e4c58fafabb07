import math

import attrs
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from gardenkit.geometry.plane import heading
from gardenkit.site import fitting, placing
from gardenkit.site.adjustment import solve, two_tape_tie
from gardenkit.site.survey import Part, Reading, Side, Station, Survey, Tie
from gardenkit.site.traverse import Course, area_by_coordinates, compass_rule, misclosure

QUICK = settings(max_examples=30, deadline=None)
SPOT = st.tuples(st.floats(0, 40), st.floats(0, 40))


def exact(points, pairs):
    return tuple(Tie(a=a, b=b, distance=math.dist(points[a], points[b])) for a, b in pairs)


def spread_enough(points):
    spots = list(points.values())
    near = min(math.dist(a, b) for i, a in enumerate(spots) for b in spots[:i])
    flat = np.linalg.svd(np.array(spots) - np.mean(spots, axis=0), compute_uv=False)[-1]
    return near > 2.0 and flat > 5.0


def turned(points, degrees, by):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return {n: (c * x - s * y + by[0], s * x + c * y + by[1]) for n, (x, y) in points.items()}


@QUICK
@given(st.lists(SPOT, min_size=4, max_size=7))
def test_random_nets_with_exact_tapes_are_recovered_to_a_micrometre(spots):
    points = dict(zip("ABCDEFG", spots, strict=False))
    assume(spread_enough(points))
    assume(spread_enough({n: points[n] for n in "ABC"}))
    held = tuple(Station(name=n, at=points[n]) for n in "ABC")
    free = [n for n in points if n not in "ABC"]
    ties = exact(points, [(a, b) for i, b in enumerate(free) for a in ["A", "B", "C", *free[:i]]])
    found = solve(Survey(stations=held, measures=ties))
    for name in free:
        assert math.dist(found.at(name), points[name]) < 1e-6
    assert found.s0 < 1e-4


@QUICK
@given(st.lists(SPOT, min_size=4, max_size=6))
def test_free_nets_keep_every_distance(spots):
    points = dict(zip("ABCDEF", spots, strict=False))
    assume(spread_enough(points))
    pairs = [(a, b) for i, a in enumerate(points) for b in list(points)[i + 1 :]]
    (ax, ay), (bx, by), (cx, cy) = (points[n] for n in "ABC")
    cross = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    assume(abs(cross) > 20)
    side = Side(start="A", end="B", point="C", side="left" if cross > 0 else "right")
    found = solve(Survey(measures=exact(points, pairs), sides=(side,)))
    assert found.at("A") == (0.0, 0.0)
    assert found.at("B")[1] == 0.0
    for a, b in pairs:
        assert math.dist(found.at(a), found.at(b)) == pytest.approx(math.dist(points[a], points[b]), abs=1e-6)


NOISY = {"A": (0.0, 0.0), "B": (18.0, 1.0), "C": (16.0, 13.0), "P": (6.0, 7.0), "Q": (11.0, 4.0)}
NOISE = (0.012, -0.02, 0.007, 0.015, -0.011, 0.004, 0.018)
PAIRS = ("AP", "BP", "CP", "AQ", "BQ", "CQ", "PQ")


def noisy(stations):
    ties = tuple(
        Tie(a=a, b=b, distance=math.dist(NOISY[a], NOISY[b]) + e) for (a, b), e in zip(PAIRS, NOISE, strict=True)
    )
    return solve(Survey(stations=tuple(Station(name=n, at=stations[n]) for n in "ABC"), measures=ties))


@QUICK
@given(st.floats(0, 360), st.floats(-100, 100), st.floats(-100, 100))
def test_turning_and_moving_the_plan_changes_no_residual_and_no_ellipse(degrees, x, y):
    here, there = noisy(NOISY), noisy(turned(NOISY, degrees, (x, y)))
    moved = turned({p.name: p.at for p in here.points}, degrees, (x, y))
    for a, b in zip(here.points, there.points, strict=True):
        assert b.at == pytest.approx(moved[a.name], abs=1e-6)
        assert (b.long, b.short) == pytest.approx((a.long, a.short), abs=1e-7)
    assert [r.residual for r in there.residuals] == pytest.approx([r.residual for r in here.residuals], abs=1e-7)
    assert [r.redundancy for r in there.residuals] == pytest.approx([r.redundancy for r in here.residuals], abs=1e-6)


@QUICK
@given(st.permutations(range(len(PAIRS))))
def test_order_of_the_measures_does_not_matter(order):
    survey = noisy(NOISY).survey
    shuffled = solve(attrs.evolve(survey, measures=tuple(survey.measures[i] for i in order)))
    for name in "PQ":
        assert shuffled.at(name) == pytest.approx(noisy(NOISY).at(name), abs=1e-8)


@QUICK
@given(st.floats(1, 50), st.floats(1, 60), st.floats(1, 60))
def test_two_tapes_end_at_their_lengths(length, d1, d2):
    assume(d1 + d2 > length and abs(d1 - d2) < length)
    x, y = two_tape_tie(length, d1, d2, "left")
    assert y >= 0
    assert math.hypot(x, y) == pytest.approx(d1, abs=1e-6)
    assert math.hypot(x - length, y) == pytest.approx(d2, abs=1e-6)


@QUICK
@given(
    st.sampled_from(["distance", "along", "off", "turn", "square", "bearing"]),
    st.lists(SPOT, min_size=3, max_size=3),
)
def test_slopes_of_readings_match_small_moves(part: Part, spots):
    points = dict(zip("ABC", spots, strict=True))
    assume(spread_enough(points))
    turn = (heading(spots[0], spots[2]) - heading(spots[0], spots[1])) % 180
    assume(part not in ("square", "turn") or 1 < turn < 179)
    used = ("A", "B") if part in ("distance", "bearing") else ("A", "B", "C")
    value = {"turn": (turn + 10), "bearing": heading(*spots[:2]) % 360}.get(part, 90.0)
    reading = Reading(measure=0, part=part, points=used, value=value, sigma=1.0)
    for (name, axis), slope in fitting.slopes(reading, points).items():
        ends = []
        for step in (1e-5, -1e-5):
            spot = list(points[name])
            spot[axis] += step
            ends.append(placing.difference(reading, {**points, name: (spot[0], spot[1])}, 0.0))
        assert (ends[0] - ends[1]) / 2e-5 == pytest.approx(slope, abs=1e-3)


COURSES = st.lists(st.tuples(st.floats(1, 100), st.floats(0, 359.9)), min_size=3, max_size=8)


@QUICK
@given(COURSES)
def test_adjusted_courses_close_and_corrections_go_by_length(legs):
    courses = [Course(length=d, bearing=b) for d, b in legs]
    found = compass_rule(courses)
    miss = found.misclosure
    assert sum(lat for lat, _ in found.courses) == pytest.approx(0, abs=1e-9)
    assert sum(dep for _, dep in found.courses) == pytest.approx(0, abs=1e-9)
    for course, (lat, dep) in zip(courses, found.courses, strict=True):
        assert lat - course.latitude == pytest.approx(-miss.latitude * course.length / miss.perimeter, abs=1e-9)
        assert dep - course.departure == pytest.approx(-miss.departure * course.length / miss.perimeter, abs=1e-9)


@QUICK
@given(COURSES)
def test_walking_the_traverse_backwards_gives_the_same_shape(legs):
    courses = [Course(length=d, bearing=b) for d, b in legs]
    backwards = [Course(length=d, bearing=(b + 180) % 360) for d, b in reversed(legs)]
    there, back = compass_rule(courses), compass_rule(backwards)
    assert back.misclosure.linear == pytest.approx(there.misclosure.linear, abs=1e-9)
    mirrored = [back.points[0], *reversed(back.points[1:])]
    for a, b in zip(there.points, mirrored, strict=True):
        assert a == pytest.approx(b, abs=1e-9)


@QUICK
@given(COURSES, st.floats(0, 360))
def test_turning_a_traverse_keeps_its_misclosure(legs, by):
    courses = [Course(length=d, bearing=b) for d, b in legs]
    other = [Course(length=d, bearing=(b + by) % 360) for d, b in legs]
    assert misclosure(other).linear == pytest.approx(misclosure(courses).linear, abs=1e-9)


@QUICK
@given(st.integers(3, 9), st.floats(1, 40), st.floats(-500, 500), st.floats(0, 360))
def test_area_of_a_regular_figure_stays_when_moved_and_turned(sides, radius, shift, turn):
    corners = [
        (
            shift + radius * math.cos(2 * math.pi * k / sides + math.radians(turn)),
            shift + radius * math.sin(2 * math.pi * k / sides + math.radians(turn)),
        )
        for k in range(sides)
    ]
    expected = sides / 2 * radius**2 * math.sin(2 * math.pi / sides)
    assert area_by_coordinates(corners) == pytest.approx(expected, rel=1e-9)


def test_traverse_between_two_known_points_ends_at_the_second():
    legs = [Course(length=10.0, bearing=90.0), Course(length=10.1, bearing=0.0)]
    found = compass_rule(legs, start=(5.0, 5.0), end=(15.0, 15.0))
    assert found.points[-1] == pytest.approx((15, 15))
    assert found.misclosure.latitude == pytest.approx(0.1)
