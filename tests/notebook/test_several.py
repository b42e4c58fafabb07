"""Several plants chosen by clicks, a box, kind or bed, and changed together as one step of undo."""

import math
from collections import Counter

import pytest
from bokeh.events import SelectionGeometry

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.session import Session
from gardenkit.planting.standing import standing_at
from gardenkit.project.edits import planting as edits
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
    lasso = {"type": "poly", "x": [-99.0, 99.0, 99.0, -99.0], "y": [-99.0, -99.0, 99.0, 99.0]}
    page.plan.figure._trigger_event(SelectionGeometry(page.plan.figure, geometry=lasso, final=True))
    by_lasso = page.several.numbers
    page.several.let_go()
    page.several.take_box((-99.0, -99.0), (99.0, 99.0))
    assert by_lasso == page.several.numbers
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


def test_a_group_is_chosen_by_one_click_dragged_together_and_taken_apart(page: LayeringPage) -> None:
    one, other, third = (p for p in page.project.planting.plants[:3])
    page.several.numbers = frozenset({one.number})
    page.several.group()
    assert "it takes 2" in page.message.value
    page.several.numbers = frozenset({one.number, other.number})
    page.several.group()
    before = page.project
    page.drop(one.number, (one.at[0] + 0.02, one.at[1] - 0.01))
    now = {p.number: p.at for p in page.project.planting.plants}
    assert now[one.number] == pytest.approx((one.at[0] + 0.02, one.at[1] - 0.01), abs=1e-6)
    assert now[other.number] == pytest.approx((other.at[0] + 0.02, other.at[1] - 0.01), abs=1e-6)
    assert now[third.number] == third.at
    page.undo()
    assert page.project == before  # one step
    assert page.several._with_group(page.project.planting.plants[0]) == {one.number, other.number}
    page.several.ungroup()
    assert {p.group for p in page.project.planting.plants} == {""}
    page.several.ungroup()
    assert "none of the plants chosen is in a group" in page.message.value
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


def test_mirrored_plants_stand_as_far_on_the_other_side_of_the_line(page: LayeringPage) -> None:
    one, other = page.project.planting.plants[0].at, page.project.planting.plants[1].at
    axis = ((one[0] + 0.4, one[1] - 1.0), (one[0] + 0.4, one[1] + 1.0))
    made = edits.mirror_plants(page.project, [page.project.planting.plants[0].number], axis=axis)
    (new,) = made.planting.plants[len(page.project.planting.plants) :]
    assert new.at == pytest.approx((one[0] + 0.8, one[1]))
    with pytest.raises(GardenError, match="the same"):
        edits.mirror_plants(page.project, [1], axis=(other, other))


def test_copies_in_another_bed_stand_to_one_another_as_before_and_are_chosen(page: LayeringPage) -> None:
    beds = sorted(page.garden.beds, key=lambda bed: -bed.region.area)
    plants = page.project.planting.plants
    near = min(plants[1:], key=lambda p: math.dist(p.at, plants[0].at))
    page.several.numbers = frozenset({plants[0].number, near.number})
    page.several.copy_to_bed()
    assert "choose the bed" in page.message.value
    page.several.refresh()
    page.several.to_bed.bar.value = beds[0].name
    page.several.copy_to_bed()
    one, two = page.project.planting.plants[len(plants) :]
    assert page.several.numbers == {one.number, two.number}
    assert math.dist(one.at, two.at) == pytest.approx(math.dist(plants[0].at, near.at))
    assert all(beds[0].region.covers(plane.point(p.at)) for p in (one, two))
    assert page.failures == []


def test_a_drift_is_drawn_and_filled_with_the_typed_kind_where_there_is_a_bed(page: LayeringPage) -> None:
    bed = max(page.garden.beds, key=lambda one: one.region.area)
    x, y = bed.at
    corners = [(x - 0.6, y - 0.6), (x + 0.6, y - 0.6), (x + 0.6, y + 0.6), (x - 0.6, y + 0.6)]
    before = len(page.project.planting.plants)
    page.another.kind.bar.value = "Nepeta × faassenii"
    page.another.apart.bar.value = "1'"
    page.draw.begin(page.draw.what.bar.options[1][1])
    for ticked in (page.draw.corners, page.draw.edges, page.draw.square):
        ticked.bar.value = False
    for at in corners:
        page.click(at)
    page.draw.done()
    new = page.project.planting.plants[before:]
    assert len(new) >= 4 and {p.species for p in new} == {"Nepeta × faassenii"}
    assert all(abs(p.at[0] - x) <= 0.6 and abs(p.at[1] - y) <= 0.6 for p in new)
    apart = [math.dist(a.at, b.at) for i, a in enumerate(new) for b in new[:i]]
    assert min(apart) == pytest.approx(FOOT, abs=0.002)
    with pytest.raises(GardenError, match="no bed"):
        edits.fill_drift(page.project, ((-99, -99), (-98, -99), (-98, -98)), page.another.species())
    assert page.failures == []


def test_arrow_keys_move_what_is_chosen_as_one_step_of_undo_and_escape_lets_go(page: LayeringPage) -> None:
    page.nudge(1, 0)
    assert "no plant is chosen" in page.message.value
    first = page.project.planting.plants[0]
    page.one.choose(first.number)
    page.nudge(0, 1)
    page.nudge(0, 1)
    moved = page.project.planting.plants[0].at
    assert math.dist(moved, first.at) == pytest.approx(2 * FOOT / 4, abs=0.002) and moved[1] > first.at[1]
    page.undo()
    assert page.project.planting.plants[0].at == first.at
    page.let_go()
    assert page.one.number is None and page.chosen_spots() == ()
    assert page.failures == []
