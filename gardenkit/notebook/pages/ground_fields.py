"""The fields to fill in for each kind of thing on the ground: how each is read, shown, and what it starts with."""

from typing import Any, get_args

from gardenkit.drawing.garden import MONTHS
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Line
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.columns import above, alike, corners, level, light, name, size, text
from gardenkit.notebook.record_editor import Column, Kind, Values, values_of
from gardenkit.project import Project
from gardenkit.project.edits import site as edits
from gardenkit.project.edits.drawn import HEIGHT as GROUND_HEIGHT
from gardenkit.site.openings import Opening
from gardenkit.site.site import CrownForm
from gardenkit.site.usual_sizes import USUAL
from gardenkit.structure.kinds import FENCES
from gardenkit.units import System

EVERGREEN = "evergreen"  # stands where a month does


def _month(text: str, _: System, __: str) -> int | None:
    return None if text == EVERGREEN else MONTHS.index(text) + 1


def _line(text: str, units: System, where: str) -> Line:
    found = forms.points(text, units, where)
    if len(found) < 2:
        raise GardenError(f"{where} has one point only; give the points along it in order")
    return found


def _months(key: str, words: str, start: str) -> Column:
    return Column(
        key=key,
        words=words,
        read=_month,
        options=alike(*MONTHS, EVERGREEN),
        start=(start, start),
        show=lambda v, _: EVERGREEN if v is None else MONTHS[v - 1],
    )


def _place(words: str) -> Column:
    return Column(
        key="at",
        words=words,
        read=forms.point,
        show=forms.show_point,
        own=True,
        hint=("12' 6\", 30'", "3.8, 9.1"),
    )


def _on_ground(word: str, section: str, *columns: Column) -> Kind:
    """Return a kind of thing on the ground; doors, windows and gates share their section of the site."""

    def of(project: Project) -> tuple[Any, ...]:
        found = getattr(project.site, section)
        return tuple(x for x in found if not isinstance(x, Opening) or x.kind == word)

    return Kind(
        word=word,
        columns=(name(), *columns),
        of=of,
        add=lambda project, values: edits.put_up(project, word, **values),
        change=lambda project, old, values: edits.alter(project, old.name, **values),
        remove=lambda project, old: edits.remove_thing(project, old.name),
        values=_values,
    )


def _values(record: Any) -> Values:
    found = values_of(record)
    return {**found, "at": record.middle, "width": record.width} if isinstance(record, Opening) else found


def _hole(word: str) -> Kind:
    usual = USUAL[word]
    held, foot = ("line", "Foot") if word == "gate" else ("wall", "Sill" if word == "window" else "Foot")
    return _on_ground(
        word,
        "openings",
        _place(f"Its middle: x, y (it is put onto the {held})"),
        size("width", "Width", usual["width"], read=above, listed=True),
        size("sill", f"{foot} above the plan's zero", usual["sill"], read=level),
        size("head", "Top above the plan's zero", usual["head"], read=level, listed=True),
    )


BUILDING = _on_ground(
    "building",
    "buildings",
    corners("Corners of its walls, in order"),
    size("eaves", "Eaves above the plan's zero", ("9'", "2.7"), listed=True),
    text("roof", "Roof", options=alike("gable", "hip", "shed", "flat")),
    size("ridge_height", "Ridge above the plan's zero", ("16'", "4.9")),
    size("overhang", "Overhang of the eaves", ('16"', "0.4")),
    size("floor", "Floor above the plan's zero", ('6"', "0.15"), read=level),
)
DOOR, WINDOW, GATE = (_hole(word) for word in ("door", "window", "gate"))
FENCE = _on_ground(
    "fence",
    "fences",
    Column(
        key="line",
        words="Points along it, in order",
        read=_line,
        show=lambda v, u: forms.show_points(v, u, between="\n"),
        rows=5,
        own=True,
        hint=("0, 0\n40, 0\n40, 60", "0, 0\n12, 0\n12, 18"),
    ),
    text("kind", "Kind", options=(("as its name says", ""), *alike(*FENCES)), listed=True),
    size("height", "Height", ("6'", "1.8"), read=above, listed=True),
    light("openness", "Light it lets through", "0"),
)
TREE = _on_ground(
    "tree",
    "trees",
    _place("Trunk at: x, y"),
    size("height", "Height", USUAL["tree"]["height"], read=above, listed=True),
    size("spread", "Spread", USUAL["tree"]["spread"], read=above, listed=True),
    size("crown_base", "Lowest leaves above ground", ("6'", "1.8")),
    size("trunk_diameter", "Trunk across, at breast height", ('10"', "0.25")),
    text("form", "Crown", options=alike(*get_args(CrownForm))),
    _months("leaf_on", "In leaf from", "April"),
    _months("leaf_off", "until", "October"),
    light("light_in_leaf", "Sun let through in leaf", "20"),
    light("light_bare", "Sun let through when bare", "65"),
    text("species", "Kind, if known", hint=("Malus", "Malus")),
    Column(
        key="keep",
        words="Will it stay?",
        options=alike("keep", "remove"),
        read=lambda t, _, __: t == "keep",
        show=lambda v, _: "keep" if v else "remove",
    ),
)
OBSTACLE = _on_ground(
    "obstacle",
    "obstacles",
    corners("Corners, in order"),
    size("height", "Height", ("0", "0"), listed=True),
    size("clearance", "Keep clear around it", ("0", "0")),
)


def _height_number(project: Project, old: Any) -> int:
    return project.site.heights.index(old)


HEIGHT = Kind(
    word=GROUND_HEIGHT,
    columns=(
        name(),
        size("height", "Height over the plan's zero", ("0", "0"), read=level, listed=True),
        _place("Measured at: x, y"),
    ),
    of=lambda project: project.site.heights,
    add=lambda project, values: edits.add_height(project, **values),
    change=lambda project, old, values: edits.change_height(project, _height_number(project, old), **values),
    remove=lambda project, old: edits.remove_height(project, _height_number(project, old)),
)
KINDS = (BUILDING, DOOR, WINDOW, GATE, FENCE, TREE, OBSTACLE, HEIGHT)
