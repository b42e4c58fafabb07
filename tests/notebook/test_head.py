"""The head of every notebook says how far the wants are met, in the words of the list itself."""

from pathlib import Path

from gardenkit import storage
from gardenkit.brief.wants import told
from gardenkit.notebook import workbook
from gardenkit.project import Project
from gardenkit.project.edits import brief


def test_the_head_says_how_far_the_wants_are_met_and_follows_every_change(tmp_path: Path) -> None:
    storage.create(tmp_path / "plot", Project(name="Plot <1>"))
    session = workbook.open_garden(tmp_path / "plot")
    assert session._repr_mimebundle_()["text/plain"] == 'the garden "Plot <1>": no wants yet'
    session.edit("ask", lambda p: brief.ask_for(p, text="no yew", asks="plant_never", words=("Taxus",)))
    session.edit("ask", lambda p: brief.ask_for(p, text="a lime tree", asks="plant_wanted", words=("Tilia",)))
    assert told(session.garden.wants) == "1 of 2 wants met, 1 not met"
    assert "1 of 2 wants met, 1 not met" in session.head.line.value
    assert "Plot &lt;1&gt;" in session.head.line.value
    assert session.head.failures == []
