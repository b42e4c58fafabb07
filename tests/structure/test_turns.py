"""A path that swings round something passes it on the asked or nearer hand, keeps clear and has no kink, or says why.

Random plots, trees and things; ``--often 10`` tries a hundred and twenty of them.
"""

import attrs
import numpy as np
import pytest

from gardenkit.findings import GardenError
from gardenkit.geometry import plane, ways
from gardenkit.project import Project
from gardenkit.project.edits import site as site_edits
from gardenkit.project.edits import structure as edits
from gardenkit.project.layout import layout
from gardenkit.project.references import mentions_of_site
from gardenkit.site.site import ExistingTree, Site
from gardenkit.structure.route import Route, least_radius
from gardenkit.structure.structure import Path, Seat, Structure, Thing
from gardenkit.structure.turns import CLEAR, CLOSE, NEAR, Swung, hand_of, route_round

MANY = 8  # plots, times --often
PLOT = plane.region([(0, 0), (16, 0), (16, 20), (0, 20)])
WALK = Path(name="Walk", start="gate", end="door", width=0.9)


def tree(x: float, y: float, hand: str = "", name: str = "pear") -> Swung:
    return Swung(name=name, outline=plane.corners(plane.circle((x, y), 0.6, sides=24)), clear=0.0, hand=hand)


def walked(*swung: Swung, ground=PLOT, blocks=plane.NOWHERE, start=(8.0, 0.0), end=(8.0, 20.0), path=WALK) -> Route:
    return route_round(start, end, ground, blocks, path, swung)


def off(one: Swung, made: Route) -> float:
    return ways.line_gap(made.curve.points, [plane.region(one.outline)]) - made.width / 2


def random_plot(dice: np.random.Generator):
    """A plot 7 to 16 m wide and 10 to 24 m deep, up to three trees, a round or square thing, a hand, a path."""
    wide, deep = dice.uniform(7, 16), dice.uniform(10, 24)
    ground = plane.region([(0, 0), (wide, 0), (wide - dice.uniform(0, 0.15) * wide, deep), (0, deep)])
    ends = (dice.uniform(0.3, 0.7) * wide, 0.0), (dice.uniform(0.3, 0.7) * wide, deep)
    spots = [(dice.uniform(0, wide), dice.uniform(2.5, deep - 2.5)) for _ in range(dice.integers(0, 4))]
    at = (dice.uniform(0.25, 0.75) * wide, dice.uniform(0.3, 0.7) * deep)
    x, y = dice.uniform(0.3, 1.5), dice.uniform(0.3, 1.5)
    box = plane.moved(plane.turned(((-x, -y), (x, -y), (x, y), (-x, y)), dice.uniform(0, 180)), at)
    outline = plane.corners(plane.circle(at, x, sides=24)) if dice.random() < 0.5 else box
    hand = str(dice.choice(["", "left", "right"]))
    path = attrs.evolve(WALK, width=float(dice.uniform(0.6, 1.0)))
    trees = plane.union(plane.circle(spot, 0.3, sides=16) for spot in spots)
    return ground, ends, trees, Swung(name="T", outline=outline, hand=hand), path


def test_on_random_plots_it_is_passed_on_the_asked_hand_clear_and_without_a_kink_or_it_is_said(pytestconfig):
    dice, round_it, many = np.random.default_rng(3), 0, MANY * pytestconfig.getoption("--often")
    for _ in range(many):
        ground, (start, end), trees, one, path = random_plot(dice)
        made = walked(one, ground=ground, blocks=trees, start=start, end=end, path=path)
        if any(f.what.startswith("does not turn round T: ") for f in made.findings):
            continue
        round_it += 1
        assert not one.hand or hand_of(one, made) == one.hand
        assert off(one, made) >= float(CLEAR) - 1e-3
        assert made.tightest_radius >= least_radius(path.width) - 1e-6
        assert made.clearance >= path.clear_of_walls - 0.02 or any(f.topic == "clearance" for f in made.findings)
        assert off(one, made) <= float(CLEAR) + NEAR + 1e-6 or any(" m off: " in f.what for f in made.findings)
    assert round_it > 0.7 * many


@pytest.mark.parametrize("x", [3.0, 5.0, 11.0, 13.0])
def test_what_stands_beside_the_way_lies_within_the_bend(x):
    made = walked(one := tree(x, 10.0))
    assert hand_of(one, made) == ("right" if x < 8 else "left")
    assert off(one, made) == pytest.approx(WALK.clear_of_walls, abs=CLOSE)
    assert made.curve.changes_of_side() == 0, "one bend, no slalom"
    assert made.findings == ()


@pytest.mark.parametrize(("x", "nearer"), [(7.6, "left"), (8.4, "right")])
def test_what_stands_in_the_way_is_passed_by_the_shorter_way_or_on_the_asked_hand(x, nearer):
    other = "right" if nearer == "left" else "left"
    short, long = walked(one := tree(x, 10.0)), walked(tree(x, 10.0, other))
    assert (hand_of(one, short), hand_of(one, long)) == (nearer, other)
    assert short.length < long.length


def test_two_things_are_turned_round_in_two_unequal_swings():
    first, second = tree(6.8, 6.0, "right", "pear"), tree(9.0, 14.0, "left", "plum")
    made = walked(first, second)
    assert (hand_of(first, made), hand_of(second, made)) == ("right", "left")
    assert max(off(first, made), off(second, made)) < WALK.clear_of_walls + CLOSE
    assert made.curve.changes_of_side() == 1


def test_what_the_ground_does_not_allow_is_said_in_one_sentence_and_the_path_still_runs():
    strip = plane.region([(0, 0), (3, 0), (3, 12), (0, 12)])
    made = walked(tree(2.2, 6.0, "left"), ground=strip, start=(1.5, 0.0), end=(1.5, 12.0))
    plain = walked(tree(2.2, 6.0), ground=strip, start=(1.5, 0.0), end=(1.5, 12.0))
    (said,) = [f.what for f in made.findings if f.topic == "bend"]
    assert said.startswith("does not turn round pear: with it on the left hand the narrowest place is 0.")
    assert made.length <= plain.length
    behind = walked(tree(8.0, -3.0))
    assert "does not lie beside the way" in behind.findings[0].what


def test_a_path_on_the_near_side_of_a_far_thing_says_that_the_other_hand_takes_it_round():
    strip = [plane.circle((4.0, 10.0), 1.4, sides=16)]
    made = walked(tree(2.0, 10.0, "left"), blocks=plane.union(strip))
    assert any("keeps it off" in f.what or "the other hand takes it round" in f.what for f in made.findings)


def plot(**more) -> Project:
    """A plot 16 by 20 m with a bench at either end, a walk between them, and a pear beside it."""
    pear = ExistingTree(name="pear", at=(6.0, 10.0), height=5.0, spread=4.0, crown_base=2.2)
    benches = (Seat(name="bench", at=(8.0, 1.0)), Seat(name="far bench", at=(8.0, 19.0), facing=180.0))
    bath = Thing(name="bath", kind="bird bath", at=(9.0, 14.0), width=0.6, depth=0.6, height=0.8)
    path = Path(name="Walk", start="bench", end="far bench")
    outline = ((0.0, 0.0), (16.0, 0.0), (16.0, 20.0), (0.0, 20.0))
    bones = Structure(seats=benches, things=(bath,), paths=(path,))
    return Project(name="plot", site=Site(boundary=outline, trees=(attrs.evolve(pear, **more),)), structure=bones)


@pytest.mark.parametrize("low", [True, False])
def test_a_tree_that_nobody_walks_under_is_gone_round_by_its_crown(low):
    project = edits.add_turn(plot(crown_base=1.2 if low else 2.2), "Walk", "pear")
    route = layout(project).routes["Walk"]
    from_trunk = ways.line_gap(route.curve.points, [plane.point((6.0, 10.0))]) - route.width / 2
    foot = 4.0 / 2 if low else 0.25 / 2 + 0.45
    assert from_trunk == pytest.approx(foot + 0.3, abs=2 * CLOSE)


def test_a_turn_follows_a_new_name_and_is_let_go_with_a_route_option():
    swings = edits.add_turn(edits.add_turn(plot(), "Walk", "pear"), "Walk", "bath", hand="left")
    renamed = site_edits.rename_thing(edits.rename_thing(swings, "bath", to="dish"), "pear", to="old pear")
    assert [t.what for t in renamed.structure.paths[0].round] == ["old pear", "dish"]
    assert 'path "Walk" swings round it' in mentions_of_site(swings, "pear")
    gone = edits.remove_thing(swings, "bath")
    assert any("is not on the plan any more" in f.what for f in layout(gone).routes["Walk"].findings)
    assert edits.use_route(swings, "Walk", curvature=0.3, sway=1, first_side="left").structure.paths[0].round == ()


@pytest.mark.parametrize(
    ("what", "said"), [("bench", "on its way"), ("pea", 'the nearest known is "pear"'), ("pear", "swings round")]
)
def test_what_a_path_cannot_swing_round_is_refused(what, said):
    with pytest.raises(GardenError, match=said):
        edits.add_turn(edits.add_turn(plot(), "Walk", "pear"), "Walk", what)
