"""A garden drawn by clicks from nothing, every thing of the list through its own edit."""

import attrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.project import Project, check
from gardenkit.project.edits import drawn
from gardenkit.project.edits.drawn import DRAWABLES, draw, drawable, drawn_name
from gardenkit.project.layout import layout
from gardenkit.units import System

PLOT = ((0.0, 0.0), (20.0, 0.0), (20.0, 30.0), (0.0, 30.0))
HOUSE = ((4.0, 0.5), (14.0, 0.5), (14.0, 8.0), (4.0, 8.0))


@pytest.fixture
def begun() -> Project:
    made = draw(Project(name="drawn"), "boundary", PLOT)
    made = draw(made, "house", HOUSE)
    made = draw(made, "door", ((9.0, 8.2),))
    made = draw(made, "gate", ((2.0, 0.1),))
    return draw(made, "seat", ((15.0, 26.0),))


@pytest.mark.parametrize(("units", "one"), [("imperial", 0.3048), ("metric", 1.0)])  # a foot: NIST SP 811
def test_what_is_drawn_has_the_sizes_that_its_form_offers(begun: Project, units: System, one: float) -> None:
    project = attrs.evolve(begun, units=units)
    window = draw(project, "window", ((12.0, 8.0),)).site.openings[-1]
    tree = draw(project, "tree", ((5.0, 20.0),)).site.trees[-1]
    shown = (window.width, window.sill, window.head, tree.height, tree.spread)
    feet = (4, 3, 7, 25, 20) if units == "imperial" else (1.2, 0.9, 2.1, 7.5, 6.0)
    assert shown == pytest.approx([number * one for number in feet])


@pytest.mark.parametrize("what", [w for w in DRAWABLES if w not in ("boundary", drawn.TAPE)])
def test_everything_on_the_list_can_be_drawn_and_is_found_by_its_name(begun: Project, what: str) -> None:
    form = DRAWABLES[what].form
    outline = ((14.5, 12.0), (18.0, 12.0), (18.0, 16.0), (14.5, 16.0))
    points = {"outline": outline, "line": ((9.0, 8.0), (11.0, 14.0), (15.0, 26.0)), "spot": ((9.5, 8.0),)}[form]
    if form == "spot" and what not in ("door", "window"):
        points = ((12.0, 0.0),) if what == "gate" else ((5.0, 20.0),)
    if what == drawn.CUT:  # lies in a path
        begun = draw(begun, "path", ((9.0, 8.1), (15.2, 25.8)))
        route = layout(begun).routes["path"]
        x, y = route.curve.at(route.length / 2)[0]
        points = ((x - 0.3, y - 0.3), (x + 0.3, y - 0.3), (x, y + 0.4))
    made = draw(begun, what, points)
    check(made)
    assert drawn_name(begun, made, drawable(what))
    assert draw(made, what, points) != made  # another one, under a free name


def test_every_word_of_the_list_draws_one_thing(begun: Project) -> None:
    assert [word for word, row in DRAWABLES.items() if row.word != word] == []
    assert len(drawn._ROWS) == len(DRAWABLES)
    assert draw(begun, "shed", (HOUSE[0], (5.0, 0.5), (5.0, 3.0))).site.buildings[-1].name == "shed"


def test_a_drawn_outline_is_on_record_as_it_was_clicked(begun: Project) -> None:
    made = draw(begun, "lawn", ((5.0, 15.0), (5.0, 22.0), (12.0, 22.0), (12.0, 15.0)))
    assert plane.area(plane.region(made.structure.ground_areas[-1].outline)) == pytest.approx(49.0)


def test_a_drawn_path_goes_from_place_to_place_through_its_points(begun: Project) -> None:
    made = draw(begun, "path", ((9.0, 8.1), (11.0, 14.0), (15.2, 25.8)))
    path, route = made.structure.paths[-1], layout(made).routes["path"]
    assert (path.start, path.end) == ("door", "seat")
    assert plane.distance(plane.line(route.curve.points), plane.point((11.0, 14.0))) < 0.02


def test_a_path_to_another_path_joins_it_where_it_was_clicked(begun: Project) -> None:
    made = draw(begun, "path", ((9.0, 8.0), (9.0, 14.0), (15.0, 26.0)))
    made = draw(made, "path", ((2.0, 0.0), (2.0, 9.0), (9.0, 14.0)))
    last, route = made.structure.paths[-1], layout(made).routes["path 2"]
    assert (last.start, last.end) == ("gate", "path")
    assert plane.distance(plane.line(route.curve.points), plane.point((9.0, 14.0))) < made.structure.paths[0].width


@pytest.mark.parametrize(
    ("what", "points", "said"),
    [
        ("path", ((17.0, 12.0), (15.0, 26.0)), "starts at no door"),
        ("path", ((15.0, 26.0), (15.5, 26.4)), 'start and end at "seat"'),
        ("lawn", ((5.0, 15.0), (12.0, 22.0)), "needs 3 points"),
        ("bed", ((30.0, 15.0), (35.0, 15.0), (35.0, 20.0)), "outside the boundary"),
        ("lawn", ((5.0, 15.0), (12.0, 22.0), (12.0, 15.0), (5.0, 22.0)), "crosses"),
        ("terrase", ((5.0, 15.0),), "cannot be drawn"),
        ("window", ((9.0, 20.0),), "wall"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(begun: Project, what: str, points: tuple, said: str) -> None:
    with pytest.raises(GardenError, match=said):
        draw(begun, what, points)
