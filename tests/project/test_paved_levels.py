"""How paving is to lie: level along the house, falling away from it by what the ground does, within what paving may."""

import pytest

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.project.paved_levels import paved_fall
from gardenkit.site.heights import SpotHeight
from gardenkit.site.levels import Surface, surface
from gardenkit.site.site import Building

HOUSE = Building(name="house", outline=((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)))
TERRACE = plane.region(((1.0, 4.0), (5.0, 4.0), (5.0, 7.0), (1.0, 7.0)))
LAWN = plane.region(((1.0, 9.0), (5.0, 9.0), (5.0, 12.0), (1.0, 12.0)))


def falling(percent: float) -> Surface:
    """Return ground that falls northward, away from the house, by so many percent."""
    spots = [(x, y) for x in (-10.0, 20.0) for y in (-10.0, 20.0)]
    return surface(SpotHeight(at=at, height=-percent / 100 * at[1]) for at in spots)


@pytest.mark.parametrize(("ground", "laid"), [(2.2, 2.2), (4.0, 2.5), (1.0, 2.0), (-3.0, 2.0)])
def test_a_terrace_falls_as_its_ground_does_where_paving_may(ground: float, laid: float) -> None:
    fall = paved_fall(TERRACE, falling(ground), [HOUSE])
    assert (fall.along, fall.percent, fall.away) == ("house", pytest.approx(laid), pytest.approx(0.0))
    at_the_wall = -0.04 * ground
    assert fall.level((2.0, 4.0)) == pytest.approx(at_the_wall)
    assert fall.level((5.0, 7.0)) == pytest.approx(at_the_wall - 0.03 * laid)


@pytest.mark.parametrize(("region", "percent"), [(LAWN, 2.3), (plane.region(((8, 0), (9, 0), (9, 3), (8, 3))), 2.3)])
def test_paving_apart_from_the_house_falls_down_its_own_slope(region: Region, percent: float) -> None:
    ground = falling(percent)
    fall = paved_fall(region, ground, [HOUSE])
    assert (fall.along, fall.percent) == ("", pytest.approx(percent))
    for at in plane.corners(region):
        assert fall.level(at) == pytest.approx(-percent / 100 * at[1])
