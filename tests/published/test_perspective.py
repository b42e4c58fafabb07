"""Angles of view, the look of a path and blind ground, worked out by plane geometry."""

import numpy as np
import pytest

from gardenkit.structure.perspective import (
    angular_length,
    depression,
    path_look,
)


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
