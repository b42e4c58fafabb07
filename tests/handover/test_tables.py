"""Tables hold what the schedules hold, in numbers, and no text of a project runs as a formula."""

import csv
import datetime as dt
import io

import attrs
import pytest
from openpyxl import load_workbook

from gardenkit.garden import Garden
from gardenkit.handover.contents import contents
from gardenkit.handover.tables import Table, _next_year, csv_text, tables, write_csv, write_xlsx
from gardenkit.project.edits.journal import died


def rows_of(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text)))


def test_each_schedule_has_its_table(told):
    names = [table.name for table in tables(told)]
    assert names == [
        "plant schedule",
        "areas",
        "quantities",
        "orders",
        "cost",
        "labour",
        "estimate",
        "programme",
        "water",
        "watering zones",
        "care",
        "findings",
    ]


def test_the_plant_schedule_counts_every_plant(told):
    plants = next(table for table in tables(told) if table.name == "plant schedule")
    every = (*told.project.planting.plants, *told.garden.creeping)
    assert sum(row[plants.heads.index("qty")] for row in plants.rows) == len(every)
    for row in plants.rows:  # what a nursery delivers: what is planted and not divided on the site, with its spares
        told_of = dict(zip(plants.heads, row, strict=True))
        assert told_of["to order"] == told_of["qty"] - (told_of["of them divided"] or 0) + told_of["spares"]


def test_what_died_stands_on_next_years_list(told):
    plant = told.project.planting.plants[0]
    gone = died(told.project, plant.number, date=dt.date(told.project.planting.first_year, 6, 1), note="=1+1")
    garden = Garden(gone, told.garden.folder)
    rows = [row[:4] for row in _next_year(attrs.evolve(told, garden=garden)).rows]
    year = told.project.planting.first_year + 1
    assert (year, "replace", plant.species, 1) in rows and (year, "order", plant.species, 1) in rows
    assert _next_year(told).rows == ()


def test_the_cost_table_ends_in_the_whole(told):
    cost = next(table for table in tables(told) if table.name == "cost")
    assert cost.rows[-1][3] == pytest.approx(told.garden.costs.total, abs=0.005)


def test_rows_are_as_wide_as_their_heads(told):
    for table in tables(told):
        assert all(len(row) == len(table.heads) for row in table.rows), table.name


def test_csv_files_read_back_with_their_accents(told, tmp_path):
    written = write_csv(told, tmp_path / "tables")
    assert written[0].name == "plant_schedule.csv"
    for path, table in zip(written, tables(told), strict=True):
        read = rows_of(path.read_text(encoding="utf-8-sig"))
        assert tuple(read[0]) == table.heads
        assert len(read) == len(table.rows) + 1
    assert "Nepeta × faassenii" in written[0].read_text(encoding="utf-8-sig")


def test_the_spreadsheet_reads_back_as_numbers_and_texts(told, tmp_path):
    target = tmp_path / "garden.xlsx"
    assert write_xlsx(told, target) == target.stat().st_size
    for sheet in load_workbook(target):  # filtered, heads on every printed page, one page wide
        assert (sheet.auto_filter.ref, sheet.freeze_panes) == (sheet.dimensions, "A2")
        assert sheet.print_title_rows == "$1:$1"
        assert (sheet.page_setup.orientation, sheet.page_setup.fitToHeight) == ("landscape", 0)
        across = {1: 11.0, 3: 17.0, 8: 16.54, 9: 11.69}[int(sheet.page_setup.paperSize)] - 2 * sheet.page_margins.left
        letters = sum(column.width for column in sheet.column_dimensions.values())
        assert 11 * across / (0.0755 * letters) >= 6.9, sheet.title  # points that it is printed in
        for row in sheet.iter_rows():  # high enough for all of each text, at a line of 14 points
            held = [(c.value, sheet.column_dimensions[c.column_letter].width) for c in row if isinstance(c.value, str)]
            assert all(len(text) * 14 <= wide * sheet.row_dimensions[row[0].row].height for text, wide in held)
    book = load_workbook(target)
    for table in tables(told):
        sheet = book[table.name]
        assert [cell.value for cell in sheet[1]] == list(table.heads)
        for row, cells in zip(table.rows, sheet.iter_rows(min_row=2, values_only=True), strict=True):
            assert [value if value != "" else None for value in row] == list(cells)
    assert book.worksheets[0].freeze_panes == "A2"


@pytest.mark.parametrize("text", ["=1+1", "+cmd", "-2", "@SUM(A1)", '=HYPERLINK("http://x")'])
def test_a_text_never_runs_as_a_formula(text, told, tmp_path):
    table = Table(name="t", heads=("a",), rows=((text,),))
    assert rows_of(csv_text(table))[1] == [f"'{text}"]
    project = attrs.evolve(
        told.project,
        structure=attrs.evolve(told.project.structure, beds=(attrs.evolve(told.project.structure.beds[0], name=text),)),
    )
    target = tmp_path / "x.xlsx"
    write_xlsx(contents(Garden(project, tmp_path), with_sun=False), target)
    cells = [cell for sheet in load_workbook(target) for row in sheet.iter_rows() for cell in row if cell.value == text]
    assert cells
    assert all(cell.data_type == "s" for cell in cells)


def test_negative_numbers_stay_numbers():
    assert rows_of(csv_text(Table(name="t", heads=("a",), rows=((-2.5,),))))[1] == ["-2.5"]


def test_an_empty_garden_makes_an_empty_spreadsheet(tmp_path):
    from gardenkit.project import Project

    told = contents(Garden(Project(name="Nothing"), tmp_path))
    write_xlsx(told, tmp_path / "x.xlsx")
    assert load_workbook(tmp_path / "x.xlsx").sheetnames
