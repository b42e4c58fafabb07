"""The gardener's sheet, read back as printed: a page a month, with what, where, how, how long and what to beware of."""

import io
import re
from pathlib import Path

import attrs
import pytest
from pypdf import PdfReader

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import gardeners_sheet
from gardenkit.handover.contents import Contents
from gardenkit.handover.paper import LETTERS, Issue
from gardenkit.planting.planting import Planting
from gardenkit.project import Project
from gardenkit.schedules import care
from gardenkit.schedules.care import MONTHS

from .reading_sheets import words


@pytest.fixture(scope="module")
def printed(told: Contents, tmp_path_factory: pytest.TempPathFactory) -> PdfReader:
    target = tmp_path_factory.mktemp("sheet") / "gardeners_sheet.pdf"
    assert gardeners_sheet.write(told.garden, target) == target.stat().st_size
    return PdfReader(target)


def test_every_month_is_one_page_with_all_its_work_on_it(printed: PdfReader, told: Contents) -> None:
    assert [words(page)[0].text for page in printed.pages] == list(MONTHS)
    lines = {line.species.botanical: line for line in told.garden.schedule}
    for month, page in enumerate(printed.pages, start=1):
        text = re.sub(r"\s+", " ", page.extract_text())
        for task in care.by_month(told.garden.care)[month - 1]:
            assert task.task.removeprefix("look for ").casefold() in text.casefold()
            if task.botanical in lines:
                line = lines[task.botanical]
                assert f"{line.key} {task.botanical} ({line.count}" in text
                named = line.beds if len(line.beds) <= 3 else (f"{line.count} in {len(line.beds)} beds",)
                assert all(bed in text for bed in named)
            assert task.caution in text


def test_each_month_of_the_largest_example_is_one_page_too() -> None:
    garden = Garden.open(Path(__file__).parents[2] / "examples" / "quarry_brow_hillside")
    printed = PdfReader(io.BytesIO(gardeners_sheet.pages(garden, Issue())))
    assert [words(page)[0].text for page in printed.pages] == list(MONTHS)


def test_letters_can_be_read_and_nothing_crosses_the_edge(printed: PdfReader) -> None:
    for page in printed.pages:
        wide, high = (float(side) * 25.4 / 72 for side in (page.mediabox.width, page.mediabox.height))
        for word in words(page):
            assert word.size >= LETTERS - 0.01
            assert 10 < word.x < wide - 10 and 10 < word.y < high - 10


def test_the_hours_of_a_page_are_those_of_the_year(told: Contents, printed: PdfReader) -> None:
    garden = told.garden
    for month, page in enumerate(printed.pages):
        first, soon, grown = (garden.care_in(season)[month] for season in (0, 2, care.GROWN_IN))
        head = re.search(r"About (.+) in \d+, (.+) in \d+, (.+?) grown in", page.extract_text())
        assert head is not None
        assert [gardeners_sheet.shown_time(h) for h in (first, soon, grown)] == list(head.groups())


def test_what_plants_must_have_grown_for_is_not_counted_in_their_first_season(told: Contents) -> None:
    divided = [task for task in told.garden.care if task.task == "divide"]
    assert divided
    assert all(f"from {told.project.planting.first_year + t.begins}" in years(told.garden, t) for t in divided)
    assert all(not t.is_due(t.begins - 1) and t.is_due(t.begins) for t in divided)


def years(garden: Garden, task: care.Task) -> str:
    row = next(r for r in gardeners_sheet.rows_of(garden, task.months[0]) if r.what == "Divide")
    return next(line for line in row.lines if task.botanical in line)


def test_more_work_than_a_page_holds_goes_on_to_the_next(told: Contents) -> None:
    garden = Garden(told.project, told.garden.folder)
    many = [attrs.evolve(garden.care[0], task=f"task {n}", months=(4,)) for n in range(60)]
    vars(garden)["care"] = tuple(many)
    sheets = [page.extract_text() for page in PdfReader(io.BytesIO(gardeners_sheet.pages(garden, Issue()))).pages]
    april = [sheet for sheet in sheets if sheet.startswith("April")]
    assert len(april) == len(sheets) - 11 > 1 and april[1].startswith("April, continued")
    assert re.findall(r"Task (\d+)", "".join(april)) == [str(n) for n in range(60)]
    assert all("Nothing that cannot wait" in sheet for sheet in sheets if sheet not in april)


def test_a_garden_without_work_is_told_so(plain_garden: Project, tmp_path: Path) -> None:
    bare = attrs.evolve(plain_garden, planting=Planting(), structure=attrs.evolve(plain_garden.structure, paths=()))
    with pytest.raises(GardenError, match="no care to tell of yet"):
        gardeners_sheet.write(Garden(bare, tmp_path), tmp_path / "sheet.pdf")
