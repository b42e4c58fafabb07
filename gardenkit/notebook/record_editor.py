"""One editor for every kind of record: what is there as a list, the chosen one's form, and Add, Change, Remove.

A kind is a table row: its fields, where a project keeps its records, and the edits that change them. The editor reads
the fields, names the field that cannot be read and leaves what was typed standing.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import attrs
import ipywidgets as w

from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages.forms import Entry, Form, relist
from gardenkit.project import Project
from gardenkit.units import System

Values = Mapping[str, Any]
Read = Callable[[str, System, str], Any]  # what was typed, the garden's units, words for where it stands
Show = Callable[[Any, System], str]
LINES = (3, 8)  # least and most lines of the list that are seen at once. House value.


class FieldError(GardenError):
    """What was typed in one field cannot be taken."""

    def __init__(self, said: str, key: str) -> None:
        super().__init__(said)
        self.key = key


def values_of(record: Any) -> Values:
    """Return the fields of a record."""
    return attrs.asdict(record, recurse=False)


@attrs.frozen(kw_only=True)
class Column:
    """One field of a kind: the record's own word for it, the words on the page, how it is read and shown.

    ``listed``: the list shows it after the name. ``own``: it differs from record to record, so a new one starts empty.
    ``offered``: what is chosen from depends on the garden; it stands below ``options``.
    """

    key: str
    words: str
    read: Read
    show: Show
    hint: tuple[str, str] = ("", "")  # imperial, metric
    start: tuple[str, str] = ("", "")
    options: tuple[tuple[str, str], ...] = ()  # (words, as it is typed)
    rows: int = 1
    listed: bool = False
    own: bool = False
    offered: Callable[[Project], Sequence[tuple[str, str]]] | None = None

    def entry(self, units: System) -> Entry:
        """Return the field for a form."""
        which = 0 if units == "imperial" else 1
        hint, start = self.hint[which], self.start[which]
        return Entry(key=self.key, words=self.words, hint=hint, start=start, options=self.options, rows=self.rows)


@attrs.frozen(kw_only=True)
class Kind:
    """A kind of record: its word, its fields (the first names it), where a project keeps it, and its edits.

    ``finished`` reads what hangs on another field (an amount in the unit of what it is an amount of), from all of them.
    """

    word: str
    columns: tuple[Column, ...]
    of: Callable[[Project], Sequence[Any]]
    add: Callable[[Project, Values], Project]
    change: Callable[[Project, Any, Values], Project]
    remove: Callable[[Project, Any], Project]
    values: Callable[[Any], Values] = values_of
    finished: Callable[[dict[str, Any], Project], dict[str, Any]] = lambda values, _: values
    removing: str = "Remove"  # the word on the button

    @property
    def slug(self) -> str:
        """The word without spaces, for the fields' names in the browser, which refuses any."""
        return "-".join(self.word.split())

    def texts(self, record: Any, units: System) -> dict[str, str]:
        """Return a record as it stands in the form."""
        values = self.values(record)
        return {c.key: c.show(values[c.key], units) for c in self.columns}

    def read(self, texts: Mapping[str, str], project: Project, *, old: Any = None) -> dict[str, Any]:
        """Return what the fields say. A field that still shows the ``old`` record's value keeps it exactly.

        Raises FieldError for the first field that cannot be read.
        """
        was, units = {} if old is None else self.values(old), project.units
        name = texts[self.columns[0].key].strip()
        called = f'{self.word} "{name}"' if name else f"the new {self.word}"
        values: dict[str, Any] = {}
        for column in self.columns:
            text = texts[column.key]
            if column.key in was and text == column.show(was[column.key], units):
                values[column.key] = was[column.key]
                continue
            try:
                values[column.key] = column.read(text, units, f"{called}, {column.words.lower()}")
            except GardenError as error:
                raise FieldError(str(error), column.key) from error
        return self.finished(values, project)

    def listed(self, record: Any, units: System) -> str:
        """Return a record as a line of the list: its name and its main figures."""
        values = self.values(record)
        shown = (c.show(values[c.key], units) for c in self.columns[1:] if c.listed)
        return " · ".join((self.title(record), *(text for text in shown if text)))

    def title(self, record: Any) -> str:
        """Return what a record is called."""
        return str(self.values(record)[self.columns[0].key])


class RecordEditor:
    """The list of a garden's records of one kind at a time, and the form that changes them.

    ``chose`` is called after another record was chosen, added or removed. ``opens``: the first record is chosen until
    the designer asks for a new one.
    """

    def __init__(
        self,
        page: Page,
        kinds: Sequence[Kind],
        *,
        name: str,
        chose: Callable[[], object] = lambda: None,
        opens: bool = False,
    ) -> None:
        self.page, self.chose, self.opens = page, chose, opens
        self.table = {kind.word: kind for kind in kinds}
        self.kind = kinds[0]
        self.chosen: Any = None  # the record in the form
        self.titles: frozenset[str] = frozenset()  # of all that was listed
        units = page.project.units
        self.forms = {kind.word: Form([c.entry(units) for c in kind.columns], name=kind.slug) for kind in kinds}
        self.kinds = controls.choice("Kind", self.kind.word, list(self.table), self.choose_kind, name=f"{name}-kind")
        first = f"a new {self.kind.word}"
        self.which = controls.choice("Recorded", None, [(first, None)], self.choose, name=name, lines=LINES[0])
        self.fields = w.VBox([self.forms[self.kind.word]], layout=w.Layout(width="100%"))
        self.add_button = controls.button("Add", self.add, name=f"add-{name}", width="32%")
        self.change_button = controls.button("Change", self.change, name=f"change-{name}", width="32%")
        self.remove_button = controls.button(self.kind.removing, self.remove, name=f"remove-{name}", width="32%")
        buttons = controls.row(self.add_button, self.change_button, self.remove_button)
        self.widget = w.VBox(
            [*([self.kinds] if len(kinds) > 1 else []), self.which, self.fields, buttons],
            layout=w.Layout(width="100%"),
        )

    @property
    def form(self) -> Form:
        """The form of the kind that is shown."""
        return self.forms[self.kind.word]

    @property
    def title(self) -> str:
        """What the chosen record is called, empty while none is chosen."""
        return "" if self.chosen is None else self.kind.title(self.chosen)

    def attempt(self, action: Callable[..., object], *arguments: object) -> bool:
        """Run a handler as the page does: what goes wrong is said there."""
        return self.page.attempt(action, *arguments)

    def show(self) -> None:
        """List what is on record; what was chosen stays chosen while it is there, what is being typed stays."""
        records = self.kind.of(self.page.project)
        self.chosen = self._still(records)
        listed = [(self.kind.listed(r, self.page.project.units), number) for number, r in enumerate(records)]
        self.which.bar.rows = min(max(len(listed) + 1, LINES[0]), LINES[1])
        at = None if self.chosen is None else records.index(self.chosen)
        relist(self.which, [(f"a new {self.kind.word}", None), *listed], at)
        for column in self.kind.columns:
            if column.offered is not None:
                box = self.form.boxes[column.key]
                relist(box, [*column.options, *column.offered(self.page.project)], box.bar.value)
        self._fill(again=False)

    def position(self) -> int:
        """Return which of the records on record is chosen, 0 first. Raises GardenError while none is."""
        return self.kind.of(self.page.project).index(self._old())

    # ---- handlers

    def choose_kind(self, word: str) -> None:
        """Turn to another kind of record."""
        self.kind, self.chosen = self.table[word], None
        self.remove_button.description = self.kind.removing
        self.kinds.show(word)
        self.fields.children = (self.form,)
        self.attempt(self.show)

    @handler
    def choose(self, number: int | None) -> None:
        """Show one record in the form; None clears the way for a new one."""
        self.chosen = None if number is None else self.kind.of(self.page.project)[number]
        self.opens = self.opens and number is not None
        self._fill(again=True)
        self.chose()

    def turn_to(self, name: str) -> None:
        """Turn to a record by its name, whatever its kind: one that was clicked on the plan."""
        project = self.page.project
        kind, number = next(
            (k, n) for k in self.table.values() for n, one in enumerate(k.of(project)) if k.title(one) == name
        )
        if kind is not self.kind:
            self.choose_kind(kind.word)
        self.choose(number)
        self.show()

    @handler
    def add(self) -> None:
        """Add what the form describes, and choose it."""
        kind, values = self.kind, self._read(None)
        before = self.kind.of(self.page.project)
        if self.page.edit(f"add {kind.word} {self._named()}", lambda p: kind.add(p, values)):
            self.chosen = next((r for r in kind.of(self.page.project) if r not in before), None)
            self.show()
            self.chose()
            named = kind.title(self.chosen) if self.chosen is not None else self._named()
            self.page.message.say(f'added {kind.word} "{named}"; choose "a new {kind.word}" to add another')

    @handler
    def change(self) -> None:
        """Change the chosen record to what the form says."""
        kind, old = self.kind, self._old()
        values, before = self._read(old), kind.of(self.page.project)
        if self.page.edit(f"change {kind.word} {self._named()}", lambda p: kind.change(p, old, values)):
            after, name = kind.of(self.page.project), " ".join(self._named().split())
            new = [r for r in after if r not in before]
            self.chosen = next((r for r in new if kind.title(r) == name), after[before.index(old)])
            self.show()

    @handler
    def remove(self) -> None:
        """Take the chosen record out."""
        kind, old = self.kind, self._old()
        if self.page.edit(f"remove {kind.word} {kind.title(old)}", lambda p: kind.remove(p, old)):
            self.chosen = None
            self.show()
            self.chose()

    # ---- helpers

    def _still(self, records: Sequence[Any]) -> Any:
        """Return the chosen record as it now stands: by its title, or renamed elsewhere as the only new one."""
        found, titles = self.chosen, [self.kind.title(r) for r in records]
        if found is not None and found not in records:
            new = [title for title in titles if title not in self.titles]
            renamed = new[0] if len(new) == 1 and len(titles) == len(self.titles) else self.title
            called = self.title if self.title in titles else renamed
            found = records[titles.index(called)] if called in titles else None
        self.titles = frozenset(titles)
        return records[0] if found is None and self.opens and records else found

    def _old(self) -> Any:
        if self.chosen is None:
            raise GardenError(f"no {self.kind.word} is chosen; choose one from the list")
        return self.chosen

    def _named(self) -> str:
        return self.form.texts()[self.kind.columns[0].key]

    def _read(self, old: Any) -> dict[str, Any]:
        """Return what the form says; what cannot be read is said beside its field."""
        self.form.complain()
        try:
            return self.kind.read(self.form.texts(), self.page.project, old=old)
        except FieldError as error:
            self.form.complain(error.key, str(error))
            raise

    def _fill(self, *, again: bool) -> None:
        self.change_button.disabled = self.remove_button.disabled = self.chosen is None
        if self.chosen is not None:
            self.form.show(self.kind.texts(self.chosen, self.page.project.units), again=again)
        elif self.form.shown:
            self.form.fill(**{c.key: "" for c in self.kind.columns if c.own})
            self.form.shown = {}
        if again:
            self.form.complain()
