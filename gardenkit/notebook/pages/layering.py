"""Plants in layers: the plan in any year and month, with every plant to be dragged, swapped, locked or multiplied."""

import ipywidgets as w

from gardenkit.drawing import charts
from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.overlays import chosen_mark
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.layering_plant import AnotherKind, OnePlant
from gardenkit.notebook.pages.layering_several import SeveralPlants
from gardenkit.notebook.pages.planting import (
    PlantingPage,
    year_buttons,
    year_table,
)
from gardenkit.planting.standing import standing_at
from gardenkit.project.edits import planting as edits
from gardenkit.project.season import early_summer
from gardenkit.units import counted

WIDTH_PX = 700
# The share of advice that belongs here.
TOPICS = ("setback", "crowding", "suits", "layering", "balance", "diversity", "bloom", "colour", "plant cautions")


class LayeringPage(PlantingPage):
    """Sliders for year and month, the plan with a handle on every plant, and the year's calendar beside it."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.year, self.month = 5, early_summer(self.project.site)
        self.year_bar = controls.slider(
            "Year after planting", 5, 0, 15, 1, self.set_year, show="{:.0f}".format, name="year"
        )
        self.month_bar = controls.month_slider("Month", self.month, self.set_month, name="month")
        self.dragging = controls.tick("Show the handles of all plants", False, self.show_handles)
        self.dragging.bar.add_class("gk-tick-handles")
        self.calendar = w.HTML()
        self.one, self.another, self.several = OnePlant(self), AnotherKind(self), SeveralPlants(self)
        self.advice = AdviceList(self, topics=TOPICS, chosen=self.redraw)
        sections = forms.sections(
            [
                ("One plant", self.one.controls),
                ("Several plants", self.several.controls),
                ("Another kind, a whole bed", self.another.controls),
            ]
        )
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=860)
        self.plan.on_click(self.click)
        self.plan.on_box(self.several.take_box, words="Choose plants by a box")
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
        self.one.refresh()
        self.another.refresh()
        self.several.refresh()
        self.redraw()
        self._show_calendar()
        self.advice.show()

    # --- handlers -----------------------------------------------------------------------------------------------

    def set_year(self, year: float) -> None:
        """Look at another year; nothing is saved."""
        self.year = int(year)
        self.attempt(self.redraw)

    def go_to_year(self, year: int) -> None:
        """Look at year 1, 5, 10 or 15."""
        self.year_bar.bar.value = float(year)

    def set_month(self, month: float) -> None:
        """Look at another month; nothing is saved."""
        self.month = int(month)
        self.attempt(self.redraw)
        self.attempt(self._show_calendar)

    def show_handles(self, shown: bool) -> None:
        """Show or hide the handles on the plants."""
        del shown
        self.attempt(self.redraw)

    @handler
    def click(self, at: Point) -> None:
        """Choose the plant that was clicked, or several; a click beside all of them lets go of the one."""
        if self.several.on.bar.value:
            self.several.click(at)
            return
        found = standing_at(self.garden.standing(year=self.year, month=self.month), at)
        number = found.plant.number if found else None
        if number != self.one.number:
            self.one.choose(number)
            self.one.refresh()

    def drop(self, handle: str | int, at: Point) -> None:
        """Put a plant where it was dragged; a locked one goes back."""
        number = int(handle)
        self.one.number = number
        self.edit(f"move plant {number}", lambda p: edits.move_plant(p, number, to=at))

    # --- what is shown ------------------------------------------------------------------------------------------

    def redraw(self) -> None:
        """Draw the plan again, in the chosen year and month."""
        self.plan.update(self.scene())
        every = bool(self.dragging.bar.value)
        self.handles = tuple(
            Handle(id=str(p.number), kind="plant", at=p.at, tip=f"{p.number} {p.species}")
            for p in self.project.planting.plants
            if p.year <= self.year and (every or p.number == self.one.number)
        )
        self.plan.set_handles(self.handles)

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
            extra=(*self._ring(scale), *self.several.marks(scale), *self.advice.marks(scale)),
            title=f"{self.project.name}: {MONTHS[self.month - 1]}, year {self.year}",
        )

    def _ring(self, scale: float) -> tuple[Mark, ...]:
        plant = next((p for p in self.project.planting.plants if p.number == self.one.number), None)
        if plant is None:
            return ()
        return (chosen_mark(plant.at, self.catalogue[plant.species].spread, scale=scale),)

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
