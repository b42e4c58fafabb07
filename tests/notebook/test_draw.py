"""Drawing on the live plans by clicks, as the browser sends them: from an empty garden to paths and beds."""

import pytest

from gardenkit.geometry import plane
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.pages.beds import BedsPage
from gardenkit.notebook.pages.ground import GroundPage
from gardenkit.notebook.pages.paths import PathsPage
from gardenkit.notebook.pages.structure import StructurePage
from gardenkit.notebook.pages.supports import SupportsPage
from gardenkit.notebook.session import Session
from gardenkit.units import FOOT


def clicks(draw: Draw, what: str, *points: tuple[float, float], way: str = "corners") -> None:
    draw.what.bar.value = what
    draw.way.bar.value = way
    for at in points:
        draw.click(at)


def test_an_empty_garden_gets_its_boundary_house_and_door_by_mouse(empty: Session) -> None:
    page = GroundPage(empty)
    draw = page.plan.draw
    draw.grid.bar.value = True
    clicks(draw, "boundary", (0.1, 0.1), (20 * FOOT + 0.1, 0.1), (20 * FOOT, 40 * FOOT), (0.1, 40.1 * FOOT))
    assert "120&#x27; 0&quot; round" in draw.said.value and "800 sq ft" in draw.said.value  # the measure so far is said
    assert draw.sketch.words.data["text"][0] == "20' 0\""
    draw.end_at((0.1, 40.1 * FOOT))
    corners = [(0.0, 0.0), (20 * FOOT, 0.0), (20 * FOOT, 40 * FOOT), (0.0, 40 * FOOT)]
    assert [[round(v, 3) for v in p] for p in page.project.site.boundary] == [[round(v, 3) for v in p] for p in corners]
    assert "800 sq ft" in page.message.value  # 20 x 40
    clicks(draw, "house", (5 * FOOT, 5 * FOOT), (15 * FOOT, 15 * FOOT), way="rectangle")
    assert draw.drawing == "" and page.things.title == "house"
    clicks(draw, "door", (10 * FOOT, 15.1 * FOOT))
    assert [o.on for o in page.project.site.openings] == ["house"]
    assert page.failures == []


def test_a_click_on_the_last_point_again_adds_none(empty: Session) -> None:
    page = GroundPage(empty)
    clicks(page.plan.draw, "boundary", (0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (9.0, 8.99))
    assert page.plan.draw.clicked == ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0))
    assert page.failures == []


def test_ground_heights_are_clicked_then_typed_and_dragged(empty: Session) -> None:
    page = GroundPage(empty)
    clicks(page.plan.draw, "ground height", (0.0, 0.0))
    assert page.things.title == "height"
    clicks(page.plan.draw, "ground height", (10.0, 0.0))
    page.things.form.boxes["height"].bar.value = "-4'"
    page.things.change()
    page.plan.drop("height:1", (20.0, 0.0))
    assert [(one.name, one.at, round(one.height, 4)) for one in page.project.site.heights] == [
        ("height", (0.0, 0.0), 0.0),
        ("height 2", (20.0, 0.0), -1.2192),
    ]
    clicks(page.plan.draw, "ground height", (10.0, 0.0))  # as known there, half way down, until it is measured
    assert page.project.site.heights[2].height == pytest.approx(-0.6096, abs=1e-3)
    page.things.remove()
    assert len(page.project.site.heights) == 2
    assert page.failures == []


def test_esc_lets_go_and_a_click_chooses_again(garden: Session) -> None:
    page = BedsPage(garden)
    before = page.project
    clicks(page.draw, "lawn", (1.0, 1.0), (2.0, 1.0))
    assert list(page.plan.handles.data["id"]) == []
    page.draw.let_go()
    assert page.project is before and page.draw.clicked == () and page.draw.sketch.clicked.data["x"] == []
    bed = next(b for b in garden.garden.beds if b.name != page.bed_name)
    page.draw.click(plane.inscribed_circle(bed.region)[0])
    assert page.bed_name == bed.name
    assert page.failures == []


def test_points_are_taken_back_and_typed(empty: Session) -> None:
    page = GroundPage(empty)
    draw = page.plan.draw
    clicks(draw, "boundary", (0.0, 0.0), (9.0, 0.0))
    draw.back()
    draw.typed.bar.value = "10', 0"
    draw.typed.bar.value = "10', 10'"
    draw.done()
    assert plane.area(plane.region(page.project.site.boundary)) == pytest.approx(50 * FOOT**2, rel=1e-3)
    assert page.failures == []


def test_what_is_refused_keeps_its_clicks_and_says_why(garden: Session) -> None:
    page = BedsPage(garden)
    before = page.project
    clicks(page.draw, "lawn", (900.0, 1.0), (905.0, 1.0), (905.0, 6.0))
    page.draw.done()
    assert "outside the boundary" in page.message.value
    assert len(page.draw.clicked) == 3 and page.project is before
    assert page.failures == []


def test_two_quick_clicks_at_two_places_are_two_points(empty: Session) -> None:
    page = GroundPage(empty)
    clicks(page.plan.draw, "fence", (0.0, 0.0))
    page.plan.draw.end_at((6.0, 0.0))
    assert len(page.plan.draw.clicked) == 2 and page.project.site.fences == ()
    page.plan.draw.end_at((6.0, 0.0))
    assert [f.kind for f in page.project.site.fences] == ["fence"]
    assert page.failures == []


def test_a_tape_says_a_length_and_changes_nothing(garden: Session) -> None:
    page = SupportsPage(garden)
    before, draw = page.project, page.draw
    for box in (draw.corners, draw.edges, draw.square):
        box.bar.value = False
    clicks(draw, draw.what.bar.options[-1][1], (1.0, 1.0), (1.0 + 3 * FOOT, 1.0 + 4 * FOOT))
    draw.done()
    assert "2 points, 5&#x27; 0&quot; long" in page.message.value and page.project is before  # the 3-4-5 triangle
    assert page.failures == []


def test_a_bed_an_area_a_path_a_seat_and_a_support_are_drawn_on_their_pages(garden: Session) -> None:
    spot = max(garden.garden.beds, key=lambda b: b.depth).at
    seats = StructurePage(garden)
    clicks(seats.draw, "seat", spot)
    assert seats.seats.title == "seat"
    here = next(s.at for s in garden.project.structure.seats if s.name == seats.seats.title)
    paths, way = PathsPage(garden), next(iter(garden.garden.layout.routes.values()))
    middle = tuple(float(v) for v in way.curve.at(way.length / 2)[0])
    clicks(paths.draw, "path", here, middle)
    paths.draw.done()
    made = garden.project.structure.paths[-1]
    assert (paths.path_name, made.start) == (made.name, seats.seats.title)
    beds = BedsPage(garden)
    x, y = spot
    clicks(beds.draw, "bed", (x - 1, y - 1), (x + 1, y + 1), way="rectangle")
    assert beds.bed_name == "New bed" and plane.area(plane.region(garden.project.structure.beds[-1].outline)) > 0
    supports = SupportsPage(garden)
    clicks(supports.draw, "trellis", (x - 1, y), (x + 1, y))
    supports.draw.done()
    assert supports.support_name == garden.project.structure.supports[-1].name
    for page in (seats, paths, beds, supports):
        assert page.failures == []


def test_a_shed_as_found_a_new_one_and_a_cable_open_their_own_fields(few: Session) -> None:
    ground, bones = GroundPage(few), StructurePage(few)
    clicks(ground.plan.draw, "shed", (4.2, 5.2), (6.0, 7.0), way="rectangle")
    assert [b.name for b in few.project.site.buildings] == ["house", "shed"] and ground.things.title == "shed"
    assert ground.undo()
    clicks(bones.draw, "new shed", (5.2, 7.0))
    assert few.project.structure.things[-1].kind == "shed" and bones.seats.title == "shed"
    clicks(bones.draw, "low-voltage cable", (4.2, 5.2), (6.4, 7.3))
    bones.draw.done()
    assert bones.cables.title == few.project.structure.cables[-1].name
    assert ground.failures == bones.failures == []


def test_drawing_is_one_step_of_undo_named_by_what_was_drawn(empty: Session) -> None:
    page = GroundPage(empty)
    clicks(page.plan.draw, "boundary", (0.0, 0.0), (9.0, 12.0), way="rectangle")
    assert [s.label for s in empty.steps()][-1] == "draw boundary"
    page.undo()
    assert page.project.site.boundary == ()


def test_points_of_fences_and_corners_of_obstacles_are_dragged(garden: Session) -> None:
    page = GroundPage(garden)
    for words, things in (("points of fences", "fences"), ("corners of obstacles", "obstacles")):
        page.plan.drag.bar.value = words
        data = {key: list(column) for key, column in page.plan.plan.handles.data.items()}
        assert len(data["id"]) == sum(
            len(t.line if things == "fences" else t.outline) for t in getattr(page.project.site, things)
        )
        before = getattr(page.project.site, things)
        data["y"][0] += 0.05
        page.plan.edited("handles", data)
        after = getattr(page.project.site, things)
        assert after[0] != before[0] and after[1:] == before[1:], page.message.value
    assert page.failures == []
