"""The fields of a level: of what, how high, how it falls, what holds its edge; and the edits its list makes."""

from typing import Any

from gardenkit.findings import GardenError
from gardenkit.notebook.pages import columns, forms
from gardenkit.notebook.record_editor import Column, Kind, Values
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.structure.structure import Level
from gardenkit.units import System, show_length

OWN = (("an outline of its own, or a spot", ""),)
EDGES = (("a bank to the ground as found", "bank"), ("a retaining wall", "wall"))


def _height(text: str, units: System, where: str) -> float | None:
    return columns.level(text, units, where) if text.strip() else None


def _percent(text: str, _: System, where: str) -> float:
    return forms.number(text, where, low=0, high=50, unit="percent") if text.strip() else 0.0


def _degrees(text: str, _: System, where: str) -> float:
    return forms.number(text, where, low=-360, high=360, unit="degrees") % 360 if text.strip() else 0.0


def _one_in(text: str, _: System, where: str) -> float:
    bare = text.strip().removeprefix("1:").strip()
    return forms.number(bare, where, low=0.5, high=100, unit="for 1") if bare else 3.0


def _place(text: str, units: System, where: str) -> Any:
    return forms.point(text, units, where) if text.strip() else None


def _areas(project: Project) -> list[tuple[str, str]]:
    return [(ground_area.name, ground_area.name) for ground_area in project.structure.ground_areas]


def _add(project: Project, values: Values) -> Project:
    return edits.add_level(project, **values)


def _change(project: Project, old: Level, values: Values) -> Project:
    name = " ".join(values["name"].split())
    project = edits.rename_level(project, old.name, to=name)
    wanted = {k: v for k, v in values.items() if k != "name" and v is not None and v != getattr(old, k)}
    if "of" in wanted and wanted["of"] and "outline" not in wanted:
        wanted["outline"] = ()
    if wanted.get("of") and wanted.get("outline"):
        raise GardenError(f'level "{name}" is of "{wanted["of"]}" and has corners too; leave one of the two out')
    return edits.change_level(project, name, **wanted) if wanted else project


def _column(key: str, words: str, read: Any, show: Any, hint: str, **more: Any) -> Column:
    return Column(key=key, words=words, read=read, show=show, hint=(hint, hint), own=True, **more)


LEVEL = Kind(
    word="level",
    columns=(
        columns.name("as its area"),
        columns.text("of", "Of the paved or lawn area", options=OWN, offered=_areas),
        _column(
            "height", "Height over the plan's zero", _height, show_length, "empty: as the ground was found", listed=True
        ),
        _column("at", "Where that height is", _place, forms.show_point, "empty: its middle"),
        _column("fall", "Falls, percent", _percent, lambda v, _: f"{v:g}" if v else "", "level", listed=True),
        _column("falls_to", "Falls to, degrees from plan up", _degrees, lambda v, _: f"{v:g}" if v else "", "0"),
        columns.text("edge", "At its edge", options=EDGES),
        _column("bank", "Its bank, 1:n", _one_in, lambda v, _: f"{v:g}", "3"),
        columns.corners("Corners (none: of the area, or a spot)", needed=False),
    ),
    of=lambda project: project.structure.levels,
    add=_add,
    change=_change,
    remove=lambda project, old: edits.remove_level(project, old.name),
)
