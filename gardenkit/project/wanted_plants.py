"""What the wants ask of the choice of plants, passed on to palette and arranging: so many kinds of some sort."""

import calendar
import math
from collections.abc import Callable, Iterable

from gardenkit.brief.asking import ALL_YEAR, Asked
from gardenkit.planting.choosing_rules import LeastOf, has_colour
from gardenkit.planting.season import flower_months
from gardenkit.planting.species import Species, meant_by
from gardenkit.project import Project
from gardenkit.project.season import local_months, northern_month, spring_shift

Test = Callable[[Species], bool]
TREES = ("tree", "conifer")
USUAL_KINDS = 20  # of a palette, of which a share is taken. House value.


def wanted_of_plants(project: Project, kinds: Iterable[Species]) -> tuple[LeastOf, ...]:
    """Return what every must and should of the wants list asks of a palette, as counts over the ``kinds`` there are."""
    every = tuple(kinds)
    return tuple(
        LeastOf(
            words=words,
            kinds=tuple(s.botanical for s in every if test(s)),
            least=max(1, least),
            must=want.weight == "must",
        )
        for want in project.brief.wants
        if want.asks is not None and want.weight != "could"
        for words, test, least in _tests(project, want.text, want.asks)
    )


def months_wanted(project: Project) -> tuple[int, ...]:
    """Return the months of the northern year in which a must or should asks for flowers, in order."""
    asked = [w.asks for w in project.brief.wants if w.asks and w.weight != "could" and w.asks.kind == "flowers_in"]
    here = {month for one in asked for month in (one.months or ALL_YEAR)}
    return tuple(sorted(local_months(project.site, here)))


# ---- helpers


def _tests(project: Project, text: str, asked: Asked) -> Iterable[tuple[str, Test, int]]:
    """Return what is asked as tests of kinds: words, whether a kind counts, how many must."""
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
        yield text, lambda s: s.layer in TREES and s.height <= asked.amount, 1
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


def _flowering(month: int, colours: tuple[str, ...], shift: float) -> Test:
    return lambda s: month in flower_months(s, shift) and has_colour(s, colours)


def native_to(species: Species, region: str) -> bool:
    """Return whether the plant tables call a kind native to a region: all its words stand in their words for it.

    A kind of all North America counts for a part of it, a garden form for its species.
    """
    told = species.native_to.casefold()
    whole = told.startswith("north america") and "north america" in region.casefold()
    return whole or all(word in told for word in region.casefold().split())
