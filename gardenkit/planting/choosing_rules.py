"""What the designer wishes of a palette, said as counts that add up, and the best palette that keeps to them."""

import calendar
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, Literal, cast

import attrs
import numpy as np

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.catalogue_columns import LAYERS
from gardenkit.planting.colour import difference
from gardenkit.planting.limits import Limit
from gardenkit.planting.manner import Manner
from gardenkit.planting.mixing import Mix, Part, parts
from gardenkit.planting.season import flower_months
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, Figure

IN_COLOUR = Figure(20.0, "CIEDE2000", f"{HOUSE}: a flower this near to a wanted colour counts as that colour")
SECONDS = Figure(20.0, "s", f"{HOUSE}: longest the search may take before the best palette so far is shown")
ROUNDING = 1e-6  # of a kind: sums of whole kinds that differ by less are equal
Topic = Literal[
    "must",
    "should",
    "number",
    "layer",
    "flowers",
    "colours",
    "evergreen",
    "natives",
    "genus",
    "family",
    "budget",
    "roles",
    "contrast",
    "twins",
    "character",
]

Counted = Literal["kinds", "share", "money", "hours", "plants"]
# How much it hurts to give up a wish of each sort; the smallest total is given up first. House values.
DEARNESS: Mapping[str, float] = {
    "must": 20.0,
    "should": 2.0,
    "layer": 3.0,
    "number": 3.0,
    "budget": 3.0,
    "flowers": 2.0,
    "evergreen": 2.0,
    "natives": 2.0,
    "colours": 1.5,
    "genus": 1.0,
    "family": 1.0,
    "roles": 1.0,
    "contrast": 0.7,
    "twins": 6.0,
    "character": 4.0,
}
# Least and most kinds of each layer in a palette of about 20. House values.
USUAL_LAYERS: Mapping[str, tuple[int, int | None]] = {
    "tree": (1, 2),
    "conifer": (1, 3),
    "climber": (1, 2),
    "wall fruit": (0, 1),
    "shrub": (3, 6),
    "perennial": (4, 8),
    "grass": (1, 3),
    "fern": (0, 3),
    "ground cover": (2, 4),
    "bulb": (2, 4),
    "tender bulb": (0, 1),
    "annual": (0, 2),
}


@attrs.frozen(kw_only=True)
class LayerWish:
    """How many kinds of one layer: at least ``least``, at most ``most`` (None: any number)."""

    layer: str
    least: int = 0
    most: int | None = None


USUAL = tuple(LayerWish(layer=layer, least=least, most=most) for layer, (least, most) in USUAL_LAYERS.items())


@attrs.frozen(kw_only=True)
class LeastOf:
    """A want of the client's about plants: at least ``least`` of some ``kinds`` (botanical names); ``must``: a must."""

    words: str
    kinds: tuple[str, ...]
    least: int = 1
    must: bool = False


@attrs.frozen(kw_only=True)
class Wishes:
    """What a palette should be. Shares run 0 to 1; None or 0 leaves a wish out.

    ``kinds_least`` to ``kinds_most`` kinds; in each of ``months`` at least ``kinds_a_month`` kinds in flower in one of
    ``colours`` (#rrggbb; none given: in any colour); ``colour_share`` of the flowering kinds in those colours; at most
    ``most_per_genus`` and ``most_per_family`` kinds; ``budget`` against the candidates' estimated costs; ``locked``
    favourites are kept, ``excluded`` kinds stay out (botanical names); ``wants`` are what the client wants of plants,
    ``limits`` what all of them may come to; ``manner`` is how the planting leans; ``mix`` how the kinds are to go
    together (None: each for itself).
    """

    kinds_least: int = 18
    kinds_most: int = 22
    layers: tuple[LayerWish, ...] = USUAL
    months: tuple[int, ...] = (4, 5, 6, 7, 8, 9, 10)
    kinds_a_month: int = 3
    colours: tuple[str, ...] = ()
    colour_share: float = 0.0
    evergreen_share: float = 0.33
    natives_share: float = 0.25
    most_per_genus: int | None = 2
    most_per_family: int | None = 6
    budget: float | None = None
    locked: tuple[str, ...] = ()
    excluded: tuple[str, ...] = ()
    wants: tuple[LeastOf, ...] = ()
    limits: tuple[Limit, ...] = ()
    manner: Manner = Manner()
    mix: Mix | None = None


@attrs.frozen(eq=False, kw_only=True)
class Rule:
    """One wish as a sum over the chosen kinds: ``row`` . chosen is at least (``sense`` 1) or at most (-1) ``amount``.

    For shares ``flags`` marks the kinds that count and ``among`` those they are a share of. ``unit`` is the step that
    giving way is measured in.
    """

    words: str
    topic: Topic
    sense: int
    row: FloatArray
    amount: float
    wanted: float
    measure: Counted = "kinds"
    flags: FloatArray | None = None
    among: FloatArray | None = None
    unit: float = 1.0

    def value(self, chosen: FloatArray) -> float:
        """Return what a choice (n,) of 0 and 1 gives, in kinds, as a share or in money."""
        if self.flags is None or self.among is None:
            return float(self.row @ chosen)
        of = float(self.among @ chosen)
        return float(self.flags @ chosen) / of if of else 0.0

    def is_met(self, chosen: FloatArray) -> bool:
        """Return whether a choice keeps to the wish."""
        return self.sense * (float(self.row @ chosen) - self.amount) >= -ROUNDING * max(1.0, self.unit)


@attrs.frozen(eq=False, kw_only=True)
class Solution:
    """A choice (n,) of 0 and 1, its worth, the gap to the best that may exist (0: none), and if that is proven."""

    chosen: FloatArray
    worth: float
    gap: float
    proven: bool


def rules_for(
    kinds: Sequence[Species], costs: FloatArray, wishes: Wishes, *, shift_days: float, counts: FloatArray | None = None
) -> tuple[Rule, ...]:
    """Return every wish as rules over the candidates, in the order a designer would read them.

    ``costs`` and ``counts`` estimate for each kind what all its plants cost, and how many there are (one of each).
    Raises GardenError for a wish that cannot be: an unknown layer, least above most, a share outside 0 to 1.
    """
    check_wishes(wishes)
    one = np.ones(len(kinds))
    rules = [
        _count("kinds in all", "number", 1, one, wishes.kinds_least),
        _count("kinds in all", "number", -1, one, wishes.kinds_most),
    ]
    rules += [_want_rule(kinds, want) for want in wishes.wants]
    many = one if counts is None else counts
    rules += [rule for limit in wishes.limits for rule in _limit_rule(kinds, limit, many, wishes.kinds_most)]
    rules += _layer_rules(kinds, wishes)
    rules += _flower_rules(kinds, wishes, shift_days)
    evergreen = np.array([float(k.is_evergreen) for k in kinds])
    native = np.array([float(k.native_na) for k in kinds])
    rules += _share("evergreen kinds", "evergreen", evergreen, one, wishes.evergreen_share)
    rules += _share("kinds native to North America", "natives", native, one, wishes.natives_share)
    rules += _most_of([k.genus for k in kinds], "genus", wishes.most_per_genus)
    rules += _most_of([k.family for k in kinds], "family", wishes.most_per_family)
    rules += [_mix_rule(part) for part in (parts(kinds, wishes.mix) if wishes.mix else ())]
    if wishes.budget is not None:
        step = max(wishes.budget / max(1, wishes.kinds_most), 1e-9)  # about one kind's share of the budget
        rules.append(
            Rule(
                words="estimated cost of plants",
                topic="budget",
                sense=-1,
                row=costs,
                amount=wishes.budget,
                wanted=wishes.budget,
                measure="money",
                unit=step,
            )
        )
    return tuple(rules)


def check_wishes(wishes: Wishes) -> None:
    """Raise GardenError for the first wish that contradicts itself."""
    if not 0 < wishes.kinds_least <= wishes.kinds_most:
        raise GardenError(
            f"the palette is to have {wishes.kinds_least} to {wishes.kinds_most} kinds; give a least number above 0 "
            "and not above the most"
        )
    for wish in wishes.layers:
        if wish.layer not in LAYERS:
            raise GardenError(f'there is no layer "{wish.layer}"{nearest(wish.layer, LAYERS)}')
        if wish.least < 0 or (wish.most is not None and wish.most < wish.least):
            raise GardenError(
                f"{wish.layer}: at least {wish.least} and at most {wish.most} kinds cannot both be; swap the numbers"
            )
    for month in wishes.months:
        if month not in range(1, 13):
            raise GardenError(f"flowers are wanted in month {month}; give months from 1 to 12")
    for name in ("colour_share", "evergreen_share", "natives_share"):
        if not 0.0 <= getattr(wishes, name) <= 1.0:
            raise GardenError(f"{name} is {getattr(wishes, name):g}; give a share from 0 to 1")
    if wishes.budget is not None and not wishes.budget >= 0:
        raise GardenError(f"the budget is {wishes.budget:g}; give an amount of 0 or more, or leave it out")
    both = sorted(set(wishes.locked) & set(wishes.excluded))
    if both:
        raise GardenError(f"{both[0]} is both locked and excluded; take it off one of the two lists")


def has_colour(kind: Species, colours: Sequence[str]) -> bool:
    """Return whether a plant flowers in one of the wanted colours (within CIEDE2000 20), or at all with none wanted."""
    if not colours:
        return bool(kind.bloom_months)
    return any(difference(flower, wanted) <= IN_COLOUR for flower in kind.flower_colours for wanted in colours)


# ---- the programme


def best(
    worth: FloatArray, rules: Sequence[Rule], low: FloatArray, high: FloatArray, *, seconds: float
) -> Solution | None:
    """Return the choice of greatest worth that keeps every rule, or None when none does.

    ``low`` and ``high`` (n,) hold 1, 1 for locked kinds and 0, 0 for excluded ones. Mixed-integer programme, HiGHS.
    """
    rows = np.array([r.sense * r.row for r in rules])
    least = np.array([r.sense * r.amount - ROUNDING * max(1.0, r.unit) / 2 for r in rules])
    found = _solve(-worth, rows, least, low=low, high=high, whole=np.ones(len(worth)), seconds=seconds)
    if found is None:
        return None
    chosen, gap, proven = found
    chosen = np.round(chosen)
    return Solution(chosen=chosen, worth=float(worth @ chosen), gap=gap, proven=proven)


def best_with_least_given_up(
    worth: FloatArray,
    rules: Sequence[Rule],
    low: FloatArray,
    high: FloatArray,
    *,
    seconds: float,
    dearness: Mapping[str, float] = DEARNESS,
) -> Solution:
    """Return the best choice when not every wish can be had: first the fewest wishes given up (weighted by
    ``dearness``), then by as little as possible, then the greatest worth. Three programmes in turn.
    """
    n, m = len(worth), len(rules)
    rows = np.array([r.sense * r.row for r in rules])
    amount = np.array([r.sense * r.amount - ROUNDING * max(1.0, r.unit) / 2 for r in rules])
    unit = np.array([r.unit for r in rules])
    most = np.maximum(amount - np.minimum(rows, 0.0).sum(axis=1), 0.0)  # no choice falls further short than this
    weight = np.array([dearness.get(r.topic, 1.0) for r in rules])
    # columns: chosen (n), how far each rule falls short in its unit (m), whether it is given up (m)
    table = np.block([[rows, np.diag(unit), np.zeros((m, m))], [np.zeros((m, n)), -np.diag(unit), np.diag(most)]])
    least = np.concatenate((amount, np.zeros(m)))
    lows = np.concatenate((low, np.zeros(2 * m)))
    highs = np.concatenate((high, most / unit, np.ones(m)))
    whole = np.concatenate((np.ones(n), np.zeros(m), np.ones(m)))
    proven = True
    goals = [
        np.concatenate((np.zeros(n + m), weight)),
        np.concatenate((np.zeros(n), np.ones(m), np.zeros(m))),
        np.concatenate((-worth, np.zeros(2 * m))),
    ]
    chosen, gap = np.zeros(n), 0.0
    for goal in goals:
        found = _solve(goal, table, least, low=lows, high=highs, whole=whole, seconds=seconds)
        if found is None:
            raise GardenError("no palette can be made of the locked and excluded kinds; unlock or allow some again")
        solved, gap, done = found
        x = np.where(whole > 0, np.round(solved), solved)  # the solver's ones and zeros are right to 1e-6 only
        proven = proven and done
        chosen = x[:n]
        table = np.vstack((table, -goal))  # the next goal may not undo this one
        least = np.append(least, -float(goal @ x) - 1e-6 * (1.0 + abs(float(goal @ x))))
    return Solution(chosen=chosen, worth=float(worth @ chosen), gap=gap, proven=proven)


def _solve(
    goal: FloatArray,
    rows: FloatArray,
    least: FloatArray,
    *,
    low: FloatArray,
    high: FloatArray,
    whole: FloatArray,
    seconds: float,
) -> tuple[FloatArray, float, bool] | None:
    """Minimise goal . x with rows . x >= least; None when nothing fits."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    found: Any = milp(
        goal,
        integrality=whole.astype(np.int64),
        bounds=Bounds(low, high),
        constraints=LinearConstraint(csr_array(rows), lb=least, ub=np.inf),
        options={"mip_rel_gap": 0.0, "time_limit": float(seconds)},
    )
    if found.status == 2:
        return None
    if found.x is None:
        raise GardenError(
            f"no palette was found in {seconds:g} s; allow more time, or ask for fewer kinds or months at once"
        )
    gap = float(found.mip_gap) if found.mip_gap is not None else 0.0
    return np.asarray(found.x, dtype=float), gap, found.status == 0


# ---- helpers


def _count(words: str, topic: Topic, sense: int, row: FloatArray, amount: int) -> Rule:
    return Rule(words=words, topic=topic, sense=sense, row=row, amount=float(amount), wanted=float(amount))


def _want_rule(kinds: Sequence[Species], want: LeastOf) -> Rule:
    row = np.array([float(k.botanical in want.kinds) for k in kinds])
    return _count(f"wanted: {want.words}", "must" if want.must else "should", 1, row, want.least)


def _limit_rule(kinds: Sequence[Species], limit: Limit, counts: FloatArray, kinds_most: int) -> list[Rule]:
    amounts = limit.amounts()
    row = limit.share * np.array([amounts.get(kind.botanical, 0.0) for kind in kinds])
    if limit.measure != "kinds":
        row = row * counts
    if not row.any():
        return []
    most = max(0.0, limit.most)  # where nothing is left for plants, as few of them as can be
    return [
        Rule(
            words=f"wanted: {limit.words}",
            topic="must" if limit.must else "should",
            sense=-1,
            row=row,
            amount=most,
            wanted=most,
            measure=limit.measure,
            unit=max(most / max(1, kinds_most), float(row.mean())),
        )
    ]


def _share(words: str, topic: Topic, flags: FloatArray, among: FloatArray, share: float) -> list[Rule]:
    if share <= 0:
        return []
    row = flags - share * among
    return [
        Rule(
            words=words,
            topic=topic,
            sense=1,
            row=row,
            amount=0.0,
            wanted=share,
            measure="share",
            flags=flags,
            among=among,
        )
    ]


def _mix_rule(part: Part) -> Rule:
    topic = cast(Topic, part.topic)
    if part.among is None:
        return Rule(
            words=part.words, topic=topic, sense=part.sense, row=part.flags, amount=part.share, wanted=part.share
        )
    return Rule(
        words=part.words,
        topic=topic,
        sense=part.sense,
        row=part.flags - part.share * part.among,
        amount=0.0,
        wanted=part.share,
        measure="share",
        flags=part.flags,
        among=part.among,
    )


def _layer_rules(kinds: Sequence[Species], wishes: Wishes) -> list[Rule]:
    rules = []
    for wish in wishes.layers:
        row = np.array([float(k.layer == wish.layer) for k in kinds])
        if wish.least:
            rules.append(_count(f"kinds of {wish.layer}", "layer", 1, row, wish.least))
        if wish.most is not None:
            rules.append(_count(f"kinds of {wish.layer}", "layer", -1, row, wish.most))
    return rules


def _flower_rules(kinds: Sequence[Species], wishes: Wishes, shift_days: float) -> list[Rule]:
    wanted = np.array([float(has_colour(k, wishes.colours)) for k in kinds])
    months = [flower_months(k, shift_days) for k in kinds]
    which = " in the style's colours" if wishes.colours else ""
    rules = []
    if wishes.kinds_a_month > 0:
        for month in dict.fromkeys(wishes.months):
            row = wanted * np.array([float(month in m) for m in months])
            words = f"kinds in flower in {calendar.month_name[month]}{which}"
            rules.append(_count(words, "flowers", 1, row, wishes.kinds_a_month))
    if wishes.colours:
        flowering = np.array([float(bool(m)) for m in months])
        words = "flowering kinds in the style's colours"
        rules += _share(words, "colours", wanted * flowering, flowering, wishes.colour_share)
    return rules


def _most_of(names: Sequence[str], topic: Topic, most: int | None) -> list[Rule]:
    """Return one rule for each genus or family that could pass its limit."""
    if most is None:
        return []
    of = "genus" if topic == "genus" else "family"
    return [
        _count(f"kinds of the {of} {name}", topic, -1, np.array([float(n == name) for n in names]), most)
        for name, count in sorted(Counter(names).items())
        if count > most
    ]
