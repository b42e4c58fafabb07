"""Ways without steps found on planes of a known slope, against what geometry and the printed ramp rules ask."""

import itertools
import math

import numpy as np
import pytest

from gardenkit.geometry import plane
from gardenkit.site import levels
from gardenkit.site.heights import SpotHeight
from gardenkit.site.levels import Surface
from gardenkit.structure.step_free import (
    CROSS,
    LANDING,
    RAMP,
    RUN_RISE,
    WALK,
    alignment,
    legs_apart,
    length_needed,
    platforms,
    profile,
)
from gardenkit.units import FOOT, INCH

WIDE, DEEP, WIDTH = 16.0, 14.0, 1.2
FREE = plane.region([(0.9, 0.9), (15.1, 0.9), (15.1, 13.1), (0.9, 13.1)])
FOOT_OF, HEAD = (8.0, 1.2), (8.0, 12.8)


def plain(percent: float) -> Surface:
    """A plane that rises along y."""
    spots = ((0, 0), (WIDE, 0), (WIDE, DEEP), (0, DEEP))
    return levels.surface([SpotHeight(at=at, height=at[1] * percent / 100) for at in spots])


def found(percent: float, slope: float, cross: float = math.inf) -> tuple[tuple[float, float], ...]:
    return alignment(plain(percent), FREE, FOOT_OF, HEAD, width=WIDTH, slope=slope, cross=cross)


def length(line: tuple[tuple[float, float], ...]) -> float:
    return sum(math.dist(a, b) for a, b in itertools.pairwise(line))


def test_on_a_gentle_plane_the_way_is_straight() -> None:
    """3 % up is within 1:20, and straight up a plane there is no slope across."""
    assert found(3.0, WALK, CROSS) == (FOOT_OF, HEAD)


def test_a_plane_of_8_percent_has_no_walk_as_it_lies() -> None:
    """A walk keeps 5 % along and 2.08 % across, so no plane steeper than their hypotenuse, 5.42 %, can carry one."""
    assert math.hypot(float(WALK), CROSS) == pytest.approx(0.0542, abs=1e-4)
    assert found(8.0, WALK, CROSS) == ()
    assert found(4.9, WALK, CROSS) == (FOOT_OF, HEAD)


@pytest.mark.parametrize("percent", [6.0, 8.7, 12.0])
def test_on_a_steeper_plane_the_way_turns_until_it_is_gentle_enough(percent: float) -> None:
    """No way that climbs r at slope s is shorter than r / s; the lattice's is at most 1.4 times as long."""
    line = found(percent, WALK)
    rise = percent / 100 * (HEAD[1] - FOOT_OF[1])
    assert rise / WALK <= length(line) + 1e-6 <= 1.4 * rise / WALK
    ground = plain(percent)
    for a, b in itertools.pairwise(line):
        assert abs(ground.height(b) - ground.height(a)) / math.dist(a, b) <= WALK + 1e-6
    assert legs_apart(np.array(line), 1.25 * WIDTH)


def test_where_no_way_is_gentle_enough_none_is_found() -> None:
    assert found(30.0, RAMP) == ()


def test_a_ramp_of_48_in_is_63_ft_long_with_its_landings() -> None:
    """Two runs at 1:12 are 48 ft, one landing between them and two at the ends: 63 ft (2010 ADA Standards 405)."""
    assert length_needed(48 * INCH, slope=float(RAMP), ramp=True) == pytest.approx(63 * FOOT)
    assert length_needed(30 * INCH, slope=float(RAMP), ramp=True) == pytest.approx((30 + 10) * FOOT)
    assert length_needed(31 * INCH, slope=float(RAMP), ramp=True) == pytest.approx((31 + 15) * FOOT)
    assert length_needed(1.0, slope=float(WALK), ramp=False) == pytest.approx(20.0)


def test_a_ramps_profile_keeps_slope_landings_and_runs() -> None:
    """1.2 m over 22 m of a straight plane: two runs of 30 in at most, 5 ft level at the ends and between."""
    line = np.column_stack((np.zeros(89), np.linspace(0, 22, 89)))
    ground = levels.surface([SpotHeight(at=(x, y), height=y * 1.2 / 22) for x in (-3, 3) for y in (-1.0, 23.0)])
    made = profile(ground, line, slope=float(RAMP), ramp=True)
    assert made is not None
    assert made.steepest <= RAMP + 1e-9
    assert [round(end - start, 6) for start, end in made.landings] == [round(LANDING, 6)] * 3
    for (_, low), (high, _) in zip(made.landings, made.landings[1:], strict=False):
        assert abs(np.diff(np.interp((low, high), made.s, made.z))[0]) <= RUN_RISE + 1e-6
    for start, end in made.landings:
        assert float(np.ptp(made.z[(made.s >= start) & (made.s <= end)])) == pytest.approx(0.0, abs=1e-9)
    assert made.z[[0, -1]] == pytest.approx(ground.at(line[[0, -1]]))


def test_a_way_too_short_for_its_rise_has_no_profile() -> None:
    line = np.column_stack((np.zeros(41), np.linspace(0, 10, 41)))
    ground = levels.surface([SpotHeight(at=(x, y), height=0.12 * y) for x in (-3, 3) for y in (-1.0, 12.0)])
    assert profile(ground, line, slope=float(RAMP), ramp=True) is None
    assert profile(ground, line, slope=0.2, ramp=False) is not None


def test_a_bump_is_dug_away_no_deeper_than_it_must() -> None:
    """A bump of 0.5 m over 6 m in 20 m of level ground: a walk of 1:20 climbs 0.15 m over half of it, so at its top at
    least 0.5 - 10 / 20 = 0 must go and beside it more; what goes keeps the slope and both ends."""
    spots = [
        SpotHeight(at=(x, y), height=z) for x in (-3, 3) for y, z in ((0, 0), (7, 0), (10, 0.5), (13, 0), (20, 0.0))
    ]
    line = np.column_stack((np.zeros(81), np.linspace(0, 20, 81)))
    made = profile(levels.surface(spots), line, slope=float(WALK), ramp=False)
    assert made is not None
    assert made.steepest <= WALK + 1e-9
    assert 0.0 < made.deepest < 0.5
    area = float(np.abs(made.z - made.found).sum() * (made.s[1] - made.s[0]))
    assert area < 0.5 * 6 / 2 * 1.01  # never more than taking all of the bump off


def test_a_sharp_turn_has_a_platform_until_its_legs_are_apart() -> None:
    """Two legs at 60 degrees are 1.2 m apart 1.2 m from their corner: an equal-sided triangle."""
    line = np.array([(0.0, 0.0), (0.0, 6.0), (6 * math.sin(math.radians(60)), 6.0 - 6 * math.cos(math.radians(60)))])
    ((at, reach),) = platforms(line, 1.2)
    assert (at, reach) == (pytest.approx(6.0), pytest.approx(1.2))
