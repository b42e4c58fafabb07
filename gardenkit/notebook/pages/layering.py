"""Plants in layers: the plan in any year and month, with every plant to be dragged, swapped, locked or multiplied."""

from typing import Any

import ipywidgets as w

from gardenkit.drawing import charts
from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Disc, Mark, Scene, on_ground
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.bones import refill
from gardenkit.notebook.pages.planting import (
    PlantingPage,
    kind_named,
    pictured,
    rich_table,
    row,
    year_buttons,
    year_table,
)
from gardenkit.planting import hand
from gardenkit.planting.planting import Plant
from gardenkit.planting.spacing import place_in, spacing_for
from gardenkit.planting.species import Species, caution_text
from gardenkit.project.edits import planting as edits
from gardenkit.project.plant_choice import bed_called
from gardenkit.structure.beds import BedShape
from gardenkit.units import counted, length

WIDTH_PX = 700
CHOSEN_INK, CHOSEN_MM = "#b5231b", 0.7  # ring round the chosen plant
PATTERNS = [("staggered rows", "staggered"), ("square rows", "square")]
# The share of advice that belongs here.
TOPICS = ("setback", "crowding", "layering", "balance", "diversity", "bloom", "colour", "plant cautions")


class LayeringPage(PlantingPage):
    """Sliders for year and month, the plan with a handle on every plant, and the year's calendar beside it."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.year, self.month = 5, 6
        self.chosen_number: int | None = None
        self.year_bar = controls.slider(
            "Year after planting", 5, 0, 15, 1, self.set_year, show="{:.0f}".format, name="year"
        )
        self.month_bar = controls.slider(
            "Month", 6, 1, 12, 1, self.set_month, show=lambda v: MONTHS[int(v) - 1], name="month"
        )
        self.dragging = controls.tick("Show handles to drag plants", False, self.show_handles)
        self.dragging.bar.add_class("gk-tick-handles")
        self.facts, self.found, self.calendar = w.HTML(), w.HTML(), w.HTML()
        self.advice = AdviceList(self, topics=TOPICS, chosen=self._redraw)
        sections = forms.sections([("One plant", self._one_plant()), ("Another kind, a whole bed", self._kinds())])
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=860)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.year_bar,
            year_buttons(self.go_to_year),
            self.month_bar,
            self.dragging,
            sections,
            self.undo_row(),
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.advice.widget], beside=[self.calendar])

    def refresh(self) -> None:
        """Show the planting as it stands in the chosen year and month."""
        plants = self.project.planting.plants
        if self.chosen_number not in {p.number for p in plants}:
            self.chosen_number = None
        listed = [("choose ...", None), *((f"{p.number}  {p.species}", p.number) for p in plants)]
        forms.relist(self.pick, listed, self.chosen_number)
        refill(self.bed, [bed.name for bed in self.garden.layout.beds], self.bed.bar.value)
        self._redraw()
        self._show_facts()
        self._show_calendar()
        self.advice.show()

    # --- handlers -----------------------------------------------------------------------------------------------

    def set_year(self, year: float) -> None:
        """Look at another year; nothing is saved."""
        self.year = int(year)
        self.attempt(self._redraw)

    def go_to_year(self, year: int) -> None:
        """Look at year 1, 5, 10 or 15."""
        self.year_bar.bar.value = float(year)

    def set_month(self, month: float) -> None:
        """Look at another month; nothing is saved."""
        self.month = int(month)
        self.attempt(self._redraw)
        self.attempt(self._show_calendar)

    def show_handles(self, shown: bool) -> None:
        """Show or hide the handles on the plants."""
        del shown
        self.attempt(self._redraw)

    def choose(self, number: int | None) -> None:
        """Choose one plant to lock, remove, multiply or swap; it is ringed on the plan."""
        self.chosen_number = number
        self.attempt(self._show_facts)
        self.attempt(self._redraw)

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in which plants were dragged; what was refused goes back."""
        for handle, at in moved_handles(data, self.handles):
            self.attempt(self.drop, handle, at)
        self.attempt(self._redraw)

    def drop(self, handle: str | int, at: Point) -> None:
        """Put a plant where it was dragged; a locked one goes back."""
        number = int(handle)
        self.chosen_number = number
        place = (round(at[0], 3), round(at[1], 3))
        self.edit(f"move plant {number}", lambda p: edits.move_plant(p, number, to=place))

    @handler
    def toggle_lock(self) -> None:
        """Lock or unlock the chosen plant."""
        plant = self._chosen()
        word = "unlock" if plant.locked else "lock"
        locked = not plant.locked
        self.edit(f"{word} plant {plant.number}", lambda p: edits.lock_plants(p, plant.number, locked=locked))

    @handler
    def remove(self) -> None:
        """Take the chosen plant out."""
        number = self._chosen().number
        self.edit(f"remove plant {number}", lambda p: edits.remove_plants(p, number))

    @handler
    def one_more(self) -> None:
        """Plant more of the chosen kind round it, as many as are typed."""
        plant = self._chosen()
        typed = self.copies.bar.value.strip()
        if not typed.isdigit() or not int(typed):
            raise GardenError(f'"{typed}" is not a number of plants; type a whole number such as 1 or 5')
        bed = self.garden.layout.bed_at(plant.at)
        spacing = self.catalogue[plant.species].spacing_m
        inside = bed.region if bed else None
        if self.edit(
            f"{typed} more {plant.species}",
            lambda p: edits.multiply_plant(p, plant.number, int(typed), spacing=spacing, bed=inside),
        ):
            self.message.say(f"{typed} more {plant.species} planted {self.lengths(spacing)} apart")

    @handler
    def swap(self) -> None:
        """Put the typed kind in the place of the chosen plant."""
        number, kind = self._chosen().number, self._kind()
        self.edit(f"swap plant {number}", lambda p: edits.swap_plants(p, number, kind))

    @handler
    def swap_all(self) -> None:
        """Put the typed kind in the place of every unlocked plant of the chosen one's kind."""
        old, kind = self._chosen().species, self._kind()
        self.edit(f"swap all {old}", lambda p: edits.swap_kind(p, old, kind))

    @handler
    def add(self) -> None:
        """Plant one of the typed kind in the chosen bed, in its widest place."""
        species, bed = self._kind(), self._bed()
        at = (round(bed.at[0], 3), round(bed.at[1], 3))
        self.edit(f"add {species.botanical}", lambda p: edits.add_plants(p, species, [at]))

    @handler
    def fill(self) -> None:
        """Fill the chosen bed with the typed kind."""
        species, bed = self._kind(), self._bed()
        typed = self.apart.bar.value.strip()
        bare = forms.bare_unit(self.project.units)
        own = length(typed, bare=bare, where=f'distance apart in bed "{bed.name}"') if typed else None
        spacing = spacing_for(species, own, where=f'bed "{bed.name}"')
        places = place_in(bed.region, spacing, self.pattern.bar.value)
        if not places:
            raise GardenError(
                f'no {species.botanical} fits in bed "{bed.name}" {self.lengths(spacing)} apart; give less distance'
            )
        if self.edit(f"fill {bed.name} with {species.botanical}", lambda p: edits.add_plants(p, species, places)):
            self.message.say(f"{len(places)} {species.botanical} planted in {bed.name}, {self.lengths(spacing)} apart")

    # --- helpers ------------------------------------------------------------------------------------------------

    def _one_plant(self) -> list[w.Widget]:
        self.pick = controls.choice("Plant", None, [("choose ...", None)], self.choose, name="plant")
        self.lock = controls.button("Lock", self.toggle_lock, tip="a locked plant stays where it is", width="49%")
        take_out = controls.button("Remove", self.remove, width="49%", name="remove")
        self.copies = controls.field("How many more of it, beside it", "1", lambda _: None, name="copies")
        more = controls.button("Plant more of it", self.one_more, width="96%", name="more")
        return [self.pick, self.facts, row(self.lock, take_out), self.copies, more]

    def _kinds(self) -> list[w.Widget]:
        self.kind = controls.field(
            "Kind to put in", "", lambda _: self.attempt(self._show_kind), name="kind", hint="e.g. catmint"
        )
        self.bed = controls.choice("Bed", None, [], lambda _: None, name="bed")
        self.apart = controls.field("Distance apart", "", lambda _: None, name="apart", hint="as the catalogue says")
        self.pattern = controls.choice("Set out in", "staggered", PATTERNS, lambda _: None)
        return [
            self.kind,
            self.found,
            row(
                controls.button("Swap chosen for it", self.swap, width="49%", name="swap"),
                controls.button("Swap all of its kind", self.swap_all, width="49%", name="swap-all"),
            ),
            self.bed,
            controls.button("Add one to the bed", self.add, width="96%", name="add"),
            self.apart,
            self.pattern,
            controls.button("Fill the bed with it", self.fill, width="96%", name="fill"),
        ]

    def _bed(self) -> BedShape:
        return bed_called(self.garden.layout, self.bed.bar.value or "")

    def _chosen(self) -> Plant:
        if self.chosen_number is None:
            raise GardenError("no plant is chosen; choose one from the list or drag it on the plan")
        return hand.plant_of(self.project.planting, self.chosen_number)

    def _kind(self) -> Species:
        return kind_named(self.catalogue, self.kind.bar.value)

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        shown = self.project.planting.plants if self.dragging.bar.value else ()
        self.handles = tuple(
            Handle(id=str(p.number), kind="plant", at=p.at, tip=f"{p.number} {p.species}")
            for p in shown
            if p.year <= self.year
        )
        self.plan.set_handles(self.handles)

    def _show_facts(self) -> None:
        if self.chosen_number is None:
            self.facts.value = ""
            return
        plant = self._chosen()
        species = self.catalogue[plant.species]
        self.lock.description = "Unlock" if plant.locked else "Lock"
        state = "locked" if plant.locked else "placed by hand" if plant.by_hand else ""
        rows = [
            (pictured(species, self.project.units, px=46), species.common + (f" ({state})" if state else "")),
            ("full size", self.size_of(species)),
            ("grows in", ", ".join(species.sun_range) + f" sun; zones {species.zone_min} to {species.zone_max}"),
            ("beware", caution_text(species)),
        ]
        self.facts.value = rich_table((f"{plant.number}", plant.species), rows)

    def _show_kind(self) -> None:
        typed = self.kind.bar.value.strip()
        hits = self.catalogue.find(typed) if typed else ()
        self.found.value = (
            controls.table_html(("found", ""), [(s.botanical, s.common) for s in hits[:6]]) if hits else ""
        )
        if typed and not hits:
            self._kind()

    def _show_calendar(self) -> None:
        rows = [
            charts.BloomRow(name=row.botanical, months=row.months, colours=row.colours)
            for row in self.garden.bloom
            if row.months
        ]
        self.calendar.value = year_table(rows, month=self.month)

    def scene(self) -> Scene:
        """Return the plan in the chosen year and month, the chosen plant ringed."""
        scale = screen_scale(self.project.site, width_px=WIDTH_PX)
        return garden_scene(
            self.project,
            self.garden.layout,
            self.catalogue,
            year=self.year,
            month=self.month,
            scale=scale,
            extra=(*self._ring(scale), *self.advice.marks(scale)),
            title=f"{self.project.name}: {MONTHS[self.month - 1]}, year {self.year}",
        )

    def _ring(self, scale: float) -> tuple[Mark, ...]:
        plant = next((p for p in self.project.planting.plants if p.number == self.chosen_number), None)
        if plant is None:
            return ()
        radius = max(0.3 * self.catalogue[plant.species].spread, on_ground(3.0, scale))
        return (Disc(at=plant.at, radius=radius, stroke=CHOSEN_INK, width_mm=CHOSEN_MM, layer="overlay"),)

    def in_flower(self) -> tuple[str, ...]:
        """Return the kinds in flower in the chosen month."""
        shown = self.garden.standing(year=self.year, month=self.month)
        return tuple(dict.fromkeys(s.species.botanical for s in shown if s.look.in_flower))

    def summary(self) -> str:
        """Return the planting in words."""
        plants = self.project.planting.plants
        flowering = ", ".join(self.in_flower()) or "nothing"
        kinds = len({p.species for p in plants})
        planted = f"{counted(len(plants), 'plant')} of {counted(kinds, 'kind')}"
        return f"{planted}; in flower in {MONTHS[self.month - 1]}: {flowering}"
