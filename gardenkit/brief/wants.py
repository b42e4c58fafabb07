"""The wants list: each want in the client's words, with a check that the later steps can measure."""

import operator
from collections.abc import Iterable, Mapping
from typing import Literal

import attrs

from gardenkit.brief.asking import Answer, Asked, Verdict
from gardenkit.findings import Finding, GardenError, Seriousness, nearest
from gardenkit.units import System, show_area, show_length

Weight = Literal["must", "should", "could"]


@attrs.frozen(kw_only=True)
class Fact:
    """Something the design can be measured for: what it is in words, its unit (metres stay metres inside), and where
    one looks for it.
    """

    words: str
    unit: str = ""
    look: str = "the plan"


PLANTED = "the planting plan"
# What can be checked. project.facts() measures each one that the design allows so far.
FACTS: dict[str, Fact] = {
    "seats": Fact(words="number of seats"),
    "seat_sun_june": Fact(words="direct sun on the sunniest seat in June", unit="h"),
    "path_width": Fact(words="width of the narrowest path", unit="m"),
    "path_length": Fact(words="length of all paths", unit="m"),
    "path_slope": Fact(words="steepest stretch of any path", unit="%"),
    "step_free_paths": Fact(words="paths that keep the accessible-route rule from end to end"),
    "path_straight_view": Fact(words="share of the path seen from its start, planted, in year five", unit="%"),
    "bed_area": Fact(words="area of all beds", unit="m2"),
    "lawn_area": Fact(words="area of lawn", unit="m2"),
    "beds": Fact(words="number of beds"),
    "supports": Fact(words="number of supports for climbers"),
    "species": Fact(words="number of kinds of plants", look=PLANTED),
    "plants": Fact(words="number of plants", look=PLANTED),
    "trees": Fact(words="number of trees planted", look=PLANTED),
    "months_in_flower": Fact(words="months with something in flower", look=PLANTED),
    "evergreen_share": Fact(words="share of plants that are evergreen", unit="%", look=PLANTED),
    "natives_share": Fact(words="share of plants native to North America", unit="%", look=PLANTED),
    "fragrant_species": Fact(words="number of scented kinds", look=PLANTED),
    "toxic_to_dogs": Fact(words="number of kinds listed as toxic to dogs", look=PLANTED),
    "toxic_to_people": Fact(words="number of kinds listed as toxic to people", look=PLANTED),
    "plant_cost": Fact(words="estimated cost of plants", look="the table of costs"),
}
_COMPARE = {"at least": operator.ge, "at most": operator.le, "exactly": operator.eq}


@attrs.frozen(kw_only=True)
class Check:
    """A measurable side of a want: ``fact`` (a key of FACTS), how to compare, and the amount in the fact's unit."""

    fact: str
    compare: Literal["at least", "at most", "exactly"] = "at least"
    amount: float = 1.0


@attrs.frozen(kw_only=True)
class Want:
    """One line of the wants list, for ``whom`` it is, and for which ``area`` of the property (empty: all of it).

    It is checked by a figure of the whole garden (``check``) or by what it asks for about a thing of the plan
    (``asks``); with neither it stays for the designer's eye.
    """

    text: str
    weight: Weight = "should"
    check: Check | None = None
    asks: Asked | None = None
    whom: str = ""
    area: str = ""


@attrs.frozen(kw_only=True)
class Judged:
    """A want with its verdict and the measured value, None while it cannot be measured yet.

    ``but`` says what the garden's own findings hold against a figure that is as wanted: such a want is partly met.
    ``answer`` is how the garden answers a want about a thing of the plan; ``decided_by`` the thing of the plan that
    decides a figure, where one does.
    """

    want: Want
    verdict: Verdict
    value: float | None = None
    but: str = ""
    answer: Answer | None = None
    decided_by: str = ""

    def measured(self, units: System) -> str:
        """Return what was asked for and what was found, in a sentence; empty where nothing is measured."""
        if self.answer is not None:
            return "; ".join(part for part in (self.answer.figure, self.answer.why) if part)
        check = self.want.check
        if check is None:
            return ""
        fact = FACTS[check.fact]
        value = "not yet known" if self.value is None else shown(self.value, fact.unit, units)
        told = f"{fact.words}: {value}, wanted {check.compare} {shown(check.amount, fact.unit, units)}"
        return told + (f"; but {self.but}" if self.but else "")

    @property
    def where(self) -> str:
        """Return where to look: a thing of the plan by its name, or a plan or table; empty for a want by eye."""
        if self.answer is not None:
            return self.answer.where
        return self.decided_by or (FACTS[self.want.check.fact].look if self.want.check is not None else "")

    @property
    def helps(self) -> str:
        """Return what would help a want that is not met, or let it be measured."""
        return "" if self.answer is None or self.verdict == "met" else self.answer.help


def shown(value: float, unit: str, units: System) -> str:
    """Return an amount of a want in the garden's own units."""
    if unit == "m":
        return show_length(value, units)
    if unit == "m2":
        return show_area(value, units)
    return f"{value:.3g} {unit}".strip()


def check_for(fact: str, compare: str, amount: float) -> Check:
    """Return a Check from what was typed; raises GardenError for an unknown fact or comparison."""
    if fact not in FACTS:
        raise GardenError(f'a want cannot be checked by "{fact}"{nearest(fact, FACTS)}; choose one of the listed facts')
    if compare not in _COMPARE:
        raise GardenError(f'a want cannot be compared by "{compare}"; choose one of: {", ".join(_COMPARE)}')
    return Check(fact=fact, compare=compare, amount=float(amount))  # type: ignore[arg-type]  # looked up above


def judge(
    wants: Iterable[Want],
    facts: Mapping[str, float],
    doubts: Mapping[str, str] | None = None,
    answers: Mapping[Asked, Answer] | None = None,
    places: Mapping[str, str] | None = None,
) -> tuple[Judged, ...]:
    """Return each want with its verdict, given the facts that the design has been measured for.

    ``doubts`` holds, by fact, what is found wrong with the very thing that was measured; ``answers`` how the garden
    answers what is asked about things of the plan; ``places``, by fact, the thing of the plan that decides it.
    """
    known = places or {}
    judged = (_judge(want, facts, doubts or {}, answers or {}) for want in wants)
    return tuple(
        attrs.evolve(one, decided_by=known.get(one.want.check.fact, "")) if one.want.check else one for one in judged
    )


def told(judged: Iterable[Judged]) -> str:
    """Return in one line how far the wants are met: the same words on every page and in every document.

    >>> told([])
    'no wants yet'
    """
    verdicts = [item.verdict for item in judged]
    if not verdicts:
        return "no wants yet"
    others: tuple[Verdict, ...] = ("partly met", "not met", "not yet known", "to be judged by eye")
    rest = [f"{verdicts.count(word)} {word}" for word in others if word in verdicts]
    return ", ".join([f"{verdicts.count('met')} of {len(verdicts)} wants met", *rest])


def _judge(
    want: Want, facts: Mapping[str, float], doubts: Mapping[str, str], answers: Mapping[Asked, Answer]
) -> Judged:
    if want.asks is not None:
        answer = answers.get(want.asks, Answer(verdict="not yet known"))
        return Judged(want=want, verdict=answer.verdict, value=answer.value, answer=answer)
    if want.check is None:
        return Judged(want=want, verdict="to be judged by eye")
    value = facts.get(want.check.fact)
    if value is None:
        return Judged(want=want, verdict="not yet known")
    # Rounding in the last digit must not fail a want: compare to a billionth.
    met = _COMPARE[want.check.compare](round(value, 9), round(want.check.amount, 9))
    but = doubts.get(want.check.fact, "") if met else ""
    return Judged(want=want, verdict="partly met" if but else "met" if met else "not met", value=value, but=but)


def findings(judged: Iterable[Judged]) -> tuple[Finding, ...]:
    """Return a finding for every want that is measured and not met, and for a must that is partly met, with what would
    help.
    """
    return tuple(
        Finding(
            where=item.where or "wants list",
            what="; ".join(
                part
                for part in (f'"{item.want.text}" is {item.verdict}: {item.measured("metric")}', item.helps)
                if part
            ),
            why=f"{item.want.weight} of the client",
            seriousness=_seriousness(item),
            topic="wants",
        )
        for item in judged
        if item.verdict == "not met" or (item.verdict == "partly met" and item.want.weight == "must")
    )


def _seriousness(item: Judged) -> Seriousness:
    if item.want.weight != "must":
        return "note"
    return "warning" if item.verdict == "not met" else "caution"
