"""Every sheet of every example as it is lettered: no letters too small, none over the border, none twice."""

import io
import math
from collections import Counter
from pathlib import Path

import attrs
import pytest
from reportlab.pdfgen.canvas import Canvas

from gardenkit.drawing.scene import Label, Plain
from gardenkit.garden import Garden
from gardenkit.geometry.plane import Point
from gardenkit.handover import drawing_set
from gardenkit.handover.paper import COLUMN, MARGIN, Issue, title_block
from gardenkit.handover.pdf import FACES, MM, Pen

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
LEAST = 2.5  # mm


@attrs.frozen
class Lettered:
    """A line of text as it stands on a sheet: its two ends on the baseline and its size, mm."""

    text: str
    start: Point
    end: Point
    size: float


class Lettering(Pen):
    """A pen that draws nothing and keeps what is written."""

    def __init__(self, canvas: Canvas) -> None:
        super().__init__(canvas)
        self.kept: list[Lettered] = []

    def text(self, at: Point, words: str, *, size_mm: float, **how: object) -> None:
        """Keep one line of text where it stands."""
        face = FACES[bool(how.get("bold")), bool(how.get("italic"))]
        long, width = self.canvas.stringWidth(words, face, size_mm * MM) / MM, how.get("width")
        long = min(long, float(width)) if isinstance(width, float | int) and width else long  # narrowed to fit
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[str(how.get("anchor", "start"))] * long
        turn = math.radians(-float(str(how.get("turn", 0.0))))
        way = (math.cos(turn), math.sin(turn))
        ends = [(at[0] + far * way[0], at[1] + far * way[1]) for far in (-back, long - back)]
        self.kept.append(Lettered(words, ends[0], ends[1], size_mm))

    def rule(self, a: Point, b: Point, **how: object) -> None:
        """Draw no line."""

    def _mark(self, mark: Plain) -> None:
        if isinstance(mark, Label):
            super()._mark(mark)


@pytest.mark.parametrize("name", ["fennel_street_corner", "lantern_lane_strip", "quarry_brow_hillside"])
def test_every_sheet_is_lettered_within_its_border_large_enough_and_once(name: str):
    garden = Garden.open(EXAMPLES / name)
    leaves = drawing_set.leaves(garden)
    assert len(leaves) >= 11
    for leaf in leaves:
        pen = Lettering(Canvas(io.BytesIO()))
        leaf.draw(pen)
        title_block(pen, garden.project, leaf, Issue.of(garden.project))
        assert min(one.size for one in pen.kept) >= LEAST - 1e-9, leaf.number
        for one in pen.kept:
            for x, y in (one.start, one.end):
                assert MARGIN - 1e-6 <= x <= leaf.size.wide - MARGIN + 1e-6, (leaf.number, one)
                assert MARGIN - 1e-6 <= y <= leaf.size.high - MARGIN + 1e-6, (leaf.number, one)
        in_column = leaf.size.wide - MARGIN - COLUMN
        over = [one for one in pen.kept if one.start[0] < in_column - 1e-6 < one.end[0] - 0.5]
        assert not over, (leaf.number, over)
        twice = Counter((one.text, round(one.start[0], 2), round(one.start[1], 2)) for one in pen.kept)
        assert max(twice.values()) == 1, (leaf.number, twice.most_common(1))
