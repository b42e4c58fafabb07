"""The calendar file holds every task in its months, repeats as often as it should, and can be sent again."""

import datetime as dt
import itertools
from collections import Counter

import attrs
import vobject
from icalendar import Calendar

from gardenkit.handover import calendar
from gardenkit.schedules.care import Task, by_month, grouped

NOW = dt.datetime(2027, 3, 1, tzinfo=dt.UTC)
TASKS = (
    Task(months=(3,), task="prune", botanical="Rosa 'Iceberg'", how="before growth starts", caution="wear gloves"),
    Task(months=(5, 6), task="water", botanical="new plants", weekly=True, last=2),
    Task(months=(4,), task="divide", botanical="Salvia nemorosa", every_years=4),
)


def events(content: bytes) -> list:
    return list(Calendar.from_ical(content).walk("VEVENT"))


def test_every_task_stands_in_every_one_of_its_months(told):
    found = events(calendar.ics(told.project, told.garden.care))
    for month, tasks in enumerate(by_month(told.garden.care), start=1):
        words = " ".join(str(e["description"]) for e in found if e["dtstart"].dt.month == month)
        for task in tasks:
            assert task.botanical in words, (month, task)


def test_a_task_every_four_years_comes_every_four_years(example):
    task = Task(months=(4,), task="divide", botanical="Salvia nemorosa", every_years=4)
    (event,) = events(calendar.ics(example, (task,)))
    assert event["rrule"]["interval"] == [4]
    assert event["dtstart"].dt == dt.date(example.planting.first_year + 4, 4, 1)
    assert event["dtend"].dt - event["dtstart"].dt == dt.timedelta(days=1)


def test_cutting_begins_the_year_after_planting_and_weeding_at_once(example):
    tasks = (
        Task(months=(3,), task="cut back", botanical="a"),
        Task(months=(4,), task="weed", botanical="all beds"),
        Task(months=(3,), task="prune", botanical="b", first=2),
    )
    starts = {str(e["summary"]): e["dtstart"].dt.year for e in events(calendar.ics(example, tasks))}
    first = example.planting.first_year
    assert starts == {"Cut back: a": first + 1, "Weed: all beds": first, "Prune: b": first + 3}


def test_the_same_garden_gives_the_same_file_and_each_event_its_own_mark(told):
    once, again = (calendar.ics(told.project, told.garden.care) for _ in range(2))
    assert once == again
    marks = [str(e["uid"]) for e in events(once)]
    assert len(marks) == len(set(marks)) > 20
    assert calendar.ics(told.project, told.garden.care, earlier=once, now=NOW) == once


def test_cautions_and_strange_letters_survive(example, tmp_path, told):
    task = Task(months=(5,), task="prune", botanical="Rosa 'Café; au, lait'\n", caution="wear gloves")
    (event,) = events(calendar.ics(example, (task,)))
    assert "Café; au, lait" in str(event["summary"])
    assert "wear gloves" in str(event["description"])
    target = tmp_path / "care.ics"
    assert calendar.write(told, target) == target.stat().st_size


def test_what_changed_is_sent_with_the_next_number_and_what_went_as_cancelled(example):
    """RFC 5545, 3.8.7.4: a change of dates or of status makes SEQUENCE one more; RFC 5546: a cancelled event stays."""
    first = calendar.ics(example, TASKS)
    renamed = attrs.evolve(example, name="Another name", client="Another client")
    prune, water, _ = TASKS
    second = calendar.ics(renamed, (attrs.evolve(prune, how="in full leaf"), water), earlier=first, now=NOW)
    was, now = ({str(e["uid"]): e for e in events(content)} for content in (first, second))
    assert was.keys() == now.keys()  # identity outlives the name
    said = {str(e["summary"]): (e["sequence"], str(e["status"]), e["dtstamp"].dt.year) for e in now.values()}
    year = example.planting.first_year
    assert said["Prune: Rosa 'Iceberg'"] == (1, "CONFIRMED", 2027)
    assert said["Divide: Salvia nemorosa"] == (1, "CANCELLED", 2027)
    assert said["Water: new plants"] == (0, "CONFIRMED", year)
    third = calendar.ics(renamed, TASKS, earlier=second, now=NOW)
    back = {str(e["summary"]): (e["sequence"], str(e["status"])) for e in events(third)}
    assert back["Divide: Salvia nemorosa"] == (2, "CONFIRMED")


def test_a_task_that_moves_or_loses_a_plant_stays_the_event_it_was(example):
    """Spring comes earlier, one kind is gone, another is cut otherwise: the same marks with new dates and numbers."""
    kinds = tuple(Task(months=(4,), task="prune", botanical=name, how="before growth starts") for name in "abc")
    lawn = Task(months=(4, 5, 6), task="mow", botanical="the lawn")
    first = calendar.ics(example, (*kinds, Task(months=(3,), task="prune", botanical="rose"), lawn))
    earlier = [attrs.evolve(kind, months=(3,), how="") for kind in kinds[:2]]
    rose = Task(months=(2,), task="prune", botanical="rose")
    second = calendar.ics(example, (*earlier, rose, attrs.evolve(lawn, months=(4, 5))), earlier=first, now=NOW)
    was, now = ({str(e["uid"]): e for e in events(content)} for content in (first, second))
    assert was.keys() == now.keys()
    moved = {
        str(was[uid]["summary"]): (was[uid]["dtstart"].dt.month, now[uid]["dtstart"].dt.month, now[uid]["sequence"])
        for uid in was
        if was[uid]["summary"].startswith("Prune")
    }
    assert moved == {"Prune: a, b and 1 more": (4, 3, 1), "Prune: rose": (3, 2, 1)}
    mown = {e["dtstart"].dt.month: (e["sequence"], str(e["status"])) for e in now.values() if "Mow" in e["summary"]}
    assert mown == {4: (0, "CONFIRMED"), 5: (0, "CONFIRMED"), 6: (1, "CANCELLED")}


def test_weekly_watering_ends_after_its_last_season(example):
    found = [e for e in events(calendar.ics(example, TASKS)) if "WEEKLY" in e["rrule"]["freq"]]
    year = example.planting.first_year
    assert [e["dtstart"].dt for e in found] == [dt.date(year, 5, 1), dt.date(year, 6, 1)]
    assert all(e["rrule"]["until"] == [dt.date(year + 2, 12, 31)] for e in found)
    assert [e["rrule"]["bymonth"] for e in found] == [[5], [6]]


def test_titles_are_short_and_events_have_a_category(told):
    found = events(calendar.ics(told.project, told.garden.care))
    for event in found:
        assert str(event["summary"]).count(",") <= 10
        assert len(str(event["summary"])) <= 120
        assert "(" not in str(event["summary"])
        assert len(event["categories"].cats) == 1
    groups = [group for tasks in by_month(told.garden.care) for _, group in grouped(tasks)]
    assert len(found) == sum(len({(t.every_years, t.begins, t.last) for t in group}) for group in groups)


def test_another_reader_sees_the_same_events(example):
    """vobject, which shares no code with icalendar; its own recurrence rules come from dateutil."""
    first = calendar.ics(example, TASKS)
    content = calendar.ics(example, TASKS[:2], earlier=first, now=NOW)
    read = vobject.readOne(content.decode("utf-8"))
    assert {e.uid.value: (e.summary.value, int(e.sequence.value), e.status.value) for e in read.vevent_list} == {
        str(e["uid"]): (str(e["summary"]), e["sequence"], str(e["status"])) for e in events(content)
    }
    water = next(e for e in read.vevent_list if e.summary.value.startswith("Water") and e.dtstart.value.month == 5)
    days = list(water.getrruleset(addRDate=True))
    assert Counter(day.year for day in days).keys() == {example.planting.first_year + n for n in range(3)}
    assert {day.month for day in days} == {5}
    assert all((b - a).days == 7 for a, b in itertools.pairwise(days) if a.year == b.year)


def test_a_file_that_was_cut_off_begins_a_new_calendar(example):
    whole = calendar.ics(example, TASKS)
    assert calendar.ics(example, TASKS, earlier=whole[: len(whole) // 2]) == whole
