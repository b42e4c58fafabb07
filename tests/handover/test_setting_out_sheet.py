"""The setting-out sheet is to scale, holds every place, and its table is the one that was worked out."""

import csv
from pathlib import Path

import pytest

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import setting_out as sheets
from gardenkit.project import Project
from gardenkit.schedules.setting_out import setting_out

EXAMPLES = sorted(p for p in (Path(__file__).parents[2] / "examples").iterdir() if p.is_dir())


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda p: p.name)
def test_every_place_is_in_the_table_with_its_own_coordinates(folder: Path, tmp_path: Path) -> None:
    garden = Garden.open(folder)
    found = setting_out(garden.project, garden.layout, garden.catalogue)
    assert sheets.write_csv(garden, tmp_path / "places.csv") == len(found.marks)
    with (tmp_path / "places.csv").open(encoding="utf-8", newline="") as page:
        rows = list(csv.DictReader(page))
    assert [int(row["number"]) for row in rows] == [m.number for m in found.marks]
    head, each = ("x_ft", 0.3048) if garden.units == "imperial" else ("x_m", 1.0)  # an international foot is 0.3048 m
    assert [each * float(row[head]) for row in rows] == pytest.approx([m.at[0] for m in found.marks], abs=0.0006)


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda p: p.name)
def test_the_sheet_opens_as_a_pdf_with_a_page_for_the_plan_and_more_for_the_table(folder: Path, tmp_path: Path) -> None:
    target = tmp_path / "set" / "out.pdf"
    assert sheets.write(Garden.open(folder), target) == target.stat().st_size
    content = target.read_bytes()
    assert content.startswith(b"%PDF-")
    assert content.count(b"/Type /Page\n") + content.count(b"/Type /Page ") >= 2


def test_a_name_that_a_spreadsheet_would_run_is_only_text(tmp_path: Path) -> None:
    import attrs

    garden = Garden.open(EXAMPLES[0])
    structure = garden.project.structure
    seats = (attrs.evolve(structure.seats[0], name="=1+1"), *structure.seats[1:])
    paths = tuple(p for p in structure.paths if structure.seats[0].name not in (p.start, p.end))
    named = attrs.evolve(garden.project, structure=attrs.evolve(structure, seats=seats, paths=paths))
    sheets.write_csv(Garden(named, EXAMPLES[0]), tmp_path / "places.csv")
    assert "'=1+1" in (tmp_path / "places.csv").read_text(encoding="utf-8")


def test_a_garden_without_a_boundary_says_what_is_missing(tmp_path: Path) -> None:
    with pytest.raises(GardenError, match="setting out needs the boundary"):
        sheets.sheet(Garden(Project(name="bare"), tmp_path))
