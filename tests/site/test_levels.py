import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.site.heights import SpotHeight
from gardenkit.site.levels import contours, slope_of, surface

GRID = [(float(x), float(y)) for x in (0, 4, 7, 10) for y in (0, 3, 10)]


def tilted(gx, gy, level=0.0, points=GRID):
    return surface([SpotHeight(at=(x, y), height=level + gx * x + gy * y) for x, y in points])


def cone(rings=12):
    """A round hill 2 m high at (0, 0), 10 m wide at its foot."""
    spots = [SpotHeight(at=(0.0, 0.0), height=2.0)]
    for radius in (2.0, 4.0, 5.0):
        for k in range(rings):
            a = 2 * math.pi * k / rings
            spots.append(SpotHeight(at=(radius * math.cos(a), radius * math.sin(a)), height=2.0 - 0.4 * radius))
    return surface(spots)


@settings(max_examples=40, deadline=None)
@given(
    gx=st.floats(-0.5, 0.5),
    gy=st.floats(-0.5, 0.5),
    level=st.floats(-5, 5),
    x=st.floats(-15, 25),
    y=st.floats(-15, 25),
)
def test_tilted_ground_is_met_exactly_inside_and_outside(gx, gy, level, x, y):
    assert tilted(gx, gy, level).height((x, y)) == pytest.approx(level + gx * x + gy * y, abs=1e-9)


def test_measured_points_keep_their_heights():
    spots = [SpotHeight(at=at, height=math.sin(at[0]) + at[1] ** 2 / 20) for at in GRID]
    ground = surface(spots)
    assert ground.at(np.array(GRID)) == pytest.approx([s.height for s in spots], abs=1e-12)
    assert not ground.guessed(np.array(GRID)).any()


def test_height_outside_joins_the_edge_and_is_said_to_be_guessed():
    ground = surface([SpotHeight(at=at, height=0.3 * math.sin(at[0]) + at[1] / 20) for at in GRID])
    edge, just_out, far = (10.0, 5.0), (10.0001, 5.0), (14.0, 5.0)
    assert ground.height(just_out) == pytest.approx(ground.height(edge), abs=1e-4)
    assert list(ground.guessed(np.array([edge, just_out, far]))) == [False, True, True]


def test_one_height_is_level_ground_and_two_give_a_slope():
    assert surface([SpotHeight(at=(1.0, 1.0), height=0.7)]).height((5.0, 9.0)) == 0.7
    two = surface([SpotHeight(at=(0.0, 0.0), height=1.0), SpotHeight(at=(10.0, 0.0), height=0.0)])
    assert two.height((5.0, 3.0)) == pytest.approx(0.5)


def test_heights_in_a_line_do_not_break_the_surface():
    line = surface([SpotHeight(at=(x, x), height=0.1 * x) for x in (0.0, 1.0, 2.0, 5.0)])
    assert line.height((3.0, 3.0)) == pytest.approx(0.3)
    assert contours(line, 0.1) == ()


def test_no_heights_and_contradicting_heights_are_refused():
    with pytest.raises(GardenError, match="at least three"):
        surface([])
    with pytest.raises(GardenError, match="two heights"):
        surface([SpotHeight(at=(1.0, 1.0), height=0.0), SpotHeight(at=(1.0, 1.0), height=0.5)])
    with pytest.raises(GardenError, match="not a number"):
        surface([SpotHeight(at=(1.0, 1.0), height=math.nan)])


def test_contours_of_tilted_ground_are_straight_and_evenly_spaced():
    found = contours(tilted(0.1, 0.0), 0.25)
    assert [c.height for c in found] == [0.0, 0.25, 0.5, 0.75, 1.0]
    for contour in found[1:-1]:
        assert all(x == pytest.approx(contour.height / 0.1, abs=1e-9) for x, _ in contour.line)
        ys = [y for _, y in contour.line]
        assert (min(ys), max(ys)) == pytest.approx((0.0, 10.0))


def test_contours_of_a_hill_are_closed_rings_of_shrinking_length():
    found = contours(cone(), 0.5)
    rings = [c for c in found if 0 < c.height < 2]
    assert [c.height for c in rings] == [0.5, 1.0, 1.5]
    assert all(c.line[0] == c.line[-1] for c in rings)
    lengths = [sum(math.dist(a, b) for a, b in zip(c.line, c.line[1:], strict=False)) for c in rings]
    assert lengths[0] > lengths[1] > lengths[2]
    assert all(math.hypot(*p) <= (2 - c.height) / 0.4 + 1e-9 for c in rings for p in c.line)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.floats(-2, 2), min_size=12, max_size=12), st.floats(0.1, 1.0))
def test_every_contour_point_lies_at_its_height(heights, interval):
    ground = surface([SpotHeight(at=at, height=h) for at, h in zip(GRID, heights, strict=True)])
    for contour in contours(ground, interval):
        assert ground.at(np.array(contour.line)) == pytest.approx([contour.height] * len(contour.line), abs=1e-6)


def test_contour_interval_must_make_sense():
    with pytest.raises(GardenError, match="above 0"):
        contours(tilted(0.1, 0.0), 0.0)
    with pytest.raises(GardenError, match="levels"):
        contours(tilted(0.1, 0.0), 0.0001)


@settings(max_examples=25, deadline=None)
@given(st.floats(0, 359.9), st.floats(0.5, 40))
def test_bed_slope_gives_back_the_laid_percent_and_direction(downhill, percent):
    a = math.radians(downhill)
    ground = tilted(-percent / 100 * math.sin(a), -percent / 100 * math.cos(a))
    found = slope_of(ground, plane.region([(2, 2), (8, 2), (8, 7), (2, 7)]))
    assert found.percent == pytest.approx(percent)
    assert (found.downhill - downhill + 180) % 360 - 180 == pytest.approx(0, abs=1e-6)
    assert found.degrees == pytest.approx(math.degrees(math.atan(percent / 100)))
    assert found.guessed == 0


def test_bed_outside_the_measured_points_says_so():
    ground = tilted(0.02, 0.0)
    assert slope_of(ground, plane.region([(20, 20), (22, 20), (22, 22), (20, 22)])).guessed == 1
    with pytest.raises(GardenError, match="draw its outline"):
        slope_of(ground, plane.NOWHERE)
