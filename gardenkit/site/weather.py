"""Reads a table of daily weather - lowest and highest temperature and rain - as weather services hand it out."""

import csv
import datetime as dt
import io
import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Literal, TypeAlias

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit import reading
from gardenkit.findings import GardenError, nearest
from gardenkit.sources import HOUSE, Figure
from gardenkit.units import INCH, SAID

FIRST_YEAR = 1659  # the longest series of thermometer readings, central England, begins here (Manley 1974)
LAST_YEAR = 2200  # a later year is a slip of the pen. House value.

Floats: TypeAlias = NDArray[np.float64]
Days: TypeAlias = NDArray[np.datetime64]
Units = Literal["metric", "us", "ghcn_tenths"]
UNITS: dict[str, tuple[str, str]] = {  # units word: (temperature unit, rain unit) of columns whose header names none
    "metric": ("c", "mm"),
    "us": ("f", "in"),
    "ghcn_tenths": ("c/10", "mm/10"),  # NOAA GHCN-Daily readme: tenths of degrees C, tenths of mm
}

COLDEST = Figure(-90.0, "degrees C", HOUSE)  # a daily reading beyond these two is a wrong unit or a slip
HOTTEST = Figure(60.0, "degrees C", HOUSE)
WETTEST = Figure(2000.0, "mm a day", HOUSE)
LEAST_SHARE = Figure(0.8, "of the days of a month", HOUSE)  # a month with fewer readings is left out of means

MISSING = {"", "-", "na", "n/a", "nan", "null", "none", "m", "-9999", "-9999.0", "-999", "-999.0", "-99.9", "-99.99"}
TRACE = {"t", "trace"}  # rain too little to measure, counted as 0

COLUMNS: dict[str, tuple[str, ...]] = {  # our word: heading words seen in open tables, spaces and marks left out
    "date": ("date", "day", "time", "datetime", "localdate", "observationdate"),
    "tmin": (
        *("tmin", "tmn", "tn", "low", "mintemp", "mintemperature", "minimumtemperature", "tempmin", "temperaturemin"),
        *("temperature2mmin", "minimumairtemperature", "airtemperaturemin"),
    ),
    "tmax": (
        *("tmax", "tmx", "tx", "high", "maxtemp", "maxtemperature", "maximumtemperature", "tempmax", "temperaturemax"),
        *("temperature2mmax", "maximumairtemperature", "airtemperaturemax"),
    ),
    "rain": (
        *("rain", "rainfall", "rainsum", "precip", "precipitation", "precipitationsum", "prcp", "ppt", "rr"),
        *("precipitationamount", "rainfallamount"),
    ),
    "place": ("place", "location", "station", "name", "city", "site"),
}
UNIT_WORDS = {
    "c": "c",
    "degc": "c",
    "celsius": "c",
    "degreescelsius": "c",
    "degreesc": "c",
    "f": "f",
    "degf": "f",
    "fahrenheit": "f",
    "degreesfahrenheit": "f",
    "degreesf": "f",
    "mm": "mm",
    "millimetres": "mm",
    "millimeters": "mm",
    "cm": "cm",
    "in": "in",
    "inch": "in",
    "inches": "in",
}
TEMPERATURE_UNITS, RAIN_UNITS = ("c", "f", "c/10"), ("mm", "cm", "in", "mm/10")

_WRITTEN = re.compile(r"[-+]?(?:[0-9]{1,9}\.?|[0-9]{0,9}\.[0-9]{1,20})(?:[eE][-+]?[0-9]{1,2})?")
_same = attrs.cmp_using(eq=lambda a, b: np.array_equal(a, b, equal_nan=a.dtype.kind == "f"))


@attrs.frozen(kw_only=True)
class DailyWeather:
    """Daily weather, one row a day in date order; arrays of equal length, a missing reading is NaN.

    ``dates`` are numpy days; ``tmin`` and ``tmax`` degrees C; ``rain`` mm.
    """

    place: str = ""
    dates: Days = attrs.field(eq=_same)
    tmin: Floats = attrs.field(eq=_same)
    tmax: Floats = attrs.field(eq=_same)
    rain: Floats = attrs.field(eq=_same)

    def __len__(self) -> int:
        return len(self.dates)

    @property
    def months(self) -> NDArray[np.int64]:
        """The month of each row, 1 to 12."""
        return self.dates.astype("datetime64[M]").astype(np.int64) % 12 + 1

    @property
    def years(self) -> NDArray[np.int64]:
        """The calendar year of each row."""
        return self.dates.astype("datetime64[Y]").astype(np.int64) + 1970


def read_weather(source: Path | str, *, units: Units = "metric", place: str = "") -> DailyWeather:
    """Return the daily weather in a comma, semicolon or tab separated table.

    ``source`` is a path, or the text itself when it holds a line break. Columns are found by their names: a date, tmin
    and tmax, and rain if present. A unit in the header (``tmin_C``, ``TMAX (°F)``, ``prcp_mm``, ``precip_in``) is
    obeyed; columns naming none are read in ``units``. Dates are ISO, ``2012-01-31``. ``place`` picks the rows of one
    place from a table of several.

    Raises GardenError naming the line that cannot be read.

    >>> read_weather("date,tmin_F,tmax_F,precip_in\\n2012-01-01,32,50,1\\n").rain.tolist()
    [25.4]
    """
    name, text = _open(source)
    if units not in UNITS:
        raise GardenError(f'weather units "{units}" are not known{nearest(units, UNITS)}; use {", ".join(UNITS)}')
    delimiter, header_line, header = _header(text, name)
    columns = _columns(header, units, f"{name}, line {header_line}")
    lines = _lines(text, delimiter, header_line)
    try:
        rows = [_row(cells, columns, f"{name}, line {number}", number) for number, cells in lines]
    except csv.Error as error:
        raise GardenError(
            f"{name} is no table that can be read ({error}); look for a quote that is not closed"
        ) from error
    rows = _one_place(rows, place, name)
    return _in_order(rows, name, place or (rows[0].place if rows else ""))


def monthly_means(weather: DailyWeather, what: Literal["tmin", "tmax", "rain"]) -> tuple[float, ...] | None:
    """Return twelve means: degrees C, or for rain the mean total of the month in mm; None when a month has no data.

    Every calendar month of every year with readings on at least LEAST_SHARE of its days counts once; the total of a
    rain month with a few days missing is scaled up to its full length.
    """
    values: Floats = getattr(weather, what)
    found: list[list[float]] = [[] for _ in range(12)]
    month_of_row = weather.dates.astype("datetime64[M]")
    for month in np.unique(month_of_row):
        length = int(((month + 1).astype("datetime64[D]") - month.astype("datetime64[D]")).astype(int))
        readings = values[month_of_row == month]
        readings = readings[~np.isnan(readings)]
        if len(readings) >= LEAST_SHARE * length:
            mean = float(readings.mean())
            found[int(month.astype(int)) % 12].append(mean * length if what == "rain" else mean)
    if not all(found):
        return None
    return tuple(math.fsum(month) / len(month) for month in found)


def yearly_minima(
    weather: DailyWeather, *, year: Literal["calendar", "winter"] = "calendar", most_missing: int = 30
) -> dict[int, float]:
    """Return the lowest temperature of each year, degrees C, by year.

    ``year="winter"`` runs July to June and is named by the year it starts in. A year with more than ``most_missing``
    days without a reading is left out (30: house value).
    """
    shift = 6 if year == "winter" else 0
    of_row = (weather.dates.astype("datetime64[M]") - np.timedelta64(shift, "M")).astype("datetime64[Y]")
    minima: dict[int, float] = {}
    for each in np.unique(of_row):
        readings = weather.tmin[of_row == each]
        readings = readings[~np.isnan(readings)]
        if len(readings) >= 365 - most_missing:
            minima[int(each.astype(int)) + 1970] = float(readings.min())
    return minima


# ---- helpers


@attrs.frozen
class _Row:
    line: int
    place: str
    date: dt.date
    tmin: float
    tmax: float
    rain: float


@attrs.frozen
class _Column:
    index: int
    header: str
    unit: str


def _open(source: Path | str) -> tuple[str, str]:
    if isinstance(source, str) and ("\n" in source or not source.strip()):
        return "the weather table", source
    path = Path(source)
    try:
        return path.name, path.read_text(encoding="utf-8-sig")
    except FileNotFoundError as error:
        raise GardenError(f'the weather file "{path.name}" is not there; check the name and the folder') from error
    except UnicodeDecodeError as error:
        raise GardenError(f'the weather file "{path.name}" is not UTF-8 text; save it as CSV (UTF-8)') from error


def _lines(text: str, delimiter: str, after: int) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text), delimiter=delimiter)
    for cells in reader:
        blank = not any(cell.strip() for cell in cells)
        if reader.line_num > after and not blank and not cells[0].startswith("#"):
            yield reader.line_num, [cell.strip() for cell in cells]


def _header(text: str, name: str) -> tuple[str, int, list[str]]:
    """Find the first line that names a date and a temperature; notes above it are skipped."""
    for number, line in enumerate(text.splitlines()[:40], start=1):
        for delimiter in (",", ";", "\t"):
            cells = next(csv.reader([line.lstrip("\ufeff")], delimiter=delimiter), [])
            words = {_word(cell)[0] for cell in cells}
            if "date" in words and words & {"tmin", "tmax"}:
                return delimiter, number, cells
    raise GardenError(f"{name} has no heading line with a date and temperatures; name the columns date,tmin,tmax,rain")


def _word(header: str) -> tuple[str, str]:
    """Split ``TMAX (°F)`` into our word and the unit: ("tmax", "f"); an unknown heading gives ("", "")."""
    pieces = [p for p in re.split(r"[\s_\-.()\[\]/,°]+", header.strip().casefold()) if p]
    for cut in range(len(pieces), 0, -1):
        tail = "".join(pieces[cut:])
        head = "".join(pieces[:cut])
        unit = UNIT_WORDS.get(tail, "") if tail else ""
        if tail and not unit:
            continue
        for word, known in COLUMNS.items():
            if head in known:
                return word, unit
    return "", ""


def _columns(header: list[str], units: str, where: str) -> dict[str, _Column]:
    columns: dict[str, _Column] = {}
    for index, text in enumerate(header):
        word, unit = _word(text)
        if word == "place" and word in columns:
            continue
        if word in columns:
            raise GardenError(f'{where}: "{columns[word].header}" and "{text}" both look like {word}; keep one of them')
        if word:
            columns[word] = _Column(index, text.strip(), unit)
    for word in ("tmin", "tmax"):
        if word not in columns:
            raise GardenError(f"{where}: there is no {word} column; name the columns date,tmin,tmax,rain")
    return {word: _with_unit(word, column, columns, units, where) for word, column in columns.items()}


def _with_unit(word: str, column: _Column, columns: dict[str, _Column], units: str, where: str) -> _Column:
    if word in ("date", "place"):
        return column
    allowed = RAIN_UNITS if word == "rain" else TEMPERATURE_UNITS
    if column.unit and column.unit not in allowed:
        raise GardenError(f'{where}: the unit in "{column.header}" does not suit {word}; use {", ".join(allowed[:3])}')
    if not column.unit and word == "rain" and units == "metric" and columns["tmin"].unit == "f":
        raise GardenError(
            f'{where}: "{column.header}" names no unit beside temperatures in F; write {column.header}_in or _mm'
        )
    return attrs.evolve(column, unit=column.unit or UNITS[units][word == "rain"])


def _row(cells: list[str], columns: dict[str, _Column], where: str, line: int) -> _Row:
    needed = max(column.index for column in columns.values())
    if len(cells) <= needed:
        raise GardenError(f"{where}: {len(cells)} values where the heading has {needed + 1} or more; check the commas")
    low, high = (_reading(cells, columns[word], where) for word in ("tmin", "tmax"))
    if low > high:
        raise GardenError(f"{where}: tmin {low:g} C is above tmax {high:g} C; check the two columns")
    return _Row(
        line,
        cells[columns["place"].index] if "place" in columns else "",
        _date(cells[columns["date"].index], where),
        low,
        high,
        _reading(cells, columns["rain"], where) if "rain" in columns else math.nan,
    )


def _date(text: str, where: str) -> dt.date:
    try:
        date = dt.datetime.fromisoformat(text).date()
    except ValueError as error:
        raise GardenError(f'{where}: the date "{text}" is not an ISO date; write it like 2012-01-31') from error
    if not FIRST_YEAR <= date.year <= LAST_YEAR:
        raise GardenError(f'{where}: the year of "{text}" is outside {FIRST_YEAR} to {LAST_YEAR}; check the date')
    return date


def _reading(cells: list[str], column: _Column, where: str) -> float:
    shown = cells[column.index]
    rain = column.unit in RAIN_UNITS
    if shown.casefold() in MISSING:
        return math.nan
    if rain and shown.casefold() in TRACE:
        return 0.0
    least, most, unit = (0.0, float(WETTEST), "mm") if rain else (float(COLDEST), float(HOTTEST), "C")
    found = [_to_si(value, column.unit) for value in _meant(shown, column, where)]
    fitting = [value for value in found if least <= value <= most]
    if len(fitting) == 1:
        return fitting[0]
    if fitting:
        raise GardenError(f'{where}: "{shown}" under {column.header} could mean two numbers; leave the comma out')
    raise GardenError(
        f"{where}: {shown[:SAID]} under {column.header} reads as {found[0]:g} {unit}, outside {least:g} to {most:g}; "
        "write the unit in the heading (tmin_F, prcp_in) or choose units us or ghcn_tenths"
    )


def _meant(shown: str, column: _Column, where: str) -> tuple[float, ...]:
    """Return what a cell can mean; a full stop is before decimals, however many, as programs write it."""
    if _WRITTEN.fullmatch(shown):
        return (float(shown),)
    try:
        return reading.meanings(shown, column.header)
    except GardenError as error:
        raise GardenError(
            f'{where}: "{shown[:SAID]}" under {column.header} is not a number; leave it empty if missing'
        ) from error


def _to_si(value: float, unit: str) -> float:
    if unit == "f":
        return (value - 32.0) / 1.8
    factors = {"c/10": 0.1, "mm/10": 0.1, "cm": 10.0, "in": INCH * 1000.0}
    return value * factors.get(unit, 1.0)


def _one_place(rows: list[_Row], place: str, name: str) -> list[_Row]:
    places = list(dict.fromkeys(row.place for row in rows))
    if place:
        rows_there = [row for row in rows if row.place == place]
        if not rows_there and places != [""]:
            raise GardenError(f'{name} has no rows for "{place}"{nearest(place, places)}')
        return rows_there or rows
    if len(places) > 1:
        raise GardenError(f"{name} holds {len(places)} places; say which: {', '.join(places[:6])}")
    return rows


def _in_order(rows: list[_Row], name: str, place: str) -> DailyWeather:
    if not rows:
        raise GardenError(f"{name} has a heading but no days below it")
    first_line: dict[dt.date, int] = {}
    for row in rows:
        if row.date in first_line:
            raise GardenError(
                f"{name}, line {row.line}: {row.date} is there already on line {first_line[row.date]}; keep one"
            )
        first_line[row.date] = row.line
    rows = sorted(rows, key=lambda row: row.date)
    return DailyWeather(
        place=place,
        dates=np.array([row.date for row in rows], dtype="datetime64[D]"),
        tmin=np.array([row.tmin for row in rows]),
        tmax=np.array([row.tmax for row in rows]),
        rain=np.array([row.rain for row in rows]),
    )
