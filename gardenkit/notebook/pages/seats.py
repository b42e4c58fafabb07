"""Seats on the page of the bones: added, named, turned, moved and deleted."""

import ipywidgets as w

from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import BonesPage, heading, refill, row
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.records import by_name


class SeatsPage(BonesPage):
    """The part of a page that changes seats; the page it belongs to shows them on its plan."""

    seat_name = ""

    def seat_controls(self) -> list[w.Widget]:
        """Return the controls of the seats, made once."""
        self.seat = controls.choice("Seat", None, [], self.choose_seat, name="seat")
        self.seat_called = controls.field("Name", "", self.rename_seat, name="seat-name")
        self.facing = controls.slider(
            "Looks towards", 0, 0, 355, 5, self.turn_seat, show="{:.0f}° clockwise from plan up".format, name="facing"
        )
        self.new_seat = controls.field("A new seat called", "", lambda _: None, name="new-seat")
        add = controls.button("Add seat", self.add_seat, width="48%", name="add-seat")
        gone = controls.button("Delete seat", self.remove_seat, width="48%", name="remove-seat")
        return [heading("Seats"), self.seat, self.seat_called, self.facing, self.new_seat, row(add, gone)]

    def show_seats(self) -> None:
        """Show the seats as they stand."""
        seats = self.structure.seats
        self.seat_name = refill(self.seat, [s.name for s in seats], self.seat_name) or ""
        for box in (self.seat, self.seat_called, self.facing):
            box.layout.display = None if seats else "none"
        if self.seat_name:
            self.seat_called.show(self.seat_name)
            self.facing.show(by_name(seats, self.seat_name, "seat").facing)

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def choose_seat(self, name: str) -> None:
        """Turn to another seat."""
        self.seat_name = name
        self.refresh()

    def add_seat(self) -> None:
        """Add a seat on the roomiest ground, to be dragged where it belongs."""
        name = self.new_seat.bar.value
        if self.edit(f"add {name}", lambda p: edits.add_seat(p, name)):
            self.new_seat.show("")
            self.choose_seat(self.structure.seats[-1].name)

    def rename_seat(self, typed: str) -> None:
        """Give the seat another name; paths that go to it follow."""
        old, new = self.seat_name, " ".join(typed.split())
        self.seat_name = new
        if new == old or not self.edit(f"rename {old}", lambda p: edits.rename_seat(p, old, to=new)):
            self.seat_name = old

    def turn_seat(self, facing: float) -> None:
        """Turn the seat to look another way."""
        name = self.seat_name
        self.edit(f"turn {name}", lambda p: edits.turn_seat(p, name, facing=facing), gesture=f"turn {name}")

    def remove_seat(self) -> None:
        """Delete the chosen seat."""
        name = self.seat_name
        self.edit(f"delete {name}", lambda p: edits.remove_seat(p, name))
