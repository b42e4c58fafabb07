"""Seats on the page of the bones: added, sized, named, turned and deleted."""

import ipywidgets as w

from gardenkit.notebook import controls
from gardenkit.notebook.pages.bones import BonesPage, heading
from gardenkit.notebook.pages.bones_fields import SEAT
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.project.edits import structure as edits


class SeatsPage(BonesPage):
    """The part of a page that changes seats; the page it belongs to shows them on its plan."""

    def seat_controls(self) -> list[w.Widget]:
        """Return the controls of the seats, made once. A new one stands on the roomiest ground, to be dragged."""
        self.seats = RecordEditor(self, (SEAT,), name="seat", chose=self.show_seats, opens=True)
        self.facing = controls.slider(
            "Looks towards", 0, 0, 355, 5, self.turn_seat, show="{:.0f}° clockwise from plan up".format, name="facing"
        )
        return [heading("Seats"), self.seats.widget, self.facing]

    def show_seats(self) -> None:
        """Show the seats as they stand."""
        self.seats.show()
        self.facing.layout.display = "none" if self.seats.chosen is None else None
        if self.seats.chosen is not None:
            self.facing.show(self.seats.chosen.facing)

    def turn_seat(self, facing: float) -> None:
        """Turn the seat to look another way."""
        name = self.seats.title
        self.edit(f"turn {name}", lambda p: edits.turn_seat(p, name, facing=facing), gesture=f"turn {name}")
