"""The shadows that the sun of a day and hour throws on a plan: a switch, and when. Nothing is saved."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing.plan_shadows import plan_shadows
from gardenkit.drawing.scene import Mark
from gardenkit.drawing.view_sun import DAY, USUAL_HOUR
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.part import Part

if TYPE_CHECKING:
    from gardenkit.notebook.pages.layering import LayeringPage


class PlanHour(Part):
    """The switch, with the day of the page's month and the hour below it while it is on."""

    page: "LayeringPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.shaded = controls.tick("Show the shadows of an hour", False, self.again)
        self.shaded.bar.add_class("gk-tick-shadows")
        self.day = controls.day_slider(DAY, self.again, name="shadow-day")
        self.hour = controls.hour_slider("Hour, by the clock", int(USUAL_HOUR), self.again, name="shadow-hour")
        self.when = w.VBox([self.day, self.hour], layout=w.Layout(display="none"))
        self.widget = w.VBox([self.shaded, self.when])

    @handler
    def again(self, _: object) -> None:
        """Draw the shadows of another moment on the plan, or take them off."""
        self.when.layout.display = "" if self.shaded.bar.value else "none"
        self.page.redraw()

    def marks(self) -> tuple[Mark, ...]:
        """Return the shadows asked for; none while they are off, or with the sun down."""
        if not self.shaded.bar.value:
            return ()
        return plan_shadows(
            self.project,
            self.garden.catalogue,
            year=self.page.year,
            month=self.page.month,
            day=int(self.day.bar.value),
            hour=float(self.hour.bar.value),
        )
