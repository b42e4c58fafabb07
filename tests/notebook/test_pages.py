"""The pages' handlers, called as plain methods: what a designer does, and what happens when it cannot be done."""

import html
import io
import json
from pathlib import Path

import attrs
import ipywidgets as w
import pytest
from PIL import Image

from gardenkit import storage
from gardenkit.brief.style import LEANINGS
from gardenkit.findings import GardenError
from gardenkit.handover import bundle
from gardenkit.notebook import gardens
from gardenkit.notebook.pages import client
from gardenkit.notebook.pages.care import CarePage
from gardenkit.notebook.pages.client import ClientPage
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.pages.start import StartPage
from gardenkit.notebook.pages.style import StylePage
from gardenkit.notebook.pages.wants import WantsPage
from gardenkit.notebook.session import Session
from gardenkit.notebook.workbook import PAGES
from gardenkit.notebook.workbook import page as page_named
from gardenkit.project.edits import brief as brief_edits

EVERY = (StartPage, StylePage, WantsPage, LayeringPage, CarePage, ClientPage)


def picture(colour: str) -> bytes:
    buffer = io.BytesIO()
    Image.new("RGB", (60, 40), colour).save(buffer, "PNG")
    return buffer.getvalue()


@pytest.mark.parametrize("kind", EVERY)
def test_every_page_opens_on_an_empty_garden(empty: Session, kind: type) -> None:
    page = kind(empty)
    assert page.failures == []
    assert page.summary()


@pytest.mark.parametrize("kind", EVERY)
def test_every_page_has_words_for_places_without_widgets(garden: Session, kind: type) -> None:
    bundle = kind(garden)._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert len(bundle["text/plain"]) > 20


def test_project_text_cannot_run_on_a_page(garden: Session) -> None:
    evil = "<img src=x onerror=alert(1)>"
    garden.edit("name", lambda p: attrs.evolve(p, name=evil, client=evil, designer=evil))
    style = StylePage(garden)
    garden.edit(
        "caption",
        lambda p: attrs.evolve(
            p, brief=attrs.evolve(p.brief, pictures=tuple(attrs.evolve(x, caption=evil) for x in p.brief.pictures))
        ),
    )
    wants = WantsPage(garden)
    wants.list.form.fill(text=evil)
    wants.list.add()
    for text in (style.pinned.wall.value, wants.table.value, wants.message.value, StartPage(garden).picture.value):
        assert "<img src=x" not in text
    assert "onerror" in wants.table.value  # it is there, as words


def test_a_picture_is_added_and_its_colour_found(empty: Session) -> None:
    page = StylePage(empty)
    page.pinned.add([{"name": "My Wall!.PNG", "content": picture("#8060a0")}])
    assert [p.file for p in empty.project.brief.pictures] == ["my_wall.jpg"]
    page.palette.take_colours()
    (colour,) = empty.project.brief.style.colours
    assert all(abs(int(colour[i : i + 2], 16) - want) <= 6 for i, want in ((1, 0x80), (3, 0x60), (5, 0xA0)))
    assert page.failures == []


def test_a_file_that_is_no_picture_is_named_and_the_garden_stays(empty: Session) -> None:
    page = StylePage(empty)
    page.pinned.add(
        [{"name": "notes.jpg", "content": b"not a picture"}, {"name": "good.png", "content": picture("#ffffff")}]
    )
    assert "notes.jpg is not a picture" in page.message.value
    assert [p.file for p in empty.project.brief.pictures] == ["good.jpg"]
    assert page.failures == []


def test_a_picture_gone_from_the_folder_is_named_on_the_wall(garden: Session) -> None:
    (garden.folder / "pictures" / "autumn_edge.jpg").unlink()
    page = StylePage(garden)
    assert "autumn_edge.jpg is not in" in page.pinned.wall.value
    assert page.failures == []


def test_leanings_are_saved_and_one_slide_is_one_step_of_undo(garden: Session) -> None:
    page = StylePage(garden)
    before = garden.project.brief.style.curving
    for value in (0.5, 0.6, 0.7):
        page.settings.lean("curving", value)
    assert garden.project.brief.style.curving == 0.7
    page.undo()
    assert garden.project.brief.style.curving == before
    assert page.settings.leanings["curving"].bar.value == pytest.approx(before, abs=0.05)


def test_the_style_page_takes_every_setting_and_says_how_far_the_plan_keeps_to_it(garden: Session) -> None:
    page = StylePage(garden)
    assert set(page.settings.leanings) == set(LEANINGS)
    for number, setting in enumerate(LEANINGS):
        page.settings.lean(setting, number / 20)
        assert getattr(garden.project.brief.style, setting) == number / 20
    page.settings.set_materials("brick,  stepping stones ")
    assert garden.project.brief.style.materials == ("brick", "stepping stones")
    page.settings.set_signature("Nepeta × faassenii")
    assert garden.project.brief.style.signature == ("Nepeta × faassenii",)
    page.settings.set_signature("no such plant")
    assert "no such plant" in page.message.value
    for one in garden.garden.style_kept:
        assert one.found is None or html.escape(garden.garden.say(one.figure)) in page.kept.value
        assert all(html.escape(name) in page.kept.value for name in one.answerable)
    assert page.failures == []


def test_a_want_is_added_judged_and_taken_off(garden: Session) -> None:
    page = WantsPage(garden)
    page.list.form.fill(text="twenty kinds of plants", fact="species", compare="at least", amount="20")
    page.list.add()
    added = page.judged()[-1]
    assert (added.want.text, added.verdict) == ("twenty kinds of plants", "met")
    page.up()
    assert page.judged()[-2].want == added.want
    page.list.remove()
    assert added.want not in garden.project.brief.wants


def test_a_letter_where_an_amount_belongs_is_named(garden: Session) -> None:
    page, before = WantsPage(garden), garden.project
    page.list.form.fill(text="many", fact="species", amount="a lot")
    page.list.add()
    assert "a lot" in page.list.form.boxes["amount"].children[-1].value
    assert "cannot read &quot;a lot&quot; as an amount" in page.message.value
    page.set_budget("lots")
    assert "cannot read &quot;lots&quot; as an amount for budget" in page.message.value
    assert garden.project == before
    assert page.failures == []


def test_sums_are_typed_in_the_money_of_the_garden_alone(garden: Session) -> None:
    """A sum in another money was taken as so many dollars, and no page could say which money the garden's is."""
    page, care = WantsPage(garden), CarePage(garden)
    before = garden.project.brief.budget
    page.set_budget("€3,200")
    assert "is in €, and this garden&#x27;s sums are in $; give it in $" in page.message.value
    assert garden.project.brief.budget == before
    page.set_money("euro")
    assert "&quot;euro&quot; is no money" in page.message.value
    page.set_money("EUR")
    assert "sums are in EUR now, no longer in $" in page.message.value
    page.set_budget("€1,234,567")
    assert (garden.project.brief.budget, page.budget.bar.value, page.money.bar.value) == (1234567.0, "1234567", "EUR")
    page.list.form.fill(text="a cap", fact="plant_cost", amount="$90")
    page.list.add()
    assert "sums are in EUR" in page.list.form.boxes["amount"].children[-1].value
    care.prices.take("labour_rate", "£40")
    assert "sums are in EUR" in care.message.value
    assert page.failures == []


def test_what_the_budget_covers_is_chosen_and_judged_by(garden: Session) -> None:
    def said() -> str:
        return next(line.what for line in garden.garden.advice_about(("cost",)) if "come to" in line.what)

    page = WantsPage(garden)
    page.set_budget("100")
    assert "materials and reserve come to" in next(
        f.what for f in garden.garden.advice_about(("cost",)) if "come" in f.what
    )
    page.covers.bar.value = "plants"
    assert garden.project.brief.budget_covers == "plants"
    assert garden.project.brief.budget == 100
    assert storage.load(garden.folder).project.brief.budget_covers == "plants"
    assert "plants come to" in said()
    page.covers.bar.value = "plants, materials and labour"
    everything = garden.garden.costs.everything
    assert f"labour, delivery and tax come to ${everything.likely:,.0f}, over the budget" in said()
    assert f"may come to ${everything.high:,.0f}" in said()
    page.undo()
    page.undo()
    assert page.covers.bar.value == "plants and materials"
    with pytest.raises(GardenError, match='cannot cover "plant"; the nearest known is "plants"'):
        brief_edits.set_budget(garden.project, 100, covers="plant")
    assert page.failures == []


def test_years_and_months_show_other_plants_in_flower_and_save_nothing(few: Session) -> None:
    page, before = LayeringPage(few), few.project
    page.set_month(6)
    june = set(page.in_flower())
    page.set_month(9)
    assert june
    assert june != set(page.in_flower())
    small = page.plan.sources["planting_areas"].data["xs"]
    page.set_year(15)
    assert page.plan.sources["planting_areas"].data["xs"] != small
    assert few.project == before
    assert page.failures == []


def test_a_plant_is_dragged_locked_and_then_stays(few: Session) -> None:
    page = LayeringPage(few)
    number = few.project.planting.plants[4].number
    page.drop(number, (3.0, 1.2))
    assert few.project.planting.plants[4].at == (3.0, 1.2)
    page.one.choose(number)
    page.one.toggle_lock()
    page.show_handles(True)
    page.dragging.bar.value = True
    page.edited("handles", {"id": [str(number)], "x": [5.0], "y": [5.0]})
    assert few.project.planting.plants[4].at == (3.0, 1.2)
    assert "is locked" in page.message.value
    page.undo()
    assert not few.project.planting.plants[4].locked
    assert page.failures == []


def test_a_plant_is_swapped_copied_added_and_removed(few: Session) -> None:
    page = LayeringPage(few)
    first = few.project.planting.plants[-1]
    page.one.choose(first.number)
    page.another.kind.bar.value = "Hosta 'Halcyon'"
    page.another.swap()
    assert few.project.planting.plants[-1].species == "Hosta 'Halcyon'"
    page.one.one_more()
    page.another.add()
    numbers = [p.number for p in few.project.planting.plants]
    assert numbers[-1] == numbers[-2] + 1 > first.number + 1  # a number once given is not given again
    page.one.remove()
    assert first.number not in [p.number for p in few.project.planting.plants]
    assert page.failures == []


def test_a_plant_that_does_not_exist_is_named_with_the_nearest(garden: Session) -> None:
    page, before = LayeringPage(garden), garden.project
    page.one.choose(garden.project.planting.plants[0].number)
    page.another.kind.bar.value = "Salvia nemorossa"
    page.another.swap()
    assert "no plant called &quot;Salvia nemorossa&quot;" in page.message.value
    assert "Salvia nemorosa" in page.message.value
    assert garden.project == before


def test_prices_are_made_up_of_what_the_designer_types(garden: Session) -> None:
    page = CarePage(garden)
    assert page.told is not None
    before = page.told.garden.costs
    page.prices.fields["labour_rate"].bar.value = "$80"
    page.prices.fields["tax"].bar.value = "10"
    costs = garden.garden.costs
    assert costs.rate == 80
    assert costs.total == before.total
    assert costs.everything.likely == pytest.approx(1.1 * (costs.total + 1.1 * 80 * costs.hours.likely))
    page.prices.write_table()
    page.prices.write_table()
    assert "stands in the garden folder already" in page.message.value
    page.prices.fields["crew"].bar.value = "1.5"
    assert page.project.brief.pricing.crew == 2
    page.prices.fields["labour_rate"].bar.value = ""
    assert page.project.brief.pricing.labour_rate is None
    page.prices.first_year.bar.value = "2031"
    assert page.project.planting.first_year == 2031
    assert {one.year for one in page.garden.programme} == {2031}
    page.prices.first_year.bar.value = "next spring"
    assert page.project.planting.first_year == 2031 and "first year of planting" in page.message.value
    assert not page.failures


def test_prices_typed_by_the_designer_take_the_place_of_house_values(garden: Session) -> None:
    page = CarePage(garden)
    told = page.told
    assert told is not None
    page.kind.bar.value = garden.project.planting.plants[-1].species
    page.price.bar.value = "x"
    page.take_price()
    assert "cannot read" in page.message.value
    page.price.bar.value = "99"
    page.take_price()
    assert garden.project.planting.prices[0].each == 99
    assert page.told is not None
    assert page.told.garden.costs.total > told.garden.costs.total
    page.write_files()
    assert (garden.folder / "schedules" / "schedules.xlsx").stat().st_size > 2000
    assert page.failures == []


def test_the_schedule_counts_every_plant_once(garden: Session) -> None:
    page = CarePage(garden)
    table = page.table_named("plant schedule")
    assert table is not None
    count = table.heads.index("qty")
    assert garden.garden.creeping  # between the stones: bought and counted too
    assert sum(int(row[count]) for row in table.rows if isinstance(row[count], int)) == len(
        garden.project.planting.plants
    ) + len(garden.garden.creeping)
    assert table.heads.index("cost") < table.heads.index("roots")  # beside the number, without moving sideways
    assert table.heads.index("of them divided") and "of them divided" not in page.table.value  # none is


def test_the_documents_are_written(settled: Session) -> None:
    page = ClientPage(settled)
    page.write()
    page.write_on_paper(client.SHEET)
    page.write_on_paper(client.CARE)
    assert page.failures == []
    assert (settled.folder / "gardeners_sheet.pdf").read_bytes().startswith(b"%PDF")
    assert page.target.stat().st_size > 100_000  # of all plants and at most: tests/handover/test_booklet.py
    assert (settled.folder / "planting_plan.pdf").read_bytes().startswith(b"%PDF")
    page.write_cad()
    assert page.failures == []
    assert json.loads((settled.folder / "plan.geojson").read_text(encoding="utf-8"))["type"] == "FeatureCollection"
    assert "plan.dxf" in page.result.value


def test_every_printed_document_has_its_button_and_its_line(empty: Session) -> None:
    page = ClientPage(empty)
    printed = {name for name, *_ in bundle.DOCUMENTS if name.endswith(".pdf")}
    assert printed == {*client.ON_PAPER, client.SETTING_OUT}
    offered = [one.description for one in page._buttons() if isinstance(one, w.Button)]
    assert {words for words, _ in client.ON_PAPER.values()} < set(offered)
    assert all(name in page.result.value for name in printed)


def test_the_drawing_set_is_written_and_an_empty_garden_says_what_it_lacks(few: Session, empty: Session) -> None:
    page = ClientPage(few)
    page.issue.revise("much too long")
    assert "eight letters" in page.message.value
    page.issue.revise("P02")
    page.write_on_paper(client.DRAWINGS)
    assert page.failures == []
    assert page.project.handover.revision == "P02"
    assert (few.folder / "drawing_set.pdf").read_bytes().startswith(b"%PDF")
    bare = ClientPage(empty)
    bare.write_on_paper(client.DRAWINGS)
    assert "needs the boundary" in bare.message.value
    bare.write_cad()
    assert "needs the boundary" in bare.message.value
    assert bare.failures == []


def test_a_new_garden_is_begun_and_every_notebook_turns_to_it(garden: Session, tmp_path: Path) -> None:
    page = StartPage(garden)
    page.begin()
    assert "type a folder" in page.message.value
    page.folder.bar.value = str(tmp_path / "fresh")
    page.begin()
    assert garden.folder == tmp_path / "fresh"
    assert gardens.chosen() == tmp_path / "fresh"
    page.begin()
    assert "already holds a garden" in page.message.value
    assert page.failures == []


def test_an_unexpected_mistake_is_said_on_the_page_and_kept_for_tests(garden: Session) -> None:
    page = WantsPage(garden)
    page.attempt(lambda: 1 / 0)
    assert "gardenkit made a mistake here (ZeroDivisionError" in page.message.value
    assert len(page.failures) == 1


def lists_of(widget: w.Widget) -> list[w.Dropdown]:
    """Return every list in a page's widgets."""
    found = [widget] if isinstance(widget, w.Dropdown) else []
    return found + [one for child in getattr(widget, "children", ()) for one in lists_of(child)]


@pytest.mark.parametrize("name", PAGES)
def test_a_list_shows_what_was_chosen_and_never_goes_blank(name: str, few: Session) -> None:
    page = page_named(few, name)
    for chooser in lists_of(page.widget):
        values = [value for _, value in chooser._options_full]
        if len(values) < 2 or chooser.disabled:
            continue
        chooser.value = values[-1]
        page.attempt(page.refresh)
        left = [value for _, value in chooser._options_full]
        assert chooser.index is not None, (name, chooser.description, values[-1])
        assert chooser.value in left
    assert page.failures == []


def test_open_warnings_of_one_reason_are_accepted_together_on_the_page_and_one_opened_again(few: Session) -> None:
    page = ClientPage(few)
    page.warnings.reopen()  # the one that the example has settled with its client
    many = len(few.garden.open_warnings)
    boxes = list(page.warnings.open.values())
    assert many == len(boxes) == len(page.warnings.listed.children) > 1
    shown = [part.layout.display == "" for part in (page.warnings.waiting, page.warnings.settled)]
    assert shown == [True, False] == [True, bool(few.project.handover.accepted)]
    page.write()
    assert "the client edition waits for" in page.message.value
    page.warnings.accept()
    assert "no warning is ticked" in page.message.value
    for box in boxes[:2]:
        box.bar.value = True
    page.warnings.accept()
    assert "say why" in page.message.value and boxes[0].bar.value
    page.warnings.reason.bar.value = "the beds are planted next year"
    page.warnings.accept()
    assert len(few.garden.open_warnings) == many - 2 == len(page.warnings.listed.children)
    assert few.project.handover.accepted[-1].reason == "the beds are planted next year"
    assert page.warnings.reason.bar.value == "" == page.warnings.settled.layout.display
    page.warnings.accepted.bar.value = (few.project.handover.accepted[-1].where, few.project.handover.accepted[-1].what)
    page.warnings.reopen()
    assert len(few.garden.open_warnings) == many - 1
    page.session.undo()
    page.session.undo()
    assert len(few.garden.open_warnings) == many
    page.issue.company.bar.value = "Elder & Ash"
    page.issue.issued.bar.value = "2026-03-09"
    assert (few.project.handover.company, str(few.project.handover.issued)) == ("Elder & Ash", "2026-03-09")
    page.issue.issued.bar.value = "9.3.2026"
    assert "2025-06-14" in page.message.value
    assert page.failures == []
