"""Under the plan: what is looked at fills the frame, what is left out is not drawn, the key names what is drawn."""

import html
import re
from collections import Counter

import pytest

from gardenkit.geometry import plane
from gardenkit.notebook import workbook
from gardenkit.notebook.desk import Desk
from gardenkit.notebook.plan_bar import CHOSEN, PLOT
from gardenkit.notebook.session import Session
from gardenkit.project.edits import site


@pytest.fixture
def desk(few: Session) -> Desk:
    return workbook.desk(few, "layering", "beds")


def drawn(desk: Desk, kind: str) -> int:
    """Return how many rows of a kind the browser is told to draw."""
    return sum(len(next(iter(s.data.values()))) for name, s in desk.one.live.sources.items() if name.startswith(kind))


def test_a_bed_looked_at_fills_the_frame_with_a_little_round_it_and_the_plot_comes_back(desk: Desk) -> None:
    bed = desk.session.garden.layout.beds[0]
    whole = desk.one.live.bounds
    desk.bar.look.bar.value = f"bed: {bed.name}"
    low_x, low_y, high_x, high_y, _ = desk.one.live.figure.tags
    box = plane.bounds(bed.region)
    assert low_x < box[0] < box[2] < high_x and low_y < box[1] < box[3] < high_y
    assert high_x - low_x < (box[2] - box[0]) + 2.0
    desk.bar.look.bar.value = PLOT
    assert tuple(desk.one.live.figure.tags[:4]) == whole
    assert desk.failures == []


def test_what_is_chosen_is_looked_at_and_nothing_chosen_is_said(desk: Desk) -> None:
    desk.bar.look_at(CHOSEN)
    assert "nothing is chosen" in desk.page.message.value
    plant = desk.session.project.planting.plants[0]
    desk.page.one.choose(plant.number)
    assert desk.bar.look_at(CHOSEN)
    low_x, low_y, high_x, high_y, _ = desk.one.live.figure.tags
    assert ((low_x + high_x) / 2, (low_y + high_y) / 2) == pytest.approx(plant.at)
    assert desk.failures == []


def test_what_is_left_out_is_not_drawn_until_it_is_ticked_off_again(desk: Desk) -> None:
    before = {kind: drawn(desk, kind) for kind in ("planting", "texts", "structure")}
    assert before["planting"]
    desk.bar.groups["plants and trees"].bar.value = True
    assert drawn(desk, "planting") == 0
    assert drawn(desk, "texts") < before["texts"]  # their keys are gone with them
    assert drawn(desk, "structure") == before["structure"]
    desk.open("beds")
    desk.open("layering")
    assert drawn(desk, "planting") == 0
    desk.bar.groups["plants and trees"].bar.value = False
    assert {kind: drawn(desk, kind) for kind in before} == before
    assert desk.failures == []


def test_all_but_one_bed_fades_and_a_plot_cannot(desk: Desk) -> None:
    before = drawn(desk, "above_areas")
    desk.bar.alone.bar.value = True
    assert "choose a bed or an area" in desk.page.message.value
    desk.bar.look.bar.value = f"bed: {desk.session.garden.layout.beds[0].name}"
    assert drawn(desk, "above_areas") > before
    desk.bar.alone.bar.value = False
    assert drawn(desk, "above_areas") == before
    assert desk.failures == []


def test_the_key_names_every_kind_that_stands_with_how_many_and_what_is_built(desk: Desk) -> None:
    assert desk.bar.meaning.value == ""
    desk.bar.key.bar.value = True
    told = html.unescape(re.sub(r"<[^>]+>", " ", desk.bar.meaning.value))
    page = desk.page
    for kind, count in Counter(
        s.species.botanical for s in page.garden.standing(year=page.year, month=page.month)
    ).items():
        assert re.search(rf"{re.escape(kind)}, .*?, {count}\b", told), kind
    for word in ("boundary", "building", "bed", "stepping stone", "lawn"):
        assert word in told
    assert desk.failures == []


def test_over_the_plan_stands_that_no_ground_is_drawn_until_it_is(empty: Session) -> None:
    desk = workbook.desk(empty, "structure", "beds")
    over = desk.plan.children[0]
    assert over.layout.display == "" and "03_site_measurement" in over.value
    empty.edit("ground", lambda p: site.set_boundary(p, ((0, 0), (9, 0), (9, 9), (0, 9))))
    assert over.layout.display == "none"
    assert desk.failures == []
