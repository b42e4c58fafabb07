"""A figure that is not known better than between two others: low, likely and high."""

from collections.abc import Iterable

import attrs


@attrs.frozen
class Span:
    """Low, likely and high of one figure, in its own unit.

    >>> Span(1, 2, 4) + Span(1, 1, 1) * 3
    Span(low=4, likely=5, high=7)
    """

    low: float = 0.0
    likely: float = 0.0
    high: float = 0.0

    def __add__(self, other: "Span") -> "Span":
        return Span(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def __mul__(self, times: float) -> "Span":
        return Span(self.low * times, self.likely * times, self.high * times)


def together(spans: Iterable[Span]) -> Span:
    """Return the sum of some spans: all low together, all high together, which is wider than most years turn out."""
    return sum(spans, start=Span())
