"""The journal page: things that happened are written down, the plan follows, and next year's list comes of them."""

import datetime as dt
from io import BytesIO

import attrs
import pytest
from PIL import Image

from gardenkit.notebook.pages.journal import JournalPage
from gardenkit.notebook.pages.journal_parts import ASKED, HERE, today
from gardenkit.notebook.session import Session
from gardenkit.planting.growth import size
from gardenkit.planting.journal import HAPPENED
from gardenkit.project import Project
from gardenkit.project.edits import journal as edits
from gardenkit.project.edits import planting
from gardenkit.project.lived import day_words

YEAR = today().year


@pytest.fixture
def page(few: Session) -> JournalPage:
    few.edit("planted before", lambda p: _planted(p, YEAR - 3))
    return JournalPage(few)


def _planted(project: Project, year: int) -> Project:
    return attrs.evolve(project, planting=attrs.evolve(project.planting, first_year=year))


def write(page: JournalPage, happened: str, number: int | None = None, **typed: str) -> str:
    """Fill the form as a hand would, press the button, and return what the page says."""
    page.writing.happened.bar.value = happened
    page.writing.plant.bar.value = number
    page.writing.date.bar.value = typed.pop("date", f"{YEAR - 1}-06-14")
    for name, text in typed.items():
        getattr(page.writing, name).bar.value = text
    page.writing.write()
    assert not page.failures
    return page.message.value


def numbers(page: JournalPage) -> set[int]:
    return {plant.number for plant in page.project.planting.plants}


def test_every_thing_that_happens_asks_for_what_it_needs(page: JournalPage) -> None:
    assert set(ASKED) == set(HAPPENED)
    page.writing.happened.bar.value = "divided"
    shown = {word for word, box in page.writing.asked.items() if box.layout.display != "none"}
    assert shown == {"plant", "parts"}


def test_what_died_is_listed_to_be_replaced_and_ordered_and_undo_brings_it_back(page: JournalPage) -> None:
    plant = page.project.planting.plants[0]
    assert "written down" in write(page, "died", plant.number, note="a hard <winter>")
    assert plant.number not in numbers(page)
    to_do = [row[:2] for row in page.to_do_rows()]
    assert ("replace", f"1 x {plant.species}") in to_do and ("order", f"1 x {plant.species}") in to_do
    assert "hard &lt;winter&gt;" in page.kept.table.value and "no longer in the plan" in page.kept.table.value
    assert f"To do in {YEAR}" in page.to_do.value
    page.undo()
    assert plant.number in numbers(page) and not page.project.journal.entries


def test_the_dead_plant_is_offered_to_be_replaced_and_leaves_the_list(page: JournalPage) -> None:
    plant = page.project.planting.plants[0]
    write(page, "died", plant.number)
    write(page, "replaced", plant.number, kind="Geum rivale")
    new = page.project.planting.plants[-1]
    assert (new.species, new.at, new.year) == ("Geum rivale", plant.at, 2)
    assert f"by {new.number} Geum rivale" in page.kept.table.value
    assert not any(row[0] == "replace" for row in page.to_do_rows())


def test_a_plant_is_moved_to_where_the_handle_was_dragged(page: JournalPage) -> None:
    plant = page.project.planting.plants[0]
    bed = page.garden.beds[-1]
    page.writing.happened.bar.value = "moved"
    page.writing.plant.bar.value = plant.number
    assert page.spot == plant.at
    page.drop("spot", bed.at)
    write(page, "moved", plant.number)
    there = next(p for p in page.project.planting.plants if p.number == plant.number)
    assert there.at == pytest.approx(bed.at, abs=1e-3)


def test_a_click_chooses_the_plant_or_the_place_beside_all(page: JournalPage) -> None:
    plant = page.project.planting.plants[0]
    page.click(plant.at)
    assert page.writing.number is not None
    page.click((-50.0, -50.0))
    assert page.writing.number is None and page.writing.where.bar.value == HERE


def test_what_came_by_itself_is_watched_and_a_kind_can_flower_without_a_plant(page: JournalPage) -> None:
    bed = page.garden.beds[0].name
    write(page, "came by itself", kind="Geum rivale", where=bed)
    assert page.project.planting.plants[-1].species == "Geum rivale"
    assert ("watch", "1 x Geum rivale") in [row[:2] for row in page.to_do_rows()]
    write(page, "flowered", kind="Salvia nemorosa", until=f"{YEAR - 1}-07-20")
    assert page.project.journal.entries[-1].until == dt.date(YEAR - 1, 7, 20)


def test_a_size_seen_is_offered_as_a_correction_taken_and_taken_back(page: JournalPage) -> None:
    plant = next(p for p in page.project.planting.plants if not p.support)
    ours = size(page.garden.catalogue[plant.species], 2 - plant.year).height
    write(page, "measured", plant.number, height=f"{0.6 * ours:.3f} m")
    assert "60%" in page.corrections.table.value
    assert ("watch", f"1 x {plant.species}") in [row[:2] for row in page.to_do_rows()]
    page.corrections.accept()
    assert "grows 0." in page.message.value and not page.garden.living.proposals
    assert page.project.journal.corrections[0].species == plant.species
    page.corrections.take_back()
    assert not page.project.journal.corrections and not page.failures


def test_a_photo_is_kept_by_the_rules_of_every_picture_and_shown_by_date_and_place(page: JournalPage) -> None:
    held = BytesIO()
    Image.new("RGB", (60, 40), "#557733").save(held, format="PNG")
    page.writing.add_photos([{"name": "June ../bed.png", "content": held.getvalue()}])
    assert page.writing.photo.bar.value == "bed.jpg"
    write(page, "note", where=page.garden.beds[0].name)
    assert page.project.journal.entries[0].photo == "bed.jpg"
    assert f"{YEAR - 1}-06-14, {page.garden.beds[0].name}" in page.kept.gallery.value
    page.writing.add_photos([{"name": "no.png", "content": b"no picture"}])
    assert "no.png is not a picture" in page.message.value
    (page.writing.folder / "bed.jpg").unlink()
    page.refresh()
    assert "bed.jpg is not in" in page.kept.gallery.value


@pytest.mark.parametrize(
    ("happened", "typed", "said"),
    [
        ("died", {}, "no plant is chosen"),
        ("note", {"date": "6/5/2026"}, "2025-06-14"),
        ("note", {"date": "2026-02-30"}, "there is no day"),
        ("note", {"date": "2190-01-01"}, "is yet to come"),
        ("flowered", {"kind": ""}, "type the botanical or common name"),
        ("came by itself", {"kind": "Salvia nemorosa"}, "in which bed or at which place"),
    ],
)
def test_what_cannot_be_read_is_said_in_one_sentence(
    page: JournalPage, happened: str, typed: dict[str, str], said: str
) -> None:
    before = page.project
    assert said in write(page, happened, **typed)
    assert page.project == before


def test_words_of_an_entry_are_changed_and_an_entry_is_taken_out(page: JournalPage) -> None:
    write(page, "note", note="box moth")
    page.kept.which.bar.value = 1
    page.kept.note.bar.value, page.kept.later.bar.value = "box tree moth", "watch"
    page.kept.change()
    assert page.project.journal.entries[0].note == "box tree moth"
    assert page.to_do_rows()[0][0] == "watch" and page.to_do_rows()[0][3] == "box tree moth"
    page.kept.take_out()
    assert page.project.journal.entries == () and not page.failures


def test_a_garden_of_nothing_can_be_written_about(empty: Session) -> None:
    page = JournalPage(empty)
    assert "Nothing is written" in page.summary() and "Nothing is written yet" in page.to_do.value
    write(page, "note", note="the old hedge is out", date=today().isoformat())
    assert "1 entry in the journal" in page.summary() and not page.failures
    assert "no plant is chosen" in write(page, "measured")


def test_plants_that_are_divided_every_few_years_come_onto_the_list(page: JournalPage) -> None:
    kind = page.garden.catalogue["Hemerocallis 'Stella de Oro'"]
    page.edit("a daylily", lambda p: planting.add_to_bed(p, page.garden.beds[0].name, kind))
    plant = page.project.planting.plants[-1]
    every = next(task.every_years for task in kind.care if task.task == "divide")
    page.edit("old", lambda p: _planted(p, YEAR - every))
    page.edit("a note", lambda p: edits.write_down(p, "note", date=dt.date(YEAR - 1, 5, 1)))
    line = next(one for one in page.garden.living.to_do if one.botanical == plant.species)
    assert line.do == "divide" and plant.number in line.numbers and f"every {every} years" in line.why


@pytest.mark.parametrize(("day", "words"), [(0, "early January"), (166, "mid June"), (364, "late December")])
def test_a_computed_day_is_said_no_finer_than_it_is_known(day: float, words: str) -> None:
    assert day_words(day) == words
