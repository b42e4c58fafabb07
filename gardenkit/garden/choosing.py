"""A palette proposed for one garden: its kinds judged for its beds, and the best set of them that keeps the wishes."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import attrs

from gardenkit.garden.musts import limits, prices_each
from gardenkit.planting.choosing import Candidate, Palette, Wishes, candidates, propose
from gardenkit.planting.invasive import listed_near
from gardenkit.planting.palettes import CHARACTERS, palette_words
from gardenkit.progress import Tell, quiet
from gardenkit.project.plant_choice import Suited, bed_spots, suited_to_garden, with_room
from gardenkit.project.shade_covers import covers_for_shade
from gardenkit.project.styled import at_home_in, manner_of, mix_of, signature_of
from gardenkit.project.sunlight import GroundMap
from gardenkit.project.wanted_plants import shares_wanted, wanted_of_plants

if TYPE_CHECKING:
    from gardenkit.garden import Garden


@attrs.frozen(kw_only=True)
class Proposed:
    """A palette, how every kind of the catalogue was judged for the garden's beds, and which kinds of the palette have
    no price in the garden's money and count for nothing in what it costs; ``character`` what it leans to, ``words`` why
    one would take it.
    """

    palette: Palette
    suited: Mapping[str, Suited]
    unpriced: tuple[str, ...] = ()
    character: str = ""
    words: str = ""


def fixed_kinds(garden: "Garden") -> tuple[str, ...]:
    """Return the kinds of which a plant is locked or was put by hand: every palette keeps them."""
    return tuple(dict.fromkeys(p.species for p in garden.project.planting.plants if p.locked or p.by_hand))


def kept_kinds(garden: "Garden") -> tuple[str, ...]:
    """Return the kinds that every proposal keeps: favourites, and those fixed on the plan."""
    return tuple(dict.fromkeys((*garden.project.planting.favourites, *fixed_kinds(garden))))


def propose_palettes(
    garden: "Garden",
    wishes: Wishes,
    *,
    now: GroundMap | None,
    later: GroundMap | None,
    moisture: str | None = None,
    with_invasive: bool = False,
    tell: Tell = quiet,
) -> tuple[Proposed, ...]:
    """Return the palettes proposed for some wishes, each of another character and with at most the share of kinds that
    ``Mix.alike`` says in common with those before it.

    ``now`` and ``later`` are the sun as it is and in ten years, None where it is not known; ``moisture`` is what the
    ground is said to be, one of ``suitability.MOISTURE``; kinds listed as invasive in the site's country are left out
    unless ``with_invasive``. What the wishes lock is in either way; what the musts and shoulds of the wants list ask of
    plants is a wish too, and the palette says which had to give way. Raises GardenError when there is no bed.
    """
    style = garden.project.brief.style
    wants = (
        *signature_of(style),
        *at_home_in(style, garden.catalogue),
        *wanted_of_plants(garden.project, garden.catalogue),
    )
    shares = {name: max(least, getattr(wishes, name)) for name, least in shares_wanted(garden.project).items()}
    asked_of = limits(garden, garden.catalogue)
    wishes = attrs.evolve(wishes, wants=wants, limits=asked_of, manner=manner_of(style), **shares)
    spots = bed_spots(garden.project, now=now, later=later)
    judged = with_room(garden.project, suited_to_garden(garden.catalogue, spots, moisture=moisture))
    timezone = garden.project.site.place.timezone
    allowed = [
        one
        for one in judged
        if one.species.botanical in wishes.locked
        or (one.judgement.verdict != "no" and (with_invasive or not listed_near(one.species, timezone)))
    ]
    shade = covers_for_shade(garden.project, (one.species for one in allowed), now=now, moisture=moisture)
    wishes = attrs.evolve(wishes, wants=(*wishes.wants, *shade))
    prices = prices_each(garden, (one.species for one in allowed))
    among = candidates((one.judgement for one in allowed), prices, bed_area=garden.bed_area)
    if not any(one.species.layer == "climber" for one in allowed):  # nothing stands there to hold one
        layers = tuple(attrs.evolve(w, least=0) if w.layer == "climber" else w for w in wishes.layers)
        wishes = attrs.evolve(wishes, layers=layers)
    palettes = _characters(among, wishes, garden, tell)
    said = palette_words(palettes, mix_of(style), shift_days=garden.spring_shift)
    return tuple(
        Proposed(
            palette=palette,
            suited={one.species.botanical: one for one in judged},
            unpriced=tuple(c.species.botanical for c in palette.choices if c.species.botanical not in prices),
            character=character.words,
            words=words,
        )
        for palette, character, words in zip(palettes, CHARACTERS, said, strict=True)
    )


# ---- helpers


def _characters(among: Sequence[Candidate], wishes: Wishes, garden: "Garden", tell: Tell) -> list[Palette]:
    found: list[Palette] = []
    for n, character in enumerate(CHARACTERS):
        tell(n / len(CHARACTERS), f"looking for the best palette: {character.words} ...")
        before = tuple({name for one in found for name in one.names}.difference(wishes.locked))
        mix = attrs.evolve(mix_of(garden.project.brief.style), unlike=before)
        asked = attrs.evolve(wishes, mix=mix)
        found.append(propose(among, asked, weights=character.weights, shift_days=garden.spring_shift))
    return found
