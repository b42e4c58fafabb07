"""One stone of a path, clicked on the plan: its size, its place, and whether it is pinned where it lies."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing.overlays import chosen_shape_mark
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.handover import template
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import heading, plan_scale
from gardenkit.notebook.part import Part
from gardenkit.notebook.place import PlaceOf
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.moved import Sort, stone_of
from gardenkit.structure.laying import Stone
from gardenkit.units import show_length, show_weight

if TYPE_CHECKING:
    from gardenkit.notebook.pages.structure import StructurePage


class OneStone(Part):
    """The fields of the stone that is chosen on the page. Hidden while none is."""

    page: "StructurePage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.said = w.HTML()
        self.place = PlaceOf(self.page, self._chosen)
        self.pin = controls.button("Pin the stone", self.toggle_pin, tip="it stays where it lies", name="pin-stone")
        self.pin.layout.width = "96%"
        tip = "its outline over ordinary sheets, to lay on the stone that is cut"
        self.cut = controls.button("Write its full-size template", self.write_template, tip=tip, width="96%")
        parts = [heading("The stone that is chosen"), self.said, self.place.widget, self.pin, self.cut]
        self.widget = w.VBox(parts)
        self.widget.layout = w.Layout(width="100%", display="none")

    def refresh(self) -> None:
        """Show the stone as it lies, outlined on the plan."""
        stone, units = self.stone(), self.project.units
        self.widget.layout.display = "none" if stone is None else ""
        self.place.refresh()
        if stone is None:
            self.page.plan.light(self, ())
            return
        size = " × ".join(show_length(far, units, small=True) for far in (stone.across, stone.along))
        state = "pinned" if stone.held else "lies by the rules of its path"
        rows = [("size", size), ("weight", show_weight(stone.weight, units)), ("place", state)]
        self.said.value = controls.table_html((f"stone {stone.number + 1}", self.page.path_name), rows)
        self.pin.description = "Unpin the stone" if stone.held else "Pin the stone"
        scale = plan_scale(self.project.site)
        self.page.plan.light(self, (chosen_shape_mark(plane.region(stone.outline), scale=scale),))

    def toggle_pin(self) -> None:
        """Pin the stone where it lies, or let it lie by the rules of its path again."""
        stone, name = self.stone(), self.page.path_name
        if stone is None:
            return
        if stone.held:
            self.edit(f"unpin stone {stone.number + 1}", lambda p: edits.unpin_stone(p, name, stone.number))
        else:
            self.edit(f"pin stone {stone.number + 1}", lambda p: edits.move_stone(p, name, stone.number, to=stone.at))

    @handler
    def write_template(self) -> None:
        """Write the cutting template of the stone into the garden's folder."""
        stone = self.stone()
        if stone is None:
            raise GardenError("no stone is chosen; click one on the plan first")
        written = template.write_stone(self.garden, self.page.path_name, stone.number + 1)
        self.message.say(f"written: {written.name}; print it at 100 %")

    def stone(self) -> Stone | None:
        """Return the chosen stone; None while none is, or the path has it no more."""
        laid = self.garden.layout.layings.get(self.page.path_name)
        there = laid is not None and any(s.number == self.page.stone for s in laid.stones)
        return stone_of(self.project, self.page.path_name, self.page.stone) if there else None

    def _chosen(self) -> tuple[Sort, str] | None:
        return None if self.stone() is None else ("stone", f"{self.page.path_name}:{self.page.stone}")
