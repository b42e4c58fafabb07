"""What stands at the head of the brief: names on the cover, what the client refuses, the budget and what it covers."""

from collections.abc import Sequence
from typing import Any, get_args

import attrs

from gardenkit import currencies
from gardenkit.brief.pricing import Covers, Pricing
from gardenkit.findings import GardenError, nearest
from gardenkit.project import Project
from gardenkit.project.edits.brief.shared import listed, with_brief
from gardenkit.units import SAID, System


def set_cover(
    project: Project,
    *,
    name: str | None = None,
    client: str | None = None,
    designer: str | None = None,
    units: System | None = None,
) -> Project:
    """Change the garden's name, for whom it is, who designs it, or the units it is said in."""
    given = {"name": name, "client": client, "designer": designer, "units": units}
    changes: dict[str, Any] = {key: value for key, value in given.items() if value is not None}
    if "name" in changes and not changes["name"].strip():
        raise GardenError("the garden needs a name; type one")
    return attrs.evolve(project, **changes)


def set_refusals(project: Project, words: Sequence[str]) -> Project:
    """Say what no plant may be or do, such as "toxic to dogs", "thorns", "invasive" (see ``suitability.REFUSALS``)."""
    return with_brief(project, refuses=listed(words))


def set_budget(
    project: Project, budget: float | None, *, currency: str | None = None, covers: Covers | None = None
) -> Project:
    """Set or clear the budget, in the client's currency, and say what it covers. Raises GardenError."""
    if budget is not None and budget < 0:
        raise GardenError(f"the budget is {budget:g}; give an amount of 0 or more")
    known = get_args(Covers)
    if covers is not None and covers not in known:
        raise GardenError(f'a budget cannot cover "{covers}"{nearest(covers, known)}; give {" or ".join(known)}')
    known_money = set_money(project, currency) if currency else project
    return with_brief(known_money, budget=budget, budget_covers=covers or project.brief.budget_covers)


def set_money(project: Project, written: str) -> Project:
    """Say how the garden's sums are written, by a sign or an ISO code: "$", "€", "NZ$", "CHF". Raises GardenError."""
    found = currencies.written(written)
    if not found:
        raise GardenError(
            f'"{written.strip()[:SAID]}" is no money; give a sign or a code of ISO 4217, like $, € or CHF'
        )
    return with_brief(project, currency=found)


def set_pricing(project: Project, **changes: float | None) -> Project:
    """Change fields of ``Pricing``: what an hour costs, the crew and its day, percentages, what a year may cost.

    Raises GardenError for a field that is not known; what its figure may be stands in ``project.ranges``.
    """
    known = [field.name for field in attrs.fields(Pricing)]
    for name in changes:
        if name not in known:
            raise GardenError(f'prices have no "{name}"{nearest(name, known)}')
    given: dict[str, Any] = dict(changes)
    return with_brief(project, pricing=attrs.evolve(project.brief.pricing, **given))
