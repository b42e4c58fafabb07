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
        self.facing = controls.slider(
            "Faces", 0, 0, 355, 5, self.turn_seat, show="{:.0f}° clockwise from plan up".format, name="facing"
        )
        self.place = PlaceOf(self, self._chosen_place)
        tip = "of a hedge drawn along a line"
        self.rounded = controls.button("Round its corners", self.round_corners, tip=tip, name="round-corners")
        found = [heading("Seats and placed things"), self.seats.widget, self.place.widget, self.facing]
        self.cables = RecordEditor(self, (CABLE,), name="cable")
        return [*found, self.rounded, heading("Cables of garden lights"), self.cables.widget]

    def show_seats(self) -> None:
        """Show the seats and things as they stand."""
        self.seats.show()
        self.cables.show()
        self.place.refresh()
        self.facing.layout.display = "none" if self.seats.chosen is None else None
        self.rounded.layout.display = None if len(getattr(self.seats.chosen, "line", ())) > 2 else "none"
        if self.seats.chosen is not None:
            self.facing.show(self.seats.chosen.facing)

    def turn_seat(self, facing: float) -> None:
        """Turn the chosen seat or thing to look another way."""
        name = self.seats.title
        turn = edits.turn_thing if self.seats.kind is THING else edits.turn_seat
        self.edit(f"turn {name}", lambda p: turn(p, name, facing=facing), gesture=f"turn {name}")

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

    def _chosen_place(self) -> tuple[Sort, str] | None:
        if self.seats.chosen is None:
            return None
        return "thing" if self.seats.kind is THING else "seat", self.seats.title
