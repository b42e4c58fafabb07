"""Isovist cases with exact areas, edges and moments, worked out by plane geometry; measures after Benedikt, 1979.

M. L. Benedikt, "To take hold of space: isovists and isovist fields", Environment and Planning B 6(1), 1979, 47-65.
"""

import math

import numpy as np
import pytest

from gardenkit.geometry.isovist import edges_of, sweep
from gardenkit.geometry.isovist_measures import Measures, measures

L = ((0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4))
U = ((0, 0), (6, 0), (6, 4), (4, 4), (4, 2), (2, 2), (2, 4), (0, 4))
T = ((-1, 0), (1, 0), (1, 4), (4, 4), (4, 6), (-4, 6), (-4, 4), (-1, 4))
SQUARE = ((0, 0), (1, 0), (1, 1), (0, 1))
DOUBLE = ((0, 0), (2, 0), (2, 1), (0, 1))
EXACT = 1e-9
CASES = [  # outline, eye, area, perimeter, occlusivity
    (L, (1, 1), 12, 16, 0),
    (L, (3, 1), 10, 12 + 2 * math.sqrt(2), 2 * math.sqrt(2)),
    (U, (1, 3), 10, 12 + 2 * math.sqrt(2), 2 * math.sqrt(2)),
    (U, (3, 1), 16, 16 + 4 * math.sqrt(2), 4 * math.sqrt(2)),
    (U, (1, 1), 50 / 3, 56 / 3 + math.sqrt(40) / 3, math.sqrt(40) / 3),
    # perimeter 2 + 2 x 4 + 10/3 of walls and two edges of sqrt(4 + 4/9): 17.549704 (a slip printed ...702)
    (T, (0, 1), 40 / 3, 40 / 3 + 2 * math.sqrt(4 + 4 / 9), 2 * math.sqrt(4 + 4 / 9)),
]
PRINTED = [  # outline, eye, area, perimeter and occlusivity as printed
    (L, (3, 0.5), 32 / 3, "15.0704", "2.403701"),
    (L, (3.5, 1.5), 26 / 3, "12.7749", "2.108185"),
    (L, (3, 1), 10, "14.828427", "2.828427"),
    (U, (3, 1), 16, "21.656854", "5.656854"),
    (U, (1, 1), 50 / 3, "20.774852", "2.108185"),
]


def seen_in(outline: tuple[tuple[float, float], ...], eye: tuple[float, float]) -> Measures:
    return measures(sweep(eye, edges_of(outline)))


def printed(value: float, like: str) -> str:
    return f"{value:.{len(like.split('.')[1])}f}"


@pytest.mark.parametrize(("outline", "eye", "area", "perimeter", "occlusivity"), CASES)
def test_rooms_with_corners(outline, eye, area, perimeter, occlusivity) -> None:
    found = seen_in(outline, eye)
    assert (found.area, found.perimeter, found.occlusivity) == pytest.approx((area, perimeter, occlusivity), abs=EXACT)
    assert found.closed_perimeter == pytest.approx(perimeter - occlusivity, abs=EXACT)


@pytest.mark.parametrize(("outline", "eye", "area", "perimeter", "occlusivity"), PRINTED)
def test_rooms_as_printed(outline, eye, area, perimeter, occlusivity) -> None:
    found = seen_in(outline, eye)
    assert found.area == pytest.approx(area, abs=EXACT)
    assert (printed(found.perimeter, perimeter), printed(found.occlusivity, occlusivity)) == (perimeter, occlusivity)


@pytest.mark.parametrize("eye", [(0.1, 0.1), (3.9, 2.9), (2, 1.5), (1, 2)])
def test_a_convex_room_is_seen_whole(eye) -> None:
    found = seen_in(((0, 0), (4, 0), (4, 3), (0, 3)), eye)
    assert (found.area, found.perimeter) == pytest.approx((12, 14), abs=EXACT)
    assert found.occlusivity == pytest.approx(0, abs=EXACT)


def test_a_wall_seen_edge_on_is_no_occluding_edge() -> None:
    """From (2, 1) of the L the whole room shows; the jump along x = 2 is the wall itself."""
    found = seen_in(L, (2, 1))
    assert (found.area, found.perimeter) == pytest.approx((12, 16), abs=EXACT)
    assert found.occlusivity == pytest.approx(0, abs=EXACT)


def test_a_block_in_a_square() -> None:
    edges = np.vstack((edges_of(((0, 0), (10, 0), (10, 10), (0, 10))), edges_of(((4, 4), (6, 4), (6, 6), (4, 6)))))
    found = measures(sweep((5, 1), edges))
    assert found.area == pytest.approx(76, abs=EXACT)
    assert printed(found.perimeter, "48.649111") == "48.649111"
    assert printed(found.occlusivity, "12.649111") == "12.649111"


def test_a_round_tree_in_a_disc_of_sight() -> None:
    """A = pi R2 - a R2 + r t - r2 (pi/2 - a), a = asin(r/d), t = sqrt(d2 - r2); R 10, r 1, d 2: 262.484241."""
    found = measures(sweep((0, 0), np.zeros((0, 4)), circles=np.array([[2.0, 0.0, 1.0]]), reach=10))
    a, t = math.asin(0.5), math.sqrt(3)
    assert printed(found.area, "262.484241") == "262.484241"
    assert found.area == pytest.approx(100 * math.pi - 100 * a + t - (math.pi / 2 - a), abs=EXACT)
    assert found.occlusivity == pytest.approx(2 * (10 - t), abs=EXACT)
    assert found.closed_perimeter == pytest.approx(math.pi - 2 * a, abs=EXACT)
    assert found.open_edge == pytest.approx(20 * (math.pi - a), abs=EXACT)


@pytest.mark.parametrize(
    ("outline", "eye", "mean", "mean_square", "variance"),
    [
        (SQUARE, (0.5, 0.5), 0.56109985, 1 / math.pi, 0.00347684),
        (DOUBLE, (1, 0.5), 0.76587241, 2 / math.pi, 0.05005923),
    ],
)
def test_radial_moments_of_rectangles(outline, eye, mean, mean_square, variance) -> None:
    found = seen_in(outline, eye)
    assert (round(found.mean_view, 8), round(found.variance, 8)) == (mean, variance)
    assert found.mean_square == pytest.approx(mean_square, abs=1e-12)


def test_mean_view_of_the_unit_square_in_closed_form() -> None:
    assert seen_in(SQUARE, (0.5, 0.5)).mean_view == pytest.approx(2 / math.pi * math.log(1 + math.sqrt(2)), abs=1e-12)


def test_a_circle_of_sight_has_no_variance() -> None:
    found = measures(sweep((3, 4), np.zeros((0, 4)), reach=7))
    assert found.variance == pytest.approx(0, abs=1e-9)
    assert (found.area, found.drift, found.mean_view) == pytest.approx((49 * math.pi, 0, 7), abs=1e-9)
    assert found.compactness("P2 / 4 pi A") == pytest.approx(1, abs=1e-12)


def test_isoperimetric_ratio_of_a_square() -> None:
    assert round(seen_in(SQUARE, (0.2, 0.3)).compactness("P2 / 4 pi A"), 7) == 1.2732395


@pytest.mark.parametrize(("outline", "eye"), [(L, (3, 0.5)), (U, (1, 1)), (T, (0, 1)), (U, (1, 3))])
def test_mean_of_squared_views_is_area_over_pi(outline, eye) -> None:
    """Isovists are star-shaped, so mean(l2) over all directions is A / pi: by the integral and by looking round."""
    found = sweep(eye, edges_of(outline))
    area = measures(found).area
    assert measures(found).mean_square == pytest.approx(area / math.pi, abs=1e-12)
    looked = found.views((np.arange(200_000) + 0.5) * 360 / 200_000)
    assert (looked**2).mean() * math.pi == pytest.approx(area, rel=1e-4)
    assert looked.mean() == pytest.approx(measures(found).mean_view, rel=1e-4)
    third = ((looked - looked.mean()) ** 3).mean()
    assert third == pytest.approx(measures(found).skewness, rel=1e-3)


def test_drift_is_the_distance_to_the_middle_of_the_seen_ground() -> None:
    found = seen_in(((0, 0), (4, 0), (4, 3), (0, 3)), (1, 1))
    assert found.centroid == pytest.approx((2, 1.5), abs=1e-12)
    assert found.drift == pytest.approx(math.hypot(1, 0.5), abs=1e-12)
