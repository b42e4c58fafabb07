"""The plant catalogue: found by name, every fact with its source, and plants of one's own laid over it."""

from pathlib import Path

import ipywidgets as w

from gardenkit.drawing.scene import Scene
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.planting import PlantingPage, wide_page
from gardenkit.notebook.pages.plants_parts import Correction, Facts, Finder, OwnPlant, PastedTable
from gardenkit.notebook.pages.plants_words import column_words
from gardenkit.planting.own_plants import own_names
from gardenkit.planting.species import CLEARED, CONFIRM, Species, invasive_text, toxicity_text
from gardenkit.storage import OWN_PLANTS_FILE
from gardenkit.units import length


class PlantsPage(PlantingPage):
    """A search left, the facts of one plant right; forms to add a plant or to correct a value."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.finder, self.facts, self.correction = Finder(self), Facts(self), Correction(self)
        self.own, self.pasted = OwnPlant(self), PastedTable(self)
        groups = [
            ("Correct a value of this plant", self.correction.controls),
            ("A plant of your own", self.own.controls),
            ("Paste a table", self.pasted.controls),
        ]
        sections = forms.sections(groups)
        sections.selected_index = None
        layout = w.Layout(width="100%", flex_flow="row wrap", grid_gap="8px 28px")
        right = w.HBox([self.finder.found, self.facts.shown], layout=layout)
        self.widget = wide_page(self.message, [*self.finder.controls, sections], right, [])

    def refresh(self) -> None:
        """Show what is found in the catalogue as it stands."""
        self.finder.refresh()
        self.message.say("")
        self.show_chosen()

    def show_chosen(self) -> None:
        """Show the chosen plant's facts, and the value that may be corrected."""
        self.correction.refresh()
        self.facts.refresh()

    # --- what the parts share -----------------------------------------------------------------------------------

    @property
    def own_file(self) -> Path:
        """The garden's own table of plants."""
        return self.session.folder / OWN_PLANTS_FILE

    def own_names(self) -> frozenset[str]:
        """Return the plants that the garden has values of its own for."""
        return frozenset(own_names(self.own_file))

    def typed_cell(self, column: str, cell: str) -> str:
        """Return a cell as the designer types it: lengths in the garden's units."""
        return self.typed(float(cell)) if column.endswith("_m") and cell else cell

    def read_cell(self, column: str, text: str) -> str:
        """Return what was typed as a cell: lengths in metres. Raises GardenError for a length that cannot be read."""
        if not column.endswith("_m") or not text or text == CLEARED:
            return text
        return f"{round(length(text, bare=forms.bare_unit(self.project.units), where=column_words(column)), 3):g}"

    def written(self, words: str, made: Species) -> None:
        """Show a plant as it was written, on every page."""
        self.changed(words, find=made.botanical)

    def changed(self, words: str, *, find: str) -> None:
        """Show the garden's own table as it is now, on every page, and look for a plant."""
        self.finder.search.show(find)
        self.session.announce()
        self.refresh()
        self.message.say(words)

    def scene(self) -> Scene | None:
        """Return the chosen plant's year."""
        return self.facts.scene()

    def summary(self) -> str:
        """Return what is found, in words."""
        if self.finder.pick.bar.value is not None:
            s = self.finder.chosen()
            beware = self.told(f"{toxicity_text(s)}; {invasive_text(s)}; {CONFIRM}")
            return f"{s.botanical}, {s.common}: {self.size_of(s)}; {beware}"
        return f"{len(self.catalogue)} plants in the catalogue"
