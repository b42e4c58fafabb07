"""What the wants ask of the choice of plants, passed on to palette and arranging: so many kinds of some sort."""

import calendar
import math
from collections.abc import Callable, Iterable, Mapping, Sequence

from gardenkit.brief.asking import ALL_YEAR
from gardenkit.brief.wants import Want
from gardenkit.planting.choosing_rules import LeastOf, has_colour
from gardenkit.planting.eaten import is_food
from gardenkit.planting.season import flower_months
from gardenkit.planting.species import Species, meant_by
from gardenkit.project import Project
from gardenkit.project.season import local_months, northern_month, spring_shift

Test = Callable[[Species], bool]
FEEDS = ("bees", "butterflies", "moths", "hoverflies", "hummingbirds")
SHARES = ("evergreen_share", "natives_share")
USUAL_KINDS = 20  # of a palette, of which a share is taken. House value.


def wanted_of_plants(project: Project, kinds: Iterable[Species]) -> tuple[LeastOf, ...]:
    """Return what every must and should of the wants list asks of a palette, as counts over the ``kinds`` there are.

    What is to be eaten and is sown or stands in a bed for it already is not asked of the palette again.
    """
    every = tuple(kinds)
    grown = _grown_to_eat(project, every)
    return tuple(
        LeastOf(
            words=words,
            kinds=tuple(s.botanical for s in every if test(s)),
            least=max(1, least),
            must=want.weight == "must",
        )
        for want in project.brief.wants
        if want.weight != "could"
        for words, test, least in (
            *_tests(project, want),
            *_to_eat(want, grown),
            *_of_facts(want),
            *_in_months(project, want, every),
        )
    )


def shares_wanted(project: Project) -> Mapping[str, float]:
    """Return the least shares (0 to 1) of evergreen and native plants that a must or should asks for, by setting."""
    checks = [w.check for w in project.brief.wants if w.check and w.weight != "could" and w.check.compare == "at least"]
    asked = [(one.fact, min(1.0, one.amount / 100)) for one in checks if one.fact in SHARES]
    return {fact: max(share for name, share in asked if name == fact) for fact, _ in asked}


def months_wanted(project: Project) -> tuple[int, ...]:
    """Return the months of the northern year in which a must or should asks for flowers, in order."""
    asked = [w.asks for w in project.brief.wants if w.asks and w.weight != "could" and w.asks.kind == "flowers_in"]
    here = {month for one in asked for month in (one.months or ALL_YEAR)}
    return tuple(sorted(local_months(project.site, here)))


# ---- helpers


def _tests(project: Project, want: Want) -> Iterable[tuple[str, Test, int]]:
    """Return what is asked as tests of kinds: words, whether a kind counts, how many must."""
    text, asked = want.text, want.asks
    if asked is None:
        return
    least = round(asked.amount)
    simple: dict[str, Test] = {
        "larvae": lambda s: "caterpillars" in s.wildlife,
        "berries": lambda s: "birds" in s.wildlife,
        "winter_look": lambda s: bool(s.winter_interest),
    }
    if asked.kind in simple:
        yield text, simple[asked.kind], least
    elif asked.kind == "plant_wanted":
        yield text, lambda s: any(meant_by(s, word) for word in asked.words), 1
    elif asked.kind == "small_tree":
        yield text, lambda s: s.is_tree and s.height <= asked.amount, 1
    elif asked.kind == "climbers_on":
        yield text, lambda s: s.layer in ("climber", "wall fruit"), 1
    elif asked.kind == "scent_near":
        yield text, lambda s: s.fragrance != "none", 1
    elif asked.kind == "natives_of":
        yield text, lambda s: any(native_to(s, word) for word in asked.words), math.ceil(least / 100 * USUAL_KINDS)
    elif asked.kind == "flowers_in":
        shift = spring_shift(project.site)
        for month in asked.months or ALL_YEAR:
            there = _flowering(northern_month(project.site, month), asked.words, shift)
            yield f"{text}, in {calendar.month_name[month]}", there, least


def _grown_to_eat(project: Project, kinds: Iterable[Species]) -> tuple[Species, ...]:
    """Return the kinds that are sown as crops, and those planted that no palette for beds to look at can hold."""
    there = {plant.species for plant in project.planting.plants}
    sown = {crop.species for crop in project.planting.crops}
    return tuple(s for s in kinds if s.botanical in sown or (s.botanical in there and not s.is_ornamental))


def _to_eat(want: Want, grown: tuple[Species, ...]) -> Iterable[tuple[str, Test, int]]:
    asked = want.asks
    if asked is None or asked.kind != "food":
        return
    least = math.ceil(asked.amount) - sum(is_food(species) for species in grown)
    if least > 0:
        yield want.text, is_food, least
    for word in asked.words:
        if not any(meant_by(species, word) for species in grown):
            yield f"{want.text}, {word}", lambda s, word=word: meant_by(s, word), 1  # type: ignore[misc]


def _of_facts(want: Want) -> Iterable[tuple[str, Test, int]]:
    """Return what a want that is checked by a figure asks of the kinds: so many trees, so many that are scented."""
    counted: dict[str, Test] = {
        "trees": lambda s: s.is_tree,
        "fragrant_species": lambda s: s.fragrance != "none",
        "species": lambda s: True,
    }
    check = want.check
    if check is not None and check.compare == "at least" and check.fact in counted:
        least = 1 if check.fact == "trees" else math.ceil(check.amount)  # several trees may be of one kind
        yield want.text, counted[check.fact], least


def _in_months(project: Project, want: Want, kinds: Sequence[Species]) -> Iterable[tuple[str, Test, int]]:
    """Return that in so many months, those in which most kinds do, one flowers or feeds; which months is left open."""
    counts, least = _counting_months(want)
    shift = spring_shift(project.site)
    flowering = {m: [s for s in kinds if counts(s) and m in flower_months(s, shift)] for m in ALL_YEAR}
    easiest = sorted((m for m in ALL_YEAR if flowering[m]), key=lambda m: -len(flowering[m]))[:least]
    for month in sorted(easiest):
        words = f"{want.text}, in {calendar.month_name[northern_month(project.site, month)]}"
        yield words, lambda s, month=month: counts(s) and month in flower_months(s, shift), 1  # type: ignore[misc]


def _counting_months(want: Want) -> tuple[Test, int]:
    """Return which kinds count for a want of so many months, and how many months; none for any other want."""
    if want.asks is not None and want.asks.kind == "nectar":
        return feeds_insects, math.ceil(want.asks.amount)
    check = want.check
    if check is not None and check.fact == "months_in_flower" and check.compare == "at least":
        return (lambda s: True), math.ceil(check.amount)
    return (lambda s: False), 0


def _flowering(month: int, colours: tuple[str, ...], shift: float) -> Test:
    return lambda s: month in flower_months(s, shift) and has_colour(s, colours)


def feeds_insects(species: Species) -> bool:
    """Return whether its flowers feed bees, butterflies, moths, hoverflies or hummingbirds, by the plant tables."""
    return bool(set(species.wildlife) & set(FEEDS))


def native_to(species: Species, region: str) -> bool:
    """Return whether the plant tables call a kind native to a region: all its words stand in their words for it.

    A kind of all North America counts for a part of it, a garden form for its species.
    """
    told = species.native_to.casefold()
    whole = told.startswith("north america") and "north america" in region.casefold()
    return whole or all(word in told for word in region.casefold().split())
