"""What can stand on the ground as found: the fields to fill in for each kind of thing, and the record they make."""

from collections.abc import Callable, Mapping
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.notebook.pages.forms import Entry
from gardenkit.project.edits.site import things
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site
from gardenkit.site.walls_and_openings import opening_at
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
        others = [x.name for x in things(site) if old is None or x is not old]
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


# ---- helpers


def _free_name(word: str, site: Site) -> str:
    taken = {x.name for x in things(site)}
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
