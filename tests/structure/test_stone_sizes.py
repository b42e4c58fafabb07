"""Natural stones: their areas spread as named, the larger ones lie where one stops or turns, and every gap stays in."""

import itertools
import math

import numpy as np
import pytest
from scipy.stats import truncnorm

from gardenkit.geometry import plane
from gardenkit.structure.laying import PACE_SLACK, Laying
from gardenkit.structure.route import Route, route
from gardenkit.structure.stone_sizes import CUT_OFF, LANDING
from gardenkit.structure.stones import lay
from gardenkit.structure.structure import Path, StoneChoice
from gardenkit.units import INCH

PLOT = plane.region([(0, 0), (12, 0), (12, 20), (0, 20)])


def laid(seed: int, spread: float = 0.35, joined: tuple[float, ...] = ()) -> tuple[Route, Laying]:
    stones = StoneChoice(seed=seed, spread=spread)
    path = Path(name="Front", start="gate", end="door", line="fair curves", bend=0.6, sway=1, stones=stones)
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
