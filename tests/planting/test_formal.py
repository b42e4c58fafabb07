"""A formal planting mirrors its sides and has clipped lines; a narrow bed has upright accents at a beat."""

from functools import cache

import attrs
import numpy as np
import pytest

from gardenkit.geometry import plane
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.composing import BedGround, Composition, Surroundings, Taste, compose
from gardenkit.planting.composing.accents import HIGH
from gardenkit.planting.composing.formal import can_be_clipped, edges_a_walk, makes_a_hedge, mirror_of
from gardenkit.planting.composing.ground import ground_of
from gardenkit.planting.composing.kinds import Kind
from gardenkit.planting.composing.stages import ORDER
from gardenkit.planting.composing.woody import BEFORE_END, anchors
from gardenkit.planting.setbacks import Around

CATALOGUE = load_catalogue()
FORMAL = (
    "Teucrium × lucidrys",
    "Buxus microphylla var. japonica 'Winter Gem'",
    "Nepeta racemosa 'Walker's Low'",
    "Salvia yangii",
    "Alchemilla mollis",
    "Muhlenbergia rigens",
    "Sedum rupestre 'Angelina'",
)
WALK = plane.region([(-0.6, 0.0), (0.6, 0.0), (0.6, 6.0), (-0.6, 6.0)])
AXIS = ((0.0, 0.0), (0.0, 2.0), (0.0, 4.0), (0.0, 6.0))
ROUND = Surroundings(
    around=Around(paths=(("walk", WALK),)), ways=(AXIS,), walked=WALK, sun=lambda at: np.full(len(at), 7.0)
)


def bed(name: str, left: float, right: float) -> BedGround:
    return BedGround(name=name, region=plane.region([(left, 0.0), (right, 0.0), (right, 6.0), (left, 6.0)]))


BEDS = [bed("west", -4.2, -0.6), bed("east", 0.6, 4.2)]


@cache
def formal(*, mirrored: bool = True, clipped: bool = True) -> Composition:
    round_ = attrs.evolve(ROUND, boundary=((-4.2, 0.0), (4.2, 0.0), (4.2, 6.0), (-4.2, 6.0), (-4.2, 0.0)))
    taste = Taste(mirrored=mirrored, clipped=clipped)
    return compose([CATALOGUE[n] for n in FORMAL], BEDS, round_, catalogue=CATALOGUE, taste=taste)


def with_a_like(one: Composition) -> float:
    """Return the share of plants, without bulbs, that have one of their kind across the axis."""
    solid = [p for p in one.plants if CATALOGUE[p.species].layer != "bulb"]
    at = {name: np.array([p.at for p in solid if p.species == name]) for name in {p.species for p in solid}}
    like = [np.hypot(*(at[p.species] - [-p.at[0], p.at[1]]).T).min() < 0.1 for p in solid]
    return float(np.mean(like))


def test_one_side_of_a_formal_planting_is_the_like_of_the_other() -> None:
    assert with_a_like(formal()) > 0.85
    assert with_a_like(formal(mirrored=False, clipped=False)) < 0.4


def test_no_axis_is_found_along_a_way_that_bends_or_with_a_bed_on_one_side() -> None:
    bent = ((0.0, 0.0), (1.0, 3.0), (0.0, 6.0))
    assert mirror_of(ground_of(BEDS, ROUND), [AXIS]) is not None
    assert mirror_of(ground_of(BEDS, ROUND), [bent]) is None
    assert mirror_of(ground_of(BEDS[:1], ROUND), [AXIS]) is None


def test_one_clipped_kind_runs_along_the_walk_at_even_distances_and_a_hedge_behind() -> None:
    line = sorted(p.at for p in formal().plants if p.species == FORMAL[0] and -1.1 < p.at[0] < -0.6)
    along = np.diff(sorted(y for _, y in line))
    assert len(line) > 10
    assert along.max() == pytest.approx(along.min(), rel=0.05)
    behind = [p for p in formal().plants if p.species == FORMAL[1] and abs(p.at[0]) > 3.4]
    assert len(behind) >= 6
    assert formal().stages["line"] > 20
    assert "line" not in formal(mirrored=False, clipped=False).stages


def test_a_slender_tree_of_a_formal_planting_stands_in_a_pair_beside_an_end_of_the_walk() -> None:
    ground = ground_of(BEDS, ROUND)
    mirror = mirror_of(ground, [AXIS])
    assert mirror is not None
    paired_room = mirror.half & (ground.edge > 0.8)
    yew = [Kind(CATALOGUE["Taxus baccata 'Fastigiata'"])]

    def off(seed: int, *, paired: bool) -> float:
        (one,) = anchors(yew, ground, ROUND, np.random.default_rng(seed), [], room=lambda _: paired_room, paired=paired)
        return min(abs(one.at[1] - BEFORE_END), abs(6.0 - BEFORE_END - one.at[1])) + abs(abs(one.at[0]) - 1.4)

    pairs = [off(seed, paired=True) for seed in range(8)]
    singles = [off(seed, paired=False) for seed in range(8)]
    assert max(pairs) < 0.6
    assert np.mean(singles) > 2 * np.mean(pairs)


def test_what_can_be_clipped_is_an_evergreen_shrub_that_is_sheared_or_set_close() -> None:
    assert edges_a_walk(CATALOGUE[FORMAL[0]])
    assert makes_a_hedge(CATALOGUE[FORMAL[1]])
    assert not can_be_clipped(CATALOGUE["Hydrangea quercifolia"])
    assert not can_be_clipped(CATALOGUE["Nepeta racemosa 'Walker's Low'"])


def test_a_narrow_bed_has_tall_plants_at_a_beat_behind_its_front() -> None:
    narrow = BedGround(name="strip", region=plane.region([(0.0, 0.0), (9.0, 0.0), (9.0, 0.95), (0.0, 0.95)]))
    walk = plane.region([(-1.0, -1.2), (10.0, -1.2), (10.0, 0.0), (-1.0, 0.0)])
    round_ = attrs.evolve(ROUND, walked=walk, ways=(((-1.0, -0.6), (10.0, -0.6)),), backs=(((0.0, 0.95), (9.0, 0.95)),))
    found = compose([CATALOGUE[n] for n in FORMAL], [narrow], round_, catalogue=CATALOGUE)
    tall = sorted(p.at for p in found.plants if CATALOGUE[p.species].height >= HIGH[0])
    assert found.stages["accent"] >= 3
    assert all(y > 0.4 for _, y in tall)
    assert max(np.diff([0.0, *(x for x, _ in tall), 9.0])) < 4.0


def test_the_stages_of_a_planting_are_held_while_the_later_ones_are_redone() -> None:
    first = formal()
    assert len(first.up_to(len(ORDER))) == len(first.new)
    assert [len(first.up_to(n)) for n in range(1, 8)] == sorted(len(first.up_to(n)) for n in range(1, 8))
    for upto in (2, 5):
        again = redone(first, upto)
        before, now = ({(p.species, p.at) for p in one.up_to(upto)} for one in (first, again))
        assert before == now
        assert {(p.species, p.at) for p in again.new} != {(p.species, p.at) for p in first.new}
        assert again.figures.coverage[5] > 0.8


def redone(one: Composition, upto: int) -> Composition:
    round_ = attrs.evolve(ROUND, boundary=((-4.2, 0.0), (4.2, 0.0), (4.2, 6.0), (-4.2, 6.0), (-4.2, 0.0)))
    kinds = [CATALOGUE[n] for n in FORMAL]
    return compose(kinds, BEDS, round_, catalogue=CATALOGUE, taste=one.taste, held=one.held(upto), variation=9)
