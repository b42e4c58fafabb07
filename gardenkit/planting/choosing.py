"""A palette for the garden: about twenty of all kinds that suit, the best that keep to the designer's wishes."""

from collections.abc import Iterable, Mapping, Sequence

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.catalogue_columns import name_key
from gardenkit.planting.choosing_rules import (
    DEARNESS,
    SECONDS,
    LayerWish,
    Rule,
    Solution,
    Wishes,
    best,
    best_with_least_given_up,
    has_colour,
    rules_for,
)
from gardenkit.planting.colour import palette_fit
from gardenkit.planting.manner import Manner, manner_fit
from gardenkit.planting.merits import merits
from gardenkit.planting.mixing import Mix, at_home, colour_harmony
from gardenkit.planting.season import flower_halves, span_words
from gardenkit.planting.spacing import plants_a_square_metre
from gardenkit.planting.species import Species
from gardenkit.planting.suitability import Judgement
from gardenkit.sources import HOUSE, PLAIN

__all__ = [
    "Candidate",
    "Choice",
    "Fulfilment",
    "LayerWish",
    "Palette",
    "Weights",
    "Wishes",
    "candidates",
    "estimated_count",
    "propose",
    "worth_of",
]
# Share of the bed ground a layer usually takes, to estimate how many plants one kind will need. House values.
GROUND_SHARE: Mapping[str, float] = {
    "shrub": 0.30,
    "perennial": 0.28,
    "grass": 0.07,
    "fern": 0.05,
    "ground cover": 0.20,
    "bulb": 0.05,
    "annual": 0.04,
    "tender bulb": 0.01,
}


@attrs.frozen(kw_only=True)
class Candidate:
    """A kind that suits the garden: how well (``score`` 0 to 1), why, and an estimate of the ``cost`` of all its plants
    and of how many there are (``count``).
    """

    species: Species
    score: float = 0.5
    reasons: tuple[str, ...] = ()
    cost: float = 0.0
    count: int = 1


@attrs.frozen(kw_only=True)
class Weights:
    """What makes one kind worth more than another; each side runs 0 to 1 before its weight. House values.

    Suiting the place counts most, because a plant that fails has no colour at all.
    """

    suitability: float = 1.0
    colour: float = 0.5
    bloom: float = 0.25
    winter: float = 0.25
    wildlife: float = 0.2
    manner: float = 0.8
    style: float = 1.0
    harmony: float = 0.3


@attrs.frozen(kw_only=True)
class Choice:
    """One kind of the palette, what it is worth by side (weights applied), and why it is in."""

    species: Species
    worth: float
    parts: tuple[tuple[str, float], ...]
    reasons: tuple[str, ...]
    locked: bool = False
    cost: float = 0.0


@attrs.frozen(kw_only=True)
class Fulfilment:
    """One wish and what the palette gives: ``wanted`` and ``value`` in kinds, as a share, or in money."""

    words: str
    topic: str
    at_least: bool
    wanted: float
    value: float
    measure: str
    is_met: bool

    def sentence(self) -> str:
        """Return the wish and what came of it, in one line."""
        bound = "at least" if self.at_least else "at most"
        return f"{self.words}: {_said(self.value, self.measure)}, wanted {bound} {_said(self.wanted, self.measure)}"


@attrs.frozen(kw_only=True)
class Palette:
    """A proposed palette in layer order of the candidates, every wish with its figure, and those that had to give way.

    ``gap`` is how much better a palette may still exist, as a share of this one's worth; 0 when ``proven`` the best.
    """

    choices: tuple[Choice, ...]
    fulfilments: tuple[Fulfilment, ...]
    worth: float
    gap: float
    proven: bool
    findings: tuple[Finding, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """Botanical names, as a planting's palette keeps them."""
        return tuple(choice.species.botanical for choice in self.choices)

    @property
    def relaxed(self) -> tuple[Fulfilment, ...]:
        """The wishes that could not all be had, the smallest set to give up."""
        return tuple(f for f in self.fulfilments if not f.is_met)


def candidates(
    judgements: Iterable[Judgement],
    prices: Mapping[str, float] | None = None,
    *,
    bed_area: float = 0.0,
) -> tuple[Candidate, ...]:
    """Return the plants judged to suit as candidates, with what speaks for them; ``prices`` of one plant by botanical
    name, ``bed_area`` in square metres says about how many there will be.
    """
    known = prices or {}
    return tuple(
        Candidate(
            species=judged.species,
            score=judged.score,
            reasons=tuple(reason.text for reason in judged.reasons if reason.ok),
            cost=known.get(judged.species.botanical, 0.0) * count,
            count=count,
        )
        for judged in judgements
        for count in [estimated_count(judged.species, bed_area)]
    )


def propose(
    among: Iterable[Candidate],
    wishes: Wishes | None = None,
    *,
    weights: Weights | None = None,
    dearness: Mapping[str, float] = DEARNESS,
    shift_days: float = 0.0,
    seconds: float = float(SECONDS),
) -> Palette:
    """Return the best palette of the candidates that keeps every wish; when none does, the one that gives up least.

    Same candidates, same palette, whatever their order. ``shift_days`` moves bloom from the reference zone to the site;
    ``dearness`` says how much giving up a wish of each topic hurts. Raises GardenError for wishes that contradict
    themselves and for a locked kind that is not among the candidates.
    """
    wishes, weights = wishes or Wishes(), weights or Weights()
    kinds = _in_order(among)
    low, high = _limits(kinds, wishes)
    species = [c.species for c in kinds]
    parts = [
        worth_of(c, wishes.colours, weights=weights, shift_days=shift_days, manner=wishes.manner, mix=wishes.mix)
        for c in kinds
    ]
    worth = np.array([sum(p.values()) for p in parts])
    costs, counts = (np.array([getattr(c, name) for c in kinds], dtype=float) for name in ("cost", "count"))
    rules = rules_for(species, costs, wishes, shift_days=shift_days, counts=counts)
    found = best(worth, rules, low, high, seconds=seconds)
    if found is None:
        found = best_with_least_given_up(worth, rules, low, high, seconds=seconds, dearness=dearness)
    return _palette(found, kinds, parts, rules, wishes=wishes, shift_days=shift_days)


def worth_of(
    candidate: Candidate,
    colours: Sequence[str],
    *,
    weights: Weights | None = None,
    shift_days: float = 0.0,
    manner: Manner | None = None,
    mix: Mix | None = None,
) -> dict[str, float]:
    """Return what a kind is worth to the palette, side by side, weights applied; see ``Weights``."""
    w, kind = weights or Weights(), candidate.species
    brings = merits(kind, shift_days)
    return {
        "suits the place": w.suitability * candidate.score,
        "colour": w.colour * (palette_fit(kind, colours) if colours else 0.5),
        "length of bloom": w.bloom * brings["length of bloom"],
        "winter": w.winter * brings["winter"],
        "wildlife": w.wildlife * brings["wildlife"],
        "manner": w.manner * manner_fit(kind, manner or Manner()),
        "at home in the style": w.style * at_home(kind, mix or Mix()),
        "harmony with leaves and the style's colours": w.harmony * colour_harmony(kind, colours, (mix or Mix()).strict),
    }


def estimated_count(species: Species, bed_area: float, *, kinds_of_layer: int = 3) -> int:
    """Return about how many plants of a kind there will be in a garden with ``bed_area`` square metres of beds.

    One plant of trees, conifers, climbers and wall fruit; other layers share out their usual part of the ground among
    ``kinds_of_layer`` kinds. An estimate for choosing; the schedule counts real plants.
    """
    share = GROUND_SHARE.get(species.layer)
    if share is None:
        return 1
    plants = bed_area * share / max(1, kinds_of_layer) * plants_a_square_metre(species.spacing_m)
    return max(1, round(plants))


# ---- helpers


def _in_order(among: Iterable[Candidate]) -> list[Candidate]:
    """Return the candidates by name, each once."""
    by_name = {c.species.key: c for c in among}
    if not by_name:
        raise GardenError("no plant suits the garden so far; loosen what the plants must stand, or add plants")
    for c in by_name.values():
        if not (np.isfinite(c.score) and np.isfinite(c.cost) and c.cost >= 0):
            raise GardenError(f"{c.species.botanical} has score {c.score:g} and cost {c.cost:g}; give plain numbers")
    return [by_name[key] for key in sorted(by_name)]


def _limits(kinds: Sequence[Candidate], wishes: Wishes) -> tuple[FloatArray, FloatArray]:
    at = {c.species.key: i for i, c in enumerate(kinds)}
    low, high = np.zeros(len(kinds)), np.array([float(c.species.is_ornamental) for c in kinds])
    for name in wishes.locked:
        if name_key(name) not in at:
            near = nearest(name, [c.species.botanical for c in kinds])
            raise GardenError(
                f'the favourite "{name}" is not among the plants that suit the garden{near}; unlock it, or add it'
            )
        low[at[name_key(name)]] = high[at[name_key(name)]] = 1.0
    for name in wishes.excluded:
        if name_key(name) in at:
            high[at[name_key(name)]] = 0.0
    if (low > high).any():
        clash = kinds[int(np.argmax(low > high))].species.botanical
        raise GardenError(f"{clash} is both locked and excluded; take it off one of the two lists")
    return low, high


def _palette(
    found: Solution,
    kinds: Sequence[Candidate],
    parts: Sequence[Mapping[str, float]],
    rules: Sequence[Rule],
    *,
    wishes: Wishes,
    shift_days: float,
) -> Palette:
    fulfilled = tuple(
        Fulfilment(
            words=r.words,
            topic=r.topic,
            at_least=r.sense > 0,
            wanted=r.wanted,
            value=r.value(found.chosen),
            measure=r.measure,
            is_met=r.is_met(found.chosen),
        )
        for r in rules
    )
    locked = {name_key(name) for name in wishes.locked}
    choices = tuple(
        Choice(
            species=c.species,
            worth=sum(parts[i].values()),
            parts=tuple(parts[i].items()),
            reasons=_reasons(i, c, found.chosen, rules, wishes=wishes, shift_days=shift_days, is_locked=held),
            locked=held,
            cost=c.cost,
        )
        for i, (c, held) in enumerate((c, c.species.key in locked) for c in kinds)
        if found.chosen[i] > 0.5
    )
    return Palette(
        choices=choices,
        fulfilments=fulfilled,
        worth=found.worth,
        gap=found.gap,
        proven=found.proven,
        findings=_findings(fulfilled, found),
    )


def _reasons(
    i: int,
    candidate: Candidate,
    chosen: FloatArray,
    rules: Sequence[Rule],
    *,
    wishes: Wishes,
    shift_days: float,
    is_locked: bool,
) -> tuple[str, ...]:
    """Return why a kind is in: first what the palette would miss without it, then what it brings."""
    kind = candidate.species
    said = ["a favourite, kept"] if is_locked else []
    without = chosen.copy()
    without[i] = 0.0
    said += [f"needed for {_bound(r)}" for r in rules if r.sense > 0 and r.is_met(chosen) and not r.is_met(without)]
    said.append(f"suits the place, {candidate.score:.2f} of 1")
    said += candidate.reasons
    if halves := flower_halves(kind, shift_days):
        shown = span_words(halves[0], halves[-1])
        tone = " in the style's colours" if wishes.colours and has_colour(kind, wishes.colours) else ""
        said.append(f"in flower {shown}{tone}")
    if kind.is_evergreen:
        said.append("evergreen")
    interest = [word for word in kind.winter_interest if word != "evergreen"]
    if interest:
        said.append("in winter: " + ", ".join(interest))
    if kind.wildlife:
        said.append("for " + ", ".join(kind.wildlife))
    if kind.native_na:
        said.append(f"native: {kind.native_to}")
    return tuple(said)


def _bound(rule: Rule) -> str:
    return f"{rule.words}, at least {_said(rule.wanted, rule.measure)}"


def _said(value: float, measure: str) -> str:
    if measure == "share":
        return f"{value:.0%}"
    return f"{value:,.0f}" + (f" {measure}" if measure in ("hours", "plants") else "")


def _findings(fulfilled: Sequence[Fulfilment], found: Solution) -> tuple[Finding, ...]:
    given_up = [f for f in fulfilled if not f.is_met]
    notes = [
        Finding(
            where="palette",
            what=f"not every wish can be had at once; this one gives way: {wish.sentence()}",
            why=f"one of the smallest set of {len(given_up)} wishes to relax",
            source=f"weights of the wishes, {HOUSE}",
            seriousness="caution",
            topic=wish.topic,
        )
        for wish in given_up
    ]
    if not found.proven:
        notes.append(
            Finding(
                where="palette",
                what=f"the search stopped at its time limit; a palette up to {found.gap:.1%} better may exist",
                source=PLAIN,
                topic="palette",
            )
        )
    return tuple(notes)
