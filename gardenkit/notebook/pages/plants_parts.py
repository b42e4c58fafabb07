"""The parts of the catalogue page: finding a plant, its facts, correcting a value, a plant of one's own, a table."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing import charts
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Form
from gardenkit.notebook.pages.planting import Html, kind_named, named, pictured, rich_table, swatches, title
from gardenkit.notebook.pages.plants_words import GROUPS, MONTH_COLUMNS, WORDS, column_words, entries
from gardenkit.notebook.part import Part
from gardenkit.planting.catalogue import load_catalogue, write_own
from gardenkit.planting.catalogue_columns import BY_NAME, COLUMNS, LAYERS
from gardenkit.planting.nursery import nursery_size_named
from gardenkit.planting.own_plants import (
    NEVER_COPIED,
    cells_of,
    corrected,
    forget,
    row_like,
    rows_of,
    times_changed,
    write_rows,
)
from gardenkit.planting.soil_volume import SOIL_RULES, soil_needed
from gardenkit.planting.sourcing import memory_words
from gardenkit.planting.species import CLEARED, CONFIRM, Species, invasive_text, toxicity_text
from gardenkit.planting.substitutes import substitutes
from gardenkit.units import counted, show_volume

if TYPE_CHECKING:
    from gardenkit.notebook.pages.plants import PlantsPage

SHOWN = 25
MUCH = 4.0  # a length that changes by more times is asked about. House value.


class Finder(Part):
    """A name or a part of one, and a layer: the plants found, one of them to be chosen."""

    page: "PlantsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.search = controls.field("Find", "", self.look, name="find-plant", hint="a name, or part of one")
        self.layer = controls.choice("Layer", "", [("all layers", ""), *((x, x) for x in LAYERS)], self.look)
        self.pick = controls.choice("Plant", None, [("choose ...", None)], self.choose, name="pick-plant")
        self.found = w.HTML(layout=_half())
        self.controls = [self.search, self.layer, self.pick]

    @handler
    def look(self, _: object) -> None:
        """Look for what is typed."""
        self.page.refresh()

    @handler
    def choose(self, _: object) -> None:
        """Show another plant."""
        self.page.show_chosen()

    def hits(self) -> tuple[Species, ...]:
        """Return the plants that are found."""
        text, layer = self.search.bar.value.strip(), self.layer.bar.value
        every = self.garden.plain_catalogue.find(text) if text else self.garden.plain_catalogue.plants
        return tuple(s for s in every if layer in ("", s.layer))

    def refresh(self) -> None:
        """List what is found. Raises GardenError naming the nearest plant when a name is not known."""
        hits, text, catalogue = self.hits(), self.search.bar.value.strip(), self.garden.plain_catalogue
        if not hits and text:
            kind_named(catalogue, text)
        listed = [("choose ...", None), *((f"{s.botanical}, {s.common}", s.botanical) for s in hits)]
        known, was = {s.botanical for s in hits}, self.pick.bar.value
        forms.relist(self.pick, listed, was if was in known else hits[0].botanical if text and hits else None)
        own = self.page.own_names()
        rows = [
            (
                pictured(s, self.project.units, px=44),
                named(s),
                s.layer,
                self.page.size_of(s),
                self.page.bloom_words(s),
                "own" if s.botanical in own else "",
            )
            for s in hits[:SHOWN]
        ]
        more = f"; the first {SHOWN} are shown, type a name to find others" if len(hits) > SHOWN else ""
        note = controls.label(f"{len(hits)} of {len(catalogue)} plants{more}").value
        self.found.value = note + rich_table(("", "plant", "layer", "full size", "in flower", ""), rows, scroll=True)

    def chosen(self) -> Species:
        """Return the plant that is chosen. Raises GardenError when none is."""
        if self.pick.bar.value is None:
            raise GardenError("no plant is chosen; find one by name and choose it from the list")
        return self.garden.plain_catalogue[self.pick.bar.value]


class Facts(Part):
    """All that is known of the chosen plant, what to beware of first, each fact with its source."""

    page: "PlantsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.shown = w.HTML(layout=_half())

    def refresh(self) -> None:
        """Show the chosen plant."""
        if self.page.finder.pick.bar.value is None:
            sources = memory_words(self.garden.catalogue)
            told = f"Choose a plant to see all that is known of it, and from where. Values {sources}."
            self.shown.value = controls.label(told).value
            return
        s = self.page.finder.chosen()
        parts = [self._head(s), title("Beware") + controls.table_html(("", ""), self._beware(s))]
        cells = cells_of(s)
        for name, columns in GROUPS:
            rows = [(column_words(c), self._cell(c, cells[c])) for c in columns if cells[c]]
            if name == "Size" and s.is_tree:
                rows.append(("soil for its roots", self._soil(s)))
            parts.append(title(name) + rich_table(("", ""), rows))
        scene = self.scene(title="In this garden")
        parts += [f'<div class="gk-chart">{svg(scene)}</div>'] if scene is not None else []
        self.shown.value = "".join(parts)

    def scene(self, *, title: str = "") -> Scene | None:
        """Return the chosen plant's year in flower, None without one."""
        if self.page.finder.pick.bar.value is None or not self.page.finder.chosen().bloom_months:
            return None
        chosen = self.page.finder.chosen()
        return charts.bloom_calendar(self.page.bloom_rows([chosen]), title=title or chosen.botanical)

    def _head(self, s: Species) -> str:
        own = " (with the garden's own values)" if s.botanical in self.page.own_names() else ""
        return (
            f'<div style="display:flex;gap:14px;align-items:flex-end">{pictured(s, self.project.units, px=120)}'
            f"<div>{title(s.botanical)}{escaped(s.common)}, {escaped(s.family)}{escaped(own)}</div></div>"
        )

    def _beware(self, s: Species) -> list[tuple[str, str]]:
        rows = [
            ("toxic", toxicity_text(s)),
            ("invasive", invasive_text(s)),
            ("cautions", "; ".join(s.cautions) or "none written down, which does not mean there are none"),
            ("source", s.caution_source),
            ("take instead", ", ".join(kind.botanical for kind in substitutes(s, self.garden.catalogue))),
            ("in any case", CONFIRM),
        ]
        return [(word, self.garden.say(said)) for word, said in rows]

    def _soil(self, s: Species) -> str:
        asked = soil_needed(height=s.height, spread=s.spread)
        return f"{show_volume(asked, self.project.units)}; {self.garden.say(SOIL_RULES['Cornell'].source)}"

    def _cell(self, column: str, cell: str) -> object:
        if BY_NAME[column].kind in ("colour", "colours"):
            return Html(swatches(cell.split("; ")) + " " + escaped(cell))
        if column.endswith("_m"):
            return self.page.lengths(float(cell))
        if column == "nursery_sizes":
            sizes = (nursery_size_named(name).words(self.project.units) for name in cell.split("; "))
            return self.garden.say(", ".join(dict.fromkeys(sizes)))
        if column not in MONTH_COLUMNS:
            return self.garden.say(cell)
        half, _, month = cell.rpartition(" ")
        whole = ", known by whole months only" if column in ("bloom_start", "bloom_end") and not half else ""
        return f"{half + ' in ' if half else ''}month {month} in the reference zone 6{whole}"


class Correction(Part):
    """One value of the chosen plant written over the catalogue's in this garden, or all of them forgotten again."""

    page: "PlantsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        columns = [(column_words(c.name), c.name) for c in COLUMNS[1:]]
        self.column = controls.choice("Value", "height_max_m", columns, self.choose)
        self.allowed = w.HTML()
        self.value = controls.field("is here", "", lambda _: None, name="own-value")
        words = f'Written into plants.csv in the garden\'s folder; "{CLEARED}" takes a value away.'
        self.controls = [
            self.column,
            self.allowed,
            self.value,
            controls.label(words),
            controls.button("Write this value", self.write, name="override", width="96%"),
            controls.button("Forget the garden's own values", self.forget, name="forget", width="96%"),
        ]

    @handler
    def choose(self, _: object) -> None:
        """Turn to another value."""
        self.refresh()

    def refresh(self) -> None:
        """Show the value as it is, and what it may be."""
        column = BY_NAME[self.column.bar.value]
        allowed = column.allowed()
        if column.name.endswith("_m"):
            allowed = f"a length from {self.page.lengths(column.low)} to {self.page.lengths(column.high)}"
        self.allowed.value = controls.label(allowed).value
        known = self.page.finder.pick.bar.value is not None
        cell = cells_of(self.page.finder.chosen())[column.name] if known else ""
        self.value.show(self.page.typed_cell(column.name, cell))

    @handler
    def write(self) -> None:
        """Write the typed value over the catalogue's, in the garden's own table."""
        species, column = self.page.finder.chosen(), self.column.bar.value
        row = corrected(species, column, self.page.read_cell(column, self.value.bar.value.strip()))
        made = write_own(self.page.own_file, row)
        before, after = cells_of(species)[column], cells_of(made)[column]
        shown = self.page.typed_cell(column, after) or "empty"
        much = _asked(times_changed(before, after)) if column.endswith("_m") else ""
        self.page.written(f"{made.botanical}: {column_words(column)} is {shown} in this garden now{much}", made)

    @handler
    def forget(self) -> None:
        """Take the chosen plant out of the garden's own table."""
        name, planting = self.page.finder.chosen().botanical, self.project.planting
        shipped = name in load_catalogue()
        if not shipped and name in {*planting.palette, *planting.favourites, *(p.species for p in planting.plants)}:
            raise GardenError(f"{name} stands in the garden or its palette; remove it there first")
        forget(self.page.own_file, name)
        told = f"{name} is {'as in the catalogue again' if shipped else 'gone from the own plants'}"
        self.page.changed(told, find=name if shipped else "")


class OwnPlant(Part):
    """A plant of the designer's own, begun from the chosen one that it is like."""

    page: "PlantsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.form = Form(entries(), name="own")
        words = (
            "What the form does not ask is taken from the plant chosen above, which should be like it. Cautions are "
            "never taken over: leave them empty only if nothing is listed, which does not mean safe."
        )
        self.controls = [
            controls.label(words),
            controls.button("Begin from the chosen plant", self.begin, name="like", width="96%"),
            self.form,
            controls.button("Add the plant", self.add, name="add-own", width="96%"),
        ]

    @handler
    def begin(self) -> None:
        """Begin the form from the chosen plant; its cautions are not taken over."""
        cells = cells_of(self.page.finder.chosen())
        copied = {c: "" if c in NEVER_COPIED else self.page.typed_cell(c, cells[c]) for c in WORDS if c != "native_na"}
        self.form.fill(**copied, native_na="no")

    @handler
    def add(self) -> None:
        """Write a plant of the designer's own into the garden's table."""
        typed = {column: self.page.read_cell(column, text) for column, text in self.form.texts().items()}
        if not typed["botanical"]:
            raise GardenError("the plant has no botanical name; type one")
        if typed["botanical"] in self.garden.catalogue:
            raise GardenError(
                f"{typed['botanical']} is in the catalogue already; choose it and correct its values instead"
            )
        made = write_own(self.page.own_file, row_like(self.page.finder.chosen(), typed))
        self.page.written(f"{made.botanical} is in the garden's own plants now", made)


class PastedTable(Part):
    """Several plants at once, pasted as lines of a table."""

    page: "PlantsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.text = forms.lines(
            "Lines of a table, the first with the columns' names",
            rows=8,
            name="paste",
            hint="botanical,height_max_m\nSalvia nemorosa,0.7",
        )
        self.controls = [self.text, controls.button("Add these plants", self.add, name="paste", width="96%")]

    @handler
    def add(self) -> None:
        """Write every pasted row, or none when one of them is wrong."""
        made = write_rows(self.page.own_file, rows_of(self.text.bar.value))
        self.text.show("")
        self.page.written(f"{counted(len(made), 'plant')} written into the garden's own table", made[0])


def _half() -> w.Layout:
    return w.Layout(flex="1 1 420px", min_width="0", max_width="760px")


def _asked(times: float) -> str:
    """Return a question when a length has changed so much that its unit may be wrong."""
    if 1 / MUCH <= times <= MUCH:
        return ""
    words = f"{times:.0f} times less" if times > 1 else f"{1 / times:.0f} times more"
    return f"; it was {words}: is the unit right?"
