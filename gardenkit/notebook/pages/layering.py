"""Plants in layers: the plan in any year and month, plants dragged and swapped by hand, and what suits each bed."""

from typing import Any

import attrs
import ipywidgets as w

from gardenkit.drawing import charts
from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import Page
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species, caution_text
from gardenkit.planting.suitability import Judgement, suitable
from gardenkit.project import Project
from gardenkit.project.advice import bloom_rows, planting_findings, spot_at
from gardenkit.project.layout import layout
from gardenkit.project.season import catalogue_of, standing
from gardenkit.project.sunlight import sun_map
from gardenkit.units import show_length

WIDTH_PX = 700
SHOWN = 14  # plants offered for a bed. House value.


class LayeringPage(Page):
    """Sliders for year and month, the plan with a handle on every plant, and tables below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.year, self.month = 5, 6
        self.chosen_number: int | None = None
        self.handles: tuple[Handle, ...] = ()
        self.catalogue = catalogue_of(self.session.folder)
        self.year_bar = controls.slider(
            "Year after planting", 5, 0, 15, 1, self.set_year, show="{:.0f}".format, name="year"
        )
        self.month_bar = controls.slider(
            "Month", 6, 1, 12, 1, self.set_month, show=lambda v: MONTHS[int(v) - 1], name="month"
        )
        self.dragging = controls.tick("Show handles to drag plants", False, self.show_handles)
        self.pick = controls.choice("Plant", None, [("choose ...", None)], self.choose, name="plant")
        self.facts = w.HTML()
        self.lock = controls.button("Lock", self.toggle_lock, tip="a locked plant stays where it is", width="32%")
        self.take_out = controls.button("Remove", self.remove, width="32%")
        self.copy = controls.button("One more", self.one_more, tip="the same kind beside it", width="32%")
        self.kind = controls.field(
            "Kind to put in", "", lambda _: self.attempt(self._show_kind), name="kind", hint="e.g. catmint"
        )
        self.found = w.HTML()
        self.swap_button = controls.button("Swap chosen for it", self.swap, width="48%")
        self.add_button = controls.button("Add to the bed", self.add, width="48%")
        beds = [bed.name for bed in layout(self.project).beds]
        self.bed = controls.choice("What suits the bed", beds[0] if beds else None, beds, lambda _: None, name="bed")
        self.suits_button = controls.button("Show what suits it", self.show_suited, name="suited", width="96%")
        self.suited, self.calendar, self.findings = w.HTML(), w.HTML(), w.HTML()
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=860)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.year_bar, self.month_bar, self.dragging, self.pick, self.facts,
            _row(self.lock, self.take_out, self.copy), self.kind, self.found,
            _row(self.swap_button, self.add_button), self.bed, self.suits_button, self.undo_row(),
        ]  # fmt: skip
        self.widget = controls.page(
            self.message, panel, self.board, [self.suited, self.findings], beside=[self.calendar]
        )

    def refresh(self) -> None:
        """Show the planting as it stands in the chosen year and month."""
        self._redraw()
        plants = self.project.planting.plants
        self.pick.quiet = True
        self.pick.bar.options = [("choose ...", None), *((f"{p.number} {p.species}", p.number) for p in plants)]
        numbers = {p.number for p in plants}
        self.chosen_number = self.chosen_number if self.chosen_number in numbers else None
        self.pick.bar.value = self.chosen_number
        self.pick.quiet = False
        self._show_facts()
        self._show_calendar()
        self.findings.value = controls.findings_html(
            planting_findings(self.project, self.catalogue), units=self.project.units
        )

    # --- handlers -----------------------------------------------------------------------------------------------

    def set_year(self, year: float) -> None:
        """Look at another year; nothing is saved."""
        self.year = int(year)
        self.attempt(self._redraw)

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
        """Choose one plant to lock, remove, copy or swap."""
        self.chosen_number = number
        self.attempt(self._show_facts)

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in which plants were dragged."""
        for handle, at in moved_handles(data, self.handles):
            self.attempt(self.drop, int(handle), at)
        self.attempt(self._redraw)

    def drop(self, number: int, at: Point) -> None:
        """Put a plant where it was dragged; a locked one goes back."""
        plant = self._plant(number)
        if plant.locked:
            raise GardenError(f"plant {number} ({plant.species}) is locked; unlock it to move it")
        at = (round(at[0], 3), round(at[1], 3))
        self.chosen_number = number
        self._change(
            f"move plant {number}",
            lambda plants: tuple(attrs.evolve(p, at=at) if p.number == number else p for p in plants),
        )

    def toggle_lock(self) -> None:
        """Lock or unlock the chosen plant."""
        self.attempt(self._with_chosen, "lock", lambda p: attrs.evolve(p, locked=not p.locked))

    def remove(self) -> None:
        """Take the chosen plant out."""
        self.attempt(self._remove)

    def one_more(self) -> None:
        """Plant another of the chosen kind beside it."""
        self.attempt(self._one_more)

    def swap(self) -> None:
        """Put the typed kind in the place of the chosen plant."""
        self.attempt(self._swap)

    def add(self) -> None:
        """Plant one of the typed kind in the chosen bed, in its widest free place."""
        self.attempt(self._add)

    def show_suited(self) -> None:
        """Judge the catalogue for the chosen bed: sun now and in year ten, winter, soil, room, what the client
        refuses.
        """
        self.message.say("working out the sun on the bed, now and in year ten ...")
        if self.attempt(self._show_suited):
            self.message.say("")

    # --- helpers ------------------------------------------------------------------------------------------------

    def _swap(self) -> None:
        kind = self._kind()
        self._with_chosen("swap", lambda p: attrs.evolve(p, species=kind.botanical, support=""))

    def _remove(self) -> None:
        number = self._chosen().number
        self._change(f"remove plant {number}", lambda plants: tuple(p for p in plants if p.number != number))

    def _one_more(self) -> None:
        old = self._chosen()
        step = self.catalogue[old.species].spacing_m
        at = (round(old.at[0] + step, 3), old.at[1])
        self._change(
            f"one more {old.species}",
            lambda plants: (*plants, attrs.evolve(old, number=_next(plants), at=at, locked=False, support="")),
        )

    def _add(self) -> None:
        species = self._kind()
        bed = next((b for b in layout(self.project).beds if b.name == self.bed.bar.value), None)
        if bed is None:
            raise GardenError("there is no bed to plant in yet; lay a path or draw a bed on the structure page")
        at = bed.at
        self._change(
            f"add {species.botanical}",
            lambda plants: (
                *plants,
                Plant(number=_next(plants), species=species.botanical, at=(round(at[0], 3), round(at[1], 3))),
            ),
        )

    def _with_chosen(self, what: str, change: Any) -> None:
        number = self._chosen().number
        self._change(
            f"{what} plant {number}", lambda plants: tuple(change(p) if p.number == number else p for p in plants)
        )

    def _change(self, label: str, change: Any) -> None:
        def with_plants(project: Project) -> Project:
            return attrs.evolve(
                project, planting=attrs.evolve(project.planting, plants=change(project.planting.plants))
            )

        self.edit(label, with_plants)

    def _plant(self, number: int) -> Plant:
        for plant in self.project.planting.plants:
            if plant.number == number:
                return plant
        raise GardenError(f"there is no plant {number} any more; choose another")

    def _chosen(self) -> Plant:
        if self.chosen_number is None:
            raise GardenError("no plant is chosen; choose one from the list or drag it on the plan")
        return self._plant(self.chosen_number)

    def _kind(self) -> Species:
        typed = self.kind.bar.value.strip()
        if not typed:
            raise GardenError("type the botanical or common name of the kind to put in")
        hits = self.catalogue.find(typed)
        return hits[0] if len(hits) == 1 else self.catalogue[typed]

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        shown = self.project.planting.plants if self.dragging.bar.value else ()
        self.handles = tuple(
            Handle(id=str(p.number), kind="plant", at=p.at, tip=f"{p.number} {p.species}") for p in shown
        )
        self.plan.set_handles(self.handles)

    def _show_facts(self) -> None:
        if self.chosen_number is None:
            self.facts.value = ""
            return
        plant = self._chosen()
        species = self.catalogue[plant.species]
        units = self.project.units
        self.lock.description = "Unlock" if plant.locked else "Lock"
        rows = [
            ("common name", species.common),
            ("full size", f"{show_length(species.height, units)} high, {show_length(species.spread, units)} wide"),
            ("grows in", ", ".join(species.sun_range) + f" sun; zones {species.zone_min} to {species.zone_max}"),
            ("beware", caution_text(species)),
        ]
        self.facts.value = controls.table_html((plant.species, "locked" if plant.locked else ""), rows)

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
            charts.BloomRow(name=row.botanical, key="", months=row.months, colours=row.colours)
            for row in bloom_rows(self.project, self.catalogue)
            if row.months
        ]
        self.calendar.value = svg(charts.bloom_calendar(rows, month=self.month)) if rows else ""

    def suited_to_bed(self) -> tuple[Judgement, ...]:
        """Return the plants that suit the chosen bed's middle, best first, with sun now and in year ten."""
        bed = next((b for b in layout(self.project).beds if b.name == self.bed.bar.value), None)
        if bed is None:
            return ()
        now, later = sun_map(self.project), sun_map(self.project, self.catalogue, year=10)
        return suitable(self.catalogue, spot_at(self.project, bed.at, now=now, later=later))

    def _show_suited(self) -> None:
        rows = [
            (
                j.species.botanical,
                j.species.common,
                j.species.layer,
                j.verdict,
                f"{j.score:.2f}",
                "; ".join(r.text for r in j.against) or "nothing against",
            )
            for j in self.suited_to_bed()[:SHOWN]
        ]
        heads = ("suits the middle of the bed", "", "layer", "", "how well", "against")
        self.suited.value = controls.table_html(heads, rows) if rows else ""

    def scene(self) -> Scene:
        """Return the plan in the chosen year and month."""
        return garden_scene(
            self.project, layout(self.project), self.catalogue, year=self.year, month=self.month,
            scale=screen_scale(self.project.site, width_px=WIDTH_PX),
            title=f"{self.project.name}: {MONTHS[self.month - 1]}, year {self.year}",
        )  # fmt: skip

    def in_flower(self) -> tuple[str, ...]:
        """Return the kinds in flower in the chosen month."""
        shown = standing(self.project, self.catalogue, year=self.year, month=self.month)
        return tuple(dict.fromkeys(s.species.botanical for s in shown if s.look.in_flower))

    def summary(self) -> str:
        """Return the planting in words."""
        plants = self.project.planting.plants
        flowering = ", ".join(self.in_flower()) or "nothing"
        kinds = len({p.species for p in plants})
        return f"{len(plants)} plants of {kinds} kinds; in flower in {MONTHS[self.month - 1]}: {flowering}"


def _row(*children: w.Widget) -> w.HBox:
    return w.HBox(list(children), layout=w.Layout(width="100%", justify_content="space-between"))


def _next(plants: tuple[Plant, ...]) -> int:
    return max([0, *(p.number for p in plants)]) + 1
