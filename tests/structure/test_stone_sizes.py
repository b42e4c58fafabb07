"""Natural stones: their areas spread as named, the larger ones lie where one stops or turns, and every gap stays in."""

import itertools
import math

import numpy as np
import pytest
from scipy.stats import truncnorm

from gardenkit.geometry import plane
from gardenkit.structure.laying import PACE_SLACK, SMALLEST, Laying
from gardenkit.structure.route import Route, route
from gardenkit.structure.stone_sizes import CUT_OFF, LANDING, TURNS
from gardenkit.structure.stones import lay
from gardenkit.structure.structure import HeldStone, Path, StoneChoice
from gardenkit.units import INCH

PLOT = plane.region([(0, 0), (12, 0), (12, 20), (0, 20)])


def laid(
    seed: int,
    spread: float = 0.35,
    joined: tuple[float, ...] = (),
    pairs: float = 0.0,
    held: tuple[HeldStone, ...] = (),
) -> tuple[Route, Laying]:
    stones = StoneChoice(seed=seed, spread=spread, pairs=pairs)
    path = Path(
        name="Front",
        start="gate",
        end="door",
        line="fair curves",
        curvature=0.6,
        sway=1,
        stones=stones,
        held_stones=held,
    )
    made = route((6, 0), (6, 20), PLOT, [], path)
    return made, lay(made, path, joined)


@pytest.fixture(scope="module")
def many() -> list[tuple[Route, Laying]]:
    return [laid(seed) for seed in range(12)]


def test_areas_are_log_normal_with_the_spread_named(many):
    areas = np.log([stone.area for _, found in many for stone in found.stones[1:-1]])
    expected = 0.35 * truncnorm.std(-CUT_OFF, CUT_OFF)  # scipy's cut-off normal distribution
    assert areas.std() == pytest.approx(expected, rel=0.15)
    alike = np.log([stone.area for stone in laid(1, spread=0.0)[1].stones])
    assert alike.std() < 0.3 * areas.std()


def test_gaps_stay_from_4_to_8_inches_and_no_stone_overlaps_or_leaves_the_path(many):
    for made, found in many:
        shapes = [plane.region(s.outline) for s in found.stones]
        measured = [plane.distance(a, b) for a, b in itertools.pairwise(shapes)]
        assert min(measured) >= 4 * INCH and max(measured) <= 8 * INCH
        assert all(made.region.covers(shape) for shape in shapes)
        assert not [f for f in found.findings if f.topic in ("gap", "pace")]


def test_one_walks_them_in_even_paces(many):
    for _, found in many:
        steps = [math.dist(a.at, b.at) for a, b in zip(found.stones, found.stones[1:], strict=False)]
        assert max(steps) < (1 + PACE_SLACK) * found.pace and min(steps) > (1 - PACE_SLACK) * found.pace


def test_the_landing_where_a_path_joins_is_larger_than_the_others():
    plain, joined = laid(3)[1], laid(3, joined=(9.0,))[1]
    at = int(np.argmin([abs(s.at[1] - 8.8) for s in joined.stones]))
    near = max((s for s in joined.stones if abs(s.number - at) <= 1), key=lambda s: s.area)
    usual = np.median([s.area for s in plain.stones])
    assert near.area == pytest.approx(LANDING * usual, rel=0.25)


def test_the_stones_at_gate_and_door_are_larger_than_most(many):
    for _, found in many:
        areas = [s.area for s in found.stones]
        assert min(areas[0], areas[-1]) > np.median(areas)


@pytest.mark.parametrize("spread", [0.0, 0.35])
def test_two_smaller_stones_side_by_side_keep_the_gap_to_all_round_them(spread):
    for seed in range(4):
        made, found = laid(seed, spread, pairs=0.12, joined=(9.0,))
        single = len(laid(seed, spread)[1].stones)
        assert [s.number for s in found.stones] == list(range(single + round(0.12 * single)))
        shapes = [plane.region(s.outline) for s in found.stones]
        apart = {
            frozenset(p): plane.distance(*(shapes[k] for k in p)) for p in itertools.combinations(range(len(shapes)), 2)
        }
        assert min(apart.values()) >= 4 * INCH and all(made.region.covers(shape) for shape in shapes)
        assert max(apart[frozenset((g.first, g.second))] for g in found.gaps) <= 8 * INCH
        assert not [f for f in found.findings if f.topic in ("gap", "pace", "stone")]
        for second in found.stones[single:]:
            own = [g for g in found.gaps if second.number in (g.first, g.second)]
            assert len(own) == 3, "the one before, the one after, the one beside"
            assert min(second.across, second.along) > SMALLEST


def test_pairs_lie_never_where_one_stops_joins_or_turns():
    for seed in range(4):
        made, found = laid(seed, pairs=0.5, joined=(9.0,))
        single = len(laid(seed)[1].stones)
        double = {min(g.first, g.second) for g in found.gaps if max(g.first, g.second) >= single} - {0}
        second = [s for s in found.stones if s.number >= single]
        assert second and double
        for stone in second:
            along = int(np.hypot(*(made.curve.points - stone.at).T).argmin())
            assert abs(made.curve.curvature()[along]) < 1.2 / TURNS
            assert min(stone.at[1], 20 - stone.at[1]) > 0.5
            assert abs(made.curve.along[along] - 9.0) > 0.3


def test_a_stone_of_a_pair_put_by_hand_stays_and_with_more_pairs_keeps_its_number():
    found = laid(2, pairs=0.1)[1]
    single = len(laid(2)[1].stones)
    second = found.stones[single]
    put = HeldStone(number=second.number, at=(second.at[0], second.at[1] + 0.02))
    moved = laid(2, pairs=0.1, held=(put,))[1]
    assert (moved.stones[single].at, moved.stones[single].held) == (put.at, True)
    assert not [f for f in moved.findings if f.topic in ("gap", "stone")]
    more = laid(2, pairs=0.2)[1]
    assert len(more.stones) > len(found.stones)
    assert math.dist(more.stones[single].at, second.at) < 0.1
