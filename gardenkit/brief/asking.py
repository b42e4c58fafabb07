"""What a want asks for about something on the plan, and how a garden answers it."""

from collections.abc import Iterable
from typing import Any, Literal

import attrs

from gardenkit.brief.want_kinds import want_kind
from gardenkit.brief.want_kinds.row import BEINGS, GRADES
from gardenkit.findings import GardenError, nearest
from gardenkit.tuples import lists_as_tuples

Verdict = Literal["met", "partly met", "not met", "not yet known", "to be judged by eye"]
ALL_YEAR = tuple(range(1, 13))


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Asked:
    """What a want asks for: ``kind`` (a row of WANT_KINDS), the ``thing`` and the ``other`` thing of the plan by name,
    an ``amount`` in the kind's unit (metres stay metres), ``months`` 1 to 12 (none: those the kind is usually judged
    in), clock hours ``since`` to ``until``, the ``year`` of growth it is judged in, and ``words``: colours, kinds of
    plants, whom it is for, as the kind takes them. ``size`` is m2 of ground and ``sun`` hours of direct sun a day
    in the growing season, each 0 where it is not asked for.
    """

    kind: str
    thing: str = ""
    other: str = ""
    amount: float = 0.0
    months: tuple[int, ...] = ()
    since: float = 0.0
    until: float = 0.0
    year: int = 5
    words: tuple[str, ...] = ()
    size: float = 0.0
    sun: float = 0.0


@attrs.frozen(kw_only=True)
class Answer:
    """How the garden answers what is asked: the verdict, the ``figure`` with what was wanted, ``why``, ``where`` to
    look (a thing of the plan by its name), and what would ``help`` where it is not met. Texts in metres.
    """

    verdict: Verdict
    figure: str = ""
    why: str = ""
    where: str = ""
    help: str = ""
    value: float | None = None


def asked_for(kind: str, **fields: Any) -> Asked:
    """Return what a want asks for, with the kind's usual amount where none is given.

    Raises GardenError for a kind that is not known and for fields that it does not take or that cannot be.
    """
    row = want_kind(kind)
    given = {"amount": row.start, **{key: value for key, value in fields.items() if value not in (None, "", ())}}
    if "words" in given:
        given["words"] = tuple(" ".join(str(word).split()) for word in given["words"])
    if "months" in given:
        given["months"] = tuple(sorted(dict.fromkeys(int(month) for month in given["months"])))
    asked = Asked(kind=kind, **given)
    check_asked(asked)
    return asked


def check_asked(asked: Asked) -> None:
    """Raise GardenError for the first field of what a want asks for that cannot be."""
    row = want_kind(asked.kind)
    taken = {
        "thing": bool(row.thing),
        "other": bool(row.other),
        "months": row.months,
        "words": bool(row.words_words),
        "since": row.hours,
        "until": row.hours,
        "size": row.grown,
        "sun": row.grown,
    }
    for field, takes in taken.items():
        if getattr(asked, field) and not takes:
            raise GardenError(f"a want for {row.words} takes no {field.replace('_', ' ')}; leave it out")
    for month in asked.months:
        if month not in ALL_YEAR:
            raise GardenError(f"a want is asked for month {month}; give months from 1 to 12")
    if row.hours and not 0 <= asked.since < asked.until <= 24:
        raise GardenError(
            f"a want for {row.words} runs from {asked.since:g} to {asked.until:g} o'clock; give two hours of one day"
        )
    for word in asked.words:
        if row.offered and word not in row.offered:
            raise GardenError(f'a want for {row.words} does not know "{word}"{nearest(word, row.offered)}')
    if row.needs_words and not asked.words:
        raise GardenError(f"a want for {row.words} needs a word more: {row.words_words.lower()}")
    if row.key == "safe_for" and not set(asked.words) & set(BEINGS):
        raise GardenError(f"say for whom nothing may be toxic: {', '.join(BEINGS)}")


def roles(asked: Asked) -> Iterable[tuple[str, str, tuple[str, ...]]]:
    """Return each field of what is asked that names a thing of the plan: the field, the name, the kinds it may be."""
    row = want_kind(asked.kind)
    named = (("thing", asked.thing, row.thing), ("other", asked.other, row.other))
    return [one for one in named if one[1]]


def ruled_out_by(asked: Asked) -> tuple[str, ...]:
    """Return what no plant may be or do so that this can hold, in words as a client refuses it; mostly nothing."""
    if asked.kind == "safe_for":
        grade = next((f", {word}" for word in GRADES[1:] if word in asked.words), "")
        return tuple(f"toxic to {who}{grade}" for who in BEINGS if who in asked.words)
    if asked.kind == "no_allergy":
        return asked.words
    if asked.kind == "plant_never":
        return tuple(f"plant {word}" for word in asked.words)
    return (f"trees over {asked.amount:g} m",) if asked.kind == "small_tree" and not asked.thing else ()
