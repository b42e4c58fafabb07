"""Drawing with a real mouse in JupyterLab: a boundary, a house and a door in an empty garden, Esc, a double click."""

import json
from pathlib import Path

import pytest
from by_mouse import begin, click, into_view
from waiting import wait_until

from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.storage import create

pytestmark = pytest.mark.browser


def saved(garden: Path) -> dict:
    return json.loads((garden / "garden.json").read_text(encoding="utf-8"))["site"]


def test_a_plot_a_house_and_a_fence_are_drawn_with_the_mouse(open_notebook, lab) -> None:
    for old in lab.garden.glob("history*"):
        old.unlink()
    (lab.garden / "garden.json").unlink()
    create(lab.garden, Project(name="drawn"))
    notebook = open_notebook("03_site_measurement")
    notebook.run_all()
    notebook.page.wait_for_selector(".gk-choice-draw select")
    notebook.page.locator(".gk-choice-draw select").first.scroll_into_view_if_needed()
    begin(notebook, "boundary", "a rectangle: two opposite corners")
    click(notebook, 5, 5)
    notebook.page.mouse.move(*into_view(notebook, 20, 20))
    notebook.page.wait_for_timeout(200)
    assert notebook.column("said", "text")[0].startswith("49'")  # 15 m is 49' 3", said while the pointer moves
    click(notebook, 25, 35)
    notebook.page.wait_for_function("document.body.innerText.includes('the plot holds')")
    assert plane.area(plane.region(saved(lab.garden)["boundary"])) == pytest.approx(600, rel=0.02)  # 20 x 30 m
    begin(notebook, "house", "by its corners")
    click(notebook, 8, 8)
    notebook.page.keyboard.press("Escape")
    wait_until(lambda: notebook.column("clicked", "x") == [])
    assert saved(lab.garden)["buildings"] == []
    begin(notebook, "fence")
    click(notebook, 10, 30)
    click(notebook, 20, 30, double=True)
    notebook.page.wait_for_function("document.body.innerText.includes('drawn: fence')")
    (fence,) = saved(lab.garden)["fences"]
    assert len(fence["line"]) == 2 and abs(fence["line"][1][0] - fence["line"][0][0]) == pytest.approx(10, abs=0.1)
    assert notebook.errors == []


def first_seat(lab) -> dict:
    return json.loads((lab.garden / "garden.json").read_text(encoding="utf-8"))["structure"]["seats"][0]


def other_seat(lab, before: dict) -> dict:
    """Wait until the first seat is saved other than it was."""
    return wait_until(lambda: seat if (seat := first_seat(lab)) != before else None)


def test_what_is_chosen_is_moved_by_arrow_keys_and_turned_and_sized_by_its_handles(open_notebook, lab) -> None:
    notebook = open_notebook("04_structure")
    notebook.run_all()
    notebook.page.wait_for_selector(".gk-field-place input:visible")
    seat = first_seat(lab)
    at = seat["at"]
    notebook.page.mouse.move(*into_view(notebook, *at))
    notebook.page.wait_for_timeout(300)  # keys go to the plan that the pointer rests on
    notebook.page.keyboard.press("ArrowLeft")
    seat = other_seat(lab, seat)
    now = seat["at"]
    assert now == pytest.approx([at[0] - 3 * 0.0254, at[1]], abs=0.001)  # the step is 3 in
    click(notebook, *now)  # chosen on the plan, it can be turned and sized there
    grip = next(str(one) for one in notebook.column("handles", "id") if str(one).startswith("turn:seat:"))
    said = notebook.drag_handle(grip, (40, 25))
    turned = next(one for one in said if str(one).startswith("turned to "))
    seat = other_seat(lab, seat)
    assert turned == f"turned to {seat['facing']:.0f}°" and notebook.column("refused", "x") == []
    said = notebook.drag_handle(f"size:2:seat:{seat['name']}", (30, -20))
    sized = other_seat(lab, seat)
    assert any(" x " in str(one) and str(one).endswith("sq ft") for one in said)
    assert sized["facing"] == seat["facing"] and (sized["width"], sized["depth"]) != (seat["width"], seat["depth"])
    notebook.step("Written on the plan")
    before = saved(lab.garden)["notes"]
    for supply, aside in (("tap", 1.5), ("transformer", 3.0)):  # where pipes and cable begin, by one click each
        begin(notebook, supply)
        click(notebook, now[0] + aside, now[1])
        (note,) = wait_until(lambda: [one for one in saved(lab.garden)["notes"] if one not in before])
        before.append(note)
        assert note["line"] == [pytest.approx([now[0] + aside, now[1]], abs=0.35)]  # put onto an edge nearby
    assert notebook.errors == []
