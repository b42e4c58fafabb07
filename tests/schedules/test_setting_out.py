"""Setting out: whoever follows the figures on the sheet puts every place within an inch of where the plan has it."""

import math
from collections.abc import Sequence
from pathlib import Path

import attrs
import numpy as np
import pytest

from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, heading
from gardenkit.project.layout import layout
from gardenkit.schedules.setting_out import FixedPoint as Fixed
from gardenkit.schedules.setting_out import (
    Mark,
    SettingOut,
    Tie,
    bends_of,
    from_baseline,
    setting_out,
)
from gardenkit.units import INCH

EXAMPLES = sorted(p for p in (Path(__file__).parents[2] / "examples").iterdir() if p.is_dir())
every_garden = pytest.mark.parametrize("folder", EXAMPLES, ids=lambda p: p.name)


def rebuilt(mark: Mark, fixed: Sequence[Fixed], *, start: Point, end: Point) -> Point:
    """Return where two tapes put a mark: the crossing of its two ties on the side that its offset says.

    This is what people on the site do; it uses the rounded figures of the sheet only.
    """
    known = {f.letter: f.at for f in fixed}
    a, b = (known[tie.letter] for tie in mark.ties)
    r, s, apart = mark.ties[0].far, mark.ties[1].far, math.dist(a, b)
    along = (r * r - s * s + apart * apart) / (2 * apart)
    up = r * r - along * along
    if up < 0:
        raise AssertionError(f"the ties of mark {mark.number} do not meet")
    ux, uy = (b[0] - a[0]) / apart, (b[1] - a[1]) / apart
    ways = [
        (a[0] + along * ux - way * math.sqrt(up) * uy, a[1] + along * uy + way * math.sqrt(up) * ux) for way in (1, -1)
    ]
    square = from_baseline(mark.running, mark.offset, start=start, end=end)
    return min(ways, key=lambda at: math.dist(at, square))


def made(folder: Path) -> SettingOut:
    garden = Garden.open(folder)
    return setting_out(garden.project, garden.layout, garden.catalogue)


@every_garden
def test_paved_corners_are_all_set_out_also_where_a_path_lies_over_one(folder: Path) -> None:
    """Without its corner nobody can stretch the side of a terrace."""
    garden = Garden.open(folder)
    site, marks = garden.project.site, setting_out(garden.project, garden.layout, garden.catalogue).marks
    inside = plane.grown(plane.region(site.boundary), 0.03)
    houses = plane.grown(plane.union(plane.region(b.outline) for b in site.buildings), -0.03)
    for area in garden.project.structure.ground_areas:
        open_ones = [p for p in area.outline if plane.contains(inside, p) and not plane.contains(houses, p)]
        if len(area.outline) <= 12:
            told = [m for m in marks if m.what.startswith(f"{area.name}, corner ")]
            assert [m.at for m in told] == open_ones
            assert [m.what.rpartition(" ")[2] for m in told] == [str(n) for n in range(1, len(told) + 1)]


@every_garden
def test_two_tapes_rebuild_every_mark_within_an_inch(folder: Path) -> None:
    found = made(folder)
    assert len(found.marks) > 20
    worst = max(math.dist(rebuilt(m, found.fixed, start=found.start, end=found.end), m.at) for m in found.marks)
    assert worst < INCH


@every_garden
def test_the_offsets_from_the_baseline_put_it_at_the_same_place(folder: Path) -> None:
    found = made(folder)
    for mark in found.marks:
        at = from_baseline(mark.running, mark.offset, start=found.start, end=found.end)
        assert math.dist(at, mark.at) <= found.tape  # half a step of the tape either way


@every_garden
def test_every_stone_support_and_seat_has_its_mark(folder: Path) -> None:
    garden, found = Garden.open(folder), made(folder)
    stones = sum(len(laid.stones) for laid in garden.layout.layings.values())
    assert sum(m.kind == "stone" for m in found.marks) == stones
    ends = [m.at for m in found.marks if m.kind == "seat"]
    assert len(ends) == 2 * len(garden.project.structure.seats)
    for seat, left, right in zip(garden.project.structure.seats, ends[::2], ends[1::2], strict=True):
        assert math.dist(left, right) == pytest.approx(seat.width)
        assert (heading(left, right) - seat.facing) % 360 == pytest.approx(90.0)  # whoever sits there looks ahead
    assert sum(m.kind == "post" for m in found.marks) == sum(
        4 if s.kind in ("arch", "arbour", "pergola") and len(s.line) == 2 else len(s.line)
        for s in garden.project.structure.supports
    )  # of these sizes a frame overhead stands on four posts, a trellis on a wall is found by its ends
    assert [m.number for m in found.marks] == list(range(1, len(found.marks) + 1))


def test_a_3_4_5_triangle_is_found_by_its_ties() -> None:
    # the builder's right angle: 3, 4 and 5 (Euclid I.47)
    fixed = (Fixed(letter="A", at=(0.0, 0.0), words="corner"), Fixed(letter="B", at=(4.0, 0.0), words="corner"))
    ties = (Tie(letter="A", far=3.0), Tie(letter="B", far=5.0))
    mark = Mark(number=1, kind="post", what="post", at=(0.0, 3.0), running=0.0, offset=3.0, ties=ties)
    assert rebuilt(mark, fixed, start=(0.0, 0.0), end=(4.0, 0.0)) == pytest.approx((0.0, 3.0))


def test_the_radius_of_a_round_bend_is_found() -> None:
    turn = np.linspace(0, math.pi / 2, 200)
    line = np.column_stack((5.0 * np.sin(turn), 5.0 - 5.0 * np.cos(turn)))
    (bend,) = bends_of("walk", line)
    assert bend.way == "left"
    assert bend.radius == pytest.approx(5.0, rel=0.01)
    assert bend.end - bend.start == pytest.approx(5.0 * math.pi / 2, rel=0.02)


def test_a_circle_is_set_out_by_its_middle_and_its_radius_and_no_other_curve_is() -> None:
    garden = Garden.open(next(p for p in EXAMPLES if p.name.startswith("lantern")))
    areas = garden.project.structure.ground_areas
    ring = plane.corners(plane.circle((2.1, 10.45), 0.8))
    round_one = [attrs.evolve(one, outline=ring) if one.name == "gate court" else one for one in areas]
    changed = attrs.evolve(
        garden.project, structure=attrs.evolve(garden.project.structure, ground_areas=tuple(round_one))
    )
    marks = setting_out(changed, layout(changed), garden.catalogue).marks
    middles = [(m.what, m.at) for m in marks if "circle" in m.what]
    assert middles == [("gate court, middle of a circle R 0.80 m", pytest.approx((2.1, 10.45)))]
