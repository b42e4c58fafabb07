"""The fields of a want: what the client asks for, how much it matters, and the fact that it is checked by."""

from typing import Any

from gardenkit import reading
from gardenkit.brief.wants import FACTS, Want
from gardenkit.findings import GardenError
from gardenkit.notebook.record_editor import Column, FieldError, Kind
from gardenkit.project import Project
from gardenkit.project.edits import brief as edits
from gardenkit.units import SQUARE_FOOT, System, length, show_area, show_length

COMPARED = ("at least", "at most", "exactly")
BY_EYE = ""
Amount = tuple[float, str]  # and the unit of the fact it is an amount of


def typed(amount: float, unit: str, units: System) -> str:
    """Return an amount as the designer would type it, in the garden's units."""
    if unit == "m":
        return show_length(amount, units)
    return show_area(amount, units) if unit == "m2" else f"{amount:g}"


def _amount(text: str, fact: str, units: System) -> float:
    words, unit, imperial = FACTS[fact].words, FACTS[fact].unit, units == "imperial"
    if unit == "m":
        return length(text, bare="ft" if imperial else "m", where=words)
    if unit == "m2":
        number = reading.amount(text.lower().replace("sq ft", "").replace("m2", "").replace("m²", ""), words)
        return number * SQUARE_FOOT if imperial and "m" not in text.lower() else number
    return reading.amount(text, words)


def _finished(values: dict[str, Any], units: System) -> dict[str, Any]:
    """Read the amount in the unit of its fact; one that was not touched comes back as it is on record."""
    given, fact = values["amount"], values["fact"]
    if fact == BY_EYE:
        return {**values, "amount": 0.0}
    if isinstance(given, tuple):
        if given[1] == FACTS[fact].unit:
            return {**values, "amount": given[0]}
        given = typed(given[0], given[1], units)
    try:
        return {**values, "amount": _amount(given, fact, units)}
    except GardenError as error:
        raise FieldError(str(error), "amount") from error


def _values(want: Want) -> dict[str, Any]:
    check = want.check
    asked = ("", COMPARED[0], (1.0, "")) if check is None else (check.fact, check.compare, _held(want))
    return {"text": want.text, "weight": want.weight, **dict(zip(("fact", "compare", "amount"), asked, strict=True))}


def _held(want: Want) -> Amount:
    return (want.check.amount, FACTS[want.check.fact].unit) if want.check else (1.0, "")


def _plain(key: str, words: str, **more: Any) -> Column:
    return Column(key=key, words=words, read=lambda text, *_: text, show=lambda value, _: str(value), **more)


def _index(project: Project, want: Want) -> int:
    """Return which line of the list a want is; past the end when it is gone, which the edit refuses."""
    wants = project.brief.wants
    return wants.index(want) if want in wants else len(wants)


WANT = Kind(
    word="want",
    columns=(
        _plain("text", "What the client wants", hint=("in their words", "in their words"), own=True),
        _plain("weight", "How much it matters", options=tuple((w, w) for w in ("wish", "must", "maybe")), listed=True),
        _plain("fact", "Checked by", options=(("judge by eye", BY_EYE), *((f.words, key) for key, f in FACTS.items()))),
        _plain("compare", "How", options=tuple((w, w) for w in COMPARED)),
        Column(
            key="amount",
            words="Amount",
            start=("1", "1"),
            read=lambda text, *_: text,
            show=lambda value, units: typed(value[0], value[1], units),
        ),
    ),
    of=lambda project: project.brief.wants,
    add=lambda project, values: edits.ask_for(project, **values),
    change=lambda project, old, values: edits.ask_instead(project, _index(project, old), **values),
    remove=lambda project, old: edits.remove_want(project, _index(project, old)),
    values=_values,
    finished=_finished,
)
