"""The fields of seats, placed things, supports, beds and areas, and the edits that each list of them makes."""

from collections.abc import Callable
from typing import Any

from gardenkit.findings import GardenError
from gardenkit.notebook.pages import columns
from gardenkit.notebook.record_editor import Kind, Values
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.structure.kinds import BONDS, GROUND_AREAS, PURPOSES, SUPPORTS, SURFACES, THINGS
from gardenkit.structure.kinds.placed import LIGHTS
from gardenkit.structure.kinds.purposes import USUAL

Edit = Callable[..., Project]
FREE = (("nothing: it stands free", ""),)
FOR = tuple((f"{row.name}: {row.words}", "" if row.name == USUAL else row.name) for row in PURPOSES.values())


def _given(values: Values) -> dict[str, Any]:
    """Return what was typed: a size that was left empty is the usual one."""
    return {key: value for key, value in values.items() if value is not None}


def changed(rename: Edit, change: Edit, *, emptied: tuple[str, ...] = ()) -> Edit:
    """Return the edit that makes a named record what a form says: a new name first, then what else is different.

    An empty field is left as it is, but for those that may be ``emptied``.
    """

    def run(project: Project, old: Any, values: Values) -> Project:
        name = " ".join(values["name"].split())
        given = _given(values) | {key: values[key] for key in emptied}
        other = {k: v for k, v in given.items() if k != "name" and v != getattr(old, k)}
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


def _drawn_instead(project: Project, values: Values) -> Project:
    raise GardenError("it is drawn on the plan: choose it under Draw (a cable from its transformer past its lamps)")


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
    change=changed(edits.rename_seat, edits.change_seat),
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
        columns.text("light", "Light of a lamp", options=columns.alike(*LIGHTS)),
        columns.either("handrail", "Handrail of steps or a ramp"),
    ),
    of=lambda project: project.structure.things,
    add=lambda project, values: edits.add_thing(project, **_given(values)),
    change=changed(edits.rename_thing, edits.change_thing),
    remove=lambda project, old: edits.remove_thing(project, old.name),
)
CABLE = Kind(
    word="low-voltage cable",
    columns=(columns.name(),),
    of=lambda project: project.structure.cables,
    add=_drawn_instead,
    change=lambda project, old, values: edits.rename_cable(project, old.name, to=values["name"]),
    remove=lambda project, old: edits.remove_cable(project, old.name),
)
PATH = Kind(
    word="path",
    columns=(
        columns.name(),
        columns.text("surface", "Surface", options=columns.alike(*SURFACES), listed=True),
        columns.usual("width", "Width", listed=True),
    ),
    of=lambda project: project.structure.paths,
    add=_drawn_instead,
    change=changed(edits.rename_path, edits.change_path),
    remove=lambda project, old: edits.remove_path(project, old.name),
)
SUPPORT = Kind(
    word="support",
    columns=(
        columns.name(),
        columns.text("kind", "Kind", options=columns.alike(*SUPPORTS), listed=True),
        columns.usual("height", "Height", listed=True),
        columns.usual("depth", "Depth"),
        columns.light("openness", "Light let through", usual=True),
        columns.text("against", "Fixed to", options=FREE, offered=_walls),
    ),
    of=lambda project: project.structure.supports,
    add=_put_up,
    change=changed(edits.rename_support, edits.change_support),
    remove=lambda project, old: edits.remove_support(project, old.name),
)
BED = Kind(
    word="bed",
    columns=(
        columns.name(),
        columns.text("purpose", "What it is for", options=FOR, listed=True),
        columns.text("soil", "Soil", hint=("as the rest of the garden",) * 2),
        columns.text("edging", "Edging", hint=("brick, steel, spade edge ...",) * 2),
        columns.corners("Corners (none: what the paths leave)", needed=False),
    ),
    of=edits.every_bed,
    add=lambda project, values: edits.draw_bed(project, **values),
    change=changed(edits.rename_bed, edits.change_bed),
    remove=lambda project, old: edits.clear_bed_name(project, old.name),
    removing="Clear name",
)
AREA = Kind(
    word="paved or lawn area",
    columns=(
        columns.name("as its kind"),
        columns.text("kind", "Kind", options=columns.alike(*GROUND_AREAS), listed=True),
        columns.text("edging", "Edging", hint=("none; brick, steel ...",) * 2),
        columns.text("bond", "Paving laid in", options=(("not said", ""), *columns.alike(*BONDS))),
        columns.usual("depth", "Depth of a pond or rill"),
        columns.usual("lift", "Its pump lifts the water by"),
    ),
    of=lambda project: project.structure.ground_areas,
    add=lambda project, values: edits.add_area(project, **_given(values)),
    change=changed(edits.rename_area, edits.change_area),
    remove=lambda project, old: edits.remove_area(project, old.name),
)
