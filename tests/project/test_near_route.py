"""A path in a large garden runs as it would if all of the garden were looked at."""

import attrs
import numpy as np
import pytest

from gardenkit.geometry import plane
from gardenkit.project import Project, near_route
from gardenkit.project.layout import layout
from gardenkit.site.site import ExistingTree, Site
from gardenkit.structure.structure import Path, Seat, Structure

LARGE = ((0.0, 0.0), (90.0, 0.0), (90.0, 60.0), (0.0, 60.0))


def garden(far: float, curvature: float) -> Project:
    trees = tuple(
        ExistingTree(name=f"tree {i}.{j}", at=(5.0 + 4.0 * i, 4.0 + 4.0 * j), height=6.0, spread=3.0)
        for i in range(21)
        for j in range(14)
    )
    seats = (Seat(name="a", at=(20.3, 21.1), facing=0.0), Seat(name="b", at=(20.3 + far, 24.7), facing=0.0))
    path = Path(name="walk", start="a", end="b", curvature=curvature, width=0.8)
    return Project(name="park", site=Site(boundary=LARGE, trees=trees), structure=Structure(seats=seats, paths=(path,)))


@pytest.mark.parametrize(("far", "curvature"), [(7.0, 0.0), (7.0, 0.8), (15.0, 0.3), (15.0, 1.0)])
def test_a_path_found_near_its_ends_is_the_path_found_in_the_whole_garden(
    far: float, curvature: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    project = garden(far, curvature)
    near = layout(project).routes["walk"]
    monkeypatch.setattr(near_route, "MOST_BOX", 0.0)  # all of the garden is looked at
    whole = layout(attrs.evolve(project, site=attrs.evolve(project.site, y_bearing=1.0))).routes["walk"]
    np.testing.assert_allclose(near.curve.points, whole.curve.points, atol=1e-9)


def test_the_ground_of_three_paths_that_cross_is_counted_once() -> None:
    spots = {
        "a": (20.3, 20.1),
        "b": (34.3, 30.7),
        "c": (20.3, 30.7),
        "d": (34.3, 20.1),
        "e": (18.3, 25.3),
        "f": (36.3, 25.3),
    }
    seats = tuple(Seat(name=name, at=at, facing=0.0) for name, at in spots.items())
    paths = tuple(Path(name=f"{a}{b}", start=a, end=b, curvature=0.2, width=0.8) for a, b in ("ab", "cd", "ef"))
    worked = layout(Project(name="", site=Site(boundary=LARGE), structure=Structure(seats=seats, paths=paths)))
    whole = plane.union(route.region for route in worked.routes.values())
    assert sum(plane.area(part) for part in worked.surfaces.values()) == pytest.approx(plane.area(whole), abs=1e-9)
    assert plane.area(worked.surfaces["ab"]) == pytest.approx(plane.area(worked.routes["ab"].region), abs=1e-9)
    assert plane.area(worked.surfaces["ef"]) < plane.area(worked.routes["ef"].region) - 0.5
