"""Sums over the whole garden: water in a year without rain, and what it costs by what that covers."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

import attrs

from gardenkit.brief.asking import Answer, Asked
from gardenkit.brief.pricing import Covers
from gardenkit.garden import upkeep
from gardenkit.garden.answers.judging import compared, in_words, not_known
from gardenkit.schedules import rainwater
from gardenkit.schedules.care import GROWN_IN
from gardenkit.sources import HOUSE
from gardenkit.units import listed

if TYPE_CHECKING:
    from gardenkit.garden import Garden

WEEKS = 52  # of a year
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)  # of each month; leap days do not matter here


def water_use(garden: "Garden", asked: Asked) -> Answer:
    """Return what the beds would be watered with in a year without rain."""
    if not garden.water:
        return not_known("the climate has no monthly temperatures yet, or nothing is planted; add them first")
    litres = sum(sum(bed.dry) for bed in garden.water)
    thirsty = max(garden.water, key=lambda bed: sum(bed.dry))
    figure = f"{litres:,.0f} L a year, wanted at most {asked.amount:,.0f} L"
    why = f"most of it on {thirsty.bed}, for {thirsty.thirstiest}"
    return compared(asked, litres, figure, why=why, where=thirsty.bed)


def rain_kept(garden: "Garden", asked: Asked) -> Answer:
    """Return which share of what the beds want in a mean year the butts and cisterns give together."""
    if garden.project.site.climate.rain is None or not garden.water:
        return not_known("the climate has no monthly rain and temperatures yet, or nothing is planted; add them first")
    stores = rainwater.stores(garden.project, garden.water)
    share = 100 * rainwater.share_given(stores)
    thirsty = max(garden.water, key=lambda bed: sum(bed.dry)).bed
    figure = f"{share:.0f} % of the year's need, wanted at least {asked.amount:.0f} %"
    why = f"from {listed(list(stores))}" if stores else "nothing keeps rain yet"
    return compared(asked, share, figure, why=why, where=next(iter(stores), thirsty))


def hours_of_care(garden: "Garden", asked: Asked) -> Answer:
    """Return about how many hours a year the garden asks for; the minutes behind it are house values."""
    if not garden.kinds and not garden.project.structure.ground_areas:
        return not_known("nothing is planted or laid out yet")
    hours = garden.care_hours
    figure = f"about {hours:.0f} hours a year, {hours / WEEKS:.1f} a week, wanted at most {asked.amount:.0f}"
    return compared(asked, hours, figure, why=_longest(garden))


def hours_a_week(garden: "Garden", asked: Asked) -> Answer:
    """Return about how many hours a week the garden asks for in its busiest month; partly met where that is more than
    wanted and the mean week of the year is not.
    """
    if not garden.kinds and not garden.project.structure.ground_areas:
        return not_known("nothing is planted or laid out yet")
    weekly = [7 * hours / days for hours, days in zip(garden.care_by_month, DAYS, strict=True)]
    most, mean = max(weekly), garden.care_hours / WEEKS
    busiest = in_words((weekly.index(most) + 1,))
    figure = f"about {most:.1f} hours a week in {busiest}, {mean:.1f} in the mean week of the year"
    figure += f", wanted at most {asked.amount:g}"
    found = compared(asked, most, figure, why=_longest(garden))
    if found.verdict == "not met" and mean <= asked.amount:
        return attrs.evolve(found, verdict="partly met", why=f"over it in {_over(weekly, asked.amount)}; {found.why}")
    return found


def cost_of(garden: "Garden", asked: Asked) -> Answer:
    """Return what the plants, or plants and materials with their reserve, come to; with labour, everything there is,
    partly met where the likely sum is within the amount and the high one is not.
    """
    costs, covers = garden.costs, cast(Covers, asked.words[0])
    if not costs.lines:
        return not_known("nothing is planted or built yet")
    whole = costs.covered(covers)
    wanted = f"{garden.project.brief.currency}{asked.amount:,.0f}"
    figure = f"{covers} come to {costs.currency}{whole.likely:,.0f}, wanted at most {wanted}"
    lacking = costs.lacking(covers)
    if lacking:
        return not_known(f"{figure}: {lacking}")
    dearest = max(costs.lines, key=lambda line: line.cost)
    found = compared(asked, whole.likely, figure, why=f"largest: {dearest.name}, {costs.currency}{dearest.cost:,.0f}")
    if covers == "plants, materials and labour":
        why = (
            f"between {whole.low:,.0f} and {whole.high:,.0f}, with {costs.hours.likely:,.0f} hours of work; {found.why}"
        )
        may = found.verdict == "met" and whole.high > asked.amount  # it may yet come to more
        return attrs.evolve(found, why=why, verdict="partly met" if may else found.verdict)
    return found


# ---- helpers


def _over(weekly: Sequence[float], most: float) -> str:
    return in_words(month for month, hours in enumerate(weekly, start=1) if hours > most)


def _longest(garden: "Garden") -> str:
    """Return which task of the year takes most of the time, in words."""
    counts = {species.botanical: n for species, n in garden.kinds.items()}
    taken: dict[str, float] = {}
    for task in (task for task in garden.care if task.is_due(GROWN_IN)):
        hours = sum(upkeep.hours_of(garden, (task,), counts))
        taken[task.task] = taken.get(task.task, 0.0) + hours
    longest = max(taken, key=lambda word: taken[word], default="")
    told = f"most of it: {longest}, about {taken[longest]:.0f} hours a year; " if longest else ""
    return f"{told}minutes for each task: {HOUSE}"
