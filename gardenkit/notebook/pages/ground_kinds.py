"""What can stand on the ground as found: the fields to fill in for each kind of thing, and the record they make."""

import math
from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry
from gardenkit.site.site import ON_EDGE, Building, ExistingTree, Fence, Obstacle, Opening, Site, by_name
from gardenkit.units import System, length, show_length

Record = Building | Opening | Fence | ExistingTree | Obstacle
Read = Callable[[str, System, str], Any]
Show = Callable[[Any, System], str]
REACH = 1.0  # m a door or gate may be typed off its wall and still be put onto it. House value.
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
EVERGREEN = "evergreen"


@attrs.frozen(kw_only=True)
class Column:
    """One field of a kind: the record's own word for it, the words on the page, how it is read and shown."""

    key: str
    words: str
    read: Read
    show: Show
    hint: tuple[str, str] = ("", "")  # imperial, metric
    start: tuple[str, str] = ("", "")
    options: tuple[str, ...] = ()
    rows: int = 1

    def entry(self, units: System) -> Entry:
        """Return the field for a form."""
        which = 0 if units == "imperial" else 1
        listed = tuple((o, o) for o in self.options)
        return Entry(
            key=self.key,
            words=self.words,
            hint=self.hint[which],
            start=self.start[which],
            options=listed,
            rows=self.rows,
        )


@attrs.frozen(kw_only=True)
class GroundKind:
    """A kind of thing on the ground: where the site keeps it, the class of its record and the fields."""

    word: str
    section: str
    record: type[Any]
    columns: tuple[Column, ...]
    fixed: Mapping[str, str] = attrs.field(factory=dict)

    def of(self, site: Site) -> tuple[Any, ...]:
        """Return the things of this kind on the site."""
        return tuple(x for x in getattr(site, self.section) if all(getattr(x, k) == v for k, v in self.fixed.items()))

    def texts(self, record: Any, units: System) -> dict[str, str]:
        """Return a record as it stands in the form."""
        values = _values(record)
        return {c.key: c.show(values[c.key], units) for c in self.columns}

    def made(self, texts: Mapping[str, str], units: System, site: Site, *, old: Any = None) -> Any:
        """Return the record that filled-in fields make. A field that still shows the ``old`` record's value keeps it exactly.

        Raises GardenError for the first field that cannot be read.
        """
        name = texts["name"].strip() or _free_name(self.word, site)
        was = {} if old is None else _values(old)
        values: dict[str, Any] = {}
        for column in self.columns:
            if column.key in was and texts[column.key] == column.show(was[column.key], units):
                values[column.key] = was[column.key]
            else:
                values[column.key] = column.read(
                    texts[column.key], units, f'{self.word} "{name}", {column.words.lower()}'
                )
        values["name"] = name
        others = [x.name for x in _all(site) if old is None or x is not old]
        if name in others:
            raise GardenError(
                f'something on the ground is called "{name}" already; give the {self.word} a name of its own'
            )
        return self._record(values, site, old)

    def _record(self, values: dict[str, Any], site: Site, old: Any) -> Any:
        if self.record is Opening:
            return _opening(values, self.fixed["kind"], site, old)
        if self.record is Building and values["ridge_height"] < values["eaves"]:
            raise GardenError(
                f'building "{values["name"]}" has its ridge below its eaves; raise the ridge or lower the eaves'
            )
        if self.record is ExistingTree and EVERGREEN in (values["leaf_on"], values["leaf_off"]):
            values = values | {"leaf_on": None, "leaf_off": None}
        return attrs.evolve(old, **values) if old is not None else self.record(**values)


# ---- changing the site


def with_record(site: Site, kind: GroundKind, new: Record, *, old: Record | None = None) -> Site:
    """Return the site with a thing added, or changed in its place; doors follow the wall they are in."""
    listed: tuple[Any, ...] = getattr(site, kind.section)
    if old is None:
        return _with(site, kind.section, (*listed, new))
    changed = _with(site, kind.section, tuple(new if x is old else x for x in listed))
    if isinstance(old, (Building, Fence)):
        openings = tuple(_follow(o, old.name, new, changed) for o in changed.openings)
        changed = attrs.evolve(changed, openings=openings)
    return changed


def without(site: Site, kind: GroundKind, old: Record) -> Site:
    """Return the site without a thing. Raises GardenError for a building that still has doors or windows."""
    if isinstance(old, (Building, Fence)):
        held = [o.name for o in site.openings if o.on == old.name]
        if held:
            raise GardenError(f'"{old.name}" still holds {", ".join(held)}; remove them first')
    return _with(site, kind.section, tuple(x for x in getattr(site, kind.section) if x is not old))


def with_boundary(site: Site, boundary: Outline) -> Site:
    """Return the site with another boundary; its gates stay on it, at the nearest place."""
    moved = attrs.evolve(site, boundary=boundary)
    openings = tuple(
        attrs.evolve(o, **_on_line((*boundary, boundary[0]), o.middle, o.width, o.name))
        if o.kind == "gate" and not o.on
        else o
        for o in site.openings
    )
    return attrs.evolve(moved, openings=openings)


def moved_to(site: Site, kind: GroundKind, record: Record, at: Point) -> Record:
    """Return a tree or an opening put at another place; an opening slides along the wall, fence or boundary it is in."""
    if isinstance(record, ExistingTree):
        return attrs.evolve(record, at=at)
    if isinstance(record, Opening):
        values = {k: v for k, v in _values(record).items() if k in ("name", "width", "sill", "head")}
        opening: Opening = _opening(values | {"at": at}, record.kind, site, record, reach=math.inf)
        return opening
    raise GardenError(f"a {kind.word} is moved by its corners; change them in its field")


# ---- helpers


def _with(site: Site, section: str, listed: tuple[Any, ...]) -> Site:
    changes: dict[str, Any] = {section: listed}
    return attrs.evolve(site, **changes)


def _all(site: Site) -> tuple[Record, ...]:
    return (*site.buildings, *site.openings, *site.fences, *site.trees, *site.obstacles)


def _free_name(word: str, site: Site) -> str:
    taken = {x.name for x in _all(site)}
    if word not in taken:
        return word
    return next(f"{word} {n}" for n in range(2, 1000) if f"{word} {n}" not in taken)


def _values(record: Any) -> dict[str, Any]:
    values = attrs.asdict(record, recurse=False)
    if isinstance(record, Opening):
        values |= {"at": record.middle, "width": record.width}
    if isinstance(record, ExistingTree):
        values |= {k: EVERGREEN if values[k] is None else values[k] for k in ("leaf_on", "leaf_off")}
    return values


def _opening(values: dict[str, Any], kind: Any, site: Site, old: Any, *, reach: float = REACH) -> Opening:
    """Put an opening onto the nearest wall, or for a gate the nearest boundary or fence line, keeping its width."""
    name, at, width = values["name"], values["at"], values["width"]
    if values["head"] <= values["sill"]:
        raise GardenError(f'{kind} "{name}" has its top at or below its sill; give a top above the sill')
    if isinstance(old, Opening) and at == old.middle and width == old.width:
        return attrs.evolve(old, name=name, sill=values["sill"], head=values["head"])
    held = _lines_for(kind, site)
    if not held:
        need = "draw the boundary or a fence first" if kind == "gate" else "add the house first"
        raise GardenError(f'there is nothing to put {kind} "{name}" in; {need}')
    on, line = min(held, key=lambda pair: plane.distance(plane.line(pair[1]), plane.point(at)))
    off = plane.distance(plane.line(line), plane.point(at))
    if off > reach:
        raise GardenError(
            f'the middle of {kind} "{name}" lies {off:.2f} m from the nearest {"boundary or fence" if kind == "gate" else "wall"}; '
            "give a place on it"
        )
    if kind == "gate" and on and site.boundary:
        edge = plane.line([*site.boundary, site.boundary[0]])
        on = "" if plane.distance(edge, plane.point(at)) <= off + ON_EDGE else on
    ends = _on_line(line, at, width, name)
    return Opening(name=name, kind=kind, on=on, sill=values["sill"], head=values["head"], **ends)


def _lines_for(kind: str, site: Site) -> list[tuple[str, Line]]:
    if kind != "gate":
        return [(b.name, (*b.outline, b.outline[0])) for b in site.buildings]
    edge: list[tuple[str, Line]] = [("", (*site.boundary, site.boundary[0]))] if site.boundary else []
    return edge + [(f.name, f.line) for f in site.fences]


def _on_line(line: Line, at: Point, width: float, name: str) -> dict[str, Any]:
    """Return the two ends of an opening on the straight stretch of ``line`` nearest to ``at``, kept within the stretch."""
    a, b = min(pairwise(line), key=lambda ends: plane.distance(plane.line(ends), plane.point(at)))
    whole = math.dist(a, b)
    if width > whole + 1e-6:
        raise GardenError(
            f'"{name}" is {width:.2f} m wide, wider than the {whole:.2f} m of wall it stands in; make it narrower'
        )
    along = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / whole
    first = min(max(along - width / 2, 0.0), whole - width)
    ends = [(a[0] + (b[0] - a[0]) * s / whole, a[1] + (b[1] - a[1]) * s / whole) for s in (first, first + width)]
    return {"start": ends[0], "end": ends[1]}


def _follow(opening: Opening, was: str, new: Any, site: Site) -> Opening:
    """Return an opening whose building or fence was changed, put back onto it."""
    if opening.on != was:
        return opening
    line = (*new.outline, new.outline[0]) if isinstance(new, Building) else by_name(site.fences, new.name, "fence").line
    lies_on = plane.distance(plane.line(line), plane.point(opening.middle)) < ON_EDGE
    ends: dict[str, Any] = {} if lies_on else _on_line(line, opening.middle, opening.width, opening.name)
    return attrs.evolve(opening, on=new.name, **ends)


# ---- the kinds


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
    return Column(key=key, words=words, read=read, show=lambda v, u: show_length(v, u), start=start)


def _choice(key: str, words: str, options: tuple[str, ...]) -> Column:
    return Column(key=key, words=words, read=_word, show=_say, options=options)


def _months(key: str, words: str, start: str) -> Column:
    return Column(
        key=key, words=words, read=_month, options=(*MONTHS, EVERGREEN), start=(start, start),
        show=lambda v, _: v if isinstance(v, str) else MONTHS[v - 1],
    )  # fmt: skip


def _place(words: str) -> Column:
    return Column(
        key="at",
        words=words,
        read=forms.point,
        show=lambda v, u: forms.show_point(v, u),
        hint=("12' 6\", 30'", "3.8, 9.1"),
    )


def _round_about(words: str) -> Column:
    return Column(
        key="outline", words=words, rows=5, hint=("0, 38\n16, 38\n16, 60\n0, 60\nor: 30 x 24 at 5, 20", "0, 12\n5, 12\n5, 18\n0, 18\nor: 9 x 7 at 2, 6"),
        read=lambda t, u, where: forms.outline(t, u, where), show=lambda v, u: forms.show_points(v, u, between="\n"),
    )  # fmt: skip


def _hole(word: str, start: tuple[str, str], sill: tuple[str, str], head: tuple[str, str]) -> GroundKind:
    columns = (
        _name(), _place("Its middle: x, y (it is put onto the wall)" if word != "gate" else "Its middle: x, y (it is put onto the line)"),
        _size("width", "Width", start, read=_above),
        _size("sill", "Foot above the plan's zero" if word != "window" else "Sill above the plan's zero", sill, read=_level),
        _size("head", "Top above the plan's zero", head, read=_level),
    )  # fmt: skip
    return GroundKind(word=word, section="openings", record=Opening, columns=columns, fixed={"kind": word})


BUILDING = GroundKind(
    word="building", section="buildings", record=Building,
    columns=(
        _name(), _round_about("Corners of its walls, in order"), _size("eaves", "Eaves above the plan's zero", ("9'", "2.7")),
        _choice("roof", "Roof", ("gable", "hip", "shed", "flat")), _size("ridge_height", "Ridge above the plan's zero", ("16'", "4.9")),
        _size("overhang", "Overhang of the eaves", ('16"', "0.4")), _size("floor", "Floor above the plan's zero", ('6"', "0.15"), read=_level),
    ),
)  # fmt: skip
DOOR = _hole("door", ("3'", "0.9"), ('6"', "0.15"), ("7' 2\"", "2.2"))
WINDOW = _hole("window", ("4'", "1.2"), ("3'", "0.9"), ("7'", "2.1"))
GATE = _hole("gate", ("3' 6\"", "1.1"), ("0", "0"), ("4'", "1.2"))
FENCE = GroundKind(
    word="fence", section="fences", record=Fence,
    columns=(
        _name(),
        Column(
            key="line", words="Points along it, in order", read=_line, show=lambda v, u: forms.show_points(v, u, between="\n"), rows=5,
            hint=("0, 0\n40, 0\n40, 60", "0, 0\n12, 0\n12, 18"),
        ),
        _size("height", "Height", ("6'", "1.8"), read=_above),
        Column(key="openness", words="Light it lets through, percent", read=_share, show=_percent, start=("0", "0")),
    ),
)  # fmt: skip
TREE = GroundKind(
    word="tree", section="trees", record=ExistingTree,
    columns=(
        _name(), _place("Trunk at: x, y"), _size("height", "Height", ("25'", "7.5"), read=_above), _size("spread", "Spread", ("20'", "6"), read=_above),
        _size("crown_base", "Lowest leaves above ground", ("6'", "1.8")), _size("trunk_diameter", "Trunk across, at breast height", ('10"', "0.25")),
        _choice("form", "Crown", ("round", "oval", "conical", "columnar", "spreading", "vase", "weeping", "irregular")),
        _months("leaf_on", "In leaf from", "April"), _months("leaf_off", "until", "October"),
        Column(key="light_in_leaf", words="Sun let through in leaf, percent", read=_share, show=_percent, start=("20", "20")),
        Column(key="light_bare", words="Sun let through when bare, percent", read=_share, show=_percent, start=("65", "65")),
        Column(key="species", words="Kind, if known", read=_word, show=_say, hint=("Malus", "Malus")),
        Column(
            key="keep", words="Will it stay?", options=("keep", "remove"), read=lambda t, _, __: t == "keep",
            show=lambda v, _: "keep" if v else "remove",
        ),
    ),
)  # fmt: skip
OBSTACLE = GroundKind(
    word="obstacle", section="obstacles", record=Obstacle,
    columns=(
        _name(), _round_about("Corners, in order"), _size("height", "Height", ("0", "0")), _size("clearance", "Keep clear around it", ("0", "0")),
    ),
)  # fmt: skip
KINDS: dict[str, GroundKind] = {k.word: k for k in (BUILDING, DOOR, WINDOW, GATE, FENCE, TREE, OBSTACLE)}
