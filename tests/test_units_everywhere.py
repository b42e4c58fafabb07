"""No foreign unit in the client copy, the spreadsheet, the calendar, the plan and the pages of two examples."""

import html
import re
from collections.abc import Iterator
from pathlib import Path
from shutil import copytree

import pytest

from gardenkit.garden import Garden
from gardenkit.handover import tables
from gardenkit.handover.contents import contents
from gardenkit.notebook.session import Session
from gardenkit.notebook.workbook import PAGES, page

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
PLACES = {"fennel_street_corner": "imperial", "lantern_lane_strip": "metric"}
FOREIGN = {
    "imperial": re.compile(r"\d ?(?:m|cm|mm|m2|m²|m3|m³|kg|L|km/h|m/s)(?![\w'’²³/])"),
    "metric": re.compile(r"\d ?(?:ft|feet|sq ft|cu yd|gal|gallons?|lbs?|mph)(?!\w)|\d' \d+[½¼¾]?\""),
}
# What may stay: a column of sources cites rules as they were published, and co-ordinates are the plan's own metres.
# How a cost is reckoned names the unit its price is recorded for, in whatever unit that is: turning the amount without
# the price would make the sum wrong.
CITES = ("source", "price from", "reckoned as")
WALKED = ("beds", "sun", "alternatives", "arrange")  # the drawings with the most tips


@pytest.fixture(scope="module", params=PLACES)
def garden(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Garden:
    folder = tmp_path_factory.mktemp("units") / request.param
    copytree(EXAMPLES / request.param, folder)
    return Session(folder).garden


def foreign(texts: Iterator[str], units: str) -> list[str]:
    plain = [html.unescape(text) for text in texts]
    return [text for text in plain if FOREIGN[units].search(text)]


def test_tables_speak_the_gardens_units(garden: Garden) -> None:
    made = tables.tables(contents(garden, with_sun=False))
    heads = [head for table in made for head in table.heads]
    cells = [
        cell
        for table in made
        for row in table.rows
        for head, cell in zip(table.heads, row, strict=True)
        if isinstance(cell, str) and head not in CITES
    ]
    assert len(cells) > 100
    assert not foreign(iter(cells), garden.units)
    assert not {"imperial": {"spacing m", "m2", "m²", "mean year L"}, "metric": {"sq ft", "spacing ft"}}[
        garden.units
    ].intersection(heads)


@pytest.mark.parametrize("name", WALKED)
def test_drawings_of_pages_speak_the_gardens_units(garden: Garden, name: str) -> None:
    shown = page(Session(garden.folder), name)
    assert name in PAGES
    scene = shown.scene()
    tips = [mark.tip for mark in scene.marks if getattr(mark, "tip", "")]
    assert tips
    assert not foreign(iter([*tips, scene.description]), garden.units)
