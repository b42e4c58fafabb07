"""The fields that kinds of records share: words, a choice from a list, a size, a share of the light, corners."""

from typing import Any

from gardenkit import units as units_of
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Outline
from gardenkit.notebook.pages import forms
from gardenkit.notebook.record_editor import Column, Read
from gardenkit.units import SQUARE_FOOT, System, length, show_length

NO, YES = "no", "yes"
CORNERS = (
    "0, 38\n16, 38 ...\nor: 30 x 24 at 5, 20",
    "0, 12\n5, 12 ...\nor: 9 x 7 at 2, 6",
)


def text(key: str, words: str, **more: Any) -> Column:
    """Return a field for words, or with ``options`` for one of them."""
    return Column(key=key, words=words, read=lambda typed, *_: typed.strip(), show=lambda v, _: str(v), **more)


def name(hint: str = "") -> Column:
    """Return the field of a record's name."""
    return text("name", "Name", own=True, hint=(hint, hint))


def alike(*words: str) -> tuple[tuple[str, str], ...]:
    """Return options that are typed as they are said."""
    return tuple((word, word) for word in words)


def either(key: str, words: str) -> Column:
    """Return the field of what is there or not."""
    return Column(
        key=key,
        words=words,
        read=lambda typed, *_: typed == YES,
        show=lambda v, _: YES if v else NO,
        options=alike(NO, YES),
    )


def size(key: str, words: str, start: tuple[str, str], *, read: Read | None = None, listed: bool = False) -> Column:
    """Return the field of a length that a new record begins with."""
    return Column(key=key, words=words, read=read or _length, show=show_length, start=start, listed=listed)


def usual(key: str, words: str, *, listed: bool = False) -> Column:
    """Return the field of a length that is the kind's usual one while nothing is typed; it reads as None then."""
    hint = ("the usual", "the usual")
    return Column(key=key, words=words, read=_length_or_none, show=show_length, hint=hint, own=True, listed=listed)


def area(key: str, words: str) -> Column:
    """Return the field of an area that is not said while it is empty; it reads as 0 then."""
    hint = ("sq ft; empty: not said", "m²; empty: not said")
    return Column(key=key, words=words, read=_area, show=_area_typed, hint=hint, own=True)


def light(key: str, words: str, start: str = "", *, usual: bool = False) -> Column:
    """Return the field of a share of the light, typed in percent; ``usual``: an empty one is the kind's, as None."""
    hint = "the usual" if usual else ""
    return Column(
        key=key,
        words=f"{words}, percent",
        read=_share_or_none if usual else _share,
        show=lambda v, _: f"{100 * v:g}",
        start=(start, start),
        hint=(hint, hint),
        own=usual,
    )


def corners(words: str, *, needed: bool = True) -> Column:
    """Return the field of an outline; where none is ``needed`` an empty field is an empty outline."""
    return Column(
        key="outline",
        words=words,
        rows=5 if needed else 3,
        own=True,
        hint=CORNERS,
        read=forms.outline if needed else _outline_or_none,
        show=lambda v, u: forms.show_points(v, u, between="\n"),
    )


# ---- reading


def _area(text: str, units: System, where: str) -> float:
    return units_of.area(text, units, where) if text.strip() else 0.0


def _area_typed(value: float, units: System) -> str:
    word, square = ("sq ft", SQUARE_FOOT) if units == "imperial" else ("m²", 1.0)
    return f"{value / square:.2f}".rstrip("0").rstrip(".") + f" {word}" if value else ""


def above(text: str, units: System, where: str) -> float:
    """Return a length above 0."""
    value = _length(text, units, where)
    if value <= 0:
        raise GardenError(f"{where} is 0; give a length above 0")
    return value


def level(text: str, units: System, where: str) -> float:
    """Return a height over the plan's zero, below it too."""
    return length(text, bare=forms.bare_unit(units), where=where, signed=True)


def _share(text: str, _: System, where: str) -> float:
    return forms.number(text, where, low=0, high=100, unit="percent") / 100


def _share_or_none(text: str, units: System, where: str) -> float | None:
    return _share(text, units, where) if text.strip() else None


def _length(text: str, units: System, where: str) -> float:
    return length(text, bare=forms.bare_unit(units), where=where)


def _length_or_none(text: str, units: System, where: str) -> float | None:
    return _length(text, units, where) if text.strip() else None


def _outline_or_none(text: str, units: System, where: str) -> Outline:
    return forms.outline(text, units, where) if text.strip() else ()
