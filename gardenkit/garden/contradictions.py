"""Wants that cannot all hold: found when they are typed, a finding for each pair, with the lighter one to let go."""

import math
from collections.abc import Iterable
from itertools import combinations
from typing import TYPE_CHECKING

from gardenkit.brief.asking import ALL_YEAR, Asked, ruled_out_by
from gardenkit.brief.wants import Want
from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Remedy, Step
from gardenkit.garden.answers.eating import in_enough_sun
from gardenkit.garden.choosing import fixed_kinds
from gardenkit.garden.thirst import LEVELS, litres_by_thirst
from gardenkit.geometry import plane
from gardenkit.planting.species import meant_by
from gardenkit.planting.suitability import refused_by
from gardenkit.project.layout import place
from gardenkit.sources import HOUSE, PLAIN
from gardenkit.structure.path_rules import ADA, LEVEL

if TYPE_CHECKING:
    from gardenkit.garden import Garden

WHERE = "wants list"
WEIGHTS = ("could", "should", "must")  # the lighter first
ROOM = 0.5  # of the most a path wanders over the straight way that step-free ways may take; House value.


def contradictions(garden: "Garden") -> tuple[Finding, ...]:
    """Return what the wants hold against each other, against what is fixed on the plan, and against the ground."""
    asking = [(n, want, want.asks) for n, want in enumerate(garden.project.brief.wants) if want.asks is not None]
    found = [
        _pair((i, a), (j, b), said)
        for (i, a, one), (j, b, other) in combinations(asking, 2)
        if (said := _against(garden, (a, one), (b, other)))
    ]
    alone = [
        _alone(n, want, said, _instead(garden, want, asked))
        for n, want, asked in asking
        if (said := _by_itself(garden, want, asked))
    ]
    return (*found, *_refused_and_wanted(garden), *alone, *_room(garden))


# ---- two wants


def _against(garden: "Garden", one: tuple[Want, Asked], other: tuple[Want, Asked]) -> str:
    """Return in a sentence why two wants cannot both hold, whichever comes first; empty when they can."""
    for (want, x), (against, y) in ((one, other), (other, one)):
        elsewhere = against.area and against.area != want.area  # what one area rules out may stand in another
        for rule in (_light, _sight, _ways) if elsewhere else (_plants, _light, _sight, _ways):
            said = rule(garden, x, y)
            if said:
                return said
    return ""


def _plants(garden: "Garden", one: Asked, other: Asked) -> str:
    """A plant to have against what no plant may be: toxic, an allergy, never to see, taller than a limit."""
    if one.kind != "plant_wanted":
        return ""
    meant = [s for s in garden.catalogue if any(meant_by(s, word) for word in one.words)]
    for word in ruled_out_by(other):
        why = [refused_by(s, word) for s in meant]
        if meant and all(why):
            return f"{' or '.join(one.words)} is wanted, but {word} is not: {why[0]}"
    return ""


def _light(garden: "Garden", one: Asked, other: Asked) -> str:
    """Sun and shade on one place at one time."""
    del garden
    if (one.kind, other.kind) != ("in_sun", "in_shade") or one.thing != other.thing:
        return ""
    since, until = max(one.since, other.since), min(one.until, other.until)
    months = set(one.months) & set(other.months) if one.months and other.months else {0}
    if since >= until or not months or one.amount + other.amount <= 100:
        return ""
    return f"{one.thing} is to be in the sun and in the shade at the same hours"


def _sight(garden: "Garden", one: Asked, other: Asked) -> str:
    """One thing hidden and kept in sight from the same place."""
    del garden
    same = (one.thing, one.other) == (other.thing, other.other)
    if (one.kind, other.kind) != ("screened", "view_open") or not same or one.amount + other.amount <= 100:
        return ""
    months = set(one.months or ALL_YEAR) & set(other.months or ALL_YEAR)
    return f"{one.thing} is to be hidden from {one.other} and in sight of it" if months else ""


def _ways(garden: "Garden", one: Asked, other: Asked) -> str:
    """A step-free way by the path that is to have steps."""
    if (one.kind, other.kind) != ("step_free_way", "steps_most") or other.amount < 1:
        return ""
    path = next((p for p in garden.project.structure.paths if p.name == other.thing), None)
    ends = {one.thing, one.other}
    if path is None or {path.start, path.end} != ends:
        return ""
    return f"path {path.name} is to have steps and to be step-free" if path.flights else ""


# ---- a want by itself, and all together


def _by_itself(garden: "Garden", want: Want, asked: Asked) -> str:
    """Return why a want cannot hold as the garden lies: nothing could shade the place, the ground falls more than a
    step-free way can take, the beds want more water or have less ground in the sun.
    """
    if asked.kind in ("water_use", "food"):
        part = garden.of_area(want.area) if want.area else garden
        return _too_dry(part, asked) if asked.kind == "water_use" else _too_little_ground(part, asked)
    if asked.kind == "in_shade":
        part = garden.of_area(want.area) if want.area else garden
        answer = part.answers[asked]
        nothing = answer.verdict == "not met" and not answer.value and not answer.why
        return (
            f"nothing stands that could shade {asked.thing} at these hours; plant or build it first" if nothing else ""
        )
    if asked.kind != "step_free_way" or garden.ground_to_be is None:
        return ""
    site, structure = garden.project.site, garden.project.structure
    try:
        a, b = (place(name, site, structure) for name in (asked.thing, asked.other))
    except GardenError:
        return ""
    rise = abs(garden.ground_to_be.height(a) - garden.ground_to_be.height(b))
    straight, needed = math.dist(a, b), rise / (LEVEL[0][0] / 100)
    if needed <= straight * (1 + ROOM):
        return ""
    return (
        f"the ground rises {rise:.2f} m from {asked.thing} to {asked.other}: at 1 in 20 the way must be {needed:.1f} m "
        f"long, and they are {straight:.1f} m apart; think of a ramp with landings or another entrance; {LOCAL_CODE}"
    )


def _too_dry(garden: "Garden", asked: Asked) -> str:
    """Water for less than the beds take even with plants that need little."""
    least = litres_by_thirst(garden).get(LEVELS[0], 0.0)
    if least <= asked.amount:
        return ""
    return (
        f"{garden.bed_area:.1f} m2 of beds take about {least:,.0f} L in a year without rain even where nothing is "
        "arranged in them that needs more than little; ask for more, lay out less bed, or unlock the thirstier plants"
    )


def _too_little_ground(garden: "Garden", asked: Asked) -> str:
    """Food on more ground than all beds have, or have in the sun that is asked for."""
    if not asked.size or not garden.beds:
        return ""
    ground, lit = _to_grow_on(garden, asked), ""
    if ground >= asked.size:
        return ""
    if asked.sun:
        lit = f" with {asked.sun:g} hours of sun a day in year {asked.year}"
    return f"all beds together have {ground:.1f} m2{lit}, wanted are {asked.size:.1f} m2; lay out more bed there first"


def _to_grow_on(garden: "Garden", asked: Asked) -> float:
    """Return the m2 of all beds, with the sun that is asked for where it is."""
    return in_enough_sun(garden, asked, {bed.name: bed.region for bed in garden.beds}) if asked.sun else garden.bed_area


def _instead(garden: "Garden", want: Want, asked: Asked) -> tuple[str, str, float] | None:
    """Return what such a want could ask for instead as the garden lies: in words, the field, its amount."""
    part = garden.of_area(want.area) if want.area else garden
    if asked.kind == "water_use":
        litres = 100.0 * math.ceil(litres_by_thirst(part)[LEVELS[0]] / 100)
        return garden.say(f"{litres:,.0f} L"), "amount", litres
    size = math.floor(10 * _to_grow_on(part, asked)) / 10 if asked.kind == "food" else 0.0
    return (f"{size:.1f} m2 of ground", "size", size) if size > 0 else None


def _refused_and_wanted(garden: "Garden") -> Iterable[Finding]:
    """Return which favourites and fixed plants carry what a must or the client's refusals rule out."""
    kept = tuple(dict.fromkeys((*garden.project.planting.favourites, *fixed_kinds(garden))))
    areas = [(area, garden.of_area(area)) for area in garden.project.brief.areas_refusing]
    refused = [(word, "", kept) for word in garden.project.brief.refused]
    refused += [
        (word, f" in {area}", _fixed_in(part))
        for area, part in areas
        for word in garden.project.brief.ruled_out_in(area)
    ]
    for word, where, names in refused:
        for name in names:
            if name in garden.catalogue and (why := refused_by(garden.catalogue[name], word)):
                choices = () if where else _to_choose(garden, word, name)
                is_kept = "stands fixed there" if where else "is a favourite or stands fixed on the plan"
                yield Finding(
                    where=WHERE,
                    what=f'"{word}" is refused{where}, but {name} {is_kept}: {why}; let go of one of the two',
                    source=garden.catalogue[name].caution_source,
                    seriousness="warning",
                    topic="wants",
                    rule="contradiction",
                    remedy=choices[0] if choices else None,
                    others=choices[1:],
                )


def _fixed_in(part: "Garden") -> tuple[str, ...]:
    """Return the kinds of which a plant is fixed in one area of the property."""
    return tuple(dict.fromkeys(p.species for p in part.counted.planting.plants if p.locked or p.by_hand))


def _to_choose(garden: "Garden", word: str, name: str) -> tuple[Remedy, ...]:
    """Return what can be let go of where a favourite is refused: the favourite, and the refusal if it is one by itself
    and not what a must of the list rules out.
    """
    brief, found = garden.project.brief, list[Remedy]()
    if name in garden.project.planting.favourites:
        step = Step(edit="planting.release_kind", arguments=(("name", name),))
        found.append(Remedy(words=f"let go of {name} as a favourite", steps=(step,)))
    if word in brief.refuses:
        rest = tuple(one for one in brief.refuses if one != word)
        step = Step(edit="brief.set_refusals", arguments=(("words", rest),))
        found.append(Remedy(words=f'no longer refuse "{word}"', steps=(step,)))
    return tuple(found)


def _room(garden: "Garden") -> Iterable[Finding]:
    """Return whether the areas that are asked for, each thing once, find room on the open ground."""
    largest: dict[str, tuple[int, Want, Asked]] = {}
    for number, want in enumerate(garden.project.brief.wants):
        asked = want.asks
        if asked is not None and asked.kind == "area_of":
            name = asked.thing or f"area {number}"
            if name not in largest or asked.amount > largest[name][2].amount:
                largest[name] = (number, want, asked)
    ground, wanted = plane.area(garden.layout.ground), sum(asked.amount for _, _, asked in largest.values())
    if ground > 0 and wanted > ground:
        choices = _to_lessen(largest.values(), wanted - ground)
        yield Finding(
            where=WHERE,
            what=f"the areas asked for come to {wanted:.1f} m2, the open ground has {ground:.1f} m2; ask for less",
            source=PLAIN,
            seriousness="warning",
            topic="wants",
            rule="contradiction",
            remedy=choices[0] if choices else None,
            others=choices[1:],
        )


def _to_lessen(asked_for: Iterable[tuple[int, Want, Asked]], over: float) -> tuple[Remedy, ...]:
    """Return for how much less each want could ask to make up for ``over`` m2 too many, the lighter first; one that is
    smaller than that can only be let go.
    """
    found = []
    for number, want, asked in sorted(asked_for, key=lambda one: WEIGHTS.index(one[1].weight)):
        left = math.floor((asked.amount - over) * 10) / 10
        if left > 0:
            step = Step(edit="brief.ask_for_less", arguments=(("index", number), ("amount", left)))
            found.append(Remedy(words=f'ask for {left:.1f} m2 in "{want.text}" ({want.weight})', steps=(step,)))
        else:
            found.append(_without(number, want))
    return tuple(found)


# ---- findings


def _pair(one: tuple[int, Want], other: tuple[int, Want], said: str) -> Finding:
    lighter, heavier = sorted((one, other), key=lambda numbered: WEIGHTS.index(numbered[1].weight))
    return Finding(
        where=WHERE,
        what=f'"{one[1].text}" and "{other[1].text}" cannot both be: {said}; ask the client which matters more',
        why=f"{heavier[1].weight} against {lighter[1].weight}",
        source=HOUSE,
        seriousness="warning",
        topic="wants",
        rule="contradiction",
        remedy=_without(*lighter),
        others=(_without(*heavier),),
    )


def _without(number: int, want: Want) -> Remedy:
    step = Step(edit="brief.remove_want", arguments=(("index", number),))
    return Remedy(words=f'let go of "{want.text}" ({want.weight})', steps=(step,))


def _alone(number: int, want: Want, said: str, instead: tuple[str, str, float] | None) -> Finding:
    choices = []
    if instead is not None:
        words, field, amount = instead
        step = Step(edit="brief.ask_for_less", arguments=(("index", number), (field, amount)))
        choices.append(Remedy(words=f'ask for {words} in "{want.text}"', steps=(step,)))
    if want.weight != "could":
        step = Step(edit="brief.weigh_want", arguments=(("index", number), ("weight", "could")))
        choices.append(Remedy(words=f'keep "{want.text}" as a could: it holds nothing back', steps=(step,)))
    choices.append(_without(number, want))
    return Finding(
        where=WHERE,
        what=f'"{want.text}" cannot be as the garden lies: {said}',
        source=f"{ADA} 403.3" if want.asks and want.asks.kind == "step_free_way" else PLAIN,
        seriousness="note" if want.weight == "could" else "warning",
        topic="wants",
        rule="contradiction",
        remedy=choices[0],
        others=tuple(choices[1:]),
    )
