"""The journal: what happened is written down and the plan follows, in one step; what was seen corrects the kind."""

import datetime as dt
from pathlib import Path
from typing import Any

import attrs
import pytest

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.growth import size
from gardenkit.planting.journal import Correction, Journal, JournalEntry
from gardenkit.planting.planting import Plant, Planting
from gardenkit.planting.season import bloom_days, flower_halves
from gardenkit.project import Project, check
from gardenkit.project.edits import journal as edits
from gardenkit.project.lived import proposals, seen
from gardenkit.project.season import spring_shift
from gardenkit.site.climate import Climate
from gardenkit.site.place import Place
from gardenkit.site.site import Site
from gardenkit.storage.records import from_data, to_data
from gardenkit.structure.structure import Bed, Structure

CATALOGUE = load_catalogue()
SAGE, AVENS, SERVICEBERRY = "Salvia nemorosa", "Geum rivale", "Amelanchier laevis"
JUNE = dt.date(2028, 6, 1)


@pytest.fixture
def project() -> Project:
    """A plot of 10 by 8 m with one bed: two sages of the first year (one locked) and a tree of the second."""
    plants = (
        Plant(number=1, species=SAGE, at=(2.0, 2.0)),
        Plant(number=2, species=SAGE, at=(4.0, 2.0), locked=True, group="drift"),
        Plant(number=3, species=SERVICEBERRY, at=(7.0, 5.0), year=1),
    )
    return Project(
        name="x",
        site=Site(
            boundary=((0, 0), (10, 0), (10, 8), (0, 8)),
            place=Place(latitude=43.0, longitude=-79.0, timezone="America/Toronto"),
            climate=Climate(zone="6a"),
        ),
        structure=Structure(beds=(Bed(name="Long bed", at=(5, 4), outline=((1, 1), (9, 1), (9, 7), (1, 7))),)),
        planting=Planting(plants=plants, first_year=2026, last_number=3),
    )


def numbers(project: Project) -> set[int]:
    return {plant.number for plant in project.planting.plants}


def test_what_died_is_gone_from_the_plan_and_kept_in_the_journal_with_its_year(project: Project) -> None:
    after = edits.died(project, (1, 2), date=JUNE, note="vole")
    assert numbers(after) == {3} and after.planting.last_number == 3
    first, second = after.journal.entries
    assert (first.id, second.id, after.journal.last_id) == (1, 2, 2)
    assert second.was == project.planting.plants[1] and second.date == JUNE and second.note == "vole"
    check(after)


def test_a_locked_plant_that_was_moved_is_moved_and_stays_locked(project: Project) -> None:
    after = edits.moved(project, 2, to=(6.0, 2.0), date=JUNE)
    there = after.planting.plants[1]
    assert (there.at, there.locked) == ((6.0, 2.0), True)
    assert after.journal.entries[0].was is not None and after.journal.entries[0].was.at == (4.0, 2.0)


def test_what_came_by_itself_stands_in_its_bed_in_the_year_of_the_date(project: Project) -> None:
    after = edits.came(project, AVENS, date=JUNE, bed="Long bed")
    new = after.planting.plants[-1]
    assert (new.number, new.species, new.year, new.by_hand) == (4, AVENS, 2, True)
    assert after.journal.entries[0].into == (4,) and after.journal.entries[0].at == new.at


def test_a_divided_plant_has_its_parts_round_it(project: Project) -> None:
    after = edits.divided(project, 1, into=3, apart=0.4, date=JUNE)
    parts = [p for p in after.planting.plants if p.number > 3]
    assert [p.year for p in parts] == [2, 2] and {p.species for p in parts} == {SAGE}
    assert after.journal.entries[0].into == tuple(p.number for p in parts)


@pytest.mark.parametrize("died_first", [False, True])
def test_what_is_replaced_has_a_number_of_its_own_in_the_same_place(project: Project, died_first: bool) -> None:
    before = edits.died(project, 2, date=JUNE) if died_first else project
    after = edits.replaced(before, 2, by=AVENS, date=JUNE)
    new = after.planting.plants[-1]
    assert (new.number, new.species, new.at, new.year, new.group) == (4, AVENS, (4.0, 2.0), 2, "drift")
    assert 2 not in numbers(after)
    with pytest.raises(GardenError, match="plant 2 was replaced before"):
        edits.replaced(after, 2, by=SAGE, date=JUNE)


def test_one_step_of_undo_takes_back_entry_and_plan(project: Project, tmp_path: Path) -> None:
    folder = tmp_path / "garden"
    storage.create(folder, project)
    stored = storage.edit(folder, "plant 1 died", lambda p: edits.died(p, 1, date=JUNE))
    assert 1 not in numbers(stored.project) and stored.project.journal.entries
    assert storage.load(folder).project == stored.project
    storage.undo(folder)
    assert storage.load(folder).project == project


def test_a_journal_reads_back_as_it_was_written_and_older_files_have_an_empty_one(project: Project) -> None:
    full = edits.write_down(
        edits.divided(edits.moved(project, 2, to=(6.0, 2.0), date=JUNE), 1, into=2, apart=0.4, date=JUNE),
        "flowered",
        date=JUNE,
        until=dt.date(2028, 7, 9),
        number=1,
        photo="sage.jpg",
        next_year="watch",
    )
    full = edits.correct(full, SAGE, days=-14.0, growth=0.8)
    assert from_data(to_data(full), where="test") == full
    bare = {key: value for key, value in to_data(project).items() if key != "journal"}
    assert from_data(bare, where="test").journal == Journal()


BAD: tuple[tuple[str, Any, str], ...] = (
    ("a number never given", lambda p: edits.died(p, 9, date=JUNE), "no plant 9 .no such number was given"),
    ("gone already", lambda p: edits.moved(edits.died(p, 1, date=JUNE), 1, to=(3, 3), date=JUNE), "no plant 1 .it was"),
    ("before it came", lambda p: edits.died(p, 3, date=dt.date(2026, 5, 1)), "plant 3 .* comes in 2027"),
    ("of no century", lambda p: edits.write_down(p, "note", date=dt.date(1666, 9, 2)), "1666-09-02 is no day"),
    ("the last flower first", lambda p: _flowered(p, until=dt.date(2028, 5, 1)), "not before the first"),
    ("two years of flowers", lambda p: _flowered(p, until=dt.date(2030, 5, 1)), "within a year of it"),
    ("no kind", lambda p: edits.write_down(p, "flowered", date=JUNE), "does not say which kind flowered"),
    ("no size", lambda p: edits.write_down(p, "measured", date=JUNE, number=1), "neither a height nor a spread"),
    ("no height", lambda p: edits.write_down(p, "measured", date=JUNE, number=1, height=0.0), "height .* is 0; give"),
    ("a path as photo", lambda p: edits.write_down(p, "note", date=JUNE, photo="../x.jpg"), "no plain file name"),
    ("unknown", lambda p: edits.write_down(p, "flowerd", date=JUNE, species=SAGE), 'nearest known is "flowered"'),
    ("the plan's", lambda p: edits.write_down(p, "died", date=JUNE, number=1), '"died" changes the plan'),
    ("off the plot", lambda p: edits.came(p, SAGE, date=JUNE, at=(30.0, 1.0)), "outside the boundary"),
    ("no bed", lambda p: edits.came(p, SAGE, date=JUNE, bed="Log bed"), 'nearest known is "Long bed"'),
    ("not divided", lambda p: edits.divided(p, 1, into=1, apart=0.3, date=JUNE), "divided into 1; give 2 to 20"),
    ("no entry", lambda p: edits.remove_entry(p, 4), "the journal has no entry 4"),
    ("of the plan", lambda p: edits.change_entry(_flowered(p), 1, number=2), '"number" of a journal entry cannot'),
    ("nothing to take back", lambda p: edits.take_back(p, SAGE), 'nothing of "Salvia nemorosa" is corrected'),
    ("too far", lambda p: edits.correct(p, SAGE, days=90.0), "days of correction .* is 90; give -60 to 60 days"),
    ("a sign", lambda p: edits.write_down(p, "note", date=JUNE, note="a\x00b"), "a sign that cannot be shown"),
)


def _flowered(project: Project, **more: Any) -> Project:
    return edits.write_down(project, "flowered", date=JUNE, number=1, **more)


@pytest.mark.parametrize(("change", "said"), [row[1:] for row in BAD], ids=[row[0] for row in BAD])
def test_what_cannot_be_written_is_refused_in_one_sentence(project: Project, change: Any, said: str) -> None:
    with pytest.raises(GardenError, match=said):
        check(change(project))


def test_two_entries_of_one_number_are_refused(project: Project) -> None:
    twice = tuple(JournalEntry(id=1, happened="note", date=JUNE) for _ in range(2))
    with pytest.raises(GardenError, match="two entries of the journal bear one number"):
        check(attrs.evolve(project, journal=Journal(entries=twice, last_id=1)))


# ---- what was seen beside what is worked out


def test_a_size_that_was_measured_becomes_what_is_worked_out_when_accepted(project: Project, tmp_path: Path) -> None:
    plain = size(CATALOGUE[SERVICEBERRY], 4).height
    told = edits.write_down(project, "measured", date=dt.date(2031, 9, 1), number=3, height=0.75 * plain)
    one = seen(told, CATALOGUE)[0]
    assert (one.what, one.by_catalogue, one.worked_out) == ("height", plain, plain)
    assert one.off == pytest.approx(0.75)
    made = proposals(told, CATALOGUE)[0].correction
    after = edits.correct(told, made.species, days=made.days, growth=made.growth)
    garden = Garden(after, tmp_path)
    assert size(garden.catalogue[SERVICEBERRY], 4).height == pytest.approx(0.75 * plain, rel=0.02)
    grown = next(one for one in garden.standing(year=5, month=7) if one.plant.number == 3)
    assert grown.size.height == pytest.approx(0.75 * plain, rel=0.02)
    assert seen(after, CATALOGUE)[0].worked_out == pytest.approx(0.75 * plain, rel=0.02)
    assert proposals(after, CATALOGUE) == ()
    back = Garden(edits.take_back(after, SERVICEBERRY), tmp_path)
    assert back.catalogue[SERVICEBERRY] == CATALOGUE[SERVICEBERRY]


def _bloom(project: Project) -> dt.date:
    """Return the day of 2027 on which the first flower of sage is expected there."""
    first = bloom_days(CATALOGUE[SAGE], spring_shift(project.site))
    assert first is not None
    day = first[0] + (0.0 if project.site.place.latitude > 0 else 182.5)
    return dt.date(2027, 1, 1) + dt.timedelta(days=round(day % 365))


def _months(garden: Garden) -> tuple[int, ...]:
    return next(row.months for row in garden.bloom if row.botanical == SAGE)


@pytest.mark.parametrize("latitude", [43.0, -43.0])
@pytest.mark.parametrize(("late", "days"), [(40, 40.0), (-25, -25.0), (9, None)])
def test_flowers_seen_half_a_month_off_move_the_kind_and_less_does_not(
    project: Project, tmp_path: Path, latitude: float, late: int, days: float | None
) -> None:
    here = attrs.evolve(project, site=attrs.evolve(project.site, place=Place(latitude=latitude)))
    told = edits.write_down(here, "flowered", date=_bloom(here) + dt.timedelta(days=late), number=1)
    found = proposals(told, CATALOGUE)
    if days is None:
        assert found == ()
        return
    assert found[0].correction.days == pytest.approx(days, abs=1.5)
    after = Garden(edits.correct(told, SAGE, days=found[0].correction.days), tmp_path)
    moved = round(days / 15.2)
    before = flower_halves(CATALOGUE[SAGE])
    assert flower_halves(after.catalogue[SAGE]) == tuple((half - 1 + moved) % 24 + 1 for half in before)
    assert _months(after) != _months(Garden(told, tmp_path))


def test_a_kind_that_is_in_no_catalogue_and_a_plant_without_number_have_nothing_to_stand_beside(
    project: Project,
) -> None:
    unknown = edits.write_down(project, "flowered", date=JUNE, species="Rosa 'My own'")
    loose = edits.write_down(unknown, "measured", date=JUNE, species=SAGE, height=0.4)
    new = edits.write_down(loose, "measured", date=dt.date(2026, 9, 1), number=1, height=0.1)
    assert [one.entry.date.year for one in seen(new, CATALOGUE)] == [2026]
    assert proposals(new, CATALOGUE) == ()  # in its first year a plant is as small as it was bought


def test_a_correction_of_a_kind_the_catalogue_has_lost_harms_nothing(project: Project, tmp_path: Path) -> None:
    lost = attrs.evolve(project, journal=Journal(corrections=(Correction(species="Rosa lost", days=9.0),)))
    assert SAGE in Garden(lost, tmp_path).catalogue
