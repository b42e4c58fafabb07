"""The fields of what is written on the plan, and the edits that its list makes."""

from typing import Any

from gardenkit.geometry.plane import Line
from gardenkit.notebook.pages import columns, forms
from gardenkit.notebook.record_editor import Column, Kind, Values
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import WRITTEN
from gardenkit.units import System


def _line(text: str, units: System, where: str) -> Line:
    return forms.points(text, units, where)


def _add(project: Project, values: Values) -> Project:
    return edits.add_note(project, values["kind"], line=values["line"], name=values["name"], text=values["text"])


def _change(project: Project, old: Any, values: Values) -> Project:
    changes = {key: value for key, value in values.items() if value != getattr(old, key)}
    return edits.change_note(project, old.name, **changes) if changes else project


NOTE = Kind(
    word="note on the plan",
    columns=(
        columns.name("as its kind"),
        columns.text("kind", "Kind", options=columns.alike(*(kind for kind, _ in WRITTEN)), listed=True),
        columns.text("text", "Words (a dimension says its length without)", own=True, listed=True),
        Column(
            key="line",
            words="Points: the spot and its words, two ends, a line, corners",
            read=_line,
            show=lambda v, u: forms.show_points(v, u, between="\n"),
            own=True,
            rows=4,
            hint=("12, 30\n18, 34", "4, 9\n6, 11"),
        ),
    ),
    of=lambda project: project.site.notes,
    add=_add,
    change=_change,
    remove=lambda project, old: edits.remove_note(project, old.name),
)
