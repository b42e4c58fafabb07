"""Views through the years: in perspective, the garden from the side, balance and winter."""

import ipywidgets as w

from gardenkit.drawing.scene import Scene
from gardenkit.geometry.plane import Point
from gardenkit.notebook.pages.planting import PlantingPage, wide_page
from gardenkit.notebook.pages.seasons_figures import PlantingFigures
from gardenkit.notebook.pages.seasons_side import SideLine
from gardenkit.notebook.pages.seasons_view import View
from gardenkit.notebook.part import Part


class SeasonsPage(PlantingPage):
    """Where from, when and what to show on the left; the pictures on the right; the figures below. Nothing is saved."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.view = View(self)
        self.side = SideLine(self)
        self.figures = PlantingFigures(self)
        self.parts: tuple[Part, ...] = (self.side, self.figures, self.view)
        panel = [*self.view.controls, *self.side.controls]
        seen = [self.view.picture, self.view.player.widget, self.view.job.widget]
        right = w.VBox(seen, layout=w.Layout(width="100%", min_width="0"))
        self.widget = wide_page(self.message, panel, right, [self.figures.widget])

    def refresh(self) -> None:
        """Show the garden as it stands."""
        for part in self.parts:
            part.refresh()

    def drop(self, handle: str, at: Point) -> None:
        """Put one end of the line that is looked at from the side."""
        self.side.drop(handle, at)

    def scene(self) -> Scene | None:
        """Return the view; None while it is being drawn: the notebook is not kept waiting for it."""
        return self.view.scene() if self.view.places() and not self.view.is_awaited() else None

    def summary(self) -> str:
        """Return what is seen, in words."""
        if not self.view.places():
            return "There is nowhere to look from yet."
        scene = self.scene()
        return scene.description if scene is not None else "The view is being drawn."
