import io
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from PIL import Image

from gardenkit.findings import GardenError
from gardenkit.site.tracing import (
    opening_from_photo,
    picture_size,
    rectifier,
    straightened,
    underlay,
    underlay_by_length,
)

QUICK = settings(max_examples=40, deadline=None)
PIXEL = st.tuples(st.floats(0, 4000), st.floats(0, 3000))
SPOT = st.tuples(st.floats(-30, 30), st.floats(-30, 30))
LEANING = [(100, 900), (1700, 1050), (1600, 150), (220, 300)]  # bottom left, bottom right, top right, top left


def png(picture):
    data = io.BytesIO()
    picture.save(data, "PNG")
    return data.getvalue()


# A scan under the plan


@QUICK
@given(PIXEL, PIXEL, SPOT, SPOT, PIXEL)
def test_known_points_fall_where_they_are_and_every_pixel_comes_back(a, b, plan_a, plan_b, spot):
    assume(math.dist(a, b) > 10 and math.dist(plan_a, plan_b) > 0.5)
    placed = underlay(a, b, plan_a, plan_b)
    assert placed.to_plan(a) == pytest.approx(plan_a, abs=1e-6)
    assert placed.to_plan(b) == pytest.approx(plan_b, abs=1e-6)
    assert placed.to_pixel(placed.to_plan(spot)) == pytest.approx(spot, abs=1e-5)


@QUICK
@given(PIXEL, PIXEL, SPOT, SPOT)
def test_picture_is_never_stretched_or_mirrored(a, b, plan_a, plan_b):
    assume(math.dist(a, b) > 10 and math.dist(plan_a, plan_b) > 0.5)
    placed = underlay(a, b, plan_a, plan_b)
    (x0, y0), (x1, y1), _, (x3, y3) = placed.corners(100, 100)
    right, down = (x1 - x0, y1 - y0), (x3 - x0, y3 - y0)
    size = 100 * placed.scale
    assert (math.hypot(*right), math.hypot(*down)) == pytest.approx((size, size))
    assert right[0] * down[0] + right[1] * down[1] == pytest.approx(0, abs=1e-6 * size**2)
    assert right[0] * down[1] - right[1] * down[0] < 0


def test_upright_scan_by_one_length():
    placed = underlay_by_length((50, 400), (250, 400), 10.0)
    assert placed.scale == pytest.approx(0.05)
    assert placed.turned == pytest.approx(0)
    assert placed.to_plan((50, 300)) == pytest.approx((0, 5))


def test_slanting_length_keeps_the_scan_upright():
    placed = underlay_by_length((0, 300), (400, 0), 5.0)
    assert (placed.scale, placed.turned) == pytest.approx((0.01, 0))
    assert placed.plan_b == pytest.approx((4, 3))


def test_quarter_turn_is_clockwise():
    placed = underlay((0, 0), (100, 0), (0.0, 0.0), (0.0, -1.0))  # the scan's right edge points down the plan
    assert placed.turned == pytest.approx(90)


def test_a_scan_turned_a_quarter_covers_its_height_across_and_its_width_up():
    laid = underlay((0, 0), (100, 0), (0.0, 0.0), (0.0, -10.0))  # its top edge runs down the plan: 0.1 m a pixel
    assert laid.bounds(100, 40) == pytest.approx((-4.0, -10.0, 0.0, 0.0))


def test_points_on_top_of_each_other_are_refused():
    with pytest.raises(GardenError, match="picture are the same"):
        underlay((5, 5), (6, 5), (0, 0), (1, 0))
    with pytest.raises(GardenError, match="plan points are the same"):
        underlay((5, 5), (60, 5), (0, 0), (0.01, 0))
    with pytest.raises(GardenError, match=r"0\.05 m or more"):
        underlay_by_length((5, 5), (60, 5), 0.0)
    with pytest.raises(GardenError, match="not a number"):
        underlay((5, math.nan), (60, 5), (0, 0), (1, 0))


# A photo of a wall made square


def camera(tilt, turn, far=8.0):
    """Pixels of wall points seen by a pinhole camera ``far`` metres off, tilted and turned by degrees."""

    def seen(on_wall):
        x, y, z = on_wall[0] - 3, on_wall[1] - 1.5, far
        t, p = math.radians(turn), math.radians(tilt)
        x, z = math.cos(t) * x + math.sin(t) * z, -math.sin(t) * x + math.cos(t) * z
        y, z = math.cos(p) * y - math.sin(p) * z, math.sin(p) * y + math.cos(p) * z
        return (2000 + 3000 * x / z, 1500 - 3000 * y / z)

    return seen


@QUICK
@given(st.floats(-25, 25), st.floats(-35, 35), st.floats(0, 6), st.floats(0, 3))
def test_any_point_of_the_wall_is_found_from_a_pinhole_photo(tilt, turn, along, up):
    seen = camera(tilt, turn)
    door = [(1.0, 0.0), (3.4, 0.0), (3.4, 2.1), (1.0, 2.1)]
    photo = rectifier([seen(p) for p in door], door)
    assert photo.to_wall(seen((along, up))) == pytest.approx((along, up), abs=1e-6)


def test_window_marked_on_a_photo_lies_in_its_wall():
    seen = camera(5, 20)
    door = [(0.0, 0.0), (2.4, 0.0), (2.4, 2.1), (0.0, 2.1)]
    photo = rectifier([seen(p) for p in door], door)
    window = opening_from_photo(
        photo, seen((4.5, 2.2)), seen((3.5, 0.9)), name="kitchen", wall=((10.0, 5.0), (10.0, 9.0)), base=0.3, on="House"
    )
    assert window.start == pytest.approx((10.0, 8.5))
    assert window.end == pytest.approx((10.0, 9.5))
    assert (window.sill, window.head, window.kind, window.on) == (
        pytest.approx(1.2),
        pytest.approx(2.5),
        "window",
        "House",
    )
    with pytest.raises(GardenError, match="no size"):
        opening_from_photo(photo, seen((1, 1)), seen((1, 2)), name="slit", wall=((0.0, 0.0), (5.0, 0.0)))


@pytest.mark.parametrize(
    ("pixels", "words"),
    [
        ([(0, 0), (100, 0), (200, 0), (100, 100)], "three of the four points on the photo lie in a line"),
        ([(0, 100), (100, 0), (100, 100), (0, 0)], "not in order"),
        ([(0, 0), (100, 0), (100, 100), (0, 100)], "other way"),
        ([(0, 0), (100, 0), (100, 100)], "four points"),
        ([(0, 0), (0, 0), (100, 100), (0, 100)], "in a line"),
        ([(0, 100), (100, 100), (100, math.inf), (0, 0)], "not a number"),
    ],
)
def test_unusable_corners_are_refused(pixels, words):
    with pytest.raises(GardenError, match=words):
        rectifier(pixels, [(0, 0), (2, 0), (2, 1), (0, 1)][: len(pixels)])


def test_click_beyond_the_horizon_of_the_wall_is_refused():
    seen = camera(0, 35)
    door = [(0.0, 0.0), (2.4, 0.0), (2.4, 2.1), (0.0, 2.1)]
    photo = rectifier([seen(p) for p in door], door)
    with pytest.raises(GardenError, match="horizon"):
        photo.to_wall((2000 - 3000 / math.tan(math.radians(35)) - 500, 1500))


# Picture files


def test_size_of_a_sound_picture(tmp_path):
    file = tmp_path / "wall.png"
    file.write_bytes(png(Image.new("RGB", (40, 30))))
    assert picture_size(file) == (40, 30)


@pytest.mark.parametrize("data", [b"", b"not a picture", b"%PDF-1.4 something", png(Image.new("RGB", (90, 90)))[:60]])
def test_file_that_is_no_picture_is_refused_in_one_sentence(data, tmp_path):
    file = tmp_path / "plan.png"
    file.write_bytes(data)
    with pytest.raises(GardenError, match=r"plan\.png is not a picture") as refused:
        picture_size(file)
    assert "\n" not in str(refused.value)


def test_missing_picture_is_refused(tmp_path):
    with pytest.raises(GardenError, match=r"the picture gone\.png is not in"):
        picture_size(tmp_path / "gone.png")


def test_straightened_photo_shows_the_wall_square_on():
    wall = Image.new("RGB", (600, 300), "white")
    wall.paste((200, 0, 0), (350, 80, 450, 210))  # a window 3.5 to 4.5 m along, 0.9 to 2.2 m up
    seen = camera(4, 15)
    corners = [(0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (0.0, 3.0)]
    back = rectifier([(x, 300 - y) for x, y in [(0, 0), (600, 0), (600, 300), (0, 300)]], corners)
    photo = rectifier([seen(p) for p in corners], corners)
    to_wall_picture = back.inverse @ photo.matrix
    to_wall_picture = to_wall_picture / to_wall_picture[2, 2]
    taken = wall.transform((4000, 3000), Image.Transform.PERSPECTIVE, tuple(to_wall_picture.ravel()[:8]))
    square = np.asarray(straightened(png(taken), photo, along=(0, 6), up=(0, 3), per_metre=50))
    assert square.shape == (150, 300, 3)
    red = np.argwhere((square[:, :, 0] > 150) & (square[:, :, 1] < 60))
    assert red.min(axis=0) == pytest.approx([40, 175], abs=1)
    assert red.max(axis=0) == pytest.approx([104, 224], abs=1)
