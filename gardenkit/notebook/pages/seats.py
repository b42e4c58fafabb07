"""Seats and placed things on the page of the bones: added, sized, named, turned and deleted."""

import ipywidgets as w

from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import BonesPage, heading
from gardenkit.notebook.pages.bones_fields import CABLE, SEAT, THING
from gardenkit.notebook.place import PlaceOf
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.moved import Sort
from gardenkit.project.pointing import placed_at


class SeatsPage(BonesPage):
    """The part of a page that changes seats and things; the page it belongs to shows them on its plan."""

    def seat_controls(self) -> list[w.Widget]:
        """Return the controls of seats and things, made once. A new one stands on the roomiest ground."""
        self.seats = RecordEditor(self, (SEAT, THING), name="seat", chose=self.show_seats, opens=True)
        self.place = PlaceOf(self, self.placed)
        tip = "of a hedge drawn along a line"
        self.rounded = controls.button("Round its corners", self.round_corners, tip=tip, name="round-corners")
        found = [heading("Seats and placed things"), self.seats.widget, self.place.widget]
        self.cables = RecordEditor(self, (CABLE,), name="cable")
        return [*found, self.rounded, heading("Cables of garden lights"), self.cables.widget]

    def show_seats(self) -> None:
        """Show the seats and things as they stand."""
        self.seats.show()
        self.cables.show()
        self.place.refresh()
        self.rounded.layout.display = None if len(getattr(self.seats.chosen, "line", ())) > 2 else "none"

    def round_corners(self) -> None:
        """Make the line of the chosen hedge a fair curve."""
        name = self.seats.title
        self.edit(f"round the corners of {name}", lambda p: edits.round_corners(p, name))

    @handler
    def click(self, at: Point) -> None:
        """Turn to the seat or thing that was clicked on the plan."""
        found = placed_at(self.structure, at)
        if found is not None and found.name != self.seats.title:
            self.seats.turn_to(found.name)

    def placed(self) -> tuple[Sort, str] | None:
        """Return the sort and the name of the seat or thing in the form."""
        if self.seats.chosen is None:
            return None
        return "thing" if self.seats.kind is THING else "seat", self.seats.title
