"""The desk: one live plan, several steps; what a click, a drag and a line of drawing means is the open step's."""

from collections import Counter
from typing import Any

import attrs
import comm
import pytest

from gardenkit.findings import GardenError
from gardenkit.notebook import desk as desks
from gardenkit.notebook import workbook
from gardenkit.notebook.desk import Desk
from gardenkit.notebook.session import Session
from gardenkit.notebook.steps import STEPS
from gardenkit.project.edits import planting
from gardenkit.project.edits import structure as edits

STRUCTURE = ("structure", "paths", "beds", "supports", "levels", "notes", "climbs", "seen", "alternatives")
MOST_MESSAGES = (
    4000  # at once: of about 4,700, some were lost to a reader that had other work, its last word among them
)


def figures(desk: Desk) -> int:
    """Return how many live plans a desk holds, its own and those of its pages."""
    return len({id(board) for page in desk.pages.values() for board in page.boards()} | {id(desk.one.board)})


def test_steps_are_built_when_they_are_opened_and_share_one_plan(few: Session) -> None:
    desk = workbook.desk(few, "structure", "beds", "alternatives")
    assert list(desk.pages) == ["structure"]
    plan = desk.one.live.figure
    beds = desk.open("beds")
    assert beds.plan.figure is plan and figures(desk) == 1
    assert desk.stack.selected_index == 1 and "gk-desk-alone" not in desk.row._dom_classes
    desk.choice.value = "alternatives"  # it shows two plans of its own, and has the whole width
    assert desk.name == "alternatives" and "gk-desk-alone" in desk.row._dom_classes
    assert desk.open("beds") is beds and desk.failures == []


def test_a_step_is_turned_to_and_says_that_it_opens_before_it_is_built(
    few: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk, seen = workbook.desk(few, "structure", "beds"), []
    build = desk._build

    def watched(name: str) -> None:
        seen.append((name, desk.stack.selected_index, desk.holders[name].children[1].value))
        build(name)

    monkeypatch.setattr(desk, "_build", watched)
    desk.choice.value = "beds"
    desk.open("beds")
    assert seen == [("beds", 1, desks.OPENING)]
    assert desk.holders["beds"].children[1] is desk.pages["beds"].widget


def test_a_plan_that_a_later_step_brings_is_whole_when_it_comes(few: Session) -> None:
    desk = workbook.desk(few, "care", "journal")
    desk._repr_mimebundle_()
    assert not desk.plan.children and "gk-desk-alone" in desk.row._dom_classes
    desk.open("journal")
    assert '"handles"' in desk.one.board.whole() and desk.failures == []


def test_plans_of_its_own_that_a_later_step_brings_are_whole_when_they_come(few: Session) -> None:
    desk = workbook.desk(few, "survey", "traverse", "wall_photo", "own_photo")
    desk._repr_mimebundle_()
    own = [board for name in desk.names[1:] for board in desk.open(name).boards()]
    assert len(own) >= 4 and all('"ColumnDataSource"' in board.whole() for board in own) and desk.failures == []


def test_the_plan_draws_what_the_open_step_draws(few: Session) -> None:
    desk = workbook.desk(few, "structure", "beds")
    shown = {name: dict(desk.one.live.sources["ground_areas"].data) for name in ("structure",)}
    grips = list(desk.one.live.handles.data["id"])
    desk.open("beds")
    desk.open("structure")
    assert dict(desk.one.live.sources["ground_areas"].data) == shown["structure"]
    assert list(desk.one.live.handles.data["id"]) == grips


def test_a_step_rests_while_another_is_open_and_catches_up(few: Session) -> None:
    desk = workbook.desk(few, "structure", "beds")
    structure: Any = desk.page
    asked: list[str] = []
    structure.refresh = lambda: asked.append("refreshed")
    desk.open("beds")
    few.edit("bend", lambda p: edits.change_path(p, structure.path_name, curvature=0.9))
    few.edit("bend", lambda p: edits.change_path(p, structure.path_name, curvature=0.8))
    assert asked == []
    desk.open("structure")
    assert asked == ["refreshed"]
    desk.open("beds")
    desk.open("structure")  # nothing has changed meanwhile
    assert asked == ["refreshed"]


def test_a_drag_and_a_click_go_to_the_open_step(few: Session) -> None:
    desk = workbook.desk(few, "layering", "suits")
    layering: Any = desk.page
    plant = few.project.planting.plants[0]
    desk.one.turn.hear("clicked", plant.at)  # type: ignore[union-attr]
    assert layering.one.number is not None
    layering.one.choose(plant.number)
    before = few.project
    suits: Any = desk.open("suits")
    desk.one.turn.hear("clicked", (0.0, 0.0))  # type: ignore[union-attr]
    assert layering.one.number == plant.number  # the planting plan did not hear of it
    data = {name: list(column) for name, column in desk.one.live.handles.data.items()}
    data["x"][0] += 0.5
    desk.one._edited("handles", data)
    assert few.project is before and suits.failures == []  # the spot moved, no plant did


def test_what_was_being_drawn_is_let_go_when_another_step_is_opened(few: Session) -> None:
    desk = workbook.desk(few, "structure", "beds")
    structure: Any = desk.page
    structure.draw.begin("path")
    structure.draw.click((2.0, 2.0))
    assert list(desk.one.sketch().clicked.data["x"]) == [2.0]
    desk.open("beds")
    assert structure.draw.drawing == "" and list(desk.one.sketch().clicked.data["x"]) == []
    assert desk.failures == []


def test_a_step_that_is_not_there_is_named(few: Session) -> None:
    with pytest.raises(GardenError, match=r'no page "bed".*beds'):
        workbook.desk(few, "structure", "bed")


def test_where_no_lab_runs_every_step_is_told_one_below_the_other(
    few: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody can open them there: nbconvert, a code-hosting site, ``gardenkit render``."""
    shown: list[Any] = []
    monkeypatch.delenv("JPY_SESSION_NAME", raising=False)
    monkeypatch.setattr(desks, "get_ipython", lambda: True)
    monkeypatch.setattr(desks, "display", lambda one, **_: shown.append(one))
    desk = workbook.desk(few, "structure", "beds", "seen")
    bundle = desk._repr_mimebundle_()
    (kept,) = shown
    at = [kept.data.index(f">{STEPS[name].title}<") for name in desk.names]
    assert at == sorted(at) and kept.data.count("<svg") >= 3
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert desk.name == "structure"


def test_in_a_lab_what_is_kept_grows_with_the_steps_that_are_opened(
    few: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Kept:
        texts: list[str] = []  # noqa: RUF012

        def update(self, shown: Any) -> None:
            self.texts.append(shown.data)

    monkeypatch.setenv("JPY_SESSION_NAME", "somewhere/04_structure.ipynb")
    monkeypatch.setattr(desks, "get_ipython", lambda: True)
    monkeypatch.setattr(desks, "display", lambda one, **_: Kept())
    desk = workbook.desk(few, "structure", "beds")
    desk._repr_mimebundle_()
    assert list(desk.pages) == ["structure"] and Kept.texts == []
    desk.open("beds")
    assert STEPS["beds"].title in Kept.texts[0]


def test_project_text_cannot_run_in_what_a_desk_keeps(few: Session) -> None:
    evil = "<img src=x onerror=alert(1)>"
    few.edit("name", lambda p: attrs.evolve(p, name=evil))
    few.edit("fewer", lambda p: planting.remove_plants(p, [q.number for q in p.planting.plants[3:]]))
    assert "<img src=x" not in workbook.desk(few, "beds", "layering").still()


def test_measures_on_the_plan_follow_the_units_of_the_garden(few: Session) -> None:
    page = workbook.desk(few, "structure").open("structure")
    measures = page.plan.one._measures
    assert measures is not None and measures.about.tags == ["imperial"]
    few.edit("units", lambda p: attrs.evolve(p, units="metric"))
    page.draw.begin("path")
    assert measures.about.tags == ["metric"] and page.plan.sketch().rubber.tags == ["line", "metric"]
    assert page.failures == []


def test_the_largest_desk_tells_the_page_of_no_control_in_two_messages(
    empty: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []

    def publish(_: object, kind: str, data: dict[str, Any] | None = None, *__: object, **___: object) -> None:
        named = kind == "comm_msg" and list((data or {}).get("state", {})) == ["_dom_classes"]
        told.append("a name alone" if named else kind)

    monkeypatch.setattr(comm.DummyComm, "publish_msg", publish)
    desk = workbook.desk(empty, *STRUCTURE)
    for name in STRUCTURE[1:]:
        desk.open(name)
    said = Counter(told)
    assert said["comm_open"] > 1000 and desk.failures == []
    assert said["a name alone"] < 0.1 * said["comm_open"]  # a fifth, when controls were named after they were told
    assert sum(said.values()) < MOST_MESSAGES
