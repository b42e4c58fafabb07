"""The calendar file holds every task in its months, repeats as often as it should, and is the same twice."""

import datetime as dt

from icalendar import Calendar

from gardenkit.handover import calendar
from gardenkit.schedules.care import Task, by_month


def events(content: bytes) -> list:
    return list(Calendar.from_ical(content).walk("VEVENT"))


def test_every_task_stands_in_every_one_of_its_months(told):
    found = events(calendar.ics(told.project, told.garden.care))
    for month, tasks in enumerate(by_month(told.garden.care), start=1):
        words = " ".join(str(e["summary"]) for e in found if e["dtstart"].dt.month == month)
        for task in tasks:
            assert task.botanical in words, (month, task)


def test_a_task_every_four_years_comes_every_four_years(example):
    task = Task(months=(4,), task="divide", botanical="Salvia nemorosa", every_years=4)
    (event,) = events(calendar.ics(example, (task,)))
    assert event["rrule"]["interval"] == [4]
    assert event["dtstart"].dt == dt.date(example.planting.first_year + 4, 4, 1)
    assert event["dtend"].dt - event["dtstart"].dt == dt.timedelta(days=1)


def test_cutting_begins_the_year_after_planting_and_weeding_at_once(example):
    tasks = (Task(months=(3,), task="cut back", botanical="a"), Task(months=(4,), task="weed", botanical="all beds"))
    starts = {str(e["summary"]): e["dtstart"].dt.year for e in events(calendar.ics(example, tasks))}
    first = example.planting.first_year
    assert starts == {"Cut back: a": first + 1, "Weed: all beds": first}


def test_the_same_garden_gives_the_same_file_and_each_event_its_own_mark(told):
    once, again = (calendar.ics(told.project, told.garden.care) for _ in range(2))
    assert once == again
    marks = [str(e["uid"]) for e in events(once)]
    assert len(marks) == len(set(marks)) > 20


def test_cautions_and_strange_letters_survive(example, tmp_path, told):
    task = Task(months=(5,), task="prune", botanical="Rosa 'Café; au, lait'\n", caution="wear gloves")
    (event,) = events(calendar.ics(example, (task,)))
    assert "Café; au, lait" in str(event["summary"])
    assert "wear gloves" in str(event["description"])
    target = tmp_path / "care.ics"
    assert calendar.write(told, target) == target.stat().st_size
