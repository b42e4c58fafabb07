"""What every measure of a want needs: a verdict from a figure and what is held against it, months in words."""

import calendar
from collections.abc import Iterable
from typing import TYPE_CHECKING

from gardenkit.brief.asking import Answer, Asked, Verdict
from gardenkit.brief.want_kinds import want_kind

if TYPE_CHECKING:
    from gardenkit.garden import Garden

ROUNDING = 1e-9
GRAVE = ("stop", "warning")
MEND = "mend what the advice says against it"


def compared(asked: Asked, value: float, figure: str, *, but: str = "", where: str = "", why: str = "") -> Answer:
    """Return the answer to a want that compares an amount; ``but`` is what the findings hold against a figure that is
    as wanted, which makes it partly met.
    """
    row = want_kind(asked.kind)
    gap = value - asked.amount if row.compare == "at least" else asked.amount - value
    as_wanted = gap >= -ROUNDING
    verdict: Verdict = "not met" if not as_wanted else "partly met" if but else "met"
    told = f"but {but}" if as_wanted and but else why
    helps = MEND if verdict == "partly met" else ""
    return Answer(verdict=verdict, figure=figure, why=told, where=where, value=value, help=helps)


def held_against(garden: "Garden", *names: str) -> str:
    """Return what the findings about the ground hold against things of the plan, by what they are called there, in a
    sentence: only what is a warning or worse; empty when nothing is.
    """
    grave = (f for f in garden.layout.findings if f.seriousness in GRAVE and (f.where in names or f.beside in names))
    return next((f"{f.where}: {f.what}" for f in grave), "")


def not_known(why: str) -> Answer:
    """Return that something must be known first."""
    return Answer(verdict="not yet known", why=why)


def in_words(months: Iterable[int]) -> str:
    """Return months in words, a run of them as one: ``March to May, October``.

    >>> in_words((3, 4, 5, 10))
    'March to May, October'
    """
    runs: list[list[int]] = []
    for month in months:
        if runs and month == runs[-1][-1] + 1:
            runs[-1].append(month)
        else:
            runs.append([month])
    names = calendar.month_name
    return ", ".join(names[r[0]] if len(r) == 1 else f"{names[r[0]]} to {names[r[-1]]}" for r in runs)
