"""A palette proposed for one garden: its kinds judged for its beds, and the best set of them that keeps the wishes."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

import attrs

from gardenkit.garden.musts import limits, prices_each
from gardenkit.planting.choosing import Palette, Wishes, candidates, propose
from gardenkit.planting.invasive import listed_near
from gardenkit.project.plant_choice import Suited, bed_spots, suited_to_garden, with_room
from gardenkit.project.styled import manner_of, signature_of
from gardenkit.project.sunlight import SunMap
from gardenkit.project.wanted_plants import wanted_of_plants

if TYPE_CHECKING:
    from gardenkit.garden import Garden


@attrs.frozen(kw_only=True)
class Proposed:
    """A palette, how every kind of the catalogue was judged for the garden's beds, and which kinds of the palette have
    no price in the garden's money and count for nothing in what it costs.
    """

    palette: Palette
    suited: Mapping[str, Suited]
    unpriced: tuple[str, ...] = ()


def fixed_kinds(garden: "Garden") -> tuple[str, ...]:
    """Return the kinds of which a plant is locked or was put by hand: every palette keeps them."""
    return tuple(dict.fromkeys(p.species for p in garden.project.planting.plants if p.locked or p.by_hand))


def kept_kinds(garden: "Garden") -> tuple[str, ...]:
    """Return the kinds that every proposal keeps: favourites, and those fixed on the plan."""
    return tuple(dict.fromkeys((*garden.project.planting.favourites, *fixed_kinds(garden))))


def propose_palette(
    garden: "Garden",
    wishes: Wishes,
    *,
    now: SunMap | None,
    later: SunMap | None,
    moisture: str | None = None,
    with_invasive: bool = False,
) -> Proposed:
    """Return the palette proposed for some wishes.

    ``now`` and ``later`` are the sun as it is and in ten years, None where it is not known; ``moisture`` is what the
    ground is said to be, one of ``suitability.MOISTURE``; kinds listed as invasive in the site's country are left out
    unless ``with_invasive``. What the wishes lock is in either way; what the musts and shoulds of the wants list ask of
    plants is a wish too, and the palette says which had to give way. Raises GardenError when there is no bed.
    """
    wants = (*signature_of(garden.project.brief.style), *wanted_of_plants(garden.project, garden.catalogue))
    wishes = attrs.evolve(
        wishes, wants=wants, limits=limits(garden, garden.catalogue), manner=manner_of(garden.project.brief.style)
    )
    spots = bed_spots(garden.project, now=now, later=later)
    judged = with_room(garden.project, suited_to_garden(garden.catalogue, spots, moisture=moisture))
    timezone = garden.project.site.place.timezone
    allowed = [
        one
        for one in judged
        if one.species.botanical in wishes.locked
        or (one.judgement.verdict != "no" and (with_invasive or not listed_near(one.species, timezone)))
    ]
    prices = prices_each(garden, (one.species for one in allowed))
    among = candidates((one.judgement for one in allowed), prices, bed_area=garden.bed_area)
    palette = propose(among, wishes, shift_days=garden.spring_shift)
    return Proposed(
        palette=palette,
        suited={one.species.botanical: one for one in judged},
        unpriced=tuple(
            choice.species.botanical for choice in palette.choices if choice.species.botanical not in prices
        ),
    )
