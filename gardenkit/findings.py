"""Advice as data: a finding says where, what, why and how serious; nothing here is printed or raised."""

from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from typing import Literal

import attrs

Seriousness = Literal["stop", "warning", "caution", "note"]
ORDER: tuple[Seriousness, ...] = ("stop", "warning", "caution", "note")
LOCAL_CODE = "check with your local building or planning office"


Argument = str | float | int | bool | tuple["Argument", ...]
Subject = tuple[str, str]  # kind and name: ("plant", "17"), ("path", "Main"), ("support", "gate arch")


@attrs.frozen(kw_only=True)
class Step:
    """One change of the garden as data: the name of a function of ``project.edits`` and what it is called with."""

    edit: str  # such as "structure.change_path"
    arguments: tuple[tuple[str, Argument], ...]


@attrs.frozen(kw_only=True)
class Remedy:
    """A way to mend what a finding says: words that preview it, and the edits that do it, one after the other."""

    words: str
    steps: tuple[Step, ...]


@attrs.frozen(kw_only=True)
class Finding:
    """One piece of advice.

    ``where`` is the designer's name for the place ("bed South", "stone 7"); ``what`` is one sentence in the designer's
    words; ``why`` holds the figure behind it; ``source`` names the publication, or "house value", or "common practice,
    no source". ``at`` is an optional plan point (x, y) in metres to show it by.

    ``rule`` is the short name of the rule that spoke and ``wanted`` the figure it asks for (SI), which remedies are
    worked out from; ``beside`` names the other thing that is meant. ``alike`` says the same of several ("stand nearer
    to the house than asked for"): findings with the same words become one line, whose ``members`` they are.
    ``remedy`` mends it; ``others`` would too: the designer chooses.
    """

    where: str
    what: str
    why: str = ""
    source: str = ""
    seriousness: Seriousness = "note"
    at: tuple[float, float] | None = None
    topic: str = ""
    subject: Subject | None = None
    beside: str = ""
    rule: str = ""
    wanted: float | None = None
    alike: str = ""
    remedy: Remedy | None = None
    others: tuple[Remedy, ...] = ()
    members: tuple["Finding", ...] = ()

    @property
    def spots(self) -> tuple[tuple[float, float], ...]:
        """Every plan point it is about, metres: its own, or those of its members."""
        named = [one.at for one in self.members or (self,)]
        return tuple(dict.fromkeys(at for at in named if at is not None))

    def sentence(self) -> str:
        """Return the whole finding as one line of text."""
        tail = "; ".join(part for part in (self.why, self.source) if part)
        return f"{self.where}: {self.what}" + (f" ({tail})" if tail else "")


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with the most serious first, otherwise in the order given."""
    return tuple(sorted(findings, key=lambda f: ORDER.index(f.seriousness)))


class GardenError(ValueError):
    """Something the designer gave cannot be used; the message says what, where and what to do, on one line: what was
    typed on several is said again on one.
    """

    def __init__(self, message: str) -> None:
        super().__init__(" ".join(message.splitlines()))


def nearest(word: str, known: Iterable[str]) -> str:
    """Return ``; the nearest known is "..."`` for a failed look-up, or an empty string when nothing is near."""
    words: Sequence[str] = list(known)
    lowered = {w.casefold(): w for w in words}
    close = get_close_matches(word.casefold(), list(lowered), n=1, cutoff=0.5)
    return f'; the nearest known is "{lowered[close[0]]}"' if close else ""
