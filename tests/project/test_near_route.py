"""A path in a large garden runs as it would if all of the garden were looked at."""

import attrs
import numpy as np
import pytest

from gardenkit.project import Project, near_route
from gardenkit.project.layout import layout
from gardenkit.site.site import ExistingTree, Site
from gardenkit.structure.structure import Path, Seat, Structure

LARGE = ((0.0, 0.0), (90.0, 0.0), (90.0, 60.0), (0.0, 60.0))


def garden(far: float, bend: float) -> Project:
    trees = tuple(
        ExistingTree(name=f"tree {i}.{j}", at=(5.0 + 4.0 * i, 4.0 + 4.0 * j), height=6.0, spread=3.0)
        for i in range(21)
        for j in range(14)
    )
    seats = (Seat(name="a", at=(20.3, 21.1), facing=0.0), Seat(name="b", at=(20.3 + far, 24.7), facing=0.0))
    path = Path(name="walk", start="a", end="b", bend=bend, width=0.8)
    return Project(name="park", site=Site(boundary=LARGE, trees=trees), structure=Structure(seats=seats, paths=(path,)))


@pytest.mark.parametrize(("far", "bend"), [(7.0, 0.0), (7.0, 0.8), (15.0, 0.3), (15.0, 1.0)])
def test_a_path_found_near_its_ends_is_the_path_found_in_the_whole_garden(
    far: float, bend: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    project = garden(far, bend)
    near = layout(project).routes["walk"]
    monkeypatch.setattr(near_route, "MOST_BOX", 0.0)  # all of the garden is looked at
    whole = layout(attrs.evolve(project, site=attrs.evolve(project.site, y_bearing=1.0))).routes["walk"]
    np.testing.assert_allclose(near.curve.points, whole.curve.points, atol=1e-9)
