"""Whatever is done to a garden, in whatever order: every page still builds, and a figure stands the same everywhere.

Random sequences of edits, renaming and removing among them, on each example. After each sequence all pages are built
and refreshed without a failure, and figures that stand in two places are compared.
"""

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from gardenkit.brief.wants import Check, Want
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import booklet, tables
from gardenkit.handover.contents import contents
from gardenkit.notebook import gardens
from gardenkit.notebook.session import Session
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project, check
from gardenkit.project.edits import brief, planting, site, structure
from gardenkit.site.site import ExistingTree
from gardenkit.storage.records import from_data, to_data
from gardenkit.units import SQUARE_FOOT

NAMES = ("lantern_lane_strip", "fennel_street_corner", "quarry_brow_hillside")
CATALOGUE = load_catalogue()
SOME_KINDS = ("Geum rivale", "Salvia nemorosa", "Amelanchier laevis", "Hakonechloa macra")


def pick(items: object, number: int) -> object:
    listed = list(items)  # type: ignore[call-overload]
    if not listed:
        raise GardenError("there is none of these to pick")
    return listed[number % len(listed)]


# Each edit takes the project, a number to pick with, and a place on the plan.
EDITS = {
    "rename a thing": lambda p, n, at: site.rename_thing(p, pick(site.things(p.site), n).name, to=f"thing {n}"),
    "remove a thing": lambda p, n, at: site.remove_thing(p, pick(site.things(p.site), n).name),
    "move a thing": lambda p, n, at: site.move_thing(p, pick(site.things(p.site), n).name, to=at),
    "add a tree": lambda p, n, at: site.add_thing(p, ExistingTree(name=f"tree {n}", at=at, height=6.0, spread=4.0)),
    "rename a path": lambda p, n, at: structure.rename_path(p, pick(p.structure.paths, n).name, to=f"walk {n}"),
    "remove a path": lambda p, n, at: structure.remove_path(p, pick(p.structure.paths, n).name),
    "rename a seat": lambda p, n, at: structure.rename_seat(p, pick(p.structure.seats, n).name, to=f"seat {n}"),
    "move a seat": lambda p, n, at: structure.move_seat(p, pick(p.structure.seats, n).name, to=at),
    "remove a seat": lambda p, n, at: structure.remove_seat(p, pick(p.structure.seats, n).name),
    "add a seat": lambda p, n, at: structure.add_seat(p, f"place {n}", at=at),
    "rename a support": lambda p, n, at: structure.rename_support(p, pick(p.structure.supports, n).name, to=f"s {n}"),
    "remove a support": lambda p, n, at: structure.remove_support(p, pick(p.structure.supports, n).name),
    "rename an area": lambda p, n, at: structure.rename_area(p, pick(p.structure.patches, n).name, to=f"area {n}"),
    "remove an area": lambda p, n, at: structure.remove_area(p, pick(p.structure.patches, n).name),
    "frost": lambda p, n, at: structure.set_frost_depth(p, 0.1 * (n % 13)),
    "keep an alternative": lambda p, n, at: structure.keep_alternative(p, f"idea {n}"),
    "use an alternative": lambda p, n, at: structure.use_alternative(p, pick(p.alternatives, n).name),
    "move a plant": lambda p, n, at: planting.move_plant(p, pick(p.planting.plants, n).number, to=at),
    "remove a plant": lambda p, n, at: planting.remove_plants(p, pick(p.planting.plants, n).number),
    "add a plant": lambda p, n, at: planting.add_plants(p, CATALOGUE[SOME_KINDS[n % 4]], [at], year=n % 3),
    "swap a kind": lambda p, n, at: planting.swap_kind(
        p, pick(p.planting.plants, n).species, CATALOGUE[SOME_KINDS[n % 4]]
    ),
    "price": lambda p, n, at: planting.set_price(p, pick(p.planting.plants, n).species, float(n)),
    "add a want": lambda p, n, at: brief.add_want(
        p, Want(text=f"want {n}", check=Check(fact="plant_cost", compare="at most", amount=100.0 * n))
    ),
    "remove a want": lambda p, n, at: brief.remove_want(p, n % max(1, len(p.brief.wants))),
    "refuse": lambda p, n, at: brief.set_refusals(p, ["thorns", "toxic to dogs"][: n % 3]),
    "budget": lambda p, n, at: brief.set_budget(p, None if n % 4 == 0 else 500.0 * n),
    "units": lambda p, n, at: brief.set_cover(p, units="metric" if n % 2 else "imperial"),
}
STEP = st.tuples(
    st.sampled_from(sorted(EDITS)), st.integers(0, 40), st.tuples(st.floats(-2.0, 14.0), st.floats(-2.0, 20.0))
)


def after(project: Project, steps: list[tuple[str, int, tuple[float, float]]]) -> Project:
    """Return the project after each step that was not refused; what was allowed must check and read back the same."""
    for word, number, at in steps:
        try:
            new = EDITS[word](project, number, (round(at[0], 3), round(at[1], 3)))
            check(new)
        except GardenError as refused:
            assert str(refused).strip()
            continue
        project = from_data(to_data(new), where="memory")  # as it is after saving: to the millionth of a metre
        assert from_data(to_data(project), where="memory") == project
    return project


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(steps=st.lists(STEP, min_size=1, max_size=12))
def test_figures_stand_the_same_in_every_place(name: str, steps: list[tuple[str, int, tuple[float, float]]]) -> None:
    folder = gardens.example(name)
    start = Garden.open(folder)
    garden = Garden(after(start.project, steps), folder)
    told = contents(garden, with_sun=False)
    made = {table.name: table for table in tables.tables(told)}
    plants = sum(garden.kinds.values())
    if plants:
        schedule = made["plant schedule"]
        count, cost = schedule.heads.index("count"), schedule.heads.index("cost")
        assert sum(row[count] for row in schedule.rows) == plants == garden.facts["plants"]
        assert sum(row[cost] for row in schedule.rows) == pytest.approx(garden.facts["plant_cost"])
        assert 100 * garden.figures(year=10).evergreen == pytest.approx(garden.facts["evergreen_share"])
    if "cost" in made:
        assert made["cost"].rows[-1][3] == pytest.approx(garden.costs.total, abs=0.01)
    if "areas" in made:
        heads = made["areas"].heads
        unit = SQUARE_FOOT if "sq ft" in heads else 1.0
        at = heads.index("sq ft" if "sq ft" in heads else "m²")
        beds = sum(row[at] for row in made["areas"].rows if row[0] == "bed")
        assert beds * unit == pytest.approx(sum(bed.area for bed in garden.beds), abs=0.01 * (1 + len(garden.beds)))
        assert garden.facts.get("bed_area", 0.0) == pytest.approx(sum(bed.area for bed in garden.beds))
    assert len(garden.wants) == len(garden.project.brief.wants)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=1, deadline=None, suppress_health_check=[HealthCheck.too_slow], phases=[Phase.generate])
@given(steps=st.lists(STEP, min_size=4, max_size=12))
def test_every_page_builds_after_any_sequence(
    name: str, steps: list[tuple[str, int, tuple[float, float]]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    from gardenkit.notebook.workbook import PAGES
    from gardenkit.notebook.workbook import page as page_named

    folder = tmp_path_factory.mktemp("garden") / name
    gardens.copy_garden(gardens.example(name), folder)
    session = Session(folder)
    session.edit("many things", lambda p: after(p, steps))
    for word in PAGES:
        page = page_named(session, word)
        assert page.built, (word, page.message.value)
        page.attempt(page.refresh)
        assert page.failures == [], word
        assert page.summary()
    page_of = booklet.render(session.garden, with_sun=False)
    for kind, count in session.garden.kinds.items():
        assert kind.botanical in page_of, (kind.botanical, count)
