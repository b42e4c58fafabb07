"""Places on the ground: sun and shade by the clock, how large an area is and for how many, trees that stay."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from gardenkit.brief.asking import Answer, Asked
from gardenkit.garden.answers.judging import compared, held_against, in_words, not_known
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.project.solids import is_of
from gardenkit.project.sun_kept import clock, watched
from gardenkit.site.place import Place
from gardenkit.site.sun_diary import DiaryLine, Observation, compare
from gardenkit.structure.kinds import GROUND_AREAS, THINGS, thing_kind
from gardenkit.structure.patio import area_for_people, patio_findings
from gardenkit.structure.things import outline_of

if TYPE_CHECKING:
    from gardenkit.garden import Garden

FLOORS = {row.name for rows in (GROUND_AREAS, THINGS) for row in rows.values() if row.sat_on}  # where people sit


def in_sun(garden: "Garden", asked: Asked) -> Answer:
    """Return which share of the hours a place is in the sun, in the worst of the months, with the plants of a year."""
    return _lit(garden, asked, "in the sun", lambda light: 100 * light)


def in_shade(garden: "Garden", asked: Asked) -> Answer:
    """Return which share of the hours a place is in the shade, otherwise as ``in_sun``."""
    return _lit(garden, asked, "in the shade", lambda light: 100 * (1 - light))


def terrace_for(garden: "Garden", asked: Asked) -> Answer:
    """Return how large an area is against what so many people need."""
    region, words = _ground(garden, asked.thing)
    people, size = max(1, round(asked.amount)), plane.area(region)
    across = 2 * plane.inscribed_circle(region)[1]
    said = patio_findings(asked.thing, area=size, width=across, people=people)
    need = area_for_people(people)
    seats = size // area_for_people(1)
    figure = f"{size:.1f} m2, enough for {seats:.0f}, wanted {need:.1f} m2 for {people}"
    but = next((f.what for f in said if "across" in f.what), "")
    but = held_against(garden, f'{words} "{asked.thing}"') or but
    if words not in FLOORS:
        but = f"it is {words}, not a floor to sit on"
    return compared(asked, people if size >= need - 1e-9 else float(seats), figure, but=but, where=asked.thing)


def area_of(garden: "Garden", asked: Asked) -> Answer:
    """Return how large an area is, as the plan has it."""
    region, words = _ground(garden, asked.thing)
    size = plane.area(region)
    figure = f"{size:.1f} m2 of {words}, wanted at least {asked.amount:.1f} m2"
    return compared(asked, size, figure, but=held_against(garden, f'{words} "{asked.thing}"'), where=asked.thing)


def keep_tree(garden: "Garden", asked: Asked) -> Answer:
    """Return whether a tree that is there stays, and what the findings hold against it."""
    tree = next(t for t in garden.project.site.trees if t.name == asked.thing)
    if not tree.keep:
        return Answer(verdict="not met", figure=f"{tree.name} is to go", where=tree.name)
    held = held_against(garden, tree.name, f'tree "{tree.name}"')
    if held:
        return Answer(verdict="partly met", figure=f"{tree.name} stays", why=f"but {held}", where=tree.name)
    return Answer(verdict="met", figure=f"{tree.name} stays", where=tree.name)


def thing_wanted(garden: "Garden", asked: Asked) -> Answer:
    """Return how many placed things of a kind there are, and what the findings hold against their places."""
    kinds = [thing_kind(word).name for word in asked.words]
    there = [thing for thing in garden.project.structure.things if thing.kind in kinds]
    but = held_against(garden, *(f'{thing.kind} "{thing.name}"' for thing in there))
    figure = f"{len(there)} of {' or '.join(kinds)} on the plan, wanted at least {asked.amount:.0f}"
    return compared(asked, float(len(there)), figure, but=but, where=there[0].name if there else "")


# ---- helpers


def _ground(garden: "Garden", name: str) -> tuple[Region, str]:
    """Return the ground of an area or a placed thing by its name, and its kind."""
    if name in garden.layout.ground_areas:
        return garden.layout.ground_areas[name], next(
            p.kind for p in garden.project.structure.ground_areas if p.name == name
        )
    thing = next(t for t in garden.project.structure.things if t.name == name)
    return plane.region(outline_of(thing)), thing.kind


def _lit(garden: "Garden", asked: Asked, words: str, share_of: Callable[[float], float]) -> Answer:
    site = garden.project.site
    if site.place == Place():
        return not_known("the garden has no place on earth yet; type its latitude and longitude in 03_site_measurement")
    lines = {entry.date.month: _line(garden, asked, entry) for entry in watched(garden.project, asked)}
    shares = {month: float(share_of(line.light)) for month, line in lines.items()}
    month = min(shares, key=lambda m: shares[m])
    hours = f"{_clock(asked.since)} to {_clock(asked.until)}"
    figure = f"{shares[month]:.0f} % {words} from {hours} in {in_words((month,))}, year {asked.year}"
    figure += f", wanted at least {asked.amount:.0f} %"
    by = lines[month].shaded_by
    return compared(asked, shares[month], figure, why=f"shade from {by}" if by else "", where=asked.thing)


def _line(garden: "Garden", asked: Asked, entry: Observation) -> DiaryLine:
    """Return what is worked out for a place on a day, as the sun diary does it."""
    site = garden.project.site
    bodies = [one for one in garden.solids(asked.year) if not is_of(one, asked.thing)]
    return compare([entry], bodies, site.place, y_bearing=site.y_bearing).lines[0]


def _clock(hour: float) -> str:
    return f"{clock(hour):%H:%M}"
