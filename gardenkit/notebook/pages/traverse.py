"""A traverse walked round the plot with tape and compass: how far it misses its start, and the boundary it gives once
shared out.
"""

import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.found import words_on_empty_ground
from gardenkit.drawing.plan import plan_scene, screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import Page, handler
from gardenkit.project.edits import site as edits
from gardenkit.site.site import Site
from gardenkit.site.traverse import AdjustedTraverse, Course, area_by_coordinates, compass_rule
from gardenkit.units import bearing, length, show_area, show_length

WIDTH_PX = 520
EMPTY = "Type your courses: the traverse is drawn here"
HINTS = {"imperial": "80' 4\"; N 76 E\n46' 3\"; S 36 E", "metric": "24.49 m; N 76 E\n14.10 m; S 36 E"}


class TraversePage(Page):
    """Courses left, one a line; the closed figure right; misclosure and corrections below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.adjusted: AdjustedTraverse | None = None
        self.courses: tuple[Course, ...] = ()
        self.text = w.Textarea(placeholder=HINTS[self.project.units], layout=w.Layout(width="96%", height="200px"))
        self.text.add_class("gk-survey-table")
        hint = controls.label(
            "One course a line, walking round once: its length; its bearing (N 76 E, or 76 degrees from north)"
        )
        work = controls.button("Close the traverse", self.work_out, name="traverse", width="96%")
        use = controls.button("Make it the boundary", self.use, name="traverse-boundary", width="96%")
        self.results = w.HTML()
        self.advice = AdviceList(self, of_garden=False, more=self._told)
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=WIDTH_PX, hover=False)
        self.board = Board(self.plan.figure, {}, lambda *_: None)
        panel = [hint, self.text, work, use, self.undo_row()]
        self.widget = controls.page(self.message, panel, self.board, [self.advice.widget], beside=[self.results])

    def refresh(self) -> None:
        """Draw the closed traverse and say by how much it missed."""
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        self.results.value = self._results()
        self.advice.show()

    # --- handlers

    def work_out(self) -> None:
        """Read the courses and share out the misclosure by length (compass rule)."""
        if self.attempt(self._work_out):
            self.attempt(self.refresh)

    @handler
    def use(self) -> None:
        """Make the closed traverse the boundary; its first corner is the plan's origin."""
        outline = self._outline()
        if not outline:
            raise GardenError("there is no closed traverse yet; type its courses and close it first")

        self.edit("boundary from the traverse", lambda p: edits.set_boundary(p, outline))

    # --- helpers

    def _told(self) -> tuple[Finding, ...]:
        """Return what the figure being closed is told; nothing of it is on record."""
        return () if self.adjusted is None else (self.adjusted.misclosure.finding(),)

    def _work_out(self) -> None:
        courses = tuple(self._course(n, line) for n, line in enumerate(self.text.value.splitlines(), 1) if line.strip())
        adjusted = compass_rule(courses)
        area_by_coordinates(adjusted.points)  # refuses a figure that crosses itself
        self.courses, self.adjusted = courses, adjusted
        self.message.say(f"{len(courses)} courses closed")

    def _course(self, number: int, line: str) -> Course:
        long, mark, way = line.partition(";")
        where = f"course {number}"
        if not mark or not way.strip():
            raise GardenError(f'{where} ("{line.strip()}") has no bearing; write it as a length; then a bearing')
        bare = "ft" if self.project.units == "imperial" else "m"
        return Course(
            length=length(long.strip(), bare=bare, where=where), bearing=bearing(way, where=where), name=where
        )

    def _outline(self) -> Outline:
        """Return the corners on the plan, whose y axis need not point north."""
        if self.adjusted is None:
            return ()
        turned = plane.turned(self.adjusted.points, -self.project.site.y_bearing)
        return plane.outline(turned, where="the traverse")

    def scene(self) -> Scene:
        """Return the closed traverse as an outline with its north arrow."""
        outline = self._outline() or self.project.site.boundary
        site = Site(boundary=outline, y_bearing=self.project.site.y_bearing)
        return plan_scene(
            site=site,
            title="Traverse, closed" if self.adjusted else "Traverse",
            extra=() if outline else (words_on_empty_ground(EMPTY),),
            scale=screen_scale(site, width_px=WIDTH_PX, most_height_px=WIDTH_PX),
            units=self.project.units,
            to_scale=False,
        )

    def _results(self) -> str:
        if self.adjusted is None:
            return str(controls.label("No traverse worked out yet.").value)
        units, miss = self.project.units, self.adjusted.misclosure
        ratio = "closes exactly" if miss.ratio == float("inf") else f"1 : {miss.ratio:,.0f}"
        figures = [
            ("perimeter", show_length(miss.perimeter, units)),
            ("misses its start by", f"{show_length(miss.linear, units, small=True)} ({ratio})"),
            ("encloses", show_area(area_by_coordinates(self.adjusted.points), units)),
        ]
        rows = [
            (
                c.name,
                show_length(c.length, units),
                f"{c.bearing:.1f}°",
                show_length(north, units),
                show_length(east, units),
            )
            for c, (north, east) in zip(self.courses, self.adjusted.courses, strict=True)
        ]
        heads = ("course", "length", "bearing", "north, adjusted", "east, adjusted")
        return controls.table_html(("traverse", ""), figures) + controls.table_html(heads, rows)

    @property
    def is_blank(self) -> bool:
        """Whether no traverse is closed."""
        return self.adjusted is None

    def summary(self) -> str:
        """Return the traverse in words."""
        if self.adjusted is None:
            return f"Traverse of {self.project.name}: none worked out yet"
        miss = show_length(self.adjusted.misclosure.linear, self.project.units, small=True)
        return f"Traverse of {len(self.courses)} courses: misses its start by {miss}"
