"""Frost dates and hot days: as they were given, or moved here from a station by the rule of thumb."""

import ipywidgets as w

from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.pages.place import degrees
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.saying import in_system
from gardenkit.site.climate import Climate
from gardenkit.site.phenology import MovedDates, moved_dates
from gardenkit.site.place import Place
from gardenkit.units import System, length

DATE_HINT = "04-15"
RULE = "A rule of thumb for North America: 4 days later for each degree north, 5 degrees east, {high} up."


class FrostPart(Part):
    """The mean last and first frost and the hot days of a year, as they were given."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.form = Form(_entries(self.project.units), name="frost")
        take = controls.button("Set these", self.take, name="frost", width="96%")
        self.widget = w.VBox([self.form, take])

    def refresh(self) -> None:
        """Show what is on record."""
        climate = self.project.site.climate
        heat = "" if climate.heat_days is None else f"{climate.heat_days:g}"
        dates = {"last_frost": climate.last_frost or "", "first_frost": climate.first_frost or ""}
        self.form.show({**dates, "frost_source": climate.frost_source, "heat_days": heat})

    @handler
    def take(self) -> None:
        """Take in frost dates and heat days as they were given."""
        texts = self.form.texts()
        heat = forms.number_or_none(texts["heat_days"], "heat days a year", low=0, high=366)
        dates = {key: texts[key] or None for key in ("last_frost", "first_frost")}
        given = {**dates, "frost_source": texts["frost_source"], "heat_days": heat}
        self.edit("frost dates", lambda p: edits.change_climate(p, **given))


class StationPart(Part):
    """A station whose dates are known, and how they come out here."""

    def build(self) -> None:
        """Make the widgets, once."""
        imperial = self.project.units == "imperial"
        self.form = Form(_station_entries(self.project.units), name="station")
        rule = controls.label(RULE.format(high="400 ft" if imperial else "120 m"))
        move = controls.button("Move its dates to this place", self.move, name="shift", width="96%")
        self.widget = w.VBox([rule, self.form, move])

    def refresh(self) -> None:
        """Leave what is typed: nothing of a station is on record."""

    @handler
    def move(self) -> None:
        """Move the station's frost dates to this place by the rule of thumb."""
        moved = self._moved()
        dates = {"last_frost": moved.last_frost, "first_frost": moved.first_frost, "frost_source": moved.source}
        if self.edit("frost dates by rule of thumb", lambda p: edits.change_climate(p, **dates)):
            later = "later" if moved.spring >= 0 else "earlier"
            self.message.say(f"spring comes {abs(moved.spring):.0f} days {later} here than at the station")

    def _moved(self) -> MovedDates:
        texts, place = self.form.texts(), self.project.site.place
        if place == Place():
            raise GardenError(
                "the garden's own place is not known; give latitude and longitude in the step The ground as found"
            )
        bare, where = forms.bare_unit(self.project.units), "the station's height"
        station = (
            degrees(texts["latitude"], "latitude", 90),
            degrees(texts["longitude"], "longitude", 180),
            length(texts["elevation"] or "0", bare=bare, where=where, signed=True),
        )
        here = (place.latitude, place.longitude, place.elevation)
        dates = Climate(last_frost=texts["last_frost"], first_frost=texts["first_frost"])
        if dates.last_frost is None or dates.first_frost is None:
            raise GardenError("give both of the station's frost dates, as month and day like 04-15")
        return moved_dates(station, here, last_frost=dates.last_frost, first_frost=dates.first_frost)


def _entries(units: System) -> tuple[Entry, ...]:
    return (
        Entry(key="last_frost", words="Mean last frost of spring, month-day", hint=DATE_HINT),
        Entry(key="first_frost", words="Mean first frost of autumn", hint="10-20"),
        Entry(key="frost_source", words="Where from", hint="which weather station"),
        Entry(key="heat_days", words=in_system("Days a year above 30 °C", units), hint="12"),
    )


def _station_entries(units: System) -> tuple[Entry, ...]:
    return (
        Entry(key="latitude", words="Station: latitude", hint="42.1"),
        Entry(key="longitude", words="longitude", hint="-72.5"),
        Entry(key="elevation", words="height above the sea", hint="50 ft" if units == "imperial" else "15 m"),
        Entry(key="last_frost", words="its mean last frost, month-day", hint=DATE_HINT),
        Entry(key="first_frost", words="its mean first frost", hint="10-20"),
    )
