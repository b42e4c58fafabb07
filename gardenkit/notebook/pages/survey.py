"""The tape survey: measures typed or pasted, solved together, drawn with how sure each point is; then the boundary
and house from it.
"""

import re

import attrs
import ipywidgets as w

from gardenkit.drawing.found import words_on_empty_ground
from gardenkit.drawing.overlays import Ellipse, contour_marks, survey_marks
from gardenkit.drawing.plan import plan_scene, screen_scale
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline, Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import Page, handler
from gardenkit.project.edits import site as edits
from gardenkit.site import levels
from gardenkit.site.adjustment import Adjusted, solve
from gardenkit.site.heights_table import heights_text, read_heights
from gardenkit.site.site import Site
from gardenkit.site.survey import ANGLES, Tie
from gardenkit.site.survey_table import read_table, table_text
from gardenkit.units import FOOT, counted, show_length

WIDTH_PX = 680
SCREEN_SCALE = 96.0
EXAGGERATE = 10.0  # ellipses are drawn ten times as large as the errors are
CONTOURS = {"imperial": FOOT / 2, "metric": 0.1}  # m between contour lines. House values.
EXAMPLE = "kind\tfrom\tto\tpoint\tvalue\nstation\tH1\t\t\t0\t0\ntie\tH1\tA\t\t{}\n"
HINTS = {"imperial": ("12' 6\"", "-8 in"), "metric": ("3.81 m", "-20 cm")}  # a length and a height as they are typed
EMPTY = "Type your measures: the survey is drawn here"
TOPICS = ("survey", "levels")


class SurveyPage(Page):
    """A table of measures left, the solved plan right, residuals and advice below."""

    def build(self) -> None:
        """Make the widgets, once."""
        long, high = HINTS[self.project.units]
        self.table = w.Textarea(placeholder=EXAMPLE.format(long), layout=w.Layout(width="96%", height="300px"))
        self.table.add_class("gk-survey-table")
        apply = controls.button("Work out the survey", self.apply, name="solve", width="96%")
        hint = controls.label(
            "One measure on each line: tie, offset, running, angle, bearing, slope, right angle; "
            "or paste from a spreadsheet."
        )
        self.order = controls.field(
            "Points round the boundary, in order", "", lambda _: None, name="order", hint="A B C D"
        )
        use = controls.button("Make them the boundary", self.use_as_boundary, name="boundary", width="96%")
        self.house = controls.field(
            "Points round the house, in order", "", lambda _: None, name="house", hint="H1 H2 H3 H4"
        )
        build = controls.button("Make them the house", self.use_as_house, name="house", width="96%")
        self.heights = w.Textarea(
            placeholder=f"point or x, y; height\nA; {high}", layout=w.Layout(width="96%", height="120px")
        )
        levels_hint = controls.label("Ground heights: a survey point or x, y, then the height over the plan's zero")
        take = controls.button("Take these heights", self.apply_heights, name="heights", width="96%")
        self.results = w.HTML()
        self.advice = AdviceList(self, topics=TOPICS, chosen=self._redraw)
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=760)
        self.board = self.plan.board(lambda *_: None)
        panel = [
            hint,
            self.table,
            apply,
            self.order,
            use,
            self.house,
            build,
            levels_hint,
            self.heights,
            take,
            self.undo_row(),
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.results, self.advice.widget])

    def refresh(self) -> None:
        """Show the survey as it is worked out."""
        survey, units = self.project.site.survey, self.project.units
        if self.trouble:
            self.message.problem(self.trouble)
        if survey.stations or survey.measures:
            self.table.value = table_text(survey, system=units)
        self.heights.value = heights_text(self.project.site.heights, system=units)
        self.advice.show()
        self._redraw()
        self.results.value = self._results()

    @property
    def adjusted(self) -> Adjusted | None:
        """The survey worked out, None without measures or while they cannot be."""
        return self.garden.survey.adjusted

    @property
    def trouble(self) -> str:
        """Why the survey cannot be worked out, empty while it can."""
        return self.garden.survey.trouble

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def apply(self) -> None:
        """Take in the table: every bad row is named, and nothing is stored until all rows can be read."""
        read = read_table(self.table.value, system=self.project.units)
        if read.problems:
            raise GardenError("; ".join(read.problems))
        solve(read.survey, y_bearing=self.project.site.y_bearing)
        typed = self.table.value
        if self.edit("survey", lambda p: edits.set_survey(p, read.survey)):
            self.message.say(f"{len(read.survey.measures)} measures worked out")
        else:
            self.table.value = typed  # to be mended, not typed again

    @handler
    def use_as_boundary(self) -> None:
        """Make the named points the boundary."""
        outline = self._outline(self.order.bar.value, "the boundary")
        self.edit("boundary from the survey", lambda p: edits.set_boundary(p, outline))

    @handler
    def use_as_house(self) -> None:
        """Make the named points the house; its heights stay, or take the usual ones."""
        outline = self._outline(self.house.bar.value, "the house")
        self.edit("house from the survey", lambda p: edits.set_house_from_survey(p, outline))

    @handler
    def apply_heights(self) -> None:
        """Take in the ground heights."""
        known, units = self.project.site.heights, self.project.units
        heights = read_heights(self.heights.value, system=units, placed=self._point, known=known)
        self.edit("ground heights", lambda p: edits.set_heights(p, heights))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _outline(self, text: str, where: str) -> Outline:
        names = re.split(r"[\s,;]+", text.strip())
        if names == [""]:
            raise GardenError(f"no points are named for {where}; type their names in order, such as A B C D")
        return plane.outline([self._point(name) for name in names], where=where)

    def _point(self, name: str) -> Point:
        if self.adjusted is None:
            raise GardenError(f'"{name}" cannot be placed: work out the survey first')
        known = {point.name: point.at for point in self.adjusted.points}
        if name not in known:
            raise GardenError(f'the survey has no point "{name}"{nearest(name, known)}')
        return known[name]

    def _redraw(self) -> None:
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)

    def _results(self) -> str:
        if self.adjusted is None:
            return controls.table_html(("survey",), [(self.trouble or "no measures yet",)])
        units = self.project.units
        points = [
            (
                p.name,
                show_length(p.at[0], units),
                show_length(p.at[1], units),
                "fixed" if p.fixed else f"± {show_length(p.long, units, small=True)}",
            )
            for p in self.adjusted.points
        ]
        worst = sorted(self.adjusted.residuals, key=lambda r: -abs(r.standardised))[:10]
        tapes = [
            (
                r.label,
                f"{r.residual:+.1f}°" if r.part in ANGLES else _signed(r.residual, units),
                f"{r.redundancy:.0%}",
                f"{r.standardised:+.1f}",
            )
            for r in worst
        ]
        if not self.adjusted.spare:
            fit = "nothing checks these measures: add a tie to each point"
        else:
            fit = self._agreement(self.adjusted)
        ellipses = controls.label(
            f"{fit}. Ellipses on the plan are standard errors drawn {EXAGGERATE:.0f} times as large."
        ).value
        heads = ("measure, worst first", "off by", "checked", "in standard errors")
        left, right = controls.table_html(("point", "x", "y", "sure to"), points), controls.table_html(heads, tapes)
        return f'{ellipses}<div style="display:flex;gap:40px;flex-wrap:wrap">{left}{right}</div>'

    def _agreement(self, adjusted: Adjusted) -> str:
        """Return how well the tapes agree: as a length, by the worst of them, and against what was typed."""
        size = show_length(adjusted.tape_error, self.project.units, small=True)
        words = f"the tapes agree to {size}" if adjusted.fits else f"the tapes do NOT agree: {size} off in the mean"
        worst = max(adjusted.tapes, key=lambda r: abs(r.standardised), default=None)
        if worst is not None:
            words += f"; worst: {worst.label}, {_signed(worst.residual, self.project.units)}"
        spread = f"they scatter {adjusted.s0:.2f} times what was typed as their precision"
        return f"{words} ({counted(adjusted.spare, 'check')}; {spread})"

    def scene(self) -> Scene:
        """Return the site with points, tapes, error ellipses and contours."""
        site = self.project.site
        around = () if site.boundary or self.adjusted is None else tuple(p.at for p in self.adjusted.points)
        return plan_scene(
            site=attrs.evolve(site, trees=(), obstacles=()),
            around=around,
            title=f"{self.project.name}: survey",
            extra=self._marks(site),
            scale=screen_scale(site, around=around, width_px=WIDTH_PX),
            units=self.project.units,
            to_scale=False,
        )

    def _marks(self, site: Site) -> tuple[Mark, ...]:
        marks: list[Mark] = [*self.advice.marks(SCREEN_SCALE)]
        if len(site.heights) >= 3 and self.garden.ground is not None:
            lines: dict[float, list[tuple[Point, ...]]] = {}
            for contour in levels.contours(self.garden.ground, CONTOURS[self.project.units]):
                lines.setdefault(contour.height, []).append(contour.line)
            marks += contour_marks(sorted(lines.items()), scale=SCREEN_SCALE, units=self.project.units)
        if self.adjusted is None and not site.boundary:
            marks.append(words_on_empty_ground(EMPTY))
        if self.adjusted is not None:
            at = {p.name: p.at for p in self.adjusted.points}
            ties = [(at[m.a], at[m.b], "") for m in site.survey.measures if isinstance(m, Tie)]
            ellipses = [
                Ellipse(at=p.at, major=max(p.long, 1e-3), minor=max(p.short, 1e-3), turn=p.turned)
                for p in self.adjusted.points
                if not p.fixed
            ]
            marks += survey_marks(at, ellipses=ellipses, ties=ties, scale=SCREEN_SCALE, exaggerate=EXAGGERATE)
        return tuple(marks)

    def summary(self) -> str:
        """Return the survey in words."""
        if self.adjusted is None:
            return f"Survey of {self.project.name}: {self.trouble or 'no measures yet'}"
        worst = max((p.long for p in self.adjusted.points), default=0.0)
        sure, readings = show_length(worst, self.project.units, small=True), len(self.adjusted.residuals)
        return f"{counted(len(self.adjusted.points), 'point')} from {readings} readings, the least sure to {sure}"


def _signed(metres: float, units: str) -> str:
    shown = show_length(abs(metres), "metric" if units == "metric" else "imperial", small=True)
    return f"{'-' if metres < 0 else '+'}{shown}"
