"""The hardiness zone: read off a map, or worked out from the lowest reading of each year."""

import re
from collections.abc import Mapping

import ipywidgets as w

from gardenkit import weather_units
from gardenkit.findings import Finding, GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.site.hardiness import MAP_PERIODS, YearKind, ZoneReading, zone_of_years
from gardenkit.units import SAID
from gardenkit.weather_units import CELSIUS, FAHRENHEIT, Scale

YEAR_KINDS = (("calendar years", "calendar"), ("winters, by their first year", "winter"))
ENTRIES = (
    Entry(key="zone", words="Hardiness zone", hint="6a"),
    Entry(key="source", words="Read off", hint="which map, of which year"),
)


class ZonePart(Part):
    """Two ways to the zone; ``reading`` is how it was worked out here, until another is set."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.reading: ZoneReading | None = None
        self.form = Form(ENTRIES, name="zone")
        self.minima = forms.lines(
            "or the lowest reading of each year: year, reading", rows=6, name="minima", hint="1991, -3\n1992, 5\n..."
        )
        own = weather_units.temperature(self.project.units)
        scales = [(scale.unit, scale) for scale in (FAHRENHEIT, CELSIUS)]
        self.scale = controls.choice("Readings in", own, scales, lambda _: None)
        periods = [
            ("all that are given", None),
            *((self.garden.say(f"{name}: {first} to {last}"), name) for name, (first, last, _) in MAP_PERIODS.items()),
        ]
        self.period = controls.choice("Years counted", None, periods, lambda _: None)
        self.kind = controls.choice("A year is", "calendar", YEAR_KINDS, lambda _: None)
        take = controls.button("Set the zone", self.take, name="zone", width="96%")
        work = controls.button("Work the zone out", self.work_out, name="minima", width="96%")
        self.widget = w.VBox([self.form, take, self.minima, self.scale, self.period, self.kind, work])

    def refresh(self) -> None:
        """Show the zone on record."""
        climate = self.project.site.climate
        self.form.show({"zone": climate.zone or "", "source": climate.zone_source})

    @handler
    def take(self) -> None:
        """Take in the zone as it was read off a map."""
        texts, self.reading = self.form.texts(), None
        self.edit(
            "the zone", lambda p: edits.change_climate(p, zone=texts["zone"] or None, zone_source=texts["source"])
        )

    @handler
    def work_out(self) -> None:
        """Work the zone out from the lowest reading of each year."""
        minima = read_minima(str(self.minima.bar.value), self.scale.bar.value)
        named = self.period.bar.value
        first, last = MAP_PERIODS[named][:2] if named else (min(minima), max(minima))
        kind: YearKind = self.kind.bar.value
        reading = self.reading = zone_of_years(minima, first=first, last=last, year=kind)
        label = "the zone from yearly minima"
        if self.edit(label, lambda p: edits.change_climate(p, zone=reading.zone, zone_source=reading.source)):
            self.message.say(f"zone {reading.zone}: {self.garden.say(reading.source)}")

    def fill(self, minima: Mapping[int, float]) -> None:
        """Show the lowest readings (degrees C) of years, such as a table of daily weather gave."""
        scale: Scale = self.scale.bar.value
        self.minima.show("\n".join(f"{year}, {scale.figure(lowest)}" for year, lowest in minima.items()))

    def findings(self) -> tuple[Finding, ...]:
        """Return what to know before trusting a zone that was worked out here."""
        if self.reading is None or self.reading.zone != self.project.site.climate.zone:
            return ()
        return self.reading.findings()


def read_minima(text: str, scale: Scale) -> dict[int, float]:
    """Return the lowest temperature (degrees C) of each year from lines of year and reading; raises GardenError naming
    the line.
    """
    found: dict[int, float] = {}
    for number, line in enumerate(text.splitlines(), 1):
        year_typed, *cells = re.split(r"\s*[,;\t ]\s*", line.strip().rstrip(",;"), maxsplit=1)
        if not year_typed or (number == 1 and not re.match("[0-9]", year_typed)):
            continue  # an empty line, or the heading of a table
        where = f'line {number} of the yearly readings ("{line.strip()[:SAID]}")'
        if not cells or not re.fullmatch("[0-9]{4}", year_typed):
            raise GardenError(f"{where} is not a year and a reading; write it like 1991, -12.5")
        year, value = int(year_typed), forms.number(cells[0], where, low=-90, high=100, unit="degrees")
        if year in found:
            raise GardenError(f"{where}: the year {year} is there twice; keep one")
        found[year] = scale.taken(value)
    if not found:
        raise GardenError(
            "no yearly readings are given; write a year and its lowest reading on each line, like 1991, -12.5"
        )
    return found
