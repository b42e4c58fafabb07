"""Wants that cannot all hold are found as they are typed; what must hold reaches palette and arranging."""

import math
from pathlib import Path
from typing import Any

import attrs
import numpy as np
import pytest

from gardenkit import storage
from gardenkit.garden import Garden
from gardenkit.garden.choosing import propose_palette
from gardenkit.garden.contradictions import contradictions
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import Wishes
from gardenkit.planting.suitability import refused_by
from gardenkit.project import Project
from gardenkit.project import edits as every_edit
from gardenkit.project.composed import aims_of
from gardenkit.project.edits import brief, planting, site, structure
from gardenkit.project.plant_choice import surroundings
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


def test_areas_that_find_no_room_are_added_up_once_each() -> None:
    lawn = {"asks": "area_of", "amount": 100.0}
    assert contradictions(asking(plot(), lawn)) == ()
    (found,) = contradictions(asking(plot(), lawn, lawn | {"amount": 95.0}))
    assert "195.0 m2, the open ground has 192.0 m2" in found.what  # 12 by 16 m


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
    found = propose_palette(Garden(made, FENNEL), Wishes(), now=None, later=None).palette
    genera = {name.split()[0] for name in found.names}
    assert "Paeonia" in genera
    assert "Salvia" not in genera
    given_up = [wish.words for wish in found.relaxed if wish.topic == "must"]
    assert given_up == ["wanted: about Dicksonia"]
    assert any("about Dicksonia" in finding.what for finding in found.findings)


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
    assert wanted_of_plants(asking(plot(), asked | {"weight": "could"}).project, load_catalogue()) == ()


def test_what_is_to_be_screened_is_a_screen_to_the_arranger() -> None:
    free = attrs.evolve(storage.load(FENNEL).project, brief=type(plot().brief)())
    assert surroundings(free).screens == ()
    (screen,) = surroundings(asking(free, {"asks": "screened", "thing": "bench", "other": "gate"}).project).screens
    bench = next(s for s in free.structure.seats if s.name == "bench")
    assert screen.hidden == pytest.approx(0.8)
    assert math.dist(np.mean(screen.points[:, :2], axis=0), bench.at) < 0.3
