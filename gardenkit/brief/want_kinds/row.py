"""What a kind of want is: its words, what it may be about, what it takes; and whom, what and how ill a plant can be."""

from typing import Literal

import attrs

Compare = Literal["", "at least", "at most"]

# What a want can be about; one thing of the plan is of one of these.
WALKED: tuple[str, ...] = ("gate", "door", "seat", "area", "thing")  # places a path leads to
LOOKED_FROM: tuple[str, ...] = ("window", "door", "gate", "seat")
STANDING: tuple[str, ...] = ("building", "obstacle")
LOOKED_AT: tuple[str, ...] = (*WALKED, "window", *STANDING, "tree")
PLACES: tuple[str, ...] = (*WALKED, "window")
CLIMBED: tuple[str, ...] = ("building", "fence", "support")
EVERY_THING: tuple[str, ...] = (*LOOKED_AT, "fence", "support", "path", "bed")
BEINGS = ("people", "dogs", "cats", "horses")  # whom the plant tables list toxicity for
GRADES = ("mild", "moderate", "severe")  # from which grade on a plant is not wanted
ALLERGIES = ("pollen allergy", "skin irritation")


@attrs.frozen(kw_only=True)
class WantKind:
    """One kind of want: its ``words``, what it may be about (``thing``, ``other``: kinds of things, with the words
    beside the list), the amount it compares, which of months, hours, year and words it takes, and what would ``help``.

    ``needs_thing``: without a thing of the plan nothing can be measured. ``offered``: the only words it takes.
    ``grown``: it can ask for a size of ground and hours of sun as well. ``look``: where the answer is to be seen where
    no thing of the plan can be named.
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
    grown: bool = False
    words_words: str = ""
    offered: tuple[str, ...] = ()
    needs_words: bool = False
    draw: str = ""
    help: str = ""
    look: str = "the plan"
