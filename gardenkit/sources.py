"""Figures that remember where they came from: a number, its unit, and the page that printed it."""

from typing import Self

HOUSE = "house value"  # our own judgement, said so wherever it is shown
COMMON = "common practice, no source"
MEMORY = "from memory, to be confirmed"
PLAIN = "plain arithmetic or geometry"


class Figure(float):
    """A plain float that also carries ``unit`` and ``source``; arithmetic gives back plain floats.

    >>> Figure(0.1016, "m", COMMON).source
    'common practice, no source'
    """

    __slots__ = ("source", "unit")
    unit: str
    source: str

    def __new__(cls, value: float, unit: str, source: str) -> Self:
        """Return the number with its unit and source."""
        figure = super().__new__(cls, value)
        figure.unit = unit
        figure.source = source
        return figure

    def __getnewargs__(self) -> tuple[float, str, str]:  # type: ignore[override]  # copied and pickled with its source
        return float(self), self.unit, self.source

    def __repr__(self) -> str:
        return f"Figure({float(self)!r}, {self.unit!r}, {self.source!r})"

    def cited(self) -> str:
        """Return the figure as a sentence part: ``0.1016 m (common practice, no source)``."""
        return f"{float(self):g} {self.unit} ({self.source})".replace("  ", " ")
