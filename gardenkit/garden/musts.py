"""What the wants let all plants together come to, passed on to palette and arranging; which musts a planting misses."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, cast

from gardenkit.brief.asking import Asked
from gardenkit.brief.pricing import Covers, in_dollars
from gardenkit.brief.wants import Check, Want, judge
from gardenkit.garden import upkeep
from gardenkit.garden.answers import answers
from gardenkit.garden.answers.judging import in_words
from gardenkit.garden.answers.sums import DAYS
from gardenkit.garden.facts import plant_facts
from gardenkit.planting.limits import Limit
from gardenkit.planting.species import Species
from gardenkit.schedules.plants import usual_price

if TYPE_CHECKING:
    from gardenkit.garden import Garden

# Wants that plants answer or that they can break; sun and shade are left to the wants list, for they take long.
OF_PLANTS = (
    *("screened", "view_open", "small_tree", "climbers_on", "flowers_in", "scent_near", "winter_look", "food"),
    *("nectar", "larvae", "berries", "natives_of", "plant_wanted", "plant_never", "safe_for", "no_allergy"),
    *("water_use", "rain_kept", "care_hours", "care_week", "cost_of"),
)


def limits(garden: "Garden", kinds: Iterable[Species]) -> tuple[Limit, ...]:
    """Return what every must and should of the wants list lets plants come to: money, hours of care, a number.

    What else the same money or hours are for is as it is now. A sum in another money than the prices limits nothing.
    """
    every = tuple(kinds)
    found: list[Limit] = []
    for want in garden.project.brief.wants:
        if want.weight == "could" or want.area:
            continue
        if want.asks is not None:
            found += _asked(garden, want, want.asks, every)
        elif want.check is not None and want.check.compare == "at most":
            found += _checked(garden, want, want.check, every)
    return tuple(found)


def prices_each(garden: "Garden", kinds: Iterable[Species]) -> Mapping[str, float]:
    """Return the price of one plant of each kind in the money the garden is reckoned in, by its botanical name; a kind
    that has none in that money is left out.
    """
    own = {price.species: price.each for price in garden.project.planting.prices}
    ours = garden.costs.planning or in_dollars(garden.project.brief.currency)
    found = {s.botanical: own.get(s.botanical, usual_price(s)[0] if ours else None) for s in kinds}
    return {name: each for name, each in found.items() if each is not None}


def musts_missed(garden: "Garden") -> tuple[str, ...]:
    """Return in words each must about plants that a garden does not keep, with its figure, in the garden's units."""
    musts = [w for w in garden.project.brief.wants if w.weight == "must" and _is_of_plants(w)]
    judged = judge(musts, plant_facts(garden), {}, answers(garden, musts))
    missed = (one for one in judged if one.verdict in ("not met", "partly met"))
    return tuple(f'"{one.want.text}" is {one.verdict}: {garden.say(one.measured(garden.units))}' for one in missed)


# ---- helpers


def _is_of_plants(want: Want) -> bool:
    return want.check is not None or (want.asks is not None and want.asks.kind in OF_PLANTS)


def _asked(garden: "Garden", want: Want, asked: Asked, kinds: tuple[Species, ...]) -> list[Limit]:
    must = want.weight == "must"
    if asked.kind == "cost_of":
        return _money(garden, want, asked.amount, cast(Covers, asked.words[0]), kinds)
    if asked.kind not in ("care_hours", "care_week"):
        return []
    each, besides = upkeep.hours_each(garden, kinds), upkeep.hours_besides(garden)
    if asked.kind == "care_hours":
        sums = tuple((name, sum(hours)) for name, hours in each.items())
        most = asked.amount - sum(besides)
        return [Limit(words=want.text, each=sums, most=most, measure="hours", must=must)]
    return [
        Limit(
            words=f"{want.text}, in {in_words((month + 1,))}",
            each=tuple((name, hours[month]) for name, hours in each.items()),
            most=asked.amount * days / 7 - besides[month],
            measure="hours",
            must=must,
        )
        for month, days in enumerate(DAYS)
    ]


def _checked(garden: "Garden", want: Want, check: Check, kinds: tuple[Species, ...]) -> list[Limit]:
    if check.fact == "plant_cost":
        return _money(garden, want, check.amount, "plants", kinds)
    counted = {"plants": kinds, "trees": [s for s in kinds if s.layer in ("tree", "conifer")]}
    each = tuple((species.botanical, 1.0) for species in counted.get(check.fact, ()))
    limit = Limit(words=want.text, each=each, most=check.amount, measure="plants", must=want.weight == "must")
    return [limit] if each else []


def _money(garden: "Garden", want: Want, amount: float, covers: Covers, kinds: tuple[Species, ...]) -> list[Limit]:
    if garden.costs.lines and garden.costs.lacking(covers):
        return []
    prices = prices_each(garden, (*kinds, *(garden.catalogue[p.species] for p in garden.creeping)))
    most = garden.costs.left_for_plants(amount, covers)
    most -= sum(prices.get(plant.species, 0.0) for plant in garden.creeping)  # in joints, not in beds
    each = tuple((species.botanical, prices.get(species.botanical, 0.0)) for species in kinds)
    return [Limit(words=want.text, each=each, most=most, measure="money", must=want.weight == "must")]
