"""Hedges along a line: as many plants as published, as high as they have grown, on plan, shade, side and view alike."""

import math
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.view import view_scene
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.solid import top_of
from gardenkit.project import Project
from gardenkit.project.edits import structure
from gardenkit.project.edits.drawn import drawable
from gardenkit.project.solids import solids
from gardenkit.site.site import Site
from gardenkit.structure.things import ground_of_thing, things_in

PLOT = ((0.0, 0.0), (16.0, 0.0), (16.0, 14.0), (0.0, 14.0))
CORNERS = ((2.0, 3.0), (6.0, 4.0), (9.0, 8.0), (14.0, 9.0))


def hedged(kind: str = "beech hedge", line: plane.Line = CORNERS) -> Project:
    return structure.add_along(Project(name="plot", site=Site(boundary=PLOT)), kind, line, name="hedge")


def length(line: plane.Line) -> float:
    return math.fsum(math.dist(a, b) for a, b in pairwise(line))


def test_a_hedge_drawn_by_corners_is_as_long_as_they_are_and_takes_its_strip_of_ground() -> None:
    (thing,) = hedged().structure.things
    assert thing.width == pytest.approx(length(CORNERS), abs=0.005)
    strip = plane.grown(plane.line(CORNERS), thing.depth / 2, round_ends=False)
    assert plane.area(plane.difference(ground_of_thing(thing), strip)) < 0.02
    assert plane.area(ground_of_thing(thing)) == pytest.approx(plane.area(strip), abs=0.02)


@pytest.mark.parametrize(("kind", "line", "plants"), [("beech hedge", ((1.0, 1.0), (3.0, 1.0)), 6)])
def test_a_straight_line_is_planted_as_published(kind: str, line: plane.Line, plants: int) -> None:
    """2 m at 3 a metre, half a spacing from the ends: 6 (ashridgetrees.co.uk, 3 plants per metre, diagram)."""
    garden = Garden(hedged(kind, line), Path())
    assert [one.amount for one in garden.quantities if one.item == "hedge plant"] == [plants]


def test_a_hedge_grows_a_year_at_a_time_up_to_what_it_is_kept_at() -> None:
    """Hornbeam 20 to 40 cm a year (edensrestplants.co.uk); planted at 60 cm, kept at 1.8 m: after 3 to 6 years."""
    (thing,) = hedged().structure.things
    heights = [things_in((thing,), year)[0].height for year in range(8)]
    assert heights[0] == 0.6 and heights[-1] == 1.8
    assert all(0.2 <= b - a <= 0.4 for a, b in pairwise(heights) if b < 1.8)
    assert 3 <= next(year for year, high in enumerate(heights) if high >= 1.8) <= 6
    assert things_in((thing,), None) == (thing,)
    depths = [things_in((thing,), year)[0].depth for year in range(8)]
    assert depths == sorted(depths) and depths[-1] == thing.depth


def test_its_shade_is_as_high_as_it_is_that_year() -> None:
    project = hedged()
    garden = Garden(project, Path())
    tops = [max(map(top_of, solids(project, garden.catalogue, year=year)), default=0.0) for year in (0, 2, 8)]
    assert tops == [0.0, pytest.approx(1.2), pytest.approx(1.8)]  # below 0.9 m it shades its own feet only


def test_rounding_its_corners_keeps_its_ends_and_turns_evenly() -> None:
    project = structure.round_corners(hedged(), "hedge")
    (thing,) = project.structure.things
    placed = plane.moved(plane.turned(thing.line, thing.facing), thing.at)
    for corner in CORNERS:
        assert min(math.dist(corner, p) for p in placed) < 0.25
    assert placed[0] == pytest.approx(CORNERS[0], abs=0.002) and placed[-1] == pytest.approx(CORNERS[-1], abs=0.002)
    ways = np.unwrap([math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(placed)])
    assert np.abs(np.diff(ways)).max() < math.radians(15)
    with pytest.raises(GardenError, match="is straight"):
        structure.round_corners(hedged(line=CORNERS[:2]), "hedge")


def test_it_is_drawn_on_the_plan_and_in_the_view_and_turns_and_moves_whole() -> None:
    project = hedged()
    garden = Garden(project, Path())
    plan = garden_scene(project, garden.layout)
    assert any(getattr(mark, "tip", "").startswith("hedge: beech hedge") for mark in plan.marks)
    seen = view_scene(project, garden.layout, garden.catalogue, eye=(8.0, 0.5), towards=0.0, year=5, month=6)
    assert "hedge" in seen.description
    moved = structure.move_thing(project, "hedge", to=(8.0, 6.5))
    assert moved.structure.things[0].line == project.structure.things[0].line
    straight = structure.change_thing(project, "hedge", width=4.0)
    assert straight.structure.things[0].line == ()
    with pytest.raises(GardenError, match="stands in one place"):
        structure.add_along(project, "statue", CORNERS)


def test_it_is_drawn_by_clicks_along_its_line() -> None:
    row = drawable("yew hedge")
    assert row.form == "line"
    (thing,) = row.draw(Project(name="plot", site=Site(boundary=PLOT)), CORNERS).structure.things
    assert thing.kind == "yew hedge" and len(thing.line) == 4
