"""What is chosen on a plan is turned by a handle and sized by its corners, and the typed turn and size agree."""

import pytest

from gardenkit.geometry import plane
from gardenkit.notebook.grips import grips
from gardenkit.notebook.pages.beds import BedsPage
from gardenkit.notebook.pages.levels import LevelsPage
from gardenkit.notebook.pages.structure import StructurePage
from gardenkit.notebook.pages.supports import SupportsPage
from gardenkit.notebook.session import Session
from gardenkit.project.edits import site, structure
from gardenkit.project.edits.moved import place_of
from gardenkit.project.edits.shaped import rectangle_of, turn_of

TERRACE = ((10.0, 10.0), (14.0, 10.0), (14.0, 13.0), (10.0, 13.0))


@pytest.fixture
def plot(empty: Session) -> Session:
    empty.edit("plot", lambda p: site.set_boundary(p, ((0, 0), (30, 0), (30, 30), (0, 30))))
    return empty


def handle(page, way: str):
    return next(one for one in page.handles if one.id.startswith(way))


def drag(page, way: str, to) -> None:
    """Hand the page what the browser sends when a handle was dragged."""
    held = handle(page, way)
    page.edited("handles", {"id": [held.id], "x": [to[0]], "y": [to[1]]})
    assert page.failures == []


def test_a_seat_turned_and_sized_on_the_plan_shows_its_turn_and_size_as_typed(plot: Session) -> None:
    plot.edit("seat", lambda p: structure.add_seat(p, "bench", at=(12.0, 12.0)))
    page = StructurePage(plot)
    page.click((12.0, 12.0))
    assert {h.kind for h in page.handles} == {"seat", "turn", "size"}
    drag(page, "turn:", (15.0, 12.0))
    assert plot.project.structure.seats[0].facing == 90.0 and page.place.turn.bar.value == "90"
    page.place.turn_to("30°")
    top = handle(page, "turn:").at
    assert plane.heading((12.0, 12.0), top) == pytest.approx(30.0)
    page.place.turn_to("0")
    drag(page, "size:2:", (13.25, 13.0))  # its left and lower sides stay
    seat = plot.project.structure.seats[0]
    assert (seat.width, seat.depth) == (2.0, 1.3) and seat.at == (12.25, 12.35)
    page.place.size_to("1.8 m, 0.7 m")
    seat = plot.project.structure.seats[0]
    assert (seat.width, seat.depth, seat.at) == (1.8, 0.7, (12.25, 12.35))
    before = plot.project
    page.place.size_to("0.01 m, 1 m")
    assert plot.project is before and "or more" in page.message.value
    page.undo()
    assert page.place.size.bar.value == "6' 6½\", 4' 3\""


def test_a_terrace_keeps_its_right_angles_until_that_is_not_wanted(plot: Session) -> None:
    plot.edit("terrace", lambda p: structure.add_area(p, "patio", outline=TERRACE, name="terrace"))
    page = BedsPage(plot)
    page.click((12.0, 11.0))
    drag(page, "size:2:", (15.0, 14.5))
    assert plot.project.structure.ground_areas[0].outline == ((10.0, 10.0), (15.0, 10.0), (15.0, 14.5), (10.0, 14.5))
    page.area_place.turn_to("120")  # its first side ran to the right: 90
    assert turn_of(plot.project, "area", "terrace") == 120.0
    box = rectangle_of(plot.project, "area", "terrace")
    assert box is not None and sorted(box.size) == pytest.approx([4.5, 5.0], abs=0.002)
    assert place_of(plot.project, "area", "terrace") == pytest.approx((12.5, 12.25), abs=0.002)
    before = plot.project
    drag(page, "size:1:", (60.0, 5.0))
    assert plot.project is before and page.message.value
    page.square.bar.value = False
    assert any(h.id == "ground_area:1" for h in page.handles) and not any(h.kind == "size" for h in page.handles)


def test_a_bed_a_level_and_a_support_turn_about_their_middles(plot: Session) -> None:
    plot.edit("bed", lambda p: structure.draw_bed(p, TERRACE, name="herbs"))
    plot.edit("level", lambda p: structure.add_level(p, outline=TERRACE, height=0.2, name="top"))
    plot.edit("wires", lambda p: structure.add_support(p, "trellis", "trellis", line=((20.0, 20.0), (22.0, 20.0))))
    beds, levels, supports = BedsPage(plot), LevelsPage(plot), SupportsPage(plot)
    beds.beds.turn_to("herbs")
    levels.levels.turn_to("top")
    drag(beds, "turn:bed:", (12.0, 25.0))
    drag(levels, "size:0:level:", (9.0, 9.0))
    drag(supports, "turn:support:", (21.0, 25.0))
    bones = plot.project.structure
    assert bones.beds[0].outline[0] == pytest.approx((13.5, 9.5)) and turn_of(plot.project, "bed", "herbs") == 0.0
    assert bones.levels[0].outline == ((9.0, 9.0), (14.0, 9.0), (14.0, 13.0), (9.0, 13.0))
    assert bones.supports[0].line == ((21.0, 19.0), (21.0, 21.0))
    assert grips(plot.project, "support", "trellis", sized=True)[0].about == (21.0, 20.0)
