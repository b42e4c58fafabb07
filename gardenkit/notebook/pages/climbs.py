"""Steps and ramps between two places on the ground: risers, treads, length of a ramp, and what the codes say."""

import math

import ipywidgets as w
import numpy as np

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene, Stroke
from gardenkit.drawing.section import ramp_profile, section_scene, step_profile
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.pages.bones import BonesPage, heading, picture, plan_scale
from gardenkit.project.rules import ground_of
from gardenkit.structure import ramps
from gardenkit.structure.steps import BANDS, CODES, MOST_RISER, Steps, needs_handrail, step_findings, steps
from gardenkit.units import INCH, show_length

WIDTH_PX = 560
HIGH_PX = 560
FLAT = 0.02  # m: less than this between two places needs neither steps nor ramp. House value.


class ClimbsPage(BonesPage):
    """Two handles on the plan, or a typed rise; the steps and the ramp that overcome it, in figures and in section."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.ends = self._first_ends()
        self.rise = controls.field(
            "Rise, if not as the ground lies", "", lambda _: self.attempt(self.refresh), name="rise"
        )
        self.riser = controls.slider(
            "Risers at most",
            MOST_RISER / INCH,
            4,
            7.75,
            0.25,
            lambda _: self.attempt(self.refresh),
            show=self._inches,
            name="riser",
        )
        self.band = controls.choice(
            "Twice the riser and the tread, inches", "26-27", list(BANDS), lambda _: self.attempt(self.refresh)
        )
        self.code = controls.choice("Held against", "IRC 2021", list(CODES), lambda _: self.attempt(self.refresh))
        self.wide = controls.slider(
            "Width", 48, 24, 96, 2, lambda _: self.attempt(self.refresh), show=self._inches, live=False
        )
        self.rule = controls.choice(
            "Ramp by", "ADA 2010", list(ramps.RAMP_RULES), lambda _: self.attempt(self.refresh), name="ramp-rule"
        )
        self.slope = controls.slider(
            "Ramp rises 1 in",
            12,
            8,
            30,
            0.5,
            lambda _: self.attempt(self.refresh),
            show="{:.1f}".format,
            name="ramp-slope",
        )
        self.lie, self.table, self.pictures, self.findings = w.HTML(), w.HTML(), w.HTML(), w.HTML()
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            controls.label("Drag the two round handles to the lower and the upper place."),
            self.lie,
            self.rise,
            heading("Steps"),
            self.riser,
            self.band,
            self.code,
            self.wide,
            heading("Ramp"),
            self.rule,
            self.slope,
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.table, self.pictures, self.findings])

    def refresh(self) -> None:
        """Work out steps and ramp between the two places."""
        self.plan.update(self.scene())
        self.handles = tuple(
            Handle(id=f"end:{i}", kind="path", at=p, tip=f"place {i + 1}") for i, p in enumerate(self.ends)
        )
        self.plan.set_handles(self.handles)
        units, rise = self.project.units, self.height_between()
        run = math.dist(*self.ends)
        self.lie.value = controls.table_html(
            ("the ground", ""),
            [
                ("apart", show_length(run, units)),
                ("rise", show_length(abs(rise), units)),
                ("slope", f"{100 * abs(rise) / run:.1f} %"),
            ],
        )
        self.message.say("")
        if abs(rise) < FLAT:
            self.table.value = self.pictures.value = self.findings.value = ""
            self.message.say("the two places are level with each other: nothing to climb")
            return
        self._show(abs(rise), run)

    # --- handlers -----------------------------------------------------------------------------------------------

    def drop(self, handle: str, at: Point) -> None:
        """Put one of the two places; nothing is saved."""
        index = int(handle.partition(":")[2])
        other = self.ends[1 - index]
        if math.dist(at, other) < 0.2:
            raise GardenError("the two places are one; drag them further apart")
        self.ends = (at, other) if index == 0 else (other, at)
        self.refresh()

    # --- helpers ------------------------------------------------------------------------------------------------

    def height_between(self) -> float:
        """Return the rise from the first to the second place in metres: typed, or as the spot heights say."""
        typed = self.rise.bar.value.strip()
        if typed:
            return self.metres(typed, "the rise", signed=True)
        ground = ground_of(self.project.site)
        if ground is None:
            raise GardenError("no ground heights are measured yet; type the rise, or take heights on the survey page")
        a, b = (ground.height(p) for p in self.ends)
        return b - a

    def flight(self) -> Steps:
        """Return the steps as chosen."""
        return steps(
            abs(self.height_between()),
            most_riser=self.riser.bar.value * INCH,
            band=self.band.bar.value,
            width=self.wide.bar.value * INCH,
            code=self.code.bar.value,
        )

    def ramp(self) -> ramps.Ramp:
        """Return the ramp as chosen; never steeper than its rule allows."""
        rule = ramps.RAMP_RULES[self.rule.bar.value]
        return ramps.ramp(abs(self.height_between()), slope=min(1 / self.slope.bar.value, rule.slope), rule=rule.name)

    def _show(self, rise: float, run: float) -> None:
        units = self.project.units
        flight, made = self.flight(), self.ramp()
        small = [
            ("risers", f"{flight.risers} of {show_length(flight.riser, units, small=True)}", _count(made.runs, "run")),
            (
                "treads",
                f"{flight.treads} of {show_length(flight.tread, units, small=True)}",
                f"slope 1 in {1 / made.slope:.1f}",
            ),
            ("twice the riser and the tread", show_length(flight.two_risers_and_tread, units, small=True), ""),
            ("middle landings", str(flight.middle_landings), str(made.middle_landings)),
            (
                "without end landings",
                show_length(flight.run, units),
                show_length(made.overall - 2 * made.landing, units),
            ),
            ("with landings", show_length(flight.overall, units), show_length(made.overall, units)),
            ("fits between the places", _fits(flight.run, run), _fits(made.overall - 2 * made.landing, run)),
            ("handrails", _asked(needs_handrail(flight.risers, code=self.code.bar.value)), _asked(made.handrails)),
        ]
        self.table.value = controls.table_html(("", "steps", "ramp"), small)
        self.pictures.value = "".join(picture(scene) for scene in self.sections(flight, made))
        found: list[Finding] = [*step_findings("steps", flight, code=self.code.bar.value)]
        found += ramps.ramp_findings("ramp", made, width=self.wide.bar.value * INCH)
        self.findings.value = controls.findings_html(found, units=units)

    def sections(self, flight: Steps, made: ramps.Ramp) -> tuple[Scene, Scene]:
        """Return steps and ramp in section, at one scale, over the ground as it lies."""
        scale = max(48.0, 1000 * max(flight.overall, made.overall) / 200)
        units = self.project.units
        built = f"{_count(flight.risers, 'riser')}, {_count(flight.treads, 'tread')}"
        words = f"{built}, {show_length(flight.overall, units)} with landings"
        ramp_words = (
            f"{_count(made.runs, 'run')} at 1 in {1 / made.slope:.1f}, {show_length(made.overall, units)} with landings"
        )
        return (
            section_scene(
                step_profile(flight),
                title=f"Steps: {words}",
                ground=self._ground(flight.landing, flight.overall),
                scale=scale,
                units=units,
            ),
            section_scene(
                ramp_profile(made),
                title=f"Ramp: {ramp_words}",
                ground=self._ground(made.landing, made.overall),
                scale=scale,
                units=units,
            ),
        )

    def _ground(self, landing: float, overall: float) -> Line:
        """Return the ground from where the climb begins to a little past its end; empty if not known."""
        ground = ground_of(self.project.site)
        if ground is None or self.rise.bar.value.strip():
            return ()
        low, high = self.ends if self.height_between() > 0 else self.ends[::-1]
        share = np.linspace(0, 1, 61)
        points = np.asarray(low) + share[:, None] * (np.asarray(high) - np.asarray(low))
        heights = ground.at(points)
        far = math.dist(low, high)
        line = [(landing + far * float(s), float(z - heights[0])) for s, z in zip(share, heights, strict=True)]
        return tuple(point for point in line if point[0] <= 1.4 * overall)

    def _first_ends(self) -> tuple[Point, Point]:
        """Return the lowest and the highest measured spot, or two places in the middle of the plot."""
        heights = self.project.site.heights
        if len(heights) > 1:
            low, high = min(heights, key=lambda h: h.height), max(heights, key=lambda h: h.height)
            if math.dist(low.at, high.at) > 0.2:
                return low.at, high.at
        x, y = plane.centre(plane.region(self.project.site.boundary)) if self.project.site.boundary else (0.0, 0.0)
        return (x, y - 2.0), (x, y + 2.0)

    def _inches(self, value: float) -> str:
        return f"{value:g} in" if self.project.units == "imperial" else f"{value * 2.54:.1f} cm"

    def scene(self) -> Scene:
        """Return the plan with the line between the two places."""
        line = Stroke(points=self.ends, colour="#7a3b12", width_mm=0.5, dash=(2.0, 1.0), layer="overlay")
        return garden_scene(
            self.project,
            self.layout(),
            extra=(line,),
            textures=False,
            scale=plan_scale(self.project.site, width_px=WIDTH_PX, high_px=HIGH_PX),
        )

    def summary(self) -> str:
        """Return the climb in words."""
        try:
            rise = abs(self.height_between())
        except GardenError as error:
            return str(error)
        run, units = math.dist(*self.ends), self.project.units
        return f"a rise of {show_length(rise, units)} over {show_length(run, units)}"


def _count(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _asked(needed: bool) -> str:
    return "yes" if needed else "not asked"


def _fits(needed: float, there: float) -> str:
    return "yes" if needed <= there + 1e-9 else "no: turn it, or start further off"
