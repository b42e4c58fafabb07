"""The fields that say where four points of a wall photo are on the wall: a measured rectangle, or four points."""

import ipywidgets as w

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.units import System, length

KNOWN = ("a rectangle of known size", "four measured points")


class KnownPoints(w.VBox):
    """A choice between a rectangle and four points, and the fields of what is chosen."""

    def __init__(self, units: System) -> None:
        self.units = units
        self.which = controls.choice("A B C D are", KNOWN[0], KNOWN, self.choose, name="wall-known")
        self.rectangle = Form(_rectangle_entries(units), name="wall-rectangle")
        self.four = Form(_four_entries(units), name="wall-four")
        super().__init__([self.which, self.rectangle], layout=w.Layout(width="100%"))

    def choose(self, known: str) -> None:
        """Ask for the size of a rectangle, or for four points."""
        self.children = (self.which, self.rectangle if known == KNOWN[0] else self.four)

    def filled(self) -> bool:
        """Return whether something is typed in every field."""
        form = self.rectangle if self.which.bar.value == KNOWN[0] else self.four
        return all(form.texts().values())

    def points(self) -> tuple[Point, ...]:
        """Return where A B C D are, in metres along the wall and up from its lower left corner seen from outside.

        Raises GardenError for a field that cannot be read or a rectangle without size.
        """
        if self.which.bar.value == KNOWN[1]:
            return tuple(
                forms.point(text, self.units, f"point {key.upper()} on the wall")
                for key, text in self.four.texts().items()
            )
        texts, bare = self.rectangle.texts(), forms.bare_unit(self.units)
        wide, high = (length(texts[k], bare=bare, where=f"the rectangle's {k}") for k in ("width", "height"))
        if min(wide, high) <= 0:
            raise GardenError("the rectangle on the wall has no size; give a width and a height above 0")
        x, y = forms.point(texts["at"] or "0, 0", self.units, "the rectangle's lower left")
        return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def _rectangle_entries(units: System) -> tuple[Entry, ...]:
    wide, high, at = ("1.2 m", "2.1 m", "2.4 m, 0 m") if units == "metric" else ("4'", "6' 11\"", "8', 0'")
    words = "A from the wall's lower left, seen from outside: along, up"
    return (
        Entry(key="width", words="Its width, A to B", hint=wide),
        Entry(key="height", words="Its height, A to D", hint=high),
        Entry(key="at", words=words, hint=at, start="0, 0"),
    )


def _four_entries(units: System) -> tuple[Entry, ...]:
    hints = ("0, 0", "4.8, 0", "4.8, 2.9", "0, 2.9") if units == "metric" else ("0, 0", "16', 0", "16', 9'", "0, 9'")
    words = "A from the wall's lower left, seen from outside: along, up"
    return tuple(
        Entry(key=k, words=words if k == "a" else f"{k.upper()}: along, up", hint=hint)
        for k, hint in zip("abcd", hints, strict=True)
    )
