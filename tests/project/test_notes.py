"""What is written on the plan: drawn as it is said, checked, and minded by what is built."""

import attrs
import pytest

import gardenkit.project as projects
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Label, Stroke, plain
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import draw
from gardenkit.project.layout import layout
from gardenkit.project.pointing import note_at
from gardenkit.site.notes import Note, supplied_at
from gardenkit.site.site import Site

PLOT = ((0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0))


def plot() -> Project:
    return Project(name="p", units="metric", site=Site(boundary=PLOT))


def words(project: Project) -> list[str]:
    scene = garden_scene(project, layout(project), scale=60)
    return [mark.text for mark in plain(scene.marks) if isinstance(mark, Label)]


def said(project: Project, tmp_path, topic: str) -> list[str]:
    return [f.sentence() for f in Garden(project, tmp_path).advice_about((topic,))]


def test_a_dimension_says_its_own_length_in_the_gardens_units_and_is_drawn_aside() -> None:
    project = edits.add_note(plot(), "dimension", line=((2.0, 2.0), (6.0, 5.0), (2.0, 4.0)))
    assert "5.00 m" in words(project)  # a triangle of 3, 4, 5
    assert "16' 5\"" in words(attrs.evolve(project, units="imperial"))
    scene = garden_scene(project, layout(project), scale=60)
    drawn = [
        m.points for m in plain(scene.marks) if isinstance(m, Stroke) and m.layer == "labels" and len(m.points) == 2
    ]
    (p, q) = next(points for points in drawn if abs((points[1][0] - points[0][0]) - 4) < 1e-6)
    assert (p, q) == (pytest.approx((1.04, 3.28)), pytest.approx((5.04, 6.28)))  # 1.6 m aside, square to it
    assert "about 5" in words(edits.change_note(project, "dimension", text="about 5"))


def test_a_note_stands_at_its_place_with_a_leader_to_what_it_is_about() -> None:
    project = edits.add_note(
        plot(), "note", line=((3.0, 3.0), (6.0, 6.0)), text="lay this edge flush with the lawn so that it mows"
    )
    assert "lay this edge flush with the" in words(project)  # broken into lines
    scene = garden_scene(project, layout(project), scale=60)
    assert any(isinstance(m, Stroke) and m.points == ((3.0, 3.0), (6.0, 6.0)) for m in plain(scene.marks))


@pytest.mark.parametrize("kind", ["tap", "transformer"])
def test_a_supply_point_is_recorded_by_one_click_and_named_on_the_plan(kind: str) -> None:
    project = draw(plot(), kind, ((4.0, 3.0),))
    (note,) = project.site.notes
    assert (note.kind, note.line) == (kind, ((4.0, 3.0),))
    assert kind in words(project)
    assert supplied_at(project.site.notes, kind) == (4.0, 3.0)
    assert note_at(project.site.notes, (4.0, 3.1)) == note
    moved = edits.move_note(project, note.name, to=(5.0, 3.0))
    assert supplied_at(moved.site.notes, kind) == (5.0, 3.0)
    assert supplied_at(moved.site.notes, "service") is None


def test_a_service_and_an_easement_are_minded_by_what_is_dug(tmp_path) -> None:
    patio = edits.add_area(plot(), "patio", outline=((3, 3), (6, 3), (6, 6), (3, 6)), name="terrace")
    gas = edits.add_note(patio, "service", line=((6.3, 0.0), (6.3, 10.0)), text="gas")
    assert any("terrace would be dug within" in one for one in said(gas, tmp_path, "clearance"))
    away = edits.move_note_point(edits.move_note_point(gas, "service", 0, to=(9.0, 0.0)), "service", 1, to=(9.0, 10.0))
    assert not any("terrace would be dug within" in one for one in said(away, tmp_path, "clearance"))
    kept = edits.add_note(patio, "easement", line=((5, 0), (8, 0), (8, 10), (5, 10)), text="drain of the town")
    assert any("terrace would stand on it" in one for one in said(kept, tmp_path, "permit"))
    assert "easement: drain of the town" in words(kept)


def test_notes_are_drawn_by_clicks_found_and_taken_off() -> None:
    project = draw(plot(), "note", ((2.0, 2.0), (4.0, 4.0)))
    (note,) = project.site.notes
    assert note.text
    assert note_at(project.site.notes, (3.05, 3.0)) == note
    assert note_at(project.site.notes, (9.0, 3.0)) is None
    assert edits.remove_note(project, note.name).site.notes == ()
    assert draw(plot(), "setback", ((0, 0), (12, 0), (12, 1), (0, 1))).site.notes[0].kind == "setback"


@pytest.mark.parametrize(
    ("note", "sentence"),
    [
        (Note(name="a", kind="dimension", line=((1, 1),)), "has 1 points"),
        (Note(name="a", kind="note", line=((1, 1),), text=" "), "says nothing"),
        (Note(name="a", kind="easement", line=((0, 0), (2, 2), (2, 0), (0, 2))), "cross"),
    ],
)
def test_a_note_that_cannot_be_drawn_is_refused(note: Note, sentence: str) -> None:
    with pytest.raises(GardenError, match=sentence):
        projects.check(attrs.evolve(plot(), site=attrs.evolve(plot().site, notes=(note,))))
    with pytest.raises(GardenError, match=sentence):
        edits.add_note(plot(), note.kind, line=note.line, text=note.text)
