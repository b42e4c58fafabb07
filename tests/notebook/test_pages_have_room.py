"""What a narrow page does with what is wide: tables by the row, an empty plan small, no hole for a bar that is idle."""

import re

from gardenkit.notebook import controls
from gardenkit.notebook.desk import Desk
from gardenkit.notebook.jobs import Job
from gardenkit.notebook.pages.climbs import ClimbsPage
from gardenkit.notebook.pages.planting import Html, rich_table
from gardenkit.notebook.pages.start import StartPage
from gardenkit.notebook.pages.survey import SurveyPage
from gardenkit.notebook.pages.traverse import TraversePage
from gardenkit.notebook.plan_bar import NOTHING
from gardenkit.notebook.session import Session


def test_a_wide_table_names_each_value_beside_it() -> None:
    heads = ("bed", "area", "edging", "soil", "sun", "slope", "room for")
    made = controls.table_html(heads, [("rose bed", "12 m2", "5 m", "loam", "6 h", "2 %", "shrubs")])
    assert 'class="gk-table gk-cards"' in made and re.findall('data-of="([^"]+)"', made) == list(heads[1:])
    assert "data-of" not in controls.table_html(heads[:6], [("rose bed", "12 m2", "5 m", "loam", "6 h", "2 %")])


def test_no_boundary_is_drawn_where_none_is_measured(empty: Session) -> None:
    for page, words in (
        (SurveyPage(empty), "the survey is drawn here"),
        (TraversePage(empty), "the traverse is drawn"),
    ):
        texts = [mark.text for mark in page.scene().marks if hasattr(mark, "text")]
        assert any(words in text for text in texts)
        assert not any("boundary" in getattr(mark, "tip", "") for mark in page.scene().marks)


def test_an_empty_garden_is_told_what_to_do_next_and_nothing_is_called_a_fault(empty: Session) -> None:
    climbs = ClimbsPage(empty)
    assert "type the rise, or take heights in 03_site_measurement" in climbs.message.value
    assert "gk-problem" not in climbs.message.value and climbs.compared.table.value == ""
    climbs.lie.rise.bar.value = "3 ft"
    assert "risers" in climbs.compared.table.value and climbs.message.value == ""


def test_the_plan_is_small_only_while_nothing_can_stand_on_it(empty: Session, few: Session) -> None:
    for session, bare in ((empty, True), (few, False)):
        desk = Desk(session, {"climbs": lambda held, one: ClimbsPage(held, on=one)})
        assert ("gk-desk-bare" in desk.row._dom_classes) is bare
        assert NOTHING in desk.bar.nothing.value


def test_a_bar_takes_room_only_while_work_is_under_way(empty: Session) -> None:
    job, shown = Job(StartPage(empty)), []
    assert job.widget.layout.display == "none"
    job.start("working ...", lambda tell, stopped: shown.append(job.widget.layout.display), lambda _: None)
    assert shown == [""] and job.widget.layout.display == "none"


def test_a_list_of_plants_with_many_reasons_is_told_plant_by_plant() -> None:
    heads = ("", "plant", "suits", "apart", "size", "for", "against", "unknown")
    made = rich_table(heads, [(Html("<svg></svg>"), "sage", "yes", "scent", "1 m", "sun", "wet", "lime")], scroll=True)
    assert "gk-cards" in made and 'data-of="against">wet<' in made and "<td>sage</td>" in made
