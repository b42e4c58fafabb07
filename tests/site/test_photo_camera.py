"""Where a photo was taken from: made-up cameras found again, published resections, a wrong mark named."""

import math

import attrs
import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from gardenkit.findings import GardenError
from gardenkit.site.photo_camera import Pose, advice, camera_of, pixels_of, turn_of
from gardenkit.site.site_photos import PhotoMark, SitePhoto

SIZE = (1600, 1200)
SPOTS = np.array(  # corners of a house, a window, posts, a gate: invented
    [(0, 12, 0), (8, 12, 0), (8, 12, 5.2), (2, 12, 1.0), (3.4, 12, 2.3), (-3, 7, 1.8), (6.5, 5.0, 1.2), (9, 8, 2.0)],
    dtype=float,
)
TRUE = Pose(eye=(2.5, -3.0, 1.62), towards=8.0, lean=-3.0, roll=1.2, angle=68.0)


def photo(pose: Pose, spots: np.ndarray = SPOTS, *, noise: float = 0.0, seed: int = 0, size=SIZE) -> SitePhoto:
    seen = pixels_of(pose, size, spots) + np.random.default_rng(seed).normal(0.0, max(noise, 1e-12), (len(spots), 2))
    marks = tuple(
        PhotoMark(name=f"mark {n}", pixel=tuple(at), at=tuple(spot[:2]), height=float(spot[2]))
        for n, (at, spot) in enumerate(zip(seen.tolist(), spots.tolist(), strict=True), start=1)
    )
    return SitePhoto(name="from the gate", file="gate.jpg", wide=size[0], high=size[1], marks=marks)


def turned(a: Pose, b: Pose) -> float:
    """Return how far two cameras are turned against each other, degrees."""
    way = turn_of(a.towards, a.lean, a.roll) @ turn_of(b.towards, b.lean, b.roll).T
    return math.degrees(math.acos(min(1.0, (np.trace(way) - 1) / 2)))


@pytest.mark.parametrize("seed", range(4))
def test_a_made_up_camera_is_found_to_1_percent_and_half_a_degree_with_half_a_pixel_of_noise(seed: int) -> None:
    rng = np.random.default_rng(seed)
    pose = Pose(
        eye=(float(rng.uniform(-1, 6)), float(rng.uniform(-6, -1)), float(rng.uniform(1.4, 4.5))),
        towards=float(rng.uniform(-8, 12)),
        lean=float(rng.uniform(-8, 4)),
        roll=float(rng.uniform(-3, 3)),
        angle=float(rng.uniform(60, 85)),
    )
    found = camera_of(photo(pose, noise=0.5, seed=seed))
    away = float(np.mean(np.linalg.norm(SPOTS - pose.eye, axis=1)))
    assert math.dist(found.pose.eye, pose.eye) < 0.01 * away
    assert turned(found.pose, pose) < 0.5
    assert math.tan(math.radians(found.pose.angle / 2)) == pytest.approx(
        math.tan(math.radians(pose.angle / 2)), rel=0.01
    )
    assert found.fit < 1.0


def test_four_marks_are_enough_where_they_are_exact() -> None:
    found = camera_of(photo(TRUE, SPOTS[[0, 2, 5, 6]]))
    assert found.pose.eye == pytest.approx(TRUE.eye, abs=0.02)
    assert found.pose.roll == pytest.approx(TRUE.roll, abs=0.1)


def test_a_square_seen_square_on_is_where_a_general_vision_library_finds_it() -> None:
    """Its regression case 16040 (public code): focal 712.06, 712.54, middle (800, 500); R = I, t = (-.5, -.5, 3.5615).

    There the picture's axes are x right, y down, z ahead: the eye lies at -t. Here y is up, so corners are laid so.
    """
    pixels = ((700, 400), (700, 600), (900, 600), (900, 400))
    spots = ((0.0, 0.0), (0.0, 1.0), (1.0, 1.0), (1.0, 0.0))  # x right, y down, in the plane z = 0
    marks = tuple(
        PhotoMark(name=f"corner {n}", pixel=pixel, at=(x, 0.0), height=-y)
        for n, (pixel, (x, y)) in enumerate(zip(pixels, spots, strict=True))
    )
    angle = math.degrees(2 * math.atan(800 / 712.302))  # the mean of both
    found = camera_of(SitePhoto(name="square", file="s.jpg", wide=1600, high=1000, angle=angle, marks=marks))
    assert found.pose.eye == pytest.approx((0.5, -3.5615, -0.5), abs=0.002)
    assert (found.pose.lean, found.pose.roll) == pytest.approx((0.0, 0.0), abs=0.05)
    assert sum(v * v for v in found.off) < 0.02  # there .009 px2, with its two focal lengths


def by_a_general_solver(measured: np.ndarray, focal: float) -> np.ndarray:
    """Return east, north, up of a camera over the ground from photo points (mm) by the collinearity equations, written
    out here with angles omega, phi, kappa and given to SciPy's least squares: nothing of ours is used.
    """
    ground = measured[:, 2:]

    def off(unknown: np.ndarray) -> np.ndarray:
        turned = (ground - unknown[:3]) @ Rotation.from_euler("xyz", unknown[3:]).as_matrix()
        return (measured[:, :2] + focal * turned[:, :2] / turned[:, 2:]).ravel()

    start = np.array([*ground[:, :2].mean(axis=0), 40.0 * focal + ground[:, 2].mean(), 0.0, 0.0, 0.0])  # 1:40,000
    found = least_squares(off, start, x_scale=[1e3, 1e3, 1e3, 0.1, 0.1, 0.1], xtol=1e-14, ftol=1e-14, gtol=1e-14)
    return np.asarray(found.x[:3])


def test_a_resection_from_the_air_of_a_textbook() -> None:
    """A case that textbooks of photogrammetry share. Published, as several public programs carry them (the README of
    "SpaceResection" by richardhyy among them), are the inputs: focal 153.24 mm, scale 1:40,000, four points. None of
    them prints the result. What is expected is computed here, independently, by a general solver; the result that the
    textbook prints is known from memory only: X 39795.45, Y 27476.46, Z 7572.69 m, errors about 1.1, 1.3, 0.5 m.
    """
    measured = (
        (-86.15, -68.99, 36589.41, 25273.32, 2195.17),
        (-53.40, 82.21, 37631.08, 31324.51, 728.69),
        (-14.78, -76.63, 39100.97, 24934.98, 2386.50),
        (10.46, 64.43, 40426.54, 30319.81, 757.31),
    )
    marks = tuple(
        PhotoMark(name=f"point {n}", pixel=(1150 + 10 * x, 1150 - 10 * y), at=(east, north), height=up)
        for n, (x, y, east, north, up) in enumerate(measured)
    )
    angle = math.degrees(2 * math.atan(115.0 / 153.24))
    found = camera_of(SitePhoto(name="air", file="air.jpg", wide=2300, high=2300, angle=angle, marks=marks))
    expected = by_a_general_solver(np.array(measured), 153.24)
    assert found.pose.eye == pytest.approx(tuple(expected), abs=0.05)
    assert tuple(expected) == pytest.approx((39795.45, 27476.46, 7572.69), abs=1.5)


def test_the_mark_that_was_clicked_wrongly_is_named() -> None:
    marks = list(photo(TRUE, noise=0.5).marks)
    marks[5] = attrs.evolve(marks[5], pixel=(marks[5].pixel[0] + 60, marks[5].pixel[1]))
    wrong = attrs.evolve(photo(TRUE), marks=tuple(marks))
    found = camera_of(wrong)
    assert found.worst == "mark 6"
    assert any("mark 6 fits worst" in finding.what for finding in advice(wrong, found, "metric"))
    right = photo(TRUE, noise=0.5)
    assert advice(right, camera_of(right), "metric") == ()


def test_marks_all_in_one_wall_seen_square_on_do_not_hold_the_distance() -> None:
    wall = np.array([(0, 10, 0), (6, 10, 0), (6, 10, 3), (0, 10, 3), (2, 10, 1), (4, 10, 2)], dtype=float)
    flat = photo(Pose(eye=(3.0, 0.0, 1.5), towards=0.0, lean=0.0, roll=0.0, angle=60.0), wall, noise=0.5)
    said = [finding.what for finding in advice(flat, camera_of(flat), "metric")]
    assert any("nearer and further off" in words for words in said)


def test_too_few_marks_and_marks_in_a_line_are_said() -> None:
    with pytest.raises(GardenError, match="has 3 marks; mark at least 4"):
        camera_of(photo(TRUE, SPOTS[:3]))
    line = np.array([(x, 12.0, 1.0) for x in range(5)], dtype=float)
    with pytest.raises(GardenError, match="in one line on the plan"):
        camera_of(photo(TRUE, line))
