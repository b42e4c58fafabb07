"""Plants set out in a bed keep half a spacing from its edge and a whole one from each other, whatever its shape."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.spacing import between, place_in, spacing_for

CATALOGUE = load_catalogue()


@st.composite
def beds(draw: st.DrawFn) -> plane.Region:
    """A star-shaped bed of 5 to 12 corners, 1 to 6 m across."""
    n = draw(st.integers(5, 12))
    far = draw(st.lists(st.floats(0.8, 3.0), min_size=n, max_size=n))
    return plane.region(
        [(r * math.cos(2 * math.pi * i / n), r * math.sin(2 * math.pi * i / n)) for i, r in enumerate(far)]
    )


@settings(max_examples=60, deadline=None)
@given(beds(), st.floats(0.15, 0.9), st.sampled_from(["square", "staggered"]), st.floats(-90, 90))
def test_plants_stand_half_a_spacing_inside_and_a_spacing_apart(bed, spacing, pattern, turn) -> None:  # type: ignore[no-untyped-def]
    points = np.array(place_in(bed, spacing, pattern, turn=turn)).reshape(-1, 2)
    edges = plane.difference(plane.circle((0, 0), 10), bed)
    if len(points):
        assert plane.inside(bed, points).all()
        assert plane.point_distances(points, edges).min() >= spacing / 2 - 1e-3 * spacing - 2e-6
    if len(points) > 1:
        apart = np.hypot(*(points[:, None] - points[None, :]).transpose(2, 0, 1))
        assert apart[~np.eye(len(points), dtype=bool)].min() >= spacing - 1e-6


def test_the_catalogues_spacing_is_used_unless_given() -> None:
    plant = CATALOGUE["Salvia nemorosa"]
    assert spacing_for(plant) == plant.spacing_m
    assert spacing_for(plant, 0.5) == 0.5
    with pytest.raises(
        GardenError, match=r"spacing is 0 m for Salvia nemorosa in bed \"south\"; give a distance above 0"
    ):
        spacing_for(plant, 0, where='bed "south"')


def test_two_kinds_stand_the_mean_of_their_spreads_apart() -> None:
    a, b = CATALOGUE["Salvia nemorosa"], CATALOGUE["Acer campestre"]
    assert between(a, b) == (a.spread + b.spread) / 2
