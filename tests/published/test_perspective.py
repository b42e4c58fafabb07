"""Angles of view, the look of a path and blind ground, worked out by plane geometry."""

import math

import numpy as np
import pytest

from gardenkit.structure.perspective import (
    angular_length,
    blind_ground,
    depression,
    least_height_over,
    looks_as_far,
    path_look,
    picture_height,
    picture_length,
    visual_angle,
)
from gardenkit.structure.sightlines import EYE_HEIGHTS_MM, SEATED_EYE, SEATED_EYE_LOW, STANDING_EYE


@pytest.mark.parametrize(("size", "distance", "degrees"), [(6, 60, 5.724810), (10, 10, 53.130102)])
def test_visual_angle(size: float, distance: float, degrees: float) -> None:
    assert round(visual_angle(size, distance), 6) == degrees


@pytest.mark.parametrize(("distance", "degrees"), [(5, 17.744672), (10, 9.090277)])
def test_depression_of_ground_points(distance: float, degrees: float) -> None:
    assert round(depression(1.6, distance), 6) == degrees


@pytest.mark.parametrize(("near", "far", "degrees"), [(5, 10, 8.654395), (10, 15, 3.001749)])
def test_angular_length_of_a_path(near: float, far: float, degrees: float) -> None:
    """The first is 8.6543947..., cut off (not rounded) to 8.654394 in the list of cases."""
    assert round(angular_length(1.6, near, far), 6) == degrees
    points = np.column_stack((np.zeros(51), np.linspace(near, far, 51)))
    look = path_look(points, (0.0, 0.0, 1.6))
    assert round(look.angle, 6) == degrees
    assert look.gain == pytest.approx(1.0, abs=1e-12)


def test_picture_lengths_of_equal_stretches_are_three_to_one() -> None:
    assert picture_length(1.6, 5, 10) / picture_length(1.6, 10, 15) == pytest.approx(3, abs=1e-12)


def test_picture_height_falls_with_distance() -> None:
    assert picture_height(2.0, 4.0, focal=0.05) == 0.025


def test_path_narrowed_to_half_at_20_m_reads_as_40_m() -> None:
    assert looks_as_far(20, near_width=1.2, far_width=0.6) == 40


def test_blind_ground_behind_a_hedge() -> None:
    """Eye 1.6, hedge 1.2 at 4 m: hidden from 4 to 16 m."""
    assert blind_ground(1.6, 1.2, 4) == pytest.approx((4, 16), abs=1e-9)
    assert blind_ground(1.6, 1.6, 4)[1] == math.inf


def test_what_shows_over_a_hedge() -> None:
    """h 1.8, d 4, D 12, e 1.6: above 2.2 m."""
    assert least_height_over(1.8, 4, eye=1.6, target=12) == pytest.approx(2.2, abs=1e-12)


@pytest.mark.parametrize(
    ("people", "low", "middle", "high"),
    [
        ("British men", 1515, 1630, 1745),
        ("British women", 1405, 1505, 1610),
        ("US women", 1420, 1525, 1630),
        ("Hong Kong men", 1470, 1555, 1640),
        ("Hong Kong women", 1330, 1425, 1520),
    ],
)
def test_eye_heights(people: str, low: int, middle: int, high: int) -> None:
    """City Univ. of Hong Kong, anthropometry tables, mm; the US men's row is at odds with its stature and left out."""
    assert EYE_HEIGHTS_MM[people] == (low, middle, high)
    assert "US men" not in EYE_HEIGHTS_MM


def test_default_eye_heights() -> None:
    assert (STANDING_EYE, SEATED_EYE_LOW, SEATED_EYE) == (1.60, 1.15, 1.20)
