"""The list of advice on a page: everything is there, one lights up on the plan, a remedy is one press and one undo."""

import asyncio
from collections.abc import Sequence

import ipywidgets as w
import pytest

from gardenkit.drawing.previewed import preview_marks
from gardenkit.drawing.scene import Area, Stroke
from gardenkit.findings import Finding
from gardenkit.garden import Garden, register
from gardenkit.geometry import plane
from gardenkit.notebook import advice_list, later
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages.paths_shown import is_about
from gardenkit.notebook.session import Session
from gardenkit.project.edits import planting, structure
from gardenkit.project.layout import layout


class _Listing(Page):
    def build(self) -> None:
        self.advice = AdviceList(self)
        self.widget = w.VBox([self.advice.widget])

    def refresh(self) -> None:
        self.advice.show()


def test_none_is_hidden_and_the_rest_opens(garden: Session):
    listed = _Listing(garden).advice
    every = len(garden.garden.advice)
    assert len(listed.list.children) == listed.shown < every
    assert listed.opener.description == f"and {every - listed.shown} more"
    assert listed.open_all()
    assert len(listed.list.children) == every


def test_a_page_lists_its_share(garden: Session):
    page = _Listing(garden)
    listed = AdviceList(page, topics=("setback", "crowding"))
    listed.show()
    assert listed.lines == register.share(garden.garden.advice, ("setback", "crowding"))
    assert {line.topic for line in listed.lines} == {"setback", "crowding"}


def test_choosing_a_line_rings_every_place_on_the_plan_and_choosing_again_lets_go(garden: Session):
    listed = _Listing(garden).advice
    number = next(n for n, line in enumerate(listed.lines) if len(line.spots) > 1 and line.remedy is None)
    assert listed.choose(number)
    assert [mark.at for mark in listed.marks(96.0)] == list(listed.lines[number].spots)
    assert listed.choose(number)
    assert listed.marks(96.0) == ()


def test_what_a_remedy_would_change_is_drawn_before_it_is_taken(garden: Session):
    herb = next(p.number for p, kind in garden.garden.planted if kind.layer == "perennial")
    garden.edit("crowd", lambda p: planting.multiply_plant(p, herb, 3, spacing=0.1))
    page = _Listing(garden)
    before, line = garden.project, next(line for line in page.advice.lines if line.rule == "setback neighbours")
    assert page.advice.choose(page.advice.lines.index(line))
    assert line.remedy is not None
    going = {step.arguments[0][1] for step in line.remedy.steps}
    at = {plant.number: plant.at for plant in before.planting.plants}
    crosses = [mark for mark in page.advice.marks(96.0) if isinstance(mark, Stroke)]
    middles = {tuple(round(sum(ends) / 2, 3) for ends in zip(*mark.points, strict=True)) for mark in crosses}
    assert middles == {tuple(round(v, 3) for v in at[n]) for n in going}
    assert garden.project == before


def test_a_path_that_would_be_wider_shows_its_new_edge(garden: Session):
    name = garden.project.structure.paths[0].name
    wider = structure.change_path(garden.project, name, width=1.4)
    edges = {m.tip: m for m in preview_marks(garden.project, wider, scale=96.0) if isinstance(m, Area)}
    edge = edges[f'path "{name}"']
    assert plane.area(plane.region(edge.rings[0])) == pytest.approx(plane.area(layout(wider).routes[name].region))


def test_a_line_about_one_thing_lights_up_that_thing(garden: Session):
    listed = _Listing(garden).advice
    structure = garden.project.structure
    things = {item.name for group in (structure.paths, structure.ground_areas, structure.supports) for item in group}
    named = [n for n, line in enumerate(listed.lines) if not line.spots and line.where in things]
    assert named
    for number in named:
        listed.choose(number)
        assert len(listed.marks(96.0)) >= 1, listed.lines[number]
        assert listed.choose(number)


def test_a_remedy_is_one_press_and_one_undo(garden: Session):
    name = garden.project.structure.paths[0].name
    garden.edit("narrow", lambda p: structure.change_path(p, name, use="two abreast", width=0.9, surface="gravel"))
    page = _Listing(garden)
    before, number = garden.project, next(n for n, f in enumerate(page.advice.lines) if f.rule == "path width")
    assert page.advice.choose(number)
    assert page.advice.taker.layout.display != "none"
    assert page.advice.taker.description.startswith(f'Do this: widen path "{name}"')
    assert page.advice.take()
    assert all(line.rule != "path width" for line in page.advice.lines)
    assert page.failures == []
    page.undo()
    assert garden.project == before


def test_an_empty_garden_says_what_is_missing(empty: Session):
    page = _Listing(empty)
    assert page.advice.open_all()
    assert page.failures == []
    assert len(page.advice.list.children) == len(empty.garden.advice)
    assert "the boundary is not given" in page.advice.text()


def test_the_worst_stands_first_and_its_words_are_words_never_markup(garden: Session):
    evil = '<img src=x onerror="alert(1)">'
    found = (
        Finding(where="bed", what="note"),
        Finding(where=evil, what=evil, why=evil, source=evil, seriousness="stop"),
    )
    listed = AdviceList(_Listing(garden), of_garden=False, more=lambda: found)
    listed.show()
    assert [line.where for line in listed.lines] == [evil, "bed"]
    assert listed.choose(0)
    assert "<img" not in listed.detail.value
    assert "&lt;img" in listed.detail.value


def test_a_list_shows_only_the_lines_it_is_asked_about(garden: Session):
    name = garden.project.structure.paths[0].name
    listed = AdviceList(_Listing(garden), about=lambda line: is_about(line, name))
    listed.show()
    assert 0 < len(listed.lines) < len(garden.garden.advice)
    assert all(is_about(line, name) for line in listed.lines)


def test_a_change_does_not_wait_for_the_advice(garden: Session, monkeypatch: pytest.MonkeyPatch):
    """In a notebook it is looked for beside the page, once the hand is still; what a change overtook is not shown."""
    monkeypatch.setattr(later, "WAIT", 0.01)
    page, asked = _Listing(garden), []
    found = Garden.advice_about

    def advice_about(self: Garden, topics: Sequence[str]) -> tuple[Finding, ...]:
        if not topics:  # the page's own list; wants ask for a share of it
            asked.append(self)
        return found(self, topics)

    monkeypatch.setattr(Garden, "advice_about", advice_about)
    name = garden.project.structure.paths[0].name
    before = page.advice.lines

    async def work() -> None:
        for width in (1.0, 0.9):
            assert page.edit("p", lambda p, w=width: structure.change_path(p, name, use="two abreast", width=w))
        assert page.advice.lines == before
        assert asked == []
        assert "path width" in {line.rule for line in garden.garden.advice}
        while page.advice.lines == before:
            await asyncio.sleep(0.01)

    asyncio.run(asyncio.wait_for(work(), 60))
    assert asked == [garden.garden]
    assert page.advice.lines == register.worst(garden.garden.advice)
    assert page.failures == []


def test_a_page_of_a_large_garden_opens_before_its_advice_is_known(
    garden: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(advice_list, "MANY", 0)

    async def open_it() -> Page:
        page = _Listing(garden)
        assert page.advice.lines == ()
        assert page.advice.wait.children == (page.advice.job.widget,)
        page.refresh()  # something else moved meanwhile: it is not asked for twice
        assert page.edit("p", lambda p: structure.change_path(p, p.structure.paths[0].name, width=0.9))
        while page.advice.job.is_running or not page.advice.lines:
            await asyncio.sleep(0.01)
        return page

    page = asyncio.run(asyncio.wait_for(open_it(), 60))
    assert page.advice.lines == register.worst(garden.garden.advice)
    assert page.advice.wait.children == ()
    assert page.failures == []
