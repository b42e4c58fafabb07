"""What the wants let all plants together come to, passed on to palette and arranging; which musts a planting misses.

A want for one area of the property limits what stands there, and is judged by it.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, cast

import attrs

from gardenkit.brief.asking import Asked
from gardenkit.brief.pricing import Covers, in_dollars
from gardenkit.brief.wants import Check, Want, judge
from gardenkit.garden import upkeep
from gardenkit.garden.answers import answers
from gardenkit.garden.answers.judging import in_words
from gardenkit.garden.answers.sums import DAYS
from gardenkit.garden.facts import plant_facts
from gardenkit.garden.thirst import too_thirsty
from gardenkit.planting.limits import Limit, Measure
from gardenkit.planting.species import Species
from gardenkit.schedules.irrigation import thirst
from gardenkit.schedules.plants import usual_price

if TYPE_CHECKING:
    from gardenkit.garden import Garden

# Wants that plants answer or that they can break.
OF_PLANTS = (
    *(
        "in_sun",
        "in_shade",
        "screened",
        "view_open",
        "small_tree",
        "climbers_on",
        "flowers_in",
        "scent_near",
        "winter_look",
        "food",
    ),
    *("nectar", "larvae", "berries", "natives_of", "plant_wanted", "plant_never", "safe_for", "no_allergy"),
    *("water_use", "rain_kept", "care_hours", "care_week", "cost_of"),
)
OF_PLACES = (
    "in_sun",
    "in_shade",
    "screened",
    "view_open",
    "climbers_on",
    "scent_near",
    "rain_kept",
)  # where plants stand decides

# Figures of the whole garden that count plants or kinds, and which count.
COUNTED: Mapping[str, tuple[Measure, Callable[[Species], bool]]] = {
    "plants": ("plants", lambda s: True),
    "trees": ("plants", lambda s: s.is_tree),
    "species": ("kinds", lambda s: True),
    "toxic_to_dogs": ("kinds", lambda s: "dogs" in s.toxic_to),
    "toxic_to_people": ("kinds", lambda s: "people" in s.toxic_to),
}


def limits(garden: "Garden", kinds: Iterable[Species]) -> tuple[Limit, ...]:
    """Return what every must and should of the wants list lets plants come to: money, hours of care, a number.

    What else the same money or hours are for is as it is now. A sum in another money than the prices limits nothing.
    """
    every = tuple(kinds)
    wants = [want for want in garden.project.brief.wants if want.weight != "could"]
    return tuple(
        limit
        for area in dict.fromkeys(want.area for want in wants)
        for limit in _limits(garden, area, [want for want in wants if want.area == area], every)
    )


def prices_each(garden: "Garden", kinds: Iterable[Species]) -> Mapping[str, float]:
    """Return the price of one plant of each kind in the money the garden is reckoned in, by its botanical name; a kind
    that has none in that money is left out.
    """
    own = {price.species: price.each for price in garden.project.planting.prices}
    ours = garden.costs.planning or in_dollars(garden.project.brief.currency)
    found = {s.botanical: own.get(s.botanical, usual_price(s)[0] if ours else None) for s in kinds}
    return {name: each for name, each in found.items() if each is not None}


def musts_of_places(garden: "Garden") -> tuple[str, ...]:
    """Return the musts that hang on where plants stand, not on which: no palette can keep these, a planting can."""
    musts = [want for want in garden.project.brief.wants if want.weight == "must" and want.asks is not None]
    return tuple(f'"{want.text}"' for want in musts if want.asks and _hangs_on_places(want.asks))


def musts_missed(garden: "Garden") -> tuple[str, ...]:
    """Return in words each must about plants that a garden does not keep, with its figure, in the garden's units."""
    musts = [w for w in garden.project.brief.wants if w.weight == "must" and _is_of_plants(w)]
    found = list[str]()
    for area in dict.fromkeys(want.area for want in musts):
        part, here = _part(garden, area), [want for want in musts if want.area == area]
        judged = judge(here, plant_facts(part), {}, answers(part, here))
        where = f" in {area}" if area else ""
        found += [
            f'"{one.want.text}"{where} is {one.verdict}: {garden.say(one.measured(garden.units))}'
            for one in judged
            if one.verdict in ("not met", "partly met")
        ]
    return tuple(found)


# ---- helpers


def _hangs_on_places(asked: Asked) -> bool:
    return asked.kind in OF_PLACES or (asked.kind == "food" and bool(asked.size or asked.sun))


def _is_of_plants(want: Want) -> bool:
    return want.check is not None or (want.asks is not None and want.asks.kind in OF_PLANTS)


def _part(garden: "Garden", area: str) -> "Garden":
    return garden.of_area(area) if area and area != garden.area else garden


def _limits(garden: "Garden", area: str, wants: Iterable[Want], kinds: tuple[Species, ...]) -> Iterable[Limit]:
    """Return what some wants for one area (empty: the whole) let its plants come to; nothing where it has no bed."""
    part = _part(garden, area)
    if area and not part.bed_area:
        return
    for want in wants:
        found: list[Limit] = []
        if want.asks is not None:
            found = _asked(part, want, want.asks, kinds)
        elif want.check is not None and want.check.compare == "at most":
            found = _checked(part, want, want.check, kinds)
        for limit in found:
            share = part.bed_area / garden.bed_area if area else 1.0
            words, ground = (f"{area}: {limit.words}", part.area_ground) if area else (limit.words, None)
            yield attrs.evolve(limit, words=words, ground=ground, share=share)


def _asked(garden: "Garden", want: Want, asked: Asked, kinds: tuple[Species, ...]) -> list[Limit]:
    must = want.weight == "must"
    if asked.kind == "cost_of":
        return _money(garden, want, asked.amount, cast(Covers, asked.words[0]), kinds)
    if asked.kind == "water_use":
        return _water(garden, want, asked.amount, kinds)
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
    if check.fact not in COUNTED:
        return []
    measure, counts = COUNTED[check.fact]
    each = tuple((species.botanical, 1.0) for species in kinds if counts(species))
    return [Limit(words=want.text, each=each, most=check.amount, measure=measure, must=want.weight == "must")]


def _water(garden: "Garden", want: Want, litres: float, kinds: tuple[Species, ...]) -> list[Limit]:
    """Return that no kind asks for more water than the beds can be given; a bed is watered by its thirstiest plant."""
    over = too_thirsty(garden, litres)
    each = tuple((species.botanical, 1.0) for species in kinds if thirst(species) in over)
    words = f"{want.text}, no plants of {' or '.join(over)} water need"
    return [Limit(words=words, each=each, most=0, measure="kinds", must=want.weight == "must")] if each else []


def _money(garden: "Garden", want: Want, amount: float, covers: Covers, kinds: tuple[Species, ...]) -> list[Limit]:
    if garden.costs.lines and garden.costs.lacking(covers):
        return []
    prices = prices_each(garden, (*kinds, *(garden.catalogue[p.species] for p in garden.creeping)))
    most = garden.costs.left_for_plants(amount, covers)
    most -= sum(prices.get(plant.species, 0.0) for plant in garden.creeping)  # in joints, not in beds
    each = tuple((species.botanical, prices.get(species.botanical, 0.0)) for species in kinds)
    return [Limit(words=want.text, each=each, most=most, measure="money", must=want.weight == "must")]
