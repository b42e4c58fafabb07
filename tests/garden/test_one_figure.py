"""Every figure that stands in two places is the same: page, table, client copy, spreadsheet, calendar."""

import re
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import openpyxl
import pytest

from gardenkit.garden import Garden
from gardenkit.garden.alternatives import compared
from gardenkit.handover import booklet, calendar, tables
from gardenkit.handover.contents import Contents, contents
from gardenkit.notebook import gardens
from gardenkit.notebook.head import Head
from gardenkit.notebook.session import Session
from gardenkit.project.rules import path_slope
from gardenkit.schedules import care
from gardenkit.site.water import gallons
from gardenkit.units import show_area, show_length

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = sorted(path.name for path in EXAMPLES.iterdir() if (path / "garden.json").exists())


class _Words(HTMLParser):
    """Gathers the text of a page that a reader sees beside the pictures."""

    unseen = ("script", "style", "svg")

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.within = 0

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.within += tag in self.unseen
        self.words.append(" ")

    def handle_endtag(self, tag: str) -> None:
        self.within -= tag in self.unseen
        self.words.append(" ")

    def handle_data(self, data: str) -> None:
        if not self.within:
            self.words.append(data)


@pytest.fixture(scope="module", params=NAMES)
def folder(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("one") / request.param
    gardens.copy_garden(EXAMPLES / request.param, target)
    return target


@pytest.fixture(scope="module")
def garden(folder: Path) -> Garden:
    return Garden.open(folder)


@pytest.fixture(scope="module")
def told(garden: Garden) -> Contents:
    return contents(garden)


@pytest.fixture(scope="module")
def copy(garden: Garden) -> str:
    page = _Words()
    page.feed(booklet.render(garden, edition="office", with_sun=False))
    return " ".join("".join(page.words).split())


@pytest.fixture(scope="module")
def book(told: Contents, tmp_path_factory: pytest.TempPathFactory) -> openpyxl.Workbook:
    target = tmp_path_factory.mktemp("book") / "schedules.xlsx"
    tables.write_xlsx(told, target)
    return openpyxl.load_workbook(target)


def rows_of(book: openpyxl.Workbook, name: str) -> list[dict[str, object]]:
    heads, *rows = [[cell.value for cell in row] for row in book[name].iter_rows()]
    return [dict(zip(heads, row, strict=True)) for row in rows]


def test_counts_of_each_kind(garden: Garden, book: openpyxl.Workbook):
    listed = {row["botanical name"]: row["qty"] for row in rows_of(book, "plant schedule")}
    between_stones = Counter(plant.species for plant in garden.creeping)
    assert listed == Counter({species.botanical: n for species, n in garden.kinds.items()}) + between_stones
    assert (
        sum(listed.values()) - between_stones.total() == garden.facts["plants"] == len(garden.project.planting.plants)
    )


def test_the_cost_of_it_all(garden: Garden, book: openpyxl.Workbook, copy: str):
    rows = rows_of(book, "cost")
    head = f"cost {garden.costs.currency}".strip()
    (total,) = [row[head] for row in rows if row["what"] == "together"]
    assert total == pytest.approx(garden.costs.total, abs=0.01)
    assert sum(row[head] for row in rows if row["what"] != "together") == pytest.approx(total, abs=0.01 * len(rows))
    assert f"{garden.costs.currency}{garden.costs.total:,.0f}" in copy
    plants = sum(line.cost for line in garden.costs.lines if line.group == "plants")
    assert plants == pytest.approx(garden.facts["plant_cost"])
    if garden.project.brief.budget is not None:
        (said,) = [f for f in garden.advice if f.topic == "cost" and "budget" in f.what]
        assert f"{garden.costs.total:,.0f}" in said.what


def test_water_of_a_mean_year(garden: Garden, book: openpyxl.Workbook, copy: str):
    imperial = garden.units == "imperial"
    head = "mean year US gal" if imperial else "mean year L"
    listed = {row["bed"]: row[head] for row in rows_of(book, "water")}
    means = {bed.bed: sum(bed.litres) for bed in garden.water}
    means |= {lawn.name: sum(lawn.litres) for lawn in (garden.watering.lawns if garden.watering else ())}
    assert listed == {bed: round(gallons(mean) if imperial else mean) for bed, mean in means.items()}
    for bed in garden.water:
        mean = sum(bed.litres)
        assert f"{gallons(mean) if imperial else mean:,.0f}" in copy


def test_wants_met(garden: Garden, folder: Path, copy: str):
    met, every = sum(item.verdict == "met" for item in garden.wants), len(garden.wants)
    side = compared(garden)
    assert (side.wants_met, side.wants) == (met, every)
    assert f"{met} of {every} wants met" in Head(Session(folder)).line.value
    missed = [f for f in garden.advice if f.topic == "wants"]
    not_met = sum(item.verdict == "not met" for item in garden.wants)
    assert sum(max(1, len(line.members)) for line in missed) == not_met
    for item in garden.wants:
        assert item.want.text in copy


def test_length_and_slope_of_paths(garden: Garden):
    side = compared(garden)
    assert side.path_length == pytest.approx(garden.facts["path_length"])
    if garden.ground is not None:
        steep = max(
            abs(path_slope(p, garden.layout.routes[p.name], garden.ground).steepest)
            for p in garden.project.structure.paths
        )
        assert garden.facts["path_slope"] == pytest.approx(steep) == pytest.approx(side.steepest)


def test_areas_of_beds(garden: Garden, book: openpyxl.Workbook, copy: str):
    listed = {row["name"]: row for row in rows_of(book, "areas") if row["kind"] == "bed"}
    for bed in garden.beds:
        imperial = garden.units == "imperial"
        shown, each = ("sq ft", 0.3048**2) if imperial else ("m²", 1.0)  # a foot is 0.3048 m exactly: NIST SP 811
        assert listed[bed.name][shown] == pytest.approx(bed.area / each, abs=0.051 if imperial else 0.006)
        assert show_area(bed.area, garden.units) in copy
        assert show_length(bed.edging, garden.units) in copy or bed.edging == 0
    assert sum(bed.area for bed in garden.beds) == pytest.approx(garden.facts["bed_area"])
    assert compared(garden).bed_area == pytest.approx(garden.facts["bed_area"])


def test_stones(garden: Garden):
    laid = sum(len(laying.stones) for laying in garden.layout.layings.values())
    assert compared(garden).stones == laid
    said = " ".join(work for phase in garden.phases for work in phase.work)
    counted = re.search(r"lay (\d+) stone", said)
    assert (int(counted[1]) if counted else 0) == laid


def test_share_of_evergreens(garden: Garden):
    figures = garden.figures()
    assert figures is not None
    assert 100 * figures.evergreen == pytest.approx(garden.facts["evergreen_share"])
    for line in garden.advice:
        if line.topic == "balance" and "are evergreen" in line.what:
            assert f"{figures.evergreen:.0%}" in line.what


def test_order_of_work_and_the_years_work(garden: Garden, told: Contents, copy: str):
    for phase in garden.phases:
        assert phase.name in copy
    events = calendar.ics(garden.project, garden.care).count(b"BEGIN:VEVENT")
    months = care.by_month(garden.care)
    groups = [group for tasks in months for _, group in care.grouped(tasks)]
    spells = [{(task.every_years, task.begins, task.last) for task in group} for group in groups]
    assert events == sum(map(len, spells))
    care_table = next(table for table in tables.tables(told) if table.name == "care")
    assert len(care_table.rows) == len(garden.care)
