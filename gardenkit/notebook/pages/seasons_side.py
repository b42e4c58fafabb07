"""From the side: the line that one looks square at, dragged on a small plan, and how deep one looks."""

from typing import TYPE_CHECKING

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.from_the_side import Line, first_line, side_scene, with_end
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.painted_view import Moment, prospect
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene, Stroke
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.part import Part

if TYPE_CHECKING:
    from gardenkit.notebook.pages.seasons import SeasonsPage

PLAN_PX = 330
HIGH_PX = 420
YEAR = 5  # of the small plan
LINE_INK = "#7a3b12"


class SideLine(Part):
    """A small plan with a line to drag; one looks at it square, from A on the left to B. Nothing is saved."""

    page: "SeasonsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.drawn: Line | None = None  # as dragged
        self.depth = controls.slider(
            "From the side: how deep", 3.0, 1.0, 12.0, 0.5, self.page.view.again, show=self.page.lengths, live=False
        )
        self.plan = self.page.live_plan(self.plan_scene(), width_px=PLAN_PX, most_height_px=HIGH_PX)
        self.board = self.plan.board(self.page.edited)
        self.controls = [
            heading("From the side"),
            controls.label("Drag the two ends of the line; one looks at it square, from A on the left to B."),
            self.board,
            self.depth,
            controls.button("Look from the other side", self.turn, name="turn-line", width="96%"),
        ]

    def refresh(self) -> None:
        """Draw the small plan and the line on it."""
        scene = self.plan_scene()
        self.plan.update(scene)
        self.plan.reframe(scene)
        a, b = self.line
        self.page.handles = (
            Handle(id="A", kind="seat", at=a, tip="A: left end"),
            Handle(id="B", kind="seat", at=b, tip="B: right end"),
        )
        self.plan.set_handles(self.page.handles)

    @property
    def line(self) -> Line:
        """The line that is looked at: as dragged, else across the ground in front of its middle."""
        return self.drawn or first_line(self.project.site)

    def drop(self, end: str, at: Point) -> None:
        """Put one end of the line. Raises GardenError for a line that is too short."""
        self._look(with_end(self.line, end, at, units=self.project.units))

    @handler
    def turn(self) -> None:
        """Look at the line from its other side."""
        a, b = self.line
        self._look((b, a))

    def scene(self, *, year: int, month: int) -> Scene:
        """Return the garden looked at square to the line, in a year and month."""
        return side_scene(
            prospect(self.garden),
            Moment(year=year, month=month),
            line=self.line,
            depth=self.depth.bar.value,
            with_pen=not self.page.view.is_painted,
        )

    def plan_scene(self) -> Scene:
        """Return the small plan with the line that is looked at."""
        line = Stroke(points=self.line, colour=LINE_INK, width_mm=0.6, layer="overlay")
        return garden_scene(
            self.project,
            self.garden.layout,
            self.garden.catalogue,
            year=YEAR,
            names=False,
            textures=False,
            extra=(line,),
            scale=screen_scale(self.project.site, width_px=PLAN_PX),
        )

    def _look(self, line: Line) -> None:
        self.drawn = line
        self.refresh()
        self.page.view.look_from_the_side()
