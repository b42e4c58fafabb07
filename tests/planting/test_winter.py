"""The frame of a garden is to be seen in winter: a third of its shrubs evergreen, two thirds where it is formal."""

import math
from collections import Counter
from functools import cache

import attrs
import numpy as np
import pytest

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import Candidate, LayerWish, Wishes, propose
from gardenkit.planting.composing import Aims, BedGround, Surroundings, Taste
from gardenkit.planting.composing.carpet import bulbs
from gardenkit.planting.composing.figures import NO_FRAME, WINTER_OF, CompositionFigures, covered, figures_of
from gardenkit.planting.composing.ground import Ground, Mask, ground_of
from gardenkit.planting.composing.kinds import Kind, kind_of, may_stand
from gardenkit.planting.composing.register import TERMS, WINTER_STANDS, picture_costs
from gardenkit.planting.composing.winter_floor import CLEAR, DENSEST, FLOOR, winter_floor
from gardenkit.planting.composing.woody import Placed, masses
from gardenkit.planting.mixing import SPRING_BULBS, WINTER_GREEN, WINTER_STEMS, Mix
from gardenkit.planting.winter import (
    flowers_early,
    frame_share,
    framed,
    holds_the_floor,
    is_frame,
    may_frame,
    stands,
    up_early,
)

CATALOGUE = load_catalogue()
WALK = plane.region([(-1.0, -1.2), (17.0, -1.2), (17.0, 0.0), (-1.0, 0.0)])
BED = BedGround(name="bed", region=plane.region([(0.0, 0.0), (16.0, 0.0), (16.0, 6.0), (0.0, 6.0)]))


def sunny(points: FloatArray) -> FloatArray:
    return np.full(len(points), 7.0)


@cache
def shrubs(frame: float) -> CompositionFigures:
    round_it = Surroundings(walked=WALK, ways=(((-1.0, -0.6), (8.0, -0.6), (17.0, -0.6)),), sun=sunny)
    names = ("Hydrangea paniculata", "Rosa 'Ballerina'", "Juniperus chinensis 'Sea Green'")
    ground, kinds = ground_of([BED], round_it), [kind_of(CATALOGUE[name]) for name in names]
    rng = np.random.default_rng(3)

    def room(kind: Kind) -> Mask:
        return may_stand(kind, ground, round_it)

    return figures_of(ground, masses(kinds, ground, Taste(), rng, [], room=room, frame=frame))


def test_published_shares_of_evergreens_run_from_an_informal_garden_to_a_formal_one() -> None:
    assert frame_share(0.0) == pytest.approx(1 / 3)
    assert frame_share(1.0) == pytest.approx(2 / 3)


def test_a_low_or_slow_evergreen_and_a_tree_are_no_frame_and_what_dies_back_is_not_seen() -> None:
    assert is_frame(CATALOGUE["Ilex glabra"])
    assert not any(map(may_frame, (CATALOGUE["Lavandula angustifolia 'Munstead'"], CATALOGUE["Pinus sylvestris"])))
    assert not is_frame(CATALOGUE["Hydrangea paniculata"]) and stands(CATALOGUE["Hydrangea paniculata"])
    assert stands(CATALOGUE["Schizachyrium scoparium"]) and not stands(CATALOGUE["Alchemilla mollis"])


def test_a_palette_has_its_share_of_what_is_seen_in_winter() -> None:
    some = [s for s in CATALOGUE if s.is_ornamental and s.zone_min <= 5 and s.zone_max >= 7 and "full" in s.sun_range]
    layers = (
        LayerWish(layer="shrub", least=5),
        LayerWish(layer="perennial", least=6),
        LayerWish(layer="bulb", least=2),
    )
    wishes = Wishes(layers=layers, kinds_a_month=1, mix=Mix(frame=0.5))
    kinds = [c.species for c in propose([Candidate(species=s) for s in some[::4]], wishes).choices]
    assert np.mean([is_frame(k) for k in kinds if may_frame(k)]) >= 0.5
    assert np.mean([stands(k) for k in kinds if k.role == "ground cover"]) >= WINTER_GREEN
    tall = [k for k in kinds if k.role == "framework" and k.layer in ("perennial", "grass", "fern", "annual")]
    assert np.mean([stands(k) for k in tall]) >= WINTER_STEMS
    scattered = [k for k in kinds if k.layer == "bulb" and k.role == "scatter"]
    assert np.mean([flowers_early(k) for k in scattered]) >= SPRING_BULBS


def test_masses_of_shrubs_come_to_the_evergreen_share_that_is_asked() -> None:
    assert [round(shrubs(asked).frame or 0, 1) >= asked for asked in (0.3, 0.5, 0.6)] == [True] * 3
    assert (shrubs(0.6).frame or 0) > (shrubs(0.0).frame or 0)
    assert dict(shrubs(0.6).rows())["shrubs green in winter"].endswith("of their ground")
    assert dict(attrs.evolve(shrubs(0.6), frame=None).rows())["shrubs green in winter"] == NO_FRAME
    assert framed([(CATALOGUE["Nepeta 'Six Hills Giant'"], 1.0)]) is None


@cache
def floored() -> tuple[Ground, list[Placed], list[Placed]]:
    """A bed of low and of tall perennials that die back, half and half, and the low evergreens set between them."""
    ground = ground_of([BED], Surroundings(walked=WALK, sun=sunny))
    there = [
        Placed(kind=kind_of(CATALOGUE["Salvia nemorosa" if x < 8 else "Nepeta 'Six Hills Giant'"]), at=(x, y))
        for x in np.arange(0.5, 16, 0.7).tolist()
        for y in np.arange(0.5, 6, 0.7).tolist()
    ]
    kinds = [kind_of(CATALOGUE[name]) for name in ("Phlox subulata", "Dianthus deltoides")]
    rooms = {kind: np.ones(len(ground), dtype=bool) for kind in kinds}
    return ground, there, winter_floor(kinds, ground, rooms, there, Aims(), np.random.default_rng(3))


def test_low_evergreens_close_the_floor_between_perennials_that_die_back() -> None:
    ground, there, low = floored()
    assert not any(stands(p.kind.species) for p in there) and all(stands(p.kind.species) for p in low)
    assert covered(ground, low, WINTER_OF).mean() >= 0.6  # all that there is: nothing else stands
    assert len(there) + len(low) <= DENSEST * len(ground) * ground.square
    near = np.array([[math.dist(p.at, q.at) for q in there] for p in low])
    assert near.min() >= CLEAR * kind_of(CATALOGUE["Salvia nemorosa"]).apart


def test_dry_stems_stand_in_january_and_hold_no_floor_for_they_are_cut_before_spring() -> None:
    for kind, is_seen, is_floor in (("Schizachyrium scoparium", True, False), ("Phlox subulata", True, True)):
        assert (stands(CATALOGUE[kind]), holds_the_floor(CATALOGUE[kind])) == (is_seen, is_floor)
    assert holds_the_floor(CATALOGUE["Hydrangea paniculata"])  # twigs
    assert not up_early(CATALOGUE["Salvia nemorosa"]) and up_early(CATALOGUE["Galanthus nivalis"])


def test_early_bulbs_fill_what_is_bare_in_march_and_late_ones_stand_wide_apart() -> None:
    ground = ground_of([BED], Surroundings(walked=WALK, sun=sunny))
    half = {"Salvia nemorosa": (0.3, 8.0), "Phlox subulata": (8.3, 16.0)}  # bare in March, green in March
    there = [
        Placed(kind=kind_of(CATALOGUE[name]), at=(x, y))
        for name, (left, right) in half.items()
        for x in np.arange(left, right, 0.5).tolist()
        for y in np.arange(0.3, 6, 0.5).tolist()
    ]
    early, late = (kind_of(CATALOGUE[name]) for name in ("Scilla siberica", "Allium hollandicum 'Purple Sensation'"))
    found = bulbs(
        [late, early], ground, there, np.random.default_rng(3), room=lambda _: np.ones(len(ground), dtype=bool)
    )
    count = Counter((p.kind is early, p.at[0] < 8) for p in found)
    assert count[True, True] > 1.2 * count[True, False] > 0
    assert 0 < count[False, True] + count[False, False] < count[True, True]
    before, after = (figures_of(ground, plants).spring for plants in (there, [*there, *found]))
    assert before + 0.02 < after


def test_nothing_that_needs_full_sun_is_set_between_tall_perennials() -> None:
    ground, there, low = floored()
    dark = covered(ground, [p for p in there if p.at[0] > 8], WINTER_OF)
    under = {p.kind.species.botanical for p in low if dark[int(ground.index.query(p.at)[1])]}
    assert under == {"Dianthus deltoides"}
    assert {p.kind.species.botanical for p in low} == {"Dianthus deltoides", "Phlox subulata"}


def test_a_style_that_leaves_ground_open_has_less_of_a_floor() -> None:
    ground, there, low = floored()
    kinds = list(dict.fromkeys(p.kind for p in low))
    rooms = {kind: np.ones(len(ground), dtype=bool) for kind in kinds}
    dry = winter_floor(kinds, ground, rooms, there, Aims(closed=0.4), np.random.default_rng(3))
    assert covered(ground, dry, WINTER_OF).mean() == pytest.approx(FLOOR * 0.4, abs=0.02)
    assert len(dry) < len(low)


def test_a_garden_that_is_bare_in_winter_costs() -> None:
    made = shrubs(0.5)

    def cost(winter: float, asked: float) -> float:
        return picture_costs(attrs.evolve(made, winter=winter), 0, 20, Taste(), Aims(frame=asked))["winter"]

    assert cost(WINTER_STANDS, made.frame) == 0 < cost(WINTER_STANDS, 1.0) < cost(0.1, 1.0)


def test_ground_that_the_style_leaves_open_is_not_missed() -> None:
    half = attrs.evolve(shrubs(0.5), coverage={1: 0.2, 3: 0.66, 5: 0.68, 10: 0.7})
    closed, dry = (picture_costs(half, 0, 20, Taste(), aims)["bare"] for aims in (Aims(), Aims(closed=0.67)))
    assert dry == pytest.approx(0.01 * TERMS["bare"][1] * 20) and closed > dry
