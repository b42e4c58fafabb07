"""A palette is a community: roles in their shares, leaves that differ, no near twins, at home in its style."""

from functools import cache

import attrs
import numpy as np
import pytest

from gardenkit.brief.style_genera import GENERA, genera_of
from gardenkit.brief.styles import STYLES, mixed
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.catalogue_columns import BULBS, HERBS
from gardenkit.planting.choosing import Candidate, LayerWish, Palette, Wishes, propose
from gardenkit.planting.mixing import ROLES, TEXTURES, Mix, colour_harmony, parts
from gardenkit.planting.palettes import CHARACTERS, palette_words
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.edits import brief
from gardenkit.project.styled import CLIPPED, DRY, at_home_in, mix_of, wishes_of

CATALOGUE = load_catalogue()
SOME = [s for s in CATALOGUE if s.is_ornamental and s.zone_min <= 5 and s.zone_max >= 7 and "full" in s.sun_range][::2]


LAYERS = (
    LayerWish(layer="perennial", least=6),
    LayerWish(layer="ground cover", least=2),
    LayerWish(layer="bulb", most=3),
)


@cache
def palette(style: str) -> Palette:
    made = brief.set_style(Project(name="plot"), STYLES[style])
    chosen = made.brief.style
    wishes = attrs.evolve(
        wishes_of(made), layers=LAYERS, wants=at_home_in(chosen, CATALOGUE), mix=mix_of(chosen), kinds_a_month=2
    )
    return propose([Candidate(species=s) for s in SOME], wishes, weights=CHARACTERS[0].weights)


def kinds(found: Palette) -> list[Species]:
    return [choice.species for choice in found.choices]


@pytest.mark.parametrize("style", ["cottage", "formal", "dry stone"])
def test_roles_and_leaves_take_their_shares_and_no_species_stands_beside_its_own_form(style: str) -> None:
    chosen = kinds(palette(style))
    herbs = [k for k in chosen if k.layer in (*HERBS, "ground cover") and k.layer not in BULBS]
    for role, (least, most) in ROLES.items():
        assert least - 1e-9 <= np.mean([k.role == role for k in herbs]) <= most + 1e-9
    for texture, share in TEXTURES.items():
        assert np.mean([k.texture == texture for k in chosen]) >= share - 1e-9
    species = [k.botanical.split(" '")[0] for k in chosen]
    assert len(set(species)) == len([s for s in species if " " in s]) + len({s for s in species if " " not in s})


def test_cottage_has_roses_peonies_or_cranesbills_formal_what_is_clipped_and_dry_what_loves_it_dry() -> None:
    assert {k.genus for k in kinds(palette("cottage"))} & {"Rosa", "Paeonia", "Geranium"}
    assert sum(any(t.task == "shear" for t in k.care) for k in kinds(palette("formal"))) >= CLIPPED
    assert np.mean(["dry" in k.moisture for k in kinds(palette("dry stone"))]) >= DRY - 0.1


@pytest.mark.parametrize("style", sorted(STYLES))
def test_every_trade_style_is_known_by_genera_of_the_catalogue(style: str) -> None:
    known = {s.genus for s in CATALOGUE}
    missing = set(GENERA[style]) - known
    assert len(missing) <= 0.2 * len(GENERA[style]), missing
    assert set(GENERA[style]) <= set(genera_of(STYLES[style]))


def test_a_mixed_style_and_one_named_after_another_lean_to_its_genera() -> None:
    both = genera_of(mixed({"cottage": 60, "dry stone": 40}))
    assert set(GENERA["cottage"]) | set(GENERA["dry stone"]) <= set(both)
    assert set(GENERA["meadow"]) <= set(genera_of(attrs.evolve(STYLES["meadow"], name="Hill Meadow")))


def test_another_palette_has_at_most_three_fifths_of_the_kinds_of_the_first() -> None:
    among = [Candidate(species=s) for s in SOME[::4]]
    first = propose(among, Wishes(layers=(), mix=Mix(roles=False)))
    other = propose(among, Wishes(layers=(), mix=Mix(roles=False, unlike=first.names)))
    assert len(set(other.names) & set(first.names)) <= 0.6 * len(other.names)
    words = palette_words([first, other], Mix())
    assert all(
        f"{len(one.choices)} kinds" in said and "Only here" in said
        for one, said in zip((first, other), words, strict=True)
    )


def test_flowers_that_go_with_the_colours_of_the_style_are_worth_more() -> None:
    sage = CATALOGUE["Salvia nemorosa"]
    assert 0 <= colour_harmony(sage, ("#e0502c",)) < colour_harmony(sage, ("#9db6e0",)) <= 1


def test_a_rule_of_the_mix_counts_what_it_says() -> None:
    pair = [CATALOGUE["Physocarpus opulifolius"], CATALOGUE["Physocarpus opulifolius 'Luteus'"]]
    (twins,) = (p for p in parts(pair, Mix(roles=False)) if p.topic == "twins")
    assert twins.flags.tolist() == [1.0, 1.0] and twins.share == 1.0 and twins.sense == -1
