"""The place, turn and size of what is chosen on a plan: typed, or moved by steps, with how far it is from wall and
neighbour.
"""

import html
from collections.abc import Callable

import ipywidgets as w

from gardenkit import reading
from gardenkit.notebook import controls
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.project import Project
from gardenkit.project.edits.moved import Sort, place_of, put_at
from gardenkit.project.edits.shaped import rectangle_of, size_to, turn_of, turn_to
from gardenkit.project.nearness import near
from gardenkit.units import length, show_length

STEP = {"imperial": '3"', "metric": "0.1 m"}
ARROWS = (
    ("←", "ArrowLeft", (-1, 0)),
    ("↑", "ArrowUp", (0, 1)),
    ("↓", "ArrowDown", (0, -1)),
    ("→", "ArrowRight", (1, 0)),
)
WORDS = {"ArrowLeft": "left", "ArrowUp": "up", "ArrowDown": "down", "ArrowRight": "right"}


class PlaceOf(Part):
    """One thing's place: fields for x and y, its turn and size where it has these, four arrows with their step, and
    distances. Hidden while none is chosen.

    ``chosen`` gives the sort and the name of what is chosen, None while nothing is.
    """

    def __init__(self, page: Page, chosen: Callable[[], tuple[Sort, str] | None]) -> None:
        self._chosen = chosen
        super().__init__(page)

    def build(self) -> None:
        """Make the widgets, once."""
        units = self.project.units
        self.at = controls.field("Its middle at: x, y", "", self.put, name="place")
        self.step = controls.field("Step", STEP[units], lambda _: None, name="place-step")
        arrows = [self._arrow(*arrow) for arrow in ARROWS]
        self.turn = controls.field("Its turn, ° clockwise from plan up", "", self.turn_to, name="turn")
        self.size = controls.field("Its size: across, along", "", self.size_to, name="across-along")
        self.said = w.HTML()
        row = w.HBox(arrows, layout=w.Layout(width="96%", justify_content="space-between"))
        self.widget = w.VBox([self.at, row, self.step, self.turn, self.size, self.said])
        self.widget.layout = w.Layout(width="100%", display="none")

    def refresh(self) -> None:
        """Show where the chosen thing is, and what is near it."""
        chosen, units = self._chosen(), self.project.units
        self.widget.layout.display = "none" if chosen is None else ""
        if chosen is None:
            return
        self.at.show(forms.show_point(place_of(self.project, *chosen), units))
        turn = turn_of(self.project, *chosen)
        self.turn.layout.display = "none" if turn is None else None
        self.turn.show("" if turn is None else reading.shown(turn))
        box = rectangle_of(self.project, *chosen)
        self.size.layout.display = "none" if box is None else None
        self.size.show("" if box is None else forms.show_point(box.size, units))
        told = [f"{show_length(one.metres, units)} from {one.what}" for one in near(self.project, *chosen)]
        self.said.value = f'<div class="gk-label" role="status">{html.escape("; ".join(told))}</div>'

    # ---- handlers

    @handler
    def put(self, typed: str) -> None:
        """Put the chosen thing at a typed place."""
        chosen = self._chosen()
        if chosen is None or not typed.strip():
            return
        sort, name = chosen
        to = forms.point(typed, self.project.units, _called(sort, name))
        self.edit(f"move {_called(sort, name)}", lambda p: put_at(p, sort, name, to))

    @handler
    def turn_to(self, typed: str) -> None:
        """Turn the chosen thing to typed degrees."""
        chosen = self._chosen()
        if chosen is None or not typed.strip():
            return
        sort, name = chosen
        degrees = forms.number(typed, f"the turn of {name}", low=-360.0, high=360.0, unit="degrees")
        self.edit(f"turn {name}", lambda p: turn_to(p, sort, name, degrees % 360))

    @handler
    def size_to(self, typed: str) -> None:
        """Give the chosen rectangle a typed size, about its middle."""
        chosen = self._chosen()
        if chosen is None or not typed.strip():
            return
        sort, name = chosen
        across, along = forms.point(typed, self.project.units, f"the size of {name}")
        self.edit(f"size {name}", lambda p: size_to(p, sort, name, across, along))

    @handler
    def nudge(self, right: int, up: int) -> None:
        """Move the chosen thing by so many steps to the right and up; several in a row are one step of undo."""
        chosen = self._chosen()
        if chosen is None:
            return
        sort, name = chosen
        units = self.project.units
        far = length(str(self.step.bar.value), bare=forms.bare_unit(units), where="the step")

        def change(project: Project) -> Project:
            x, y = place_of(project, sort, name)
            return put_at(project, sort, name, (x + right * far, y + up * far))

        self.edit(f"move {_called(sort, name)}", change, gesture=f"step {sort} {name}")

    # ---- helpers

    def _arrow(self, sign: str, key: str, way: tuple[int, int]) -> w.Button:
        tip = f"{WORDS[key]} by the step (arrow key, with the pointer on the plan)"
        made = controls.button(sign, lambda: self.nudge(*way), tip=tip, name=f"step-{WORDS[key]}", width="23%")
        made.add_class(f"gk-key-{key}")
        return made


def _called(sort: Sort, name: str) -> str:
    return f"plant {name}" if sort == "plant" else name
