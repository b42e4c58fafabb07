"""Steps and ramps that stand by themselves: risers by the stair rule, slope, run, rails, what they lead to."""

from pathlib import Path
from typing import Any

import attrs
import pytest

from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.plan_things import thing_names
from gardenkit.findings import Finding
from gardenkit.garden import Garden
from gardenkit.project import Project
from gardenkit.project.edits import apply
from gardenkit.project.edits import site as site_edits
from gardenkit.project.edits import structure as edits
from gardenkit.site.heights import SpotHeight
from gardenkit.structure.kinds import THINGS
from gardenkit.structure.kinds.things_ramps import EDGE
from gardenkit.structure.kinds.things_steps import LAST, RAIL_HIGH, steps_of
from gardenkit.structure.standing_steps import RAMP_RUN, STEPS_RISE, STEPS_RUN
from gardenkit.structure.structure import Thing
from gardenkit.units import FOOT, INCH

FLIGHT = THINGS["flight of steps"]
AT = (6.0, 6.0)


def steps(rise: float, run: float, **more: Any) -> Thing:
    """Return a flight that climbs inches in a run of inches, its head to the south of its foot."""
    size = {"width": 5 * FOOT, "height": rise * INCH, "depth": run * INCH + LAST}
    return Thing(name="steps", kind=FLIGHT.name, at=AT, **size, **more)


def plot(*things: Thing, heights: tuple[tuple[float, float], ...] = ()) -> Project:
    """Return a plot of 12 x 16 m with things; ``heights`` are (y, height) of the ground, from east to west alike."""
    made = site_edits.set_boundary(Project(name="plot"), [(0, 0), (12, 0), (12, 16), (0, 16)])
    spots = [SpotHeight(at=(x, y), height=z) for x in (0.0, 12.0) for y, z in heights]
    made = site_edits.set_heights(made, spots) if spots else made
    return attrs.evolve(made, structure=attrs.evolve(made.structure, things=things))


def said(project: Project) -> list[Finding]:
    return [one for one in Garden(project, Path()).layout.findings if one.topic == "steps"]


@pytest.mark.parametrize(
    ("rise", "run", "risers", "riser", "tread", "rail"),
    [(36, 70, 6, 6.0, 14.0, True), (20, 76 / 3, 3, 20 / 3, 38 / 3, False), (28, 36, 4, 7.0, 12.0, True)],
)
def test_the_worked_flights_of_the_step_tables_come_out(
    rise: float, run: float, risers: int, riser: float, tread: float, rail: bool
) -> None:
    """Plain arithmetic of 2R + T = 26 in; from 4 risers a handrail 34 to 38 in high (IRC 2021 R311.7, second-hand)."""
    thing = steps(rise, run)
    made = steps_of(thing)
    assert made.risers == risers
    assert (made.riser / INCH, made.tread / INCH) == (pytest.approx(riser, abs=0.001), pytest.approx(tread, abs=0.001))
    for handrail in (False, True):
        found = [one.what for one in said(plot(attrs.evolve(thing, handrail=handrail)))]
        assert any("want a handrail" in what for what in found) is (rail and not handrail)
        assert not any("stride" in what or "the tread is" in what for what in found)


# tread, riser in inches, twice the riser and the tread 26 or 27 (common-practice chart, no source)
PAIRS = ((18, 4), (17, 4.5), (16, 5), (16, 5.5), (15, 5.5), (15, 6), (14, 6), (14, 6.5), (13, 6.5), (13, 7), (12, 7))


@pytest.mark.parametrize(("tread", "riser"), PAIRS)
def test_three_treads_of_every_pair_of_the_chart_make_an_even_stride(tread: float, riser: float) -> None:
    made = steps_of(steps(4 * riser, 3 * tread))
    assert made.risers == 4
    assert 26 - 1e-6 <= made.two_risers_and_tread / INCH <= 27 + 1e-6


def test_steps_too_short_for_their_rise_are_said_with_the_depth_they_want_and_the_remedy_mends_it() -> None:
    work = Garden(plot(steps(28, 20)), Path())
    (found,) = [one for one in work.advice_about(("steps",)) if one.rule == STEPS_RUN]
    assert found.where == 'flight of steps "steps"' and found.at == AT
    assert "3' 2\"" in found.what and "3' 5\"" in found.what  # 36 to 39 in of treads, and the last riser of 2 in
    assert any("the tread is" in one.what and one.seriousness == "warning" for one in said(work.project))
    assert found.remedy is not None
    mended = said(apply(work.project, found.remedy))
    assert not [one for one in mended if one.rule == STEPS_RUN or "the tread is" in one.what]


def test_steps_that_end_lower_than_the_deck_behind_them_are_said_and_raised() -> None:
    thing = steps(12, 14)
    deck = Thing(name="d", kind="deck", at=(6.0, 6.0 - thing.depth / 2 - 1.5), width=3.6, depth=3.0, height=0.45)
    work = Garden(plot(thing, deck), Path())
    (found,) = [one for one in work.advice_about(("steps",)) if one.rule == STEPS_RISE]
    assert 'deck "d" lies' in found.what and found.wanted == pytest.approx(0.45)
    assert found.remedy is not None
    raised = apply(work.project, found.remedy)
    assert not [one for one in said(raised) if one.rule == STEPS_RISE]
    assert not [one for one in Garden(raised, Path()).layout.findings if "overlaps" in one.what]


def test_steps_on_measured_ground_climb_what_the_ground_does() -> None:
    """A bank that rises 0.5 m from y = 6.3 to 5.7 below a flight whose foot is at y = 6.39: 0.5 m to climb."""
    thing = steps(0.45 / INCH, 0.73 / INCH)
    banked = plot(thing, heights=((0, 0.5), (5.7, 0.5), (6.3, 0.0), (16, 0.0)))
    (found,) = [one for one in said(banked) if one.rule == STEPS_RISE]
    assert found.wanted == pytest.approx(0.5, abs=0.01) and "the ground behind it" in found.what
    assert not [one for one in said(edits.change_thing(banked, "steps", height=0.5)) if one.rule == STEPS_RISE]
    (level,) = [one for one in said(plot(thing, heights=((0, 0.2), (16, 0.2)))) if one.seriousness == "warning"]
    assert "nothing to climb" in level.what


def test_a_handrail_goes_up_with_the_treads_and_is_counted() -> None:
    """On 70 in of run and 36 in of rise: sqrt(70^2 + 36^2) in along the slope."""
    thing = steps(36, 70, handrail=True)
    railed, bare = FLIGHT.forms(thing), FLIGHT.forms(attrs.evolve(thing, handrail=False))
    assert max(one.high for one in bare) == pytest.approx(thing.height)
    assert max(one.high for one in railed) == pytest.approx(thing.height + RAIL_HIGH)
    assert 34 <= RAIL_HIGH / INCH <= 38
    lines = {line.item: line for line in Garden(plot(thing), Path()).quantities if line.where == "steps"}
    assert lines["handrail"].amount / INCH == pytest.approx((70**2 + 36**2) ** 0.5, abs=0.01)
    assert lines["steps"].amount == pytest.approx(6 * 5 * FOOT)
    fill = sum(k * 6 for k in range(5)) * 14 * 60 * INCH**3  # below the second to the fifth tread
    assert [c.amount for c in FLIGHT.counts(thing) if c.item == "crushed stone"] == [pytest.approx(1.1 * fill)]


def test_the_plan_says_up_and_how_many_and_its_arrow_points_to_the_head() -> None:
    thing = steps(20, 76 / 3)
    assert "up 3" in [wish.text for wish in thing_names((thing,))]
    project = plot(thing)
    plan = garden_scene(project, Garden(project, Path()).layout)
    (symbol,) = [mark for mark in plan.marks if getattr(mark, "tip", "").startswith("steps: flight of steps")]
    tip = symbol.marks[-1].rings[0][0]
    assert tip == pytest.approx((6.0, 6.0 - thing.depth / 2))


def test_a_single_step_is_one_block_and_said_to_be_missed() -> None:
    thing = steps(6, 14)
    (block,) = FLIGHT.forms(thing)
    assert block.high == pytest.approx(6 * INCH)
    assert any("a single step is easily missed" in one.what for one in said(plot(thing)))


# ---- ramps


def sloped(rise: float, run: float, **more: Any) -> Thing:
    """Return a ramp that rises inches over a run of inches."""
    size = {"width": 1.2, "height": rise * INCH, "depth": run * INCH + EDGE}
    return Thing(name="ramp", kind="ramp", at=AT, **(size | more))


def rules(project: Project) -> list[str]:
    return [f"{one.seriousness}: {one.what}" for one in Garden(project, Path()).layout.findings if one.topic == "slope"]


def test_a_ramp_of_the_published_slope_is_let_be_and_a_steeper_one_is_said() -> None:
    """2010 ADA Standards 405.2: 1 in 12, 6 in over 6 ft; 405.8: rails where a run rises more than 6 in. IRC R311.8,
    from memory: 1 in 8 away from the exit door.
    """
    assert rules(plot(sloped(6, 72))) == []
    (railed,) = rules(plot(sloped(6.5, 78)))
    assert "handrails on both sides" in railed
    assert rules(plot(sloped(6.5, 78, handrail=True))) == []
    (narrow,) = rules(plot(sloped(6, 72, width=35 * INCH)))
    assert narrow.startswith("warning: the ramp is 35 in wide")
    steep = [one for one in said(plot(sloped(6, 60))) if one.rule == RAMP_RUN]
    assert [one.seriousness for one in steep] == ["caution"] and "rises 1 in 10.0" in steep[0].what
    work = Garden(plot(sloped(6, 40)), Path())
    (found,) = [one for one in work.advice_about(("steps",)) if one.rule == RAMP_RUN]
    assert found.seriousness == "warning" and found.remedy is not None
    assert not [one for one in said(apply(work.project, found.remedy)) if one.rule == RAMP_RUN]


@pytest.mark.parametrize(("rise", "expected"), [(30, False), (31, True)])
def test_a_ramp_rises_30_in_at_most_in_one_go(rise: float, expected: bool) -> None:
    """2010 ADA Standards 405.6."""
    found = said(plot(sloped(rise, 12 * rise, handrail=True)))
    assert any("in one go" in one.what for one in found) is expected


def test_rails_of_a_ramp_go_on_a_foot_at_both_ends_and_its_arrow_says_how_steep_it_is() -> None:
    """2010 ADA Standards 505.10.1, from memory: 12 in further; 18 in over 18 ft: two rails of 18.06 + 2 ft."""
    thing = sloped(18, 216, handrail=True)
    (rail,) = [part.amount for part in THINGS["ramp"].counts(thing) if part.item == "handrail"]
    assert rail / FOOT == pytest.approx(2 * ((18**2 + 1.5**2) ** 0.5 + 2))
    assert "1:12.0 up" in [wish.text for wish in thing_names((thing,))]
