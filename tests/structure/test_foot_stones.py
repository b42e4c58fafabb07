"""A bed too deep to be worked from its edge gets stones to stand on, drawn and counted, until all is in reach."""

import pytest

from gardenkit.drawing.garden import garden_scene
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.layout import layout
from gardenkit.schedules.things import thing_lines
from gardenkit.site.site import Site
from gardenkit.structure.beds import REACH
from gardenkit.structure.structure import Path, Seat, Structure


def plot(wide: float) -> Project:
    """A plot 10 m deep with a straight path up its left side: a bed as deep as the plot is wide beside it."""
    outline = ((0.0, 0.0), (wide, 0.0), (wide, 10.0), (0.0, 10.0))
    seats = (Seat(name="low", at=(0.9, 0.5)), Seat(name="high", at=(0.9, 9.5)))
    path = Path(name="walk", start="low", end="high", curvature=0.0, line="fair curves", surface="gravel")
    return Project(name="p", site=Site(boundary=outline), structure=Structure(seats=seats, paths=(path,)))


def deepest(project: Project):
    return max(layout(project).beds, key=lambda bed: bed.area)


def test_stones_go_in_a_pace_apart_until_all_of_the_bed_is_within_reach():
    before = plot(3.4)
    name = deepest(before).name
    assert deepest(before).reach > REACH
    after = edits.reach_bed(before, name)
    assert deepest(after).reach <= REACH
    stones = after.structure.things
    assert {stone.kind for stone in stones} == {"foot stone"} and len(stones) >= 3
    assert all(plane.contains(deepest(before).region, stone.at) for stone in stones)
    assert not any(name in f.what for f in layout(after).findings if f.topic == "reach")
    tips = [mark.tip for mark in garden_scene(after, layout(after)).marks if getattr(mark, "tip", "")]
    assert sum(stones[0].name in tip for tip in tips) >= 1, "drawn on the plan"


def test_their_stone_is_counted_by_weight():
    after = edits.reach_bed(plot(3.0), deepest(plot(3.0)).name)
    lines = [line for line in thing_lines(after) if line.item == "stones"]
    each = 3.14159 / 4 * 0.42**2 * 0.0508 * 2643  # kg of a round stone 42 cm across and 2 in thick
    assert sum(line.amount for line in lines) == pytest.approx(each * len(after.structure.things), rel=1e-3)


def test_a_bed_within_reach_takes_none_and_one_far_too_deep_wants_a_path():
    near, far = plot(1.9), plot(14.0)
    with pytest.raises(GardenError, match=r"is within .* of where one stands already"):
        edits.reach_bed(near, deepest(near).name)
    with pytest.raises(GardenError, match="let a path run through it"):
        edits.reach_bed(far, deepest(far).name)
