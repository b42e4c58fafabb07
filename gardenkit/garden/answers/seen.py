"""What is seen: what is hidden from where and from which year on, views kept open, what winter shows."""

from typing import TYPE_CHECKING

import attrs

from gardenkit.brief.asking import ALL_YEAR, Answer, Asked
from gardenkit.brief.want_kinds import want_kind
from gardenkit.garden.answers.judging import compared, in_words, not_known
from gardenkit.garden.answers.plants import most_in
from gardenkit.geometry import plane
from gardenkit.project import views
from gardenkit.project.season import local_months
from gardenkit.structure.sightlines import Screening
from gardenkit.units import counted, listed

if TYPE_CHECKING:
    from gardenkit.garden import Garden

YEARS = (1, 3, 5, 10, 15)  # of growth that are looked at to say from which year on. House value.
WINTER = (12, 1, 2)  # of the northern year


def screened(garden: "Garden", asked: Asked) -> Answer:
    """Return how much of a thing is hidden from a place in the weakest of the months, and from which year on."""
    months = asked.months or ALL_YEAR
    share, month, by = _weakest(_screening(garden, asked, asked.year), months)
    figure = f"{share:.0f} % hidden in {in_words((month,))} of year {asked.year}, wanted at least {asked.amount:.0f} %"
    hidden_by = f"mostly by {by}" if by else "nothing stands between them"
    found = compared(asked, share, figure, why=hidden_by, where=asked.thing)
    if found.verdict == "met":
        return found
    later = (year for year in YEARS if year > asked.year)
    first = next((y for y in later if _weakest(_screening(garden, asked, y), months)[0] >= asked.amount), None)
    if first is not None:
        late = compared(asked, asked.amount, figure, but=f"as wanted only from year {first} on", where=asked.thing)
        return attrs.evolve(late, help=want_kind(asked.kind).help)
    return found


def view_open(garden: "Garden", asked: Asked) -> Answer:
    """Return how much of a thing stays in sight from a place in the month that hides most of it."""
    months = asked.months or ALL_YEAR
    screen = _screening(garden, asked, asked.year)
    month = max(months, key=lambda m: screen.share[m - 1])
    share = 100 * (1 - screen.share[month - 1])
    by = next((name for name, alone in screen.by if alone[month - 1] > 0), "")
    figure = (
        f"{share:.0f} % in sight in {in_words((month,))} of year {asked.year}, wanted at least {asked.amount:.0f} %"
    )
    return compared(asked, share, figure, why=f"{by} stands before it" if by else "", where=asked.other)


def winter_look(garden: "Garden", asked: Asked) -> Answer:
    """Return how many kinds give something to look at in winter, those in the ground in view where a place is named."""
    if not garden.kinds:
        return not_known("nothing is planted yet; arrange plants in 05_layering")
    names = [row.botanical for row in garden.winter if row.interest]
    where = "in the garden"
    if asked.thing:
        month = local_months(garden.project.site, WINTER)[1]
        seen = views.look(garden.project, views.eye_at(garden.project, asked.thing), month=month)
        ground = plane.region(seen.outline())
        there = {species.botanical for plant, species in garden.planted if plane.contains(ground, plant.at)}
        names, where = [name for name in names if name in there], f"in view from {asked.thing}"
    figure = f"{counted(len(names), 'kind')} {where} with something for winter, wanted at least {asked.amount:.0f}"
    return compared(asked, float(len(names)), figure, why=listed(names), where=asked.thing or most_in(garden, names))


# ---- helpers


def _screening(garden: "Garden", asked: Asked, year: int) -> Screening:
    eye = views.eye_at(garden.project, asked.other)
    return views.screened(garden.project, asked.thing, eye, year=year, catalogue=garden.catalogue)


def _weakest(screen: Screening, months: tuple[int, ...]) -> tuple[float, int, str]:
    """Return the least share hidden of some months in percent, the month, and what hides most then."""
    month = min(months, key=lambda m: screen.share[m - 1])
    by = next((name for name, alone in screen.by if alone[month - 1] > 0), "")
    return screen.percent[month - 1], month, by
