"""Reading a sheet as whoever builds from it does: the words with their places and the straight lines, mm (pypdf)."""

import math
import re

import attrs
from pypdf import PageObject

POINT = 25.4 / 72  # mm


@attrs.frozen
class Word:
    """One line of text with the left end of its baseline and its letter size, mm."""

    text: str
    x: float
    y: float
    size: float


def words(page: PageObject) -> list[Word]:
    """Return every text on a page in the order drawn."""
    found: list[Word] = []

    def keep(text: str, matrix: list[float], place: list[float], font: object, size: float) -> None:
        if text.strip():
            x = matrix[0] * place[4] + matrix[2] * place[5] + matrix[4]
            y = matrix[1] * place[4] + matrix[3] * place[5] + matrix[5]
            found.append(Word(text.strip("\n"), x * POINT, y * POINT, size * POINT))

    page.extract_text(visitor_text=keep)
    return found


def runs(page: PageObject) -> list[float]:
    """Return the lengths in mm of all straight pieces drawn on a page, longest first."""
    drawn = page.get_contents().get_data().decode("latin-1")  # type: ignore[union-attr]
    found, first, last = [], (0.0, 0.0), (0.0, 0.0)
    for x, y, kind, close in re.findall(r"(-?[\d.]+) (-?[\d.]+) ([ml])\b|\b(h)\b", drawn):
        at = first if close else (float(x), float(y))
        if kind == "m":
            first = at
        else:
            found.append(math.dist(last, at) * POINT)
        last = at
    return sorted(found, reverse=True)
