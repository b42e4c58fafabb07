"""Ways without steps in the issue's back garden: 52 by 46 ft, irregular, with a fall of 4 ft; invented."""

import math

import attrs
import numpy as np
import pytest

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.project.edits import site as site_edits
from gardenkit.project.edits import structure as edits
from gardenkit.project.layout import layout
from gardenkit.project.rules import path_findings, path_slopes
from gardenkit.project.step_free import StepFree, step_free_ways
from gardenkit.site.heights import SpotHeight
from gardenkit.site.site import Building, Obstacle, Site
from gardenkit.structure.structure import Path
from gardenkit.units import FOOT

PLOT = tuple((x * FOOT, y * FOOT) for x, y in ((0, 0), (52, 0), (50, 44), (24, 46), (0, 40)))


def back_garden(fall: float, *, heights: bool = True) -> Project:
    spots = [(x * FOOT, y * FOOT) for x in (0, 26, 52) for y in (0, 23, 46)]
    found = tuple(SpotHeight(at=at, height=-fall * at[1] / (46 * FOOT)) for at in spots) if heights else ()
    corners = tuple((x * FOOT, y * FOOT) for x, y in ((10, -24), (42, -24), (42, 0), (10, 0)))
    project = Project(
        name="b", site=Site(boundary=PLOT, heights=found, buildings=(Building(name="house", outline=corners),))
    )
    project = site_edits.add_opening(project, "door", "door", at=(26 * FOOT, 0.0), width=0.95, sill=0.0, head=2.1)
    return edits.add_seat(project, "bench", at=(25 * FOOT, 42 * FOOT), facing=180)


def against_it(project: Project, name: str) -> list[str]:
    worked, path = layout(project), next(p for p in project.structure.paths if p.name == name)
    found = path_findings(path, worked.routes[name], project.site, worked.lie)
    return [f.sentence() for f in found if f.seriousness in ("warning", "stop") and f.topic in ("slope", "access")]


@pytest.fixture(scope="module")
def from_door_to_bench() -> tuple[StepFree, ...]:
    return step_free_ways(back_garden(4 * FOOT), "door", "bench")


def test_a_fall_of_1_ft_carries_a_walk_as_it_lies() -> None:
    (way,) = step_free_ways(back_garden(1 * FOOT), "door", "bench")
    assert way.how == "on the ground as it lies"
    assert way.steepest <= 1 / 20
    assert against_it(way.project, way.name) == []


def test_a_fall_of_4_ft_carries_a_walk_and_a_ramp_that_our_own_rules_pass(
    from_door_to_bench: tuple[StepFree, ...],
) -> None:
    ways = from_door_to_bench
    assert {way.how for way in ways} == {"a walk of 1:20", "a ramp of 1:12 with landings"}
    assert ways[0].cut + ways[0].fill <= ways[1].cut + ways[1].fill
    for way in ways:
        limit = 1 / 20 if "1:20" in way.how else 1 / 12
        assert way.steepest <= limit
        assert way.length >= way.rise / limit
        assert against_it(way.project, way.name) == []
        path = next(p for p in way.project.structure.paths if p.name == way.name)
        pieces = path_slopes(path, layout(way.project).routes[way.name], layout(way.project).lie)
        assert path.handrails is ("ramp" in way.how)
        assert max(piece.cross or 0.0 for piece in pieces) <= 100 / 48  # level across as built
        assert all(abs(piece.steepest) <= 100 * limit + 1e-6 for piece in pieces)


def with_a_terrace() -> Project:
    project = edits.add_area(
        back_garden(4 * FOOT), "patio", name="terrace", outline=feet((18, 6), (32, 6), (32, 18), (18, 18))
    )
    return site_edits.add_opening(project, "gate", "gate", at=(0.0, 30 * FOOT), width=1.2, sill=0.0, head=2.1)


def feet(*corners: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    return tuple((x * FOOT, y * FOOT) for x, y in corners)


def test_a_way_to_a_terrace_ends_at_its_edge_and_swings_no_more_than_its_rise_asks() -> None:
    """At 1:20 a rise of 1.04 ft wants 21 ft of way, where the two places are 22 ft apart: one plain swing."""
    way = next(way for way in step_free_ways(with_a_terrace(), "gate", "terrace") if "1:20" in way.how)
    curve = layout(way.project).routes[way.name].curve
    terrace = layout(way.project).ground_areas["terrace"]
    assert plane.distance(plane.line(plane.rings(terrace)[0]), plane.point(curve.points[-1])) <= 0.01
    assert not plane.inside(plane.grown(terrace, -0.1), curve.points).any()
    straight = math.dist(curve.points[0], curve.points[-1])
    assert way.rise * 20 <= curve.length <= 1.25 * max(straight, way.rise * 20)
    turned = np.abs(np.diff(np.unwrap(np.arctan2(*curve.tangents.T)))).sum()
    assert np.degrees(turned) < 180


def test_a_way_leaves_a_terrace_by_another_side_where_the_nearest_has_no_room() -> None:
    ways = step_free_ways(with_a_terrace(), "terrace", "bench")
    terrace = layout(ways[0].project).ground_areas["terrace"]
    for way in ways:
        curve = layout(way.project).routes[way.name].curve
        assert curve.points[0][1] < 18 * FOOT - 0.5  # the bench lies straight ahead of the side at 18 ft
        assert not plane.inside(plane.grown(terrace, -0.1), curve.points).any()
        assert against_it(way.project, way.name) == []


def test_what_is_taken_becomes_a_path_with_its_heights(from_door_to_bench: tuple[StepFree, ...]) -> None:
    project, way = back_garden(4 * FOOT), from_door_to_bench[0]
    taken = edits.take_way(project, next(p for p in way.project.structure.paths if p.name == way.name))
    (path,) = taken.structure.paths
    assert (path.use, path.start, path.end) == ("wheelchair", "door", "bench")
    assert len(path.heights) > 1
    again = edits.take_way(taken, path)
    assert again.structure.paths[-1].name != path.name
    assert edits.grade_path(taken, path.name, heights=()).structure.paths[0].heights == ()


def test_a_fall_of_12_ft_carries_none_and_why_is_said() -> None:
    """42 ft of run, and a ramp for 10.7 ft of rise is over 150 ft long with its landings."""
    with pytest.raises(GardenError, match=r"no way without steps .* a ramp of 1:12 with its landings is 48\.\d m long"):
        step_free_ways(back_garden(12 * FOOT), "door", "bench")


def test_without_heights_what_is_missing_is_said() -> None:
    with pytest.raises(GardenError, match="needs the heights of the ground"):
        step_free_ways(back_garden(0.0, heights=False), "door", "bench")


def test_a_ramp_is_judged_run_by_run_between_its_landings() -> None:
    """Two runs of 0.6 m rise at 1:12 with a level place between pass; without it 1.2 m in one run does not (405.6)."""
    project = back_garden(0.01)
    made = edits.add_path(
        project,
        "r",
        start="door",
        end="bench",
        width=1.2,
        curvature=0.0,
        use="wheelchair",
        slope_rule="ramp",
        surface="paving",
    )
    run = 7.2 / layout(made).routes["r"].length
    stop = run + 1.6 / layout(made).routes["r"].length
    assert isinstance(made.structure.paths[0], Path)
    one = edits.grade_path(made, "r", heights=[(0, 0.0), (run, 0.6), (stop, 0.6), (1, 0.7)])
    assert against_it(one, "r") == []
    two = edits.grade_path(made, "r", heights=[(0, 0.0), (1, 0.95)])
    assert against_it(two, "r")


def test_where_no_way_is_wide_enough_the_sentence_speaks_of_the_places_and_no_path_of_its_own() -> None:
    walls = (
        Obstacle(name="bin store", outline=_box(0, 20, 25, 22)),
        Obstacle(name="pond", outline=_box(29, 20, 53, 22)),
    )
    project = back_garden(0.2)
    project = attrs.evolve(project, site=attrs.evolve(project.site, obstacles=walls))
    with pytest.raises(GardenError) as said:
        step_free_ways(project, "door", "bench")
    assert str(said.value).startswith(
        "a way without steps from door to bench cannot fit: the narrowest place is 1.22 m"
    )
    assert "step-free way" not in str(said.value)


def _box(left: float, low: float, right: float, high: float) -> plane.Outline:
    return tuple((x * FOOT, y * FOOT) for x, y in ((left, low), (right, low), (right, high), (left, high)))
