"""One test of room: a tree that no bed can hold is never offered, and what is offered finds a place when arranged."""

from functools import cache
from pathlib import Path

import attrs
import numpy as np
import pytest

from gardenkit import storage
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import candidates, propose
from gardenkit.planting.composing import BedGround, Surroundings
from gardenkit.planting.composing.ground import Ground, ground_of
from gardenkit.planting.composing.kinds import Kind, may_stand
from gardenkit.planting.composing.woody import anchors
from gardenkit.planting.room import carries
from gardenkit.planting.setbacks import Around
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.plant_choice import (
    KNEES,
    Suited,
    bed_grounds,
    bed_spots,
    planted_ground,
    seat_ground,
    suited_to_garden,
    surroundings,
    with_room,
)
from gardenkit.structure.structure import Seat
from gardenkit.units import FOOT

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("fennel_street_corner", "lantern_lane_strip", "quarry_brow_hillside")
CATALOGUE = load_catalogue()
TREE = CATALOGUE["Cercis canadensis"]

every_garden = pytest.mark.parametrize("name", NAMES)


@cache
def emptied(name: str) -> Project:
    """Return an example without its plants."""
    project = storage.load(EXAMPLES / name).project
    return attrs.evolve(project, planting=attrs.evolve(project.planting, plants=(), palette=(), favourites=()))


@cache
def spread_out(name: str) -> tuple[tuple[BedGround, ...], Surroundings, Ground]:
    beds, near = bed_grounds(emptied(name)), surroundings(emptied(name))
    return beds, near, ground_of(beds, near)


@cache
def offered(name: str) -> tuple[Suited, ...]:
    project = emptied(name)
    return with_room(project, suited_to_garden(CATALOGUE, bed_spots(project, now=None, later=None)))


def holds(species: Species, deep: float, *, house_at: float) -> bool:
    """Return whether a bed 10 m long and ``deep`` metres deep holds a kind, the house ``house_at`` metres behind it."""
    bed = BedGround(name="bed", region=plane.region([(0, 0), (10, 0), (10, deep), (0, deep)]))
    back = deep + house_at
    house = plane.region([(-5, back), (15, back), (15, back + 8), (-5, back + 8)])
    walk = plane.region([(0, -4), (10, -4), (10, -3), (0, -3)])  # far enough in front to ask nothing of a tree
    near = Surroundings(around=Around(walls=(("house", house),)), walked=walk)
    return bool(may_stand(Kind(species), ground_of([bed], near), near).any())


def test_choosing_arranging_and_judging_share_one_ground_while_site_and_structure_stay() -> None:
    there = storage.load(EXAMPLES / NAMES[0]).project
    bare = emptied(NAMES[0])
    assert planted_ground(there) is planted_ground(bare)
    assert (planted_ground(bare).points == spread_out(NAMES[0])[2].points).all()
    walkless = attrs.evolve(bare, structure=attrs.evolve(bare.structure, ground_areas=()))
    assert len(planted_ground(walkless)) != len(planted_ground(bare))


def test_a_tree_wants_ten_feet_from_the_house_and_half_its_spread() -> None:
    # a regional tree guide (setbacks.TREE_RULES "guide 1"): 10 ft for small and medium trees, which is 3.05 m
    least = max(10 * FOOT, TREE.spread / 2)
    assert TREE.height < 40 * FOOT  # small or medium in that guide
    assert holds(TREE, 4.0, house_at=least)
    assert not holds(TREE, 4.0, house_at=least - 4.0)  # every place of the bed is nearer


def test_a_strip_holds_no_tree_that_would_outgrow_it() -> None:
    assert carries(TREE, [1.5, 2.5]).tolist() == [False, True]  # 7.5 m tall: four times 1.5 m is less
    assert not holds(TREE, 1.5, house_at=20.0)
    assert holds(TREE, 2.6, house_at=20.0)


@every_garden
def test_every_tree_offered_finds_a_place_when_it_is_set(name: str) -> None:
    beds, near, ground = spread_out(name)
    trees = [s for s in offered(name) if s.judgement.verdict != "no" and Kind(s.species).part == "tree"]
    assert len(trees) > 3
    for one in trees:
        (placed,) = anchors(
            [Kind(one.species)],
            ground,
            near,
            np.random.default_rng(1),
            [],
            room=lambda kind: may_stand(kind, ground, near),
        )
        assert any(plane.contains(bed.region, placed.at) for bed in beds)


def test_in_the_walled_strip_trees_that_no_bed_can_hold_are_said_no_to_with_the_reason() -> None:
    refused = [s for s in offered(NAMES[1]) if any("no bed it suits holds it" in r.text for r in s.judgement.against)]
    _, near, ground = spread_out(NAMES[1])
    assert any(Kind(s.species).part == "tree" for s in refused)
    for one in refused:
        assert (one.judgement.verdict, one.beds) == ("no", ())
    nowhere = [s for s in refused if not may_stand(Kind(s.species), ground, near).any()]
    assert nowhere


@every_garden
def test_a_palette_offers_no_tree_without_room(name: str) -> None:
    allowed = [s for s in offered(name) if s.judgement.verdict != "no"]
    palette = propose(candidates(s.judgement for s in allowed))
    beds, near, ground = spread_out(name)
    trees = [c.species for c in palette.choices if Kind(c.species).part == "tree"]
    assert [s.botanical for s in trees if not may_stand(Kind(s), ground, near).any()] == []
    assert all(any(carries(s, bed.width) for bed in beds) for s in trees)


def test_before_a_seat_there_is_room_for_knees_and_behind_it_plants_may_stand() -> None:
    bench = Seat(name="bench", at=(5.0, 5.0), facing=90.0)  # looks along x
    ground = seat_ground(bench)
    assert plane.area(ground) == pytest.approx(bench.width * (bench.depth + KNEES))
    assert plane.contains(ground, (5.8, 5.5))
    assert not plane.contains(ground, (4.4, 5.0))
    assert not plane.contains(ground, (5.0, 5.9))
