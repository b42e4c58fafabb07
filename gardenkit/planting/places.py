"""Plants that stand where they cannot thrive or may not stand: other sun than they take, a colder winter, refused."""

from collections.abc import Iterable
from functools import lru_cache

import attrs

from gardenkit.findings import Finding, Seriousness
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.species import Species
from gardenkit.planting.standing import Planted, called
from gardenkit.planting.substitutes import may_take_the_place, unlikeness
from gardenkit.planting.suitability import Reason, Spot, suits
from gardenkit.planting.sun_need import sun_word
from gardenkit.sources import HOUSE

TOPIC = "suits"
SLACK = 0.5  # h of sun a day either way before a place is called too sunny or too shady. House value.
STEP = 0.5  # h of sun a day to which a place is rounded when another kind is looked for. House value.
# What is said of several plants at once, and how serious each is.
SIDES: dict[str, tuple[str, Seriousness]] = {
    "sun": ("stand in other sun than they take", "caution"),
    "winter": ("are not hardy here", "warning"),
    "refused": ("are or do what no plant here may", "warning"),
}


def place_findings(plants: Iterable[tuple[Planted, Spot]]) -> tuple[Finding, ...]:
    """Return which plants stand in sun that they do not take, are not hardy, or carry what is refused."""
    return tuple(
        _finding(planted, reason) for planted, spot in plants for reason in _hard(planted[1], spot) if reason.text
    )


def stand_in(species: Species, spot: Spot, among: Catalogue, *, first: Iterable[str] = ()) -> Species | None:
    """Return the kind to plant instead in a place, None when none suits: of ``first`` if any does, else the most alike.

    It has the same layer and role, does no more harm, and nothing speaks against it in that place.
    """
    now, later = (
        None if hours is None else round(hours / STEP) * STEP for hours in (spot.sun_hours_now, spot.sun_hours_year10)
    )
    rounded = attrs.evolve(spot, sun_hours_now=now, sun_hours_year10=later)
    return _stand_in(species, rounded, among, frozenset(first))


# ---- helpers


@lru_cache(maxsize=256)
def _stand_in(species: Species, spot: Spot, among: Catalogue, first: frozenset[str]) -> Species | None:
    kinds = _most_alike(species, among)
    named = (kind for kind in kinds if kind.botanical in species.substitutes)
    wanted = (kind for kind in kinds if kind.botanical in first)
    return next((kind for kind in (*named, *wanted, *kinds) if _thrives(kind, spot)), None)


@lru_cache(maxsize=64)
def _most_alike(species: Species, among: Catalogue) -> tuple[Species, ...]:
    """Return the kinds that may take a kind's place, the most like it first."""
    kinds = [kind for kind in among if may_take_the_place(species, kind)]
    return tuple(sorted(kinds, key=lambda kind: (unlikeness(species, kind), kind.botanical)))


def _thrives(species: Species, spot: Spot) -> bool:
    """Return whether nothing speaks against a kind in a place, now or in year ten where that is known."""
    judged = suits(species, spot)
    return judged.verdict != "no" and all(reason.topic != "sun later" for reason in judged.against)


@lru_cache(maxsize=1024)
def _hard_anywhere(species: Species, spot: Spot) -> tuple[Reason, ...]:
    return tuple(_hard_there(species, spot))


def _hard_there(species: Species, spot: Spot) -> list[Reason]:
    return [reason for reason in suits(species, spot).against if reason.hard and reason.topic in SIDES]


def _hard(species: Species, spot: Spot) -> list[Reason]:
    hours = spot.sun_hours_now
    if hours is None or sun_word(hours, setting=spot.sun_classes) in species.sun_range:
        return list(_hard_anywhere(species, attrs.evolve(spot, sun_hours_now=None)))  # as all its kind are told
    found = _hard_there(species, spot)
    if all(reason.topic != "sun" for reason in found):
        return found
    near = (attrs.evolve(spot, sun_hours_now=max(0.0, hours + by)) for by in (-SLACK, SLACK))
    by_a_hair = any(all(r.topic != "sun" for r in suits(species, place).against) for place in near)
    return [reason for reason in found if reason.topic != "sun"] if by_a_hair else found


def _finding(planted: Planted, reason: Reason) -> Finding:
    plant, species = planted
    alike, seriousness = SIDES[reason.topic]
    source = species.caution_source if reason.topic == "refused" else species.growing_source
    if reason.topic == "sun":
        source += f"; half an hour of slack: {HOUSE}"
    return Finding(
        where=called(plant, species),
        what=reason.text,
        source=source,
        seriousness=seriousness,
        at=plant.at,
        topic=TOPIC,
        subject=("plant", str(plant.number)),
        rule=f"suits {reason.topic}",
        alike=alike,
    )
