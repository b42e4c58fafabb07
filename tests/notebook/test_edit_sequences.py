"""Whatever is done to a garden, in whatever order: every page still builds, and a figure stands the same everywhere.

Random sequences of all the edits there are, and of remedies taken, on each example. After every step every page that
is open is refreshed without a failure, and the figures that stand in two places are compared. CI tries a few steps;
``--often N`` tries N sequences.
"""

import inspect
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from edits_tried import TRIED
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.garden.alternatives import compared
from gardenkit.handover import booklet, calendar, tables, wording
from gardenkit.handover.contents import Contents, contents
from gardenkit.notebook import gardens
from gardenkit.notebook.head import Head
from gardenkit.notebook.session import Session
from gardenkit.notebook.workbook import PAGES
from gardenkit.notebook.workbook import page as page_named
from gardenkit.project import Project, check, edits
from gardenkit.project.edits import brief, handover, journal, photos, planting, site, structure
from gardenkit.storage.records import from_data, to_data
from gardenkit.units import SQUARE_FOOT, show_area

NAMES = ("lantern_lane_strip", "fennel_street_corner", "quarry_brow_hillside")
FEW = 20  # plants kept of an example: what is compared does not need more
REMEDY = "take a remedy"


STEP = st.tuples(
    st.sampled_from([*sorted(TRIED), REMEDY]),
    st.integers(0, 40),
    st.tuples(st.floats(-2.0, 14.0), st.floats(-2.0, 20.0)),
)
Step = tuple[str, int, tuple[float, float]]


def edits_there_are() -> set[str]:
    """Return the names of all functions of ``project.edits`` that take a project and return one."""
    found = set()
    for part in (brief, site, photos, planting, structure, handover, journal):
        for name, one in vars(part).items():
            if name.startswith("_") or not inspect.isfunction(one) or ".edits." not in one.__module__:
                continue
            if inspect.signature(one).return_annotation in (Project, "Project"):
                found.add(name)
    return found


def test_every_edit_is_tried() -> None:
    assert edits_there_are() == set(TRIED)


def test_most_edits_can_be_made_on_an_example_as_it_stands() -> None:
    """Else the sequences would try nothing: what is refused everywhere must be for want of something to edit."""
    projects = [Garden.open(gardens.example(name)).project for name in NAMES]
    places = [(1.0 + k, 2.0 + 2 * k) for k in range(6)]
    made = {
        word
        for word, change in TRIED.items()
        for p in projects
        if any(_taken(change, p, 7 * k, places[k]) for k in range(6))
    }
    assert set(TRIED) - made <= {
        *("change_seen", "remove_observation", "release_kind", "move_bed", "move_bed_corner", "add_bed_corner"),
        *("use_alternative", "rename_alternative", "delete_alternative", "remove_support"),
        *("move_cut_stone", "turn_cut_stone", "remove_cut_stone"),
        *("change_turn", "remove_turn"),  # no path of the examples swings round something
    }


def _taken(change: Callable[..., Project], project: Project, number: int, at: tuple[float, float]) -> bool:
    try:
        return change(project, number, at) is not None
    except GardenError:
        return False


def _remedied(session: Session, number: int) -> Callable[[Project], Project]:
    known = [line.remedy for line in session.garden.advice if line.remedy is not None]
    if not known:
        raise GardenError("no advice has a remedy")
    return lambda project: edits.apply(project, known[number % len(known)])


def _step(session: Session, step: Step) -> bool:
    """Make one edit as a page would, and say whether it was taken; what was taken reads back the same."""
    word, number, at = step
    spot = (round(at[0], 3), round(at[1], 3))
    before = session.project
    try:
        change = _remedied(session, number) if word == REMEDY else lambda p: TRIED[word](p, number, spot)
        session.edit(word, change)
    except GardenError as refused:
        assert str(refused).strip(), word
        assert session.project == before, word
        return False
    check(session.project)
    assert from_data(to_data(session.project), where="memory") == session.project, word
    return True


def _figures_agree(garden: Garden, pages: dict[str, Any]) -> None:
    """Compare every figure that stands in more than one place: facts, tables, pages, comparison of structures."""
    facts, side = garden.facts, compared(garden)
    told = contents(garden, with_sun=False)
    made = {table.name: table for table in tables.tables(told)}
    _copy_agrees(told, made)
    plants = sum(garden.kinds.values())
    assert plants == len(garden.project.planting.plants) == facts.get("plants", 0)
    if plants:
        schedule = made["plant schedule"]
        count, cost = schedule.heads.index("qty"), schedule.heads.index("cost")
        assert sum(row[count] for row in schedule.rows) == plants + len(garden.creeping)
        assert sum(row[cost] for row in schedule.rows) == pytest.approx(facts["plant_cost"])
        figures = garden.figures(year=10)
        assert figures is not None
        assert 100 * figures.evergreen == pytest.approx(facts["evergreen_share"])
    if "cost" in made:
        assert made["cost"].rows[-1][3] == pytest.approx(garden.costs.total, abs=0.01)
    assert f"{garden.costs.total:,.0f}" in pages["care"].summary()
    if "areas" in made:
        heads = made["areas"].heads
        unit = SQUARE_FOOT if "sq ft" in heads else 1.0
        at = heads.index("sq ft" if "sq ft" in heads else "m²")
        beds = sum(row[at] for row in made["areas"].rows if row[0] == "bed")
        assert beds * unit == pytest.approx(sum(bed.area for bed in garden.beds), abs=0.01 * (1 + len(garden.beds)))
    assert sum(bed.area for bed in garden.beds) == pytest.approx(facts.get("bed_area", 0.0))
    assert side.bed_area == pytest.approx(garden.bed_area)
    assert side.path_length == pytest.approx(facts.get("path_length", side.path_length))
    assert side.steepest == pytest.approx(facts.get("path_slope", side.steepest))
    assert side.stones == sum(len(laying.stones) for laying in garden.layout.layings.values())
    met, wants = sum(item.verdict == "met" for item in garden.wants), len(garden.wants)
    assert (side.wants_met, side.wants) == (met, wants) and wants == len(garden.project.brief.wants)
    if wants:
        assert f"{met} of {wants} wants met" in Head(pages["start"].session).summary()


def _copy_agrees(told: Contents, made: dict[str, tables.Table]) -> None:
    """Compare what the client copy says of water, beds, money and care with the tables and the calendar."""
    garden = told.garden
    if "water" in made:
        at = next(n for n, head in enumerate(made["water"].heads) if head.startswith("mean year"))
        said = {row["bed"].bed: row["mean"] for row in wording.water(told)}
        listed = {str(row[0]): f"{row[at]:,}" for row in made["water"].rows}
        lawns = {lawn.name for lawn in garden.watering.lawns} if garden.watering else set()
        assert said == {name: year for name, year in listed.items() if name not in lawns}
        assert {f"{name}: a zone of its own" for name in listed if name in lawns} == {
            words for words, _ in wording.water_of_a_year(garden) if words.endswith("a zone of its own")
        }
    beds = {name: area for kind, name, area, _ in wording.areas(told) if kind == "bed"}
    assert beds == {bed.name: show_area(bed.area, garden.units) for bed in garden.beds}
    assert f"{garden.costs.total:,.0f}" in wording.money(told)(round(garden.costs.total))
    months = wording.care_months(told)
    tasks = sum(len(group) for _, groups in months for _, group in groups)
    assert tasks >= len(garden.care)
    events = calendar.ics(garden.project, garden.care).count(b"BEGIN:VEVENT")
    spells = [{(t.every_years, t.begins, t.last) for t in group} for _, groups in months for _, group in groups]
    assert events == sum(map(len, spells))


def _all_opened(session: Session) -> dict[str, Any]:
    pages = {word: page_named(session, word) for word in PAGES}
    for word, page in pages.items():
        assert page.built, (word, page.message.value)
        assert page.failures == [], word
    return pages


@pytest.mark.parametrize("name", NAMES)
def test_after_every_step_pages_stand_and_figures_agree(name: str, often: int, tmp_path: Path) -> None:
    folder = tmp_path / name
    gardens.copy_garden(gardens.example(name), folder)
    session = Session(folder)
    rest = [plant.number for plant in session.project.planting.plants[FEW:]]
    session.edit("few plants", lambda p: planting.remove_plants(p, rest))
    start = session.project
    pages: dict[str, Any] = {}

    @settings(
        max_examples=often,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
        database=None,
    )
    @given(steps=st.lists(STEP, min_size=4, max_size=6 if often == 1 else 10))
    def session_of(steps: list[Step]) -> None:
        session.edit("begin again", lambda _: start)
        for step in steps:
            if not _step(session, step):
                continue
            # Opened on a garden that has been edited: on the examples as they stand every page is opened elsewhere.
            if not pages:
                pages.update(_all_opened(session))
            for word, page in pages.items():
                page.attempt(page.refresh)
                assert page.failures == [], (word, step)
                assert page.summary(), (word, step)
            _figures_agree(session.garden, pages)

    session_of()
    assert pages
    copy = booklet.render(session.garden, edition="office", with_sun=False)
    for kind in session.garden.kinds:
        assert kind.botanical in copy
