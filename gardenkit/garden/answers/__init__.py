"""How a garden answers what its wants ask for about things of the plan: each kind of want with its own measure.

A measure reads what the garden has worked out already; it has no rule of its own where the findings have one.
"""

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import TYPE_CHECKING

import attrs

from gardenkit.brief.asking import Answer, Asked
from gardenkit.brief.style import Style
from gardenkit.brief.want_kinds import want_kind
from gardenkit.brief.wants import Want
from gardenkit.findings import GardenError
from gardenkit.garden.answers import eating, ground, plants, seen, sums, ways
from gardenkit.project.remembered import Remembered
from gardenkit.project.wanted import missing_things

if TYPE_CHECKING:
    from gardenkit.garden import Garden

Measure = Callable[["Garden", Asked], Answer]
MEASURES: Mapping[str, Measure] = {
    "step_free_way": ways.step_free_way,
    "walk_width": ways.walk_width,
    "steps_most": ways.steps_most,
    "screened": seen.screened,
    "view_open": seen.view_open,
    "in_sun": ground.in_sun,
    "in_shade": ground.in_shade,
    "terrace_for": ground.terrace_for,
    "area_of": ground.area_of,
    "keep_tree": ground.keep_tree,
    "thing_wanted": ground.thing_wanted,
    "rain_kept": sums.rain_kept,
    "care_hours": sums.hours_of_care,
    "care_week": sums.hours_a_week,
    "small_tree": plants.small_tree,
    "climbers_on": plants.climbers_on,
    "flowers_in": plants.flowers_in,
    "scent_near": plants.scent_near,
    "winter_look": seen.winter_look,
    "food": eating.food,
    "nectar": plants.nectar,
    "larvae": plants.larvae,
    "berries": plants.berries,
    "natives_of": plants.natives_of,
    "plant_wanted": plants.plant_wanted,
    "plant_never": plants.plant_never,
    "safe_for": plants.safe_for,
    "no_allergy": plants.no_allergy,
    "water_use": sums.water_use,
    "cost_of": sums.cost_of,
}


NOT_KEPT = ("cost_of",)  # own prices are read from a file that may change
_ANSWERS: Remembered[Answer] = Remembered(100)


def answers(garden: "Garden", among: Iterable[Want] | None = None) -> dict[Asked, Answer]:
    """Return how the garden answers all that its wants (or those ``among`` them) ask for; remembered while only words
    of the brief change.
    """
    project = garden.project
    plain = attrs.evolve(project.brief, wants=(), pictures=(), style=Style())
    rest = attrs.evolve(project, brief=plain, alternatives=(), name="", client="", designer="", areas=())
    counted = garden.counted if garden.area else None
    found: dict[Asked, Answer] = {}
    for want in project.brief.wants if among is None else among:
        if want.asks is None or want.asks in found or want.area != garden.area:
            continue
        key = (want.asks, rest, garden.catalogue, counted)
        make = partial(answer, garden, want.asks)
        found[want.asks] = make() if want.asks.kind in NOT_KEPT else _ANSWERS.get(key, make)
    return found


def answer(garden: "Garden", asked: Asked) -> Answer:
    """Return how the garden answers what is asked, in its own units and the words of its place."""
    missing = next(iter(missing_things(garden.project, asked)), "")
    try:
        found = Answer(verdict="not yet known", why=missing) if missing else MEASURES[asked.kind](garden, asked)
    except GardenError as error:
        found = Answer(verdict="not yet known", why=str(error))
    helps = found.help or ("" if found.verdict in ("met", "not yet known") else want_kind(asked.kind).help)
    return attrs.evolve(
        found,
        figure=garden.say(found.figure),
        why=garden.say(found.why),
        help=garden.say(helps),
        where=found.where or asked.thing or want_kind(asked.kind).look,
    )
