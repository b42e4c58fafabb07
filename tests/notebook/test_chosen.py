"""A click on any kind of thing shows its few fields and what is said about it, on whatever step it is clicked."""

import pytest

from gardenkit.notebook.chosen import SHOWN
from gardenkit.notebook.pages.beds import BedsPage
from gardenkit.notebook.pages.ground import GroundPage
from gardenkit.notebook.pages.layering import SEVERAL, LayeringPage
from gardenkit.notebook.pages.structure import StructurePage
from gardenkit.notebook.session import Session
from gardenkit.project.edits import planting, site, structure
from gardenkit.project.pointing import Pointed, pointed_at

PLACES = {  # where each kind is put in the small garden, and clicked
    "note on the plan": (5.0, 5.0),
    "seat": (8.0, 5.0),
    "placed thing": (11.0, 5.0),
    "support": (14.0, 5.0),
    "fence": (17.0, 5.0),
    "tree": (20.0, 5.0),
    "obstacle": (23.0, 5.0),
    "level": (5.0, 12.0),
    "paved or lawn area": (11.0, 12.0),
    "building": (23.0, 25.0),
    "door": (20.0, 25.0),
}


def box(at, half=1.0):
    x, y = at
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


@pytest.fixture
def full(empty: Session) -> Session:
    """A garden with one of every kind."""
    at = PLACES

    def build(p):
        p = site.set_boundary(p, ((0, 0), (30, 0), (30, 30), (0, 30)))
        p = site.put_up(p, "building", name="house", outline=box((23.0, 25.0), 3.0), eaves=2.7)
        p = site.put_up(p, "door", name="back door", at=at["door"], width=0.9, sill=0.0, head=2.0)
        p = site.put_up(p, "fence", name="old fence", line=((17.0, 4.0), (17.0, 6.0)), height=1.5)
        p = site.put_up(p, "tree", name="pear", at=at["tree"], height=5.0, spread=3.0)
        p = site.put_up(p, "obstacle", name="stump", outline=box(at["obstacle"], 0.4), height=0.4)
        p = structure.add_note(p, "note", line=(at["note on the plan"], (5.0, 6.0)), name="sand here", text="sand")
        p = structure.add_seat(p, "bench", at=at["seat"])
        p = structure.add_thing(p, "water butt", at=at["placed thing"], name="heap")
        p = structure.add_support(p, "wires", "trellis", line=((13.0, 5.0), (15.0, 5.0)))
        p = structure.add_level(p, outline=box(at["level"]), height=0.1, name="top")
        p = structure.add_area(p, "patio", outline=box(at["paved or lawn area"]), name="terrace")
        return structure.add_path(p, "walk", start="back door", end="terrace")

    assert empty.edit("all", build)
    return empty


def test_every_kind_that_is_clicked_shows_its_fields_on_another_step(full: Session) -> None:
    page = LayeringPage(full)
    path = full.project.structure.paths[0]
    middle = full.garden.layout.routes[path.name].curve.points
    places = PLACES | {"path": tuple(middle[len(middle) // 2]), "bed": (27.0, 10.0)}
    for word, at in places.items():
        page.click(at)
        chosen = page.draw.chosen
        assert chosen.pointed is not None and chosen.pointed.word == word, (word, chosen.pointed, page.message.value)
        editor = chosen.editors[word]
        assert editor.title in chosen.heading.value and editor.chosen in SHOWN[word].kind.of(full.project)
        assert chosen.widget.layout.display == ""
    assert page.failures == []
    assert set(places) >= set(SHOWN) - {"window", "gate"}


def test_fields_of_another_step_change_the_record_and_an_undone_record_is_let_go(full: Session) -> None:
    page = BedsPage(full)
    page.draw.click(PLACES["fence"])
    editor = page.draw.chosen.editors["fence"]
    editor.form.fill(height="4'")
    editor.change()
    assert full.project.site.fences[0].height == pytest.approx(1.2192)
    full.edit("gone", lambda p: site.remove_thing(p, "old fence"))
    page.draw.chosen.follow()
    assert page.draw.chosen.pointed is None and page.draw.chosen.widget.layout.display == "none"
    page.draw.click(PLACES["seat"])
    assert page.draw.chosen.place.at.bar.value and page.draw.chosen.place.turn.bar.value == "0"
    page.draw.click(PLACES["paved or lawn area"])  # this step's own
    assert page.draw.chosen.pointed is None and page.area_name == "terrace"
    assert page.failures == []


def test_small_things_are_meant_before_the_ground_and_own_kinds_first(full: Session) -> None:
    full.edit("bench", lambda p: structure.add_seat(p, "on it", at=PLACES["paved or lawn area"]))
    found = pointed_at(full.project, PLACES["paved or lawn area"], reach=0.3, own=("paved or lawn area",))
    assert found == Pointed(word="seat", name="on it")
    found = pointed_at(full.project, (11.9, 12.9), reach=0.1, own=("bed",))
    assert found == Pointed(word="paved or lawn area", name="terrace")
    assert pointed_at(full.project, (40.0, 40.0), reach=0.3) is None


def test_a_stone_shows_its_size_place_and_whether_it_is_pinned(garden: Session) -> None:
    page = StructurePage(garden)
    stone = garden.garden.layout.layings[page.path_name].stones[3]
    page.draw.click(stone.at)
    assert (
        page.stone == 3 and "stone 4" in page.of_stone.said.value and page.of_stone.pin.description == "Pin the stone"
    )
    page.of_stone.toggle_pin()
    assert [h.number for h in garden.project.structure.paths[0].held_stones] == [3]
    page.of_stone.place.nudge(1, 0)
    assert garden.project.structure.paths[0].held_stones[0].at[0] == pytest.approx(stone.at[0] + 0.0762, abs=0.002)
    page.of_stone.toggle_pin()
    assert garden.project.structure.paths[0].held_stones == () and page.failures == []


def test_what_is_clicked_on_the_ground_as_found_is_dragged_and_advised_about_first(full: Session) -> None:
    page = GroundPage(full)
    page.plan.draw.click(PLACES["fence"])
    assert page.things.title == "old fence" and page.plan.drag.bar.value == "points of fences"
    assert any(h.id.startswith("fence:0:") for h in page.plan.handles)
    page.plan.draw.click((20.1, 5.0))
    assert page.things.title == "pear" and page.plan.drag.bar.value == "trees" and page.failures == []


def test_a_plant_tells_of_its_drift_and_all_of_it_is_chosen(empty: Session) -> None:
    empty.edit("plot", lambda p: site.set_boundary(p, ((0, 0), (10, 0), (10, 10), (0, 10))))
    empty.edit("bed", lambda p: structure.draw_bed(p, ((1, 1), (9, 1), (9, 9), (1, 9))))
    kind = "Geum rivale"
    spots = [(2.0, 2.0), (2.4, 2.0), (2.8, 2.0), (8.0, 8.0)]
    empty.edit("plants", lambda p: planting.add_plants(p, empty.garden.catalogue[kind], spots))
    page = LayeringPage(empty)
    page.click((2.0, 2.0))
    assert "3 plants" in page.one.facts.value
    page.choose_drift()
    assert len(page.several.numbers) == 3 and page.sections.selected_index == SEVERAL and page.failures == []
