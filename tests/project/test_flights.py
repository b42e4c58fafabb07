"""Flights of steps in a path: their figures on the ground, what is still judged of the path, what they are told."""

from pathlib import Path as Folder

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.drawing.garden import garden_scene, paths_drawn
from gardenkit.drawing.scene import Label
from gardenkit.drawing.view import view_scene
from gardenkit.drawing.view_steps import step_forms
from gardenkit.findings import Finding, GardenError
from gardenkit.garden import Garden
from gardenkit.project import Project, edits
from gardenkit.project.edits import site, structure
from gardenkit.project.flight_places import flights_for
from gardenkit.project.layout import layout
from gardenkit.project.rules import ground_of, path_slope, stretches
from gardenkit.project.solids import ground_height
from gardenkit.project.soundness import check
from gardenkit.schedules.orders import ITEMS
from gardenkit.schedules.phases import STEPS
from gardenkit.schedules.setting_out import setting_out
from gardenkit.site.heights import SpotHeight
from gardenkit.storage.records import from_data, to_data
from gardenkit.structure.flights import DUG, TOO_SHORT, Built, left_by_flights
from gardenkit.structure.path_rules import TOO_STEEP, passes
from gardenkit.structure.structure import Flight, Path
from gardenkit.units import INCH

LONG = 16.0  # m of straight path, from the front gate to the back gate


def slope(*heights: tuple[float, float], **more: object) -> Project:
    """Return a plot with a straight path of 16 m up the middle; ``heights`` are (metres along, height)."""
    plot = site.set_boundary(Project(name="plot"), [(0, 0), (12, 0), (12, LONG), (0, LONG)])
    for name, y in (("front", 0.0), ("back", LONG)):
        plot = site.add_opening(plot, "gate", name, at=(6.0, y), width=1.2, sill=0.0, head=1.2)
    spots = [SpotHeight(at=(x, y), height=z) for x in (0.0, 12.0) for y, z in heights]
    plot = site.set_heights(plot, spots) if spots else plot
    options = {"surface": "gravel", "width": 48 * INCH, "curvature": 0.0} | more
    return structure.add_path(plot, "walk", start="front", end="back", **options)


def even(percent: float, **more: object) -> Project:
    return slope((0.0, 0.0), (LONG, LONG * percent / 100), **more)


def made(project: Project) -> tuple[Built, ...]:
    return layout(project).flights["walk"]


def walk(project: Project) -> Path:
    return project.structure.paths[0]


def said(project: Project, topic: str = "steps") -> list[Finding]:
    return [f for f in Garden(project, Folder()).layout.findings if f.topic == topic]


def steepest(project: Project) -> float:
    ground = ground_of(project.site)
    assert ground is not None
    return abs(path_slope(walk(project), layout(project).routes["walk"], ground).steepest)


# ---- figures


# Worked flights of the step tables (plain arithmetic: risers = ceil(rise / most riser), treads one fewer, T from
# 2R + T = 26 in): rise, most riser -> risers, riser, tread, run, inches; from 4 risers a handrail (IRC R311.7)
@pytest.mark.parametrize(
    ("rise", "most", "risers", "riser", "tread", "run", "rail"),
    [
        (36, 6, 6, 6.0, 14.0, 70.0, True),
        (20, 7, 3, 6.667, 12.667, 25.33, False),
        (28, 7, 4, 7.0, 12.0, 36.0, True),
        (31, 7.75, 4, 7.75, 10.5, 31.5, True),
    ],
)
def test_a_flight_on_the_ground_is_the_published_one(
    rise: float, most: float, risers: int, riser: float, tread: float, run: float, rail: bool
) -> None:
    up = slope((0.0, 0.0), (5.0, 0.0), (11.0, rise * INCH), (LONG, rise * INCH))
    (one,) = made(structure.add_flight(up, "walk", start=5.0, end=11.0, most_riser=most * INCH))
    assert one.rise == pytest.approx(rise * INCH, abs=1e-4)
    assert one.steps is not None
    assert one.steps.risers == risers == len(one.risers)
    assert one.steps.riser / INCH == pytest.approx(riser, abs=2e-3)
    assert one.steps.tread / INCH == pytest.approx(tread, abs=4e-3)
    assert one.steps.run / INCH == pytest.approx(run, abs=0.02)
    assert one.left_over == pytest.approx(6.0 - (run + 2 * 36) * INCH, abs=1e-3)
    railed = structure.add_flight(up, "walk", start=5.0, end=11.0, most_riser=most * INCH)
    assert any("want a handrail" in f.what for f in said(railed)) == rail
    assert not any("want a handrail" in f.what for f in said(structure.change_flight(railed, "walk", 0, handrail=True)))


def test_treads_as_deep_as_asked_for_lower_the_risers_within_the_stride() -> None:
    up = even(16)
    (usual,) = made(structure.add_flight(up, "walk", start=5.0, end=9.0))
    (deep,) = made(structure.add_flight(up, "walk", start=5.0, end=9.0, least_tread=16 * INCH))
    assert usual.steps is not None and deep.steps is not None
    assert deep.steps.tread >= 16 * INCH - 1e-9 > usual.steps.tread
    assert deep.steps.risers > usual.steps.risers
    assert 26 * INCH - 1e-9 <= deep.steps.two_risers_and_tread <= 27 * INCH + 1e-9  # common practice, A43


@given(st.floats(12.0, 40.0), st.floats(0.0, 12.0), st.floats(1.0, 4.0), st.booleans())
@settings(max_examples=25, deadline=None)
def test_risers_stand_within_the_stretch_and_make_up_its_rise(
    percent: float, at: float, far: float, down: bool
) -> None:
    up = even(-percent if down else percent)
    (one,) = made(structure.add_flight(up, "walk", start=at, end=at + far))
    assert one.steps is not None and one.rise is not None
    assert one.climbs_along is not down
    assert one.steps.risers * one.steps.riser == pytest.approx(abs(one.rise))
    assert all(one.start - 1e-6 <= s <= one.end + 1e-6 for s in one.risers)
    assert list(one.risers) == sorted(one.risers)
    assert one.fits == (far >= one.steps.overall - 1e-4)
    assert any(f.rule == TOO_SHORT for f in said(structure.add_flight(up, "walk", start=at, end=at + far))) != one.fits


def test_a_stretch_too_short_says_the_length_that_is_needed() -> None:
    up = structure.add_flight(even(30), "walk", start=4.0, end=6.0)
    (one,) = made(up)
    (short,) = [f for f in said(up) if f.rule == TOO_SHORT]
    assert one.steps is not None
    assert short.wanted == pytest.approx(one.steps.run + 2 * 36 * INCH)  # landing 36 in, IRC R311.7
    assert f"{one.steps.overall:.2f} m" in short.what
    longer = structure.change_flight(up, "walk", 0, end=12.0)
    assert made(longer)[0].left_over > 0 and not any(f.rule == TOO_SHORT for f in said(longer))


def test_a_flight_too_short_is_given_just_the_path_it_needs_with_one_press() -> None:
    up = slope((0.0, 0.0), (5.0, 0.0), (8.0, 36 * INCH), (LONG, 36 * INCH))
    up = structure.add_flight(up, "walk", start=5.0, end=8.0)
    (line,) = (one for one in Garden(up, Folder()).advice if one.rule == TOO_SHORT)
    assert line.remedy is not None
    (mended,) = made(edits.apply(up, line.remedy))
    assert mended.fits and mended.steps is not None
    assert mended.length == pytest.approx((70 + 2 * 36) * INCH, abs=0.1)  # run of the step tables with both landings
    (less,) = made(structure.change_flight(up, "walk", 0, start=mended.start + 0.05, end=mended.end - 0.05))
    assert not less.fits


def test_a_high_flight_has_a_middle_landing_and_its_risers_leave_room_for_it() -> None:
    up = structure.add_flight(even(30), "walk", start=0.5, end=15.5)  # 4.5 m: over 12 ft 7 in in one go, IRC R311.7
    (one,) = made(up)
    assert one.steps is not None and one.steps.middle_landings == 1
    goings = [b - a for a, b in zip(one.risers, one.risers[1:], strict=False)]
    assert sum(going == pytest.approx(36 * INCH) for going in goings) == 1
    assert sum(goings) == pytest.approx(one.steps.run)


def test_a_long_stretch_for_few_steps_says_how_deep_it_is_dug() -> None:
    dug = structure.add_flight(even(15), "walk", start=2.0, end=12.0)
    assert max(made(dug)[0].cut, made(dug)[0].fill) > DUG
    assert any("is dug" in f.what for f in said(dug))
    fitting = structure.add_flight(even(21), "walk", start=2.0, end=4.7)
    assert not any("is dug" in f.what for f in said(fitting))


def test_a_drop_beside_the_steps_wants_a_guard() -> None:
    # above 30 in within 36 in of the edge (IRC, from memory): a bank that falls away across the path
    up = even(20)
    tilted = site.set_heights(
        up, [SpotHeight(at=(x, y), height=0.2 * y + (0 if x < 7 else -1.5)) for x in (0, 6.7, 7.3, 12) for y in (0, 16)]
    )
    level, beside = (structure.add_flight(p, "walk", start=4.0, end=7.0) for p in (up, tilted))
    assert made(level)[0].drop < 30 * INCH < made(beside)[0].drop
    assert not any("guard" in f.what for f in said(level) if "flight 1" in f.where)
    assert any("guard" in f.what for f in said(beside) if "flight 1" in f.where)


# ---- what is judged of the rest


@given(st.floats(13.0, 45.0), st.floats(1.0, 9.0), st.floats(2.0, 5.0))
@settings(max_examples=20, deadline=None)
def test_a_flight_over_the_whole_steep_stretch_lets_the_steepest_slope_fall(
    percent: float, at: float, far: float
) -> None:
    high = far * percent / 100
    up = slope((0.0, 0.0), (at, 0.02 * at), (at + far, 0.02 * at + high), (LONG, 0.02 * at + high + 0.1))
    stepped = structure.add_flight(up, "walk", start=at, end=at + far)
    assert steepest(stepped) < steepest(up)
    assert steepest(stepped) == pytest.approx(100 * max(0.02, 0.1 / (LONG - at - far)), rel=0.02)
    assert any(f.rule == TOO_STEEP for f in said(up, "slope"))
    assert not any(f.rule == TOO_STEEP for f in said(stepped, "slope"))


def test_stretches_add_up_to_the_path_and_a_flight_is_level() -> None:
    up = structure.add_flight(even(10), "walk", start=5.0, end=9.0)
    ground = ground_of(up.site)
    assert ground is not None
    pieces = stretches(walk(up), layout(up).routes["walk"], ground)
    assert sum(far for far, _ in pieces) == pytest.approx(LONG)
    assert (pytest.approx(4.0, abs=1e-4), 0.0) in pieces
    assert sum(left_by_flights(walk(up), LONG), ()) == pytest.approx((0.0, 5.0, 9.0, LONG), abs=1e-4)


def test_steps_let_no_wheels_pass() -> None:
    flat = even(1, surface="paving", use="wheelchair", slope_rule="accessible route")
    uneven = slope((0.0, 0.0), (6.0, 0.0), (8.0, 0.5), (LONG, 0.5), surface="paving", use="wheelchair")
    stepped = structure.add_flight(uneven, "walk", start=5.0, end=9.0)
    assert Garden(flat, Folder()).facts["step_free_paths"] == 1
    assert Garden(stepped, Folder()).facts["step_free_paths"] == 0
    assert any("not step-free" in f.what for f in said(stepped, "access"))
    assert "wheelchair" in passes(1.3, surface="paving")
    assert "wheelchair" not in passes(1.3, surface="paving", steps=True)


# ---- stones


@pytest.mark.parametrize("surface", ["stepping stones", "flagstones"])
def test_no_stone_lies_in_a_flight_and_no_gap_is_judged_over_it(surface: str) -> None:
    up = even(20, surface=surface)
    stepped = structure.add_flight(up, "walk", start=5.0, end=8.0)
    before, after = (layout(p).layings["walk"] for p in (up, stepped))
    assert 0 < len(after.stones) < len(before.stones)
    edges = [y for stone in after.stones for _, y in stone.outline]
    assert not any(5.05 < y < 7.95 for y in edges)
    assert not any(f.topic in ("gap", "pace") for f in after.findings)
    assert after.weight < before.weight


# ---- edits


def test_a_flight_stays_when_the_path_is_renamed_bent_and_saved() -> None:
    up = structure.add_flight(even(16), "walk", start=4.0, end=8.0, handrail=True)
    kept = walk(up).flights
    assert walk(structure.rename_path(up, "walk", to="way up")).flights == kept
    bent = structure.change_path(up, "walk", curvature=0.8, sway=2)
    (one,) = made(bent)
    assert walk(bent).flights == kept and one.length > 4.0  # its share of a longer path
    assert walk(from_data(to_data(up), where="plot")).flights == kept


def test_a_flight_is_changed_and_taken_out() -> None:
    up = structure.add_flight(even(16), "walk", start=9.0, end=12.0)
    two = structure.add_flight(up, "walk", start=2.0, end=5.0)
    assert [round(one.start) for one in made(two)] == [2, 9]  # in order along the path
    moved = structure.change_flight(two, "walk", 0, start=12.5, end=15.5, most_riser=5 * INCH)
    assert [round(one.start, 1) for one in made(moved)] == [9.0, 12.5]
    assert walk(moved).flights[1].most_riser == 5 * INCH
    assert structure.remove_flight(structure.remove_flight(two, "walk", 1), "walk", 0) == even(16)


@pytest.mark.parametrize(
    ("start", "end", "more", "words"),
    [
        (9.0, 17.0, {}, "not within it"),
        (-1.0, 3.0, {}, "not within it"),
        (6.0, 5.0, {}, "not within it"),
        (4.0, 8.0, {}, "overlap"),
        (9.0, 12.0, {"most_riser": 0.3}, "no steps to walk"),
        (9.0, 12.0, {"least_tread": 0.1}, "no steps to walk"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(
    start: float, end: float, more: dict[str, float], words: str
) -> None:
    up = structure.add_flight(even(16), "walk", start=2.0, end=5.0)
    with pytest.raises(GardenError, match=words):
        structure.add_flight(up, "walk", start=start, end=end, **more)


def test_steps_are_refused_where_the_ground_is_level_or_not_known() -> None:
    with pytest.raises(GardenError, match="nothing to climb"):
        structure.add_flight(even(0), "walk", start=2.0, end=5.0)
    with pytest.raises(GardenError, match="no ground heights are measured"):
        structure.add_flight(slope(), "walk", start=2.0, end=5.0)
    with pytest.raises(GardenError, match="has no flight 1; it has none"):
        structure.remove_flight(even(16), "walk", 0)


def test_a_saved_flight_that_cannot_be_is_refused() -> None:
    up = structure.add_flight(even(16), "walk", start=2.0, end=5.0)
    for flights in ((Flight(start=0.4, end=0.2),), (Flight(start=0.1, end=0.5), Flight(start=0.4, end=0.6))):
        bad = attrs.evolve(up, structure=attrs.evolve(up.structure, paths=(attrs.evolve(walk(up), flights=flights),)))
        with pytest.raises(GardenError, match='path "walk"'):
            check(bad)


# ---- proposed


@given(st.floats(13.0, 60.0), st.floats(0.0, 8.0), st.floats(1.5, 5.0))
@settings(max_examples=20, deadline=None)
def test_proposed_flights_fit_and_bring_the_path_within_its_rule(percent: float, at: float, far: float) -> None:
    high = far * percent / 100
    up = slope((0.0, 0.0), (at + 0.01, 0.0), (at + far, high), (LONG, high))
    ground = ground_of(up.site)
    assert ground is not None
    found = flights_for(walk(up), layout(up).routes["walk"], ground)
    stepped = up
    for start, end in found:
        stepped = structure.add_flight(stepped, "walk", start=start, end=end)
    steep = [any(f.rule == TOO_STEEP for f in said(p, "slope")) for p in (up, stepped)]
    assert bool(found) == steep[0] != steep[1] or (found == () and not steep[0])
    assert not any(f.rule == TOO_SHORT for f in said(stepped))


def test_a_flight_that_is_too_short_is_lengthened_by_its_remedy_and_only_where_there_is_room() -> None:
    up = structure.add_flight(even(18.0), "walk", start=6.0, end=7.5)
    (found,) = [f for f in Garden(up, Folder()).advice_about(("steps",)) if f.rule == TOO_SHORT]
    assert found.remedy is not None
    mended = edits.apply(up, found.remedy)
    assert not any(f.rule == TOO_SHORT for f in said(mended))
    (flight,) = made(mended)
    assert flight.start <= 6.0 and flight.end >= 7.5
    shut = structure.add_flight(structure.add_flight(up, "walk", start=2.0, end=5.95), "walk", start=7.55, end=12.0)
    short = [
        f for f in Garden(shut, Folder()).advice_about(("steps",)) if "flight 2" in f.where and f.rule == TOO_SHORT
    ]
    assert [f.remedy for f in short] == [None]


# ---- listed and drawn


def test_a_flight_stands_in_the_view_as_high_as_it_is_built() -> None:
    """36 in of rise in six risers of 6 in: six bodies, the highest 36 in over the foot, from below and from above."""
    up = slope((0.0, 0.0), (5.0, 0.0), (11.0, 36 * INCH), (LONG, 36 * INCH))
    up = structure.add_flight(up, "walk", start=5.0, end=11.0, most_riser=6 * INCH, handrail=True)
    worked = layout(up)
    forms = step_forms(made(up)[0], worked.routes["walk"], ground_height(up.site))
    assert [round(form.high / INCH, 3) for form in forms] == [6.0, 12.0, 18.0, 24.0, 30.0, 36.0]
    for eye, towards in (((6.0, 1.0), 0.0), ((6.0, 15.0), 180.0)):
        view = view_scene(up, worked, Garden(up, Folder()).catalogue, eye=eye, towards=towards, year=0, month=6)
        assert "walk, flight 1" in view.description


def test_the_take_off_lists_risers_treads_and_the_handrail() -> None:
    up = slope((0.0, 0.0), (5.0, 0.0), (11.0, 36 * INCH), (LONG, 36 * INCH))
    up = structure.add_flight(up, "walk", start=5.0, end=11.0, most_riser=6 * INCH, handrail=True)
    lines = {line.item: line for line in Garden(up, Folder()).quantities if "flight 1" in line.where}
    assert lines["step risers"].amount == 6  # the worked flight above: 36 in by 6 in, run 70 in
    assert lines["step treads"].amount / INCH == pytest.approx(70.0, abs=0.02)
    assert lines["handrail"].amount / INCH == pytest.approx((70**2 + 36**2) ** 0.5, abs=0.02)
    assert any(f.where == "steps" for f in Garden(up, Folder()).advice_about(("cost",)))  # the work is asked for
    assert lines["steps"].amount == pytest.approx(6 * 48 * INCH)  # six steps as wide as the path
    priced = {line.name: line.cost for line in Garden(up, Folder()).costs.lines}
    assert priced[ITEMS["steps"]] == pytest.approx(24 * 32.0)  # 24 ft at the price of the table
    assert priced[ITEMS["handrail"]] > 0
    assert '3\' 0" (914 mm) in 6 risers = 6" (152 mm) each' in lines["step risers"].rule


def test_the_order_of_work_and_the_setting_out_name_the_steps() -> None:
    up = structure.add_flight(even(16), "walk", start=4.0, end=8.0)
    garden = Garden(up, Folder())
    (work,) = [phase for phase in garden.phases if phase.name == "Paths"]
    assert any("1 flight of steps" in each for each in work.work) and STEPS in work.cautions
    places = [mark.what for mark in setting_out(up, garden.layout, garden.catalogue).marks]
    ends = [
        f"walk, flight 1, {which} riser, {side} end" for which in ("lowest", "highest") for side in ("left", "right")
    ]
    assert [what for what in places if "flight" in what] == ends


@pytest.mark.parametrize("percent", [20.0, -20.0])
def test_the_arrow_on_the_plan_points_up_and_every_riser_crosses_the_path(percent: float) -> None:
    up = structure.add_flight(even(percent), "walk", start=4.0, end=7.0)
    (one,) = made(up)
    (path,) = paths_drawn(up, layout(up))
    (drawn,) = path.flights
    assert one.steps is not None
    assert drawn.words == f"up {one.steps.risers}" and len(drawn.risers) == one.steps.risers
    foot, head = drawn.way[0], drawn.way[-1]
    assert (head[1] > foot[1]) == (percent > 0)  # the trade's arrow points to the upper end
    for (ax, ay), (bx, by) in drawn.risers:
        assert ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5 == pytest.approx(48 * INCH, abs=1e-3)
    words = [m.text for m in garden_scene(up, layout(up), textures=False).marks if isinstance(m, Label)]
    assert drawn.words in words
