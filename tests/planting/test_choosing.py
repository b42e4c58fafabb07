"""A proposed palette is the best there is, keeps every wish it can, and says which few it cannot."""

import itertools
import random

import attrs
import numpy as np
import pytest

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import (
    Candidate,
    LayerWish,
    Weights,
    Wishes,
    candidates,
    estimated_count,
    propose,
    worth_of,
)
from gardenkit.planting.choosing_rules import DEARNESS, rules_for
from gardenkit.planting.colour import difference
from gardenkit.planting.limits import Limit
from gardenkit.planting.suitability import Spot, suits

CATALOGUE = load_catalogue()
ORNAMENTAL = [plant for plant in CATALOGUE if plant.is_ornamental]


def scored(seed: int, *, kinds: int | None = None, cost: bool = False) -> list[Candidate]:
    dice = random.Random(seed)
    plants = list(CATALOGUE) if kinds is None else dice.sample(ORNAMENTAL, kinds)
    return [
        Candidate(species=s, score=round(dice.random(), 3), cost=float(dice.randint(5, 200)) if cost else 0.0)
        for s in plants
    ]


ALL = scored(1)
SMALL = Wishes(
    kinds_least=3,
    kinds_most=5,
    layers=(LayerWish(layer="perennial", least=1, most=3),),
    months=(6, 7),
    kinds_a_month=1,
    evergreen_share=0.2,
    natives_share=0.2,
    most_per_genus=1,
    most_per_family=2,
    budget=500.0,
)
HARD = Wishes(
    kinds_least=4,
    kinds_most=5,
    layers=(LayerWish(layer="shrub", least=2), LayerWish(layer="perennial", least=2)),
    months=(1, 6, 7, 11),
    kinds_a_month=2,
    evergreen_share=0.6,
    natives_share=0.7,
    most_per_genus=1,
    most_per_family=1,
    budget=150.0,
)


def every_choice(kinds: int) -> np.ndarray:
    return np.array(list(itertools.product((0.0, 1.0), repeat=kinds)))


# ---- the best there is, against trying every choice


@pytest.mark.parametrize("seed", range(8))
def test_the_palette_is_the_best_of_all_choices_tried_one_by_one(seed: int) -> None:
    among = sorted(scored(seed, kinds=13, cost=True), key=lambda c: c.species.key)
    rules = rules_for([c.species for c in among], np.array([c.cost for c in among]), SMALL, shift_days=0.0)
    choices = every_choice(len(among))
    keeps = np.all([r.sense * (choices @ r.row - r.amount) >= -1e-9 for r in rules], axis=0)
    worth = choices @ np.array([sum(worth_of(c, ()).values()) for c in among])
    found = propose(among, SMALL)
    assert keeps.any() == (not found.relaxed)
    if keeps.any():
        assert worth[keeps].max() == pytest.approx(found.worth, abs=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_what_gives_way_is_the_least_of_all_choices_tried_one_by_one(seed: int) -> None:
    among = sorted(scored(seed, kinds=12, cost=True), key=lambda c: c.species.key)
    rules = rules_for([c.species for c in among], np.array([c.cost for c in among]), HARD, shift_days=0.0)
    choices = every_choice(len(among))
    short = np.array([np.maximum(0.0, r.sense * (r.amount - choices @ r.row)) / r.unit for r in rules]).T
    short[short < 1e-9] = 0.0
    given_up = (short > 0) @ np.array([DEARNESS[r.topic] for r in rules])
    fewest = np.isclose(given_up, given_up.min())
    amount = np.where(fewest, short.sum(axis=1), np.inf)
    least = np.isclose(amount, amount.min(), atol=1e-6)
    worth = choices @ np.array([sum(worth_of(c, ()).values()) for c in among])
    found = propose(among, HARD)
    assert given_up.min() == pytest.approx(sum(DEARNESS[f.topic] for f in found.relaxed))
    assert worth[least].max() == pytest.approx(found.worth, abs=1e-6)


# ---- what a palette of the whole catalogue is


def test_the_whole_catalogue_gives_a_palette_proven_best() -> None:
    found = propose(ALL)
    assert found.proven
    assert found.gap == 0.0
    assert 18 <= len(found.choices) <= 22
    assert found.relaxed == ()


def test_layers_months_shares_and_families_are_as_wished() -> None:
    wishes = Wishes(colours=("#6b4aa0", "#f0b5c8", "#f7f5ee"), colour_share=0.6)
    kinds = [choice.species for choice in propose(ALL, wishes).choices]
    for layer in wishes.layers:
        count = sum(k.layer == layer.layer for k in kinds)
        assert layer.least <= count <= (99 if layer.most is None else layer.most)
    in_colour = [k for k in kinds if any(difference(f, c) <= 20 for f in k.flower_colours for c in wishes.colours)]
    for month in wishes.months:
        assert sum(month in k.bloom_months for k in in_colour) >= 3
    assert sum(k in in_colour for k in kinds if k.bloom_months) >= 0.6 * sum(bool(k.bloom_months) for k in kinds)
    assert sum(k.is_evergreen for k in kinds) >= 0.33 * len(kinds)
    assert sum(k.native_na for k in kinds) >= 0.25 * len(kinds)
    assert max(sum(k.genus == other.genus for k in kinds) for other in kinds) <= 2
    assert max(sum(k.family == other.family for k in kinds) for other in kinds) <= 6


def test_the_estimated_cost_stays_within_the_budget() -> None:
    among = [Candidate(species=c.species, score=c.score, cost=10.0 * c.species.price) for c in ALL]
    found = propose(among, Wishes(budget=420.0))
    assert sum(choice.cost for choice in found.choices) <= 420.0
    assert found.relaxed == ()


def test_favourites_are_kept_and_excluded_kinds_stay_out() -> None:
    free = propose(ALL)
    out = free.names[0]
    kept = min((c for c in ALL if c.species.botanical not in free.names), key=lambda c: c.score).species.botanical
    found = propose(ALL, Wishes(locked=(kept,), excluded=(out,)))
    assert kept in found.names
    assert out not in found.names
    assert next(c for c in found.choices if c.species.botanical == kept).locked
    assert found.worth <= free.worth


def test_bloom_is_counted_in_the_months_of_the_site() -> None:
    wishes = Wishes(months=(3,), kinds_a_month=3)
    found = propose(ALL, wishes, shift_days=25.0)
    from gardenkit.planting.season import flower_months

    assert sum(3 in flower_months(c.species, 25.0) for c in found.choices) >= 3


def test_the_same_candidates_in_another_order_give_the_same_palette() -> None:
    assert propose(ALL).names == propose(list(reversed(ALL))).names


def test_weights_change_what_is_chosen() -> None:
    wild = propose(ALL, weights=Weights(suitability=0.0, colour=0.0, bloom=0.0, winter=0.0, wildlife=1.0))
    plain = propose(ALL)
    served = [sum(len(c.species.wildlife) for c in palette.choices) / len(palette.choices) for palette in (wild, plain)]
    assert served[0] > served[1]


# ---- when not everything can be had


def test_wishes_that_cannot_all_be_had_name_the_smallest_set_to_relax() -> None:
    found = propose(
        ALL, Wishes(kinds_least=20, kinds_most=20, natives_share=1.0, layers=(LayerWish(layer="annual", least=8),))
    )
    assert [f.topic for f in found.relaxed] == ["natives"]
    assert found.findings[0].what.startswith("not every wish can be had at once; this one gives way: kinds native")


def test_a_month_without_flowers_in_the_colours_is_the_one_to_give_way() -> None:
    found = propose(ALL, Wishes(colours=("#00e5ff",), months=(12,), kinds_a_month=2))
    assert [(f.topic, f.wanted, f.value) for f in found.relaxed] == [("flowers", 2.0, 0.0)]
    assert "kinds in flower in December in the style's colours: 0, wanted at least 2" in found.findings[0].what


def test_locked_favourites_beyond_the_limit_relax_the_limit_not_the_favourites() -> None:
    hostas = tuple(c.species.botanical for c in ALL if c.species.genus == "Hosta")[:3]
    found = propose(ALL, Wishes(locked=hostas))
    assert set(hostas) <= set(found.names)
    assert [f.words for f in found.relaxed] == ["kinds of the genus Hosta"]


def test_dearness_decides_which_wish_gives_way() -> None:
    wishes = Wishes(
        kinds_least=6,
        kinds_most=6,
        layers=(LayerWish(layer="annual", least=6),),
        natives_share=0.9,
        evergreen_share=0.0,
        months=(),
        most_per_family=None,
    )
    by_layer = propose(ALL, wishes, dearness={**DEARNESS, "natives": 9.0})
    by_natives = propose(ALL, wishes, dearness={**DEARNESS, "layer": 9.0})
    assert [f.topic for f in by_layer.relaxed] == ["layer"]
    assert [f.topic for f in by_natives.relaxed] == ["natives"]


def test_what_is_grown_to_eat_is_never_chosen_unless_locked() -> None:
    best_of_all = [attrs.evolve(c, score=1.0 if c.species.role == "kitchen" else 0.1) for c in ALL]
    assert all(c.species.is_ornamental for c in propose(best_of_all).choices)
    locked = propose(best_of_all, Wishes(locked=("Lactuca sativa",)))
    assert [c.species.botanical for c in locked.choices if not c.species.is_ornamental] == ["Lactuca sativa"]


# ---- words and errors


def test_every_choice_says_why_it_is_in() -> None:
    found = propose(ALL, Wishes(locked=("Salvia nemorosa",)))
    by_name = {c.species.botanical: c for c in found.choices}
    assert by_name["Salvia nemorosa"].reasons[0] == "a favourite, kept"
    assert all(any(reason.startswith("suits the place") for reason in c.reasons) for c in found.choices)
    assert all(c.worth == pytest.approx(sum(value for _, value in c.parts)) for c in found.choices)


def test_a_kind_the_palette_could_not_do_without_says_for_what() -> None:
    found = propose(ALL, Wishes(layers=(LayerWish(layer="fern", least=1, most=1),)))
    fern = next(c for c in found.choices if c.species.layer == "fern")
    assert "needed for kinds of fern, at least 1" in fern.reasons


def test_judged_plants_become_candidates_with_their_reasons() -> None:
    spot = Spot(sun_hours_now=7.0, zone="6", moisture="medium", ph=6.5)
    judged = [j for j in (suits(species, spot) for species in CATALOGUE) if j.verdict != "no"]
    among = candidates(judged, {"Salvia nemorosa": 120.0})
    assert {c.species.botanical for c in among} == {j.species.botanical for j in judged}
    assert next(c for c in among if c.species.botanical == "Salvia nemorosa").cost == 120.0
    assert propose(among).relaxed == ()


def test_the_estimate_is_one_tree_and_many_perennials() -> None:
    assert estimated_count(CATALOGUE["Acer griseum"], 60.0) == 1
    salvia = CATALOGUE["Salvia nemorosa"]  # 0.45 m: 5.702 plants a square metre staggered, planting.md a2
    assert estimated_count(salvia, 60.0, kinds_of_layer=4) == round(60.0 * 0.28 / 4 * 5.702)
    (one,) = candidates([suits(salvia, Spot())], {"Salvia nemorosa": 10.0}, bed_area=80.0)
    assert one.cost == 10.0 * round(80.0 * 0.28 / 3 * 5.702)


def test_what_all_plants_may_come_to_is_kept_and_said_where_it_cannot_be() -> None:
    # plain arithmetic: so many plants of each chosen kind at so much each
    ten = [attrs.evolve(one, count=10) for one in ALL]
    each = tuple((one.species.botanical, 0.5 * one.species.height) for one in ten)
    free = propose(ten, Wishes())
    usual = sum(10 * dict(each)[name] for name in free.names)
    limit = Limit(words="little work", each=each, most=0.7 * usual, measure="hours", must=True)
    kept = propose(ten, Wishes(limits=(limit,)))
    assert sum(10 * dict(each)[name] for name in kept.names) <= 0.7 * usual + 1e-6
    assert not kept.relaxed
    none = propose(ten, Wishes(limits=(attrs.evolve(limit, most=-5.0),)))
    (said,) = none.relaxed
    assert (said.words, said.topic, said.wanted) == ("wanted: little work", "must", 0.0)
    assert said.sentence().endswith("hours, wanted at most 0 hours")


@pytest.mark.parametrize(
    ("wishes", "message"),
    [
        (Wishes(kinds_least=9, kinds_most=3), "9 to 3 kinds"),
        (Wishes(layers=(LayerWish(layer="shrubs"),)), 'nearest known is "shrub"'),
        (Wishes(layers=(LayerWish(layer="shrub", least=3, most=1),)), "at least 3 and at most 1"),
        (Wishes(months=(13,)), "month 13"),
        (Wishes(natives_share=1.5), "natives_share is 1.5"),
        (Wishes(budget=-1.0), "budget is -1"),
        (Wishes(locked=("Salvia nemorosa",), excluded=("Salvia nemorosa",)), "both locked and excluded"),
        (Wishes(locked=("Salvia nemorosa",), excluded=("salvia  nemorosa",)), "both locked and excluded"),
        (Wishes(locked=("Salvia nemorossa",)), 'nearest known is "Salvia nemorosa"'),
    ],
)
def test_wishes_that_contradict_themselves_are_refused_in_words(wishes: Wishes, message: str) -> None:
    with pytest.raises(GardenError, match=message):
        propose(ALL, wishes)


def test_no_candidates_at_all_is_said_plainly() -> None:
    with pytest.raises(GardenError, match="no plant suits the garden so far"):
        propose([])
