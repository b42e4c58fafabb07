"""Claims that must hold for any plot, any obstacles, any seed and any slider: hypothesis looks for a counterexample."""

import math

import numpy as np
from hypothesis import event, given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.structure.beds import divided
from gardenkit.structure.laying import HAIR
from gardenkit.structure.route import route
from gardenkit.structure.stones import lay
from gardenkit.structure.structure import Path, StoneChoice, Structure

QUICK = settings(max_examples=45, deadline=None, derandomize=True)


@st.composite
def plots(draw):
    """Convex plots with slanting sides, and L-shaped ones; the gate is on the bottom edge, the door on the top one."""
    wide, deep = draw(st.floats(5, 16)), draw(st.floats(7, 24))
    if draw(st.booleans()):
        slant = [draw(st.floats(0, 0.15)) * wide for _ in range(4)]
        corners = [
            (slant[0], 0),
            (wide - slant[1], 0),
            (wide, deep * 0.5),
            (wide - slant[2], deep),
            (slant[3], deep),
            (0, deep / 3),
        ]
        gate = (draw(st.floats(0.3, 0.7)) * wide, 0.0)
        door = (draw(st.floats(0.3, 0.7)) * wide, deep)
    else:
        foot = draw(st.floats(0.4, 0.6)) * wide
        corners = [(0, 0), (wide, 0), (wide, deep * 0.45), (foot, deep * 0.45), (foot, deep), (0, deep)]
        gate = (draw(st.floats(0.3, 0.85)) * wide, 0.0)
        door = (draw(st.floats(0.35, 0.65)) * foot, deep)
    return plane.region(corners), gate, door


@st.composite
def gardens(draw, surfaces=("stepping stones",)):
    """A plot with up to eight obstacles, a path with random sliders, and its route; None when the path cannot fit."""
    plot, gate, door = draw(plots())
    low_x, low_y, high_x, high_y = plane.bounds(plot)
    blocks = []
    for _ in range(draw(st.integers(0, 8))):
        at = (draw(st.floats(low_x, high_x)), draw(st.floats(low_y, high_y)))
        if draw(st.booleans()):
            shape = plane.circle(at, draw(st.floats(0.1, 0.5)), sides=16)
        else:
            shape = plane.region(
                plane.turned(
                    [(at[0] + x, at[1] + y) for x, y in ((-0.4, -0.2), (0.4, -0.2), (0.4, 0.2), (-0.4, 0.2))],
                    draw(st.floats(0, 180)),
                    at,
                )
            )
        if min(plane.distance(shape, plane.point(p)) for p in (gate, door)) > 0.8:
            blocks.append(shape)
    path = Path(
        name="p",
        start="a",
        end="b",
        width=draw(st.floats(0.5, 1.5)),
        curvature=draw(st.floats(0, 1)),
        sway=draw(st.integers(0, 4)),
        first_side=draw(st.sampled_from(["left", "right"])),
        clear_of_walls=draw(st.floats(0, 0.4)),
        surface=draw(st.sampled_from(surfaces)),
        stones=StoneChoice(
            seed=draw(st.integers(0, 10_000)),
            pace=draw(st.floats(0.45, 0.75)),
            gap_low=draw(st.floats(0.06, 0.12)),
            gap_high=draw(st.floats(0.16, 0.25)),
            across=draw(st.floats(0.3, 0.6)),
            joint=draw(st.floats(0.01, 0.05)),
        ),
    )
    try:
        made = route(gate, door, plot, blocks, path)
    except GardenError as error:
        assert "cannot fit" in str(error), error
        made = None
    event(f"fits: {made is not None}")
    return plot, (gate, door), plane.union(blocks), path, made


@QUICK
@given(gardens())
def test_the_path_joins_its_ends_stays_on_the_plot_and_crosses_no_obstacle(garden):
    plot, (gate, door), blocks, path, made = garden
    if made is None:
        return
    assert tuple(made.curve.points[0]) == gate
    assert tuple(made.curve.points[-1]) == door
    assert plane.area(plane.difference(made.region, plot)) < 1e-9
    assert plane.area(plane.intersection(made.region, blocks)) < 1e-9
    middle = plane.line(made.curve.points)
    assert blocks.is_empty or plane.distance(middle, blocks) >= path.width / 2 - 1e-3
    assert made.clearance >= path.clear_of_walls - 1e-3 or any(f.topic == "clearance" for f in made.findings)


@QUICK
@given(gardens())
def test_bends_are_wide_enough_or_named(garden):
    made = garden[-1]
    if made is None:
        return
    assert made.tightest_radius >= made.width / 2 + 0.15 - 1e-6 or any(f.topic == "bend" for f in made.findings)


@QUICK
@given(gardens())
def test_no_stone_leaves_the_path_or_overlaps_and_every_gap_is_in_range_or_named(garden):
    _, _, _, path, made = garden
    if made is None:
        return
    found = lay(made, path)
    shapes = [plane.region(s.outline) for s in found.stones]
    assert all(made.region.covers(s) for s in shapes)
    assert plane.area(plane.union(shapes)) >= sum(plane.area(s) for s in shapes) - 1e-6
    by_number = {s.number: shape for s, shape in zip(found.stones, shapes, strict=True)}
    named = {f.where for f in found.findings if f.topic == "gap"}
    low, high = path.stones.gap_low - HAIR, path.stones.gap_high + HAIR
    for gap in found.gaps:
        measured = plane.distance(by_number[gap.first], by_number[gap.second])
        assert math.isclose(measured, gap.clear, abs_tol=1e-9)
        assert low <= measured <= high or f'path "p", stones {gap.first + 1} and {gap.second + 1}' in named
    neighbours = {(g.first, g.second) for g in found.gaps}
    rows = [s.number for s in found.stones]
    assert all(any(n in pair for pair in neighbours) for n in rows) or len(rows) == 1


@QUICK
@given(gardens(surfaces=("flagstones",)))
def test_flagstones_stay_on_the_path_apart_by_the_joint_or_named(garden):
    _, _, _, path, made = garden
    if made is None:
        return
    found = lay(made, path)
    shapes = [plane.region(s.outline) for s in found.stones]
    assert all(made.region.covers(s) for s in shapes)
    assert plane.area(plane.union(shapes)) >= sum(plane.area(s) for s in shapes) - 1e-6
    narrow = [g for g in found.gaps if g.clear < path.stones.joint - HAIR]
    assert len(narrow) == len([f for f in found.findings if f.topic == "gap"])


@QUICK
@given(gardens(), st.floats(0.1, 0.9), st.integers(0, 1))
def test_beds_and_hardscape_tile_the_plot(garden, share, cut_too):
    plot, _, blocks, _, made = garden
    taken = [blocks] if made is None else [blocks, made.region]
    low_x, low_y, high_x, high_y = plane.bounds(plot)
    y = low_y + share * (high_y - low_y)
    cuts = (((low_x - 1, y), (high_x + 1, y)),) * cut_too
    found = divided(plot, taken, Structure(cuts=cuts))
    total = sum(b.area for b in found.beds) + plane.area(found.hardscape) + plane.area(found.scraps)
    assert abs(total - plane.area(plot)) < 1e-6
    together = plane.union([found.hardscape, found.scraps, *(b.region for b in found.beds)])
    assert abs(plane.area(together) - plane.area(plot)) < 1e-6
    assert len({b.name for b in found.beds}) == len(found.beds)


@QUICK
@given(gardens(), st.integers(0, 200))
def test_the_same_seed_gives_the_same_stones_and_a_moved_one_stays(garden, which):
    from gardenkit.structure.stepping import stepping_stones
    from gardenkit.structure.structure import HeldStone

    _, _, _, path, made = garden
    if made is None:
        return
    first, again = lay(made, path), lay(made, path)
    assert first.stones == again.stones
    stone = first.stones[which % len(first.stones)]
    at = (stone.at[0] + 0.05, stone.at[1] - 0.08)
    moved = stepping_stones(made, path.stones, [HeldStone(number=stone.number, at=at)])
    kept = [s for s in moved.stones if s.number == stone.number]
    assert [s.at for s in kept] == [at]
    shapes = [plane.region(s.outline) for s in moved.stones]
    assert plane.area(plane.union(shapes)) >= sum(plane.area(s) for s in shapes) - 1e-6
    assert np.isfinite([s.weight for s in moved.stones]).all()
