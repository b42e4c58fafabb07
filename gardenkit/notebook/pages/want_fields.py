"""The fields of a want: what the client asks for, for whom, how much it matters, and what it is checked by."""

import datetime as dt
from typing import Any

from gardenkit import reading
from gardenkit.brief.asking import Asked
from gardenkit.brief.want_kinds import WANT_KINDS
from gardenkit.brief.wants import FACTS, Want
from gardenkit.findings import GardenError
from gardenkit.garden.answers.judging import in_words
from gardenkit.notebook.record_editor import Column, FieldError, Kind
from gardenkit.project import Project
from gardenkit.project.edits import brief as edits
from gardenkit.units import US_GALLON, System, area, length, show_area, show_length, water

WEIGHTS = ("should", "must", "could")
COMPARED = ("at least", "at most", "exactly")
BY_EYE = ""
COSTS = ("plant_cost", "cost_of")  # whose amount is money
ALWAYS = ("text", "whom", "weight", "area", "fact")
USUAL_HOURS = (12.0, 14.0)
Amount = tuple[float, str]  # and the unit of the fact or kind it is an amount of


def typed(amount: float, unit: str, units: System) -> str:
    """Return an amount as the designer would type it, in the garden's units."""
    if unit == "m":
        return show_length(amount, units)
    if unit == "L" and units == "imperial":
        return f"{amount / US_GALLON:.0f} gal"
    return show_area(amount, units) if unit == "m2" else reading.shown(amount)


def unit_of(key: str) -> str:
    """Return the unit of a fact or of a kind of want."""
    return WANT_KINDS[key].unit if key in WANT_KINDS else FACTS[key].unit


def shown_fields(key: str) -> tuple[str, ...]:
    """Return which fields of the form a want takes that is checked by a fact or a kind."""
    if key in FACTS:
        return (*ALWAYS, "compare", "amount")
    if key not in WANT_KINDS:
        return ALWAYS
    row = WANT_KINDS[key]
    takes = {
        "thing": row.thing,
        "other": row.other,
        "amount": row.compare,
        "months": row.months,
        "since": row.hours,
        "until": row.hours,
        "size": row.grown,
        "sun": row.grown,
        "year": row.year,
        "words": row.words_words,
    }
    return (*ALWAYS, *(field for field, taken in takes.items() if taken))


def field_words(key: str) -> dict[str, str]:
    """Return what stands beside the fields whose words hang on the kind."""
    if key not in WANT_KINDS:
        return {"amount": "Amount"}
    row = WANT_KINDS[key]
    compare = f", {row.compare}" if row.compare else ""
    choice = f" (any of: {', '.join(row.offered)})" if row.offered else ""
    words = f"{row.words_words}{choice}"
    return {
        "thing": row.thing_words,
        "other": row.other_words,
        "amount": f"{row.amount_words}{compare}",
        "words": words,
    }


def _amount(text: str, key: str, units: System, money: str) -> float:
    words = WANT_KINDS[key].amount_words.lower() if key in WANT_KINDS else FACTS[key].words
    unit, imperial = unit_of(key), units == "imperial"
    if unit == "m":
        return length(text, bare="ft" if imperial else "m", where=words)
    if unit == "m2":
        return area(text, units, words)
    if unit == "L":
        return water(text, units, words)
    bare = text.strip().removesuffix(unit if unit == "%" else "")
    return reading.amount(bare, words, money=money if key in COSTS else None)


def _size(text: str, units: System, what: str) -> float:
    """Return m2 of ground; nothing typed is no size."""
    return area(text, units, what) if text.strip() else 0.0


def _finished(values: dict[str, Any], project: Project) -> dict[str, Any]:
    """Return a want's fields as the edit takes them: only those that its fact or kind has, the amount in its unit.

    An amount that was not touched comes back as it is on record.
    """
    key = values["fact"]
    kept = {field: values[field] for field in shown_fields(key) if field != "fact"}
    if key == BY_EYE:
        return kept
    if "amount" in kept:
        kept["amount"] = _finished_amount(values["amount"], key, project)
    return kept | ({"asks": key} if key in WANT_KINDS else {"fact": key})


def _finished_amount(given: str | Amount, key: str, project: Project) -> float:
    if isinstance(given, tuple):
        if given[1] == unit_of(key):
            return given[0]
        given = typed(given[0], given[1], project.units)
    try:
        return _amount(given, key, project.units, project.brief.currency)
    except GardenError as error:
        raise FieldError(str(error), "amount") from error


def _values(want: Want) -> dict[str, Any]:
    asked, check = want.asks or Asked(kind=""), want.check
    key = asked.kind or (check.fact if check else BY_EYE)
    amount = asked.amount if want.asks else check.amount if check else 1.0
    hours = (asked.since, asked.until) if asked.until else USUAL_HOURS
    return {
        "text": want.text,
        "whom": want.whom,
        "area": want.area,
        "weight": want.weight,
        "fact": key,
        "compare": check.compare if check else COMPARED[0],
        "thing": asked.thing,
        "other": asked.other,
        "amount": (amount, unit_of(key) if key else ""),
        "months": asked.months,
        "since": hours[0],
        "until": hours[1],
        "size": asked.size,
        "sun": asked.sun,
        "year": asked.year,
        "words": asked.words,
    }


def _plain(key: str, words: str, **more: Any) -> Column:
    return Column(key=key, words=words, read=lambda text, *_: text, show=lambda value, _: str(value), **more)


def _hour(text: str, what: str) -> float:
    if text.strip() == "24:00":
        return 24.0
    found = reading.time(text, what)
    return found.hour + found.minute / 60


def _clock(hour: float) -> str:
    minutes = round(hour * 60)
    return "24:00" if minutes >= 24 * 60 else f"{dt.time(minutes // 60, minutes % 60):%H:%M}"


def _hours(key: str, words: str, start: float) -> Column:
    return Column(
        key=key,
        words=words,
        read=lambda text, _, what: _hour(text, what),
        show=lambda value, _: _clock(value),
        start=(_clock(start), _clock(start)),
    )


def _words(text: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in text.replace("\n", ";").replace(",", ";").split(";") if word.strip())


def _index(project: Project, want: Want) -> int:
    """Return which line of the list a want is; past the end when it is gone, which the edit refuses."""
    wants = project.brief.wants
    return wants.index(want) if want in wants else len(wants)


NOTHING = (("choose ...", ""),)
WANT = Kind(
    word="want",
    columns=(
        _plain("text", "What the client wants", hint=("in their words", "in their words"), own=True),
        _plain("whom", "For whom", hint=("everybody", "everybody"), own=True),
        _plain("weight", "How much it matters", options=tuple((w, w) for w in WEIGHTS), listed=True),
        _plain(
            "area",
            "For which area of the property",
            options=(("the whole property", ""),),
            offered=lambda project: [(area.name, area.name) for area in project.areas],
            listed=True,
        ),
        _plain(
            "fact",
            "Checked by",
            options=(
                ("judge by eye", BY_EYE),
                *((row.words, key) for key, row in WANT_KINDS.items()),
                *((f"figure: {fact.words}", key) for key, fact in FACTS.items()),
            ),
        ),
        _plain("compare", "How", options=tuple((w, w) for w in COMPARED)),
        _plain("thing", "Thing", options=NOTHING),
        _plain("other", "Other thing", options=NOTHING),
        Column(
            key="amount",
            words="Amount",
            start=("1", "1"),
            read=lambda text, *_: text,
            show=lambda value, units: typed(value[0], value[1], units),
        ),
        Column(
            key="months",
            words="Months (none: as usual)",
            hint=("April to June, October", "April to June, October"),
            read=lambda text, _, what: reading.months(text, what),
            show=lambda value, _: in_words(value),
        ),
        _hours("since", "From, by the clock", USUAL_HOURS[0]),
        _hours("until", "To, by the clock", USUAL_HOURS[1]),
        Column(
            key="size",
            words="On ground of at least",
            hint=("any size", "any size"),
            read=_size,
            show=lambda value, units: show_area(value, units) if value else "",
            own=True,
        ),
        Column(
            key="sun",
            words="Hours of direct sun a day, at least",
            hint=("any", "any"),
            read=lambda text, _, what: reading.between(text, what, low=0, high=24) if text.strip() else 0.0,
            show=lambda value, _: reading.shown(value) if value else "",
            own=True,
        ),
        Column(
            key="year",
            words="In which year after planting",
            start=("5", "5"),
            read=lambda text, _, what: reading.whole(text, what, low=0, high=50, unit="years"),
            show=lambda value, _: str(value),
        ),
        Column(
            key="words",
            words="Words",
            hint=("with commas between", "with commas between"),
            read=lambda text, *_: _words(text),
            show=lambda value, _: ", ".join(value),
        ),
    ),
    of=lambda project: project.brief.wants,
    add=lambda project, values: edits.ask_for(project, **values),
    change=lambda project, old, values: edits.ask_instead(project, _index(project, old), **values),
    remove=lambda project, old: edits.remove_want(project, _index(project, old)),
    values=_values,
    finished=_finished,
)
