"""Sums over the whole garden: water in a year without rain, and what it costs by what that covers."""

from typing import TYPE_CHECKING

from gardenkit.brief.asking import Answer, Asked
from gardenkit.garden.answers.judging import compared, not_known
from gardenkit.schedules import rainwater
from gardenkit.sources import HOUSE

if TYPE_CHECKING:
    from gardenkit.garden import Garden

WEEKS = 52  # of a year


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
    """Return which share of what the beds want in a mean year the butts and cisterns give."""
    if garden.project.site.climate.rain is None or not garden.water:
        return not_known("the climate has no monthly rain and temperatures yet, or nothing is planted; add them first")
    stores = {t.name: rainwater.stored(garden.project, t, garden.water) for t in garden.project.structure.things}
    shares = {name: 100 * year.met for name, year in stores.items() if year is not None}
    best = max(shares, key=lambda name: shares[name], default="")
    figure = f"{shares.get(best, 0.0):.0f} % of the year's need, wanted at least {asked.amount:.0f} %"
    why = f"from {best}" if best else "nothing keeps rain yet"
    return compared(asked, shares.get(best, 0.0), figure, why=why, where=best)


def hours_of_care(garden: "Garden", asked: Asked) -> Answer:
    """Return about how many hours a year the garden asks for; the minutes behind it are house values."""
    if not garden.kinds and not garden.project.structure.patches:
        return not_known("nothing is planted or laid out yet")
    hours = garden.care_hours
    figure = f"about {hours:.0f} hours a year, {hours / WEEKS:.1f} a week, wanted at most {asked.amount:.0f}"
    return compared(asked, hours, figure, why=f"minutes for each task: {HOUSE}")


def cost_of(garden: "Garden", asked: Asked) -> Answer:
    """Return what the plants, or plants and materials with their reserve, come to; labour has no prices here."""
    costs, covers = garden.costs, asked.words[0]
    if not costs.lines:
        return not_known("nothing is planted or built yet")
    value = costs.plants if covers == "plants" else costs.total
    figure = f"{covers} come to {costs.currency}{value:,.0f}, wanted at most {costs.currency}{asked.amount:,.0f}"
    dearest = max(costs.lines, key=lambda line: line.cost)
    found = compared(asked, value, figure, why=f"largest: {dearest.name}, {costs.currency}{dearest.cost:,.0f}")
    if "labour" in covers and found.verdict == "met":
        return not_known(f"{figure} without labour, which has no prices here; ask builders for theirs")
    return found
