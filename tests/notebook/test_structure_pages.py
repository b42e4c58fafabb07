"""The pages about the bones, their handlers called as plain methods: what a designer does, and what cannot be done."""

import json
import math
import re
from pathlib import Path

import attrs
import ipywidgets
import pytest

from gardenkit import storage
from gardenkit.geometry import plane
from gardenkit.handover import options
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import names as names_it
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages.alternatives import NOW, AlternativesPage
from gardenkit.notebook.pages.beds import BedsPage
from gardenkit.notebook.pages.climbs import ClimbsPage
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.pages.levels import LevelsPage
from gardenkit.notebook.pages.notes import NotesPage
from gardenkit.notebook.pages.paths import PathsPage
from gardenkit.notebook.pages.seen import SeenPage
from gardenkit.notebook.pages.structure import StructurePage
from gardenkit.notebook.pages.supports import SupportsPage
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.notebook.session import Session
from gardenkit.project import Project
from gardenkit.project.edits import structure as structure_edits
from gardenkit.project.layout import layout
from gardenkit.site.heights import SpotHeight
from gardenkit.site.site import Site
from gardenkit.structure.kinds import SUPPORTS
from gardenkit.structure.structure import Flight, Seat, Structure
from gardenkit.structure.structure import Path as GardenPath
from gardenkit.units import FOOT, INCH

EVERY = (
    StructurePage,
    PathsPage,
    BedsPage,
    SupportsPage,
    LevelsPage,
    NotesPage,
    ClimbsPage,
    SeenPage,
    AlternativesPage,
)


def made(tmp_path: Path, **site: object) -> Session:
    storage.create(tmp_path / "new", Project(name="new", site=Site(**site)))
    return Session(tmp_path / "new")


def refused(page, *words: str) -> None:
    """The page says one sentence holding these words; nothing unexpected happened."""
    assert page.failures == []
    assert 'role="alert"' in page.message.value
    for word in words:
        assert word in page.message.value


@pytest.mark.parametrize("kind", EVERY)
def test_every_page_opens_on_an_empty_garden_and_on_a_bare_plot(tmp_path: Path, kind: type) -> None:
    assert kind(made(tmp_path)).failures == []
    plot = made(tmp_path / "plot", boundary=((0, 0), (9, 0), (9, 14), (0, 14)))
    assert kind(plot).failures == []


@pytest.mark.parametrize("kind", EVERY)
def test_every_page_has_words_and_a_picture_for_places_without_widgets(garden: Session, kind: type) -> None:
    bundle = kind(garden)._repr_mimebundle_()
    assert "<svg" in bundle["image/svg+xml"]
    assert len(bundle["text/plain"]) > 20


@pytest.mark.parametrize("kind", EVERY)
def test_project_text_cannot_run_on_a_page(garden: Session, kind: type) -> None:
    evil = "<img src=x onerror=alert(1)>"

    def named(project: Project) -> Project:
        s = project.structure
        beds = tuple(attrs.evolve(b, name=evil, soil=evil) if i == 0 else b for i, b in enumerate(s.beds))
        supports = tuple(attrs.evolve(x, name=evil) if i == 1 else x for i, x in enumerate(s.supports))
        paths = tuple(attrs.evolve(p, name=evil) if i == 1 else p for i, p in enumerate(s.paths))
        was = s.supports[1].name
        plants = tuple(attrs.evolve(p, support=evil) if p.support == was else p for p in project.planting.plants)
        planting = attrs.evolve(project.planting, plants=plants)
        bones = attrs.evolve(s, beds=beds, supports=supports, paths=paths)
        return attrs.evolve(project, structure=bones, planting=planting)

    garden.edit("names", named)
    page = kind(garden)
    if hasattr(page, "choose"):
        page.choose(evil)
    shown = [value.value for value in vars(page).values() if type(value).__name__ == "HTML"]
    assert not any("<img" in text for text in shown)


# ---- the live plan


def test_the_ground_in_view_is_drawn_when_a_place_is_chosen(garden: Session) -> None:
    page = StructurePage(garden)
    before = len(page.scene().marks)
    page.eye.bar.value = "gate"
    assert page.failures == []
    assert len(page.scene().marks) == before + 3  # the wash, the eye and its pupil


def test_a_stone_moved_by_hand_stays_while_sliders_move_and_undo_takes_it_back(garden: Session) -> None:
    page = StructurePage(garden)
    stone = page.layout().layings["garden walk"].stones[5]
    at = (round(stone.at[0] + 0.03, 3), round(stone.at[1] + 0.02, 3))  # hands are true to the millimetre
    page.drop("stone:5", at)
    page.set(width=1.2)
    assert page.layout().layings["garden walk"].stones[5].at == pytest.approx(at)
    page.undo()
    page.undo()
    assert garden.project.structure.paths[0].held_stones == ()


# ---- paths


def test_a_path_between_two_places_and_one_that_joins_it(garden: Session) -> None:
    page = PathsPage(garden)
    another = page.another
    another.name.bar.value, another.start.bar.value, another.end.bar.value = "back way", "side door", "bench walk"
    another.add()
    assert page.failures == [] and 'role="alert"' not in page.message.value
    route = layout(garden.project).routes["back way"]
    door = garden.project.site.opening("side door").middle
    assert math.dist(route.curve.points[0], door) < 1e-6
    joined = layout(garden.project).routes["bench walk"]
    assert plane.distance(plane.line(joined.curve.points), plane.point(route.curve.points[-1])) < 0.01


def test_steps_are_put_into_a_path_changed_and_taken_out(tmp_path: Path) -> None:
    spots = tuple(SpotHeight(at=(x, y), height=y / 8) for x in (0.0, 12.0) for y in (0.0, 16.0))
    site = Site(boundary=((0, 0), (12, 0), (12, 16), (0, 16)), heights=spots)
    seats = tuple(Seat(name=f"{name} {y}", at=(x, y)) for name, x in (("pine", 3.0), ("brow", 9.0)) for y in (2, 14))
    pine = GardenPath(name="pine walk", start="pine 2", end="pine 14", width=1.2, curvature=0.0)
    brow = attrs.evolve(pine, name="brow walk", start="brow 2", end="brow 14", flights=(Flight(start=0.3, end=0.6),))
    storage.create(
        tmp_path / "hill", Project(name="h", site=site, structure=Structure(seats=seats, paths=(pine, brow)))
    )
    page = PathsPage(Session(tmp_path / "hill"))
    page.choose("pine walk")
    assert page.flights.table.value == ""
    form = page.flights.editor.form
    form.fill(start="10'", end="12'", most_riser='5"', least_tread='14"', handrail="yes")
    page.flights.editor.add()
    assert page.failures == [] and 'role="alert"' not in page.message.value
    (flight,) = page.path().flights
    assert (flight.most_riser, flight.least_tread) == pytest.approx((5 * INCH, 14 * INCH)) and flight.handrail
    assert "lacks" in page.flights.table.value and "risers" in page.flights.table.value
    form.fill(end="15'")
    page.flights.editor.change()
    (longer,) = page.path().flights
    assert longer.end > flight.end and attrs.evolve(longer, end=flight.end) == flight  # what was not typed stays
    form.fill(end="90'")
    page.flights.editor.change()
    refused(page, "pine walk", "not within it")
    page.flights.editor.remove()
    assert page.path().flights == () and page.failures == []
    page.choose("brow walk")
    assert len(page.flights.editor.which.bar.options) == 2


def test_a_path_is_made_to_swing_round_a_named_thing_on_the_other_hand_and_no_more(garden: Session) -> None:
    page = PathsPage(garden)
    page.choose("garden walk")
    before, form = layout(garden.project).routes["garden walk"].length, page.turns.editor.form
    assert "bird bath" in [value for _, value in form.boxes["what"].bar.options]
    form.fill(what="bird bath", hand="left")
    page.turns.editor.add()
    assert page.failures == [] and 'role="alert"' not in page.message.value
    assert [(turn.what, turn.hand) for turn in page.path().round] == [("bird bath", "left")]
    assert layout(garden.project).routes["garden walk"].length != before
    form.fill(hand="right")
    page.turns.editor.change()
    assert page.path().round[0].hand == "right"
    form.fill(what="")
    page.turns.editor.change()
    refused(page, "cannot swing round")
    page.turns.editor.remove()
    assert page.path().round == () and page.failures == []


def test_a_gate_is_dragged_where_the_path_is_designed_and_the_path_follows(garden: Session) -> None:
    page = StructurePage(garden)
    path = next(p for p in garden.project.structure.paths if p.start in {o.name for o in garden.project.site.openings})
    gate = next(o for o in garden.project.site.openings if o.name == path.start)
    page.choose(path.name)
    page.set_dragging("gates")
    assert gate.kind == "gate" and f"gate:{gate.name}" in [handle.id for handle in page.handles]
    (ax, ay), (bx, by) = gate.start, gate.end
    page.drop(f"gate:{gate.name}", (gate.middle[0] + 0.5 * (bx - ax), gate.middle[1] + 0.5 * (by - ay)))
    assert page.failures == [] and 'role="alert"' not in page.message.value, page.message.value
    moved = next(o for o in garden.project.site.openings if o.name == gate.name)
    assert math.dist(moved.middle, gate.middle) == pytest.approx(gate.width / 2, abs=0.02)
    start = layout(garden.project).routes[path.name].curve.points[0]
    assert math.dist(start, moved.middle) == pytest.approx(0.0, abs=0.02)
    assert (
        plane.distance(
            plane.line((*garden.project.site.boundary, garden.project.site.boundary[0])), plane.point(moved.middle)
        )
        < 0.3
    )


def test_a_pocket_is_drawn_as_wide_as_the_crown_of_a_named_tree_and_the_path_swings_round_it(garden: Session) -> None:
    page, kind = PathsPage(garden), garden.garden.catalogue["Amelanchier laevis"]
    page.choose("garden walk")
    curve = layout(garden.project).routes["garden walk"].curve
    at = (float(curve.at(curve.length / 2)[0][0]), float(curve.at(curve.length / 2)[0][1]))
    page.draw.begin(page.turns.pocket.word)
    page.draw.click(at)
    refused(page, "type the botanical or common name")
    page.turns.kind.bar.value = "Amelanchier laevis"
    assert "spreads" in page.turns.wide.value
    page.draw.begin(page.turns.pocket.word)
    page.draw.click(at)
    assert page.failures == [] and 'role="alert"' not in page.message.value, page.message.value
    bed = garden.project.structure.beds[-1]
    assert plane.area(plane.region(bed.outline)) == pytest.approx(math.pi / 4 * kind.spread**2, rel=0.02)
    assert [turn.what for turn in page.path().round] == [bed.name]
    route = layout(garden.project).routes["garden walk"]
    assert plane.distance(plane.region(bed.outline), plane.line(route.curve.points)) >= page.path().width / 2 - 0.01


def test_paving_is_laid_in_a_bond_and_counted_with_its_cuts(garden: Session) -> None:
    page = PathsPage(garden)
    page.choose("bench walk")
    page.one.set(surface="paving")
    assert page.one.bond.layout.display is None
    assert "how it turns along its way" in page.bends.value
    page.one.bond.bar.value = "brick, herringbone"
    assert page.failures == [] and page.path().bond == "brick, herringbone"
    assert "whole and" in page.materials.value and "bricks" in page.materials.value
    page.one.set(surface="gravel")
    assert page.one.bond.layout.display == "none" and "bricks" not in page.materials.value


def test_a_path_to_the_terrace_ends_at_its_edge(garden: Session) -> None:
    page = PathsPage(garden)
    another = page.another
    another.name.bar.value, another.start.bar.value, another.end.bar.value = "to sit", "gate", "seat terrace"
    another.add()
    end = layout(garden.project).routes["to sit"].curve.points[-1]
    terrace = next(p for p in garden.project.structure.ground_areas if p.name == "seat terrace")
    assert plane.distance(plane.region(terrace.outline).boundary, plane.point(end)) < 1e-6


@pytest.mark.parametrize(
    ("name", "start", "end", "word"),
    [
        ("", "gate", "bench", "type a name"),
        ("garden walk", "gate", "bench", "already"),
        ("new", "gate", "gate", "two different"),
    ],
)
def test_a_path_that_cannot_be_is_refused_in_a_sentence(
    garden: Session, name: str, start: str, end: str, word: str
) -> None:
    page, before = PathsPage(garden), garden.project
    another = page.another
    another.name.bar.value, another.start.bar.value, another.end.bar.value = name, start, end
    another.add()
    refused(page, word)
    assert garden.project == before


def test_a_path_that_another_joins_is_not_removed_and_a_free_one_is(garden: Session) -> None:
    page = PathsPage(garden)
    page.choose("garden walk")
    page.another.remove()
    refused(page, "bench walk", "joins")
    page.choose("bench walk")
    page.another.remove()
    assert [p.name for p in garden.project.structure.paths] == ["garden walk"]


def test_paths_that_join_follow_a_new_name(garden: Session) -> None:
    page = PathsPage(garden)
    page.choose("garden walk")
    page.one.rename("long walk")
    assert [(p.name, p.end) for p in garden.project.structure.paths][1] == ("bench walk", "long walk")
    assert not layout(garden.project).problems


def test_a_locked_path_stays_where_it_is_when_the_bend_changes(garden: Session) -> None:
    page = PathsPage(garden)
    page.choose("garden walk")
    page.pinned.pin_path()
    assert len(garden.project.structure.paths[0].held) == 4
    StructurePage(garden).set(curvature=0.0)
    after = plane.line(layout(garden.project).routes["garden walk"].curve.points)
    for held in garden.project.structure.paths[0].held:
        assert plane.distance(after, plane.point(held.at)) < 0.01
    page.pinned.release_all()
    assert garden.project.structure.paths[0].held == ()


def test_locked_stones_lie_where_they_lay_with_another_seed(garden: Session) -> None:
    page, live = PathsPage(garden), StructurePage(garden)
    before = [s.at for s in layout(garden.project).layings["garden walk"].stones]
    page.pinned.pin_stones()
    live.other_stones()
    after = [s.at for s in layout(garden.project).layings["garden walk"].stones]
    assert all(math.dist(a, b) < 1e-3 for a, b in zip(before, after, strict=True))


def test_ways_to_wander_change_nothing_until_one_is_taken(garden: Session) -> None:
    page, before = PathsPage(garden), garden.project
    routes = page.routes
    routes.search()
    assert garden.project == before and {m.goal for m in routes.ways} == {
        "largest pocket",
        "least straight view",
        "shortest",
        "gentlest slope",
    }
    shortest = next(i for i, m in enumerate(routes.ways) if m.goal == "shortest")
    assert routes.ways[shortest].length == min(m.length for m in routes.ways)
    assert max(m.pocket for m in routes.ways) == next(m for m in routes.ways if m.goal == "largest pocket").pocket
    routes.way.bar.value = shortest
    routes.take()
    assert layout(garden.project).routes["garden walk"].length == pytest.approx(routes.ways[shortest].length, abs=0.02)


def test_lists_show_words_before_anything_is_found_and_keep_their_choice_after_one(garden: Session) -> None:
    page = PathsPage(garden)
    assert page.routes.way.bar.label == "none looked for yet"
    page.routes.take()
    refused(page, "find route options first")
    sent: list[object] = []
    page.chosen.bar.observe(sent.append, "_options_labels")
    page.choose("bench walk")
    page.one.set(use="garden path")
    assert page.chosen.bar.value == "bench walk"
    assert sent == []
    plants = LayeringPage(garden)
    plants.one.pick.bar.observe(sent.append, "_options_labels")
    number = garden.project.planting.plants[3].number
    plants.one.choose(number)
    plants.refresh()
    assert plants.one.pick.bar.value == number
    assert sent == []


def test_a_pallet_is_read_and_a_bad_line_is_named(garden: Session) -> None:
    page = PathsPage(garden)
    page.stones.pallet.value = "30 x 24 in x 18 in\n4 x 20 in x 16 in"
    page.stones.set_pallet()
    stones = garden.project.structure.paths[0].stones.pallet
    assert [(s.count, s.across, s.along) for s in stones] == [(30, 0.6096, 0.4572), (4, 0.508, 0.4064)]
    before = garden.project
    page.stones.pallet.value = "30 x 24 in x 18 in\nmany stones"
    page.stones.set_pallet()
    refused(page, "line 2", "many stones")
    assert garden.project == before


# ---- beds


@pytest.mark.parametrize("kind", EVERY)
def test_no_control_has_a_name_that_a_browser_refuses(garden: Session, kind: type[Page]) -> None:
    """A token of a class list holds no white space: DOM Standard, section 7.1, DOMTokenList."""

    def names(widget: ipywidgets.Widget) -> list[str]:
        own = list(getattr(widget, "_dom_classes", ()))
        return own + [name for child in getattr(widget, "children", ()) for name in names(child)]

    named = names(kind(garden).widget)
    assert named and not [name for name in named if not name or re.search(r"\s", name)]


def pick(editor: RecordEditor, name: str) -> None:
    """Turn to a record of a list, or to a new one."""
    lines = [words.split(" · ")[0] for words, _ in controls.choices(editor.which.bar)]
    editor.which.bar.index = lines.index(name)


def bed(garden: Session, name: str):
    return next(b for b in layout(garden.project).beds if b.name == name)


def everything(garden: Session) -> float:
    """Area of beds, paths, areas, scraps and obstacles: the open ground."""
    w, site = layout(garden.project), garden.project.site
    things = plane.difference(plane.union(plane.region(o.outline) for o in site.obstacles), w.hardscape)
    hard = plane.area(plane.intersection(w.hardscape, w.ground)) + plane.area(plane.intersection(things, w.ground))
    placed = sum(plane.area(region) for region in w.things.values())
    return sum(b.area for b in w.beds) + hard + placed + plane.area(w.scraps)


def test_a_bed_split_with_a_line_gives_two_that_make_up_the_old_one(garden: Session) -> None:
    page, old = BedsPage(garden), bed(garden, "Corner bed").area
    count = len(layout(garden.project).beds)
    pick(page.beds, "Corner bed")
    page.start_split()
    page.apply_split()
    assert page.failures == [] and len(layout(garden.project).beds) == count + 1
    parts = bed(garden, "Corner bed").area + bed(garden, "Corner bed 2").area
    assert parts == pytest.approx(old, abs=1e-6)
    assert everything(garden) == pytest.approx(plane.area(layout(garden.project).ground), abs=1e-6)
    page.undo()
    assert bed(garden, "Corner bed").area == pytest.approx(old, abs=1e-9)


def test_two_halves_of_a_split_bed_stay_two_while_the_path_moves(garden: Session) -> None:
    page, live = BedsPage(garden), StructurePage(garden)
    pick(page.beds, "Side bed")
    page.start_split()
    page.apply_split()
    live.choose("garden walk")
    for curvature in (0.2, 0.45, 0.75):
        live.set(curvature=curvature)
        assert {"Side bed", "Side bed 2"} <= {b.name for b in layout(garden.project).beds}
        assert everything(garden) == pytest.approx(plane.area(layout(garden.project).ground), abs=1e-6)


def test_a_line_that_misses_the_bed_splits_nothing(garden: Session) -> None:
    page, before = BedsPage(garden), garden.project
    pick(page.beds, "Door bed")
    page.start_split()
    page.drop("line:0", (1.0, 1.0))
    page.drop("line:1", (2.0, 1.0))
    page.apply_split()
    refused(page, "line")
    assert garden.project == before


def test_two_beds_that_touch_are_joined_and_two_apart_are_not(garden: Session) -> None:
    page = BedsPage(garden)
    whole = bed(garden, "Street bed").area + bed(garden, "West bed").area
    pick(page.beds, "Street bed")
    page.other.bar.value = "West bed"
    page.join()
    assert page.failures == [] and bed(garden, "Street bed").area == pytest.approx(whole, rel=0.01)
    before = garden.project
    page.other.bar.value = "Side bed"
    page.join()
    refused(page, "do not touch")
    assert garden.project == before


def test_a_leftover_keeps_nearly_its_ground_when_its_corners_are_drawn(garden: Session) -> None:
    page = BedsPage(garden)
    for name in ("Corner bed", "Berry bed", "Window bed"):
        old, beds = bed(garden, name).area, {b.name for b in layout(garden.project).beds}
        pick(page.beds, name)
        page.draw_corners()
        assert page.failures == []
        assert bed(garden, name).area == pytest.approx(old, rel=0.03)
        assert {b.name for b in layout(garden.project).beds} == beds  # no slivers left over as new beds
        assert everything(garden) == pytest.approx(plane.area(layout(garden.project).ground), abs=1e-6)


def test_a_dragged_corner_moves_a_new_one_comes_and_one_on_its_neighbour_goes(garden: Session) -> None:
    page = BedsPage(garden)
    pick(page.beds, "Corner bed")
    page.draw_corners()
    outline = next(b for b in garden.project.structure.beds if b.name == "Corner bed").outline
    ids = {h.id: h.at for h in page.handles}
    assert sum(name.startswith("corner:") for name in ids) == len(outline)

    def corners():
        return next(b for b in garden.project.structure.beds if b.name == "Corner bed").outline

    between = next(name for name in ids if name.startswith("between:"))
    after = int(between.partition(":")[2])
    x, y = ids[between]
    page.drop(between, (x + 0.05, y + 0.05))
    assert len(corners()) == len(outline) + 1
    page.drop(f"corner:{after + 1}", corners()[after])
    assert len(corners()) == len(outline)
    page.reset()
    assert corners() == ()


def test_a_click_on_the_plan_turns_to_the_bed_or_the_area_there(garden: Session) -> None:
    page = BedsPage(garden)
    bed = next(b for b in garden.garden.layout.beds if b.name != page.bed_name)
    page.click(plane.inscribed_circle(bed.region)[0])
    assert page.bed_name == bed.name
    area = garden.project.structure.ground_areas[-1]
    page.click(plane.inscribed_circle(plane.region(area.outline))[0])
    assert page.area_name == area.name
    page.click((-99.0, -99.0))
    assert page.failures == []


def test_a_click_on_the_plan_turns_to_the_support_there(garden: Session) -> None:
    page = SupportsPage(garden)
    for support in garden.project.structure.supports:
        (x0, y0), (x1, y1) = support.line[0], support.line[-1]
        page.click(((x0 + x1) / 2 + 0.1, (y0 + y1) / 2))
        assert page.support_name == support.name
    page.click((-99.0, -99.0))
    assert page.support_name == garden.project.structure.supports[-1].name
    assert page.failures == []


def test_a_corner_that_would_cross_the_outline_goes_back(garden: Session) -> None:
    page = BedsPage(garden)
    pick(page.beds, "a new bed")
    page.beds.form.fill(outline="14', 12'; 20', 12'; 20', 16'; 14', 16'")
    page.beds.add()
    assert page.failures == [] and page.bed_name == "New bed"
    page.square.bar.value = False  # a rectangle: each of its corners by itself
    before = garden.project
    page.edited(
        "handles",
        {
            "id": ["corner:0"],
            "x": [6.5],
            "y": [4.2],
            "kind": ["path"],
            "tip": [""],
            "fill_color": [""],
            "size": [1],
        },
    )
    refused(page, "crosses")
    assert garden.project == before


def test_naming_a_numbered_leftover_makes_it_a_bed(garden: Session) -> None:
    page = BedsPage(garden)
    pick(page.beds, "Side bed")
    page.beds.remove()
    numbered = next(b.name for b in layout(garden.project).beds if not b.named)
    pick(page.beds, numbered)
    page.beds.form.fill(name="Fern bed")
    page.beds.change()
    assert bed(garden, "Fern bed").named and page.bed_name == "Fern bed"
    page.beds.form.fill(name="Street bed")
    page.beds.change()
    refused(page, "already")


def test_a_bed_is_given_soil_and_corners_in_its_form_and_loses_them_again(garden: Session) -> None:
    page = BedsPage(garden)
    pick(page.beds, "Corner bed")
    was = bed(garden, "Corner bed").area
    page.beds.form.fill(soil="clay", outline="14', 12'; 20', 12'; 20', 16'; 14', 16'")
    page.beds.change()
    record = next(b for b in garden.project.structure.beds if b.name == "Corner bed")
    assert (record.soil, len(record.outline)) == ("clay", 4) and page.failures == []
    page.beds.form.fill(outline="14', 12'; 20', 12'; 20', 160'")
    page.beds.change()
    refused(page, "outside the boundary")
    page.beds.form.fill(outline="")
    page.beds.change()
    assert bed(garden, "Corner bed").area == pytest.approx(was, abs=1e-6)
    page.beds.form.fill(name="one more")
    page.beds.add()
    refused(page, "at least three")  # a bed is drawn by its corners


def test_a_lawn_is_put_down_moved_whole_and_by_its_corner_and_taken_out(garden: Session) -> None:
    page = BedsPage(garden)
    page.areas.form.fill(name="", kind="patio")
    page.areas.add()
    ground_area = garden.project.structure.ground_areas[-1]
    assert ground_area.kind == "patio" and page.area_name == ground_area.name
    x, y = ground_area.outline[0]
    page.drop("ground_area:0", (x - 0.2, y - 0.1))
    assert garden.project.structure.ground_areas[-1].outline[0] == pytest.approx((x - 0.2, y - 0.1))
    cx, cy = plane.centre(plane.region(garden.project.structure.ground_areas[-1].outline))
    page.drop("whole:", (cx + 0.5, cy))
    assert garden.project.structure.ground_areas[-1].outline[0] == pytest.approx((x + 0.3, y - 0.1), abs=2e-3)
    page.areas.form.fill(kind="gravel")
    page.areas.change()
    assert garden.project.structure.ground_areas[-1].kind == "gravel"
    page.areas.remove()
    assert ground_area.name not in [p.name for p in garden.project.structure.ground_areas]


def test_a_round_lawn_gets_corners_few_enough_to_drag_and_keeps_its_size(garden: Session) -> None:
    page, old = BedsPage(garden), next(p for p in garden.project.structure.ground_areas if p.name == "lawn")
    pick(page.areas, "lawn")
    page.simplify()
    new = next(p for p in garden.project.structure.ground_areas if p.name == "lawn")
    assert len(new.outline) <= 14 < len(old.outline)
    assert plane.area(plane.region(new.outline)) == pytest.approx(plane.area(plane.region(old.outline)), rel=0.06)
    assert sum(h.id.startswith("ground_area:") for h in page.handles) == len(new.outline)


# ---- supports


@pytest.mark.parametrize("kind", SUPPORTS)
def test_every_kind_of_support_is_put_up_with_parts_and_taken_out(garden: Session, kind: str) -> None:
    page = SupportsPage(garden)
    pick(page.supports, "a new support")
    page.supports.form.fill(name=f"my {kind}", kind=kind)
    page.supports.add()
    assert page.failures == [] and page.support_name == f"my {kind}"
    assert "to buy" in page.table.value and ("concrete" in page.table.value or kind == "obelisk")
    usual = SUPPORTS[kind].usual
    made = garden.project.structure.supports[-1]
    assert (made.height, made.depth, made.openness) == (usual.height, usual.depth, usual.openness)
    page.supports.remove()
    assert len(garden.project.structure.supports) == 2


def test_post_depth_follows_the_rule_and_the_frost_typed(garden: Session) -> None:
    page = SupportsPage(garden)
    pick(page.supports, "seat arch")
    page.set_frost("4 ft")
    page.set_rule("frost and 6 in")
    assert garden.project.structure.frost_depth == pytest.approx(4 * FOOT)
    from gardenkit.structure.kinds.support_parts import post_of

    assert post_of(page.supports.chosen, page.posts()).buried == pytest.approx(4.5 * FOOT)
    assert any(f.topic == "posts" for f in layout(garden.project).findings) or page.advice.lines


@pytest.mark.parametrize(
    ("key", "typed", "word"), [("height", "soon", "soon"), ("height", "0", "support"), ("height", "90 ft", "support")]
)
def test_a_height_that_cannot_be_is_refused(garden: Session, key: str, typed: str, word: str) -> None:
    page, before = SupportsPage(garden), garden.project
    page.supports.form.fill(**{key: typed})
    page.supports.change()
    refused(page, word)
    assert garden.project == before


def test_a_support_with_a_plant_on_it_is_not_taken_out_and_plants_follow_its_new_name(garden: Session) -> None:
    page = SupportsPage(garden)
    pick(page.supports, "seat arch")
    page.supports.remove()
    refused(page, "grows on")
    page.supports.form.fill(name="rose arch", height="8'", openness="70", against="house")
    page.supports.change()
    arch = next(s for s in garden.project.structure.supports if s.name == "rose arch")
    assert (arch.height, arch.openness, arch.against) == (pytest.approx(8 * FOOT), 0.7, "house")
    assert {p.support for p in garden.project.planting.plants} >= {"rose arch"}
    assert "seat arch" not in {p.support for p in garden.project.planting.plants}


def test_the_wall_shows_its_trellis_and_windows(garden: Session) -> None:
    line = ((3.9, 11.49), (4.6, 11.49))  # on the wall beside the sitting room window
    page = SupportsPage(garden)
    page.edit("add", lambda p: structure_edits.add_support(p, "wall trellis", "trellis", line=line))
    pick(page.supports, "wall trellis")
    scene = page.wall_scene()
    assert scene is not None
    assert "support wall trellis" in scene.description and "window sitting room window" in scene.description


# ---- steps and ramps


def test_three_feet_of_rise_take_six_risers_of_six_inches_and_a_ramp_of_thirty_six_feet(garden: Session) -> None:
    page = ClimbsPage(garden)
    page.lie.rise.bar.value = "3 ft"
    page.steps.riser.bar.value = 6 * INCH
    page.refresh()
    climb = page.lie.climb()
    flight, ramp = page.steps.flight(climb), page.ramp.ramp(climb)
    assert flight.risers == 6 and flight.riser == pytest.approx(6 * INCH)
    assert ramp.length == pytest.approx(36 * FOOT)  # 1:12, 2010 ADA Standards 405.2
    assert ramp.runs == 2  # a run rises 30 in at most, 405.6
    assert page.compared.advice.lines and all(line.where in ("steps", "ramp") for line in page.compared.advice.lines)
    assert page.failures == []


def test_the_rise_between_two_dragged_places_is_that_of_the_spot_heights(garden: Session) -> None:
    page = ClimbsPage(garden)
    low, high = garden.project.site.heights[3], garden.project.site.heights[6]
    page.drop("end:0", low.at)
    page.drop("end:1", high.at)
    assert page.lie.climb().rise == pytest.approx(high.height - low.height)


def test_a_rise_that_cannot_be_read_is_said(garden: Session) -> None:
    page = ClimbsPage(garden)
    page.lie.rise.bar.value = "a bit"
    refused(page, "a bit")


# ---- what is seen


def test_the_share_of_the_path_and_the_ground_in_view_change_with_the_place(garden: Session) -> None:
    page = SeenPage(garden)
    shares = {}
    for place in ("gate", "side door", "bench"):
        page.place.bar.value = place
        shares[place] = (page.shown().share, page.view().measures.area)
        assert 0 <= shares[place][0] <= 1
        assert 0 < shares[place][1] <= plane.area(plane.region(garden.project.site.boundary))
    assert page.failures == [] and len({round(s, 3) for s, _ in shares.values()}) > 1


def test_an_eye_dragged_into_the_house_goes_back(garden: Session) -> None:
    page = SeenPage(garden)
    page.drop("eye", (6.0, 6.0))
    assert page.eye().at == (6.0, 6.0)
    page.edited(
        "handles",
        {
            "id": ["eye"],
            "x": [2.0],
            "y": [15.0],
            "kind": ["seat"],
            "tip": [""],
            "fill_color": [""],
            "size": [1],
        },
    )
    refused(page, "open ground")
    assert page.eye().at == (6.0, 6.0)


def test_looking_about_saves_nothing(garden: Session) -> None:
    page, before = SeenPage(garden), (garden.folder / "garden.json").read_bytes()
    page.month.bar.value, page.year.bar.value = 1, 12
    page.drop("eye", (6.0, 6.0))
    assert (garden.folder / "garden.json").read_bytes() == before


def test_an_empty_garden_is_told_what_to_do_before_anything_can_be_looked_at(tmp_path: Path) -> None:
    page = SeenPage(made(tmp_path))
    bundle = page._repr_mimebundle_()
    assert page.failures == []
    assert 'role="alert"' not in page.message.value
    assert "draw the boundary" in page.message.value
    assert "draw the boundary" in bundle["text/plain"]
    assert page.told.figures.value == page.told.below.value == ""


# ---- alternatives


def test_a_structure_kept_is_compared_taken_and_nothing_is_lost(garden: Session) -> None:
    page, live = AlternativesPage(garden), StructurePage(garden)
    first = garden.project.structure
    page.name.bar.value = "as drawn first"
    page.keep()
    live.set(width=1.5)
    assert page.figures(NOW).hard_area > page.figures("as drawn first").hard_area
    page.right.bar.value = "as drawn first"
    second = garden.project.structure
    page.take()
    assert page.failures == [] and garden.project.structure == first
    assert second in [a.structure for a in garden.project.alternatives]
    again = Session(garden.folder)
    assert again.project.alternatives == garden.project.alternatives


def test_the_options_are_written_as_a_page_for_the_client(garden: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    """What stands on the page is tested in tests/handover/test_options.py."""
    page = AlternativesPage(garden)
    page.write()
    assert "nothing is kept beside the structure" in page.message.value
    asked: list[Path] = []
    monkeypatch.setattr(options, "write", lambda _, target, **__: asked.append(target) or 1)
    page.name.bar.value = "one"
    page.keep()
    page.write()
    assert asked == [garden.folder / "options.html"] and "options.html" in page.message.value and not page.failures


def test_a_name_taken_is_refused_and_one_thrown_away_is_gone(garden: Session) -> None:
    page = AlternativesPage(garden)
    page.name.bar.value = "one"
    page.keep()
    page.name.bar.value = "one"
    page.keep()
    refused(page, "already")
    page.right.bar.value = "one"
    page.throw_away()
    assert garden.project.alternatives == ()


# ---- seats, and a garden without paths


def test_a_seat_is_added_named_turned_moved_and_deleted_on_the_page(garden: Session) -> None:
    page = StructurePage(garden)
    pick(page.seats, "a new seat")
    page.seats.form.fill(name="evening bench", width="4'")
    page.seats.add()
    assert page.seats.title == "evening bench"
    page.place.turn_to("135")
    page.seats.form.fill(name="sunset bench")
    page.seats.change()
    assert page.seats.title == "sunset bench" and page.place.turn.bar.value == "135"
    seat = next(s for s in garden.project.structure.seats if s.name == "sunset bench")
    assert (seat.facing, seat.width, seat.depth) == (135.0, pytest.approx(4 * FOOT), 0.6)
    to = (round(seat.at[0] + 0.1, 3), seat.at[1])
    page.drop("seat:sunset bench", to)
    assert next(s.at for s in garden.project.structure.seats if s.name == "sunset bench") == to
    page.seats.remove()
    assert "sunset bench" not in [s.name for s in garden.project.structure.seats]
    assert page.failures == []


def test_a_thing_is_placed_turned_moved_chosen_by_a_click_and_removed_on_the_page(garden: Session) -> None:
    page = StructurePage(garden)
    before = garden.project.structure.things
    page.seats.choose_kind("placed thing")
    page.seats.form.fill(name="rain", kind="water butt", height="4'", roof="300")
    page.seats.add()
    thing = garden.project.structure.things[-1]
    assert (thing.kind, thing.height) == ("water butt", pytest.approx(4 * FOOT))
    assert thing.roof == pytest.approx(300 * FOOT * FOOT) and page.seats.form.texts()["roof"] == "300 sq ft"
    page.place.turn_to("45°")
    to = (round(thing.at[0] + 0.1, 3), thing.at[1])
    page.drop("thing:rain", to)
    thing = garden.project.structure.things[-1]
    assert (thing.facing, thing.at) == (45.0, to)
    page.seats.choose_kind("seat")
    page.click(to)
    assert page.seats.title == "rain" and page.seats.kind.word == "placed thing"
    page.seats.form.fill(kind="flight of steps", handrail="yes")
    page.seats.change()
    made = garden.project.structure.things[-1]
    assert (made.kind, made.handrail) == ("flight of steps", True)
    assert page.seats.form.texts()["handrail"] == "yes"
    page.seats.form.fill(kind="bench")  # its height was typed, so it keeps its sizes
    page.seats.change()
    assert garden.project.structure.things[-1].height == pytest.approx(4 * FOOT)
    page.seats.remove()
    assert garden.project.structure.things == before
    assert page.failures == []


def test_a_seat_dragged_into_the_house_goes_back_with_a_sentence(garden: Session) -> None:
    page = StructurePage(garden)
    seat = garden.project.structure.seats[0]
    inside = plane.inscribed_circle(plane.region(garden.project.site.buildings[0].outline))[0]
    page.drop(f"seat:{seat.name}", inside)
    refused(page, "would stand inside")
    assert garden.project.structure.seats[0] == seat


def test_a_garden_without_paths_shows_no_path_sliders(tmp_path: Path) -> None:
    page = StructurePage(made(tmp_path, boundary=((0, 0), (9, 0), (9, 14), (0, 14))))
    assert {box.layout.display for box in page.of_a_path} == {"none"}
    assert page.no_path.layout.display is None


def test_the_structure_notebook_runs_to_its_end_on_a_fresh_empty_garden(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every cell of 04_structure, the check cell too, on a garden with nothing in it."""
    made(tmp_path)
    monkeypatch.setenv("GARDENKIT_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("GARDENKIT_GARDEN", str(tmp_path / "new"))
    cells = json.loads((Path(__file__).parents[2] / "workbook" / "04_structure.ipynb").read_text())["cells"]
    known: dict[str, object] = {}
    for cell in cells:
        if cell["cell_type"] == "code":
            exec("".join(cell["source"]), known)
    assert known["garden"].project.name == "new"  # type: ignore[attr-defined]


def test_levels_are_set_on_their_page_and_the_soil_is_told(tmp_path: Path) -> None:
    """A terrace over a slope of 10 %: typed, dragged by its place, cut and fill in a table, refused in one sentence."""
    heights = [SpotHeight(at=(x, y), height=0.1 * y) for x in (0.0, 12.0) for y in (0.0, 12.0)]
    page = LevelsPage(made(tmp_path, boundary=((0, 0), (12, 0), (12, 12), (0, 12)), heights=tuple(heights)))
    page.levels.form.fill(
        name="terrace", height="2 ft", fall="2", falls_to="180", edge="wall", outline="12, 12\n24, 12\n24, 24\n12, 24"
    )
    page.levels.add()
    (level,) = page.project.structure.levels
    assert (level.height, level.fall, level.edge) == (pytest.approx(2 * FOOT), 2.0, "wall")
    assert "dug (cut)" in page.table.value
    assert "retaining wall of terrace" in page.table.value
    page.drop("level:terrace", (6.0, 6.0))
    assert page.project.structure.levels[0].at == (6.0, 6.0)
    page.levels.form.fill(height="two feet")
    page.levels.change()
    refused(page, "level &quot;terrace&quot;, height over")
    page.click((6.5, 6.5))
    assert page.levels.title == "terrace"
    page.levels.remove()
    assert "none yet" in page.table.value
    assert page.failures == []


def test_a_way_without_steps_is_found_drawn_and_taken_on_the_page_of_levels(tmp_path: Path) -> None:
    """On a slope of 6 % no walk lies as it is, so ways are proposed, drawn in blue, and one is taken."""
    heights = tuple(SpotHeight(at=(x, y), height=0.06 * y) for x in (0.0, 16.0) for y in (0.0, 16.0))
    page = LevelsPage(made(tmp_path, boundary=((0, 0), (16, 0), (16, 16), (0, 16)), heights=heights))
    page.ways.look()
    refused(page, "two different places")
    for name, at in (("low", (8.0, 2.0)), ("high", (8.0, 13.0))):
        page.edit(name, lambda p, name=name, at=at: structure_edits.add_seat(p, name, at=at))
    page.ways.look()
    assert "1:20.6 at the steepest" in page.ways.said.value
    blue = page.ways.marks(60.0)
    assert blue
    page.ways.leave()
    assert page.ways.marks(60.0) == ()
    page.ways.take()
    refused(page, "no way is drawn")
    page.ways.look()
    assert page.message.value == ""  # it is no longer so
    page.ways.take()
    assert [len(path.heights) > 1 for path in page.project.structure.paths] == [True]
    assert page.failures == []


def test_a_click_on_a_stone_chooses_its_path_and_shows_the_stone_and_what_is_said_of_it(garden: Session) -> None:
    page = StructurePage(garden)
    names = list(page.layout().layings)
    name = next(n for n in reversed(names) if page.layout().layings[n].stones)
    stone = page.layout().layings[name].stones[3]
    page.click(stone.at)
    assert (page.path_name, page.stone) == (name, stone.number)
    assert f"chosen: stone {stone.number + 1}" in page.figures.value
    assert f"stone:{stone.number}" in [handle.id for handle in page.handles]
    own = [line for line in page.advice.lines if names_it(line, name)]
    assert list(page.advice.lines[: len(own)]) == own
    page.choose(names[0])
    assert "chosen: stone" not in page.figures.value
    assert page.failures == []


def test_a_note_is_typed_dragged_and_its_words_stand_on_the_plan(tmp_path: Path) -> None:
    page = NotesPage(made(tmp_path, boundary=((0, 0), (12, 0), (12, 12), (0, 12))))
    page.notes.form.fill(kind="note", text="keep this wall", line="10, 10\n16, 16")
    page.notes.add()
    page.drop("point:1", (6.0, 7.0))
    assert page.project.site.notes[0].line[1] == (6.0, 7.0)
    first, other = page.project.site.notes[0].line
    page.drop("whole:", ((first[0] + other[0]) / 2 + 1.0, (first[1] + other[1]) / 2))
    moved = page.project.site.notes[0].line
    assert moved == ((pytest.approx(first[0] + 1, abs=0.002), first[1]), (7.0, 7.0))
    page.place.put("20, 20")  # feet, of its middle
    assert page.project.site.notes[0].middle == pytest.approx((6.096, 6.096), abs=0.002)
    assert any(getattr(mark, "text", "") == "keep this wall" for mark in page.scene().marks)
    page.notes.form.fill(text="")
    page.notes.change()
    refused(page, "says nothing")
    page.notes.remove()
    assert page.project.site.notes == ()
    assert page.failures == []
