"""Plants: what flowers, smells, feeds, climbs and grows where it is wanted, and what is not to be there."""

import math
from collections.abc import Callable, Collection
from typing import TYPE_CHECKING

from gardenkit.brief.asking import ALL_YEAR, Answer, Asked, Verdict
from gardenkit.brief.want_kinds.row import BEINGS, GRADES
from gardenkit.garden.answers.judging import GRAVE, compared, in_words, not_known
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.planting import places
from gardenkit.planting.choosing_rules import has_colour
from gardenkit.planting.season import flower_months
from gardenkit.planting.species import Species, meant_by, toxicity_for
from gardenkit.planting.standing import Planted
from gardenkit.planting.suitability import refused_by
from gardenkit.project.layout import place
from gardenkit.project.plant_choice import bed_called
from gardenkit.project.season import local_months
from gardenkit.project.views import places_to_look_from
from gardenkit.project.wanted_plants import feeds_insects, native_to
from gardenkit.structure.kinds import ground_kind
from gardenkit.units import counted, listed

if TYPE_CHECKING:
    from gardenkit.garden import Garden

NEAR = 3.0  # m from a place in which scent reaches it. House value.
UNPLANTED = "nothing is planted yet; arrange plants in 05_layering"
NEVER_SAFE = "not being listed never means safe"


def small_tree(garden: "Garden", asked: Asked) -> Answer:
    """Return whether a tree is planted and none grows taller than wanted."""
    trees = [(p, s) for p, s in _there(garden, asked.thing) if s.is_tree]
    if not trees:
        named = f' in "{asked.thing}"' if asked.thing else ""
        return Answer(
            verdict="not met", figure=f"no tree is planted{named} yet", help="choose a small tree and plant it"
        )
    _, tallest = max(trees, key=lambda one: one[1].height)
    where = asked.thing or most_in(garden, (tallest.botanical,))
    figure = f"{tallest.botanical} grows {tallest.height:.1f} m tall, wanted at most {asked.amount:.1f} m"
    low = [s.botanical for _, s in trees if s.height <= asked.amount + 1e-9]
    if low and tallest.height > asked.amount:
        return Answer(
            verdict="partly met", figure=figure, why=f"{listed(low)} stay below", value=tallest.height, where=where
        )
    near = _too_near(garden, {p.number for p, _ in trees})
    return compared(asked, tallest.height, figure, but=near, where=where)


def climbers_on(garden: "Garden", asked: Asked) -> Answer:
    """Return how many plants climb on a wall, fence or support, with what the findings hold against it."""
    supports = {s.name for s in garden.project.structure.supports if asked.thing in (s.name, s.against)}
    climbing = [species.botanical for plant, species in garden.planted if plant.support in supports]
    kinds = tuple(dict.fromkeys(climbing))
    held = [
        f
        for f in garden.said_about(("supports", "training"))
        if f.where in supports and f.seriousness in ("stop", "warning")
    ]
    but = f"{held[0].where}: {held[0].what}" if held else ""
    figure = f"{counted(len(climbing), 'plant')} on {asked.thing}, wanted at least {asked.amount:.0f}"
    why = listed(kinds) if kinds else "" if supports else "nothing is there for them to climb on"
    return compared(asked, float(len(climbing)), figure, but=but, why=why, where=asked.thing)


def flowers_in(garden: "Garden", asked: Asked) -> Answer:
    """Return in which of the months enough kinds of the wanted colours flower, in a bed or in the garden."""
    there = tuple(dict.fromkeys(species for _, species in _there(garden, asked.thing)))
    if not there:
        return not_known(UNPLANTED)
    months = asked.months or ALL_YEAR
    kinds = [s for s in there if has_colour(s, asked.words)]
    counts = {m: sum(m in _flowering(garden, s) for s in kinds) for m in months}
    wanted = max(1, round(asked.amount))
    good = [m for m, count in counts.items() if count >= wanted]
    colours = f" in {' or '.join(asked.words)}" if asked.words else ""
    figure = f"flowers{colours} in {len(good)} of {len(months)} months, wanted {counted(wanted, 'kind')} in each"
    short = [m for m in months if m not in good]
    why = f"too few in {in_words(short)}" if short else ""
    verdict: Verdict = "met" if not short else "partly met" if good else "not met"
    where = asked.thing or most_in(garden, {s.botanical for s in kinds})
    return Answer(verdict=verdict, figure=figure, why=why, where=where, value=float(len(good)))


def scent_near(garden: "Garden", asked: Asked) -> Answer:
    """Return how many scented plants stand near a place, in flower in the months that are asked for."""
    at = _at(garden, asked.thing)
    months = set(asked.months or ALL_YEAR)
    near = [
        species
        for plant, species in garden.planted
        if species.fragrance != "none"
        and math.dist(plant.at, at) <= NEAR
        and (not asked.months or months & set(_flowering(garden, species)))
    ]
    when = f" in {in_words(asked.months)}" if asked.months else ""
    figure = f"{counted(len(near), 'scented plant')} within {NEAR:.0f} m of {asked.thing}{when}"
    names = tuple(dict.fromkeys(s.botanical for s in near))
    return compared(
        asked, float(len(near)), f"{figure}, wanted at least {asked.amount:.0f}", why=listed(names), where=asked.thing
    )


def nectar(garden: "Garden", asked: Asked) -> Answer:
    """Return in how many months something feeds bees, butterflies, moths, hoverflies or hummingbirds."""
    if not garden.kinds:
        return not_known(UNPLANTED)
    feeding = [s for s in garden.kinds if feeds_insects(s)]
    months = sorted({month for s in feeding for month in _flowering(garden, s)})
    figure = f"{counted(len(months), 'month')} with nectar, wanted at least {asked.amount:.0f}"
    where = most_in(garden, {s.botanical for s in feeding})
    return compared(asked, float(len(months)), figure, why=in_words(months), where=where)


def larvae(garden: "Garden", asked: Asked) -> Answer:
    """Return how many kinds caterpillars feed on."""
    return _kinds(garden, asked, "that caterpillars feed on", lambda s: "caterpillars" in s.wildlife)


def berries(garden: "Garden", asked: Asked) -> Answer:
    """Return how many kinds have berries or seeds that birds come for."""
    return _kinds(garden, asked, "with food for birds", lambda s: "birds" in s.wildlife)


def natives_of(garden: "Garden", asked: Asked) -> Answer:
    """Return the share of the kinds that the plant tables call native to a region; a garden form counts as its species.

    A kind of all North America counts for a part of it.
    """
    if not garden.kinds:
        return not_known(UNPLANTED)
    native = [s.botanical for s in garden.kinds if any(native_to(s, word) for word in asked.words)]
    share = 100 * len(native) / len(garden.kinds)
    figure = f"{share:.0f} % of the kinds, {len(native)} of {len(garden.kinds)}, wanted at least {asked.amount:.0f} %"
    return compared(asked, share, figure, why=listed(native), where=most_in(garden, native))


def plant_wanted(garden: "Garden", asked: Asked) -> Answer:
    """Return how many plants there are of a wanted kind or genus, and what is held against their places."""
    there = [(p, s) for p, s in garden.planted if any(meant_by(s, word) for word in asked.words)]
    figure = f"{len(there)} planted, wanted at least {asked.amount:.0f}"
    ill = ill_placed(garden, {str(p.number) for p, _ in there})
    where = most_in(garden, {s.botanical for _, s in there})
    return compared(asked, float(len(there)), figure, but=ill, where=where)


def plant_never(garden: "Garden", asked: Asked) -> Answer:
    """Return whether a kind or genus that is not to be seen is on the plan, or stands there as found."""
    there = [s.botanical for s in garden.kinds if any(meant_by(s, word) for word in asked.words)]
    found = [t.name for t in garden.project.site.trees if t.keep and any(_begins(t.species, w) for w in asked.words)]
    where, there = most_in(garden, there) or next(iter(found), ""), there + found
    if there:
        return Answer(verdict="not met", figure=f"on the plan: {listed(there)}", where=where, value=float(len(there)))
    return Answer(verdict="met", figure=f"no {' or '.join(asked.words)} on the plan", value=0.0)


def safe_for(garden: "Garden", asked: Asked) -> Answer:
    """Return which kinds are listed as toxic to somebody, from a grade on; for people open water is named too.

    A kind whose grade is not known counts. That none is listed never means safe, and the answer says so.
    """
    beings = [who for who in BEINGS if who in asked.words]
    least = min((GRADES.index(g) for g in GRADES if g in asked.words), default=0)
    if not garden.kinds:
        return not_known(UNPLANTED)
    listed_for = [s.botanical for s in garden.kinds if any(_harms(s, who, least) for who in beings)]
    whom, from_grade = " or ".join(beings), f" {GRADES[least]} or worse" if least else ""
    figure = f"{len(listed_for)} of {counted(len(garden.kinds), 'kind')} listed as toxic{from_grade} for {whom}"
    if listed_for:
        where = most_in(garden, listed_for)
        return Answer(
            verdict="not met", figure=figure, why=listed(listed_for), where=where, value=float(len(listed_for))
        )
    ponds = (
        [p.name for p in garden.project.structure.ground_areas if ground_kind(p.kind).water]
        if "people" in beings
        else []
    )
    if ponds:
        why = f"but {listed(ponds)} is open water, in which a small child can drown; {NEVER_SAFE}"
        return Answer(verdict="partly met", figure=figure, why=why, where=ponds[0], value=0.0)
    return Answer(verdict="met", figure=figure, why=NEVER_SAFE, value=0.0)


def no_allergy(garden: "Garden", asked: Asked) -> Answer:
    """Return which kinds carry a caution for an allergy; that none does never means safe, and the answer says so."""
    if not garden.kinds:
        return not_known(UNPLANTED)
    carrying = [s.botanical for s in garden.kinds if any(refused_by(s, word) for word in asked.words)]
    figure = f"{len(carrying)} of {counted(len(garden.kinds), 'kind')} with a caution for {' or '.join(asked.words)}"
    verdict: Verdict = "not met" if carrying else "met"
    why = listed(carrying) if carrying else NEVER_SAFE
    where = most_in(garden, carrying)
    return Answer(verdict=verdict, figure=figure, why=why, where=where, value=float(len(carrying)))


# ---- helpers


def _there(garden: "Garden", bed: str) -> tuple[Planted, ...]:
    """Return the plants in a bed, all of them without one."""
    if not bed:
        return garden.planted
    region = bed_called(garden.layout, bed).region
    return tuple(one for one in garden.planted if plane.contains(region, one[0].at))


def _flowering(garden: "Garden", species: Species) -> tuple[int, ...]:
    return local_months(garden.project.site, flower_months(species, garden.spring_shift))


def _at(garden: "Garden", name: str) -> Point:
    eyes = places_to_look_from(garden.project)
    return eyes[name].at if name in eyes else place(name, garden.project.site, garden.project.structure)


def _kinds(garden: "Garden", asked: Asked, words: str, has: Callable[[Species], bool]) -> Answer:
    if not garden.kinds:
        return not_known(UNPLANTED)
    names = [s.botanical for s in garden.kinds if has(s)]
    figure = f"{counted(len(names), 'kind')} {words}, wanted at least {asked.amount:.0f}"
    return compared(asked, float(len(names)), figure, why=listed(names), where=most_in(garden, names))


def most_in(garden: "Garden", kinds: Collection[str]) -> str:
    """Return the bed in which most plants of some kinds (botanical names) stand, empty where none stands in a bed."""
    those = [plant for plant, species in garden.planted if species.botanical in kinds]
    here = garden.counted_layout.plants_by_bed(those)
    return max((name for name in here if here[name]), key=lambda name: len(here[name]), default="")


def ill_placed(garden: "Garden", numbers: Collection[str]) -> str:
    """Return what the findings on places hold against some plants, in a sentence; empty when nothing does."""
    for line in garden.said_about((places.TOPIC,)):
        for one in line.members or (line,):
            if one.subject and one.subject[0] == "plant" and one.subject[1] in numbers:
                return f"{one.where}: {one.what}"
    return ""


def _too_near(garden: "Garden", numbers: Collection[int]) -> str:
    """Return what the findings hold against where some trees stand: too near to walls, wires, drains."""
    names = {str(number) for number in numbers}
    for line in garden.said_about(("clearance", "setback")):
        for one in line.members or (line,):
            of = one.subject is not None and one.subject[0] == "plant" and one.subject[1] in names
            if of and one.seriousness in GRAVE:
                return f"{one.where}: {one.what}"
    return ""


def _begins(name: str, word: str) -> bool:
    return bool(name) and f"{name.casefold()} ".startswith(f"{word.casefold()} ")


def _harms(species: Species, who: str, least: int) -> bool:
    if who not in species.toxic_to:
        return False
    grade = toxicity_for(species, who)
    return grade not in GRADES or GRADES.index(grade) >= least
