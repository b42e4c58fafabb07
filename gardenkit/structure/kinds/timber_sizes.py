"""How thick and deep the timbers of supports are: beams and rafters by a published span table, all else by habit.

The tables are those of decks that carry people, 40 lb a square foot, so an open roof with climbers is well inside them.
Snow, wind, a roof put on and local codes are for a builder or engineer.
"""

import attrs

from gardenkit.findings import LOCAL_CODE
from gardenkit.sources import HOUSE, Figure
from gardenkit.units import FOOT, INCH, System

JOISTS = "AWC DCA 6, table 2: deck joists at 16 in of redwood, western cedar or ponderosa pine"
BEAMS = "decks.com, deck beams by post spacing and joist length, ponderosa pine no. 2"
ASK = f"a builder or engineer decides, above all for snow, wind or a roof; {LOCAL_CODE}"


@attrs.frozen(kw_only=True)
class TimberSize:
    """A section as it is sold: its name in an order, and ``thick`` and ``deep`` in inches as planed and in millimetres
    as metric countries saw it.
    """

    item: str
    words: str
    inches: tuple[float, float]
    millimetres: tuple[int, int]

    def thick(self, units: System) -> float:
        """Return how thick it is, metres."""
        return self.inches[0] * INCH if units == "imperial" else self.millimetres[0] / 1000

    def deep(self, units: System) -> float:
        """Return how deep it stands, metres."""
        return self.inches[1] * INCH if units == "imperial" else self.millimetres[1] / 1000

    def said(self, units: System) -> str:
        """Return the section in the words of the trade of a garden's units."""
        thick, deep = self.millimetres
        return f"{self.words} in" if units == "imperial" else f"{thick} x {deep} mm"


# Planed sizes: American Softwood Lumber Standard PS 20; metric ones as sold in Australia and New Zealand
LATH = TimberSize(item="timber 2 x 2", words="2 x 2", inches=(1.5, 1.5), millimetres=(45, 45))
RAIL = TimberSize(item="timber 2 x 4", words="2 x 4", inches=(1.5, 3.5), millimetres=(45, 90))
SIX = TimberSize(item="timber", words="2 x 6", inches=(1.5, 5.5), millimetres=(45, 140))
EIGHT = TimberSize(item="timber 2 x 8", words="2 x 8", inches=(1.5, 7.25), millimetres=(45, 190))
TEN = TimberSize(item="timber 2 x 10", words="2 x 10", inches=(1.5, 9.25), millimetres=(45, 240))
SIZES = (LATH, RAIL, SIX, EIGHT, TEN)
HABIT = f"section by habit; {HOUSE}"
CONFIRM = "size to be confirmed by a builder or engineer"

RAFTERS: tuple[tuple[TimberSize, Figure], ...] = (  # how far each spans
    (SIX, Figure(8 * FOOT, "m", JOISTS)),
    (EIGHT, Figure(10.583 * FOOT, "m", JOISTS)),
    (TEN, Figure(13 * FOOT, "m", JOISTS)),
)
PAIRS: tuple[tuple[TimberSize, Figure, Figure], ...] = (  # of two side by side: posts apart, rafters long at most
    (SIX, Figure(5 * FOOT, "m", BEAMS), Figure(9 * FOOT, "m", BEAMS)),
    (EIGHT, Figure(8 * FOOT, "m", BEAMS), Figure(8 * FOOT, "m", BEAMS)),
    (EIGHT, Figure(7 * FOOT, "m", BEAMS), Figure(10 * FOOT, "m", BEAMS)),
    (TEN, Figure(8 * FOOT, "m", BEAMS), Figure(11 * FOOT, "m", BEAMS)),
)


def rafter_size(span: float) -> TimberSize | None:
    """Return the section of rafters over so many metres, None beyond the table."""
    return next((size for size, most in RAFTERS if span <= most + 1e-9), None)


def beam_size(apart: float, rafters: float) -> TimberSize | None:
    """Return the section of the two boards of a beam with posts so many metres apart that carries ``rafters`` of a
    length, None beyond the table.
    """
    fits = (size for size, posts, long in PAIRS if apart <= posts + 1e-9 and rafters <= long + 1e-9)
    return next(fits, None)
