"""What can stand on the ground as found: the fields to fill in for each kind of thing, and the record they make."""

import math
from collections.abc import Callable, Mapping
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Outline, Point
from gardenkit.notebook.pages.forms import Entry
from gardenkit.notebook.pages.ground_openings import follow, on_line, opening_at
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site
from gardenkit.units import System

Record = Building | Opening | Fence | ExistingTree | Obstacle
Read = Callable[[str, System, str], Any]
Show = Callable[[Any, System], str]
EVERGREEN = "evergreen"  # stands where a month does


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
        """Return the record that filled-in fields make. A field that still shows the ``old`` record's value keeps it
        exactly.

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
            return opening_at(values, self.fixed["kind"], site, old)
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
        openings = tuple(follow(o, old.name, new, changed) for o in changed.openings)
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
        attrs.evolve(o, **on_line((*boundary, boundary[0]), o.middle, o.width, o.name))
        if o.kind == "gate" and not o.on
        else o
        for o in site.openings
    )
    return attrs.evolve(moved, openings=openings)


def moved_to(site: Site, kind: GroundKind, record: Record, at: Point) -> Record:
    """Return a tree or an opening put at another place; an opening slides along the line it is in."""
    if isinstance(record, ExistingTree):
        return attrs.evolve(record, at=at)
    if isinstance(record, Opening):
        values = {k: v for k, v in _values(record).items() if k in ("name", "width", "sill", "head")}
        opening: Opening = opening_at(values | {"at": at}, record.kind, site, record, reach=math.inf)
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
