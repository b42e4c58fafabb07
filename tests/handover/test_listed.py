"""A list in a sheet's column loses nothing: what finds no room stands whole on the sheets after it."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from gardenkit.handover.listed import Entry, listed
from gardenkit.handover.paper import BLOCK, MARGIN, Issue, Leaf, SheetSize, ways, written
from gardenkit.project import Project

from .reading_sheets import words

NOTE = "What stands over the list, in a few words that take some lines of the column of a sheet."


@pytest.mark.parametrize("count", [0, 3, 20, 90])
@pytest.mark.parametrize("size", ways("A4"), ids=("lying", "standing"))
def test_every_entry_stands_once_inside_the_border(plain_garden: Project, size: SheetSize, count: int) -> None:
    entries = [Entry(head=f"zone {n}", amount=f"{n} m", lines=("long words " * 9, f"end {n}")) for n in range(count)]
    leaf = Leaf(number="L6", title="Irrigation", size=size, draw=lambda pen: None)
    leaves = listed(leaf, entries, note=NOTE, heading="Zones")
    assert [one.number for one in leaves] == ["L6", "L6b", "L6c", "L6d", "L6e", "L6f", "L6g"][: len(leaves)]
    read = PdfReader(BytesIO(written(plain_garden, leaves, Issue(), title="list")), strict=True)
    said = [word for page in read.pages for word in words(page)]
    for found, wanted in (("zone ", [f"zone {n}" for n in range(count)]), ("end ", [f"end {n}" for n in range(count)])):
        assert [word.text for word in said if word.text.startswith(found)] == wanted
    assert (len(leaves) > 1) == (count > 3)
    for number, page in enumerate(read.pages):
        listed_here = [word for word in words(page) if word.text.startswith(("zone", "end", "long"))]
        low = MARGIN + BLOCK if number == 0 else MARGIN
        assert all(low < word.y < size.high - MARGIN and word.x > MARGIN for word in listed_here)
