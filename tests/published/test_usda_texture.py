"""USDA Soil Survey Manual, Handbook 18, 2017, pp. 122-124, and Benham, Ahrens & Nettleton, NRCS, 2009: the triangle."""

import numpy as np
import pytest

from gardenkit.site.texture import TEXTURES, JarReading, jar_shares, texture, texture_rules

POINTS = [  # sand, silt, clay, class
    (52, 28, 20, "loam"),
    (53, 27, 20, "sandy clay loam"),
    (52, 42, 6, "sandy loam"),
    (85, 15, 0, "loamy sand"),
    (90, 0, 10, "loamy sand"),
    (70, 15, 15, "sandy loam"),
    (0, 88, 12, "silt loam"),
    (20, 80, 0, "silt"),
    (40, 40, 20, "loam"),
    (45, 28, 27, "clay loam"),
    (45, 20, 35, "clay loam"),
    (46, 19, 35, "sandy clay"),
    (45, 15, 40, "clay"),
    (20, 40, 40, "silty clay"),
    (20, 53, 27, "silty clay loam"),
    (20.1, 52.9, 27, "clay loam"),
    (65, 25, 10, "sandy loam"),
    (25, 15, 60, "clay"),
]


@pytest.mark.parametrize(("sand", "silt", "clay", "name"), POINTS)
def test_points_beside_the_lines(sand: float, silt: float, clay: float, name: str) -> None:
    assert texture(sand, silt, clay) == name


def test_idaho_oneplan_point_30_40_30_is_clay_loam() -> None:
    """oneplan.org/Water/soil-triangle.asp."""
    assert texture(30, 40, 30) == "clay loam"


def grid(steps: int) -> tuple[np.ndarray, np.ndarray]:
    sand, clay = np.divmod(np.arange((steps + 1) ** 2), steps + 1)
    inside = sand + clay <= steps
    return sand[inside] * (100.0 / steps), clay[inside] * (100.0 / steps)


@pytest.mark.parametrize(("steps", "points"), [(100, 5_151), (1000, 501_501)])
def test_every_point_of_the_triangle_has_exactly_one_class(steps: int, points: int) -> None:
    """No gap and no overlap, on whole percent and on 0.1 percent."""
    rules = texture_rules(*grid(steps))
    assert tuple(rules) == TEXTURES
    classes = np.sum(list(rules.values()), axis=0)
    assert classes.shape == (points,)
    assert np.all(classes == 1)


def test_the_triangle_has_all_twelve_classes() -> None:
    assert all(mask.any() for mask in texture_rules(*grid(100)).values())


def test_jar_marks_at_0_8_1_6_2_0_inches_are_loam() -> None:
    """Cumulative heights: 40/40/20 percent."""
    shares = jar_shares(JarReading(sand_mark=0.8, silt_mark=1.6, clay_mark=2.0))
    assert shares == pytest.approx((40, 40, 20), abs=1e-9)
    assert texture(*shares) == "loam"
