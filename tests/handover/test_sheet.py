"""The sheet is true to scale, its letters go with it, and a plan that does not fit says what would."""

import base64
import io
import itertools
import math
import re
import zlib

import attrs
import pytest
from pypdf import PdfReader

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover.paper import PAPERS
from gardenkit.handover.sheet import sheet, write
from gardenkit.planting.planting import Plant, Planting

POINT = 25.4 / 72  # mm


def drawing(pdf: bytes) -> bytes:
    """Return what the pages draw, unpacked."""
    parts = []
    for body in re.findall(rb"stream\r?\n(.*?)endstream", pdf, re.S):
        try:
            parts.append(zlib.decompress(base64.a85decode(b"<~" + body.strip(), adobe=True)))
        except (ValueError, zlib.error):
            continue
    return b"\n".join(parts)


def longest_runs(pdf: bytes) -> list[float]:
    """Return the lengths in mm of all straight pieces drawn, longest first."""
    steps = re.findall(rb"(-?[\d.]+) (-?[\d.]+) ([ml])\b", drawing(pdf))
    points = [(float(x), float(y), kind) for x, y, kind in steps]
    runs = [math.dist(a[:2], b[:2]) for a, b in itertools.pairwise(points) if b[2] == b"l"]
    return sorted((run * POINT for run in runs), reverse=True)


def page_size(pdf: bytes) -> tuple[float, float]:
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+)", pdf)
    assert box is not None
    return float(box[1]) * POINT, float(box[2]) * POINT


@pytest.mark.parametrize(
    ("scale", "side", "named"),
    [
        (48.0, 250.0, '1/4" = 1\'-0"'),
        (96.0, 125.0, '1/8" = 1\'-0"'),
        (50.0, 240.0, "1 : 50"),
        (100.0, 120.0, "1 : 100"),
    ],
)
def test_a_side_of_twelve_metres_is_drawn_to_the_scale_that_the_title_block_says(
    plain_garden, tmp_path, scale, side, named
):
    """12 m at 1 : 48, 96, 50 and 100."""
    made = sheet(Garden(plain_garden, tmp_path), scale=scale, paper="A2")
    assert min(abs(run - side) for run in longest_runs(made)) < 0.01
    assert f"scale {named}, on A2 paper" in " ".join(PdfReader(io.BytesIO(made)).pages[0].extract_text().split())


def test_the_smallest_paper_of_the_gardens_own_system_is_taken(plain_garden, tmp_path):
    metric = page_size(sheet(Garden(plain_garden, tmp_path), scale=100.0))
    assert metric == pytest.approx(PAPERS["A4"], abs=0.1)
    imperial = attrs.evolve(plain_garden, units="imperial")
    assert page_size(sheet(Garden(imperial, tmp_path), scale=96.0)) == pytest.approx(PAPERS["letter"], abs=0.1)


def test_letters_are_embedded(plain_garden, tmp_path):
    pdf = sheet(Garden(plain_garden, tmp_path))
    assert pdf.startswith(b"%PDF-")
    assert b"/FontFile2" in pdf
    assert b"/Subtype /Type1" not in pdf


def test_the_same_garden_gives_the_same_sheet(plain_garden, tmp_path):
    assert sheet(Garden(plain_garden, tmp_path)) == sheet(Garden(plain_garden, tmp_path))


def test_a_plan_too_large_names_its_size_and_what_to_do(plain_garden, tmp_path):
    with pytest.raises(GardenError, match=r"the plan at 1 : 50 is \d+ by \d+ mm and does not fit on A4 beside its"):
        sheet(Garden(plain_garden, tmp_path), scale=50.0, paper="A4")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"paper": "A33"}, 'there is no sheet "A33"; the nearest known is "A3"'),
        ({"scale": 75.0}, "there is no sheet scale 1 : 75; use one of 48"),
    ],
)
def test_an_unknown_sheet_or_scale_is_one_sentence(plain_garden, tmp_path, options, said):
    with pytest.raises(GardenError) as caught:
        sheet(Garden(plain_garden, tmp_path), **options)
    assert said in str(caught.value)


def test_without_a_boundary_there_is_no_sheet(tmp_path):
    from gardenkit.project import Project

    with pytest.raises(GardenError, match="needs the boundary"):
        sheet(Garden(Project(name="Nothing"), tmp_path))


def test_a_long_schedule_goes_on_a_second_page(plain_garden, tmp_path):
    from gardenkit.planting.catalogue import load_catalogue

    names = load_catalogue().names()[:60]
    plants = tuple(Plant(number=i, species=name, at=(1 + i % 3, 1 + i % 6)) for i, name in enumerate(names))
    pdf = sheet(Garden(attrs.evolve(plain_garden, planting=Planting(plants=plants)), tmp_path), scale=100.0)
    assert len(re.findall(rb"/Type /Page\b", pdf)) >= 2


def test_names_with_strange_letters_do_not_stop_the_sheet(plain_garden, tmp_path):
    garden = attrs.evolve(plain_garden, name="Žáček 庭 \u0007 <b>", client="Ωmega")
    target = tmp_path / "sheet.pdf"
    assert write(Garden(garden, tmp_path), target) == target.stat().st_size
