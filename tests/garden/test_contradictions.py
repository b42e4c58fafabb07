"""Wants that cannot all hold are found as they are typed; what must hold reaches palette and arranging."""

import math
from pathlib import Path
from typing import Any

import attrs
import numpy as np
import pytest

from gardenkit import storage
from gardenkit.garden import Garden
from gardenkit.garden.choosing import propose_palettes
from gardenkit.garden.contradictions import contradictions
from gardenkit.garden.musts import limits, musts_missed, prices_each
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import Wishes
from gardenkit.planting.composing import Composition, Taste
from gardenkit.planting.composing.said import sentences
from gardenkit.planting.planting import Plant
from gardenkit.planting.suitability import refused_by
from gardenkit.project import Project
from gardenkit.project import edits as every_edit
from gardenkit.project.composed import aims_of, composed, taken
from gardenkit.project.edits import brief, planting, site, structure
from gardenkit.project.plant_choice import surroundings
from gardenkit.project.season import spring_shift
from gardenkit.project.wanted_plants import wanted_of_plants
from gardenkit.site.heights import SpotHeight
from gardenkit.site.site import Fence

FENNEL = Path(__file__).parents[2] / "examples" / "fennel_street_corner"
SQUARE = ((0.0, 0.0), (12.0, 0.0), (12.0, 16.0), (0.0, 16.0))


def plot(rise: float = 0.0) -> Project:
    made = site.set_boundary(Project(name="plot", units="metric"), SQUARE)
    made = site.add_opening(made, "gate", "front", at=(6.0, 0.0), width=1.2, sill=0.0, head=1.2)
    made = site.add_opening(made, "gate", "back", at=(6.0, 16.0), width=1.2, sill=0.0, head=1.2)
    made = site.set_heights(made, [SpotHeight(at=(x, y), height=rise * y / 16) for x, y in SQUARE])
    return structure.add_seat(made, "bench", at=(9.0, 8.0))


def asking(made: Project, *wants: dict[str, Any]) -> Garden:
    for n, want in enumerate(wants):
        made = brief.ask_for(made, **({"text": f"want {n}"} | want))
    return Garden(made, Path("nowhere"))


SUNNY = {"asks": "in_sun", "thing": "bench", "since": 12.0, "until": 14.0, "weight": "must"}
SHADY = {"asks": "in_shade", "thing": "bench", "since": 13.0, "until": 15.0, "weight": "could"}
HIDDEN = {"asks": "screened", "thing": "bench", "other": "front"}
OPEN = {"asks": "view_open", "thing": "bench", "other": "front"}
YEW = {"asks": "plant_wanted", "words": ("Taxus",)}
SAFE = {"asks": "safe_for", "words": ("people", "severe"), "weight": "must"}


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        (SUNNY, SHADY, "in the sun and in the shade at the same hours"),
        (HIDDEN, OPEN, "hidden from front and in sight of it"),
        (YEW, SAFE, "severe toxicity listed for people"),
        (YEW, {"asks": "plant_never", "words": ("Taxus baccata",)}, None),
        (
            {"asks": "plant_wanted", "words": ("Taxus baccata",)},
            {"asks": "plant_never", "words": ("Taxus",)},
            "it is one",
        ),
        ({"asks": "plant_wanted", "words": ("Quercus rubra",)}, {"asks": "small_tree", "amount": 8.0}, "m tall"),
        (SUNNY, SHADY | {"since": 15.0, "until": 17.0}, None),
        (HIDDEN, OPEN | {"other": "back"}, None),
        (YEW, SAFE | {"asks": "no_allergy", "words": ("pollen allergy",)}, None),
    ],
)
def test_two_wants_that_cannot_both_be_are_named_whichever_comes_first(
    one: dict[str, Any], other: dict[str, Any], said: str | None
) -> None:
    for pair in ((one, other), (other, one)):
        found = [f.what for f in contradictions(asking(plot(), *pair))]
        assert len(found) == (said is not None)
        assert all(said in what for what in found if said)


def test_the_choice_offered_is_to_let_go_of_the_lighter_want() -> None:
    garden = asking(plot(), SUNNY, SHADY)
    (found,) = [f for f in garden.advice_about(("wants",)) if f.rule == "contradiction"]
    assert found.remedy is not None
    after = every_edit.apply(garden.project, found.remedy)
    assert [w.weight for w in after.brief.wants] == ["must"]
    assert contradictions(Garden(after, Path("x"))) == ()
    (other,) = found.others  # or the heavier one
    assert [w.weight for w in every_edit.apply(garden.project, other).brief.wants] == ["could"]


@pytest.mark.parametrize(("rise", "clash"), [(1.1, False), (1.3, True)])
def test_step_free_against_the_fall_of_the_ground(rise: float, clash: bool) -> None:
    # 2010 ADA Standards 403.3: 1 in 20. Over 16 m straight, half as long again is 24 m of way: 1.2 m of rise.
    found = contradictions(asking(plot(rise), {"asks": "step_free_way", "thing": "front", "other": "back"}))
    assert bool(found) is clash
    if clash:
        assert f"must be {1.3 * 20:.1f} m long" in found[0].what


def test_shade_at_noon_where_nothing_stands_that_could_give_it() -> None:
    place = {"latitude": 42.0, "longitude": -72.0, "timezone": "America/New_York"}
    bare = site.set_place(plot(), **place)
    (found,) = contradictions(asking(bare, SHADY))
    assert "nothing stands that could shade bench" in found.what
    wall = site.add_thing(bare, Fence(name="high wall", line=((5.0, 7.0), (12.0, 7.0)), height=9.0))
    assert contradictions(asking(wall, SHADY)) == ()


def test_a_favourite_that_a_must_rules_out_is_named() -> None:
    made = planting.keep_kind(plot(), "Taxus baccata 'Fastigiata'")
    (found,) = contradictions(asking(made, SAFE))
    assert found.what.startswith('"toxic to people, severe" is refused, but Taxus baccata')
    assert found.remedy is not None and found.others == ()  # a must of the list rules it out, no refusal does
    assert every_edit.apply(asking(made, SAFE).project, found.remedy).planting.favourites == ()
    refusing = brief.set_refusals(made, ("toxic to people",))
    (plain,) = contradictions(Garden(refusing, Path("nowhere")))
    assert [every_edit.apply(refusing, one).brief.refuses for one in plain.others] == [()]


def test_areas_that_find_no_room_are_added_up_once_each() -> None:
    lawn = {"asks": "area_of", "amount": 100.0}
    assert contradictions(asking(plot(), lawn)) == ()
    garden = asking(plot(), lawn, lawn | {"amount": 95.0})
    (found,) = contradictions(garden)
    assert "195.0 m2, the open ground has 192.0 m2" in found.what  # 12 by 16 m
    assert found.remedy is not None
    for choice in (found.remedy, *found.others):  # less of the one, or of the other
        after = every_edit.apply(garden.project, choice)
        assert len(after.brief.wants) == 2
        assert contradictions(Garden(after, Path("x"))) == ()


# ---- passed on


def test_a_must_keeps_out_the_kinds_it_rules_out_by_grade_name_and_height() -> None:
    garden = asking(
        plot(),
        SAFE | {"words": ("dogs", "moderate")},
        {"asks": "plant_never", "words": ("Ilex",), "weight": "must"},
        {"asks": "small_tree", "amount": 8.0, "weight": "must"},
        {"asks": "plant_never", "words": ("Salvia",), "weight": "should"},
    )
    refused = garden.project.brief.refused
    assert refused == ("toxic to dogs, moderate", "plant Ilex", "trees over 8 m")
    for kind in load_catalogue():
        out = any(refused_by(kind, word) for word in refused)
        if kind.genus == "Ilex" or (kind.layer in ("tree", "conifer") and kind.height > 8.0):
            assert out, kind.botanical
        elif "dogs" in kind.toxic_to:
            grade = dict(kind.toxicity_by).get("dogs", kind.toxicity)
            assert out is (grade != "mild"), kind.botanical
    assert any("dogs" in kind.toxic_to and dict(kind.toxicity_by).get("dogs") == "mild" for kind in load_catalogue())


def test_the_palette_keeps_to_musts_and_says_which_cannot_be() -> None:
    made = storage.load(FENNEL).project
    for words, kind in ((("Paeonia",), "plant_wanted"), (("Salvia",), "plant_never"), (("Dicksonia",), "plant_wanted")):
        made = brief.ask_for(made, text=f"about {words[0]}", asks=kind, words=words, weight="must")
    found = propose_palettes(Garden(made, FENNEL), Wishes(), now=None, later=None)[0].palette
    genera = {name.split()[0] for name in found.names}
    assert "Paeonia" in genera
    assert "Salvia" not in genera
    given_up = [wish.words for wish in found.relaxed if wish.topic == "must"]
    assert given_up == ["wanted: about Dicksonia"]
    assert any("about Dicksonia" in finding.what for finding in found.findings)


def test_a_plan_says_which_must_its_plants_cannot_keep() -> None:
    made = asking(
        plot(),
        {"asks": "plant_wanted", "words": ("Paeonia",), "weight": "must"},
        {"asks": "berries", "amount": 2, "weight": "must"},
        {"asks": "larvae", "amount": 2, "weight": "should"},
    ).project
    plants = [Plant(number=n, species=s, at=(8.0, 3.0)) for n, s in enumerate(("Paeonia 'Coral Charm'", "Ilex glabra"))]
    planted = attrs.evolve(made, planting=attrs.evolve(made.planting, plants=tuple(plants)))
    (missed,) = musts_missed(Garden(planted, Path("nowhere")))
    assert missed.startswith('"want 1" is not met: 1 kind with food for birds, wanted at least 2')
    dear = brief.ask_for(planted, text="cheap", asks="cost_of", words=("plants",), amount=20, weight="must")
    assert [m for m in musts_missed(Garden(dear, Path("nowhere"))) if m.startswith('"cheap" is not met: plants come')]


def test_money_and_hours_that_a_must_leaves_for_plants_are_what_the_rest_does_not_take() -> None:
    made = asking(
        storage.load(FENNEL).project,
        {"asks": "cost_of", "words": ("plants and materials",), "amount": 9000.0, "weight": "must"},
        {"asks": "care_hours", "amount": 200.0, "weight": "must"},
        {"asks": "care_week", "amount": 5.0, "weight": "could"},
    ).project
    garden = Garden(attrs.evolve(made, brief=attrs.evolve(made.brief, wants=made.brief.wants[-3:])), FENNEL)
    money, hours = limits(garden, garden.kinds)
    # what plants come to now, and what is free of the amount: each a figure of the cost page or the care page
    spent = sum(money.amounts()[p.species] for p in garden.project.planting.plants)
    free = (9000.0 - garden.costs.total) / (1 + garden.project.brief.pricing.contingency / 100)
    assert money.most - spent == pytest.approx(free)
    worked = sum(hours.amounts().get(p.species, 0.0) for p in garden.project.planting.plants)
    assert hours.most - worked == pytest.approx(200.0 - garden.care_hours)


def test_flowers_asked_for_in_a_month_reach_palette_and_arranging() -> None:
    asked = {"asks": "flowers_in", "months": (3, 11), "words": ("white",), "amount": 2, "weight": "must"}
    garden = asking(plot(), asked)
    wanted = wanted_of_plants(garden.project, load_catalogue())
    assert [(w.words, w.least, w.must) for w in wanted] == [
        ("want 0, in March", 2, True),
        ("want 0, in November", 2, True),
    ]
    assert "Galanthus nivalis" in wanted[0].kinds
    assert {3, 11} <= set(aims_of(garden.project).months)
    assert not {3, 11} & set(aims_of(plot()).months)
    assert aims_of(garden.project).shift_days == spring_shift(garden.project.site)
    assert wanted_of_plants(asking(plot(), asked | {"weight": "could"}).project, load_catalogue()) == ()


def test_what_is_to_be_screened_is_a_screen_to_the_arranger() -> None:
    free = attrs.evolve(storage.load(FENNEL).project, brief=type(plot().brief)())
    assert surroundings(free).screens == ()
    (screen,) = surroundings(asking(free, {"asks": "screened", "thing": "bench", "other": "gate"}).project).screens
    bench = next(s for s in free.structure.seats if s.name == "bench")
    assert screen.hidden == pytest.approx(0.8)
    assert math.dist(np.mean(screen.points[:, :2], axis=0), bench.at) < 0.3


def laid() -> Project:
    """Return a strip of 4 by 6 m with a walk from gate to gate, and so beds on both its sides."""
    made = site.set_boundary(Project(name="strip", units="metric"), ((0.0, 0.0), (4.0, 0.0), (4.0, 6.0), (0.0, 6.0)))
    made = site.add_opening(made, "gate", "front", at=(2.0, 0.0), width=1.0, sill=0.0, head=1.2)
    made = site.add_opening(made, "gate", "back", at=(2.0, 6.0), width=1.0, sill=0.0, head=1.2)
    return structure.add_path(made, "walk", start="front", end="back", curvature=0.0)


def composed_within(garden: Garden) -> tuple[Composition, Garden]:
    names = ("Salvia nemorosa", "Echinacea purpurea", "Panicum virgatum", "Waldsteinia fragarioides", "Ilex glabra")
    must = [one for one in limits(garden, garden.catalogue) if one.must]
    kinds, taste = [garden.catalogue[name] for name in names], (Taste(),)
    (found,) = composed(garden.project, kinds, catalogue=garden.catalogue, tastes=taste, limits=must)
    plan = planting.use_arrangement(garden.project, taken(garden.project, found))
    return found, Garden(plan, Path("nowhere"))


def test_no_proposal_costs_more_or_asks_for_more_work_than_a_must_allows() -> None:
    free, usual = composed_within(asking(laid()))
    cost, hours = sum(line.cost for line in usual.schedule), usual.care_hours
    assert free.thinned == 0
    asked = (
        {"asks": "cost_of", "words": ("plants",), "amount": 0.75 * cost, "weight": "must"},
        {"asks": "care_hours", "amount": 0.9 * hours, "weight": "must"},
    )
    kept, plan = composed_within(asking(laid(), *asked))
    assert sum(line.cost for line in plan.schedule) <= 0.75 * cost
    assert plan.care_hours <= 0.9 * hours + 1e-9
    assert kept.thinned > 0 and f"Thinned by {kept.thinned} plants" in sentences([kept])[0]
    assert {p.species for p in kept.plants} == {p.species for p in free.plants}  # every kind is still there
    assert musts_missed(plan) == ()


def test_a_must_that_no_planting_can_keep_is_said_of_the_proposal() -> None:
    # one plant of each of the five kinds, and the weeding of the beds, are more than no work at all
    found, plan = composed_within(asking(laid(), {"asks": "care_hours", "amount": 0.0, "weight": "must"}))
    assert found.thinned == 0 and found.new
    (missed,) = musts_missed(plan)
    assert missed.startswith('"want 0" is not met: about')


def test_food_asked_for_reaches_the_palette_but_for_what_is_sown() -> None:
    garden = asking(laid(), {"asks": "food", "amount": 3, "words": ("Pisum",), "weight": "must"})
    all_of_it, peas = wanted_of_plants(garden.project, garden.catalogue)
    assert (all_of_it.least, all_of_it.must, peas.words) == (3, True, "want 0, Pisum")
    assert "Salvia rosmarinus" in all_of_it.kinds and "Ilex glabra" not in all_of_it.kinds
    bed = structure.every_bed(garden.project)[0]
    made = structure.change_bed(structure.rename_bed(garden.project, bed.name, to="bed"), "bed", purpose="vegetables")
    sown = planting.add_crop(made, "Pisum sativum", bed="bed", share=0.5)
    (rest,) = wanted_of_plants(sown, garden.catalogue)
    assert rest.least == 2


def test_a_kind_without_a_price_in_the_gardens_money_is_named_and_never_priced_in_another() -> None:
    made = brief.set_budget(laid(), 5000.0, currency="€")
    priced = planting.set_price(made, "Ilex glabra", 30.0)
    garden = Garden(priced, Path("nowhere"))
    assert prices_each(garden, [garden.catalogue[n] for n in ("Ilex glabra", "Salvia nemorosa")]) == {
        "Ilex glabra": 30.0
    }
    assert garden.costs.currency == "€"
    planning = Garden(made, Path("nowhere"))  # without one price of its own, all is a planning figure in US dollars
    assert set(prices_each(planning, [planning.catalogue["Salvia nemorosa"]])) == {"Salvia nemorosa"}
