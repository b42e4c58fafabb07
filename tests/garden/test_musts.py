"""Musts that palette and arranging keep: of one area alone, of water, of months, of so many kinds; and what is said."""

from pathlib import Path
from typing import Any

import attrs
import pytest

from gardenkit.findings import Finding, Remedy
from gardenkit.garden import Garden
from gardenkit.garden.choosing import propose_palettes
from gardenkit.garden.contradictions import contradictions
from gardenkit.garden.musts import limits, musts_missed
from gardenkit.planting.choosing import Wishes
from gardenkit.planting.composing import Composition, Taste
from gardenkit.planting.season import flower_months
from gardenkit.planting.species import Species
from gardenkit.planting.suitability import refused_by
from gardenkit.project import Project
from gardenkit.project import edits as every_edit
from gardenkit.project.advice import spot_at
from gardenkit.project.composed import composed, taken
from gardenkit.project.edits import brief, planting, site, structure
from gardenkit.project.wanted_plants import feeds_insects, shares_wanted
from gardenkit.schedules.irrigation import thirst
from gardenkit.site.climate import Climate

STRIP = ((0.0, 0.0), (4.0, 0.0), (4.0, 6.0), (0.0, 6.0))
FRONT, BACK = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)), ((0.0, 3.0), (4.0, 3.0), (4.0, 6.0), (0.0, 6.0))
KINDS = ("Salvia nemorosa", "Echinacea purpurea", "Panicum virgatum", "Waldsteinia fragarioides", "Ilex glabra")
SALVIA, WALDSTEINIA = "Salvia nemorosa", "Waldsteinia fragarioides"


def strip(*wants: dict[str, Any]) -> Garden:
    """Return a strip of 4 by 6 m with a walk down its middle, cut across into two areas, and some wants."""
    made = site.set_boundary(Project(name="strip", units="metric"), STRIP)
    made = site.set_place(made, latitude=42.0, longitude=-72.0, timezone="America/New_York")
    made = site.add_opening(made, "gate", "front gate", at=(2.0, 0.0), width=1.0, sill=0.0, head=1.2)
    made = site.add_opening(made, "gate", "back gate", at=(2.0, 6.0), width=1.0, sill=0.0, head=1.2)
    made = structure.add_path(made, "walk", start="front gate", end="back gate", curvature=0.0)
    warm = Climate(
        zone="6b", tmin=(-6, -5, -1, 4, 10, 15, 18, 17, 13, 7, 2, -3), tmax=(2, 4, 9, 16, 22, 27, 29, 28, 24, 18, 11, 5)
    )
    made = attrs.evolve(made, site=attrs.evolve(made.site, climate=warm))
    made = brief.add_property_area(made, "front", outline=FRONT)
    made = brief.add_property_area(made, "back", outline=BACK)
    for n, want in enumerate(wants):
        made = brief.ask_for(made, **({"text": f"want {n}", "weight": "must"} | want))
    return Garden(made, Path("nowhere"))


def planted(garden: Garden, names: tuple[str, ...] = KINDS) -> tuple[Composition, Garden]:
    must = [one for one in limits(garden, garden.catalogue) if one.must]
    kinds = [garden.catalogue[name] for name in names]
    (found,) = composed(garden.project, kinds, catalogue=garden.catalogue, tastes=(Taste(),), limits=must)
    return found, Garden(planting.use_arrangement(garden.project, taken(garden.project, found)), Path("nowhere"))


def palettes_of(garden: Garden) -> list[list[Species]]:
    """Return the kinds of the palettes proposed for a garden, each of which keeps its musts."""
    found = [one.palette for one in propose_palettes(garden, Wishes(), now=None, later=None)]
    assert [wish.words for one in found for wish in one.relaxed if wish.topic == "must"] == []
    return [[choice.species for choice in one.choices] for one in found]


def every_choice(found: Finding) -> tuple[Remedy, ...]:
    return (found.remedy, *found.others) if found.remedy else ()


# ---- one area alone


def test_what_a_must_rules_out_of_one_area_stands_in_the_other_alone() -> None:
    _, free = planted(strip())
    assert {p.at[1] < 3.0 for p in free.project.planting.plants if p.species == WALDSTEINIA} == {True, False}
    garden = strip({"asks": "plant_never", "words": ("Waldsteinia",), "area": "front"})
    _, plan = planted(garden)
    where = {p.at[1] < 3.0 for p in plan.project.planting.plants if p.species == WALDSTEINIA}
    assert where == {False}
    assert musts_missed(plan) == ()
    assert "plant Waldsteinia" not in garden.project.brief.refused
    assert spot_at(garden.project, (0.5, 1.0)).refuses == ("plant Waldsteinia",)
    assert spot_at(garden.project, (0.5, 5.0)).refuses == ()


def test_a_plant_put_where_its_area_rules_it_out_is_told_of_and_no_other() -> None:
    garden = strip({"asks": "plant_never", "words": ("Salvia",), "area": "front"})
    made = planting.add_plants(garden.project, garden.catalogue[SALVIA], [(0.5, 1.0), (0.5, 5.0)])
    held = [one.where for one in Garden(made, Path("nowhere")).advice if "plant Salvia" in one.what + one.why]
    assert held == ["wants list", "plant 1, Salvia nemorosa"]  # put by hand, so fixed; and where it stands
    (missed,) = musts_missed(Garden(made, Path("nowhere")))
    assert missed.startswith('"want 0" in front is not met')


def test_hours_and_money_of_one_area_thin_that_area_alone() -> None:
    free, usual = planted(strip())
    front, back = (sum(line.cost for line in usual.of_area(name).schedule) for name in ("front", "back"))
    asked = {"asks": "cost_of", "words": ("plants",), "amount": 0.7 * front, "area": "front"}
    kept, plan = planted(strip(asked))
    assert sum(line.cost for line in plan.of_area("front").schedule) <= 0.7 * front
    assert sum(line.cost for line in plan.of_area("back").schedule) == pytest.approx(back)
    assert (free.thinned, kept.thinned > 0, musts_missed(plan)) == (0, True, ())
    (limit,) = limits(strip(asked), plan.kinds)
    assert limit.words == "front: want 0" and 0.3 < limit.share < 0.7


def test_a_plant_wanted_in_one_area_and_ruled_out_of_another_is_no_contradiction() -> None:
    wanted = {"asks": "plant_wanted", "words": ("Salvia",), "area": "back"}
    never = {"asks": "plant_never", "words": ("Salvia",)}
    assert contradictions(strip(wanted, never | {"area": "front"})) == ()
    assert len(contradictions(strip(wanted, never | {"area": "back"}))) == 1
    assert len(contradictions(strip(wanted, never))) == 1
    garden = strip(never | {"area": "front"})
    fixed = planting.add_plants(garden.project, garden.catalogue[SALVIA], [(0.5, 1.0)])
    (found,) = contradictions(Garden(planting.lock_plants(fixed, 1), Path("nowhere")))
    assert '"plant Salvia" is refused in front, but Salvia nemorosa stands fixed there' in found.what


def test_no_proposal_grows_into_a_view_that_a_must_keeps_open() -> None:
    def seat_by_the_hedge(*wants: dict[str, Any]) -> Garden:
        made = structure.add_seat(strip().project, "bench", at=(0.7, 4.3))
        for want in wants:
            made = brief.ask_for(made, text="see the bench from the gate", weight="must", **want)
        return Garden(made, Path("nowhere"))

    view = {"asks": "view_open", "thing": "bench", "other": "front gate", "months": (7,), "amount": 95.0}
    _, usual = planted(seat_by_the_hedge())
    (hidden,) = musts_missed(Garden(brief.ask_for(usual.project, text="see", weight="must", **view), Path("nowhere")))
    assert "stands before it" in hidden
    _, plan = planted(seat_by_the_hedge(view))
    assert musts_missed(plan) == ()
    assert {p.species for p in plan.project.planting.plants} >= {"Panicum virgatum"}  # where it hides nothing


def test_no_proposal_takes_the_sun_that_a_must_keeps_on_a_seat() -> None:
    def seat(*wants: dict[str, Any]) -> Garden:
        made = structure.add_seat(strip().project, "bench", at=(0.6, 4.4), width=1.2)
        for want in wants:
            made = brief.ask_for(made, text="morning sun", weight="must", **want)
        return Garden(made, Path("nowhere"))

    sun = {"asks": "in_sun", "thing": "bench", "months": (10,), "since": 8.0, "until": 10.0, "amount": 90.0}
    _, usual = planted(seat())
    (dark,) = musts_missed(Garden(brief.ask_for(usual.project, text="sun", weight="must", **sun), Path("nowhere")))
    assert "shade from" in dark
    _, plan = planted(seat(sun))
    assert musts_missed(plan) == ()
    assert {p.species for p in plan.project.planting.plants} >= {"Panicum virgatum"}  # where it takes no sun from it


# ---- water, food, months, kinds


def test_no_palette_and_no_proposal_takes_more_water_than_a_must_allows() -> None:
    names = (*KINDS, "Rudbeckia fulgida 'Goldsturm'")
    _, usual = planted(strip(), names)
    litres = sum(sum(bed.dry) for bed in usual.water)
    garden = strip({"asks": "water_use", "amount": 0.6 * litres})
    assert {thirst(kind) for kinds in palettes_of(garden) for kind in kinds} == {"low"}
    _, plan = planted(garden, names)  # of a palette that has thirstier kinds still
    assert sum(sum(bed.dry) for bed in plan.water) <= 0.6 * litres
    assert musts_missed(plan) == ()


def test_water_that_no_bed_can_do_with_is_said_when_it_is_typed() -> None:
    assert contradictions(strip({"asks": "water_use", "amount": 100_000.0})) == ()
    (found,) = contradictions(strip({"asks": "water_use", "amount": 100.0}))
    assert "even where nothing is arranged in them that needs more than little" in found.what
    more, could, without = every_choice(found)
    asking = strip({"asks": "water_use", "amount": 100.0}).project
    assert contradictions(Garden(every_edit.apply(asking, more), Path("nowhere"))) == ()
    (note,) = contradictions(Garden(every_edit.apply(asking, could), Path("nowhere")))
    assert (note.seriousness, len(every_choice(note))) == ("note", 2)
    assert every_edit.apply(asking, without).brief.wants == ()


def test_food_on_more_ground_than_the_beds_have_is_said_when_it_is_typed() -> None:
    food = {"asks": "food", "amount": 1}
    assert contradictions(strip(food | {"size": 5.0})) == ()
    (found,) = contradictions(strip(food | {"size": 23.0}))
    assert "wanted are 23.0 m2; lay out more bed" in found.what
    (dark,) = contradictions(strip(food | {"size": 5.0, "sun": 15.0}))
    assert "with 15 hours of sun a day" in dark.what
    less, *_ = every_choice(found)
    after = every_edit.apply(strip(food | {"size": 23.0}).project, less)
    assert 15.0 < after.brief.wants[0].asks.size < 23.0
    assert contradictions(Garden(after, Path("nowhere"))) == ()


def test_months_a_most_of_kinds_and_a_share_of_evergreens_reach_the_palette() -> None:
    garden = strip(
        {"asks": "nectar", "amount": 7},
        {"fact": "months_in_flower", "amount": 9},
        {"fact": "species", "compare": "at most", "amount": 14},
        {"fact": "evergreen_share", "amount": 40},
    )
    assert shares_wanted(garden.project) == {"evergreen_share": 0.4}
    for kinds in palettes_of(garden):
        months = {kind: flower_months(kind, garden.spring_shift) for kind in kinds}
        assert len({month for kind in kinds if feeds_insects(kind) for month in months[kind]}) >= 7
        assert len({month for kind in kinds for month in months[kind]}) >= 9
        assert len(kinds) <= 14


def test_a_palette_that_the_musts_rule_out_whole_is_told_of() -> None:
    garden = strip({"asks": "plant_never", "words": ("Salvia",)})
    assert refused_by(garden.catalogue[SALVIA], "plant Salvia")
    with pytest.raises(Exception, match="rule out every kind of the palette; propose a palette anew"):
        planted(garden, (SALVIA,))
