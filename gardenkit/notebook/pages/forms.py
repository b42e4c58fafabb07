"""Forms for what was found on the site: fields that are filled in together and read when a button is pressed."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

import attrs
import ipywidgets as w

from gardenkit import reading
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Point
from gardenkit.notebook import controls
from gardenkit.notebook.controls import Labelled
from gardenkit.units import SAID, System, length, lengths_of, show_length

CHART_PX = 400  # a chart of the year beside the plan
ROW_PX = 20  # height of a line in a field of several lines
_RECTANGLE = re.compile(r"^(?P<wide>[^;\n]+?)\s*(?:[x×]|\bby\b)\s*(?P<deep>[^;\n]+?)(?:\s+at\s+(?P<at>.+))?$", re.I)


@attrs.frozen(kw_only=True)
class Entry:
    """One field of a form: its words, a hint, choices when it is a list, lines when it takes several."""

    key: str
    words: str
    hint: str = ""
    options: tuple[tuple[str, str], ...] = ()  # (words, value)
    rows: int = 1
    start: str = ""


class Form(w.VBox):
    """Fields under one another. ``show`` leaves alone what the designer is typing, until the record itself changes."""

    def __init__(self, entries: Sequence[Entry], *, name: str) -> None:
        self.boxes = {entry.key: _box(entry, f"{name}-{entry.key}") for entry in entries}
        self.shown: dict[str, str] = {}
        super().__init__(list(self.boxes.values()), layout=w.Layout(width="100%"))

    def texts(self) -> dict[str, str]:
        """Return what stands in the fields."""
        return {key: str(box.bar.value).strip() for key, box in self.boxes.items()}

    def fill(self, **texts: str) -> None:
        """Type into fields."""
        for key, text in texts.items():
            self.boxes[key].show(text)

    def show(self, texts: Mapping[str, str], *, again: bool = False) -> None:
        """Show a record's texts; fields whose record has not changed keep what is being typed, unless ``again``."""
        for key, text in texts.items():
            if again or self.shown.get(key) != text:
                self.boxes[key].show(text)
        self.shown = dict(texts)

    def complain(self, key: str = "", text: str = "") -> None:
        """Say beside one field what is wrong with what stands in it, and nothing beside the others."""
        for name, box in self.boxes.items():
            box.complain(text if name == key else "")


def lines(text: str, *, rows: int, name: str, hint: str = "") -> Labelled:
    """Return a labelled field of several lines."""
    area = w.Textarea(placeholder=hint, layout=w.Layout(width="96%", height=f"{rows * ROW_PX + 14}px"))
    area.add_class(f"gk-field-{name}")
    return Labelled([controls.label(text), area], area)


def sections(titled: Sequence[tuple[str, Sequence[w.Widget]]]) -> w.Accordion:
    """Return groups of controls of which one is open at a time."""
    made = w.Accordion(children=[w.VBox(list(children)) for _, children in titled], layout=w.Layout(width="98%"))
    for number, (title, _) in enumerate(titled):
        made.set_title(number, title)
    made.selected_index = 0
    return made


def beside(*children: w.Widget) -> w.HBox:
    """Return tables and charts in a row that wraps when the page is narrow."""
    return w.HBox(
        list(children),
        layout=w.Layout(width="100%", flex_flow="row wrap", align_items="flex-start", grid_gap="12px 36px"),
    )


def picture(drawing: str, *, width_px: int) -> str:
    """Return an SVG drawing held to a width on the page."""
    return f'<div style="width:{width_px}px;max-width:100%">{drawing}</div>'


def relist(box: Labelled, options: Sequence[tuple[str, Any]], value: Any) -> None:
    """Offer other options in a list and show the one with ``value``, else the first, without calling anyone."""
    values = [each for _, each in options]
    box.quiet = True
    try:
        if list(box.bar.options) != list(options):  # a list that is sent again shows nothing for a moment
            box.bar.options = list(options)
        if options:
            box.bar.index = values.index(value) if value in values else 0
    finally:
        box.quiet = False


# ---- reading


def bare_unit(units: System) -> str:
    """Return the unit of a length typed without one."""
    return "ft" if units == "imperial" else "m"


def number(text: str, words: str, *, low: float, high: float, unit: str = "") -> float:
    """Return a plain number between two limits; raises GardenError."""
    try:
        return reading.between(text, words, low=low, high=high, unit=unit)
    except GardenError as error:
        if "cannot read" not in str(error):
            raise
        raise GardenError(
            f'cannot read "{text.strip()[:SAID]}" for {words}; type a plain number like {_example(low, high)}'
        ) from error


def number_or_none(text: str, words: str, *, low: float, high: float, unit: str = "") -> float | None:
    """Return a number, None for an empty field."""
    return number(text, words, low=low, high=high, unit=unit) if text.strip() else None


def point(text: str, units: System, where: str) -> Point:
    """Return a plan point typed as x, y in the garden's lengths, such as ``4', 12' 6"``."""
    parts = lengths_of(text)
    if len(parts) != 2:
        example = "12' 6\", 4'" if units == "imperial" else "3.8 m, 1.2 m"
        raise GardenError(
            f'"{text.strip()[:SAID]}" for {where} is not a place on the plan; type x and y with a comma, like {example}'
        )
    x, y = (length(p, bare=bare_unit(units), where=where, signed=True) for p in parts)
    return (x, y)


def points(text: str, units: System, where: str, *, known: Sequence[Point] = ()) -> tuple[Point, ...]:
    """Return plan points, one a line or with semicolons between; a text showing a ``known`` point gives it exactly."""
    exact = {show_point(p, units): p for p in known}
    pieces = [piece.strip() for piece in re.split(r"[;\n]", text) if piece.strip()]
    if not pieces:
        raise GardenError(f"no points are given for {where}; type one place on each line as x, y")
    return tuple(exact[piece] if piece in exact else point(piece, units, where) for piece in pieces)


def outline(text: str, units: System, where: str, *, known: Sequence[Point] = ()) -> Outline:
    """Return an outline typed as its corners in order, or as a rectangle ``40 x 60`` (``at 5, 20`` its lower left
    corner).
    """
    rectangle = _RECTANGLE.match(text.strip())
    if rectangle is None:
        return plane.outline(points(text, units, where, known=known), where=where)
    wide, deep = (length(rectangle[k], bare=bare_unit(units), where=where) for k in ("wide", "deep"))
    x, y = point(rectangle["at"], units, where) if rectangle["at"] else (0.0, 0.0)
    return plane.outline([(x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep)], where=where)


def show_point(at: Point, units: System) -> str:
    """Return a point as it is typed."""
    return f"{show_length(at[0], units)}, {show_length(at[1], units)}"


def show_points(many: Sequence[Point], units: System, *, between: str = "; ") -> str:
    """Return points as they are typed."""
    return between.join(show_point(at, units) for at in many)


# ---- helpers


def _box(entry: Entry, name: str) -> Labelled:
    if entry.options:
        return controls.choice(
            entry.words, entry.start or entry.options[0][1], entry.options, lambda _: None, name=name
        )
    if entry.rows > 1:
        return lines(entry.words, rows=entry.rows, name=name, hint=entry.hint)
    return controls.field(entry.words, entry.start, lambda _: None, name=name, hint=entry.hint)


def _example(low: float, high: float) -> str:
    return f"{max(low, min(high, 6.5)):g}"
