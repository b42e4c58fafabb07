"""The ground as found: the place, its boundary, the house with its doors, fences, trees, and a scan to trace over."""

from collections.abc import Sequence

import ipywidgets as w

from gardenkit.drawing.scene import Mark, Scene
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.boundary import BoundaryPart
from gardenkit.notebook.pages.ground_fields import KINDS
from gardenkit.notebook.pages.ground_plan import GroundPlan
from gardenkit.notebook.pages.place import PlacePart
from gardenkit.notebook.pages.scan import ScanPart
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.project.edits import site as edits
from gardenkit.project.edits.site import Thing
from gardenkit.site.heights import SpotHeight
from gardenkit.site.place import Place
from gardenkit.units import show_area, show_length

TOPICS = ("site", "safety")
THINGS = 2  # which of the steps has the form of house, openings, fences, trees


class GroundPage(Page):
    """Four short forms left, the plan right with points to drag, what is known and what is missing below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.place, self.boundary, self.scan = PlacePart(self), BoundaryPart(self), ScanPart(self)
        self.things = RecordEditor(self, KINDS, name="thing", chose=self._turned)
        self.advice = AdviceList(self, topics=TOPICS, chosen=self._relit, first=lambda: (self.things.title,))
        self.plan = GroundPlan(self)
        self.steps = forms.sections(
            [
                ("1  The place", [self.place.widget]),
                ("2  The boundary", [self.boundary.widget]),
                ("3  House, openings, fences, trees, heights", [self.things.widget, self.message]),
                ("A scan to trace over", [self.scan.widget]),
            ]
        )
        self.known = w.HTML()
        panel = [self.plan.draw.widget, self.steps, self.plan.drag, self.undo_row()]
        right = forms.beside(self.plan.board, self.known)
        self.widget = controls.page(self.message, panel, right, [self.advice.widget])

    def refresh(self) -> None:
        """Show the site as it stands."""
        for part in (self.place, self.boundary, self.scan):
            part.refresh()
        self.things.show()
        self.advice.show()
        self.plan.refresh()
        self.known.value = controls.table_html(("site data", ""), self.rows())

    def show_thing(self, thing: Thing) -> None:
        """Open the form of what was clicked on the plan."""
        self.steps.selected_index = THINGS
        self.things.turn_to(thing.name)

    def show_drawn(self, what: str, name: str) -> None:
        """Open the form of what was just drawn."""
        if name:
            self.steps.selected_index = THINGS
            self.things.turn_to(name)
        elif what == "boundary":
            self.steps.selected_index = 1
            self.message.say(self.boundary.holds())

    def chosen_spots(self) -> tuple[Point, ...]:
        """Return two corners of the box round what is chosen."""
        chosen = self.things.chosen
        if chosen is None:
            return ()
        if isinstance(chosen, SpotHeight):
            return (chosen.at,)
        low_x, low_y, high_x, high_y = plane.bounds(edits.shape_of(chosen))
        return (low_x, low_y), (high_x, high_y)

    def lit(self, scale: float) -> Sequence[Mark]:
        """Return what lights up the chosen line of advice."""
        return self.advice.marks(scale)

    def rows(self) -> list[tuple[str, str]]:
        """Return what is on record of the ground."""
        site, units = self.project.site, self.project.units
        rows = [("place", site.place.name or "not given")]
        if site.place != Place():
            rows.append(("latitude, longitude", f"{site.place.latitude:.4f}, {site.place.longitude:.4f}"))
            rows += [
                ("clock", site.place.timezone),
                ("north rotation", f"{site.y_bearing:g} degrees (north to plan up)"),
            ]
        if site.boundary:
            plot = plane.region(site.boundary)
            rows += [
                ("plot", show_area(plane.area(plot), units)),
                ("perimeter", show_length(plane.perimeter(plot), units)),
            ]
        named = ((kind, ", ".join(kind.title(one) for one in kind.of(self.project))) for kind in KINDS)
        return [*rows, *((f"{kind.word}s", names or "none") for kind, names in named)]

    def _relit(self) -> None:
        self.plan.redraw()

    def _turned(self) -> None:
        if self.things.chosen is not None:
            self.plan.drag_what(self.things.kind.word)
        self._relit()
        self.advice.show()

    def scene(self) -> Scene:
        """Return the site as found, over its scan when there is one."""
        return self.plan.scene()

    def summary(self) -> str:
        """Return the ground in words."""
        return "\n".join(f"{name}: {value}" for name, value in self.rows())
