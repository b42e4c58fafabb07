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
from pathlib import Path

import attrs
import ezdxf
import html5lib
import pytest
import vobject
from openpyxl import load_workbook
from pypdf import PdfReader

from gardenkit import storage
from gardenkit.brief.brief import Brief
from gardenkit.brief.wants import Want
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import bundle, plan_files
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.project.edits import handover
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.structure.structure import Bed, GroundArea, Seat, Structure, Support
from gardenkit.structure.structure import Path as GardenPath

LONG = "very " * 39 + "long"  # 199 letters; 200 are the most
TEXT_TABS = "=A1\tB1\n@SUM(C1)"
HOSTILE = {
    "house": '=HYPERLINK("http://example.invalid","house")',
    "gate": "<script>alert(1)</script>",
    "door": "</script><img src=x onerror=alert(2)>",
    "walk": '+1+1, walk; a "b" \\n c',
    "west": "@SUM(A1:A9)",
    "lawn": "-2+3 ]]> --> <!-- {{ 7*7 }} ${1}",
    "seat": "&lt;b&gt; &amp; 'seat'",
    "arch": LONG,
    "fence": "BEGIN:VEVENT\\;END:VCALENDAR",
    "tree": '" onmouseover="alert(3)" x="',
    "garden": '=1+1 <script>alert(4)</script>; a, b: "c"',
    "want": TEXT_TABS,
}
BENIGN = {key: key for key in HOSTILE}
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def garden_of(names: dict[str, str], folder: Path) -> Garden:
    """Return a small plot where every kind of thing that has a name bears one of ``names``."""
    ring = ((0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0))
    site = Site(
        place=Place(name=names["garden"], latitude=-41.2, longitude=173.1, timezone="Pacific/Auckland"),
        boundary=ring,
        buildings=(Building(name=names["house"], outline=((0.0, 8.0), (12.0, 8.0), (12.0, 10.0), (0.0, 10.0))),),
        openings=(
            Opening(name=names["gate"], kind="gate", start=(5.5, 0), end=(6.5, 0)),
            Opening(name=names["door"], kind="door", start=(5.5, 8), end=(6.5, 8), on=names["house"]),
        ),
        fences=(Fence(name=names["fence"], line=((0.0, 0.0), (0.0, 8.0))),),
        trees=(ExistingTree(name=names["tree"], at=(10.5, 6.0), height=4.0, spread=2.0),),
    )
    structure = Structure(
        paths=(
            GardenPath(name=names["walk"], start=names["gate"], end=names["door"], curvature=0.0, surface="gravel"),
        ),
        beds=(Bed(name=names["west"], at=(1, 4)),),
        ground_areas=(
            GroundArea(name=names["lawn"], kind="lawn", outline=((8.0, 1.0), (11.0, 1.0), (11.0, 3.0), (8.0, 3.0))),
        ),
        seats=(Seat(name=names["seat"], at=(9.0, 4.5)),),
        supports=(Support(name=names["arch"], kind="arch", line=((5.0, 3.0), (7.0, 3.0))),),
    )
    planting = Planting(plants=(Plant(number=1, species="Salvia nemorosa", at=(1, 3), note=names["want"]),))
    brief = Brief(wants=(Want(text=names["want"]),), currency=names["tree"][:4])
    who = {"name": names["garden"], "client": names["gate"], "designer": names["house"]}
    project = Project(**who, units="metric", site=site, structure=structure, planting=planting, brief=brief)
    for line in Garden(project, folder).open_warnings:  # with them the client edition would not be written
        project = handover.accept(project, where=line.where, what=line.what, reason=names["door"])
    storage.create(folder, project)  # what cannot be saved cannot reach a document
    return Garden.open(folder)


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


def test_the_client_copy_has_no_element_that_a_name_made(written: dict[str, Path]) -> None:
    hostile, benign = (elements(written[word] / "client_copy.html") for word in ("hostile", "benign"))
    for tag in ("script", "img", "b", "a"):
        assert [t for t, _ in hostile].count(tag) == [t for t, _ in benign].count(tag), tag
    assert not [name for _, held in hostile for name in held if name.startswith("on")]
    assert "alert(1)" in (written["hostile"] / "client_copy.html").read_text(encoding="utf-8")


def test_tables_hold_texts_and_no_formula(written: dict[str, Path]) -> None:
    book = load_workbook(written["hostile"] / "schedules.xlsx")
    cells = [cell for sheet in book.worksheets for row in sheet.iter_rows() for cell in row]
    assert not [cell.value for cell in cells if cell.data_type == "f"]
    assert any(str(cell.value).startswith("@SUM") for cell in cells)
    alone = (written["hostile"] / name for name in ("setting_out.csv", "plants.csv"))
    files = [*(written["hostile"] / "schedules").iterdir(), *alone]
    assert len(files) > 4
    for path in files:
        heads, *rows = csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline=""), strict=True)
        assert {len(row) for row in rows} == {len(heads)}, path.name
        loose = [
            cell for row in rows for cell in row if cell.startswith(FORMULA) and not re.fullmatch(r"-[\d.]+", cell)
        ]
        assert not loose, path.name


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
    for name in ("drawing_set.pdf", "planting_plan.pdf", "setting_out.pdf"):
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


def test_the_drawing_is_well_formed_and_runs_nothing(tmp_path: Path) -> None:
    garden = garden_of(HOSTILE, tmp_path / "garden")
    plan_files.write_svg(garden, tmp_path / "plan.svg")
    root = ET.parse(tmp_path / "plan.svg").getroot()
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
