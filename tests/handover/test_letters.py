"""What is written on a sheet can be read off it as it was meant, whatever letters its face lacks."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from gardenkit.handover.paper import Issue, Leaf, ways, written
from gardenkit.handover.pdf import Pen
from gardenkit.project import Project
from gardenkit.units import INCH, show_length

from .reading_sheets import words


@pytest.mark.parametrize(
    ("eighths", "read"),
    [(21, '2 5/8"'), (1, '1/8"'), (7, '7/8"'), (13, '1 5/8"'), (252, '31½"'), (6, '¾"'), (48, '6"')],
)
def test_eighths_of_an_inch_are_read_as_eighths(plain_garden: Project, eighths: int, read: str) -> None:
    """The letters of the sheets have no sign for eighths: 2 5/8 inches stood there as 25."""

    def draw(pen: Pen) -> None:
        pen.text((20, 100), f"riser {show_length(eighths * INCH / 8, small=True)}, Ştefan", size_mm=3.0)

    leaf = Leaf(number="L9", title="letters", size=ways("A4")[0], draw=draw)
    page = PdfReader(BytesIO(written(plain_garden, [leaf], Issue(), title="letters"))).pages[0]
    assert words(page)[0].text in (f"riser {read}, Ştefan", f"riser {read}, Stefan")
