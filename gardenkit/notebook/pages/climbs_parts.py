"""The parts of the climbs page: where the climb lies, the steps and the ramp that overcome it, and both compared."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene, Stroke
from gardenkit.drawing.section import climb_sections
from gardenkit.findings import Finding
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.pages.bones import heading, picture, plan_scale
from gardenkit.notebook.part import Part
from gardenkit.project.climb import Climb, first_ends, ground_beside, rise_between, with_end
from gardenkit.structure import ramps
from gardenkit.structure.steps import BANDS, CODES, MOST_RISER, Steps, needs_handrail, step_findings, steps
from gardenkit.units import INCH, counted, show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.climbs import ClimbsPage

WIDTH_PX = 560
HIGH_PX = 560


class Lie(Part):
    """Two places dragged on the plan, or a typed rise: how far and how high it is from the one to the other."""

    page: "ClimbsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.ends = first_ends(self.project.site)
        self.rise = controls.field("Rise, if not as the ground lies", "", self.page.again, name="rise")
        self.table = w.HTML()
        self.plan = self.page.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX)
        self.board = self.plan.board(self.page.edited)
        words = "Drag the two round handles to the lower and the upper place."
        self.controls = [controls.label(words), self.table, self.rise]

    def refresh(self) -> None:
        """Draw the line between the two places and say how the ground lies there."""
        self.plan.update(self.scene())
        self.page.handles = tuple(
            Handle(id=f"end:{i}", kind="path", at=p, tip=f"place {i + 1}") for i, p in enumerate(self.ends)
        )
        self.plan.set_handles(self.page.handles)
        self.table.value = ""
        if not self.is_known:
            return
        climb, units = self.climb(), self.project.units
        rows = [("apart", show_length(climb.run, units)), ("rise", show_length(climb.height, units))]
        self.table.value = controls.table_html(("the ground", ""), [*rows, ("slope", f"{climb.slope:.1%}")])

    def drop(self, handle: str, at: Point) -> None:
        """Put one of the two places; nothing is saved."""
        self.ends = with_end(self.ends, int(handle.partition(":")[2]), at)

    @property
    def is_known(self) -> bool:
        """Whether a rise is typed or the ground's heights are measured."""
        return bool(self.rise.bar.value.strip()) or self.garden.ground_to_be is not None

    def climb(self) -> Climb:
        """Return the climb from the first to the second place: as typed, or as the spot heights say.

        Raises GardenError while neither is known.
        """
        typed = self.rise.bar.value.strip()
        if typed:
            return Climb(ends=self.ends, rise=self.page.metres(typed, "the rise", signed=True))
        return Climb(ends=self.ends, rise=rise_between(self.ends, self.garden.ground_to_be))

    def scene(self) -> Scene:
        """Return the plan with the line between the two places."""
        line = Stroke(points=self.ends, colour="#7a3b12", width_mm=0.5, dash=(2.0, 1.0), layer="overlay")
        scale = plan_scale(self.project.site, width_px=WIDTH_PX, high_px=HIGH_PX)
        return garden_scene(self.project, self.garden.layout, extra=(line,), textures=False, scale=scale)


class StepsAsked(Part):
    """How high the risers may be, how deep the treads, how wide, and by which code."""

    page: "ClimbsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        again, small = self.page.again, self.page.small
        low, high, by = 4 * INCH, 7.75 * INCH, 0.25 * INCH
        self.riser = controls.slider(
            "Risers at most", float(MOST_RISER), low, high, by, again, show=small, name="riser"
        )
        bands = [(self.garden.say(f"{low:g} to {high:g} in"), name) for name, (low, high, _) in BANDS.items()]
        self.band = controls.choice("Twice the riser and the tread", "26-27", bands, again)
        codes = [(self.garden.say(code), code) for code in CODES]
        self.code = controls.choice("Held against", "IRC 2021", codes, again)
        low, high, by = 24 * INCH, 96 * INCH, 2 * INCH
        self.wide = controls.slider("Width", 48 * INCH, low, high, by, again, show=small, live=False)
        self.controls = [heading("Steps"), self.riser, self.band, self.code, self.wide]

    def flight(self, climb: Climb) -> Steps:
        """Return the steps as chosen."""
        riser, band, wide = self.riser.bar.value, self.band.bar.value, self.wide.bar.value
        return steps(climb.height, most_riser=riser, band=band, width=wide, code=self.code.bar.value)


class RampAsked(Part):
    """By which rule the ramp is, and how much gentler than that."""

    page: "ClimbsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        again = self.page.again
        rules = [(self.garden.say(rule), rule) for rule in ramps.RAMP_RULES]
        self.rule = controls.choice("Ramp by", "ADA 2010", rules, again, name="ramp-rule")
        self.one_in = controls.slider("Ramp slope", 12, 8, 30, 0.5, again, show="1 : {:.1f}".format, name="ramp-slope")
        self.controls = [heading("Ramp"), self.rule, self.one_in]

    def ramp(self, climb: Climb) -> ramps.Ramp:
        """Return the ramp as chosen; never steeper than its rule allows."""
        return ramps.ramp_one_in(climb.height, self.one_in.bar.value, rule=self.rule.bar.value)


class Compared(Part):
    """Steps and ramp beside each other in figures, in section over the ground, and what the codes say of them."""

    page: "ClimbsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.table, self.pictures = w.HTML(), w.HTML()
        self.advice = AdviceList(self.page, of_garden=False, more=self.findings)
        self.below = [self.table, self.pictures, self.advice.widget]

    def refresh(self) -> None:
        """Compare what is chosen; nothing where there is nothing to climb, or nobody knows."""
        lie = self.page.lie
        idle = not lie.is_known or lie.climb().is_flat
        self.advice.widget.layout.display = "none" if idle else ""
        if idle:
            self.table.value = self.pictures.value = ""
            return
        climb = lie.climb()
        flight, made = self.page.steps.flight(climb), self.page.ramp.ramp(climb)
        self.table.value = controls.table_html(("", "steps", "ramp"), self.rows(climb, flight, made))
        self.pictures.value = "".join(picture(scene) for scene in self.sections(climb, flight, made))
        self.advice.show()

    def rows(self, climb: Climb, flight: Steps, made: ramps.Ramp) -> list[tuple[str, str, str]]:
        """Return both in figures."""
        small, units = self.page.small, self.project.units
        rails = needs_handrail(flight.risers, code=self.page.steps.code.bar.value)
        return [
            ("risers", f"{flight.risers} of {small(flight.riser)}", counted(made.runs, "run")),
            ("treads", f"{flight.treads} of {small(flight.tread)}", f"slope 1 in {made.one_in:.1f}"),
            ("twice the riser and the tread", small(flight.two_risers_and_tread), ""),
            ("middle landings", str(flight.middle_landings), str(made.middle_landings)),
            ("without end landings", show_length(flight.run, units), show_length(made.between_landings, units)),
            ("with landings", show_length(flight.overall, units), show_length(made.overall, units)),
            ("fits between the places", _fits(climb, flight.run), _fits(climb, made.between_landings)),
            ("handrails", _asked(rails), _asked(made.handrails)),
        ]

    def sections(self, climb: Climb, flight: Steps, made: ramps.Ramp) -> tuple[Scene, Scene]:
        """Return steps and ramp in section, at one scale, over the ground as it lies."""
        ground = None if self.page.lie.rise.bar.value.strip() else self.garden.ground_to_be
        under = [ground_beside(climb, ground, landing=one.landing, overall=one.overall) for one in (flight, made)]
        return climb_sections(flight, made, ground=(under[0], under[1]), units=self.project.units)

    def findings(self) -> tuple[Finding, ...]:
        """Return what the codes say of steps and ramp as chosen."""
        climb, asked = self.page.lie.climb(), self.page.steps
        found = step_findings("steps", asked.flight(climb), code=asked.code.bar.value)
        return (*found, *ramps.ramp_findings("ramp", self.page.ramp.ramp(climb), width=asked.wide.bar.value))


def _asked(needed: bool) -> str:
    return "yes" if needed else "not asked"


def _fits(climb: Climb, needed: float) -> str:
    return "yes" if climb.fits(needed) else "no: turn it, or start further off"
