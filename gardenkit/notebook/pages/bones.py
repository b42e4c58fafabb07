"""What the pages about the garden's bones share: the records they show, careful reading of what is dragged or typed."""

from collections.abc import Sequence
from typing import Any

import ipywidgets as w

from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene, on_paper
from gardenkit.drawing.svg import svg
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.grips import is_grip, named, put_grip
from gardenkit.notebook.page import Page
from gardenkit.project.layout import Layout
from gardenkit.site.site import Site
from gardenkit.structure.structure import Structure
from gardenkit.units import feet_inches, length, show_length

WIDTH_PX = 700
HIGH_PX = 820
PX_PER_MM = 4.6  # a drawing's letters of 2.2 to 3 mm are then as large as the words of a table


class BonesPage(Page):
    """A page that edits the structure."""

    handles: tuple[Handle, ...] = ()

    @property
    def structure(self) -> Structure:
        """The bones as they stand."""
        return self.project.structure

    def layout(self) -> Layout:
        """Return the worked-out structure."""
        return self.garden.layout

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in what was dragged on the plan; a refused handle goes back to where the records have it."""
        before = self.project
        put = [
            self.attempt(self.put_handle, handle, (round(at[0], 3), round(at[1], 3)))
            for handle, at in moved_handles(data, self.handles)
        ]
        if all(put) and self.project is not before:  # the edit has shown it already
            return
        said = self.message.value
        self.attempt(self.refresh)
        if said:
            self.message.value = said

    def put_handle(self, handle: str, at: Point) -> None:
        """Turn or size what the handle is for, or put it elsewhere."""
        if is_grip(handle):
            self.edit(named(handle), lambda p: put_grip(p, handle, at))
        else:
            self.drop(handle, at)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle."""
        raise NotImplementedError

    def metres(self, text: str, what: str, *, signed: bool = False) -> float:
        """Return metres for a typed length; a bare number is in the garden's own unit."""
        return length(text.strip(), bare="ft" if self.project.units == "imperial" else "m", where=what, signed=signed)

    def lengths(self, metres: float) -> str:
        """Return a length in the garden's units."""
        return show_length(metres, self.project.units)

    def typed(self, metres: float) -> str:
        """Return a length as the designer would type it."""
        return feet_inches(metres) if self.project.units == "imperial" else f"{metres:.2f} m"


def refill(box: Any, options: Sequence[Any], value: Any) -> Any:
    """Give a drop-down list other options without calling anyone; returns what is chosen then."""
    values = [o[1] if isinstance(o, tuple) else o for o in options]
    chosen = value if value in values else (values[0] if values else None)
    box.quiet = True
    try:
        if list(box.bar.options) != list(options):
            box.bar.options = list(options)
        if box.bar.value != chosen:
            box.bar.value = chosen
        if values and box.bar.index is None:  # a choice whose value is None has words all the same
            box.bar.index = values.index(chosen)
    finally:
        box.quiet = False
    return chosen


def plan_scale(site: Site, *, width_px: float = WIDTH_PX, high_px: float | None = HIGH_PX) -> float:
    """Return the n of 1 : n at which a plan of this site fits the screen both ways, so that its names find room."""
    return screen_scale(site, width_px=width_px, most_height_px=high_px)


def picture(scene: Scene) -> str:
    """Return a drawing for the page at a size where its letters are as large as the page's own."""
    wide = on_paper(scene.bounds[2] - scene.bounds[0], scene.scale)
    return f'<div style="max-width:{min(980.0, PX_PER_MM * wide):.0f}px;margin:8px 0">{svg(scene)}</div>'


def heading(text: str) -> w.HTML:
    """Return a small heading between groups of controls."""
    return w.HTML(
        f'<div {controls.HEADING} style="font-size:13px;font-weight:600;color:#3d4a35;margin:12px 0 0">{text}</div>'
    )
