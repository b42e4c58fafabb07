"""Looking for a way without steps between two places: what is found is drawn in blue, and taken or left."""

import html
from collections.abc import Sequence
from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing.previewed import preview_marks
from gardenkit.drawing.scene import Mark
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import beside
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import heading, refill
from gardenkit.notebook.part import Part
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.records import by_name
from gardenkit.project.step_free import WIDTH, StepFree, step_free_ways
from gardenkit.units import show_length, show_volume

if TYPE_CHECKING:
    from gardenkit.notebook.pages.levels import LevelsPage


class WaysPart(Part):
    """From where to where, how wide; the ways that were found, one of them drawn in blue until it is taken or left."""

    page: "LevelsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.ways: tuple[StepFree, ...] = ()
        self.start = controls.choice("A way without steps from", None, [], lambda _: None, name="way-from")
        self.end = controls.choice("To", None, [], lambda _: None, name="way-to")
        self.width = controls.field("Width", self.page.typed(WIDTH), lambda _: None, name="way-width")
        self.found = controls.choice("Found", None, [], lambda _: self.show_way(), name="way-found")
        self.said = w.HTML()
        look = controls.button(
            "Find routes", self.look, tip="over the ground as it will be", name="find-ways", width="32%"
        )
        take = controls.button("Use this route", self.take, tip="it becomes a path", name="take-way", width="32%")
        leave = controls.button("Discard", self.leave, tip="nothing is changed", name="leave-way", width="32%")
        self.controls = [heading("Without steps"), self.start, self.end, self.width, controls.row(look, take, leave)]
        self.controls += [self.found, self.said]

    def refresh(self) -> None:
        """List the places; ways that were found for another state of the garden are let go."""
        places = list(edits.places(self.project))
        start = refill(self.start, places, self.start.bar.value)
        others = [place for place in places if place != start]
        refill(self.end, places, self.end.bar.value if self.end.bar.value in others else next(iter(others), None))
        self.ways = ()
        self._show()

    # ---- handlers

    @handler
    def look(self) -> None:
        """Look for ways between the two places; the page stays alive meanwhile."""
        start, end = self.start.bar.value, self.end.bar.value
        if not start or not end or start == end:
            raise GardenError("a way needs two different places; choose where it starts and where it ends")
        project, width = self.project, self.page.metres(self.width.bar.value, "the width of the way")
        self.ways = ()
        self._show()
        self.message.say("")
        self.said.value = '<div class="gk-label" role="status">looking for ways over the ground ...</div>'
        beside(
            lambda _: step_free_ways(project, start, end, width=width),
            done=lambda found: self.attempt(self.show_found, found),
            failed=lambda error: self.attempt(self.none_found, error),
        )

    def show_found(self, found: tuple[StepFree, ...]) -> None:
        """Show the ways that were found, the first of them on the plan."""
        self.ways = found
        self._show()
        self.page.redraw()

    def none_found(self, error: Exception) -> None:
        """Say why there is none."""
        self.ways = ()
        self._show()
        raise error

    @handler
    def show_way(self) -> None:
        """Draw another of the ways that were found."""
        self._words()
        self.page.redraw()

    @handler
    def take(self) -> None:
        """Take the way that is drawn as a path of the garden, with its heights."""
        way = self.chosen()
        path = by_name(way.project.structure.paths, way.name, "path")
        self.edit(f"take {way.name}", lambda p: edits.take_way(p, path))

    @handler
    def leave(self) -> None:
        """Let the ways go; nothing is changed."""
        self.ways = ()
        self._show()
        self.page.redraw()

    # ---- what is shown

    def chosen(self) -> StepFree:
        """Return the way that is drawn. Raises GardenError while none is."""
        if not self.ways:
            raise GardenError("no way is drawn; choose two places and find ways first")
        return self.ways[self.found.bar.value or 0]

    def marks(self, scale: float) -> Sequence[Mark]:
        """Return the way that is looked at, in blue; nothing while none is."""
        return preview_marks(self.project, self.chosen().project, scale=scale) if self.ways else ()

    def words(self, way: StepFree) -> str:
        """Return a way in words, in the garden's units."""
        units = self.project.units
        parts = [f"{way.how}, {show_length(way.length, units)} long for a rise of {show_length(way.rise, units)}"]
        parts.append(f"1:{1 / way.steepest:.1f} at the steepest" if way.steepest > 0 else "level")
        if way.cut + way.fill > 0:
            dug, filled = (show_length(one, units, small=True) for one in (way.deepest, way.highest))
            parts.append(f"dug {dug} and filled {filled} at most along its middle")
            parts.append(f"{show_volume(way.cut, units)} cut and {show_volume(way.fill, units)} fill with its banks")
        if way.landings:
            parts.append(f"{way.landings} level places")
        return "; ".join(parts)

    def _show(self) -> None:
        refill(self.found, [(way.how, number) for number, way in enumerate(self.ways)] or [("none yet", None)], 0)
        self._words()

    def _words(self) -> None:
        if not self.ways:
            self.said.value = ""
            return
        way = self.chosen()
        lines = [self.words(way), *(self.garden.say(one.sentence()) for one in way.said)]
        lines.append(self.garden.say("design figures of public buildings, as advice; ask your local building office"))
        self.said.value = "".join(f'<div class="gk-label" role="status">{html.escape(line)}</div>' for line in lines)
