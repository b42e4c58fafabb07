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
from gardenkit.planting.sun_need import HOURS_A_MOL, MOST_HOURS
from gardenkit.project.advice import growing_sun
from gardenkit.site.daily_light import FULL_SUN
from gardenkit.site.sky import sun_table
from gardenkit.site.sun_classes import sun_class

if TYPE_CHECKING:
    from gardenkit.notebook.pages.sun import SunPage


class SpotPart(Part):
    """The chart and the words of the spot."""

    page: "SunPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.chart, self.words = w.HTML(), w.HTML()

    def refresh(self) -> None:
        """Show the spot's year."""
        if not self.page.knows(self.page.plan.year, light=self.page.plan.shows_light):
            self.chart.value = self.words.value = ""
            return
        plan = self.page.plan
        light = plan.shows_light
        drawn = charts.bar_chart(
            [float(v) for v in (self.light() if light else self.hours())],
            title="Daily light at the spot" if light else "Direct sun at the spot",
            unit="mol a day" if light else "hours a day",
            highlight=plan.month - 1,
        )
        self.chart.value = forms.picture(svg(drawn), width_px=forms.CHART_PX)
        setting = plan.setting.bar.value
        heads = ("the spot", "by growers' rule" if light else f"classes after {setting}")
        self.words.value = controls.table_html(heads, self.light_rows() if light else self.rows())

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

    def light(self) -> FloatArray:
        """Return the twelve monthly figures of daily light at the spot, mol/m2."""
        return self.page.plan.light().at(self.page.plan.spot)

    def light_rows(self) -> list[tuple[str, str]]:
        """Return what daily light the spot gets, in words, with the hours of sun beside it."""
        plan, light, hours = self.page.plan, self.light(), self.hours()
        mean, month = growing_sun(light, self.project.site), plan.month - 1
        known, sun = plan.light().known, growing_sun(hours, self.project.site)
        open_ground = known.light[month]
        return [
            ("where", forms.show_point(plan.spot, self.project.units)),
            ("growing season", f"{mean:.1f} mol a day: {_by_growers(mean)}"),
            ("its hours of sun alone", f"{sun:.1f} a day: {sun_class(sun).name}"),
            (MONTHS[month], f"{light[month]:.1f} mol a day: {_by_growers(float(light[month]))}"),
            (
                "of open ground's",
                f"{light[month] / open_ground:.0%} of {open_ground:.1f} mol" if open_ground else "none",
            ),
            ("known", known.why),
            ("counted", f"sun and sky with the usual cloud; nothing thrown back by walls. {FULL_SUN.source}"),
        ]

    def sentence(self) -> str:
        """Return the spot's year in a sentence."""
        said = ", ".join(f"{month} {value:.1f}" for month, value in zip(style.MONTHS, self.hours(), strict=True))
        where = forms.show_point(self.page.plan.spot, self.project.units)
        return f"Direct sun at {where}, hours a day: {said}"


def _by_growers(light: float) -> str:
    return sun_class(min(MOST_HOURS, light * HOURS_A_MOL)).name
