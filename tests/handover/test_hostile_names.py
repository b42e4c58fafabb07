"""Names that would run as a formula, a script or a new line of a calendar reach every document as plain words.

Each document is opened by a reader that is not ours: html5lib (as browsers parse), Python's XML parser, vobject,
openpyxl, csv, pypdf, json, ezdxf. Formulas in tables: OWASP, "CSV injection" (cells that begin with = + - @ tab or
return).
"""

import csv
import io
import json
import re
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path

import attrs
import ezdxf
import html5lib
import pytest
import vobject
from hostile import BENIGN, HOSTILE, garden_of
from openpyxl import load_workbook
from pypdf import PdfReader

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.handover import bundle
from gardenkit.project import Project
from gardenkit.site.site import Fence, Site

FORMULA = ("=", "+", "-", "@", "\t", "\r")


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folders = {}
    for word, names in (("hostile", HOSTILE), ("benign", BENIGN)):
        folder = tmp_path_factory.mktemp(word)
        bundle.write(garden_of(names, folder / "garden"), folder / "documents")
        folders[word] = folder / "documents"
    return folders


def elements(path: Path) -> list[tuple[str, dict[str, str]]]:
    tree = html5lib.parse(path.read_text(encoding="utf-8"), namespaceHTMLElements=False)
    return [(str(e.tag), dict(e.attrib)) for e in tree.iter() if isinstance(e.tag, str)]


@pytest.mark.parametrize("name", ["client_copy.html", "office_copy.html", "options.html"])
def test_a_page_has_no_element_that_a_name_made(written: dict[str, Path], name: str) -> None:
    hostile, benign = (elements(written[word] / name) for word in ("hostile", "benign"))
    for tag in ("script", "img", "b", "a"):
        assert [t for t, _ in hostile].count(tag) == [t for t, _ in benign].count(tag), tag
    assert not [name for _, held in hostile for name in held if name.startswith("on")]
    assert "alert(4)" in (written["hostile"] / name).read_text(encoding="utf-8")


def test_the_packs_open_and_their_tables_hold_no_formula(written: dict[str, Path]) -> None:
    packs = sorted(written["hostile"].glob("*_pack.zip"))
    assert [path.name for path in packs] == [path.name for path in sorted(written["benign"].glob("*_pack.zip"))]
    for path in packs:
        with zipfile.ZipFile(path) as pack, zipfile.ZipFile(written["benign"] / path.name) as plain:
            assert pack.testzip() is None and pack.namelist() == plain.namelist()
            tables = [pack.read(name).decode("utf-8-sig") for name in pack.namelist() if name.endswith(".csv")]
        assert not [cell for table in tables for cell in loose_cells(table)], path.name


def loose_cells(table: str) -> list[str]:
    """Return the cells of a CSV table that a spreadsheet would take for a formula; every row is as long as its head."""
    heads, *rows = csv.reader(io.StringIO(table, newline=""), strict=True)
    assert {len(row) for row in rows} == {len(heads)}
    return [cell for row in rows for cell in row if cell.startswith(FORMULA) and not re.fullmatch(r"-[\d.]+", cell)]


def test_tables_hold_texts_and_no_formula(written: dict[str, Path]) -> None:
    book = load_workbook(written["hostile"] / "schedules.xlsx")
    cells = [cell for sheet in book.worksheets for row in sheet.iter_rows() for cell in row]
    assert not [cell.value for cell in cells if cell.data_type == "f"]
    assert any(str(cell.value).startswith("@SUM") for cell in cells)
    alone = (written["hostile"] / name for name in ("setting_out.csv", "plants.csv"))
    files = [*(written["hostile"] / "schedules").iterdir(), *alone]
    assert len(files) > 4
    for path in files:
        assert not loose_cells(path.read_text(encoding="utf-8-sig")), path.name


def test_the_calendar_has_as_many_events_and_lines_as_without_such_names(written: dict[str, Path]) -> None:
    hostile, benign = (
        vobject.readOne((written[word] / "care.ics").read_text(encoding="utf-8")) for word in ("hostile", "benign")
    )
    assert len(hostile.vevent_list) == len(benign.vevent_list) > 5
    names = [sorted(child.name for child in event.getChildren()) for event in hostile.vevent_list]
    assert names == [sorted(child.name for child in event.getChildren()) for event in benign.vevent_list]
    assert hostile.contents["x-wr-calname"][0].value.startswith(HOSTILE["garden"])
    raw = (written["hostile"] / "care.ics").read_bytes()
    assert max(map(len, raw.split(b"\r\n"))) <= 75  # RFC 5545, 3.1: lines of at most 75 octets


def test_the_sheets_open_and_say_the_names(written: dict[str, Path]) -> None:
    for name in ("drawing_set.pdf", "planting_plan.pdf", "setting_out.pdf", "gardeners_sheet.pdf"):
        sheet = PdfReader(written["hostile"] / name, strict=True)
        assert HOSTILE["garden"] in (sheet.metadata or {})["/Title"]
        assert not [page for page in sheet.pages if "/AA" in page or "/Annots" in page]
        assert "/OpenAction" not in sheet.trailer["/Root"]


def test_the_plan_files_hold_as_much_as_without_such_names_and_the_names_as_words(written: dict[str, Path]) -> None:
    hostile, benign = (
        json.loads((written[word] / "plan.geojson").read_text(encoding="utf-8"))["features"]
        for word in ("hostile", "benign")
    )
    assert [f["geometry"] for f in hostile] == [f["geometry"] for f in benign]
    names = {f["properties"]["name"] for f in hostile}
    assert {HOSTILE[key] for key in ("house", "gate", "door", "walk", "west", "lawn", "seat", "fence", "tree")} <= names
    drawings = [ezdxf.readfile(written[word] / "plan.dxf") for word in ("hostile", "benign")]
    assert not drawings[0].audit().errors
    kinds = [[(e.dxftype(), e.dxf.layer) for e in drawing.modelspace()] for drawing in drawings]
    assert kinds[0] == kinds[1]
    assert {layer.dxf.name for layer in drawings[0].layers} == {layer.dxf.name for layer in drawings[1].layers}


def test_the_drawing_is_well_formed_and_runs_nothing(written: dict[str, Path]) -> None:
    root = ET.parse(written["hostile"] / "plan.svg").getroot()
    tags = {element.tag.rpartition("}")[2] for element in root.iter()}
    assert not tags & {"script", "image", "foreignObject", "a"}
    assert not [key for element in root.iter() for key in element.attrib if key.startswith("on") or "href" in key]
    assert HOSTILE["gate"] in "".join(root.itertext())


@pytest.mark.parametrize(
    "name", ["tab\there", "new\nline", "right\u202eto left", "isolate\u2066d", "n" * 300, "nul\x00"]
)
def test_a_name_that_cannot_be_shown_is_refused_in_one_sentence(name: str, tmp_path: Path) -> None:
    project = Project(name="plain", site=Site(fences=(Fence(name="fence", line=((0.0, 0.0), (0.0, 8.0))),)))
    storage.create(tmp_path / "garden", project)
    fence = attrs.evolve(project.site.fences[0], name=name)
    with pytest.raises(GardenError) as refused:
        storage.edit(
            tmp_path / "garden", "rename", lambda p: attrs.evolve(p, site=attrs.evolve(p.site, fences=(fence,)))
        )
    said = str(refused.value)
    assert "name of" in said
    assert "\n" not in said
    assert "\u202e" not in said
    assert len(said) < 300
