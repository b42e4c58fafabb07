"""Claims about the beds that paths and paving leave."""

import math

import pytest

from gardenkit.geometry import plane
from gardenkit.structure.beds import beds, divided, spine_of
from gardenkit.structure.structure import Bed, Structure

PLOT = plane.region([(0, 0), (10, 0), (10, 8), (0, 8)])
PATH = plane.region([(4.5, 0), (5.5, 0), (5.5, 8), (4.5, 8)])
WEST, EAST = Bed(name="West", at=(2, 4)), Bed(name="East", at=(8, 4))


def test_a_path_through_the_middle_leaves_two_named_beds():
    found = beds(PLOT, [PATH], Structure(beds=(WEST, EAST)))
    assert [(b.name, b.area) for b in found] == [("West", pytest.approx(36)), ("East", pytest.approx(36))]


def test_area_perimeter_edging_depth_and_reach_of_a_plain_bed():
    west = divided(PLOT, [PATH], Structure(beds=(WEST, EAST))).bed("West")
    assert west.perimeter == pytest.approx(25)
    assert west.edging == pytest.approx(8)
    assert west.depth == pytest.approx(4.5, abs=0.05)
    assert west.reach == pytest.approx(4.5)
    assert west.deepest[0] == pytest.approx(0)


def test_a_deep_bed_is_reported_and_a_border_within_reach_is_not():
    wide = plane.region([(0.7, 0), (9, 0), (9, 8), (0.7, 8)])
    found = divided(PLOT, [wide], Structure(beds=(WEST,)))
    assert [f.where for f in found.findings if f.topic == "reach"] == ['bed "Bed 1"']
    assert found.bed("West").reach == pytest.approx(0.7)


def test_a_cut_splits_one_bed_into_two():
    found = beds(PLOT, [PATH], Structure(cuts=(((0, 4), (4.5, 4)),), beds=(Bed(name="South west", at=(1, 1)),)))
    assert sorted(b.name for b in found) == ["Bed 1", "Bed 2", "South west"]
    assert sorted(round(b.area, 6) for b in found) == [18, 18, 36]


def test_a_cut_drawn_a_little_short_still_cuts():
    found = beds(PLOT, [PATH], Structure(cuts=(((0.04, 4), (4.47, 4)),)))
    assert len(found) == 3


def test_a_cut_that_stops_inside_leaves_the_bed_whole():
    assert len(beds(PLOT, [PATH], Structure(cuts=(((0, 4), (3, 4)),)))) == 2


def test_a_drawn_bed_keeps_its_outline_less_what_is_taken():
    drawn = Bed(name="Herbs", at=(4, 1), outline=((3, 0), (5, 0), (5, 2), (3, 2)))
    found = divided(PLOT, [PATH], Structure(beds=(drawn, WEST, EAST)))
    assert found.bed("Herbs").area == pytest.approx(3.0)
    assert found.bed("West").area == pytest.approx(36 - 3.0)
    assert found.bed("East").area == pytest.approx(36)


def test_beds_paths_and_scraps_tile_the_plot_exactly():
    corner = plane.region([(0.3, 0), (4.5, 0), (4.5, 0.2), (0.3, 0.2)])
    found = divided(PLOT, [PATH, corner], Structure(beds=(WEST, EAST)))
    total = sum(b.area for b in found.beds) + plane.area(found.hardscape) + plane.area(found.scraps)
    assert total == pytest.approx(80, abs=1e-9)


def test_a_sliver_is_a_scrap_not_a_bed():
    fence_strip = plane.region([(0.02, 0), (4.5, 0), (4.5, 8), (0.02, 8)])
    found = divided(PLOT, [PATH, fence_strip], Structure())
    assert len(found.beds) == 1
    assert plane.area(found.scraps) == pytest.approx(0.16)


def test_a_bed_keeps_its_name_when_the_path_moves_over_its_point():
    found = divided(PLOT, [PATH], Structure(beds=(Bed(name="Middle", at=(4.6, 4)),)))
    assert found.bed("Middle").area == pytest.approx(36)
    assert found.bed("Middle").region.centroid.x < 5


def test_two_names_in_one_piece_are_told_apart_and_said():
    found = divided(PLOT, [PATH], Structure(beds=(WEST, Bed(name="Ferns", at=(1, 7)))))
    (note,) = [f for f in found.findings if f.topic == "bed"]
    assert note.where == 'bed "Ferns"' and '"West"' in note.what


def test_a_bed_with_no_ground_left_is_said():
    lawn = plane.region([(5.5, 0), (10, 0), (10, 8), (5.5, 8)])
    found = divided(PLOT, [PATH, lawn], Structure(beds=(WEST, EAST)))
    assert any(f.where == 'bed "East"' and "no ground" in f.what for f in found.findings)


def test_unnamed_beds_are_numbered_past_the_names_in_use():
    found = beds(PLOT, [PATH], Structure(beds=(Bed(name="Bed 1", at=(2, 4)),)))
    assert [b.name for b in found] == ["Bed 1", "Bed 2"]


def test_ground_taken_outside_the_plot_does_not_count():
    big = plane.region([(-5, -5), (5, -5), (5, 20), (-5, 20)])
    found = divided(PLOT, [big], Structure())
    assert plane.area(found.hardscape) == pytest.approx(40)


def test_with_nowhere_to_stand_the_reach_is_endless():
    (only,) = beds(PLOT, [], Structure())
    assert math.isinf(only.reach)


def test_pockets_lie_apart_and_inside_their_bed():
    for bed in beds(PLOT, [PATH], Structure()):
        for circle in bed.pockets:
            assert bed.region.buffer(1e-6).covers(plane.circle(circle.at, circle.radius))
        for i, a in enumerate(bed.pockets):
            for b in bed.pockets[:i]:
                assert math.dist(a.at, b.at) >= a.radius + b.radius - 0.05


def test_the_spine_shows_where_a_bed_narrows():
    west, east = [(0, 0), (4, 0), (4, 4), (0, 4)], [(8, 0), (12, 0), (12, 4), (8, 4)]
    neck = [(3, 1.6), (9, 1.6), (9, 2.4), (3, 2.4)]
    dumbbell = plane.union(plane.region(outline) for outline in (west, neck, east))
    (bed,) = beds(dumbbell, [], Structure())
    spine = spine_of(bed)
    narrow = spine.narrower_than(1.0)
    assert spine.widths.max() == pytest.approx(4, abs=0.1)
    assert narrow and all(3.5 < x < 8.5 for x, _ in narrow)


def test_beds_on_either_side_of_two_things_that_touch_are_two_though_rounding_leaves_a_seam():
    upper = plane.region([(4.5, 4 + 1e-9), (5.5, 4 + 1e-9), (5.5, 8), (4.5, 8)])
    lower = plane.region([(4.5, 0), (5.5, 0), (5.5, 4), (4.5, 4)])
    found = divided(PLOT, [upper, lower], Structure(beds=(WEST, EAST)))
    assert {b.name: b.area for b in found.beds} == {"West": pytest.approx(36), "East": pytest.approx(36)}
    assert not [f.sentence() for f in found.findings if f.topic == "bed"]
