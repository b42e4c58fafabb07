"""What the spot on the plan gets: its year of sun as a chart, and what its hours are called."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing import charts, style
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.svg import svg
from gardenkit.geometry.plane import FloatArray
from gardenkit.notebook import controls
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.project.advice import growing_sun
from gardenkit.site.sky import sun_table
from gardenkit.site.sun_classes import sun_class

if TYPE_CHECKING:
    from gardenkit.notebook.pages.sun import SunPage

CHART_PX = 640


class SpotPart(Part):
    """The chart and the words of the spot."""

    page: "SunPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.chart, self.words = w.HTML(), w.HTML()

    def refresh(self) -> None:
        """Show the spot's year."""
        if not self.page.knows(self.page.plan.year):
            self.chart.value = self.words.value = ""
            return
        plan = self.page.plan
        drawn = charts.bar_chart(
            [float(v) for v in self.hours()],
            title="Direct sun at the spot",
            unit="hours a day",
            highlight=plan.month - 1,
        )
        self.chart.value = forms.picture(svg(drawn), width_px=CHART_PX)
        setting = plan.setting.bar.value
        self.words.value = controls.table_html(("the spot", f"classes after {setting}"), self.rows())

    def hours(self) -> FloatArray:
        """Return the twelve monthly hours of direct sun a day at the spot."""
        return self.page.plan.map().at(self.page.plan.spot)

    def rows(self) -> list[tuple[str, str]]:
        """Return what the spot gets, in words."""
        plan, hours = self.page.plan, self.hours()
        month, setting = plan.month - 1, plan.setting.bar.value
        mean, now = growing_sun(hours, self.project.site), float(hours[month])
        morning = float(plan.map().mornings_at(plan.spot)[month])
        day = sun_table(self.project.site.place).day_length
        return [
            ("where", forms.show_point(plan.spot, self.project.units)),
            ("growing season", f"{mean:.1f} hours a day: {sun_class(mean, setting=setting).name}"),
            (MONTHS[month], f"{now:.1f} hours: {sun_class(now, setting=setting).name}"),
            ("morning, afternoon", f"{morning:.1f} and {now - morning:.1f} hours"),
            ("open ground would have", f"{day[month]:.1f} hours"),
            ("counted", "a clear sky, sunrise to sunset; cloud is not"),
        ]

    def sentence(self) -> str:
        """Return the spot's year in a sentence."""
        said = ", ".join(f"{month} {value:.1f}" for month, value in zip(style.MONTHS, self.hours(), strict=True))
        where = forms.show_point(self.page.plan.spot, self.project.units)
        return f"Direct sun at {where}, hours a day: {said}"
