"""Distances on the plan against shapely's own."""

import numpy as np
import shapely

from gardenkit.geometry import plane


def test_many_places_are_as_far_from_a_region_of_many_corners_as_shapely_says() -> None:
    ring = plane.difference(plane.circle((0.0, 0.0), 5.0), plane.circle((1.0, 0.0), 2.0))
    region = plane.union([ring, plane.circle((12.0, 3.0), 1.5)])
    many = plane.MANY_PAIRS // shapely.get_num_coordinates(region) + 1
    points = np.random.default_rng(4).uniform(-8.0, 16.0, (many, 2))
    found = plane.point_distances(points, region)
    assert np.array_equal(found, shapely.distance(shapely.points(points), region))
    assert 0 < np.count_nonzero(found) < many
