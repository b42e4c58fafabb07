"""The ground as it will be: planes, banks and walls made in the ground as found, against plain geometry."""

import math

import numpy as np
import pytest

from gardenkit.geometry import plane
from gardenkit.site import levels
from gardenkit.site.heights import SpotHeight
from gardenkit.site.levels import Surface
from gardenkit.structure.earthwork import BULKING, earthwork
from gardenkit.structure.held_ground import banks, walls
from gardenkit.structure.new_ground import NewGround, ground_to_be, net
from gardenkit.structure.structure import GroundArea, Level, Structure

PLOT = ((0, 0), (20, 0), (20, 16), (0, 16))


def sloping(percent: float = 0.0) -> Surface:
    """A plain that rises along y."""
    spots = [SpotHeight(at=at, height=at[1] * percent / 100) for at in PLOT]
    return levels.surface(spots)


def made(*found: Level, percent: float = 0.0, ground_areas: tuple[GroundArea, ...] = ()) -> NewGround:
    ground = ground_to_be(sloping(percent), Structure(levels=found, ground_areas=ground_areas), {})
    assert isinstance(ground, NewGround)
    return ground


def square(x: float = 8.0, y: float = 6.0, side: float = 4.0) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def test_without_levels_the_ground_stays_as_found() -> None:
    found = sloping(3)
    assert ground_to_be(found, Structure(), {}) is found
    assert ground_to_be(None, Structure(levels=(Level(name="a", at=(1, 1), height=1),)), {}) is None


def test_an_area_lies_on_its_plane_and_falls_the_way_it_says() -> None:
    ground = made(Level(name="t", at=(10, 8), height=0.5, outline=square(), fall=2.0, falls_to=90.0))
    assert ground.height((10, 8)) == pytest.approx(0.5)
    assert ground.height((11.5, 8)) == pytest.approx(0.5 - 1.5 * 0.02)  # east is down
    assert ground.height((10, 9.5)) == pytest.approx(0.5)


def test_a_bank_runs_out_at_its_slope_and_no_further() -> None:
    ground = made(Level(name="t", at=(10, 8), height=0.5, outline=square(), bank=3.0))
    assert ground.height((12.6, 8)) == pytest.approx(0.5 - 0.6 / 3)
    assert ground.height((13.6, 8)) == pytest.approx(0.0)  # met the ground 1.5 m out
    ticks = banks(ground)
    long = [math.dist(tick.top, tick.foot) for tick in ticks]
    assert float(np.median(long)) == pytest.approx(1.5, abs=0.1)
    assert max(tick.rise for tick in ticks) == pytest.approx(0.5, abs=0.02)


def test_fill_of_a_banked_terrace_is_a_frustum_with_quarter_cones() -> None:
    """A 4 m square 0.5 m high with banks of 1 in 3: prism, four half-prisms, four quarter cones (plain geometry)."""
    ground = made(Level(name="t", at=(10, 8), height=0.5, outline=square(), bank=3.0))
    moved = earthwork(ground, plane.region(PLOT))
    exact = 16 * 0.5 + 4 * 4 * 0.5 * 1.5 / 2 + math.pi * 1.5**2 * 0.5 / 3
    assert moved.fill == pytest.approx(exact, rel=0.01)
    assert moved.by_sections[1] == pytest.approx(exact, rel=0.01)
    assert moved.cut == pytest.approx(0.0, abs=1e-6)


def test_a_walled_terrace_on_a_slope_is_half_cut_half_fill() -> None:
    """A 4 m square cut level into 10 %: two wedges of 4 x 2 x 0.2 / 2 m3 (plain geometry); spoil bulked by source."""
    level = Level(name="t", at=(10, 8), height=0.8, outline=square(), edge="wall")
    ground = made(level, percent=10)
    moved = earthwork(ground, plane.region(PLOT))
    assert moved.cut == pytest.approx(0.8, rel=0.03)
    assert moved.fill == pytest.approx(0.8, rel=0.03)
    assert moved.loose == pytest.approx(moved.cut * BULKING)
    assert moved.deepest == pytest.approx(0.2, abs=0.02)
    stood = walls(ground)
    assert {wall.fills for wall in stood} == {True, False}
    assert max(wall.highest for wall in stood) == pytest.approx(0.2, abs=0.01)
    low = next(wall for wall in stood if wall.fills)
    assert low.length == pytest.approx(4 + 2 * 1.0, abs=0.5)  # the low side and a metre up each flank
    assert low.face == pytest.approx(4 * 0.2 + 2 * 1.0 * 0.15, abs=0.08)


def test_a_level_of_an_area_follows_its_outline() -> None:
    ground_area = GroundArea(name="lawn", kind="lawn", outline=square(2, 2))
    ground = made(Level(name="lawn", at=(4, 4), height=0.3, of="lawn"), ground_areas=(ground_area,))
    assert ground.height((3, 5)) == pytest.approx(0.3)


def test_a_low_spot_gathers_water_at_its_slope() -> None:
    ground = made(Level(name="gully", at=(10, 8), height=-0.1, bank=50.0))
    assert ground.height((10, 8)) == pytest.approx(-0.1)
    assert ground.height((12, 8)) == pytest.approx(-0.1 + 2 / 50)
    assert ground.height((10, 14)) == pytest.approx(0.0)


def test_nearer_ground_is_made_last() -> None:
    """A bank of one area never reaches into another."""
    high = Level(name="high", at=(6, 8), height=1.0, outline=square(4), bank=3.0)
    low = Level(name="low", at=(11, 8), height=-0.2, outline=square(9), bank=3.0)
    ground = made(high, low)
    assert ground.height((9.5, 8)) == pytest.approx(-0.2)
    assert ground.height((7.5, 8)) == pytest.approx(1.0)


def test_the_net_for_contours_keeps_the_heights() -> None:
    ground = made(Level(name="t", at=(10, 8), height=0.5, outline=square(), bank=3.0), percent=2)
    drawn = net(ground, plane.region(PLOT), cell=0.5)
    places = np.array([(10.0, 8.0), (12.6, 8.3), (3.0, 3.0)])
    assert drawn.at(places) == pytest.approx(ground.at(places), abs=0.03)


def test_places_on_a_level_are_not_guessed() -> None:
    found = levels.surface([SpotHeight(at=(0.0, 0.0), height=0.0), SpotHeight(at=(1.0, 0.0), height=0.0)])
    ground = ground_to_be(found, Structure(levels=(Level(name="t", at=(10, 8), height=0.5, outline=square()),)), {})
    assert ground is not None
    assert ground.guessed(np.array([(10.0, 8.0), (1.0, 14.0)])).tolist() == [False, True]
