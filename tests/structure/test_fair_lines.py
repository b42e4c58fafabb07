"""Fair curves are measured: how often their curvature changes sign, how tight and how sudden they are; none is silent.

The same random gardens are walked with even swings, so that the gain is a measured one. ``--often 14`` walks 140
of them.
"""

import math

import attrs
import numpy as np
import pytest

from gardenkit.drawing.bends_chart import HIGH, LOW, bends_chart
from gardenkit.drawing.scene import Stroke
from gardenkit.findings import GardenError
from gardenkit.geometry import outlines, plane
from gardenkit.geometry.curve import Curve
from gardenkit.project import references
from gardenkit.project.edits import structure as edits
from gardenkit.structure.fair_route import SWING, least_turn
from gardenkit.structure.laying import HAIR
from gardenkit.structure.route import Route, least_radius, route
from gardenkit.structure.stepping import stepping_stones
from gardenkit.structure.stone_sizes import USUAL_SPREAD
from gardenkit.structure.structure import HeldPoint, Path, StoneChoice

MANY = 10  # gardens, times --often
PLOT = plane.region([(0, 0), (16, 0), (16, 20), (0, 20)])
GATE, DOOR = (8.0, 0.0), (8.0, 20.0)
STRAIGHT = 0.01  # per metre: a radius over 100 m is straight to the eye


def fair(start=GATE, end=DOOR, ground=PLOT, obstacles=(), **changes) -> Route:
    path = attrs.evolve(
        Path(name="Walk", start="gate", end="door", line="fair curves", curvature=0.8, sway=0), **changes
    )
    return route(start, end, ground, obstacles, path)


def sign_changes(curve: Curve) -> int:
    bends = curve.curvature()[2:-2]
    bends = bends[np.abs(bends) > STRAIGHT]
    return int((np.sign(bends[1:]) != np.sign(bends[:-1])).sum())


def greatest_rate(curve: Curve) -> float:
    return float(np.abs(np.diff(curve.curvature()) / np.diff(curve.along)).max())


def random_garden(dice: np.random.Generator):
    """A plot 5 to 16 m wide and 8 to 24 m deep with a slanting side, up to six trees, a gate, a door, a path."""
    wide, deep = dice.uniform(5, 16), dice.uniform(8, 24)
    ground = plane.region([(0, 0), (wide, 0), (wide - dice.uniform(0, 0.15) * wide, deep), (0, deep)])
    gate, door = (dice.uniform(0.3, 0.7) * wide, 0.0), (dice.uniform(0.3, 0.7) * wide, deep)
    spots = [(dice.uniform(0, wide), dice.uniform(1.5, deep - 1.5)) for _ in range(dice.integers(0, 7))]
    trees = [plane.circle(at, dice.uniform(0.15, 0.5), sides=16) for at in spots]
    changes = {
        "curvature": float(dice.uniform(0.2, 1)),
        "sway": int(dice.integers(0, 3)),
        "first_side": str(dice.choice(["left", "right"])),
    }
    return ground, gate, door, trees, changes


@pytest.fixture(scope="module")
def walked(pytestconfig) -> dict[str, list[tuple[int, Route]]]:
    found: dict[str, list[tuple[int, Route]]] = {"even swings": [], "fair curves": []}
    dice, too_narrow = np.random.default_rng(7), 0
    while len(found["fair curves"]) < MANY * pytestconfig.getoption("--often"):
        ground, a, b, trees, c = random_garden(dice)
        try:
            made = {line: fair(a, b, ground, trees, line=line, **c) for line in found}
        except GardenError:  # trees too near each other for any path
            too_narrow += 1
            continue
        for line, one in made.items():
            found[line].append((c["sway"], one))
    print(f"{len(found['fair curves'])} gardens, {too_narrow} more too narrow for a path")
    return found


def test_one_swing_on_open_ground_is_an_arc_of_a_circle():
    made = fair()
    chord, rise = 20.0, 0.8 * SWING * 20.0
    assert made.curve.points[:, 0].min() == pytest.approx(8.0 - rise, abs=0.01)
    radius = (chord**2 / 4 + rise**2) / (2 * rise)  # of an arc over a chord, school geometry
    assert 1 / np.abs(made.curve.curvature()[3:-3]) == pytest.approx(radius, rel=0.02)


@pytest.mark.parametrize("sway", [0, 1, 2])
@pytest.mark.parametrize("curvature", [0.3, 1.0])
def test_on_open_ground_the_curvature_changes_sign_once_for_each_change_of_side(sway, curvature):
    assert sign_changes(fair(sway=sway, curvature=curvature).curve) == sway


@pytest.mark.parametrize("sway", [0, 1, 2])
def test_the_plotted_curvature_crosses_straight_once_a_change_of_side_and_rises_and_falls_evenly(sway):
    """As the chart beside the path's figures draws it: one hill or dale a side, no plateau broken, no spike."""
    made = fair(sway=sway, curvature=0.6)
    drawn = bends_chart(made, "metric")
    (line,) = [mark.points for mark in drawn.marks if isinstance(mark, Stroke) and mark.tip == "curvature"]
    height = np.array([y for _, y in line]) - (LOW + HIGH / 2)
    height = height[np.abs(height) > 0.02 * np.abs(height).max()]
    assert int((np.sign(height[1:]) != np.sign(height[:-1])).sum()) == sway
    slope = np.diff(height)
    slope = np.sign(slope[np.abs(slope) > 0.005 * np.abs(height).max()])
    assert int((slope[1:] != slope[:-1]).sum()) <= sway + 1
    assert f"it turns to the other side {sway} time" in drawn.description


def test_two_swings_are_unequal():
    x = fair(sway=1).curve.points[:, 0] - 8.0
    crossing = int(np.flatnonzero(np.sign(x[2:-1]) != np.sign(x[1:-2]))[0]) / len(x)
    assert max(crossing, 1 - crossing) > 0.55


def test_a_line_that_is_none_is_refused_and_a_new_path_runs_in_fair_curves(changed_example):
    fennel = changed_example("fennel_street_corner", "none", lambda project: project).project
    with pytest.raises(GardenError, match=r'path "bench walk" cannot run in "fair curve".* "fair curves"'):
        references.check(edits.change_path(fennel, "bench walk", line="fair curve"))
    gate, door = edits.places(fennel)[:2]
    assert edits.add_path(fennel, "Side walk", start=gate, end=door).structure.paths[-1].line == "fair curves"


def test_no_swing_is_a_straight_line():
    made = fair(curvature=0.0)
    assert made.length == pytest.approx(20.0, abs=1e-6)


def test_the_random_gardens_are_walked_with_few_changes_and_no_hairpin(walked):
    changes = {line: [sign_changes(made.curve) - sway for sway, made in routes] for line, routes in walked.items()}
    rates = {line: np.median([greatest_rate(m.curve) for _, m in routes]) for line, routes in walked.items()}
    radii = {line: min(m.tightest_radius / m.width for _, m in routes) for line, routes in walked.items()}
    for line in walked:
        mean = np.mean(changes[line])
        print(f"{line}: {mean:.2f} more changes than sides, {radii[line]:.2f} widths, {rates[line]:.2f} /m2")
    assert np.median(changes["fair curves"]) <= 0
    assert np.mean(changes["fair curves"]) < 0.5 * np.mean(changes["even swings"])
    assert rates["fair curves"] < rates["even swings"]


def test_stones_along_the_random_routes_keep_their_gaps_lie_apart_and_differ_in_size(walked):
    choice, gaps, apart, sizes, said = StoneChoice(spread=float(USUAL_SPREAD)), list[float](), 0, list[float](), 0
    for _, made in walked["fair curves"]:
        laid = stepping_stones(made, choice)
        shapes = outlines.from_outlines([stone.outline for stone in laid.stones])
        apart += int((outlines.close_pairs(shapes, 0.0)[1] <= 0).sum())
        gaps += [gap.clear for gap in laid.gaps]
        said += sum(f.topic == "gap" for f in laid.findings)
        areas = np.log([stone.area for stone in laid.stones])
        sizes.append(float(areas.std()))
    out = [gap for gap in gaps if not choice.gap_low - HAIR <= gap <= choice.gap_high + HAIR]
    print(f"{len(gaps)} gaps, {len(out)} outside the rule, {said} said; {apart} overlaps; spread {np.mean(sizes):.2f}")
    assert apart == 0
    assert len(out) <= said, "none is silent"
    assert len(out) <= 0.01 * len(gaps)
    assert np.mean(sizes) > 0.2


def test_a_turn_tighter_than_its_rule_is_named_and_less_bend_than_asked_is_said(walked):
    for _, made in walked["fair curves"]:
        assert made.tightest_radius >= least_radius(made.width) - 1e-6 or any(f.topic == "bend" for f in made.findings)


def test_a_bend_that_cannot_be_had_is_said_with_why():
    narrow = plane.region([(0, 0), (1.6, 0), (1.6, 20), (0, 20)])
    made = fair((0.8, 0.0), (0.8, 20.0), narrow, curvature=1.0)
    assert made.curvature == 0
    assert any("no room to swing left" in f.what for f in made.findings)
    short = plane.region([(0, 0), (16, 0), (16, 14), (0, 14)])
    tight = fair((8.0, 0.0), (8.0, 14.0), short, sway=3, curvature=1.0, width=1.4)
    assert tight.curvature < 1.0
    assert any(
        f"more would turn tighter than {least_turn(Path(name='', start='', end='', width=1.4)):.2f} m" in f.what
        for f in tight.findings
    )


@pytest.mark.parametrize("side", ["left", "right"])
def test_along_one_side_of_a_strip_the_other_side_is_left_whole(side):
    strip = plane.region([(0, 0), (2.1336, 0), (2.1336, 12.192), (0, 12.192)])  # 7 x 40 ft
    made = fair(
        (1.0668, 0.0), (1.0668, 12.192), strip, line="along one side", first_side=side, curvature=1.0, width=0.76
    )
    x = made.curve.at(np.linspace(0.35, 0.65, 9) * made.length)[:, 0]
    beside = x if side == "left" else 2.1336 - x
    assert beside == pytest.approx(0.76 / 2 + 0.3, abs=0.02)


def test_a_fair_line_goes_through_the_points_put_by_hand_and_keeps_clear_of_trees():
    trees = [plane.circle((8.0, 13.0), 0.3, sides=16)]
    made = fair(obstacles=trees, held=(HeldPoint(at=(10.0, 6.0)),), sway=1)
    assert np.hypot(*(made.curve.points - (10.0, 6.0)).T).min() < 1e-9
    assert made.clearance >= 0.3 - 1e-3
    assert math.isfinite(made.tightest_radius)
