"""What one path comes to, measured here by other means: shapely's lengths and distances, and by hand."""

import math
from itertools import pairwise
from pathlib import Path as Folder

import attrs
import pytest
import shapely

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.garden.path_figures import path_figures
from gardenkit.project import Project
from gardenkit.site.openings import Opening
from gardenkit.site.site import Site
from gardenkit.structure.structure import Path, Seat, Structure

PLOT = ((0.0, 0.0), (6.0, 0.0), (6.0, 14.0), (0.0, 14.0))
GATE = Opening(name="gate", kind="gate", start=(2.5, 0.0), end=(3.5, 0.0), head=1.2)
BENCH = Seat(name="bench", at=(3.0, 12.0), facing=180.0)


def garden(path: Path, tmp_path: Folder) -> Garden:
    project = Project(
        name="one path",
        site=Site(boundary=PLOT, openings=(GATE,)),
        structure=Structure(paths=(path,), seats=(BENCH,)),
    )
    return Garden(project, tmp_path)


def walk(**more: object) -> Path:
    return attrs.evolve(Path(name="walk", start="gate", end="bench"), **more)


def test_a_path_without_bend_is_straight_and_shows_whole_from_its_gate(tmp_path: Folder) -> None:
    found = path_figures(garden(walk(curvature=0.0), tmp_path), "walk")
    assert found is not None
    assert found.turn is None
    assert found.length == pytest.approx(12.0, abs=0.6)  # from the gate to before the bench
    assert (found.start, found.shown) == ("gate", pytest.approx(1.0))  # open ground: nothing stands in the way


def test_a_bent_path_is_longer_and_turns_on_the_radius_through_three_points_of_it(tmp_path: Folder) -> None:
    bent = garden(walk(curvature=0.9), tmp_path)
    found = path_figures(bent, "walk")
    assert found is not None and found.turn is not None
    points = bent.layout.routes["walk"].curve.points
    assert found.length == pytest.approx(shapely.LineString(points).length, rel=1e-3)
    radii = [around(a, b, c) for (a, b), (_, c) in pairwise(pairwise(points[:: len(points) // 60]))]
    assert found.turn == pytest.approx(min(radii), rel=0.15)


@pytest.mark.parametrize("sway", [0, 1, 2])
def test_a_fair_path_turns_to_the_other_side_as_often_as_it_was_asked(sway: int, tmp_path: Folder) -> None:
    found = path_figures(garden(walk(curvature=0.5, sway=sway, line="fair curves"), tmp_path), "walk")
    assert found is not None and found.changes == sway


def around(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    """Radius of the circle through three points: the product of the sides over four times the area."""
    sides = math.dist(a, b) * math.dist(b, c) * math.dist(a, c)
    area = abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2
    return sides / (4 * area) if area > 1e-12 else math.inf


def test_gaps_are_the_distances_between_the_outlines_of_neighbouring_stones(tmp_path: Folder) -> None:
    laid = garden(walk(curvature=0.4, surface="stepping stones"), tmp_path)
    found, stones = path_figures(laid, "walk"), laid.layout.layings["walk"].stones
    assert found is not None and found.gaps is not None
    assert found.stones == len(stones) > 10
    by_number = {s.number: shapely.Polygon(s.outline) for s in stones}
    clear = [by_number[g.first].distance(by_number[g.second]) for g in laid.layout.layings["walk"].gaps]
    assert found.gaps == (pytest.approx(min(clear), abs=2e-3), pytest.approx(max(clear), abs=2e-3))


def test_a_path_of_gravel_has_no_stones_and_no_gaps(tmp_path: Folder) -> None:
    found = path_figures(garden(walk(surface="gravel"), tmp_path), "walk")
    assert found is not None
    assert (found.stones, found.gaps, found.weight) == (0, None, 0)


def test_a_path_that_is_not_there_is_refused_and_one_that_cannot_run_has_no_figures(tmp_path: Folder) -> None:
    with pytest.raises(GardenError, match="walk"):
        path_figures(garden(walk(), tmp_path), "wakl")
    aimless = garden(walk(end="nowhere"), tmp_path)
    assert path_figures(aimless, "walk") is None
