"""Alike findings as one line: "5 plants stand nearer to the house than asked for: SAR, BUX (2), PAE"."""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence

import attrs

from gardenkit.findings import Finding, Subject, worst_first
from gardenkit.units import listed

Naming = Callable[[Subject], str]  # what a subject is called in a list: a plant's key, a path's name
FIGURES = re.compile(r"[-+]?\d[\d.,½¼¾⅛⅜⅝⅞]*")  # what differs between two findings of one rule
LISTED = 12  # names in one line before the rest is counted. House value.


def gathered(findings: Iterable[Finding], naming: Naming) -> tuple[Finding, ...]:
    """Return findings with alike ones as one, the worst first; each keeps what it gathers as its ``members``.

    Alike are equally serious findings with the same ``alike`` words, or of one source that say the same but for
    figures. ``naming`` gives what a subject is called in the list.
    """
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in dict.fromkeys(findings):
        groups.setdefault(_key(finding), []).append(finding)
    return worst_first(group[0] if len(group) == 1 else _one(group, naming) for group in groups.values())


def _key(finding: Finding) -> tuple[str, ...]:
    kind = finding.subject[0] if finding.subject else ""
    words = finding.alike or FIGURES.sub("#", finding.what)
    why = "" if finding.alike else FIGURES.sub("#", finding.why)
    source = "" if finding.alike else finding.source
    return finding.topic, finding.seriousness, source, kind, words, why


def _one(group: Sequence[Finding], naming: Naming) -> Finding:
    first, names = group[0], _names(group, naming)
    sources = "; ".join(dict.fromkeys(one.source for one in group if one.source))
    first = attrs.evolve(first, source=sources)
    if first.alike:
        kind = first.subject[0] if first.subject else "thing"
        many = len({one.subject for one in group})
        what = f"{many} {kind}{'s' if many > 1 else ''} {first.alike}: {names}"
        return attrs.evolve(first, where=_place(group), what=what, members=tuple(group), remedy=None, at=None)
    same = len({one.what for one in group}) == 1
    what = first.what if same else f"{first.what} (and {len(group) - 1} more like it)"
    return attrs.evolve(first, where=names, what=what, members=tuple(group), remedy=None, at=None)


def _place(group: Sequence[Finding]) -> str:
    """Return what all of them are beside, or the topic when it is not one thing."""
    beside = {one.beside for one in group}
    return beside.pop() if len(beside) == 1 and "" not in beside else group[0].topic


def _names(group: Sequence[Finding], naming: Naming) -> str:
    """Return the names of what is gathered, each once, with how many where there are several."""
    distinct = dict.fromkeys((one.subject, one.where) for one in group)
    counted = Counter(naming(subject) if subject else where for subject, where in distinct)
    words = [f"{name} ({n})" if n > 1 else name for name, n in counted.items()]
    return listed(words, LISTED)
