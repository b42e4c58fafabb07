"""The fields of seats, placed things, supports, beds and areas, and the edits that each list of them makes."""

from collections.abc import Callable
from typing import Any

from gardenkit.notebook.pages import columns
from gardenkit.notebook.record_editor import Kind, Values
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.structure.kinds import PATCHES, SUPPORTS, THINGS

Edit = Callable[..., Project]
FREE = (("nothing: it stands free", ""),)


def _given(values: Values) -> dict[str, Any]:
    """Return what was typed: a size that was left empty is the usual one."""
    return {key: value for key, value in values.items() if value is not None}


def _changed(rename: Edit, change: Edit) -> Edit:
    """Return the edit that makes a named record what a form says: a new name first, then what else is different."""

    def run(project: Project, old: Any, values: Values) -> Project:
        name = " ".join(values["name"].split())
        other = {k: v for k, v in _given(values).items() if k != "name" and v != getattr(old, k)}
        project = rename(project, old.name, to=name)
        return change(project, name, **other) if other else project

    return run


def _put_up(project: Project, values: Values) -> Project:
    """Put up a support of its kind's usual size where none is typed."""
    name, kind, *_ = values.values()
    sizes = {key: value for key, value in _given(values).items() if key not in ("name", "kind")}
    made = edits.add_support(project, name, kind)
    return edits.change_support(made, made.structure.supports[-1].name, **sizes)


def _walls(project: Project) -> list[tuple[str, str]]:
    """Return what a support can be fixed to."""
    site = project.site
    return [(name, name) for name in (*(b.name for b in site.buildings), *(f.name for f in site.fences))]


SEAT = Kind(
    word="seat",
    columns=(
        columns.name(),
        columns.usual("width", "Width"),
        columns.usual("depth", "Depth"),
        columns.usual("eye", "Eye above the ground, seated"),
    ),
    of=lambda project: project.structure.seats,
    add=lambda project, values: edits.add_seat(project, **_given(values)),
    change=_changed(edits.rename_seat, edits.change_seat),
    remove=lambda project, old: edits.remove_seat(project, old.name),
)
THING = Kind(
    word="placed thing",
    columns=(
        columns.name("as its kind"),
        columns.text("kind", "Kind", options=columns.alike(*sorted(THINGS)), listed=True),
        columns.usual("width", "Width, side to side"),
        columns.usual("depth", "Depth, front to back"),
        columns.usual("height", "Height"),
        columns.area("roof", "Roof whose rain it takes"),
    ),
    of=lambda project: project.structure.things,
    add=lambda project, values: edits.add_thing(project, **_given(values)),
    change=_changed(edits.rename_thing, edits.change_thing),
    remove=lambda project, old: edits.remove_thing(project, old.name),
)
SUPPORT = Kind(
    word="support",
    columns=(
        columns.name(),
        columns.text("kind", "Kind", options=columns.alike(*SUPPORTS), listed=True),
        columns.usual("height", "Height", listed=True),
        columns.usual("depth", "Depth across its line"),
        columns.light("openness", "Light let through", usual=True),
        columns.text("against", "Fixed to", options=FREE, offered=_walls),
    ),
    of=lambda project: project.structure.supports,
    add=_put_up,
    change=_changed(edits.rename_support, edits.change_support),
    remove=lambda project, old: edits.remove_support(project, old.name),
)
BED = Kind(
    word="bed",
    columns=(
        columns.name(),
        columns.text("soil", "Soil", hint=("as the rest of the garden",) * 2),
        columns.text("edging", "Edging", hint=("brick, steel, spade edge ...",) * 2),
        columns.corners("Corners (none: what the paths leave)", needed=False),
    ),
    of=edits.every_bed,
    add=lambda project, values: edits.draw_bed(project, **values),
    change=_changed(edits.rename_bed, edits.change_bed),
    remove=lambda project, old: edits.clear_bed_name(project, old.name),
    removing="Clear name",
)
AREA = Kind(
    word="paved or lawn area",
    columns=(columns.name("as its kind"), columns.text("kind", "Kind", options=columns.alike(*PATCHES), listed=True)),
    of=lambda project: project.structure.patches,
    add=lambda project, values: edits.add_area(project, **values),
    change=_changed(edits.rename_area, edits.change_area),
    remove=lambda project, old: edits.remove_area(project, old.name),
)
