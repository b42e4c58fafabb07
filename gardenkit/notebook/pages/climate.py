"""The climate: hardiness zone, frost dates, heat, the year's weather, and the water each bed will ask for."""

import datetime as dt
import re
from typing import Any

import ipywidgets as w

from gardenkit.drawing import style
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.site_charts import rain_and_air
from gardenkit.drawing.svg import svg
from gardenkit.findings import Finding, GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import Page, escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.pages.place import degrees
from gardenkit.project.edits import site as edits
from gardenkit.project.layout import layout
from gardenkit.site.climate import Climate, Months, climate_findings, climate_of
from gardenkit.site.frost import FROST_THRESHOLDS, growing_season_days
from gardenkit.site.hardiness import (
    MAP_PERIODS,
    YearKind,
    ZoneReading,
    hardiness_zone,
    heat_zone,
    zone_limits_c,
    zone_of_years,
)
from gardenkit.site.phenology import HOPKINS, hopkins_between
from gardenkit.site.place import Place
from gardenkit.site.water import (
    FACTORS,
    RAIN_METHODS,
    ReferenceWater,
    gallons,
    plant_factor,
    reference_water,
    water_need,
)
from gardenkit.site.weather import DailyWeather, Units, read_weather, yearly_minima
from gardenkit.units import INCH, length, show_area

PICTURE_PX = 640
INCH_MM = INCH * 1000
DATE_HINT = "04-15"
WEATHER_UNITS: tuple[tuple[str, Units], ...] = (
    ("°C and mm", "metric"),
    ("°F and inches", "us"),
    ("tenths of °C and of mm", "ghcn_tenths"),
)
YEAR_KINDS = (("calendar years", "calendar"), ("winters, by their first year", "winter"))
ZONE_ENTRIES = (
    Entry(key="zone", words="USDA hardiness zone", hint="6a"),
    Entry(key="source", words="Read off", hint="USDA Plant Hardiness Zone Map, 2023"),
)
FROST_ENTRIES = (
    Entry(key="last_frost", words="Mean last frost of spring, month-day", hint=DATE_HINT),
    Entry(key="first_frost", words="Mean first frost of autumn", hint="10-20"),
    Entry(key="frost_source", words="Where from", hint="extension office"),
    Entry(key="heat_days", words="Days a year above 86 °F (30 °C)", hint="12"),
)
STATION_ENTRIES = (
    Entry(key="latitude", words="Station: latitude", hint="42.1"),
    Entry(key="longitude", words="longitude", hint="-72.5"),
    Entry(key="elevation", words="height above the sea", hint="50 ft"),
    Entry(key="last_frost", words="its mean last frost, month-day", hint=DATE_HINT),
    Entry(key="first_frost", words="its mean first frost", hint="10-20"),
)
MONTH_WORDS = {
    "tmin": "Mean lowest of the day",
    "tmax": "Mean highest of the day",
    "rain": "Rain a month",
    "humidity": "Humidity, percent",
    "sunshine": "Hours of sunshine a day",
    "wind": "Wind, m/s at 2 m",
}


class ClimatePage(Page):
    """Short forms left; what is known, rain and evapotranspiration right; months and water by bed below."""

    def build(self) -> None:
        """Make the widgets, once."""
        imperial = self.project.units == "imperial"
        self.zone = Form(ZONE_ENTRIES, name="zone")
        self.minima = forms.lines(
            "or the lowest reading of each year: year, reading", rows=6, name="minima", hint="1991, -3\n1992, 5\n..."
        )
        self.scale = controls.choice(
            "Readings in", "F" if imperial else "C", [("°F", "F"), ("°C", "C")], lambda _: None
        )
        self.period = controls.choice(
            "Years counted", None, [("all that are given", None), *((k, k) for k in MAP_PERIODS)], lambda _: None
        )
        self.kind = controls.choice("A year is", "calendar", YEAR_KINDS, lambda _: None)
        self.frost = Form(FROST_ENTRIES, name="frost")
        self.upload = w.FileUpload(
            accept=".csv,.txt,.tsv", multiple=False, description="Choose a table (CSV)", layout=w.Layout(width="96%")
        )
        self.upload.observe(lambda change: self.take_file(change["new"]), "value")
        self.daily = forms.lines(
            "or paste it: a heading line, then a day on each line",
            rows=6,
            name="daily",
            hint="date,tmin,tmax,rain\n2012-01-01,5.0,12.8,0.0",
        )
        self.daily_units = controls.choice(
            "Columns that name no unit are in", "us" if imperial else "metric", WEATHER_UNITS, lambda _: None
        )
        self.daily_place = controls.field(
            "Which place, if the table holds several", "", lambda _: None, name="weather-place"
        )
        self.threshold = controls.choice(
            "A frost is", 0.0, [(k, float(v)) for k, v in FROST_THRESHOLDS.items()], lambda _: None
        )
        self.station = Form(STATION_ENTRIES, name="station")
        temperature, rain = ("°F", "inches") if imperial else ("°C", "mm")
        units = {"tmin": f", {temperature}", "tmax": f", {temperature}", "rain": f", {rain}"}
        self.months = Form(
            [
                Entry(key=k, words=v + units.get(k, ""), hint="12 numbers, January first", rows=2)
                for k, v in MONTH_WORDS.items()
            ],
            name="months",
        )
        family = next(iter(FACTORS))
        self.family = controls.choice("Plant factors after", family, list(FACTORS), self.choose_family, name="family")
        self.planting = controls.choice("Planting", "moderate", list(FACTORS[family]), self._again, name="planting")
        self.rain_method = controls.choice(
            "Rain counted by", "half", list(RAIN_METHODS), self._again, name="rain-method"
        )
        self.facts, self.chart, self.table, self.need, self.findings = (w.HTML() for _ in range(5))
        self.reading: ZoneReading | None = None
        parts = forms.sections(self._sections())
        right = w.VBox([self.chart, self.facts])
        self.widget = controls.page(
            self.message, [parts, self.undo_row()], right, [self.table, self.need, self.findings]
        )

    def refresh(self) -> None:
        """Show the climate as it is on record."""
        climate = self.project.site.climate
        self.zone.show({"zone": climate.zone or "", "source": climate.zone_source})
        heat = "" if climate.heat_days is None else f"{climate.heat_days:g}"
        self.frost.show(
            {
                "last_frost": climate.last_frost or "",
                "first_frost": climate.first_frost or "",
                "frost_source": climate.frost_source,
                "heat_days": heat,
            }
        )
        self.months.show(self._month_texts(climate))
        self.facts.value = controls.table_html(("the climate", ""), self.facts_rows())
        self._show_year()
        self._show_need()
        self.findings.value = controls.findings_html(self.advice(), units=self.project.units)

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def set_zone(self) -> None:
        """Take in the zone as it was read off a map."""
        texts = self.zone.texts()
        self.reading = None
        self._set_climate("the zone", zone=texts["zone"] or None, zone_source=texts["source"])

    @handler
    def zone_from_minima(self) -> None:
        """Work the zone out from the lowest reading of each year."""
        minima = read_minima(str(self.minima.bar.value), fahrenheit=self.scale.bar.value == "F")
        named = self.period.bar.value
        first, last = MAP_PERIODS[named][:2] if named else (min(minima), max(minima))
        kind: YearKind = self.kind.bar.value
        reading = zone_of_years(minima, first=first, last=last, year=kind)
        self.reading = reading
        if self._set_climate("the zone from yearly minima", zone=reading.zone, zone_source=reading.source):
            self.message.say(f"zone {reading.zone}: {reading.source}")

    @handler
    def set_frost(self) -> None:
        """Take in frost dates and heat days as they were given."""
        texts = self.frost.texts()
        heat = forms.number_or_none(texts["heat_days"], "heat days a year", low=0, high=366)
        self._set_climate(
            "frost dates",
            last_frost=texts["last_frost"] or None,
            first_frost=texts["first_frost"] or None,
            frost_source=texts["frost_source"],
            heat_days=heat,
        )

    def take_file(self, files: Any) -> None:
        """Read an uploaded table of daily weather."""
        for file in files:
            self.attempt(self._take_text, bytes(file["content"]), file["name"])
        self.upload.unobserve_all("value")
        self.upload.value = ()
        self.upload.observe(lambda change: self.take_file(change["new"]), "value")

    @handler
    def read_daily(self) -> None:
        """Read the pasted table of daily weather: frost dates, monthly means, heat days, yearly minima."""
        self._read_daily(str(self.daily.bar.value))

    @handler
    def shift(self) -> None:
        """Move a known station's frost dates to this place by the rule of thumb."""
        texts, place = self.station.texts(), self._place()
        station = (
            degrees(texts["latitude"], "latitude", 90),
            degrees(texts["longitude"], "longitude", 180),
            length(
                texts["elevation"] or "0",
                bare=forms.bare_unit(self.project.units),
                where="the station's height",
                signed=True,
            ),
        )
        here = (place.latitude, place.longitude, place.elevation)
        dates = Climate(last_frost=texts["last_frost"], first_frost=texts["first_frost"])
        if dates.last_frost is None or dates.first_frost is None:
            raise GardenError("give both of the station's frost dates, as month and day like 04-15")
        spring = hopkins_between(station, here, season="spring")
        autumn = hopkins_between(station, here, season="autumn")
        source = (
            f"{HOPKINS}: station's dates moved by {spring:+.0f} days in spring, {autumn:+.0f} "
            "in autumn; a rule of thumb"
        )
        if self._set_climate(
            "frost dates by rule of thumb",
            last_frost=moved(dates.last_frost, spring),
            first_frost=moved(dates.first_frost, autumn),
            frost_source=source,
        ):
            self.message.say(
                f"spring comes {abs(spring):.0f} days {'later' if spring >= 0 else 'earlier'} here than at the station"
            )

    @handler
    def set_months(self) -> None:
        """Take in the monthly weather as it was typed."""
        texts, old = self.months.texts(), self.project.site.climate
        shown = self._month_texts(old)
        new: dict[str, Months | None] = {}
        for key, words in MONTH_WORDS.items():
            new[key] = (
                getattr(old, key) if texts[key] == shown[key] else self._to_metric(key, read_months(texts[key], words))
            )
        low, high = new["tmin"], new["tmax"]
        if low and high:
            crossed = [style.MONTHS[m] for m in range(12) if low[m] > high[m]]
            if crossed:
                raise GardenError(f"in {crossed[0]} the lowest of the day is above the highest; check the two rows")
        source = old.weather_source or "monthly means typed in by the designer"
        self._set_climate("monthly weather", **new, weather_source=source)

    def choose_family(self, family: str) -> None:
        """Use another publisher's plant factors; families are never mixed."""
        words = list(FACTORS[family])
        forms.relist(self.planting, [(word, word) for word in words], words[len(words) // 2])
        self._again(family)

    def _take_text(self, content: bytes, name: str) -> None:
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise GardenError(f'the weather file "{name}" is not UTF-8 text; save it as CSV (UTF-8)') from error
        self._read_daily(text if "\n" in text else text + "\n")

    def _read_daily(self, text: str) -> None:
        if "\n" not in text.strip():
            raise GardenError("there is no daily weather to read; choose a table, or paste one with a heading line")
        weather = read_weather(text, units=self.daily_units.bar.value, place=str(self.daily_place.bar.value).strip())
        southern = self.project.site.place.latitude < 0
        found = climate_of(weather, threshold=float(self.threshold.bar.value), southern=southern)
        new = {
            k: v
            for k in ("tmin", "tmax", "rain", "heat_days", "weather_source")
            if (v := getattr(found, k)) is not None
        }
        if found.last_frost or found.first_frost:
            new |= {
                "last_frost": found.last_frost,
                "first_frost": found.first_frost,
                "frost_source": found.frost_source,
            }
        if self._set_climate("daily weather", **new):
            self._fill_minima(weather)
            self.message.say(
                f"read {len(weather):,} days of {found.weather_source}; the lowest readings of its "
                "years stand under the hardiness zone"
            )

    # --- what follows -------------------------------------------------------------------------------------------

    def reference(self) -> ReferenceWater | None:
        """Return reference evapotranspiration by the best method the data allow, None without temperatures."""
        climate, place = self.project.site.climate, self.project.site.place
        if climate.tmin is None or climate.tmax is None or place == Place():
            return None
        return reference_water(climate, latitude=place.latitude, elevation=place.elevation)

    def need_rows(self) -> list[tuple[str, str, Months]]:
        """Return every bed's area and the litres it asks for in each month, and all beds together."""
        found = self.reference()
        if found is None:
            return []
        factor = plant_factor(self.planting.bar.value, family=self.family.bar.value)
        beds = [(b.name, b.area) for b in layout(self.project).beds]
        if len(beds) > 1:
            beds.append(("all beds", sum(area for _, area in beds)))
        rain = self.project.site.climate.rain
        units = self.project.units
        return [
            (
                name,
                show_area(area, units),
                water_need(
                    found.mm_a_day,
                    area=area,
                    factor=float(factor),
                    rain_mm=rain,
                    rain_method=self.rain_method.bar.value,
                ),
            )
            for name, area in beds
        ]

    def facts_rows(self) -> list[tuple[str, str]]:
        """Return what is known of the climate."""
        climate, units = self.project.site.climate, self.project.units
        rows: list[tuple[str, str]] = []
        if climate.zone is None:
            rows.append(("hardiness zone", "not known"))
        else:
            low, high = zone_limits_c(hardiness_zone(climate.zone))
            span = (
                f"{low * 1.8 + 32:.0f} to {high * 1.8 + 32:.0f} °F"
                if units == "imperial"
                else f"{low:.1f} to {high:.1f} °C"
            )
            rows.append(("hardiness zone", f"{climate.zone}: mean lowest of the year {span}"))
            rows.append(("read off", climate.zone_source or "not said"))
        rows += [
            ("last frost of spring", _date_words(climate.last_frost)),
            ("first frost of autumn", _date_words(climate.first_frost)),
        ]
        if climate.last_frost and climate.first_frost:
            rows.append(("between them", f"{growing_season_days(climate.last_frost, climate.first_frost)} days"))
            rows.append(("frost dates from", climate.frost_source or "not said"))
        if climate.heat_days is not None:
            rows.append(
                (
                    "days above 86 °F (30 °C)",
                    f"{climate.heat_days:.0f} a year, heat zone {heat_zone(climate.heat_days)}",
                )
            )
        rows.append(("weather", climate.weather_source or "none yet"))
        found = self.reference()
        if found is not None:
            rows.append(("evapotranspiration", f"{found.method} ({found.why})"))
        return rows

    def advice(self) -> tuple[Finding, ...]:
        """Return what is still to find out, and what the figures cannot say."""
        found = [*climate_findings(self.project.site.climate)]
        if self.reading is not None and self.reading.zone == self.project.site.climate.zone:
            found += self.reading.findings()
        reference = self.reference()
        return (*found, *(reference.findings if reference else ()))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _sections(self) -> list[tuple[str, list[w.Widget]]]:
        def wide(text: str, pressed: Any, name: str) -> w.Button:
            return controls.button(text, pressed, name=name, width="96%")

        return [
            (
                "Hardiness zone",
                [
                    self.zone,
                    wide("Set the zone", self.set_zone, "zone"),
                    self.minima,
                    self.scale,
                    self.period,
                    self.kind,
                    wide("Work the zone out", self.zone_from_minima, "minima"),
                ],
            ),
            ("Frost and heat", [self.frost, wide("Set these", self.set_frost, "frost")]),
            (
                "Daily weather",
                [
                    self.upload,
                    self.daily,
                    self.daily_units,
                    self.daily_place,
                    self.threshold,
                    wide("Read the weather", self.read_daily, "daily"),
                ],
            ),
            (
                "From a station with known dates",
                [
                    controls.label(
                        "A rule of thumb for North America: 4 days later for each degree north, 5 "
                        "degrees east, 400 ft up."
                    ),
                    self.station,
                    wide("Move its dates to this place", self.shift, "shift"),
                ],
            ),
            ("Month by month", [self.months, wide("Set the months", self.set_months, "months")]),
            ("Water for the beds", [self.family, self.planting, self.rain_method]),
        ]

    @handler
    def _again(self, _: Any) -> None:
        self._show_need()

    def _set_climate(self, label: str, **changes: Any) -> bool:
        return self.edit(label, lambda p: edits.change_climate(p, **changes))

    def _place(self) -> Place:
        place = self.project.site.place
        if place == Place():
            raise GardenError(
                "the garden's own place is not known; give latitude and longitude on the page of the ground"
            )
        return place

    def _fill_minima(self, weather: DailyWeather) -> None:
        found = yearly_minima(weather)
        fahrenheit = self.scale.bar.value == "F"
        self.minima.show("\n".join(f"{year}, {c * 1.8 + 32 if fahrenheit else c:.1f}" for year, c in found.items()))

    def _month_texts(self, climate: Climate) -> dict[str, str]:
        texts = {}
        for key in MONTH_WORDS:
            values = getattr(climate, key)
            texts[key] = (
                ""
                if values is None
                else ", ".join(f"{v:.{_decimals(key, self.project.units)}f}" for v in self._shown(key, values))
            )
        return texts

    def _shown(self, key: str, values: Months) -> Months:
        if self.project.units == "metric" or key not in ("tmin", "tmax", "rain"):
            return values
        return tuple(v / INCH_MM if key == "rain" else v * 1.8 + 32 for v in values)

    def _to_metric(self, key: str, values: Months | None) -> Months | None:
        if values is None or self.project.units == "metric" or key not in ("tmin", "tmax", "rain"):
            return values
        return tuple(v * INCH_MM if key == "rain" else (v - 32) / 1.8 for v in values)

    def _show_year(self) -> None:
        self.chart.value = forms.picture(svg(self.scene()), width_px=PICTURE_PX)
        climate, found = self.project.site.climate, self.reference()
        imperial = self.project.units == "imperial"
        rows = []
        for key, words in (
            ("tmin", "lowest of the day, " + ("°F" if imperial else "°C")),
            ("tmax", "highest of the day, " + ("°F" if imperial else "°C")),
            ("humidity", "humidity, %"),
            ("sunshine", "sunshine, hours a day"),
            ("wind", "wind, m/s"),
        ):
            values = getattr(climate, key)
            if values is not None:
                rows.append((words, *(round(v, _decimals(key, self.project.units)) for v in self._shown(key, values))))
        if found is not None:
            rows.append(
                (
                    "reference evapotranspiration, " + ("in" if imperial else "mm") + " a day",
                    *(round(v / INCH_MM, 2) if imperial else round(v, 1) for v in found.mm_a_day),
                )
            )
        self.table.value = controls.table_html(("month by month", *style.MONTHS), rows) if rows else ""

    def _show_need(self) -> None:
        rows = self.need_rows()
        if not rows:
            self.need.value = controls.label(
                "The water a bed asks for is worked out once the place and monthly temperatures are "
                "known and a bed is drawn."
            ).value
            return
        imperial = self.project.units == "imperial"
        factor = plant_factor(self.planting.bar.value, family=self.family.bar.value)
        shown = [(name, area, *(round(gallons(v) if imperial else v) for v in litres)) for name, area, litres in rows]
        heads = (f"from the hose, {'US gallons' if imperial else 'litres'} a month", "area", *style.MONTHS)
        rain = RAIN_METHODS[self.rain_method.bar.value][1]
        note = (
            f"{self.planting.bar.value}: {float(factor):g} of reference evapotranspiration "
            f"({factor.source}); rain: {rain}. Mean rain hides dry spells."
        )
        if not any(sum(litres) for *_, litres in rows):
            note = f"By these settings a year of mean rain covers all that the beds ask for. {note}"
        if self.garden.water:
            mean = sum(sum(bed.litres) for bed in self.garden.water)
            said = f"{gallons(mean):,.0f} US gallons" if imperial else f"{mean:,.0f} litres"
            note += f" As planted, each bed for its own kinds, the garden asks for {said} in a mean year."
        self.need.value = controls.table_html(heads, shown) + f'<div class="gk-label">{escaped(note)}</div>'

    def scene(self) -> Scene:
        """Return the chart of rain and reference evapotranspiration."""
        found = self.reference()
        imperial = self.project.units == "imperial"
        return rain_and_air(
            self.project.site.climate.rain,
            found.mm_a_month if found else None,
            unit="inches" if imperial else "mm",
            per=INCH_MM if imperial else 1.0,
        )

    def summary(self) -> str:
        """Return the climate in words."""
        return "\n".join(f"{name}: {value}" for name, value in self.facts_rows())


def page(session: Any) -> ClimatePage:
    """Return the page for a garden."""
    return ClimatePage(session)


def read_minima(text: str, *, fahrenheit: bool) -> dict[int, float]:
    """Return the lowest temperature (degrees C) of each year from lines of year and reading; raises GardenError naming
    the line.
    """
    found: dict[int, float] = {}
    for number, line in enumerate(text.splitlines(), 1):
        cells = [c for c in re.split(r"[,;\t ]+", line.strip()) if c]
        if not cells or (number == 1 and not cells[0].isdigit()):
            continue  # an empty line, or the heading of a table
        where = f'line {number} of the yearly readings ("{line.strip()}")'
        if len(cells) < 2 or not re.fullmatch(r"\d{4}", cells[0]):
            raise GardenError(f"{where} is not a year and a reading; write it like 1991, -12.5")
        year, value = int(cells[0]), forms.number(cells[1], where, low=-90, high=100, unit="degrees")
        if year in found:
            raise GardenError(f"{where}: the year {year} is there twice; keep one")
        found[year] = (value - 32) / 1.8 if fahrenheit else value
    if not found:
        raise GardenError(
            "no yearly readings are given; write a year and its lowest reading on each line, like 1991, -12.5"
        )
    return found


def read_months(text: str, words: str) -> Months | None:
    """Return twelve numbers, None for an empty field; raises GardenError."""
    cells = [c for c in re.split(r"[;\t\s]+|,\s+|,", text.strip()) if c]
    if not cells:
        return None
    if len(cells) != 12:
        raise GardenError(
            f"{words.lower()}: {len(cells)} numbers are given; give twelve, January to December, with spaces between"
        )
    return tuple(
        forms.number(c, f"{words.lower()} in {style.MONTHS[i]}", low=-90, high=2000) for i, c in enumerate(cells)
    )


def moved(date: str, days: float) -> str:
    """Return a month and day some days later.

    >>> moved("04-15", 6.4)
    '04-21'
    """
    return (dt.date.fromisoformat(f"2001-{date}") + dt.timedelta(days=round(days))).strftime("%m-%d")


def _date_words(date: str | None) -> str:
    return "not known" if date is None else f"{dt.date.fromisoformat(f'2001-{date}'):%d %B}".lstrip("0")


def _decimals(key: str, units: str) -> int:
    return 2 if key == "rain" and units == "imperial" else 1
