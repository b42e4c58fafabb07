"""The plant catalogue: found by name, every fact with its source, and plants of one's own laid over it."""

import ipywidgets as w

from gardenkit import reading
from gardenkit.drawing import charts
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.pages.planting import (
    Html,
    PlantingPage,
    kind_named,
    named,
    pictured,
    rich_table,
    swatches,
    title,
    wide_page,
)
from gardenkit.planting.catalogue import load_catalogue, write_own
from gardenkit.planting.catalogue_columns import BY_NAME, COLUMNS, FORMS, LAYERS, LEAVES
from gardenkit.planting.nursery import nursery_size_named
from gardenkit.planting.own_plants import cells_of, forget, own_names, rows_of, write_rows
from gardenkit.planting.soil_volume import SOIL_RULES, soil_needed
from gardenkit.planting.sourcing import memory_words
from gardenkit.planting.species import CLEARED, CONFIRM, Species, invasive_text, toxicity_text
from gardenkit.planting.substitutes import substitutes
from gardenkit.units import length, show_volume

SHOWN = 25
MUCH = 4.0  # a length that changes by more is asked about. House value.
OWN_SOURCE = "the designer's own entry"
SOURCES = ("size_source", "growing_source", "season_source", "caution_source")
# What a plant of one's own never takes from the plant it is like: nobody may trust a caution that was copied.
NEVER_COPIED = (
    "toxic_to",
    "toxicity",
    "toxicity_by",
    "invasive_in",
    "substitutes",
    "cautions",
    "invasive",
    "native_to",
    "native_na",
    "wildlife",
)
WORDS = {
    "botanical": "Botanical name",
    "common": "Common name",
    "family": "Family",
    "layer": "Layer",
    "form": "Form",
    "height_min_m": "Height from",
    "height_max_m": "Height to",
    "spread_min_m": "Width from",
    "spread_max_m": "Width to",
    "spacing_m": "Distance apart",
    "zone_min": "Hardy from zone",
    "zone_max": "to zone",
    "sun_best": "Does best in sun",
    "sun_range": "Takes sun",
    "moisture": "Takes ground",
    "bloom_start": "In flower from month",
    "bloom_end": "to month",
    "flower_colours": "Flower colours",
    "foliage_summer": "Summer leaf colour",
    "leaf": "Leaf",
    "native_to": "Native to",
    "native_na": "Native to North America",
    "toxic_to": "Toxic to",
    "toxicity": "How toxic",
    "cautions": "Cautions",
}
HINTS = {
    "botanical": "Salvia nemorosa 'My Own'",
    "sun_range": "full; part",
    "moisture": "dry; medium",
    "flower_colours": "#8a4fa3; #ffffff",
    "foliage_summer": "#5d7a4a",
    "toxic_to": "dogs; cats (empty: not listed)",
    "toxicity": "severe, moderate or mild",
    "cautions": "thorny; suckers",
    "native_to": "garden origin",
}
GROUPS = (
    ("Names and kind", ("botanical", "common", "family", "layer", "form", "native_to", "native_na")),
    (
        "Size",
        (
            "height_min_m",
            "height_max_m",
            "spread_min_m",
            "spread_max_m",
            "height_10_min_m",
            "height_10_max_m",
            "spread_10_min_m",
            "spread_10_max_m",
            "growth",
            "years_to_mature",
            "spacing_m",
            "weight",
            "climbs_by",
            "size_source",
        ),
    ),
    (
        "Where it grows",
        ("zone_min", "zone_max", "sun_best", "sun_range", "moisture", "ph_min", "ph_max", "growing_source"),
    ),
    (
        "Through the year",
        (
            "bloom_start",
            "bloom_end",
            "flower_colours",
            "foliage_spring",
            "foliage_summer",
            "foliage_autumn",
            "foliage_winter",
            "fruit_start",
            "fruit_end",
            "fruit_colour",
            "winter_interest",
            "leaf",
            "leaf_on",
            "leaf_off",
            "texture",
            "light_in_leaf",
            "light_bare",
            "fragrance",
            "season_source",
        ),
    ),
    (
        "In a planting",
        (
            "role",
            "sociability",
            "spreads_by",
            "standing_start",
            "standing_end",
            "life_years",
            "substitutes",
            "habit_source",
        ),
    ),
    ("Wildlife, care, buying", ("wildlife", "care", "prune_group", "availability", "nursery_sizes", "price")),
)


class PlantsPage(PlantingPage):
    """A search left, the facts of one plant right; forms to add a plant or to correct a value."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.search = controls.field("Find", "", self._search_soon, name="find-plant", hint="a name, or part of one")
        self.layer = controls.choice("Layer", "", [("all layers", ""), *((x, x) for x in LAYERS)], self._search_soon)
        self.pick = controls.choice("Plant", None, [("choose ...", None)], self._pick_soon, name="pick-plant")
        self.own_form = Form(_entries(), name="own")
        columns = [(_column_words(c.name), c.name) for c in COLUMNS[1:]]
        self.column = controls.choice("Value", "height_max_m", columns, self._column_soon)
        self.allowed = w.HTML()
        self.value = controls.field("is here", "", lambda _: None, name="own-value")
        self.paste = forms.lines(
            "Lines of a table, the first with the columns' names",
            rows=8,
            name="paste",
            hint="botanical,height_max_m\nSalvia nemorosa,0.7",
        )
        add = controls.button("Add these plants", self.add_pasted, name="paste", width="96%")
        groups = [
            ("Correct a value of this plant", self._override()),
            ("A plant of your own", self._own()),
            ("Paste a table", [self.paste, add]),
        ]
        sections = forms.sections(groups)
        sections.selected_index = None
        panel = [self.search, self.layer, self.pick, sections]
        self.found, self.facts = w.HTML(), w.HTML()
        for part in (self.found, self.facts):
            part.layout = w.Layout(flex="1 1 420px", min_width="0", max_width="760px")
        right = w.HBox(
            [self.found, self.facts], layout=w.Layout(width="100%", flex_flow="row wrap", grid_gap="8px 28px")
        )
        self.widget = wide_page(self.message, panel, right, [])

    def refresh(self) -> None:
        """Show what is found in the catalogue as it stands."""
        self._search()

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def override(self) -> None:
        """Write the typed value over the catalogue's, in the garden's own table."""
        species, column = self.chosen(), self.column.bar.value
        before = cells_of(species)
        cell = self._read(column, self.value.bar.value.strip()) or CLEARED
        row = {"botanical": species.botanical, column: cell}
        ten = column.replace("_min_m", "_10_min_m").replace("_max_m", "_10_max_m")
        if ten in before and before[ten] == before[column]:  # full grown by then, as herbs are
            row[ten] = cell
        made = write_own(self.session.folder / "plants.csv", row)
        shown = self._typed(column, cells_of(made)[column]) or "empty"
        much = _times(before[column], cells_of(made)[column]) if column.endswith("_m") else ""
        self._written(f"{made.botanical}: {_column_words(column)} is {shown} in this garden now{much}", made)

    @handler
    def forget(self) -> None:
        """Take the chosen plant out of the garden's own table."""
        name = self.chosen().botanical
        planting = self.project.planting
        shipped = name in load_catalogue()
        if not shipped and name in {*planting.palette, *planting.favourites, *(p.species for p in planting.plants)}:
            raise GardenError(f"{name} stands in the garden or its palette; take it out there first")
        forget(self.session.folder / "plants.csv", name)
        self.search.show(name if shipped else "")
        self.session.announce()
        self._search()
        self.message.say(f"{name} is {'as in the catalogue again' if shipped else 'gone from the own plants'}")

    @handler
    def add_own(self) -> None:
        """Write a plant of the designer's own into the garden's table."""
        typed = {column: self._read(column, text) for column, text in self.own_form.texts().items()}
        if not typed["botanical"]:
            raise GardenError("the plant has no botanical name; type one")
        if typed["botanical"] in self.catalogue:
            raise GardenError(
                f"{typed['botanical']} is in the catalogue already; choose it and correct its values instead"
            )
        like = {c: cell for c, cell in cells_of(self.chosen()).items() if c not in NEVER_COPIED}
        row = {**like, **typed, **dict.fromkeys(SOURCES, OWN_SOURCE), **_ten_year_sizes(like, typed)}
        made = write_own(self.session.folder / "plants.csv", row)
        self._written(f"{made.botanical} is in the garden's own plants now", made)

    @handler
    def add_pasted(self) -> None:
        """Write every pasted row, or none when one of them is wrong."""
        made = write_rows(self.session.folder / "plants.csv", rows_of(self.paste.bar.value))
        self.paste.show("")
        self._written(f"{len(made)} plants written into the garden's own table", made[0])

    @handler
    def like_chosen(self) -> None:
        """Begin the form from the chosen plant; its cautions are not taken over."""
        cells = cells_of(self.chosen())
        copied = {c: "" if c in NEVER_COPIED else self._typed(c, cells[c]) for c in WORDS if c != "native_na"}
        self.own_form.fill(**copied)
        self.own_form.fill(native_na="no")

    # --- what is shown ------------------------------------------------------------------------------------------

    def hits(self) -> tuple[Species, ...]:
        """Return the plants that are found."""
        text, layer = self.search.bar.value.strip(), self.layer.bar.value
        every = self.catalogue.find(text) if text else self.catalogue.plants
        return tuple(s for s in every if layer in ("", s.layer))

    def chosen(self) -> Species:
        """Return the plant whose facts are shown. Raises GardenError when none is chosen."""
        if self.pick.bar.value is None:
            raise GardenError("no plant is chosen; find one by name and choose it from the list")
        return self.catalogue[self.pick.bar.value]

    # --- helpers ------------------------------------------------------------------------------------------------

    def _override(self) -> list[w.Widget]:
        words = f'Written into plants.csv in the garden\'s folder; "{CLEARED}" takes a value away.'
        return [
            self.column,
            self.allowed,
            self.value,
            controls.label(words),
            controls.button("Write this value", self.override, name="override", width="96%"),
            controls.button("Forget the garden's own values", self.forget, name="forget", width="96%"),
        ]

    def _own(self) -> list[w.Widget]:
        words = (
            "What the form does not ask is taken from the plant chosen above, which should be like it. Cautions are "
            "never taken over: leave them empty only if nothing is listed, which does not mean safe."
        )
        return [
            controls.label(words),
            controls.button("Begin from the chosen plant", self.like_chosen, name="like", width="96%"),
            self.own_form,
            controls.button("Add the plant", self.add_own, name="add-own", width="96%"),
        ]

    def _search_soon(self, _: object) -> None:
        self.attempt(self._search)

    def _pick_soon(self, _: object) -> None:
        self.attempt(self._show_facts)

    def _column_soon(self, _: object) -> None:
        self.attempt(self._show_value)

    def _search(self) -> None:
        hits = self.hits()
        text = self.search.bar.value.strip()
        if not hits and text:
            kind_named(self.catalogue, text)  # names the nearest known plant
        self.message.say("")
        listed = [("choose ...", None), *((f"{s.botanical}, {s.common}", s.botanical) for s in hits)]
        known = {s.botanical for s in hits}
        chosen = self.pick.bar.value if self.pick.bar.value in known else hits[0].botanical if text and hits else None
        forms.relist(self.pick, listed, chosen)
        own = self._own_names()
        rows = [
            (
                pictured(s, self.project.units, px=44),
                named(s),
                s.layer,
                self.size_of(s),
                self.bloom_words(s),
                "own" if s.botanical in own else "",
            )
            for s in hits[:SHOWN]
        ]
        more = f"; the first {SHOWN} are shown, type a name to find others" if len(hits) > SHOWN else ""
        note = controls.label(f"{len(hits)} of {len(self.catalogue)} plants{more}").value
        self.found.value = note + rich_table(("", "plant", "layer", "full size", "in flower", ""), rows, scroll=True)
        self._show_facts()

    def _show_facts(self) -> None:
        self._show_value()
        if self.pick.bar.value is None:
            told = (
                f"Choose a plant to see all that is known of it, and from where. Values {memory_words(self.catalogue)}."
            )
            self.facts.value = controls.label(told).value
            return
        s = self.chosen()
        cells = cells_of(s)
        beware = [
            ("toxic", toxicity_text(s)),
            ("invasive", invasive_text(s)),
            ("cautions", "; ".join(s.cautions) or "none written down, which does not mean there are none"),
            ("source", s.caution_source),
            ("take instead", ", ".join(kind.botanical for kind in substitutes(s, self.catalogue))),
            ("in any case", CONFIRM),
        ]
        picture = pictured(s, self.project.units, px=120)
        head = f'<div style="display:flex;gap:14px;align-items:flex-end">{picture}<div>{title(s.botanical)}'
        own = " (with the garden's own values)" if s.botanical in self._own_names() else ""
        parts = [f"{head}{escaped(s.common)}, {escaped(s.family)}{escaped(own)}</div></div>"]
        parts.append(title("Beware") + controls.table_html(("", ""), beware))
        for name, columns in GROUPS:
            rows = [(_column_words(c), self._cell(c, cells[c])) for c in columns if cells[c]]
            if name == "Size" and s.layer in ("tree", "conifer"):
                asked = soil_needed(height=s.height, spread=s.spread)
                shown = show_volume(asked, self.project.units)
                rows.append(("soil for its roots", f"{shown}; {SOIL_RULES['Cornell'].source}"))
            parts.append(title(name) + rich_table(("", ""), rows))
        if s.bloom_months:
            chart = svg(charts.bloom_calendar(self.bloom_rows([s]), title="In this garden"))
            parts.append(f'<div class="gk-chart">{chart}</div>')
        self.facts.value = "".join(parts)

    def _cell(self, column: str, cell: str) -> object:
        if BY_NAME[column].kind in ("colour", "colours"):
            return Html(swatches(cell.split("; ")) + " " + escaped(cell))
        if column.endswith("_m"):
            return self.lengths(float(cell))
        if column == "nursery_sizes":
            return ", ".join(nursery_size_named(name).words() for name in cell.split("; "))
        if column in (
            "bloom_start",
            "bloom_end",
            "fruit_start",
            "fruit_end",
            "leaf_on",
            "leaf_off",
            "standing_start",
            "standing_end",
        ):
            return f"month {cell} in the reference zone 6"
        return cell

    def _show_value(self) -> None:
        column = BY_NAME[self.column.bar.value]
        allowed = column.allowed()
        if column.name.endswith("_m"):
            allowed = f"a length from {self.lengths(column.low)} to {self.lengths(column.high)}"
        self.allowed.value = controls.label(allowed).value
        cell = cells_of(self.chosen())[column.name] if self.pick.bar.value is not None else ""
        self.value.show(self._typed(column.name, cell))

    def _typed(self, column: str, cell: str) -> str:
        """Return a cell as the designer types it: lengths in the garden's units."""
        return self.typed(float(cell)) if column.endswith("_m") and cell else cell

    def _read(self, column: str, text: str) -> str:
        """Return what was typed as a cell: lengths in metres. Raises GardenError for a length that cannot be read."""
        if not column.endswith("_m") or not text or text == CLEARED:
            return text
        return f"{round(length(text, bare=forms.bare_unit(self.project.units), where=_column_words(column)), 3):g}"

    def _written(self, words: str, made: Species) -> None:
        self.search.show(made.botanical)
        self.session.announce()
        self._search()
        self.message.say(words)

    def _own_names(self) -> frozenset[str]:
        return frozenset(own_names(self.session.folder / "plants.csv"))

    def scene(self) -> Scene | None:
        """Return the chosen plant's year."""
        if self.pick.bar.value is None or not self.chosen().bloom_months:
            return None
        return charts.bloom_calendar(self.bloom_rows([self.chosen()]), title=self.chosen().botanical)

    def summary(self) -> str:
        """Return what is found, in words."""
        if self.pick.bar.value is not None:
            s = self.chosen()
            return f"{s.botanical}, {s.common}: {self.size_of(s)}; {toxicity_text(s)}; {invasive_text(s)}; {CONFIRM}"
        return f"{len(self.catalogue)} plants in the catalogue"


def _entries() -> tuple[Entry, ...]:
    options = {
        "layer": LAYERS,
        "form": FORMS,
        "leaf": LEAVES,
        "sun_best": ("full", "part", "shade"),
        "native_na": ("no", "yes"),
    }
    return tuple(
        Entry(key=key, words=words, hint=HINTS.get(key, ""), options=tuple((o, o) for o in options.get(key, ())))
        for key, words in WORDS.items()
    )


def _ten_year_sizes(like: dict[str, str], typed: dict[str, str]) -> dict[str, str]:
    """Return the sizes at ten years, in the proportion of the plant the new one is like; full size where that is."""
    found = {}
    for what in ("height", "spread"):
        for end in ("min", "max"):
            full, ten = like[f"{what}_{end}_m"], like[f"{what}_10_{end}_m"]
            own = reading.amount(typed[f"{what}_{end}_m"], f"{what}, {end}")
            found[f"{what}_10_{end}_m"] = (
                f"{own if ten == full else max(0.01, round(own * float(ten) / float(full), 2)):g}"
            )
    return found


def _times(before: str, after: str) -> str:
    """Return a question when a length has changed so much that its unit may be wrong."""
    after_is_more = float(after) > float(before)
    ratio = max(float(before), float(after)) / min(float(before), float(after))
    return (
        f"; it was {ratio:.0f} times {'less' if after_is_more else 'more'}: is the unit right?" if ratio > MUCH else ""
    )


def _column_words(column: str) -> str:
    """Return a column's name in words: ``height_10_max_m`` is ``height in year 10, most``."""
    if column in ("native_na", "zone_min", "zone_max"):
        words = {"native_na": "native to North America", "zone_min": "hardy from zone", "zone_max": "hardy to zone"}
        return words[column]
    words_of = column.removesuffix("_m").replace("_10", " in year 10").replace("_", " ")
    return words_of.removesuffix(" min").removesuffix(" max") + (
        ", least" if words_of.endswith(" min") else ", most" if words_of.endswith(" max") else ""
    )
