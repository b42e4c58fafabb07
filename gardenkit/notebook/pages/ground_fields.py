"""The fields to fill in for each kind of thing on the ground: how each is read, shown, and what it starts with."""

from typing import Any

from gardenkit.drawing.garden import MONTHS
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Line
from gardenkit.notebook.pages import forms
from gardenkit.notebook.record_editor import Column, Kind, Read, Values, values_of
from gardenkit.project import Project
from gardenkit.project.edits import site as edits
from gardenkit.site.openings import Opening
from gardenkit.structure.kinds import FENCES
from gardenkit.units import System, length, show_length

EVERGREEN = "evergreen"  # stands where a month does


def _length(text: str, units: System, where: str) -> float:
    return length(text, bare=forms.bare_unit(units), where=where)


def _above(text: str, units: System, where: str) -> float:
    value = _length(text, units, where)
    if value <= 0:
        raise GardenError(f"{where} is 0; give a length above 0")
    return value


def _level(text: str, units: System, where: str) -> float:
    return length(text, bare=forms.bare_unit(units), where=where, signed=True)


def _word(text: str, _: System, __: str) -> str:
    return text.strip()


def _share(text: str, _: System, where: str) -> float:
    return forms.number(text, where, low=0, high=100, unit="percent") / 100


def _month(text: str, _: System, __: str) -> int | None:
    return None if text == EVERGREEN else MONTHS.index(text) + 1


def _line(text: str, units: System, where: str) -> Line:
    found = forms.points(text, units, where)
    if len(found) < 2:
        raise GardenError(f"{where} has one point only; give the points along it in order")
    return found


def _say(value: Any, _: System) -> str:
    return str(value)


def _percent(value: float, _: System) -> str:
    return f"{100 * value:g}"


def _name() -> Column:
    return Column(key="name", words="Name", read=_word, show=_say, own=True)


def _size(key: str, words: str, start: tuple[str, str], *, read: Read = _length, listed: bool = False) -> Column:
    return Column(key=key, words=words, read=read, show=show_length, start=start, listed=listed)


def _alike(*words: str) -> tuple[tuple[str, str], ...]:
    return tuple((word, word) for word in words)


def _choice(key: str, words: str, options: tuple[str, ...]) -> Column:
    return Column(key=key, words=words, read=_word, show=_say, options=_alike(*options))


def _months(key: str, words: str, start: str) -> Column:
    return Column(
        key=key,
        words=words,
        read=_month,
        options=_alike(*MONTHS, EVERGREEN),
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


def _round_about(words: str) -> Column:
    return Column(
        key="outline",
        words=words,
        rows=5,
        own=True,
        hint=("0, 38\n16, 38\n16, 60\n0, 60\nor: 30 x 24 at 5, 20", "0, 12\n5, 12\n5, 18\n0, 18\nor: 9 x 7 at 2, 6"),
        read=forms.outline,
        show=lambda v, u: forms.show_points(v, u, between="\n"),
    )


def _on_ground(word: str, section: str, *columns: Column) -> Kind:
    """Return a kind of thing on the ground; doors, windows and gates share their section of the site."""

    def of(project: Project) -> tuple[Any, ...]:
        found = getattr(project.site, section)
        return tuple(x for x in found if not isinstance(x, Opening) or x.kind == word)

    return Kind(
        word=word,
        columns=(_name(), *columns),
        of=of,
        add=lambda project, values: edits.put_up(project, word, **values),
        change=lambda project, old, values: edits.alter(project, old.name, **values),
        remove=lambda project, old: edits.remove_thing(project, old.name),
        values=_values,
    )


def _values(record: Any) -> Values:
    found = values_of(record)
    return {**found, "at": record.middle, "width": record.width} if isinstance(record, Opening) else found


def _hole(word: str, start: tuple[str, str], sill: tuple[str, str], head: tuple[str, str]) -> Kind:
    held, foot = ("line", "Foot") if word == "gate" else ("wall", "Sill" if word == "window" else "Foot")
    return _on_ground(
        word,
        "openings",
        _place(f"Its middle: x, y (it is put onto the {held})"),
        _size("width", "Width", start, read=_above, listed=True),
        _size("sill", f"{foot} above the plan's zero", sill, read=_level),
        _size("head", "Top above the plan's zero", head, read=_level, listed=True),
    )


BUILDING = _on_ground(
    "building",
    "buildings",
    _round_about("Corners of its walls, in order"),
    _size("eaves", "Eaves above the plan's zero", ("9'", "2.7"), listed=True),
    _choice("roof", "Roof", ("gable", "hip", "shed", "flat")),
    _size("ridge_height", "Ridge above the plan's zero", ("16'", "4.9")),
    _size("overhang", "Overhang of the eaves", ('16"', "0.4")),
    _size("floor", "Floor above the plan's zero", ('6"', "0.15"), read=_level),
)
DOOR = _hole("door", ("3'", "0.9"), ('6"', "0.15"), ("7' 2\"", "2.2"))
WINDOW = _hole("window", ("4'", "1.2"), ("3'", "0.9"), ("7'", "2.1"))
GATE = _hole("gate", ("3' 6\"", "1.1"), ("0", "0"), ("4'", "1.2"))
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
    Column(
        key="kind",
        words="Kind",
        options=(("as its name says", ""), *_alike(*FENCES)),
        read=lambda t, _, __: t,
        show=lambda v, _: str(v),
        listed=True,
    ),
    _size("height", "Height", ("6'", "1.8"), read=_above, listed=True),
    Column(key="openness", words="Light it lets through, percent", read=_share, show=_percent, start=("0", "0")),
)
TREE = _on_ground(
    "tree",
    "trees",
    _place("Trunk at: x, y"),
    _size("height", "Height", ("25'", "7.5"), read=_above, listed=True),
    _size("spread", "Spread", ("20'", "6"), read=_above, listed=True),
    _size("crown_base", "Lowest leaves above ground", ("6'", "1.8")),
    _size("trunk_diameter", "Trunk across, at breast height", ('10"', "0.25")),
    _choice("form", "Crown", ("round", "oval", "conical", "columnar", "spreading", "vase", "weeping", "irregular")),
    _months("leaf_on", "In leaf from", "April"),
    _months("leaf_off", "until", "October"),
    Column(
        key="light_in_leaf",
        words="Sun let through in leaf, percent",
        read=_share,
        show=_percent,
        start=("20", "20"),
    ),
    Column(
        key="light_bare", words="Sun let through when bare, percent", read=_share, show=_percent, start=("65", "65")
    ),
    Column(key="species", words="Kind, if known", read=_word, show=_say, hint=("Malus", "Malus")),
    Column(
        key="keep",
        words="Will it stay?",
        options=_alike("keep", "remove"),
        read=lambda t, _, __: t == "keep",
        show=lambda v, _: "keep" if v else "remove",
    ),
)
OBSTACLE = _on_ground(
    "obstacle",
    "obstacles",
    _round_about("Corners, in order"),
    _size("height", "Height", ("0", "0"), listed=True),
    _size("clearance", "Keep clear around it", ("0", "0")),
)
KINDS = (BUILDING, DOOR, WINDOW, GATE, FENCE, TREE, OBSTACLE)
