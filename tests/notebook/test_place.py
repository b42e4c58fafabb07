"""What is chosen on a plan is put by typed places and by steps, with what is near it said."""

import html

import pytest

from gardenkit.geometry import plane
from gardenkit.notebook.pages.beds import BedsPage
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.pages.structure import StructurePage
from gardenkit.notebook.pages.supports import SupportsPage
from gardenkit.notebook.session import Session
from gardenkit.project.edits import structure
from gardenkit.project.edits.moved import place_of
from gardenkit.units import INCH, show_length


def test_a_chosen_plant_is_stepped_and_undo_takes_the_steps_back(few: Session) -> None:
    garden = few
    page = LayeringPage(garden)
    plant = garden.project.planting.plants[-1]
    page.one.choose(plant.number)
    steps = len(garden.steps())
    for _ in range(3):
        page.one.place.nudge(0, 1)
    x, y = place_of(garden.project, "plant", str(plant.number))
    moved = (x - plant.at[0], y - plant.at[1])
    assert moved == pytest.approx((0.0, 9 * INCH), abs=0.002), page.message.value  # each step to the millimetre
    made = garden.steps()[steps:]
    assert {s.gesture for s in made} == {f"step plant {plant.number}"}  # in quick succession one step of undo
    near = min(
        (p for p in garden.project.planting.plants if p.number != plant.number), key=lambda p: _far(p.at, (x, y))
    )
    said = page.one.place.said.value
    assert f"from plant {near.number}" in said
    assert f"{html.escape(show_length(_far(near.at, (x, y)), 'imperial'))} from plant {near.number}" in said
    for _ in made:
        page.undo()
    assert garden.project.planting.plants[-1] == plant
    assert page.failures == []


def _far(a: tuple[float, float], b: tuple[float, float]) -> float:
    return plane.distance(plane.point(a), plane.point(b))


def test_a_typed_place_in_the_house_is_refused_and_the_seat_stays(garden: Session) -> None:
    page = StructurePage(garden)
    before = page.project
    x, y = plane.centre(plane.region(page.project.site.buildings[0].outline))
    page.place.at.bar.value = f"{x:.2f} m, {y:.2f} m"
    assert "inside" in page.message.value and page.project is before
    assert page.place.at.bar.value != f"{x:.2f} m, {y:.2f} m"  # it shows again where the seat is
    assert page.failures == []


def test_supports_areas_and_drawn_beds_are_stepped_too(garden: Session) -> None:
    supports = SupportsPage(garden)
    was = place_of(garden.project, "support", supports.support_name)
    supports.place.step.bar.value = '2"'
    supports.place.nudge(0, -1)
    now = place_of(garden.project, "support", supports.support_name)
    assert abs(now[1] - was[1] + 2 * INCH) < 0.002, supports.message.value
    beds = BedsPage(garden)
    assert beds.bed_place.widget.layout.display == "none"  # what the paths leave has no place of its own
    x, y = max(garden.garden.beds, key=lambda b: b.depth).at
    garden.edit("draw", lambda p: structure.draw_bed(p, ((x - 1, y - 1), (x + 1, y - 1), (x, y + 1))))
    beds.beds.turn_to("New bed")
    assert beds.bed_place.widget.layout.display == ""
    beds.bed_place.nudge(1, 0)
    assert garden.project.structure.beds[-1].outline[0][0] > x - 1, beds.message.value
    assert supports.failures == [] and beds.failures == []
