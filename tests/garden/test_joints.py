"""Creeping plants between the stones of a path: as many as their spacing says, bought, cared for, drawn, seen."""

from pathlib import Path

import pytest

from gardenkit.drawing.garden import garden_scene
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.project.crops_seen import standing_with_crops
from gardenkit.project.edits import structure
from gardenkit.project.joints import OVER_EDGE, between_stones, creeps, joint_plants
from gardenkit.site.openings import Opening
from gardenkit.site.site import Site

GATE = Opening(name="gate", kind="gate", start=(3.0, 0.0), end=(4.0, 0.0), head=1.5)
THYME = "Thymus serpyllum"


def walked(surface: str = "stepping stones") -> Project:
    plot = Site(boundary=((0.0, 0.0), (8.0, 0.0), (8.0, 14.0), (0.0, 14.0)), openings=(GATE,))
    made = structure.add_seat(Project(name="plot", site=plot), "bench", at=(4.0, 12.0))
    made = structure.add_path(made, "walk", start="gate", end="bench", surface=surface)
    return structure.change_path(made, "walk", creeping=THYME)


def test_as_many_creep_between_stones_as_their_spacing_has_room_for() -> None:
    """On a square grid a plant takes its spacing squared: at 6 in, 4 a square foot. Plain geometry."""
    garden = Garden(walked(), Path())
    bare = between_stones(garden.layout, "walk")
    species = garden.catalogue[THYME]
    plants = joint_plants(garden.project, garden.layout, garden.catalogue)
    assert creeps(species)
    assert len(plants) == pytest.approx(plane.area(bare) / species.spacing_m**2, rel=0.12)
    stones = plane.union(plane.region(s.outline) for s in garden.layout.layings["walk"].stones)
    assert not any(plane.contains(stones, plant.at) for plant in plants)


def test_they_are_bought_cared_for_drawn_and_seen() -> None:
    garden = Garden(walked(), Path())
    plants = joint_plants(garden.project, garden.layout, garden.catalogue)
    (line,) = [line for line in garden.schedule if line.species.botanical == THYME]
    assert line.count == len(plants) and line.cost > 0 and line.key
    assert any(task.botanical == THYME for task in garden.care)
    plan = garden_scene(garden.project, garden.layout, garden.catalogue)
    assert any("between the stones" in getattr(mark, "tip", "") for mark in plan.marks)
    seen = standing_with_crops(garden.project, garden.catalogue, year=3, month=6)
    assert sum(one.species.botanical == THYME for one in seen) == len(plants)
    stones = plane.union(plane.region(s.outline) for s in garden.layout.layings["walk"].stones)
    assert all(plane.distance(plane.point(one.at), stones) + OVER_EDGE > 0.99 * one.size.spread / 2 for one in seen)
    assert max(one.size.spread for one in seen) > 2 * OVER_EDGE


def test_a_path_without_stones_has_no_joints_to_plant() -> None:
    garden = Garden(walked("gravel"), Path())
    assert joint_plants(garden.project, garden.layout, garden.catalogue) == ()
    assert not garden.schedule
