"""Several plants chosen by clicks, a box, kind or bed, and changed together as one step of undo."""

import math
from collections import Counter

import pytest

from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.session import Session
from gardenkit.planting.standing import standing_at
from gardenkit.units import FOOT


@pytest.fixture
def page(few: Session) -> LayeringPage:
    return LayeringPage(few)


def test_a_box_by_two_clicks_beside_plants_chooses_what_a_ruler_says_is_in_it(page: LayeringPage) -> None:
    plants = page.project.planting.plants
    xs, ys = [p.at[0] for p in plants], [p.at[1] for p in plants]
    low, high = (min(xs) - 30.0, min(ys) - 30.0), (sorted(xs)[len(xs) // 2], max(ys) + 30.0)
    page.several.on.bar.value = True
    page.click(low)
    assert page.several.numbers == frozenset()
    page.click(high)
    assert page.several.numbers == {p.number for p in plants if p.at[0] <= high[0]}
    assert f"{len(page.several.numbers)} plants chosen" in page.several.said.value
    assert page.failures == []


def test_a_click_takes_a_plant_in_and_out_and_the_tool_over_the_plan_takes_a_box(page: LayeringPage) -> None:
    page.several.on.bar.value = True
    at = page.project.planting.plants[0].at
    number = standing_at(page.garden.standing(year=page.year, month=page.month), at).plant.number
    page.click(at)
    assert page.several.numbers == {number}
    page.click(at)
    assert page.several.numbers == frozenset()
    page.several.take_box((-99.0, -99.0), (99.0, 99.0))
    assert page.several.numbers == {p.number for p in page.project.planting.plants if p.year <= page.year}
    assert page.failures == []


def test_all_of_a_kind_and_all_in_a_bed(page: LayeringPage) -> None:
    kind, count = Counter(p.species for p in page.project.planting.plants).most_common(1)[0]
    page.several.add_kind(kind)
    assert len(page.several.numbers) == count
    page.several.let_go()
    for bed in page.garden.beds:
        page.several.add_bed(bed.name)
    assert 0 < len(page.several.numbers) <= len(page.project.planting.plants)
    assert page.failures == []


def test_what_is_chosen_is_removed_in_one_step_and_comes_back(page: LayeringPage) -> None:
    before, steps = page.project, len(page.session.steps())
    kind = before.planting.plants[0].species
    page.several.add_kind(kind)
    page.several.remove()
    assert kind not in {p.species for p in page.project.planting.plants}, page.message.value
    assert len(page.session.steps()) == steps + 1 and page.several.numbers == frozenset()
    page.undo()
    assert page.project.planting.plants == before.planting.plants
    assert page.failures == []


def test_copies_are_chosen_and_stand_a_foot_off(page: LayeringPage) -> None:
    plant = page.project.planting.plants[0]
    page.several.numbers = frozenset({plant.number})
    for by in ("0, 1'", "1', 0", "-1', 0", "0, -1'"):
        page.several.by.bar.value = by
        page.several.duplicate()
        if plant.number not in page.several.numbers:
            break
    (copy,) = [p for p in page.project.planting.plants if p.number in page.several.numbers]
    assert copy.number > plant.number and math.dist(copy.at, plant.at) == pytest.approx(FOOT, abs=0.002)
    assert page.failures == []


def test_a_kind_is_swapped_for_all_that_are_chosen(page: LayeringPage) -> None:
    numbers = [p.number for p in page.project.planting.plants[:4]]
    page.several.numbers = frozenset(numbers)
    page.another.kind.bar.value = "Salvia nemorosa"
    page.several.swap()
    assert {p.species for p in page.project.planting.plants if p.number in numbers} == {"Salvia nemorosa"}
    assert page.failures == []


def test_with_nothing_chosen_it_is_said_what_to_do(page: LayeringPage) -> None:
    before = page.project
    page.several.align()
    assert "no plants are chosen" in page.message.value and page.project is before
    page.several.numbers = frozenset({page.project.planting.plants[0].number})
    page.several.by.bar.value = "900', 0"
    page.several.move()
    assert "outside the boundary" in page.message.value and page.project is before
    assert page.failures == []
