"""Claims about stepping stones and flagstones as they lie."""

import math

import attrs
import numpy as np
import pytest

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.structure.build_up import cut_list, take_off
from gardenkit.structure.laying import LIFT, Gap, gap_findings
from gardenkit.structure.route import route
from gardenkit.structure.stones import gaps, lay
from gardenkit.structure.structure import HeldStone, PalletStone, Path, StoneChoice
from gardenkit.units import INCH

PLOT = plane.region([(0, 0), (12, 0), (12, 20), (0, 20)])
SEEDS = range(12)


def laid(held=(), straight=False, width=0.9144, surface="stepping stones", curvature=0.7, sway=2, **choice):
    path = Path(
        name="Front",
        start="gate",
        end="door",
        width=width,
        curvature=0 if straight else curvature,
        sway=sway,
        surface=surface,
        stones=StoneChoice(**choice),
        held_stones=tuple(held),
    )
    run = route((6, 0), (6, 20), PLOT, [], path)
    return run, lay(run, path)


def shapes(laying):
    return [plane.region(s.outline) for s in laying.stones]


@pytest.mark.parametrize("seed", SEEDS)
def test_every_gap_measured_on_the_outlines_is_from_4_to_8_inches(seed):
    _, found = laid(seed=seed)
    measured = [plane.distance(a, b) for a, b in zip(shapes(found), shapes(found)[1:], strict=False)]
    assert min(measured) >= 4 * INCH and max(measured) <= 8 * INCH
    assert [g.clear for g in found.gaps] == pytest.approx(measured)
    assert not [f for f in found.findings if f.topic == "gap"]


@pytest.mark.parametrize("seed", SEEDS)
def test_no_stone_leaves_the_path_or_overlaps(seed):
    for width in (0.6, 0.9144, 1.4):
        run, found = laid(seed=seed, width=width)
        pieces = shapes(found)
        assert all(run.region.covers(p) for p in pieces)
        assert plane.area(plane.union(pieces)) == pytest.approx(sum(plane.area(p) for p in pieces), abs=1e-9)


def test_there_is_one_stone_to_each_pace_and_the_last_meets_the_door():
    _, found = laid(straight=True)
    assert len(found.stones) == 33  # round(20 m / 0.6096 m)
    assert found.pace == pytest.approx(20 / 33, rel=0.02)
    assert plane.distance(shapes(found)[-1], plane.point((6, 20))) < 8 * INCH
    assert plane.distance(shapes(found)[0], plane.point((6, 0))) < 8 * INCH


def test_the_same_seed_lays_the_same_stones_and_another_seed_others():
    assert laid(seed=3)[1].stones == laid(seed=3)[1].stones
    assert laid(seed=3)[1].stones != laid(seed=4)[1].stones


def test_a_wide_path_has_two_staggered_rows_with_gaps_in_range():
    _, found = laid(width=1.3, straight=True)
    assert len(found.stones) == 2 * 33 - 1
    sides = {s.number % 2: np.sign(s.at[0] - 6) for s in found.stones}
    assert sides[0] == -sides[1]
    assert len(found.gaps) == (65 - 2) + 64
    assert all(4 * INCH <= g.clear <= 8 * INCH for g in found.gaps)


def test_a_stone_put_by_hand_stays_and_its_neighbours_make_room():
    _, before = laid(straight=True)
    at = (before.stones[10].at[0] + 0.12, before.stones[10].at[1] + 0.15)
    _, after = laid(held=[HeldStone(number=10, at=at, turn=20.0)], straight=True)
    assert after.stones[10].at == at
    assert after.stones[10].turn == 20.0
    assert after.stones[10].held
    assert all(4 * INCH <= g.clear <= 8 * INCH for g in after.gaps)
    assert np.asarray(after.stones[20].outline) == pytest.approx(np.asarray(before.stones[20].outline), abs=1e-6)


def test_a_stone_put_too_far_is_left_and_the_gap_is_named():
    _, before = laid(straight=True)
    at = (before.stones[10].at[0], before.stones[10].at[1] + 0.9)
    _, after = laid(held=[HeldStone(number=10, at=at)], straight=True)
    stone = next(s for s in after.stones if s.number == 10)
    assert stone.at == at
    assert [f for f in after.findings if f.topic in ("gap", "stone")]
    pieces = shapes(after)
    assert plane.area(plane.union(pieces)) == pytest.approx(sum(plane.area(p) for p in pieces), abs=1e-9)


def test_a_stone_put_off_the_path_is_said():
    _, found = laid(held=[HeldStone(number=5, at=(9.5, 3.4))], straight=True)
    assert any("off the path" in f.what for f in found.findings)


def test_a_held_stone_beyond_the_last_is_said_not_lost():
    _, found = laid(held=[HeldStone(number=99, at=(6, 3))])
    assert any("stone 100" in f.where for f in found.findings)


def test_weights_follow_area_thickness_and_density_and_heavy_ones_are_cautioned():
    _, found = laid(straight=True)
    stone = found.stones[3]
    assert stone.weight == pytest.approx(plane.area(plane.region(stone.outline)) * 0.05 * 2643)
    heavy = [s for s in found.stones if s.weight > LIFT]
    (caution,) = [f for f in found.findings if f.topic == "lifting"]
    assert heavy and caution.what.startswith(f"{len(heavy)} of 33 stones")
    assert caution.seriousness == "caution"


def test_thin_small_stones_need_no_lifting_caution():
    _, found = laid(straight=True, across=0.35, thickness=0.03)
    assert not [f for f in found.findings if f.topic == "lifting"]


def test_a_gap_no_stone_can_meet_is_named_stone_by_stone():
    _, found = laid(straight=True, gap_low=0.45, gap_high=0.5)
    named = [f for f in found.findings if f.topic == "gap"]
    out = [g for g in found.gaps if not 0.45 <= round(g.clear, 3) <= 0.5]
    assert len(named) == len(out)
    assert all(s.along > 0 for s in found.stones)


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        ({"gap_low": 0.3, "gap_high": 0.2}, "stone gap"),
        ({"pace": 0.2, "gap_low": 0.15}, "leaves no stone"),
        ({"thickness": 0.0}, "thickness"),
    ],
)
def test_impossible_stones_are_refused(choice, said):
    with pytest.raises(GardenError, match=said):
        laid(**choice)


def test_stones_from_a_pallet_keep_their_measured_sizes_and_even_gaps():
    pallet = tuple(PalletStone(across=a, along=b, count=6) for a, b in ((0.45, 0.40), (0.50, 0.46), (0.40, 0.5)))
    run, found = laid(pallet=pallet)
    sizes = {(0.45, 0.40), (0.50, 0.46), (0.40, 0.5)}
    assert {(round(s.across, 6), round(s.along, 6)) for s in found.stones} <= sizes
    assert all(4 * INCH <= g.clear <= 8 * INCH for g in found.gaps)
    assert len(found.stones) == 18
    assert any("runs out after 18 stones" in f.what for f in found.findings)
    assert all(run.region.covers(p) for p in shapes(found))


def test_a_pallet_of_boulders_is_refused():
    with pytest.raises(GardenError, match="no stone that fits"):
        laid(pallet=(PalletStone(across=2.0, along=1.5),))


@pytest.mark.parametrize("seed", SEEDS)
def test_flagstone_joints_are_never_narrower_than_set(seed):
    run, found = laid(surface="flagstones", width=1.2, seed=seed, joint=0.03)
    assert min(g.clear for g in found.gaps) >= 0.03 - 5e-4
    measured = gaps(found.stones, within=0.06)
    assert [(g.first, g.second) for g in measured] == [(g.first, g.second) for g in found.gaps]
    assert all(run.region.covers(p) for p in shapes(found))


def test_a_flagstone_field_covers_most_of_its_path():
    run, found = laid(surface="flagstones", width=1.2)
    assert 0.75 < found.area / plane.area(run.region) < 0.95


@pytest.mark.parametrize(("surface", "cut"), [("flagstones", 1), ("paving", 1), ("gravel", 0), ("stepping stones", 0)])
def test_surfaces_that_are_cut_to_fit_carry_the_silica_caution(surface, cut):
    _, found = laid(surface=surface)
    assert len([f for f in found.findings if f.topic == "cutting" and "silica" in f.what]) == cut


@pytest.mark.parametrize("surface", ["paving", "gravel", "bark", "grass"])
def test_solid_and_loose_surfaces_have_no_single_stones(surface):
    assert laid(surface=surface)[1].stones == ()


def test_gravel_volume_is_area_times_three_inches():
    run, found = laid(surface="gravel", straight=True)
    taken = take_off(run.region, "gravel", found, StoneChoice())
    assert taken.surface == pytest.approx(20 * 0.9144 * 3 * INCH, rel=1e-6)
    assert taken.dug == pytest.approx(taken.surface)


def test_joint_area_and_stones_make_up_the_path():
    run, found = laid()
    taken = take_off(run.region, "stepping stones", found, StoneChoice())
    assert taken.joint_area + taken.stone_area == pytest.approx(taken.area)
    assert taken.bedding == pytest.approx(taken.stone_area * INCH)
    assert taken.base == 0


def test_the_cut_list_rectangles_hold_their_stones():
    _, found = laid()
    by_number = {s.number: s for s in found.stones}
    cuts = cut_list(found, StoneChoice())
    assert len(cuts) == len(found.stones)
    for cut in cuts:
        stone = by_number[cut.number]
        assert 0 <= cut.across - stone.across < INCH + 1e-9
        assert 0 <= cut.along - stone.along < INCH + 1e-9
        assert math.isclose(cut.along / INCH, round(cut.along / INCH), abs_tol=1e-6)


def test_edging_one_path_counts_both_sides():
    run, found = laid(straight=True)
    taken = take_off(run.region, "gravel", found, StoneChoice(), sides=2 * run.length)
    assert taken.edging == pytest.approx(40.0)
    assert attrs.asdict(taken)["area"] == pytest.approx(20 * 0.9144)


@pytest.mark.parametrize(
    ("clear", "said"),
    [(0.0992, "narrower than"), (0.0997, ""), (0.15, ""), (0.2003, ""), (0.2008, "wider than")],
)
def test_a_gap_is_judged_to_half_a_millimetre_at_both_ends(clear, said):
    _, found = laid(straight=True)
    one, other = found.stones[:2]
    gap = Gap(first=one.number, second=other.number, clear=clear)
    told = [f.what for f in gap_findings("Front", (one, other), [gap], 0.1, 0.2)]
    assert bool(told) == bool(said)
    assert all(said in what for what in told)
