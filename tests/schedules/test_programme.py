"""The order of work in time: nothing before what it waits for, sums that add up, years within their budget."""

import attrs
import pytest

from gardenkit.brief.pricing import Pricing
from gardenkit.drawing.programme_chart import programme_chart
from gardenkit.schedules.cost import costs
from gardenkit.schedules.labour import labour, tasks
from gardenkit.schedules.orders import orders
from gardenkit.schedules.phases import garden_phases
from gardenkit.schedules.plants import plant_schedule
from gardenkit.schedules.programme import programme
from gardenkit.schedules.quantities import quantities
from gardenkit.schedules.work_steps import STEPS
from gardenkit.site.climate import Climate


@pytest.fixture
def timed(small_garden, worked, catalogue):
    lines = quantities(small_garden, worked, catalogue)
    schedule = plant_schedule(small_garden.planting.plants, catalogue, {})
    work = labour(lines, schedule, paths=worked.surfaces)
    steps = garden_phases(small_garden, worked, catalogue)
    summary = costs(schedule, orders(lines), work=work)

    def made(*, climate=small_garden.site.climate, **terms):
        told = attrs.evolve(summary, pricing=Pricing(**terms))
        return told, programme(steps, told, lines, paths=worked.surfaces, first_year=2027, climate=climate)

    return made


def test_no_step_begins_before_what_it_waits_for_is_done(timed):
    _, made = timed()
    begins = {one.step: 260 * one.year + one.starts for one in made}
    ends = {one.step: begins[one.step] + one.days for one in made}
    assert len(made) > 3
    for one in made:
        assert all(ends[before] <= begins[one.step] for before in one.after), one.step
    assert made[-1].after or len(made) == 1


@pytest.mark.parametrize("terms", [{}, {"tax": 15.0, "delivery": 6.0, "contingency": 20.0}])
def test_the_steps_cost_what_everything_costs_together(timed, terms):
    told, made = timed(**terms)
    assert sum(one.cost for one in made) == pytest.approx(told.everything.likely)
    assert sum(one.hours for one in made) == pytest.approx(sum(one.hours.likely for one in told.work))


def test_nothing_is_dug_in_frost_nor_planted_in_frost_or_high_summer(timed):
    """By the table of ``conftest``: below 0 in the mean of December to February, warmest in July and August."""
    for crew in (1, 2, 8):
        _, made = timed(crew=crew)
        for one in made:
            met = {(one.starts + day) % 260 * 12 // 260 + 1 for day in range(one.days)}
            if one.step not in ("Before anything is dug", "Set down last"):
                assert not met & {12, 1, 2}, one
            if one.step == "Planting":
                assert not met & {7, 8}, one


def test_planting_due_in_high_summer_waits_and_says_why(timed):
    """South of the equator, without frost: January and February are the warmest, so what is ready then waits."""
    south = Climate(tmin=(20,) * 2 + (10,) * 10, tmax=(28,) * 2 + (18,) * 10)
    planting = next(one for one in timed(climate=south)[1] if one.step == "Planting")
    assert (planting.month, planting.season) == (3, "high summer dries new plants")
    plain = next(one for one in timed(climate=None)[1] if one.step == "Planting")
    assert (plain.month, plain.season) == (1, "")


def test_one_table_names_the_steps_of_labour_phases_and_programme(timed):
    assert {task.step for task in tasks().values()} <= {*STEPS, "surfaces"}
    assert {one.step for one in timed()[1]} <= set(STEPS)


def test_a_larger_crew_is_done_sooner(timed):
    alone, four = (sum(one.days for one in timed(crew=crew)[1]) for crew in (1, 4))
    assert four < alone


@pytest.mark.parametrize("share", [2.5, 6.0])
def test_no_year_costs_more_than_it_may_and_a_dear_step_is_done_in_parts(timed, share):
    told, whole = timed()
    most = told.everything.likely / share
    _, made = timed(year_budget=most)
    assert [one.step for one in whole] == list(dict.fromkeys(one.step for one in made))
    for one in whole:
        parts = [part for part in made if part.step == one.step]
        assert len(parts) == max(1, -(-one.cost // most))
        assert sum(part.cost for part in parts) == pytest.approx(one.cost)
        assert sum(part.hours for part in parts) == pytest.approx(one.hours)
        assert len({part.year for part in parts}) == len(parts)
    assert any(one.parts > 1 for one in made)
    years = sorted({one.year for one in made})
    assert len(years) > 1
    assert years == list(range(2027, 2027 + len(years)))
    for year in years:
        of_year = [one for one in made if one.year == year]
        assert sum(one.cost for one in of_year) <= most + 1e-6
    assert [one.year for one in made] == sorted(one.year for one in made)


def test_the_chart_draws_a_bar_a_step_inside_its_bounds(timed):
    _, made = timed()
    scene = programme_chart(made)
    bars = [mark for mark in scene.marks if getattr(mark, "tip", "")]
    assert len(bars) == len(made)
    for bar in bars:
        for x, y in bar.rings[0]:
            assert scene.bounds[0] <= x <= scene.bounds[2]
            assert scene.bounds[1] <= y <= scene.bounds[3]
    assert all(one.step in scene.description for one in made)
