"""Every field of the pages that takes words or numbers, with its reader: any text is read, or named in one
        sentence.

A new field must stand in the table, and no page may read numbers by itself.
"""

import ast
import importlib
import pkgutil
import random
import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest

from gardenkit import reading, texts
from gardenkit.brief.colour_names import read_colour
from gardenkit.findings import GardenError
from gardenkit.notebook import pages
from gardenkit.notebook.pages import care_prices, climate_zone, forms, place, soil_tests, want_fields
from gardenkit.notebook.pages.arrange_shown import variation_of
from gardenkit.notebook.pages.climate_months import month_rows, read_months
from gardenkit.notebook.record_editor import Column, Kind
from gardenkit.planting.own_plants import rows_of
from gardenkit.project import Project
from gardenkit.project.edits import brief as edits
from gardenkit.site.climate import Climate
from gardenkit.site.heights_table import read_heights
from gardenkit.site.soil import Soil
from gardenkit.site.survey_table import read_table
from gardenkit.site.weather import read_weather
from gardenkit.units import System, bearing, length, millimetres
from gardenkit.weather_units import CELSIUS

NOTEBOOK = Path(pages.__file__).parents[1]
SYSTEMS: tuple[System, ...] = ("imperial", "metric")
PLOT = Project(name="plot")
SCALE = next(iter(month_rows(PLOT).values())).scale
Reader = Callable[[str, System], object]


def words(text: str, _: System) -> None:
    """Take any words, which are looked at when they are saved."""
    if fault := texts.fault(text):
        raise GardenError(f"the words {fault}"[:300])


def soil(key: str) -> Reader:
    empty = soil_tests.texts_of(Soil(), "metric")
    return lambda text, units: soil_tests.read_soil({**empty, key: text}, Soil(), units)


def survey(text: str, units: System) -> None:
    for problem in read_table(text, system=units).problems:
        raise GardenError(problem)


def nowhere(name: str) -> tuple[float, float]:
    raise GardenError(f'no point "{name[:40]}"')


READERS: dict[str, Reader] = {
    "words": words,
    "length": lambda text, units: length(text, bare=forms.bare_unit(units), where="it", signed=True),
    "small length": lambda text, units: length(text, bare="in" if units == "imperial" else "cm", where="it"),
    "millimetres": lambda text, units: millimetres(text, units, "it"),
    "point": lambda text, units: forms.point(text, units, "it"),
    "outline": lambda text, units: forms.outline(text, units, "it"),
    "date": lambda text, _: reading.date(text),
    "day": lambda text, _: Climate(last_frost=text),
    "latitude": lambda text, _: place.degrees(place.both_degrees(text, "")[0], "latitude", 90),
    "longitude": lambda text, _: place.degrees(text, "longitude", 180),
    "bearing": lambda text, _: bearing(text, where="it"),
    "number": lambda text, _: forms.number(text, "it", low=-360, high=360, unit="degrees"),
    "whole": lambda text, _: reading.whole(text, "it", low=0, high=500),
    "money": lambda text, _: reading.amount(text, "it", money="$"),
    "currency": lambda text, _: edits.set_money(PLOT, text),
    "colour": lambda text, _: read_colour(text),
    "zone": lambda text, _: Climate(zone=text),
    "variation": lambda text, _: variation_of(text),
    "minima": lambda text, _: climate_zone.read_minima(text, CELSIUS),
    "months": lambda text, _: read_months(text, "it", SCALE),
    "weather": lambda text, _: read_weather("date,tmin,tmax,rain\n2012-01-01,-50,50," + text + "\n"),
    "heights": lambda text, units: read_heights(text, system=units, placed=nowhere),
    "survey": survey,
    "plants": lambda text, _: rows_of("botanical,height_max_m\n" + text),
    "pricing": lambda text, _: [care_prices._figure(key, text, "$") for key in care_prices.FIELDS],
    **{f"soil: {key}": soil(key) for key in ("sand_percent", "jar", "drops", "drainage", "ph")},
    **{
        f"want: {key}": lambda text, units, key=key: want_fields._amount(text, key, units, "$")  # type: ignore[misc]
        for key in ("plants", "path_width", "bed_area", "evergreen_share", "plant_cost", "water_use")
    },
}
FIELDS = {  # where a field is made, and what reads it
    "words": """
        alternatives: alternative; client_issue: company, contact, logo, reason, revision;
        climate_daily: weather-place; climate_frost: frost_source; climate_zone: source; journal_parts:
        entry-note, journal-kind, journal-note; layering_plant: kind; own_photo_marks: name; palette_wishes:
        favourite; paths_parts: new-path, path-name; paths_turns: pocket-kind; place: name, timezone;
        plants_parts: find-plant, own-value; soil_tests: source; start: Client, Designer, folder, garden, path;
        start_steps: state-name; style_settings: forms, materials, signature; style_wall: caption, liked;
        survey: house, order; wall_parts: wall-opening; wants: refuse""",
    "length": """
        climate_frost: elevation; climbs_parts: rise; draw: draw-grid; journal_parts: journal-height,
        journal-spread; layering_plant: apart; levels_ways: way-width; own_photo_marks: height; paths_lights:
        light-every; paths_parts: Kept clear of walls, Thickness of the stone; place: elevation, place-step; scan:
        between; silhouettes: silhouette-long; suits: height-limit; supports: frost; wall_known: height, width;
        wall_parts: wall-foot""",
    "small length": "soil: root-depth; soil_changes: compost, mulch, topsoil",
    "millimetres": "climate_storm: storm",
    "point": """draw: draw-point; layering_several: several-by; own_photo_marks: at; place: across-along, place;
        scan: a, b; wall_known: at, k""",
    "outline": "boundary: boundary; paths_parts: w.Textarea",  # the pallet: lengths and whole numbers
    "date": "client_issue: issued; journal_parts: entry-until, journal-date, journal-until",
    "day": "climate_frost: first_frost, last_frost",
    "latitude": "climate_frost: latitude; place: latitude",
    "longitude": "climate_frost: longitude; place: longitude",
    "bearing": "place: y_bearing; traverse: w.Textarea",
    "number": "climate_frost: heat_days; place: turn; soil_changes: wanted",
    "whole": """care_prices: first-year; journal_parts: journal-parts; layering_plant: copies, plant-first, plant-last;
        style_settings: most""",
    "money": "care: price; palette_wishes: palette-budget; wants: budget",
    "currency": "wants: money",
    "colour": "style_palette: add-colour",
    "zone": "climate_zone: zone",
    "variation": "arrange: variation",
    "minima": "climate_zone: minima",
    "months": "climate_months: k",
    "weather": "climate_daily: daily",
    "survey": "survey: w.Textarea",
    "plants": "plants_parts: paste",
    "pricing": "care_prices: key.replace('_', '-')",
    "soil: sand_percent": "soil_tests: clay_percent, organic_matter_percent, sand_percent, silt_percent",
    "soil: jar": "soil_tests: jar",
    "soil: drops": "soil_tests: drops",
    "soil: drainage": "soil_tests: drainage",
    "soil: ph": "soil_tests: ph",
}
MAKERS = {"controls: w.Text", "forms: w.Textarea", "forms: name"}  # what every field is made by
SENTENCE = 500  # letters
THROWN = 60  # texts a reader in CI; --often 1700 makes them 100,000
SIGNS = "0123456789.,:;-'\"/ ½$€%°²٣NSEWapmftinkgclx\n\t\u00a0−’"


def made_fields() -> set[str]:
    """Return every field that is typed in, as its module and the name it is given."""
    found = set()
    for path in NOTEBOOK.rglob("*.py"):
        for call in calls(path):
            named = {each.arg: each.value for each in call.keywords}
            if ast.unparse(call.func) not in ("controls.field", "forms.lines", "w.Text", "w.Textarea", "Entry"):
                continue
            name = named.get("key", named.get("name", call.args[0] if call.args else None))
            if "options" not in named:
                said = str(name.value) if isinstance(name, ast.Constant) else ast.unparse(name or call.func)
                found.add(f"{path.stem}: {said}")
    return found


@cache
def calls(path: Path) -> tuple[ast.Call, ...]:
    """Return the calls of a module that makes fields."""
    source = path.read_text(encoding="utf-8")
    if not re.search(r"controls\.field\(|forms\.lines\(|w\.Text(?:area)?\(|Entry\(", source):
        return ()
    return tuple(node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call))


def in_table() -> list[str]:
    groups = (group.split(":", 1) for said in FIELDS.values() for group in " ".join(said.split()).split(";"))
    return [f"{module.strip()}: {name.strip()}" for module, names in groups for name in re.split(r",(?! \'-)", names)]


def test_every_typed_field_stands_in_the_table_once() -> None:
    assert sorted(in_table()) == sorted(made_fields() - MAKERS)
    assert set(FIELDS) <= set(READERS)


def test_no_page_reads_numbers_by_itself() -> None:
    """No digits are looked for in what was typed, and no field is made a number of without the one reader."""
    for path in NOTEBOOK.rglob("*.py"):
        source = path.read_text(encoding="utf-8")
        assert not re.search(r"\.is(?:digit|decimal|numeric)\(", source), path.name
        typed = set(re.findall(r"self\.(\w+) = (?:controls\.field|forms\.lines|w\.Textarea)\(", source))
        for call in calls(path):
            if ast.unparse(call.func) in ("int", "float", "round", "Decimal", "Fraction") and call.args:
                taken = re.findall(r"self\.(\w+)\.(?:bar\.)?value", ast.unparse(call.args[0]))
                assert not typed & set(taken), f"{path.name}: {ast.unparse(call)}"


def record_columns() -> dict[str, Column]:
    """Return every column of the record forms that is typed in."""
    found = {}
    for info in pkgutil.iter_modules(pages.__path__):
        module = importlib.import_module(f"{pages.__name__}.{info.name}")
        held: list[object] = list(vars(module).values())
        while held:
            one = held.pop()
            held += one if isinstance(one, (tuple, list)) else one.columns if isinstance(one, Kind) else ()
            if isinstance(one, Column) and not one.options and one.offered is None:
                found[f"{info.name}: {one.words}"] = one
    return found


def in_column(column: Column) -> Reader:
    return lambda text, units: column.read(text, units, "it")


def thrown(many: int, seed: str) -> Iterator[str]:
    chance = random.Random(seed)
    yield from ("²", "9" * 5000, "\x00", "\ud800", "", "1e308", "2 ac", "9" * 390 + "/1", "1;2;3", "-")
    for _ in range(many):
        if chance.random() < 0.8:
            yield "".join(chance.choices(SIGNS, k=chance.randrange(16)))
        else:
            yield "".join(map(chr, chance.choices(range(chance.choice((0x7F, 0x2FF, 0xFFFF))), k=chance.randrange(41))))


def drive(name: str, read: Reader, many: int) -> None:
    for number, text in enumerate(thrown(many, name)):
        try:
            read(text, SYSTEMS[number % 2])
        except GardenError as error:
            shown = re.sub(r'"[^"]*"', "", str(error))  # the page says of what was typed only the beginning again
            assert "\n" not in shown or "\n" in text, text
            assert len(shown) < SENTENCE or len(str(error)) < SENTENCE, (text[:40], str(error)[:200])


@pytest.mark.parametrize("name", READERS)
def test_a_field_takes_any_text(name: str, often: int) -> None:
    drive(name, READERS[name], THROWN * often)


def test_a_field_of_a_record_takes_any_text(often: int) -> None:
    columns = record_columns()
    assert len(columns) > 40
    for name, column in columns.items():
        drive(name, in_column(column), THROWN * often // 4)


def test_a_yearly_minimum_is_one_number_and_nothing_after_it_is_dropped() -> None:
    assert climate_zone.read_minima("year;low\n1991; -12,5\n1992, -3.5\n1993\t−4", CELSIUS) == {
        1991: -12.5,
        1992: -3.5,
        1993: -4.0,
    }
    for text in ("1991; -12.5 extra 7", "1991, -12, 5", "1991\t-1.250,5", "١٩٩١, 3"):
        with pytest.raises(GardenError, match=r"yearly readings"):
            climate_zone.read_minima(text, CELSIUS)


@pytest.mark.parametrize("typed", ["42° 75' N", "42.5° 30'", "42° 18' 99\" N", "-42.6 N", "42 W", "٤٢", "91"])
def test_what_is_no_latitude_is_named(typed: str) -> None:
    with pytest.raises(GardenError, match="as a latitude"):
        place.degrees(typed, "latitude", 90)


def test_a_place_is_typed_in_one_field_or_two() -> None:
    assert place.both_degrees("42.30, -72.60", "") == place.both_degrees("42.30,-72.60", "") == ("42.30", "-72.60")
    assert place.both_degrees("42,30", "") == ("42,30", "")  # a decimal comma, and no longitude
    assert place.degrees("42,30", "latitude", 90) == 42.3
    assert place.degrees("72° 36' W", "longitude", 180) == -72.6


@pytest.mark.parametrize("key", care_prices.FIELDS)
def test_no_figure_of_the_pricing_takes_acres(key: str) -> None:
    with pytest.raises(GardenError):
        care_prices._figure(key, "2 ac", "$")


def test_a_want_for_ground_is_read_with_its_unit() -> None:
    assert want_fields._size("2 ac", "metric", "ground") == pytest.approx(8093.7128448)
    assert want_fields._size("", "metric", "ground") == 0.0
