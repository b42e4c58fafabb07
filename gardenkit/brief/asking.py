"""What a client can ask for about something on the plan: the kinds of want with a subject, one row a kind."""

from collections.abc import Iterable, Mapping
from typing import Any, Literal

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.tuples import lists_as_tuples

Verdict = Literal["met", "partly met", "not met", "not yet known", "to be judged by eye"]
Compare = Literal["", "at least", "at most"]

# What a want can be about; one thing of the plan is of one of these.
WALKED: tuple[str, ...] = ("gate", "door", "seat", "area", "thing")  # places a path leads to
LOOKED_FROM: tuple[str, ...] = ("window", "door", "gate", "seat")
STANDING: tuple[str, ...] = ("building", "obstacle")
LOOKED_AT: tuple[str, ...] = (*WALKED, "window", *STANDING, "tree")
PLACES: tuple[str, ...] = (*WALKED, "window")
CLIMBED: tuple[str, ...] = ("building", "fence", "support")
EVERY_THING: tuple[str, ...] = (*LOOKED_AT, "fence", "support", "path", "bed")
COVERED = ("plants", "plants and materials", "plants, materials and labour")  # what a budget is to pay for
BEINGS = ("people", "dogs", "cats", "horses")  # whom the plant tables list toxicity for
GRADES = ("mild", "moderate", "severe")  # from which grade on a plant is not wanted
ALLERGIES = ("pollen allergy", "skin irritation")
ALL_YEAR = tuple(range(1, 13))


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Asked:
    """What a want asks for: ``kind`` (a row of WANT_KINDS), the ``thing`` and the ``other`` thing of the plan by name,
    an ``amount`` in the kind's unit (metres stay metres), ``months`` 1 to 12 (none: those the kind is usually judged
    in), clock hours ``since`` to ``until``, the ``year`` of growth it is judged in, and ``words``: colours, kinds of
    plants, whom it is for, as the kind takes them.
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


@attrs.frozen(kw_only=True)
class WantKind:
    """One kind of want: its ``words``, what it may be about (``thing``, ``other``: kinds of things, with the words
    beside the list), the amount it compares, which of months, hours, year and words it takes, and what would ``help``.

    ``needs_thing``: without a thing of the plan nothing can be measured. ``offered``: the only words it takes.
    """

    key: str
    words: str
    thing: tuple[str, ...] = ()
    thing_words: str = ""
    needs_thing: bool = True
    other: tuple[str, ...] = ()
    other_words: str = ""
    amount_words: str = ""
    unit: str = ""
    compare: Compare = ""
    start: float = 0.0
    months: bool = False
    hours: bool = False
    year: bool = False
    words_words: str = ""
    offered: tuple[str, ...] = ()
    needs_words: bool = False
    draw: str = ""
    help: str = ""


_ROWS = (
    WantKind(
        key="step_free_way",
        words="a step-free way between two places",
        thing=WALKED,
        thing_words="From",
        other=WALKED,
        other_words="To",
        draw="put both places on record, lay a path between them, then choose them here",
        help="lay a path between them, let it run the gentlest way, pave it, or widen it",
    ),
    WantKind(
        key="walk_width",
        words="a walk of at least a width (barrow, bicycle, mower)",
        thing=("path",),
        thing_words="Path",
        amount_words="Width",
        unit="m",
        compare="at least",
        start=0.9,
        draw="lay the path on the structure page, then choose it here",
        help="widen the path, and the gates it goes through",
    ),
    WantKind(
        key="steps_most",
        words="no more steps on a path than",
        thing=("path",),
        thing_words="Path",
        amount_words="Steps",
        compare="at most",
        draw="lay the path on the structure page, then choose it here",
        help="let the path run a gentler, longer way",
    ),
    WantKind(
        key="screened",
        words="something hidden from a place",
        thing=LOOKED_AT,
        thing_words="Hidden is",
        other=LOOKED_FROM,
        other_words="Seen from (a neighbour's window: put their house and window on the plan)",
        amount_words="Share hidden, percent",
        unit="%",
        compare="at least",
        start=80,
        months=True,
        year=True,
        draw="put both on the plan, then choose them here",
        help="put a hedge, a screen or evergreens between them, nearer to the lower of the two",
    ),
    WantKind(
        key="view_open",
        words="a view kept open",
        thing=LOOKED_AT,
        thing_words="To be seen",
        other=LOOKED_FROM,
        other_words="Seen from",
        amount_words="Share in sight, percent",
        unit="%",
        compare="at least",
        start=70,
        months=True,
        year=True,
        draw="put both on the plan, then choose them here",
        help="keep what stands between them below the eye",
    ),
    WantKind(
        key="in_sun",
        words="a place in the sun at given hours",
        thing=("seat", "area", "thing"),
        thing_words="Place",
        amount_words="Share of the time, percent",
        unit="%",
        compare="at least",
        start=75,
        months=True,
        hours=True,
        year=True,
        draw="put the seat or the area on the structure page, then choose it here",
        help="move the place, or lower what shades it",
    ),
    WantKind(
        key="in_shade",
        words="a place in the shade at given hours",
        thing=("seat", "area", "thing"),
        thing_words="Place",
        amount_words="Share of the time, percent",
        unit="%",
        compare="at least",
        start=75,
        months=True,
        hours=True,
        year=True,
        draw="put the seat or the area on the structure page, then choose it here",
        help="plant a tree or build a pergola on its sunny side, or move the place",
    ),
    WantKind(
        key="terrace_for",
        words="a terrace for so many people",
        thing=("area", "thing"),
        thing_words="Area",
        amount_words="People",
        compare="at least",
        start=4,
        draw="draw a patio on the structure page, then choose it here",
        help="draw it larger",
    ),
    WantKind(
        key="area_of",
        words="room on the ground (lawn, play, drying, bins, parking)",
        thing=("area", "thing"),
        thing_words="Area",
        amount_words="Size",
        unit="m2",
        compare="at least",
        start=10,
        draw="draw the area on the structure page, then choose it here",
        help="draw it larger",
    ),
    WantKind(
        key="thing_wanted",
        words="a thing to have (bins store, clothes line, play frame)",
        amount_words="How many",
        compare="at least",
        start=1,
        words_words="Kind of thing",
        needs_words=True,
        help="put it down on the structure page",
    ),
    WantKind(
        key="small_tree",
        words="a small tree, no taller than",
        thing=("bed",),
        thing_words="Bed",
        needs_thing=False,
        amount_words="Height when grown",
        unit="m",
        compare="at most",
        start=6,
        help="swap the taller trees for kinds that stay below that height",
    ),
    WantKind(
        key="climbers_on",
        words="climbers on a wall, fence or support",
        thing=CLIMBED,
        thing_words="On",
        amount_words="Plants",
        compare="at least",
        start=1,
        draw="put the wall, fence or support on the plan, then choose it here",
        help="put up wires or a trellis there, and plant climbers on it",
    ),
    WantKind(
        key="flowers_in",
        words="flowers in given months and colours",
        thing=("bed",),
        thing_words="Bed",
        needs_thing=False,
        amount_words="Kinds in each month",
        compare="at least",
        start=1,
        months=True,
        words_words="Colours (none: any)",
        help="add kinds that flower in the months that are missing",
    ),
    WantKind(
        key="scent_near",
        words="scent near a place",
        thing=PLACES,
        thing_words="Place",
        amount_words="Scented plants",
        compare="at least",
        start=1,
        months=True,
        draw="put the place on the plan, then choose it here",
        help="plant scented kinds within 3 m of it",
    ),
    WantKind(
        key="winter_look",
        words="something to look at in winter",
        thing=LOOKED_FROM,
        thing_words="Seen from",
        needs_thing=False,
        amount_words="Kinds",
        compare="at least",
        start=3,
        help="add kinds with bark, berries, seed heads or winter leaves where they are seen",
    ),
    WantKind(
        key="food",
        words="food from the garden",
        amount_words="Kinds to eat",
        compare="at least",
        start=3,
        words_words="Kinds of plants (none: any)",
        help="add fruit, herbs or vegetables in the sunniest bed",
    ),
    WantKind(
        key="nectar",
        words="months with something for bees and butterflies",
        amount_words="Months",
        compare="at least",
        start=6,
        help="add kinds that feed bees or butterflies in the months that are missing",
    ),
    WantKind(
        key="larvae",
        words="kinds that caterpillars feed on",
        amount_words="Kinds",
        compare="at least",
        start=3,
        help="add native shrubs and perennials that caterpillars feed on",
    ),
    WantKind(
        key="berries",
        words="berries and seeds for birds",
        amount_words="Kinds",
        compare="at least",
        start=3,
        help="add kinds with berries or seed heads",
    ),
    WantKind(
        key="natives_of",
        words="plants native to a region",
        amount_words="Share of kinds, percent",
        unit="%",
        compare="at least",
        start=30,
        words_words="Region, as eastern North America",
        needs_words=True,
        help="choose more kinds native to the region",
    ),
    WantKind(
        key="water_use",
        words="water for the beds in a year without rain",
        amount_words="Litres a year",
        unit="L",
        compare="at most",
        start=20000,
        help="choose kinds that need less water, or plant less ground",
    ),
    WantKind(
        key="rain_kept",
        words="the beds watered from rain that is kept",
        amount_words="Share of the year's need, percent",
        unit="%",
        compare="at least",
        start=25,
        help="put a larger butt or a cistern at a downpipe, or choose kinds that need less water",
    ),
    WantKind(
        key="care_hours",
        words="hours of care in a year",
        amount_words="Hours a year",
        unit="h",
        compare="at most",
        start=60,
        help="choose kinds that ask for less, or lay out less bed and lawn",
    ),
    WantKind(
        key="cost_of",
        words="what it may cost",
        amount_words="Cost",
        compare="at most",
        start=5000,
        words_words="It covers",
        offered=COVERED,
        needs_words=True,
        help="buy smaller sizes, fewer plants, or a plainer surface",
    ),
    WantKind(
        key="safe_for",
        words="nothing listed as toxic",
        words_words="For whom, and from which grade",
        offered=(*BEINGS, *GRADES),
        needs_words=True,
        help="swap the kinds that are listed for others",
    ),
    WantKind(
        key="no_allergy",
        words="nothing that brings on an allergy",
        words_words="Allergy",
        offered=ALLERGIES,
        needs_words=True,
        help="swap the kinds with that caution for others",
    ),
    WantKind(
        key="keep_tree",
        words="a tree that is there is kept",
        thing=("tree",),
        thing_words="Tree",
        draw="put the tree on the site page, then choose it here",
        help="say on the site page that the tree stays",
    ),
    WantKind(
        key="plant_wanted",
        words="a plant to have",
        amount_words="Plants",
        compare="at least",
        start=1,
        words_words="Kind or genus",
        needs_words=True,
        help="put it on the palette and plant it",
    ),
    WantKind(
        key="plant_never",
        words="a plant never to see",
        words_words="Kind or genus",
        needs_words=True,
        help="swap it for another kind",
    ),
)
WANT_KINDS: Mapping[str, WantKind] = {row.key: row for row in _ROWS}


def want_kind(key: str) -> WantKind:
    """Return a kind of want; raises GardenError naming the nearest known one."""
    if key not in WANT_KINDS:
        raise GardenError(f'a want cannot ask for "{key}"{nearest(key, WANT_KINDS)}; choose one of the listed kinds')
    return WANT_KINDS[key]


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
