"""The fields to fill in for each kind of thing on the ground: how each is read, shown, and what it starts with."""

from typing import Any

from gardenkit.drawing.garden import MONTHS
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Line
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.ground_kinds import EVERGREEN, Column, GroundKind, Read
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle
from gardenkit.units import System, length, show_length


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


def _month(text: str, _: System, __: str) -> int | str:
    return EVERGREEN if text == EVERGREEN else MONTHS.index(text) + 1


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
    return Column(key="name", words="Name", read=_word, show=_say)


def _size(key: str, words: str, start: tuple[str, str], *, read: Read = _length) -> Column:
    return Column(key=key, words=words, read=read, show=show_length, start=start)


def _choice(key: str, words: str, options: tuple[str, ...]) -> Column:
    return Column(key=key, words=words, read=_word, show=_say, options=options)


def _months(key: str, words: str, start: str) -> Column:
    return Column(
        key=key,
        words=words,
        read=_month,
        options=(*MONTHS, EVERGREEN),
        start=(start, start),
        show=lambda v, _: v if isinstance(v, str) else MONTHS[v - 1],
    )


def _place(words: str) -> Column:
    return Column(
        key="at",
        words=words,
        read=forms.point,
        show=forms.show_point,
        hint=("12' 6\", 30'", "3.8, 9.1"),
    )


def _round_about(words: str) -> Column:
    return Column(
        key="outline",
        words=words,
        rows=5,
        hint=("0, 38\n16, 38\n16, 60\n0, 60\nor: 30 x 24 at 5, 20", "0, 12\n5, 12\n5, 18\n0, 18\nor: 9 x 7 at 2, 6"),
        read=forms.outline,
        show=lambda v, u: forms.show_points(v, u, between="\n"),
    )


def _hole(word: str, start: tuple[str, str], sill: tuple[str, str], head: tuple[str, str]) -> GroundKind:
    columns = (
        _name(),
        _place(
            "Its middle: x, y (it is put onto the wall)"
            if word != "gate"
            else "Its middle: x, y (it is put onto the line)"
        ),
        _size("width", "Width", start, read=_above),
        _size(
            "sill",
            "Foot above the plan's zero" if word != "window" else "Sill above the plan's zero",
            sill,
            read=_level,
        ),
        _size("head", "Top above the plan's zero", head, read=_level),
    )
    return GroundKind(word=word, section="openings", record=Opening, columns=columns, fixed={"kind": word})


BUILDING = GroundKind(
    word="building",
    section="buildings",
    record=Building,
    columns=(
        _name(),
        _round_about("Corners of its walls, in order"),
        _size("eaves", "Eaves above the plan's zero", ("9'", "2.7")),
        _choice("roof", "Roof", ("gable", "hip", "shed", "flat")),
        _size("ridge_height", "Ridge above the plan's zero", ("16'", "4.9")),
        _size("overhang", "Overhang of the eaves", ('16"', "0.4")),
        _size("floor", "Floor above the plan's zero", ('6"', "0.15"), read=_level),
    ),
)
DOOR = _hole("door", ("3'", "0.9"), ('6"', "0.15"), ("7' 2\"", "2.2"))
WINDOW = _hole("window", ("4'", "1.2"), ("3'", "0.9"), ("7'", "2.1"))
GATE = _hole("gate", ("3' 6\"", "1.1"), ("0", "0"), ("4'", "1.2"))
FENCE = GroundKind(
    word="fence",
    section="fences",
    record=Fence,
    columns=(
        _name(),
        Column(
            key="line",
            words="Points along it, in order",
            read=_line,
            show=lambda v, u: forms.show_points(v, u, between="\n"),
            rows=5,
            hint=("0, 0\n40, 0\n40, 60", "0, 0\n12, 0\n12, 18"),
        ),
        _size("height", "Height", ("6'", "1.8"), read=_above),
        Column(key="openness", words="Light it lets through, percent", read=_share, show=_percent, start=("0", "0")),
    ),
)
TREE = GroundKind(
    word="tree",
    section="trees",
    record=ExistingTree,
    columns=(
        _name(),
        _place("Trunk at: x, y"),
        _size("height", "Height", ("25'", "7.5"), read=_above),
        _size("spread", "Spread", ("20'", "6"), read=_above),
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
            options=("keep", "remove"),
            read=lambda t, _, __: t == "keep",
            show=lambda v, _: "keep" if v else "remove",
        ),
    ),
)
OBSTACLE = GroundKind(
    word="obstacle",
    section="obstacles",
    record=Obstacle,
    columns=(
        _name(),
        _round_about("Corners, in order"),
        _size("height", "Height", ("0", "0")),
        _size("clearance", "Keep clear around it", ("0", "0")),
    ),
)
KINDS: dict[str, GroundKind] = {k.word: k for k in (BUILDING, DOOR, WINDOW, GATE, FENCE, TREE, OBSTACLE)}
