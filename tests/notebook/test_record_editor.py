"""The one editor of records: what it lists, what it keeps when something cannot be read, and that it never blanks."""

import html
from pathlib import Path

import pytest

from gardenkit.notebook import controls, gardens
from gardenkit.notebook.pages.ground import GroundPage
from gardenkit.notebook.pages.want_fields import WANT
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.notebook.session import Session


@pytest.fixture
def page(tmp_path: Path) -> GroundPage:
    gardens.copy_garden(gardens.example("fennel_street_corner"), tmp_path / "garden")
    return GroundPage(Session(tmp_path / "garden"))


def turn_to(editor: RecordEditor, word: str, line: int) -> None:
    editor.kinds.bar.value = word
    editor.which.bar.index = line


def words(editor: RecordEditor) -> list[str]:
    return [label for label, _ in controls.choices(editor.which.bar)]


def test_a_line_of_the_list_is_a_name_with_its_main_figures_in_the_gardens_units(page: GroundPage) -> None:
    turn_to(page.things, "tree", 0)
    tree = page.project.site.trees[0]
    assert (tree.height, tree.spread) == (5.2, 5.5)  # 5.2 / 0.3048 = 17 ft 0.7 in, 5.5 / 0.3048 = 18 ft 0.5 in
    assert words(page.things) == ["a new tree", "old serviceberry · 17' 0½\" · 18' 0½\""]


def test_the_list_shows_what_is_chosen_after_every_press(page: GroundPage) -> None:
    editor = page.things
    turn_to(editor, "tree", 1)
    editor.which.bar.index = 0  # "a new tree"; ipywidgets alone would show nothing
    assert editor.which.bar.label == "a new tree"
    editor.form.fill(name="plum", at="10, 20")
    editor.add()
    assert editor.which.bar.label.startswith("plum · ")
    editor.form.fill(name="damson", height="20'", spread="16'")
    editor.change()
    assert editor.which.bar.label == "damson · 20' 0\" · 16' 0\""
    page.undo()
    page.redo()
    assert editor.which.bar.label is not None
    editor.which.bar.index = 2
    editor.remove()
    assert editor.which.bar.label == "a new tree"
    assert [t.name for t in page.project.site.trees] == ["old serviceberry"]
    assert page.failures == []


def test_what_cannot_be_read_is_said_beside_its_field_and_what_was_typed_stays(page: GroundPage) -> None:
    editor, before = page.things, page.project
    turn_to(editor, "tree", 1)
    editor.form.fill(height="tall", spread="12'")
    editor.change()
    box = editor.form.boxes["height"]
    said = html.unescape(box.children[-1].value)
    assert 'cannot read the length "tall" for tree "old serviceberry", height' in said
    assert [key for key, other in editor.form.boxes.items() if other.children != other.beside] == ["height"]
    assert (box.bar.value, editor.form.boxes["spread"].bar.value) == ("tall", "12'")
    assert page.project == before
    editor.form.fill(height="18'")
    editor.change()
    assert all(other.children == other.beside for other in editor.form.boxes.values())
    assert page.failures == []


def test_two_kinds_do_not_see_each_others_records(page: GroundPage) -> None:
    editor = page.things
    turn_to(editor, "door", 1)
    doors = [o.name for o in page.project.site.openings if o.kind == "door"]
    assert [line.split(" · ")[0] for line in words(editor)] == ["a new door", *doors]
    turn_to(editor, "gate", 0)
    assert editor.which.bar.label == "a new gate"
    assert editor.change_button.disabled
    assert editor.remove_button.disabled


@pytest.mark.parametrize("example", gardens.examples(), ids=lambda folder: folder.name)
def test_every_want_comes_back_from_its_form_unchanged(tmp_path: Path, example: Path) -> None:
    gardens.copy_garden(example, tmp_path / "garden")
    project = Session(tmp_path / "garden").project
    assert project.brief.wants
    for want in project.brief.wants:
        values = WANT.read(WANT.texts(want, project.units), project, old=want)
        assert WANT.change(project, want, values) == project
