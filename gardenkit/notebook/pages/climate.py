"""The climate: hardiness zone, frost dates, heat, the year's weather, and the water each bed will ask for."""

import datetime as dt

import ipywidgets as w

from gardenkit import weather_units
from gardenkit.drawing.scene import Scene
from gardenkit.findings import Finding
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.climate_daily import DailyPart
from gardenkit.notebook.pages.climate_frost import FrostPart, StationPart
from gardenkit.notebook.pages.climate_months import MonthsPart
from gardenkit.notebook.pages.climate_storm import StormPart
from gardenkit.notebook.pages.climate_water import NeedPart
from gardenkit.notebook.pages.climate_zone import ZonePart
from gardenkit.saying import in_system
from gardenkit.site.frost import growing_season_days
from gardenkit.site.hardiness import hardiness_zone, heat_zone, zone_limits_c

TOPICS = ("hardiness", "frost", "water")


class ClimatePage(Page):
    """Short forms left; what is known, rain and evapotranspiration right; months and water by bed below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.zone, self.frost, self.daily = ZonePart(self), FrostPart(self), DailyPart(self)
        self.station, self.months, self.need = StationPart(self), MonthsPart(self), NeedPart(self)
        self.storm = StormPart(self)
        self.advice = AdviceList(self, topics=TOPICS, more=self._told)
        self.facts = w.HTML()
        steps = forms.sections(
            [
                ("Hardiness zone", [self.zone.widget]),
                ("Frost and heat", [self.frost.widget]),
                ("Daily weather", [self.daily.widget]),
                ("From a station with known dates", [self.station.widget]),
                ("Month by month", [self.months.widget]),
                ("Heaviest rain", [self.storm.widget]),
                ("Water for the beds", [self.need.widget]),
            ]
        )
        right = w.VBox([self.months.chart, self.facts])
        below = [self.months.table, self.need.table, self.advice.widget]
        self.widget = controls.page(self.message, [steps, self.undo_row()], right, below)

    def refresh(self) -> None:
        """Show the climate as it is on record."""
        for part in (self.zone, self.frost, self.months, self.storm, self.need):
            part.refresh()
        self.facts.value = controls.table_html(("the climate", ""), self.facts_rows())
        self.advice.show()

    def facts_rows(self) -> list[tuple[str, str]]:
        """Return what is known of the climate."""
        climate, units = self.project.site.climate, self.project.units
        rows = [("hardiness zone", "not known")]
        if climate.zone is not None:
            span = weather_units.temperature(units).span(*zone_limits_c(hardiness_zone(climate.zone)))
            rows = [("hardiness zone", f"{climate.zone}: mean lowest of the year {span}")]
            rows.append(("read off", climate.zone_source or "not said"))
        rows.append(("last frost of spring", _date_words(climate.last_frost)))
        rows.append(("first frost of autumn", _date_words(climate.first_frost)))
        if climate.last_frost and climate.first_frost:
            rows.append(("between them", f"{growing_season_days(climate.last_frost, climate.first_frost)} days"))
            rows.append(("frost dates from", climate.frost_source or "not said"))
        if climate.heat_days is not None:
            told = f"{climate.heat_days:.0f} a year, heat zone {heat_zone(climate.heat_days)}"
            rows.append(("days above 30 °C", told))
        if climate.storm is not None:
            rows.append(("an hour's rain, once in ten years", weather_units.rain(units).say(climate.storm)))
        rows.append(("weather", climate.weather_source or "none yet"))
        found = self.garden.reference_water
        if found is not None:
            rows.append(("evapotranspiration", f"{found.method} ({found.why})"))
        return [(in_system(name, units), in_system(value, units)) for name, value in rows]

    def _told(self) -> tuple[Finding, ...]:
        """Return what the register does not know of: how the zone was worked out here, and how sure the water is."""
        reference = self.garden.reference_water
        unplanted = reference.findings if reference is not None and not self.garden.kinds else ()
        return (*self.zone.findings(), *unplanted)

    def scene(self) -> Scene:
        """Return the chart of rain and reference evapotranspiration."""
        return self.months.scene()

    def summary(self) -> str:
        """Return the climate in words."""
        return "\n".join(f"{name}: {value}" for name, value in self.facts_rows())


def _date_words(date: str | None) -> str:
    return "not known" if date is None else f"{dt.date.fromisoformat(f'2001-{date}'):%d %B}".lstrip("0")
