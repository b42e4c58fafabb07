"""The boundary of the plot, typed by its corners; it is drawn on the plan as well."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.geometry import plane
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.units import show_area

if TYPE_CHECKING:
    from gardenkit.notebook.pages.ground import GroundPage


class BoundaryPart(Part):
    """The corners of the plot in order; gates in it stay on it."""

    page: "GroundPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.box = forms.lines(
            "Corners in order, one x, y on each line; or a rectangle such as 40 x 60",
            rows=7,
            name="boundary",
            hint="0, 0\n40, 0\n40, 60\n0, 60",
        )
        self.shown = ""
        take = controls.button("Set the boundary", self.take, name="boundary", width="96%")
        self.widget = w.VBox([self.box, take])

    def refresh(self) -> None:
        """Show the corners, unless they have not changed and something is being typed."""
        text = forms.show_points(self.project.site.boundary, self.project.units, between="\n")
        if text != self.shown:
            self.box.show(text)
        self.shown = text

    @handler
    def take(self) -> None:
        """Take in the corners."""
        units = self.project.units
        known = self.project.site.boundary
        corners = forms.outline(str(self.box.bar.value), units, "the boundary", known=known)
        if self.edit("the boundary", lambda p: edits.set_boundary(p, corners)):
            self.message.say(self.holds())

    def holds(self) -> str:
        """Return how large the plot is, and what comes next."""
        plot = plane.region(self.project.site.boundary)
        return f"the plot holds {show_area(plane.area(plot), self.project.units)}. Next: the house"
