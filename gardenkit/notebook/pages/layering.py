"""Plants in layers: the plan in any year and month, with every plant to be dragged, swapped, locked or multiplied."""

from collections.abc import Iterable
from functools import partial
from typing import Any

import ipywidgets as w

from gardenkit.drawing import charts
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.labels import drifts
from gardenkit.drawing.overlays import chosen_mark
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Line, Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.later import Later
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.layering_divisions import Divisions
from gardenkit.notebook.pages.layering_plant import AnotherKind, OnePlant
from gardenkit.notebook.pages.layering_several import SeveralPlants
from gardenkit.notebook.pages.plan_hour import PlanHour
from gardenkit.notebook.pages.planting import (
    PlantingPage,
    year_buttons,
    year_table,
)
from gardenkit.planting.standing import standing_at
from gardenkit.project import Project
from gardenkit.project.edits import planting as edits
from gardenkit.project.edits.drawn import TAPE, Drawable
from gardenkit.project.season import early_summer
from gardenkit.units import FOOT, counted

WIDTH_PX = 700
SEVERAL = 1  # which of the sections has what is done to several plants
CALENDAR_LATER = 0.4  # s after which the calendar follows the month. House value.
STEPS = {"imperial": FOOT / 4, "metric": 0.1}  # m that an arrow key moves what is chosen. House value.
ARROWS = (
    ("Left", "ArrowLeft", (-1, 0)),
    ("Right", "ArrowRight", (1, 0)),
    ("Up", "ArrowUp", (0, 1)),
    ("Down", "ArrowDown", (0, -1)),
)
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
        self.shadows = PlanHour(self)
        self.calendar, self._calendar_later = w.HTML(), Later(wait=CALENDAR_LATER)
        self.one, self.another, self.several = OnePlant(self), AnotherKind(self), SeveralPlants(self)
        self.divisions = Divisions(self)
        self.advice = AdviceList(self, topics=TOPICS, chosen=self.redraw, first=self._chosen_names)
        self.sections = forms.sections(
            [
                ("One plant", self.one.controls),
                ("Several plants", self.several.controls),
                ("Another kind, a whole bed", self.another.controls),
                ("Divisions of later years", self.divisions.controls),
            ]
        )
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=860)
        drift = Drawable(word="drift of the kind typed below", form="outline", draw=self._drift, names=lambda _: ())
        own: dict[str, Any] = {"chooses": (), "keeps": self._is_plant}
        self.draw = Draw(self, self.plan, (TAPE,), made=lambda *_: None, choose=self.choose_at, own=(drift,), **own)
        self.plan.on_several(self.several.take_box, self.several.take_lasso, words="Choose plants by")
        self.board = self.plan.board(self.edited)
        panel = [
            self.year_bar,
            year_buttons(self.go_to_year),
            self.month_bar,
            self.dragging,
            self.shadows.widget,
            self.draw.widget,
            self._steps(),
            self.sections,
            self.undo_row(),
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.advice.widget], beside=[self.calendar])

    def refresh(self) -> None:
        """Show the planting as it stands in the chosen year and month."""
        self.one.refresh()
        self.another.refresh()
        self.several.refresh()
        self.divisions.refresh()
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
        self._calendar_later.do(lambda: self.attempt(self._show_calendar))

    def show_handles(self, shown: bool) -> None:
        """Show or hide the handles on the plants."""
        del shown
        self.attempt(self.redraw)

    def click(self, at: Point) -> None:
        """Take a click on the plan: a corner of a drift while one is drawn, else a choice."""
        self.draw.click(at)

    @handler
    def choose_at(self, at: Point) -> None:
        """Choose the plant that was clicked, or several; a click beside all of them lets go of the one."""
        if self.several.on.bar.value:
            self.several.click(at)
            return
        found = standing_at(self.garden.standing(year=self.year, month=self.month), at)
        number = found.plant.number if found else None
        if number != self.one.number:
            self.one.choose(number)
            self.one.refresh()
            self.advice.show()

    def _is_plant(self, at: Point) -> bool:
        """Return whether a click is meant for plants: at one, or while several are chosen by clicks."""
        there = standing_at(self.garden.standing(year=self.year, month=self.month), at)
        return there is not None or bool(self.several.on.bar.value)

    def drift_of(self, number: int) -> tuple[int, ...]:
        """Return the numbers of the plants of one kind that stand together with a plant, or are grouped with it."""
        plants = self.project.planting.plants
        group = next((p.group for p in plants if p.number == number), "")
        if group:
            return tuple(p.number for p in plants if p.group == group)
        spots = [(p.species, p.at, self.catalogue[p.species].spread) for p in plants]
        found = (tuple(plants[i].number for i in some) for some in drifts(spots))
        return next((some for some in found if number in some), ())

    @handler
    def choose_drift(self) -> None:
        """Choose all of the drift in which the chosen plant stands."""
        self.several.choose(self.drift_of(self.one.chosen().number))
        self.sections.selected_index = SEVERAL

    @handler
    def let_go(self) -> None:
        """Let go of what is chosen."""
        self.one.number = None
        self.one.refresh()
        self.several.let_go()

    @handler
    def nudge(self, right: int, up: int) -> None:
        """Move what is chosen by a small step; steps that follow one another are one step of undo."""
        numbers = self.several.numbers or ({self.one.number} if self.one.number is not None else frozenset())
        if not numbers:
            raise GardenError("no plant is chosen to be moved; click one on the plan first")
        far = STEPS[self.project.units]
        chosen = sorted(numbers)
        what = counted(len(chosen), "plant")
        self.edit(
            f"move {what}",
            lambda p: edits.move_plants(p, chosen, by=(right * far, up * far)),
            gesture=f"nudge {chosen}",
        )

    def _steps(self) -> w.Widget:
        """Return the buttons that move what is chosen, and let go of it; keys press them over the plan."""
        made = []
        for words, key, by in ARROWS:
            one = controls.button(words, partial(self.nudge, *by), tip=f"move what is chosen ({key})", width="19%")
            one.add_class(f"gk-key-{key}")
            made.append(one)
        go = controls.button("Let go", self.let_go, tip="let go of what is chosen (Escape)", width="22%", name="let-go")
        go.add_class("gk-key-Escape")
        return controls.row(*made, go)

    def apart(self, numbers: Iterable[int]) -> float:
        """Return how far apart (m) the widest of some plants are planted by the catalogue; 0 for none."""
        chosen = set(numbers)
        kinds = {p.species for p in self.project.planting.plants if p.number in chosen}
        return max((self.catalogue[kind].spacing_m for kind in kinds), default=0.0)

    def _drift(self, project: Project, outline: Line) -> Project:
        return edits.fill_drift(project, outline, self.another.species(), spacing=self.another.own_spacing())

    def drop(self, handle: str | int, at: Point) -> None:
        """Put a plant where it was dragged, and its group with it; a locked one goes back."""
        number = int(handle)
        self.one.number = number
        self.edit(f"move plant {number}", lambda p: edits.move_group(p, number, to=at))

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
            charts.BloomRow(name=row.botanical, halves=row.halves, colours=row.colours)
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
            extra=(*self.shadows.marks(), *self._ring(scale), *self.several.marks(scale), *self.advice.marks(scale)),
            title=f"{self.project.name}: {MONTHS[self.month - 1]}, year {self.year}",
        )

    def _ring(self, scale: float) -> tuple[Mark, ...]:
        plant = next((p for p in self.project.planting.plants if p.number == self.one.number), None)
        if plant is None:
            return ()
        return (chosen_mark(plant.at, self.catalogue[plant.species].spread, scale=scale),)

    def chosen_spots(self) -> tuple[Point, ...]:
        """Return where the chosen plants stand."""
        chosen = self.several.numbers | {self.one.number}
        return tuple(p.at for p in self.project.planting.plants if p.number in chosen)

    def _chosen_names(self) -> tuple[str, ...]:
        return () if self.one.number is None else (f"plant {self.one.number}", str(self.one.number))

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
