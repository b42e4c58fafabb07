"""Claims about the rules a path is checked against."""

import itertools
import math

import attrs
import numpy as np
import pytest

from gardenkit.findings import LOCAL_CODE, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.curve import measured
from gardenkit.notebook.pages.paths_shown import alike_words
from gardenkit.structure.meander import GOALS, look_alike, propose_meanders, straight_view
from gardenkit.structure.path_rules import (
    Gate,
    check_path,
    longest_at,
    passes,
    slope_allowed,
)
from gardenkit.structure.route import route
from gardenkit.structure.structure import Path, StoneChoice
from gardenkit.units import FOOT, INCH

PLOT = plane.region([(0, 0), (12, 0), (12, 20), (0, 20)])


def checked(width=0.9144, surface="gravel", curvature=0.0, stones=None, **rules):
    path = Path(
        name="Front",
        start="gate",
        end="door",
        width=width,
        curvature=curvature,
        surface=surface,
        stones=stones or StoneChoice(),
    )
    return check_path(path, route((6, 0), (6, 20), PLOT, [], path), **rules)


def test_a_straight_three_foot_gravel_path_is_fine_for_one_person():
    assert checked(use="one person") == ()


def test_a_narrow_path_is_told_how_wide_it_should_be_and_who_says_so():
    (note,) = checked(width=40 * INCH, use="two abreast")
    assert "40 in wide" in note.what and "48 in" in note.what
    assert "Rutgers" in note.source
    assert note.seriousness == "warning"


def test_48_inches_is_enough_for_two_but_60_is_more_comfortable():
    (note,) = checked(width=48 * INCH, use="two abreast")
    assert note.seriousness == "note" and '60"' in note.what
    assert checked(width=60 * INCH, use="two abreast") == ()


def test_stepping_stones_do_not_carry_a_wheelchair():
    assert [f.topic for f in checked(surface="stepping stones", use="wheelchair")] == ["surface"]


def test_open_flagstone_joints_stop_a_wheelchair_and_half_inch_ones_do_not():
    wide = checked(surface="flagstones", use="wheelchair")
    tight = checked(surface="flagstones", use="wheelchair", stones=StoneChoice(joint=0.5 * INCH))
    assert [f.topic for f in wide] == ["surface"]
    assert tight == ()


@pytest.mark.parametrize(("radius", "width", "said"), [(0.9, 36, True), (0.9, 48, False), (1.2, 36, False)])
def test_a_wheelchair_turns_back_round_what_is_narrow_only_on_a_wider_path(radius, width, said):
    # 2010 ADA Standards 403.5.2: round an element less than 48 in (1.22 m) wide, 48 in at the turn. A half circle of
    # 0.9 m as the middle line of a path 0.91 m wide leaves 2 * 0.9 - 0.91 = 0.89 m between its legs; one of 1.2 m 1.49.
    round_the_end = [(radius * (1 - math.cos(a)), 5 + radius * math.sin(a)) for a in np.linspace(0, math.pi, 60)]
    legs = [
        *((0.0, y) for y in np.linspace(0, 5, 30)),
        *round_the_end[1:-1],
        *((2 * radius, y) for y in np.linspace(5, 0, 30)),
    ]
    path = Path(name="Front", start="gate", end="door", width=width * INCH, surface="paving")
    turned = attrs.evolve(route((6, 0), (6, 20), PLOT, [], path), curve=measured(np.array(legs)))
    found = [f.what for f in check_path(path, turned, use="wheelchair") if "turns back" in f.what]
    assert bool(found) is said
    assert all(LOCAL_CODE in what for what in found)
    assert "turns back" not in " ".join(f.what for f in checked(use="wheelchair", curvature=0.8))


def test_every_code_figure_defers_to_the_local_office():
    found = checked(use="wheelchair", slope_percent=9.0, cross_percent=4.0, gates=[Gate(name="Gate", clear=0.7)])
    coded = [f for f in found if f.source.startswith("2010 ADA")]
    assert len(coded) == 3
    assert all(LOCAL_CODE in f.what for f in coded)


def test_slopes_down_count_like_slopes_up():
    assert [f.topic for f in checked(slope_percent=-6.0)] == ["slope"]


def test_a_gentle_slope_says_nothing_and_a_long_steep_one_asks_for_a_rest():
    assert checked(slope_percent=4.9) == ()
    (note,) = checked(slope_percent=10.0, slope_rule="trail")
    assert "allows 9.1 m" in note.what


def test_a_gate_narrower_than_its_path_is_named():
    (note,) = checked(gates=[Gate(name="Side gate", clear=0.8, at=(6, 0))])
    assert note.where == "Side gate" and note.at == (6, 0)


def test_low_arches_are_named_and_80_inches_is_enough():
    assert checked(gates=[Gate(name="Arch", clear=1.2, headroom=80 * INCH)]) == ()
    (note,) = checked(gates=[Gate(name="Arch", clear=1.2, headroom=79 * INCH)])
    assert "headroom" in note.what


def test_unknown_words_name_the_nearest_known_one():
    with pytest.raises(GardenError, match='nearest known is "wheelchair"'):
        checked(use="wheelchairs")
    with pytest.raises(GardenError, match='nearest known is "trail"'):
        slope_allowed(5, 1, by="trails")


def test_a_tight_bend_runs_the_wheelbarrow_over_the_edge():
    path = Path(name="Front", start="gate", end="door", width=0.7, curvature=1.0, sway=3)
    made = attrs.evolve(route((6, 0), (6, 20), PLOT, [], path), tightest_radius=0.6)
    assert any("wheelbarrow" in f.what for f in check_path(path, made))


def test_passing_places_are_asked_of_long_narrow_accessible_paths_only():
    long_plot = plane.region([(0, 0), (5, 0), (5, 70), (0, 70)])
    path = Path(name="Drive", start="gate", end="door", width=40 * INCH, curvature=0, surface="paving")
    made = route((2.5, 0), (2.5, 70), long_plot, [], path)
    assert any("passing place" in f.what for f in check_path(path, made, use="wheelchair"))
    wide = attrs.evolve(path, width=60 * INCH)
    assert not any("passing place" in f.what for f in check_path(wide, made, use="wheelchair"))


def test_steeper_is_never_allowed_for_longer():
    for rule in ("accessible route", "ramp", "trail", "recreation access"):
        allowed = [longest_at(p / 4, by=rule) for p in range(60)]
        assert allowed == sorted(allowed, reverse=True)
        assert allowed[0] == math.inf and allowed[-1] == 0


def test_meanders_are_best_at_what_they_are_proposed_for():
    trees = [plane.circle(at, 0.2, sides=12) for at in ((5, 6), (7, 12))]
    path = Path(name="Front", start="gate", end="door")
    found = propose_meanders((6, 0), (4, 20), PLOT, trees, path, heights=lambda p: 0.03 * p[:, 1])
    best = {m.goal: m for m in found}
    assert tuple(best) == GOALS
    assert best["shortest"].length == min(m.length for m in found)
    assert best["largest pocket"].pocket == max(m.pocket for m in found)
    assert best["least straight view"].straight_view == min(m.straight_view for m in found)
    assert best["gentlest slope"].steepest == min(m.steepest for m in found)
    assert best["least straight view"].straight_view < 0.6 * best["shortest"].straight_view
    assert all(m.factor <= 1.35 and m.route.clearance >= 0.3 for m in found)


@pytest.mark.parametrize("inches", [24, 30, 36, 48, 56])
def test_a_strip_of_seven_by_forty_feet_has_three_different_lines_or_is_said_to_have_none(inches):
    strip = plane.region([(0, 0), (7 * FOOT, 0), (7 * FOOT, 40 * FOOT), (0, 40 * FOOT)])
    path = Path(name="Side", start="gate", end="door", width=inches * INCH)
    found = propose_meanders((3.5 * FOOT, 0), (3.5 * FOOT, 40 * FOOT), strip, plane.NOWHERE, path)
    alike = [(a.goal, b.goal) for a, b in itertools.combinations(found, 2) if look_alike(a, b)]
    said = alike_words(found, "imperial")
    if inches <= 36:
        assert alike == [] and said == "" and len({m.path for m in found}) == 3
    room = (7 * FOOT - path.width) / 2 - path.clear_of_walls
    assert max(m.swing for m in found) <= room + 0.02
    if inches == 56:
        assert len(alike) == 3 and "One line to the eye: 1 (largest pocket) and 2" in said and "swings further" in said


def test_without_heights_no_gentlest_slope_is_proposed_and_unknown_goals_are_refused():
    path = Path(name="Front", start="gate", end="door")
    found = propose_meanders((6, 0), (6, 20), PLOT, [], path, goals=("shortest", "gentlest slope"))
    assert [m.goal for m in found] == ["shortest"]
    with pytest.raises(GardenError, match='nearest known is "shortest"'):
        propose_meanders((6, 0), (6, 20), PLOT, [], path, goals=("short",))


def test_one_sees_the_whole_of_a_straight_path_and_half_of_a_right_angle():
    import numpy as np

    straight = np.column_stack((np.zeros(41), np.linspace(0, 10, 41)))
    bent = np.vstack((straight, np.column_stack((np.linspace(0.25, 10, 40), np.full(40, 10.0)))))
    assert straight_view(straight, 1.0) == pytest.approx(10.0)
    assert 10.0 <= straight_view(bent, 1.0) < 10.6


def test_pinch_points_follow_the_32_inch_rule():
    assert passes(36 * INCH)[0] == "wheelchair"
