"""A table of daily weather, chosen or pasted: frost dates, monthly means, hot days and yearly lows come of it."""

from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.saying import in_system
from gardenkit.site.climate import known_of
from gardenkit.site.frost import FROST_THRESHOLDS
from gardenkit.site.weather import Units, read_weather, yearly_minima

if TYPE_CHECKING:
    from gardenkit.notebook.pages.climate import ClimatePage

COLUMNS: tuple[tuple[str, Units], ...] = (
    ("°C and mm", "metric"),
    ("°F and inches", "us"),
    ("tenths of °C and of mm", "ghcn_tenths"),
)


class DailyPart(Part):
    """Reads the table, and shows its yearly lows where the zone is worked out."""

    page: "ClimatePage"

    def build(self) -> None:
        """Make the widgets, once."""
        units = self.project.units
        self.upload = w.FileUpload(
            accept=".csv,.txt,.tsv", multiple=False, description="Choose a table (CSV)", layout=w.Layout(width="96%")
        )
        self.upload.observe(lambda change: self.take_file(change["new"]), "value")
        words, hint = (
            "or paste it: a heading line, then a day on each line",
            "date,tmin,tmax,rain\n2012-01-01,5.0,12.8,0",
        )
        self.text = forms.lines(words, rows=6, name="daily", hint=hint)
        own = "us" if units == "imperial" else "metric"
        self.columns = controls.choice("Columns that name no unit are in", own, COLUMNS, lambda _: None)
        asked = "Which place, if the table holds several"
        self.place = controls.field(asked, "", lambda _: None, name="weather-place")
        thresholds = [(in_system(words, units), float(value)) for words, value in FROST_THRESHOLDS.items()]
        self.threshold = controls.choice("A frost is", 0.0, thresholds, lambda _: None)
        read = controls.button("Read the weather", self.read, name="daily", width="96%")
        self.widget = w.VBox([self.upload, self.text, self.columns, self.place, self.threshold, read])

    def refresh(self) -> None:
        """Leave what is typed: the table itself is not kept."""

    def take_file(self, files: Any) -> None:
        """Read an uploaded table of daily weather."""
        for file in files:
            self.attempt(self._take_file, bytes(file["content"]), file["name"])
        self.upload.unobserve_all("value")
        self.upload.value = ()
        self.upload.observe(lambda change: self.take_file(change["new"]), "value")

    @handler
    def read(self) -> None:
        """Read the pasted table of daily weather."""
        self._read(str(self.text.bar.value))

    def _take_file(self, content: bytes, name: str) -> None:
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise GardenError(f'the weather file "{name}" is not UTF-8 text; save it as CSV (UTF-8)') from error
        self._read(text if "\n" in text else text + "\n")

    def _read(self, text: str) -> None:
        if "\n" not in text.strip():
            raise GardenError("there is no daily weather to read; choose a table, or paste one with a heading line")
        weather = read_weather(text, units=self.columns.bar.value, place=str(self.place.bar.value).strip())
        southern = self.project.site.place.latitude < 0
        known = known_of(weather, threshold=float(self.threshold.bar.value), southern=southern)
        if self.edit("daily weather", lambda p: edits.change_climate(p, **known)):
            self.page.zone.fill(yearly_minima(weather))
            self.message.say(
                f"read {len(weather):,} days of {known['weather_source']}; the lowest readings of its years stand "
                "under the hardiness zone"
            )
