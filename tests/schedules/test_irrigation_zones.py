"""The watering as it is laid: zones that the tap feeds, rows that are as long as was counted, and their parts."""

import math
from itertools import pairwise
from pathlib import Path

import attrs
import pytest

from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.schedules import irrigation_zones, pipes
from gardenkit.schedules.irrigation import EMITTER_FLOW, TAP, dripline, emitter_flow
from gardenkit.schedules.water_pressure import PIPE, WORKING, ZonePressure, friction, pressure_findings, zone_pressures

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module", params=["lantern_lane_strip", "quarry_brow_hillside"])
def garden(request: pytest.FixtureRequest) -> Garden:
    return Garden.open(EXAMPLES / request.param)


def test_every_bed_is_on_one_valve_with_others_of_its_thirst(garden: Garden) -> None:
    zones = irrigation_zones.zones(garden.water)
    assert sorted(bed for zone in zones for bed in zone.beds) == sorted(water.bed for water in garden.water)
    thirst = {water.bed: water.thirst for water in garden.water}
    assert all({thirst[bed] for bed in zone.beds} == {zone.thirst} for zone in zones)
    assert [zone.number for zone in zones] == list(range(1, len(zones) + 1))


def test_no_valve_asks_for_more_than_the_tap_gives_and_only_one_bed_is_laid_in_parts(garden: Garden) -> None:
    zones = irrigation_zones.zones(garden.water)
    for zone in zones:
        assert zone.flow <= TAP
        assert zone.parts == 1 or len(zone.beds) == 1
        assert zone.parts == 1 or zone.litres_an_hour / (zone.parts - 1) > TAP  # no more parts than it takes
    assert any(zone.parts > 1 for zone in zones) == any(water.drip.litres_an_hour > TAP for water in garden.water)


def test_emitters_give_less_where_sandy_beds_would_be_cut_up_among_many_valves(garden: Garden) -> None:
    """0.9 gph instead of the 2 gph usual in sand, so less than half the valves; the week's water stays the same."""
    usual = [attrs.evolve(water, drip=dripline(water.area, "sandy")) for water in garden.water]
    as_usual, chosen = (sum(zone.parts for zone in irrigation_zones.zones(one)) for one in (usual, garden.water))
    assert {round(water.drip.emitter_flow / 3.785, 2) for water in garden.water} == {0.9}
    assert chosen <= 0.55 * as_usual
    assert all(water.drip.emitter_flow * water.drip.emitters == water.drip.litres_an_hour for water in garden.water)
    assert float(emitter_flow([3.0, 9.0], "sandy")) == pytest.approx(2 * 3.785, rel=0.01)  # small beds keep the usual
    assert emitter_flow([500.0], "clay") == EMITTER_FLOW["clay"]


def test_two_small_beds_share_a_valve_until_the_tap_is_weak(garden: Garden) -> None:
    one = garden.water[0]
    flow = one.drip.litres_an_hour
    two = (one, attrs.evolve(one, bed="other"))
    assert len(irrigation_zones.zones(two, flow=2 * flow)) == 1
    assert len(irrigation_zones.zones(two, flow=1.9 * flow)) == 2


def test_the_rows_drawn_lie_in_the_bed_and_are_about_as_long_as_area_over_spacing(garden: Garden) -> None:
    """A grid of rows ``d`` apart in an area A is A / d long: plain geometry, the count that the order is made by."""
    drawn = 0.0
    for water in garden.water:
        ground = plane.grown(next(bed.region for bed in garden.beds if bed.name == water.bed), 1e-6)
        for row in irrigation_zones.rows(garden.layout, water):
            assert all(plane.contains(ground, at) for at in row)
            drawn += sum(math.dist(a, b) for a, b in pairwise(row))
    assert drawn == pytest.approx(sum(water.drip.length for water in garden.water), rel=0.12)


def test_minutes_bring_the_weeks_need_of_a_dry_week(garden: Garden) -> None:
    """Minutes times what flows is the litres of the thirstiest bed: worked backwards from the zone. Where it freezes
    the pipes are drained: no minutes.
    """
    lows = garden.project.site.climate.tmin
    assert lows is not None
    for zone in irrigation_zones.zones(garden.water):
        assert all(not minutes for minutes, low in zip(zone.minutes, lows, strict=True) if low < 0)
        for month in (month for month in (1, 4, 7, 10) if lows[month - 1] >= 0):
            given = {
                water.bed: 2 * zone.minutes[month - 1] / 60 * water.drip.rate * water.area
                for water in garden.water
                if water.bed in zone.beds
            }
            short = [water.dry_week(month) - given[water.bed] for water in garden.water if water.bed in zone.beds]
            assert max(short) == pytest.approx(0.0, abs=0.02 * max(given.values()) + 0.5)


def test_the_parts_are_a_valve_a_zone_and_one_of_each_behind_the_tap(garden: Garden) -> None:
    lines = {line.item: line for line in irrigation_zones.water_lines(garden.project, garden.layout, garden.water)}
    assert lines["valve"].amount == sum(zone.parts for zone in irrigation_zones.zones(garden.water))
    for item in ("backflow preventer", "controller", "drip filter", "pressure regulator"):
        assert lines[item].amount == 1
    drawn = [row for water in garden.water for row in irrigation_zones.rows(garden.layout, water)]
    assert lines["dripline"].amount == pytest.approx(
        1.05 * sum(math.dist(a, b) for row in drawn for a, b in pairwise(row))
    )
    assert irrigation_zones.water_lines(garden.project, garden.layout, ()) == ()


def test_the_pressure_of_a_zone_is_that_of_its_bed_that_asks_for_most(garden: Garden) -> None:
    asked = zone_pressures(garden.project, garden.layout, garden.water)
    zones = irrigation_zones.zones(garden.water)
    assert [one.number for one in asked] == [zone.number for zone in zones]
    runs = pipes.supply(garden.project, garden.layout, garden.water)
    far = {water.bed: pipes.length(run) for water, run in zip(garden.water, runs, strict=True)}
    for one, zone in zip(asked, zones, strict=True):
        assert one.bed in zone.beds
        assert one.pipe_length == pytest.approx(far[one.bed])
        assert one.pipe == pytest.approx(friction(far[one.bed], zone.flow, float(PIPE)))
        assert one.asked == pytest.approx(WORKING + one.pipe + one.row + max(0.0, one.rise))
    assert max(one.row_length for one in asked) > 1.0


def test_a_long_row_of_strong_emitters_is_uneven_and_a_high_bed_asks_for_more_than_a_tap_has() -> None:
    even = ZonePressure(number=1, bed="a", pipe_length=9.0, row_length=9.0, pipe=0.5, row=0.3, rise=-4.0)
    assert not even.uneven and not even.too_much
    assert even.asked == pytest.approx(WORKING + 0.8)  # water that runs down is not counted on
    assert attrs.evolve(even, row=0.21 * WORKING).uneven
    assert attrs.evolve(even, rise=12.0).too_much


def test_without_a_house_or_a_tap_nothing_is_said_of_the_pressure(garden: Garden) -> None:
    bare = attrs.evolve(garden.project, site=attrs.evolve(garden.project.site, buildings=(), notes=()))
    assert zone_pressures(bare, garden.layout, garden.water) == ()


def test_pressure_and_uneven_rows_are_said_where_they_matter() -> None:
    even = ZonePressure(number=1, bed="a", pipe_length=9.0, row_length=9.0, pipe=0.5, row=0.3, rise=-4.0)
    high, long = attrs.evolve(even, number=2, rise=14.0), attrs.evolve(even, number=3, bed="c", row=0.3 * WORKING)
    assert pressure_findings([even]) == ()
    strong, uneven = pressure_findings([even, high, long])
    assert "zone 2 (a) 46 psi" in strong.what and strong.seriousness == "caution"  # 25 psi, 0.8 m and 14 m of 1.42 psi
    assert "zone 3 (c)" in uneven.what and "zone 2" not in uneven.what
