"""The journal of the living garden: what happened is written down, the plan follows, next year's list comes of it."""

import ipywidgets as w

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.overlays import chosen_mark
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX
from gardenkit.notebook.pages.journal_parts import Corrections, Kept, WriteDown
from gardenkit.notebook.pages.planting import PlantingPage
from gardenkit.planting.standing import standing_at
from gardenkit.project.season import early_summer
from gardenkit.units import counted

SPOT = "spot"  # the handle of the place that an entry is about


class JournalPage(PlantingPage):
    """What happened at left; the plan of the year it happened in; below it the entries, next year's list, and what was
    seen beside what is worked out.
    """

    def build(self) -> None:
        """Make the widgets, once."""
        self.spot: Point = (0.0, 0.0)
        self.to_do = w.HTML()
        self.writing, self.kept, self.corrections = WriteDown(self), Kept(self), Corrections(self)
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX)
        self.plan.on_click(self.click)
        self.board = self.plan.board(self.edited)
        panel = [self.writing.widget, self.kept.widget, self.corrections.widget, self.undo_row()]
        below = [self.to_do, self.corrections.table, self.kept.table, self.kept.gallery]
        self.widget = controls.page(self.message, panel, self.board, below)
        self._to_the_middle()

    def refresh(self) -> None:
        """Show the journal as it stands."""
        self.writing.refresh()
        self.kept.refresh()
        self.corrections.refresh()
        self._show_to_do()
        self.redraw()

    @handler
    def click(self, at: Point) -> None:
        """Choose the plant that was clicked, or the place beside all of them."""
        found = standing_at(self.garden.standing(year=self.year, month=early_summer(self.project.site)), at)
        self.writing.choose(None if found is None else found.plant.number)
        self.spot = at if found is None else found.at
        self.redraw()

    @handler
    def looked(self) -> None:
        """Draw the plan of the year of the date, with what is chosen ringed."""
        self.redraw()

    def drop(self, handle: str, at: Point) -> None:
        """Put the place of the next entry where its handle was dragged."""
        del handle
        self.spot = plane.kept_to(self.garden.layout.ground, at)
        self.redraw()

    @property
    def year(self) -> int:
        """The year after planting that the plan shows: that of the date typed, or of today."""
        return max(0, self.writing.day().year - self.project.planting.first_year)

    def redraw(self) -> None:
        """Draw the plan again, with the place that the next entry is about."""
        self.plan.update(self.scene())
        tip = "the place: drag me, or click a plant"
        there = bool(self.project.site.boundary)
        self.handles = (Handle(id=SPOT, kind="seat", at=self.spot, tip=tip),) if there else ()
        self.plan.set_handles(self.handles)

    def scene(self) -> Scene:
        """Return the plan of the year with the chosen plant ringed."""
        scale = screen_scale(self.project.site, width_px=WIDTH_PX)
        return garden_scene(
            self.project,
            self.garden.layout,
            self.catalogue,
            year=self.year,
            month=early_summer(self.project.site),
            scale=scale,
            extra=self._ring(scale),
            textures=False,
            title=f"{self.project.name}: {self.project.planting.first_year + self.year}",
        )

    def chosen_spots(self) -> tuple[Point, ...]:
        """Return the place that the next entry is about."""
        return (self.spot,) if self.project.site.boundary else ()

    def summary(self) -> str:
        """Return the journal in words."""
        entries, living = self.project.journal.entries, self.garden.living
        if not entries:
            return "Nothing is written in the journal yet"
        todo = "\n".join(" · ".join(row) for row in self.to_do_rows())
        return f"{counted(len(entries), 'entry', 'entries')} in the journal\nTo do in {living.year}:\n{todo}"

    def to_do_rows(self) -> list[tuple[str, ...]]:
        """Return next year's list as it is shown."""
        return [
            (one.do, f"{one.count} x {one.botanical}" if one.botanical else "", one.where, self.told(one.why))
            for one in self.garden.living.to_do
        ]

    def _show_to_do(self) -> None:
        year = self.garden.living.year
        if year is None:
            said = "Nothing is written yet: once it is, next year's list and what was seen stand here."
            self.to_do.value = controls.label(said).value
            return
        rows = self.to_do_rows() or [("nothing", "", "", "that the journal speaks for")]
        heads = ("to do", "what", "where", "why")
        self.to_do.value = controls.table_html(heads, rows, caption=f"To do in {year}")

    def _ring(self, scale: float) -> tuple[Mark, ...]:
        number = self.writing.number
        plant = next((p for p in self.project.planting.plants if p.number == number), None)
        if plant is None or plant.species not in self.catalogue:
            return ()
        return (chosen_mark(plant.at, self.catalogue[plant.species].spread, scale=scale),)

    def _to_the_middle(self) -> None:
        beds = self.garden.layout.beds if self.project.site.boundary else ()
        if beds:
            self.spot = beds[0].at
        elif self.project.site.boundary:
            self.spot = plane.centre(plane.region(self.project.site.boundary))
