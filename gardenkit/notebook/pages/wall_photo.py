"""A photo of a wall made square from four measured points, so that its windows and doors can be marked on it."""

from typing import Any

import ipywidgets as w

from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.scene import Scene
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages import forms, wall_pictures
from gardenkit.notebook.pages.wall_parts import Mark, Photo, Straightened, WhichWall


class WallPhotoPage(Page):
    """Steps in the panel left; the photo with A B C D, and beside it the straightened wall with a mark to drag."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.handles: tuple[Handle, ...] = ()
        self.wall, self.mark = WhichWall(self), Mark(self)
        self.straight = Straightened(self)
        self.photo = Photo(self)
        panel = [
            self.wall.walls,
            self.photo.upload,
            self.photo.photos,
            controls.label(wall_pictures.HINT),
            self.straight.known,
            self.wall.foot,
            self.straight.button,
            *self.mark.controls,
            self.message,
            self.undo_row(),
        ]
        both = forms.beside(self.photo.board, self.straight.board)
        right = w.VBox([both, self.mark.measures, self.mark.advice.widget])
        self.widget = controls.page(self.message, panel, right)

    def refresh(self) -> None:
        """Show the walls, the photos and what is marked."""
        self.wall.refresh()
        self.photo.refresh()
        self.redraw()

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in what was dragged on either picture."""
        for handle, at in moved_handles(data, self.handles):
            self.drop(handle, at)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``corner:A`` at a place of the photo (pixels right and up), ``mark:1`` on the wall."""
        self.message.say("")
        what, _, which = handle.partition(":")
        if what == "corner" and self.photo.name is not None:
            self.photo.drop(which, at)
            self.straight.straighten_if_ready()
        elif what == "mark":
            self.mark.drop(which, at)
        said = self.message.value
        self.attempt(self.redraw)
        self.message.value = said or self.message.value

    def redraw(self) -> None:
        """Draw both pictures again, and say what the mark measures."""
        self.handles = (*self.photo.redraw(), *self.straight.redraw())
        self.mark.refresh()

    def scene(self) -> Scene:
        """Return the wall seen square on."""
        return self.straight.scene()

    @property
    def is_blank(self) -> bool:
        """Whether no wall is chosen."""
        return self.wall.chosen is None

    def summary(self) -> str:
        """Return the mark in words."""
        if self.wall.chosen is None:
            return f"Wall photos of {self.project.name}: no wall is chosen yet"
        said = "; ".join(f"{name}: {value}" for name, value in self.mark.rows())
        return f"{self.wall.side().words(self.project.units)}. {said or 'no photo is straightened yet'}"
