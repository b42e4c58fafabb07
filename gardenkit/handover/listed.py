"""A list in the right column of a sheet that loses nothing: what finds no room goes on over sheets of its own."""

import string
from collections.abc import Callable, Sequence

import attrs

from gardenkit.drawing import style
from gardenkit.handover.paper import COLUMN, LETTERS, Leaf, SheetSize, column, frame, wrapped, wrapped_note
from gardenkit.handover.pdf import Pen

HEAD, AFTER, APART = 3.8, 1.6, 6.0  # mm: a bold line, the white after an entry, and between two columns. House values.
LINE = 3.6  # mm from line to line of a note, as wrapped_note writes it
AMOUNT = 26.0  # mm kept at the right of a bold line for its amount. House value.


@attrs.frozen(kw_only=True)
class Entry:
    """One entry of a list: a bold line with an amount at its right, and lines below it."""

    head: str
    amount: str = ""
    lines: tuple[str, ...] = ()


def listed(
    leaf: Leaf, entries: Sequence[Entry], *, note: str = "", heading: str = "", before: float = 0.0
) -> tuple[Leaf, ...]:
    """Return a sheet with a note and a list in its right column, and further sheets for what finds no room there.

    ``leaf`` draws the rest of the first sheet; ``before`` mm of its column are taken already.
    """
    x, low, right, top = column(leaf.size)
    wide = right - x
    start = top - before - (LINE * len(wrapped(note, wide)) + 3 if note else 0.0) - (5.5 if heading else 0.0)
    here, rest = _taken(entries, start - low, wide)

    def draw(pen: Pen) -> None:
        leaf.draw(pen)
        y = top - before
        if note:
            y = wrapped_note(pen, (x, y), note, wide=wide) - 3
        if heading:
            pen.text((x, y), heading, size_mm=3.4, bold=True)
            y -= 5.5
        _column(pen, here, (x, y), wide)

    leaves = [attrs.evolve(leaf, draw=draw)]
    while rest:
        columns, rest = _columns(rest, leaf.size)
        number = f"{leaf.number}{string.ascii_lowercase[len(leaves) % 26]}"
        leaves.append(
            Leaf(number=number, title=f"{leaf.title}, continued", size=leaf.size, draw=_page(columns, leaf.size))
        )
    return tuple(leaves)


# ---- helpers


def _high(entry: Entry, wide: float) -> float:
    return HEAD + LINE * sum(len(wrapped(line, wide)) for line in entry.lines) + AFTER


def _taken(entries: Sequence[Entry], room: float, wide: float) -> tuple[list[Entry], list[Entry]]:
    """Return the entries that a room of so many mm holds, and the others."""
    left = room
    for number, entry in enumerate(entries):
        left -= _high(entry, wide)
        if left < 0:
            return list(entries[:number]), list(entries[number:])
    return list(entries), []


def _columns(entries: Sequence[Entry], size: SheetSize) -> tuple[list[list[Entry]], list[Entry]]:
    """Return the entries of a sheet without a drawing, column by column, and what is left; each column has one at
    least.
    """
    low_x, low_y, high_x, high_y = frame(size)
    wide, found, rest = COLUMN - APART, list[list[Entry]](), list(entries)
    for _ in range(max(1, int((high_x - low_x) / COLUMN))):
        here, after = _taken(rest, high_y - low_y - 12, wide)
        if not here and rest:
            here, after = rest[:1], rest[1:]
        found.append(here)
        rest = after
    return found, rest


def _page(columns: Sequence[Sequence[Entry]], size: SheetSize) -> Callable[[Pen], None]:
    left, _, _, top = frame(size)

    def draw(pen: Pen) -> None:
        for number, entries in enumerate(columns):
            _column(pen, entries, (left + 4 + number * COLUMN, top - 7), COLUMN - APART)

    return draw


def _column(pen: Pen, entries: Sequence[Entry], at: tuple[float, float], wide: float) -> None:
    x, y = at
    for entry in entries:
        taken = AMOUNT if entry.amount else 0.0
        pen.text((x, y), entry.head, size_mm=LETTERS, bold=True, width=wide - taken)
        if entry.amount:
            pen.text((x + wide, y), entry.amount, size_mm=LETTERS, anchor="end", colour=style.INK, width=AMOUNT - 1)
        y -= HEAD
        for line in entry.lines:
            y = wrapped_note(pen, (x, y), line, wide=wide)
        y -= AFTER
