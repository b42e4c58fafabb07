"""The year month by month: the weather typed in, rain beside what the air draws, and the table of both."""

from typing import NamedTuple

import ipywidgets as w

from gardenkit import reading, weather_units
from gardenkit.drawing import style
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.site_charts import rain_and_air
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.part import Part
from gardenkit.project import Project
from gardenkit.project.edits import site as edits
from gardenkit.site.climate import Climate, Months
from gardenkit.site.country import country_of
from gardenkit.weather_units import PLAIN, Scale

PICTURE_PX = 640
TYPED = "monthly means typed in by the designer"


class Row(NamedTuple):
    """One figure of the weather: its words in the form and in the table, and the scale it is said on."""

    asked: str
    told: str
    scale: Scale


def month_rows(project: Project) -> dict[str, Row]:
    """Return the figures of a year by the field of the climate that holds them, in the garden's units."""
    warm, wet = weather_units.temperature(project.units), weather_units.rain(project.units)
    windy = weather_units.wind(project.units, country_of(project.site.place.timezone))
    return {
        "tmin": Row(f"Mean lowest of the day, {warm.unit}", f"lowest of the day, {warm.unit}", warm),
        "tmax": Row(f"Mean highest of the day, {warm.unit}", f"highest of the day, {warm.unit}", warm),
        "rain": Row(f"Rain a month, {wet.spelled}", "", wet),
        "humidity": Row("Humidity, percent", "humidity, %", PLAIN),
        "sunshine": Row("Hours of sunshine a day", "sunshine, hours a day", PLAIN),
        "wind": Row(f"Wind about head height, {windy.unit}", f"wind, {windy.unit}", windy),
    }


class MonthsPart(Part):
    """The form left; ``chart`` and ``table`` show the year."""

    def build(self) -> None:
        """Make the widgets, once."""
        hint = "12 numbers, January first"
        rows = month_rows(self.project)
        self.form = Form([Entry(key=k, words=r.asked, hint=hint, rows=2) for k, r in rows.items()], name="months")
        self.chart, self.table = w.HTML(), w.HTML()
        take = controls.button("Set the months", self.take, name="months", width="96%")
        self.widget = w.VBox([self.form, take])

    def refresh(self) -> None:
        """Show the year on record."""
        self.form.show(self._texts(self.project.site.climate))
        self.chart.value = forms.picture(svg(self.scene()), width_px=PICTURE_PX)
        rows = self._table_rows()
        self.table.value = controls.table_html(("month by month", *style.MONTHS), rows) if rows else ""

    @handler
    def take(self) -> None:
        """Take in the monthly weather as it was typed; a field that was not touched stays exactly."""
        texts, old = self.form.texts(), self.project.site.climate
        shown = self._texts(old)
        new: dict[str, Months | None] = {}
        for key, row in month_rows(self.project).items():
            kept = texts[key] == shown[key]
            new[key] = getattr(old, key) if kept else read_months(texts[key], row.asked.split(",")[0], row.scale)
        source = old.weather_source or TYPED
        self.edit("monthly weather", lambda p: edits.change_climate(p, **new, weather_source=source))

    def scene(self) -> Scene:
        """Return the chart of rain and reference evapotranspiration."""
        found = self.garden.reference_water
        scale = weather_units.rain(self.project.units)
        return rain_and_air(self.project.site.climate.rain, found.mm_a_month if found else None, scale=scale)

    def _texts(self, climate: Climate) -> dict[str, str]:
        held = ((key, row, getattr(climate, key)) for key, row in month_rows(self.project).items())
        return {key: ", ".join(row.scale.figure(v) for v in values or ()) for key, row, values in held}

    def _table_rows(self) -> list[tuple[str | float, ...]]:
        climate, found = self.project.site.climate, self.garden.reference_water
        rows: list[tuple[str | float, ...]] = []
        for key, row in month_rows(self.project).items():
            values = getattr(climate, key)
            if row.told and values is not None:
                rows.append((row.told, *map(row.scale.rounded, values)))
        if found is not None:
            scale = weather_units.drawn(self.project.units)
            words = f"reference evapotranspiration, {scale.spelled} a day"
            rows.append((words, *map(scale.rounded, found.mm_a_day)))
        return rows


def read_months(text: str, words: str, scale: Scale) -> Months | None:
    """Return twelve figures in SI from numbers on a scale, None for an empty field; raises GardenError."""
    cells = reading.several(text)
    if not cells:
        return None
    if len(cells) != 12:
        raise GardenError(
            f"{words.lower()}: {len(cells)} numbers are given; give twelve, January to December, with spaces between"
        )
    named = zip(cells, style.MONTHS, strict=True)
    return tuple(scale.taken(forms.number(c, f"{words.lower()} in {month}", low=-90, high=2000)) for c, month in named)
