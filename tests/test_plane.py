"""Distances on the plan against shapely's own."""

import numpy as np
import shapely

from gardenkit.geometry import plane
from gardenkit.geometry.curve import Curve


def test_many_places_are_as_far_from_a_region_of_many_corners_as_shapely_says() -> None:
    ring = plane.difference(plane.circle((0.0, 0.0), 5.0), plane.circle((1.0, 0.0), 2.0))
    region = plane.union([ring, plane.circle((12.0, 3.0), 1.5)])
    many = plane.MANY_PAIRS // shapely.get_num_coordinates(region) + 1
    points = np.random.default_rng(4).uniform(-8.0, 16.0, (many, 2))
    found = plane.point_distances(points, region)
    assert np.array_equal(found, shapely.distance(shapely.points(points), region))
    assert 0 < np.count_nonzero(found) < many


def test_what_lies_beside_a_line_is_left_of_the_way_it_runs_and_as_far_off_as_asked() -> None:
    quarter = np.linspace(0.0, np.pi / 2, 400)  # anticlockwise round (0, 0), 4 m off: its middle lies to the left
    points = 4.0 * np.column_stack((np.cos(quarter), np.sin(quarter)))
    tangents = np.column_stack((-np.sin(quarter), np.cos(quarter)))
    arc = Curve(points=points, along=4.0 * quarter, tangents=tangents)
    along = np.linspace(0.0, arc.length, 7)
    for offset in (1.5, -0.5):
        at = arc.beside(along, np.full(7, offset))
        assert np.allclose(np.hypot(*at.T), 4.0 - offset, atol=1e-4)
        assert np.allclose(np.arctan2(at[:, 1], at[:, 0]), along / 4.0, atol=1e-4)
