"""The fields of an area of the property: its name, what it is made up of, how far it has come."""

from typing import Any

from gardenkit import reading
from gardenkit.notebook.pages import columns
from gardenkit.notebook.pages.bones_fields import changed
from gardenkit.notebook.record_editor import Column, Kind, Values
from gardenkit.project import Project
from gardenkit.project.edits import brief as edits
from gardenkit.project.ranges import FIRST_YEAR, LAST_YEAR

STATES = (("in design", "in design"), ("as found, left as it is", "as found"), ("built", "built"))


def _names(text: str) -> tuple[str, ...]:
    lines = (" ".join(part.split()) for part in text.replace("\n", ";").split(";"))
    return tuple(dict.fromkeys(line for line in lines if line))


def _year(text: str, what: str) -> int | None:
    return reading.whole(text, what, low=FIRST_YEAR, high=LAST_YEAR) if text.strip() else None


def _add(project: Project, values: Values) -> Project:
    fields: dict[str, Any] = dict(values)
    return edits.add_property_area(project, fields.pop("name"), **fields)


PROPERTY = Kind(
    word="area",
    columns=(
        columns.name("front garden, kitchen court ..."),
        Column(
            key="holds",
            words="Made up of beds, paths, lawns (semicolons between)",
            rows=2,
            own=True,
            hint=("or draw it on the plan",) * 2,
            read=lambda text, *_: _names(text),
            show=lambda value, _: "; ".join(value),
        ),
        columns.corners("Corners (none: only what is named above)", needed=False),
        columns.text("state", "State", options=STATES, listed=True),
        Column(
            key="built",
            words="Built, or to be built, in the year",
            own=True,
            hint=("open", "open"),
            read=lambda text, _, what: _year(text, what),
            show=lambda value, _: "" if value is None else str(value),
        ),
    ),
    of=lambda project: project.areas,
    add=_add,
    change=changed(edits.rename_property_area, edits.change_property_area, emptied=("built",)),
    remove=lambda project, old: edits.remove_property_area(project, old.name),
)
